"""Planning values: each listed, weighed as `check` weighs it, replaced and brought back in any layout of a file."""

from __future__ import annotations

import math
import shutil
import tomllib
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.advice.assumptions import weigh_assumptions
from staydown.assess import assess
from staydown.foundation.errors import BadInput
from staydown.storage.read_cards import read_cards
from staydown.storage.read_planning import planning_number
from staydown.workbench.desk import Desk
from staydown.workbench.planning import (
    Effect,
    PlanningLine,
    echo_of_end,
    library_changes,
    override_changes,
    planning_lines,
    weigh,
)
from staydown.workbench.record import Seen, record_coupons

LIBRARY = read_cards()
NAME = "uplift.open.near_edge"
LAYOUTS = {
    "none": "",
    "dotted": "\n[planning]\nuplift.open.near_edge = 0.8 # measured\nuplift.open.inner = 0.5\n",
    "quoted": '\n[planning]\n"uplift.open.near_edge" = 0.8 # measured\ngust_factor = 1.5\n',
    "nested": '\n[planning.uplift.open]\n# why\nnear_edge = "0.8"\n',
    "band": '\n[planning]\n"uplift.open.near_edge" = { low = 0.5, likely = 0.6, high = 0.8, source = "mine" }\n',
    "table": '\n[planning."uplift.open.near_edge"]\nlow = 0.5 # lowest\nlikely = 0.6\nhigh = 0.8\n',
}


