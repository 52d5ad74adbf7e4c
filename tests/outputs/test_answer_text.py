"""The answer of `check` as text: it fits, says the word first, hides nothing, and reads well in either system."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

import pytest

from staydown.advice.assumptions import Assumption
from staydown.assess import Assessment
from staydown.outputs.answer_text import answer_text, quiet_text
from staydown.outputs.columns import cells, clean
from staydown.outputs.most_used import by_mount
from staydown.outputs.roof_text import mount_label

Assessed = Callable[[str], Assessment]


def flat(text: str) -> str:
    """Return a text without line breaks, indents and the blanks between its words."""
    return re.sub(r"\s+", "", text)


def assumption(name: str, low_use: float | None, high_use: float | None, **more: object) -> Assumption:
    """Return an invented assumption with its effect."""
    own: dict[str, object] = {
        "id": name,
        "item": "forward panel",
        "what": name,
        "low": 0.6,
        "likely": 0.9,
        "high": 1.2,
    }
    own |= {"value": 1.2, "unit": "1", "basis": "planning value", "source": "invented"}
    return Assumption(**(own | {"use_at_low": low_use, "use_at_high": high_use} | more))  # type: ignore[arg-type]


@pytest.mark.parametrize("verbose", [False, True])
@pytest.mark.parametrize("width", [80, 100])
def test_no_line_is_wider_than_the_terminal(
    assessed: Assessed, job_names: tuple[str, ...], width: int, verbose: bool
) -> None:
    """Long names, wide letters, one to twelve mounts, none to twelve items: all fit."""
    weights = [assumption("a value of which there is a good deal to say " * 4, 0.4, 0.7)]
    for name in job_names:
        for line in answer_text(assessed(name), weights, width, verbose=verbose).split("\n"):
            assert cells(line) <= width, (name, line)
            assert line == line.rstrip(), name
            assert line.isprintable(), (name, line)


def test_the_first_line_says_what_and_the_word(assessed: Assessed, job_names: tuple[str, ...]) -> None:
    """Job, item and word come before anything else, the word at the right edge."""
    for name in job_names:
        assessment = assessed(name)
        first = answer_text(assessment, ()).split("\n")[0]

        assert first.startswith(clean(assessment.job.job.name)[:40])
        assert first.endswith(f"  {assessment.word}")


def test_no_figure_is_broken(assessed: Assessed, job_names: tuple[str, ...]) -> None:
    """Nothing that is no number, no power of ten and no Python word is printed by this room."""
    for name in job_names:
        text = answer_text(assessed(name), (), verbose=True)

        assert not re.search(r"\b(nan|inf|None|True|False)\b", text), name
        assert "-0 " not in text, name


def test_every_reason_test_and_condition_is_there(assessed: Assessed, job_names: tuple[str, ...]) -> None:
    """What the verdict says is said, wherever it stands; only repeated conditions are referred to."""
    for name in job_names:
        assessment = assessed(name)
        text = flat(answer_text(assessment, (), verbose=True))
        for item in assessment.items:
            for said in (*item.verdict.because, *item.verdict.find_out, *item.verdict.conditions):
                assert flat(clean(said)) in text, (name, said)


def test_the_parts_come_in_the_order_a_worried_person_asks(assessed: Assessed) -> None:
    """Word, what decides, why, next, the roof, mounts, cases, the falls, the chain, tests, assumptions, cautions."""
    text = answer_text(assessed("no coupons"), [assumption("uplift coefficient", None, None)])
    heads = ["NOT PROVEN", "Worst pull", "  Why", "  Do next", "  Conditions", "Roof from above", "  Mounts"]
    heads += ["  Cases", "  Where the", "  The chain", "  What was tested", "Assumed", "Cautions"]
    places = [text.index(head) for head in heads]

    assert places == sorted(places)


def test_the_person_sees_the_own_system_first(assessed: Assessed) -> None:
    """Newtons before pounds for one, pounds before newtons for the other, with the same word and uses."""
    metric, us = answer_text(assessed("panel"), ()), answer_text(assessed("panel in pounds"), ())

    assert re.search(r"It pulls \d+ N \(\d+ lb\), [\d.]+ kPa \([\d.]+ psi\)", metric.replace("\n  ", " "))
    assert re.search(r"It pulls \d+ lb \(\d+ N\), [\d.]+ psi \([\d.]+ kPa\)", us.replace("\n  ", " "))
    assert "N (lb)" in metric
    assert "lb (N)" in us
    assert re.findall(r"\[\d+\?*!*-?\]", metric) == re.findall(r"\[\d+\?*!*-?\]", us)


def test_the_worst_use_in_the_sentence_is_the_governing_one(assessed: Assessed) -> None:
    """The first page names mount, case and per cent of the governing check."""
    assessment = assessed("panel")
    item = assessment.items[0]
    assert item.mounted is not None
    top = item.mounted.governing
    assert top.use is not None
    page = answer_text(assessment, ()).split("Roof from above")[0].replace("\n  ", " ")

    assert item.mounted.demands.mounts[top.mount] in page
    assert item.mounted.table.cases[top.case].name in page
    assert f"{math.floor(100 * top.use + 0.5)} %" in page


def test_the_drawing_shows_what_the_table_says(assessed: Assessed) -> None:
    """Each mount's mark in the drawing is its largest use, with the marks that the legend explains."""
    assessment = assessed("panel")
    item = assessment.items[0]
    assert item.mounted is not None
    drawing = answer_text(assessment, ()).split("Roof from above")[1].split("  Mounts")[0]
    labels = sorted(mount_label(item, found) for found in by_mount(item.mounted))

    assert sorted(re.findall(r"\[([^\]]+)\]", drawing)) == labels


