"""What is due: first looks, rhythm by use, evidence and consequence, slips read again."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from bonded_jobs import stiff
from sample_assessments import JOBS
from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, HAPPENING, INSPECTION, History, build_history
from staydown.foundation.quantities import lasting
from staydown.upkeep.inspection_plan import Due, InspectionPlan, inspection_plan

START = datetime(2026, 5, 4, 10, 0, tzinfo=UTC)
ENDS = (START + timedelta(days=1), START + timedelta(days=3))
FEET = ("front left", "front right", "rear left", "rear right")
CLOSED = dict.fromkeys(FEET, 0.0)


def history(*told: tuple[float, str, dict[str, Any]]) -> History:
    """Return a history: days after the start, kind, what it says."""
    events = []
    for number, (day, kind, body) in enumerate(told, start=1):
        when = (START + timedelta(days=day)).strftime("%Y-%m-%dT%H:%M:%SZ")
        events.append(
            Event(seq=number, at=when, kind=kind, body={"when": when, "item": "forward panel", **body})
        )
    return build_history(events)


BONDED = (0.0, BONDING, {"feet": list(FEET)})


def plan(
    known: History, after_days: float, name: str = "panel", unsettled: tuple[str, ...] = ()
) -> InspectionPlan:
    """Return what is due so many days after the bonding."""
    whole = stiff(name)
    now = START + timedelta(days=after_days)
    ends = ENDS if known.bondings else None
    return inspection_plan(whole.items[0], 1.1e-3, known, unsettled, ends, whole.cards.planning, now)


def due(found: InspectionPlan, words: str) -> Due | None:
    """Return what is due with these words in it."""
    return next((one for one in found.dues if words in one.what), None)


def test_no_record_is_said_first() -> None:
    """Without a bonding the first thing is to write it down, and nothing has a date."""
    found = plan(history(), 0.0)

    assert "no record" in found.dues[0].why
    assert not found.bonded
    assert all(one.at is None for one in found.dues)


@pytest.mark.by_hand
def test_the_looks_of_a_new_bond() -> None:
    """Before the first drive, half an hour into it, three months after it is full; each gone once it was done."""
    fresh = plan(history(BONDED), 0.5)
    before = due(fresh, "before the first drive")
    assert before is not None

    assert (before.at, before.state) == (ENDS[0], "later")
    driven = plan(history(BONDED, (4.0, HAPPENING, {"what": "drive"})), 4.1)
    soon = due(driven, "15 to 30 minutes")
    assert soon is not None
    assert soon.at == START + timedelta(days=4, minutes=30)
    assert soon.state == "due"
    looked = (4.2, INSPECTION, {"gaps": CLOSED})
    done = plan(history(BONDED, (4.0, HAPPENING, {"what": "drive"}), looked), 4.3)
    assert due(done, "15 to 30 minutes") is None
    assert due(done, "before the first drive") is None


@pytest.mark.by_hand
def test_a_full_look_is_due_half_a_year_after_the_last() -> None:
    """At high consequence with little proven the interval is 182.625 days, from the last look at every foot."""
    partial = (10.0, INSPECTION, {"gaps": {"front left": 0.0}})
    full = (5.0, INSPECTION, {"gaps": CLOSED})
    found = plan(history(BONDED, full, partial), 20.0)
    look = next(one for one in found.dues if one.what == "look at every foot")

    assert found.interval_s == pytest.approx(182.625 * 86400.0)
    assert look.at == START + timedelta(days=5.0 + 182.625)
    assert look.state == "later"
    assert plan(history(BONDED, full), 200.0).dues != found.dues


def test_little_used_and_covered_is_looked_at_once_a_year() -> None:
    """The sound light item of low consequence has the long interval."""
    found = plan(history(), 0.0, "sound")

    assert found.interval_s == pytest.approx(365.25 * 86400.0)


def test_a_slip_on_watch_is_read_again_in_a_month() -> None:
    """18 % of the tape: the same foot again after 30 days."""
    slipped = (10.0, INSPECTION, {"gaps": CLOSED, "slips": {"rear left": 0.2e-3}})
    found = plan(history(BONDED, slipped), 11.0)
    again = due(found, "slip mark of rear left")
    assert again is not None

    assert again.at == START + timedelta(days=40)
    assert next(look for look in found.feet if look.foot == "rear left").slip.grade == "watch"


def test_the_most_used_foot_comes_first() -> None:
    """Feet are looked at in the order of their use; one without proof before all."""
    uses = [look.use for look in plan(history(), 0.0, "sound").feet]
    known = [use for use in uses if use is not None]

    assert uses[: uses.count(None)] == [None] * uses.count(None)
    assert known == sorted(known, reverse=True)


def test_what_is_open_is_due_now() -> None:
    """What must be looked at first stands before every date."""
    found = plan(history(BONDED), 20.0, unsettled=("a storm",))

    assert found.dues[0].state == "now"
    assert found.dues[0].what == "a storm"


@pytest.mark.independent
@pytest.mark.parametrize("name", sorted(JOBS))
def test_the_answer_and_the_plan_name_one_interval(name: str) -> None:
    """What the answer asks as the longest time between looks is what the plan keeps, with the same reasons."""
    whole = stiff(name)
    for number, assessed in enumerate(whole.items):
        found = inspection_plan(whole.items[number], 1.1e-3, history(), (), None, whole.cards.planning, START)
        asked = [text for text in assessed.verdict.conditions if "at least every" in text]

        for text in asked:
            assert text.split("at least every ")[1].split(" (")[0] == lasting(found.interval_s)
            assert f"({found.why})" in text or lasting(found.interval_s) == "12 months"