@pytest.fixture(scope="module")
def van(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job of our own with its coupons recorded."""
    van = Path(
        shutil.copytree(Path(__file__).parents[1] / "data" / "van", tmp_path_factory.mktemp("job") / "van")
    )
    record_coupons(van, van / "coupons.csv", Seen(now=datetime(2026, 6, 1, tzinfo=UTC)))
    return van


@pytest.fixture
def desk(van: Path, tmp_path: Path) -> Desk:
    """A copy of it on a desk."""
    return Desk(Path(shutil.copytree(van, tmp_path / "van")))


def line(desk: Desk, name: str = NAME, *, weighed: bool = False) -> PlanningLine:
    """Return a planning value as it stands."""
    weights = weigh(desk.answer(), LIBRARY) if weighed else None
    return next(one for one in planning_lines(desk.answer(), LIBRARY, desk.text, weights) if one.id == name)


def put(desk: Desk, name: str = NAME, **typed: str) -> None:
    """Put a value of one's own in place of the library's."""
    desk.edit(override_changes(desk.text, LIBRARY, name, typed), name)


def test_every_value_is_listed_with_what_can_be_typed(desk: Desk) -> None:
    """All planning values stand there in the library's order, and each example reads as the library's value."""
    lines = planning_lines(desk.answer(), LIBRARY, desk.text, None)

    assert [one.id for one in lines] == list(LIBRARY.planning)
    for one in lines:
        band = LIBRARY.planning[one.id].band
        for text, value in zip(one.examples, (band.low, band.likely, band.high), strict=True):
            read = planning_number(LIBRARY.planning[one.id], float(text) if band.unit == "1" else text)

            assert math.isclose(read, value, rel_tol=1e-5), one.id  # six digits of an example
        assert one.source
        assert not one.own


@pytest.mark.independent
def test_effects_are_those_of_a_whole_assessment(desk: Desk) -> None:
    """The use at an end, with the library's, and now, is that of the job assessed anew with that value typed."""
    put(desk, low="0.5", likely="0.7", high="0.9", source="mine")
    effect = next(one for one in line(desk, weighed=True).effects if one.item == "panel")

    def use(value: str | None) -> float | None:
        changes = (
            library_changes(desk.text, NAME)
            if value is None
            else override_changes(desk.text, LIBRARY, NAME, {"likely": value})
        )
        mounted = desk.try_out(changes).assessment.items[1].mounted
        assert mounted is not None
        return mounted.governing.use

    assert effect.use_at_low == pytest.approx(use("0.5"))
    assert effect.use_at_high == pytest.approx(use("0.9"))
    assert effect.use_with_library == pytest.approx(use(None))
    assert effect.use_now == pytest.approx(use("0.9"))  # the high end decides


@pytest.mark.independent
def test_weights_are_those_of_check(desk: Desk) -> None:
    """What the page shows is what `check` lists, item by item, with the same ends."""
    weights = weigh(desk.answer(), LIBRARY)
    again = assess(desk.answer().job, desk.answer().facts)
    wanted = {
        (one.id, one.item): (one.use_at_low, one.use_at_high)
        for one in weigh_assumptions(again, desk.answer().facts)
        if one.id in LIBRARY.planning
    }
    shown = {
        (name, one.item): (one.use_at_low, one.use_at_high)
        for name, held in weights.effects.items()
        for one in held
    }

    assert shown == wanted
    assert max(line(desk, weighed=True).effects, key=lambda one: one.swing).item == "panel"


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_value_is_replaced_and_brought_back_in_any_layout(desk: Desk, layout: str) -> None:
    """One value, then a band, then the library's: whatever the file looked like; what stood beside it stays."""
    desk.file.write_text(desk.text + LAYOUTS[layout])
    desk.look_at_disk()
    begun = desk.text
    before = tomllib.loads(begun).get("planning", {})
    put(desk, likely="0.85")

    assert desk.answer().job.planning[NAME].high == 0.85

    put(desk, low="0.4", likely="0.6", high="0.7", source="four runs, May")
    own = desk.answer().job.planning[NAME]

    assert (own.low, own.likely, own.high, own.source) == (0.4, 0.6, 0.7, "four runs, May")
    assert line(desk).typed == {"low": "0.4", "likely": "0.6", "high": "0.7", "source": "four runs, May"}
    if layout == "none":
        assert desk.text.startswith(begun.rstrip())

    desk.edit(library_changes(desk.text, NAME), "back")

    assert NAME not in desk.answer().job.planning
    assert not line(desk).own
    for other in before:  # its neighbours
        if other in LIBRARY.planning and other != NAME:
            assert other in desk.answer().job.planning
    for _ in range(3):
        desk.undo()

    assert desk.text == begun
    assert desk.file.read_text() == begun


def test_comments_of_a_table_stay(desk: Desk) -> None:
    """A band that stands as a table of its own is changed key by key."""
    desk.file.write_text(desk.text + LAYOUTS["table"])
    desk.look_at_disk()
    put(desk, low="0.5", likely="0.65", high="0.8")

    assert "low = 0.5 # lowest\nlikely = 0.65\nhigh = 0.8" in desk.text


@pytest.mark.parametrize(
    ("name", "typed", "wrong"),
    [
        (NAME, {}, {"planning.uplift.open.near_edge.likely"}),
        (
            NAME,
            {"low": "1", "high": "2"},
            {"planning.uplift.open.near_edge.likely"},
        ),
        (
            NAME,
            {"low": "1 m", "likely": "x", "high": "1,2"},
            {f"planning.uplift.open.near_edge.{end}" for end in ("low", "likely", "high")},
        ),
        (NAME, {"low": "0.9", "likely": "0.5", "high": "1"}, {"planning.uplift.open.near_edge"}),
        (NAME, {"likely": "nan"}, {"planning.uplift.open.near_edge.likely"}),
        (NAME, {"likely": "-1e400"}, {"planning.uplift.open.near_edge.likely"}),
        ("gust_factor", {"likely": "0.2"}, {"planning.gust_factor.likely"}),
        ("snow_duration", {"likely": "7"}, {"planning.snow_duration.likely"}),
        ("sky_below_air_day", {"likely": "10 degC"}, {"planning.sky_below_air_day.likely"}),
        ("no_such", {"likely": "1"}, {"planning.no_such"}),
        (NAME, {"likely": "1", "source": "x" * 301}, {"planning.uplift.open.near_edge.source"}),
    ],
)
def test_bad_input_names_place_rule_and_value(
    desk: Desk, name: str, typed: dict[str, str], wrong: set[str]
) -> None:
    """Every mistake has its place and its rule; nothing is changed."""
    before = desk.text
    with pytest.raises(BadInput) as error:
        put(desk, name, **typed)

    assert {one.key for one in error.value.findings} == wrong
    assert all(one.rule for one in error.value.findings)
    for one in error.value.findings:
        end = one.key.rpartition(".")[2]
        if end in ("low", "likely", "high"):
            assert one.value == typed.get(end, "")
    assert desk.text == before


def test_text_of_a_person_stays_one_value(desk: Desk) -> None:
    """A source with quotes, brackets and line ends is kept as it was typed and begins no table."""
    evil = 'a"]\n[vehicle]\nroof_width = "9 m" # \\u0041'
    put(desk, likely="0.9", source=evil)

    assert desk.answer().job.planning[NAME].source == evil
    assert tomllib.loads(desk.text)["vehicle"]["roof_width"] == "1.70 m"


def test_what_is_typed_is_echoed() -> None:
    """A duration in hours is read back in both systems; a pure number says itself."""
    assert echo_of_end(LIBRARY, "snow_duration", "168 h") == "7 days"
    assert echo_of_end(LIBRARY, NAME, "0.9") == ""
    assert echo_of_end(LIBRARY, NAME, "90 %") == "0.9"
    assert echo_of_end(LIBRARY, "sky_below_air_day", "10 K") == "10 K"


@pytest.mark.by_hand
def test_a_swing_is_the_farthest_that_the_use_moves() -> None:
    """Between all uses that are known; unknown ones count for nothing."""
    assert Effect(item="a", use_at_low=0.5, use_now=0.6, use_at_high=0.8).swing == pytest.approx(0.3)
    assert Effect(item="a", use_at_low=None, use_now=0.6, use_at_high=None).swing == 0.0
    own = Effect(item="a", use_at_low=0.5, use_now=0.5, use_at_high=0.5, use_with_library=0.9)
    assert own.swing == pytest.approx(0.4)