def test_what_is_proven_reads_as_proven(assessed: Assessed) -> None:
    """With all known and little used, the answer leads with what carries it and what must be kept."""
    text = answer_text(assessed("sound"), ())
    page = text.split("Roof from above")[0]

    assert assessed("sound").word == "GO WITH CONDITIONS"
    assert "What you have proven carries it, as long as every condition below is kept." in page
    assert "of what your tests prove." in page.replace("\n  ", " ")
    assert "  Conditions\n" in page
    assert "UNKNOWN" not in text


def test_a_push_along_the_roof_is_told_as_one(assessed: Assessed) -> None:
    """Where shear decides, the sentence says so, and that no coupon was sheared."""
    page = answer_text(assessed("puck"), ()).split("  Why")[0].replace("\n  ", " ")

    assert re.search(
        r"Worst load: pad, handling sideways \w+, hot. It pushes \d+ lb \(\d+ N\) along the roof", page
    )
    assert "Nobody tested it in shear" in page


def test_doubts_of_one_wording_stand_once(assessed: Assessed) -> None:
    """Ten items on one pad each give one doubt with its places, the first of them named."""
    text = answer_text(assessed("twelve items"), ()).split("Doubts")[1].split("Cautions")[0]

    assert text.count("only the pad's own length and width") == 1
    assert "item.3.mount" in text
    assert "and 6 more" in text


def test_nothing_proven_reads_as_nothing_proven(assessed: Assessed) -> None:
    """Without coupons the answer says that nothing proves the pull, and marks every mount."""
    text = answer_text(assessed("no coupons"), ())

    assert "nothing of yours" in text
    assert "no coupon of this tape on this surface" in text
    assert len(re.findall(r"\[[\d!?]*-\]", text)) == 4


def test_an_item_without_mounts_says_so(assessed: Assessed) -> None:
    """No tables of nothing, one reason, the drawing with the item alone."""
    text = answer_text(assessed("no mounts"), ())

    assert text.startswith("Heron / forward panel")
    assert text.split("\n")[0].endswith(" NO")
    assert "nothing holds it" in text
    assert "Mounts, worst first" not in text
    assert "┌" in text


