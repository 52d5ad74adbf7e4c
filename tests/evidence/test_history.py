"""What the logbook tells of bonding, looking and happenings, and how slip marks are read."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, HAPPENING, INSPECTION, PASSPORT, build_history
from staydown.evidence.session import Session
from staydown.evidence.slip import Slip, SlipRules, Thermal, read_slip

START = datetime(2026, 5, 4, tzinfo=UTC)
RULES = SlipRules(watch=0.10, limit=0.25, reach_K=5.0, reading_m=1e-4)


def event(seq: int, kind: str, day: int, **body: Any) -> Event:
    """Return an entry written on a day."""
    when = (START + timedelta(days=day)).strftime("%Y-%m-%dT%H:%M:%SZ")
    return Event(seq=seq, at=when, kind=kind, body={"when": when, **body})


def bonded(seq: int, day: int, *feet: str, **more: Any) -> Event:
    """Return a bonding of feet of the panel."""
    return event(seq, BONDING, day, item="panel", feet=list(feet), **more)


def read(*slips_mm: float | tuple[float, float], thermal: Thermal | None = None) -> Slip:
    """Return the slip of a foot bonded at 20 degC: readings in mm, or (mm, roof degC), a month apart."""
    events = [bonded(1, 0, "front left", surface_K=293.15)]
    for number, one in enumerate(slips_mm, start=1):
        slip, roof = one if isinstance(one, tuple) else (one, 20.0)
        body = {"item": "panel", "slips": {"front left": slip * 1e-3}, "roof_K": roof + 273.15}
        events.append(event(number + 1, INSPECTION, 30 * number, **body))
    return read_slip(build_history(events), "panel", "front left", 1.1e-3, thermal, RULES)


def test_the_last_bonding_of_a_foot_counts() -> None:
    """A foot bonded anew has the newer record, the others keep theirs."""
    history = build_history([bonded(1, 0, "front left", "front right"), bonded(2, 9, "front left")])
    left, right = history.bonded("panel", "front left"), history.bonded("panel", "front right")
    assert left is not None
    assert right is not None

    assert (left.entry.seq, right.entry.seq) == (2, 1)
    assert history.bonded("panel", "rear left") is None
    assert history.bonded("box", "front left") is None


def test_a_session_is_one_day_for_all_feet() -> None:
    """Feet bonded on one day have that session; two days, a foot without a record and told records have none."""
    both, old = ["front left", "front right"], bonded(1, 0, "front left", "front right")
    entries = [{"kind": old.kind, "at": old.at, "body": dict(old.body)}]

    assert build_history([old]).session("panel", both) == Session(day="2026-05-04")
    assert build_history([old]).session("panel", [*both, "rear"]) is None
    assert build_history([old, bonded(2, 9, "front left")]).session("panel", both) is None
    assert build_history([old, bonded(2, 9, *both)]).session("panel", both) == Session(day="2026-05-13")
    assert build_history([event(1, PASSPORT, 5, entries=entries)]).session("panel", both) is None


def test_a_corrected_entry_is_left_out() -> None:
    """An entry that stands for another one takes its place; both stay in the logbook."""
    wrong = event(1, INSPECTION, 1, item="panel", gaps={"front left": 0.01})
    right = event(2, INSPECTION, 1, item="panel", gaps={"front left": 0.0}, supersedes=1)
    history = build_history([wrong, right])

    assert [one.entry.seq for one in history.inspections] == [2]


def test_order_is_that_of_what_happened() -> None:
    """An entry written down late stands where it happened."""
    late = event(2, HAPPENING, 1, what="storm")
    history = build_history([event(1, HAPPENING, 5, what="hail"), late])

    assert [one.what for one in history.happenings] == ["storm", "hail"]


def test_the_whole_roof_concerns_every_item() -> None:
    """A storm without an item is every item's, a branch on one item is that one's alone."""
    history = build_history(
        [event(1, HAPPENING, 1, what="storm"), event(2, HAPPENING, 2, what="branch", item="box")]
    )

    assert [one.what for one in history.of("panel").happenings] == ["storm"]
    assert [one.what for one in history.of("box").happenings] == ["storm", "branch"]


def test_what_a_passport_tells_is_marked() -> None:
    """Records of an earlier owner come in as told, and cannot be corrected by rows of this logbook."""
    old = bonded(1, 0, "front left")
    entries = [{"kind": old.kind, "at": old.at, "body": dict(old.body)}]
    history = build_history([event(1, PASSPORT, 5, entries=entries)])

    assert history.bondings[0].entry.told
    assert history.bondings[0].feet == ("front left",)


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("slips_mm", "grade", "growing"),
    [
        ((0.1,), "record", False),  # 9 %
        ((0.2,), "watch", False),  # 18 %
        ((0.3,), "re-bond", False),  # 27 %
        ((0.15, 0.15), "watch", False),
        ((0.15, 0.30), "re-bond", True),  # from the mark at 0 it grew twice
        ((0.15, 0.20), "watch", False),  # less than a reading is good for
        ((0.02, 0.04, 0.06), "record", False),
    ],
)
def test_slip_asks_for_what_it_says(slips_mm: tuple[float, ...], grade: str, growing: bool) -> None:
    """Under 10 % of the tape is written down, up to 25 % read again, above or growing twice bonded anew."""
    found = read(*slips_mm)

    assert (found.grade, found.growing) == (grade, growing)


@pytest.mark.by_hand
def test_a_reading_on_a_hot_roof_is_not_compared() -> None:
    """More than 5 K from the mark's temperature a reading says nothing; within it, what comes back is taken off."""
    hot = read((0.3, 45.0))
    # 0.6 of strain over 60 K: 4 K are 0.04; 0.3 mm are 0.2727, net 0.2327
    near = read((0.3, 24.0), thermal=Thermal(strain=0.6, span_K=60.0))
    assert near.last is not None
    assert near.last.net is not None

    assert hot.last is None
    assert hot.grade == "record"
    assert near.last.net.value == pytest.approx(0.3 / 1.1 - 0.6 * 4 / 60)
    assert near.grade == "watch"


def test_readings_before_a_new_bond_do_not_count() -> None:
    """A foot that is bonded anew begins at nothing."""
    slipped = event(2, INSPECTION, 5, item="panel", slips={"front left": 0.5e-3})
    events = [bonded(1, 0, "front left"), slipped, bonded(3, 9, "front left")]
    found = read_slip(build_history(events), "panel", "front left", 1.1e-3, None, RULES)

    assert found.readings == ()
    assert found.grade == "record"
