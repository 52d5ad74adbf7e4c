"""A missing bonding record is said, and is no reason against a word."""

from __future__ import annotations

from typing import Any

import pytest

from known_jobs import known_panel, panel_coupons
from sample_jobs import cards, job_of
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, build_history
from staydown.verdict.bonding_told import feet_not_told, with_bonding
from staydown.verdict.verdict import Verdict, Word

FEET = ("front left", "front right")
WHEN = "2026-05-04T10:00:00Z"


def bonded(*feet: str, item: str = "panel") -> Event:
    """Return the entry of a bonding."""
    return Event(seq=1, at=WHEN, kind=BONDING, body={"when": WHEN, "item": item, "feet": list(feet)})


def told(word: Word, *events: Event) -> Verdict:
    """Return a verdict with what is said of the bonding."""
    verdict = Verdict(word=word, because=("so used",), conditions=("a tether",), find_out=("a test",))
    return with_bonding(verdict, build_history(events), "panel", FEET)


@pytest.mark.parametrize(
    ("word", "said_in"),
    [("NOT PROVEN", "conditions"), ("GO WITH CONDITIONS", "find_out"), ("GO", "find_out")],
)
def test_no_record_is_said_and_changes_no_word(word: Word, said_in: str) -> None:
    """Among the conditions while it is not proven, among what to do next where it may go; reasons and word stay."""
    before = Verdict(word=word, because=("so used",), conditions=("a tether",), find_out=("a test",))
    after = told(word)
    texts = getattr(after, said_in)

    assert (after.word, after.because) == (before.word, before.because)
    assert len(texts) == 2
    assert sum("no record of its bonding" in text for text in texts) == 1
    for other in {"conditions", "find_out"} - {said_in}:
        assert getattr(after, other) == getattr(before, other)


def test_a_no_needs_no_bonding() -> None:
    """Nobody is told to bond what must not go."""
    assert told("NO") == Verdict(
        word="NO", because=("so used",), conditions=("a tether",), find_out=("a test",)
    )


def test_only_the_feet_without_a_record_are_named() -> None:
    """One foot written down leaves the other; both leave nothing to say; another item's record does not count."""
    half = told("GO", bonded("front left")).find_out[-1]

    assert "bond front right by" in half
    assert "how front right was bonded" in half
    assert "front left" not in half
    assert told("GO", bonded(*FEET)).find_out == ("a test",)
    assert feet_not_told(build_history([bonded(*FEET, item="dome")]), "panel", FEET) == FEET


def said(assessment: Assessment) -> str:
    """Return what the first item is told to do and to keep to."""
    verdict = assessment.items[0].verdict
    return " | ".join((*verdict.conditions, *verdict.find_out))


def test_check_says_it_until_it_is_recorded() -> None:
    """The whole assessment of a job says it at the planning stage, and with every foot recorded says no more of it."""
    job = job_of(known_panel())
    facts: dict[str, Any] = {"cards": cards(), "coupons": tuple(panel_coupons())}
    item = job.item[0]
    every = bonded(*(mount.name for mount in item.mount), item=item.name)
    before, after = assess(job, Facts(**facts)), assess(job, Facts(**facts, events=(every,)))

    assert "no record of its bonding" in said(before)
    assert "bonding" not in said(after)
    assert before.word == after.word
    assert before.items[0].verdict.because == after.items[0].verdict.because