def test_a_job_without_items_says_so(assessed: Assessed) -> None:
    """Nothing to assess is not a pass."""
    text = answer_text(assessed("no items"), None)

    assert "nothing to assess" in text
    assert text.split("\n")[0].endswith("NOT PROVEN")


def test_spoiled_coupons_are_shown_and_never_counted(assessed: Assessed) -> None:
    """The one that went wrong stands with its reason, beside the fifteen that broke and the eight that held."""
    text = answer_text(assessed("panel"), ()).replace("\n    ", " ")

    assert "15 broke, 8 holding" in text
    assert "baked (the lamp slipped): kept and shown, never counted" in text


def test_claims_are_for_comparison_only(assessed: Assessed) -> None:
    """The sheet's line stands with its stress, 0.5 kg on 4 cm² = 12.3 kPa, and counts for nothing."""
    text = answer_text(assessed("twelve items"), ()).replace("\n    ", " ")

    assert "Data sheets, for comparison only; they count for nothing" in text
    assert "shear: held 12.3 kPa (1.8 psi) for 3 days at 23 °C (73 °F) (invented sheet, page 2)" in text


def test_several_items_come_worst_first_with_the_roof_on_top(assessed: Assessed) -> None:
    """The overview names every item with its word; the sections follow from the worst to the best word."""
    assessment = assessed("twelve items")
    text = answer_text(assessment, ())
    overview = text.split("\n" + "-" * 80 + "\n")[0]
    words = [item.verdict.word for item in assessment.items]
    sections = [part.strip().split("\n")[0] for part in text.split("\n" + "-" * 80 + "\n")[1:-1]]

    assert "12 items" in overview
    assert all(item.item.name in overview for item in assessment.items)
    assert len(sections) == 12
    assert [s.split("  ")[-1].strip() for s in sections] == sorted(
        words, key=["NO", "NOT PROVEN", "GO WITH CONDITIONS"].index
    )


def test_assumptions_come_by_their_effect(assessed: Assessed) -> None:
    """What moves the use most is first, with the use at both ends; what does not move it is counted."""
    weights = [
        assumption("little", 0.70, 0.73),
        assumption("nothing", 0.73, 0.73),
        assumption("much", 0.41, 0.73),
    ]
    text = answer_text(assessed("panel"), weights)

    assert text.index("  much") < text.index("  little")
    assert re.search(r"much +41 / 73 %", text)
    assert "0.6 / 0.9 / 1.2, high counts. Planning value: invented" in text
    assert "  nothing" not in text
    assert "and 1 more that do not move it" in text.replace("\n  ", " ")


def test_at_most_eight_assumptions_are_listed(assessed: Assessed) -> None:
    """The ninth is counted; asked for all, all stand there. Published values are no assumption."""
    weights = [assumption(f"value {n}", 0.1, 0.2 + 0.01 * n) for n in range(12)]
    weights.append(assumption("published value", 0.0, 9.0, basis="published"))
    text = answer_text(assessed("panel"), weights)

    assert text.count("Planning value: invented") == 8
    assert "and 4 more:" in text
    assert "published value" not in text
    assert answer_text(assessed("panel"), weights, verbose=True).count("Planning value: invented") == 12


def test_an_effect_that_is_not_known_is_said_so(assessed: Assessed) -> None:
    """Where nothing is proven an assumption has no effect on the use that could be told."""
    text = answer_text(assessed("no coupons"), [assumption("uplift coefficient", None, None)])

    assert re.search(r"uplift coefficient +effect not known", text)


def test_the_quiet_answer_is_one_line_an_item(assessed: Assessed) -> None:
    """Name and word alone, in the order of the job, whatever characters the name has."""
    assert quiet_text(assessed("no coupons")) == "forward panel: NOT PROVEN"
    assert quiet_text(assessed("control characters")) == "panel[2J GO: NOT PROVEN"
    assert quiet_text(assessed("twelve items")).count("\n") == 11
    assert quiet_text(assessed("no items")) == ""
