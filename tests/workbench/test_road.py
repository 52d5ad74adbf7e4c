"""What a form says happened: written as the command writes it, listed with what corrects it, with what it asks for."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import get_args

import pytest

from bonded_jobs import GOOD, START, lay_out, told
from staydown.evidence.history import BREAKS, DRIVES, RESETS, What
from staydown.foundation.errors import BadInput
from staydown.storage.logbook import Logbook
from staydown.web.road_parts import WORDS
from staydown.workbench.bonding import record_bonding
from staydown.workbench.desk import Desk
from staydown.workbench.happenings import record_happening
from staydown.workbench.open_job import open_job
from staydown.workbench.road import Asked, asked_of, lines_of, record_road, typed_again, worst_off
from staydown.workbench.upkeep import roadside_in, roadside_of

NOW = START + timedelta(days=10)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The changed demo on a desk, its panel bonded."""
    desk = Desk(lay_out(tmp_path / "job").folder)
    record_bonding(desk.opened(), "panel", (), GOOD, told())
    return desk


def road(desk: Desk, what: str, item: str = "", feet: tuple[str, ...] = (), **typed: str) -> int:
    """Write down what happened and return its row."""
    return record_road(desk.opened(), what, item, feet, typed, NOW).event.seq


def asked(desk: Desk, item: str = "panel") -> Asked:
    """Return what an item asks for."""
    return asked_of(desk.opened(), desk.answer().assessment, item, NOW)[0]


def test_every_kind_has_its_button() -> None:
    """What the command knows the page knows, each in plain words."""
    assert set(WORDS) == set(get_args(What)) == BREAKS | DRIVES | RESETS
    assert all(WORDS.values())


@pytest.mark.independent
def test_an_entry_is_that_of_the_command(desk: Desk) -> None:
    """The same body comes of a form as of `record event`."""
    road(desk, "storm", "panel", gust="70 mph", note="at the coast", by="Ann", at="2026-07-15 09:30")
    again = told(timedelta(days=10), note="at the coast", at=START + timedelta(days=8, hours=23, minutes=30))
    record_happening(open_job(desk.folder), "storm", "panel", (), {"gust": "70 mph"}, again)
    one, other = Logbook.read(desk.folder).events()[-2:]

    assert {**one.body, "when": ""} == {**other.body, "when": ""}
    assert one.kind == other.kind


def test_a_storm_asks_for_a_look_and_a_lost_foot_for_a_new_bond(desk: Desk) -> None:
    """What is due names what happened, and the word follows."""
    road(desk, "storm", gust="70 mph")

    assert asked(desk).word == "NOT PROVEN"
    assert any("storm on" in due.what and due.state == "now" for due in asked(desk).dues)

    road(desk, "let go", "panel", ("front left",), failure_pattern="adhesive")

    assert any(due.what.startswith("front left let go") for due in asked(desk).dues)
    assert len(asked_of(desk.opened(), desk.answer().assessment, "", NOW)) == len(desk.answer().job.item)


def test_the_worst_off_comes_first(desk: Desk) -> None:
    """The item at which a foot let go is the one to look at, whatever its place in the job."""
    for item in reversed(desk.answer().job.item):
        road(desk, "let go", item.name, (item.mount[0].name,))
        found = asked_of(desk.opened(), desk.answer().assessment, "", NOW)

        assert worst_off(found) == next(
            one.item for one in found if any(due.state == "now" for due in one.dues)
        )
        assert worst_off(tuple(one for one in found if one.item == item.name) + found[:1]) == item.name


def test_a_correction_stands_beside_what_it_corrects(desk: Desk) -> None:
    """The newest stands first; a corrected entry is kept and says by which row; only what stands can be corrected."""
    row = road(desk, "storm", "panel", gust="70 mph", by="Ann")
    typed, feet = typed_again(desk.folder, row)

    assert (typed.pop("what"), typed.pop("item"), feet) == ("storm", "panel", ())
    assert typed["by"] == "Ann"

    later = road(desk, "storm", "panel", **{**typed, "gust": "30 mph"})
    lines = {line.row: line for line in lines_of(desk.folder, "metric")}

    assert lines[row].corrected_by == later
    assert not lines[row].correctable
    assert lines[later].correctable
    assert "48 km/h (30 mph)" in lines[later].words
    assert not any("storm" in due.what for due in asked(desk).dues if due.state == "now")
    assert lines[min(lines)].words.startswith("bonded: ")

    with pytest.raises(BadInput):
        typed_again(desk.folder, min(lines))  # a bonding


def test_too_early_a_drive_is_a_stop(desk: Desk) -> None:
    """Without a reason it is not written; with one it is, and the list says so."""
    early = {"at": (START + timedelta(minutes=5)).isoformat()}
    rows = Logbook.read(desk.folder).head().rows
    with pytest.raises(BadInput) as error:
        road(desk, "drive", **early)

    assert {one.key for one in error.value.findings} == {"drive", "--going-on"}
    assert "--" not in " ".join(one.hint for one in error.value.findings)
    assert Logbook.read(desk.folder).head().rows == rows

    row = road(desk, "drive", going_on="moved it off a ferry", **early)

    assert "ferry" in next(one for one in lines_of(desk.folder, "metric") if one.row == row).against


@pytest.mark.parametrize(
    ("what", "item", "feet", "typed", "key"),
    [
        ("storm", "", (), {"gust": "very fast"}, "--gust"),
        ("storm", "", (), {"at": "yesterday"}, "at"),
        ("storm", "", (), {"at": "2099-01-01"}, "--at"),
        ("let go", "panel", (), {}, "--foot"),
        ("opened", "panel", ("no such",), {}, "--foot"),
        ("meteor", "", (), {}, "WHAT"),
        ("storm", "boat", (), {}, "ITEM"),
        ("storm", "", (), {"note": "x" * 2001}, "--note"),
    ],
)
def test_bad_input_is_told(
    desk: Desk, what: str, item: str, feet: tuple[str, ...], typed: dict[str, str], key: str
) -> None:
    """Place and rule of each mistake; nothing is written."""
    rows = Logbook.read(desk.folder).head().rows
    with pytest.raises(BadInput) as error:
        road(desk, what, item, feet, **typed)

    assert key in {one.key for one in error.value.findings}
    assert Logbook.read(desk.folder).head().rows == rows


@pytest.mark.independent
def test_the_roadside_answer_is_that_of_the_command(desk: Desk) -> None:
    """Asked of the assessment on the desk or of the folder: the same answer."""
    feet = ("front left", "rear right")
    short, whole = (
        roadside_in(desk.answer().assessment, "panel", feet),
        roadside_of(desk.folder, "panel", feet),
    )

    assert (short.head, short.orders, short.because) == (whole.head, whole.orders, whole.because)
