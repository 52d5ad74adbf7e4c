"""What happened and nobody has looked at keeps an item from its word."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, HAPPENING, INSPECTION, RESETS, build_history
from staydown.storage.read_cards import read_cards
from staydown.verdict.unsettled import unsettled, with_unsettled
from staydown.verdict.verdict import Verdict, Word

PLANNING = read_cards().planning
FEET = ("front left", "front right")
CLOSED = dict.fromkeys(FEET, 0.0)


def reasons(*told: tuple[str, dict[str, Any]]) -> tuple[str, ...]:
    """Return what is open after these entries, one a day."""
    events = []
    for day, (kind, body) in enumerate(told):
        when = (datetime(2026, 5, 4, tzinfo=UTC) + timedelta(days=day)).strftime("%Y-%m-%dT%H:%M:%SZ")
        events.append(Event(seq=day + 1, at=when, kind=kind, body={"when": when, "item": "panel", **body}))
    return unsettled(build_history(events), "panel", FEET, 1.1e-3, {}, PLANNING, "metric")


def bonded(*feet: str) -> tuple[str, dict[str, Any]]:
    """Return a bonding."""
    return BONDING, {"feet": list(feet or FEET)}


def looked(**body: Any) -> tuple[str, dict[str, Any]]:
    """Return an inspection."""
    return INSPECTION, {"gaps": CLOSED, **body}


def happened(what: str, **body: Any) -> tuple[str, dict[str, Any]]:
    """Return a happening."""
    return HAPPENING, {"what": what, **body}


@pytest.mark.parametrize("what", sorted(RESETS))
def test_an_event_is_open_until_every_foot_was_looked_at(what: str) -> None:
    """A look at one foot alone settles nothing; a look at all of them does; so does bonding all anew."""
    one = looked(gaps={"front left": 0.0})

    assert reasons(bonded(), happened(what)) != ()
    assert reasons(bonded(), happened(what), one) != ()
    assert reasons(bonded(), happened(what), looked()) == ()
    assert reasons(happened(what), bonded()) == ()


def test_a_look_before_the_event_settles_nothing() -> None:
    """Yesterday's look says nothing about today's storm."""
    assert reasons(bonded(), looked(), happened("storm", gust_m_per_s=30.0)) != ()


@pytest.mark.by_hand
def test_a_weak_storm_is_no_event() -> None:
    """60 mph is 26.82 m/s: a gust below is written down and resets nothing; one not known counts."""
    assert reasons(bonded(), happened("storm", gust_m_per_s=26.0)) == ()
    assert reasons(bonded(), happened("storm", gust_m_per_s=27.0)) != ()
    assert reasons(bonded(), happened("storm")) != ()


def test_an_open_edge_stays_open_until_the_foot_is_bonded_anew() -> None:
    """An edge that closes again in the heat is still an edge that opened."""
    opened = looked(gaps={**CLOSED, "front left": 0.01})

    assert "front left is open" in reasons(bonded(), opened)[0]
    assert reasons(bonded(), opened, looked()) != ()
    assert reasons(bonded(), opened, bonded("front right")) != ()
    assert reasons(bonded(), opened, bonded("front left")) == ()


@pytest.mark.parametrize("what", ["opened", "slipped", "let go"])
def test_a_foot_that_let_go_is_not_looked_well(what: str) -> None:
    """No look mends a foot that let go."""
    gone = happened(what, feet=["front right"])

    assert reasons(bonded(), gone, looked()) != ()
    assert reasons(bonded(), gone, bonded("front right"), looked()) == ()


def test_pulls_that_failed_or_were_too_strong() -> None:
    """A foot that did not hold is bonded anew; one pulled too hard is looked at again."""
    failed = looked(pulls={"front left": {"force_N": 200.0, "allowed_N": 300.0, "held": False}})
    hard = looked(pulls={"front left": {"force_N": 400.0, "allowed_N": 300.0, "held": True}})
    good = looked(pulls={"front left": {"force_N": 200.0, "allowed_N": 300.0, "held": True}})

    assert "did not hold" in reasons(bonded(), failed, looked())[0]
    assert "over the" in reasons(bonded(), hard)[0]
    assert reasons(bonded(), hard, looked()) == ()
    assert reasons(bonded(), good) == ()


@pytest.mark.by_hand
def test_slip_over_a_quarter_of_the_tape() -> None:
    """0.3 mm of 1.1 mm is 27 %."""
    (reason,) = reasons(bonded(), looked(slips={"front left": 0.3e-3}))

    assert "27 % of its tape" in reason


@pytest.mark.parametrize(
    ("before", "after"),
    [("GO", "NOT PROVEN"), ("GO WITH CONDITIONS", "NOT PROVEN"), ("NOT PROVEN", "NOT PROVEN"), ("NO", "NO")],
)
def test_the_word_falls_and_never_rises(before: Word, after: Word) -> None:
    """What is open makes any pass NOT PROVEN, leaves NO as it is, and stands first among the reasons."""
    verdict = Verdict(word=before, because=("so used",), conditions=("a tether",), find_out=())
    found = with_unsettled(verdict, ["a storm"])

    assert found.word == after
    assert found.because[0] == "must be looked at first: a storm"
    assert with_unsettled(verdict, []) == verdict
