"""Cards of planned tests: what they say is what was planned, and what they fill in is read as what was planned."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from known_jobs import known_panel
from sample_jobs import cards, job_of
from staydown.advice.candidate_tests import CandidateTest
from staydown.advice.plan_tests import ItemPlan, plan_tests
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.check_coupons import check_row
from staydown.outputs.plan_cards import PlanCard, free_names, plan_cards, planned_cells
from staydown.storage.read_coupons import read_cells
from staydown.strength.predict import Trial

POUND_N = 4.4482216152605  # exact: avoirdupois pound (1959) times standard gravity (ISO 80000-3)


@pytest.fixture(scope="module")
def planned() -> tuple[Assessment, tuple[ItemPlan, ...]]:
    """Return a job that nobody tested, and its plan."""
    facts = Facts(cards=cards(), coupons=())
    assessment = assess(job_of(known_panel()), facts)
    return assessment, plan_tests(assessment, facts, np.random.default_rng(1))


def cards_of(planned: tuple[Assessment, tuple[ItemPlan, ...]]) -> tuple[PlanCard, ...]:
    """Return the cards of the first item."""
    assessment, plans = planned
    return plan_cards(plans[0], plans, assessment)


def test_a_card_for_each_test_says_all(planned: tuple[Assessment, tuple[ItemPlan, ...]]) -> None:
    """Each test of the plan has a card with load, bond, effort, gain and when to stop, in both systems."""
    assessment, plans = planned
    made = cards_of(planned)

    assert len(made) == len(plans[0].steps) >= 2
    for card, step in zip(made, plans[0].steps, strict=True):
        told = dict(card.facts)
        kelvin = step.chosen.test.trial.temperature_K
        assert {"Make", "Load", "Bond at", "Takes", "Clears", "Stop early"} <= set(told)
        assert f"{kelvin - 273.15:.0f} °C" in told["Bond at"]
        assert f"{1.8 * kelvin - 459.67:.0f} °F" in told["Bond at"]
        assert f"open: {step.open_now} now, {step.open_after} after it" in told["Clears"]
        assert assessment.cards.surfaces[card.cells["surface"]].name in told["Make"]


def test_open_cases_add_up_from_test_to_test(planned: tuple[Assessment, tuple[ItemPlan, ...]]) -> None:
    """What is open after one test is what is open before the next; where the plan clears all none is left."""
    plan = planned[1][0]

    assert [a.open_after for a in plan.steps[:-1]] == [b.open_now for b in plan.steps[1:]]
    assert (plan.steps[-1].open_after == 0) == plan.clears
    assert plan.steps[0].open_now > 0


@pytest.mark.by_hand
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("mode", ["tension", "shear"])
def test_what_is_filled_in_is_what_was_planned(mode: str, system: str) -> None:
    """100 kPa on 38 mm squares are 144.4 N, on two laps 288.8 N; the cells are read as that, never as less."""
    trial = Trial(way="hang", count=3, temperature_K=353.15, lasts_s=86400.0, stress_Pa=1e5)
    test = CandidateTest(mode=mode, trial=trial, side_m=0.038)  # type: ignore[arg-type]
    force = 1e5 * 0.038**2 * (2.0 if mode == "shear" else 1.0)
    cells = planned_cells(test, "grey foam", "painted_steel", system)
    row, findings = read_cells({**cells, "name": "x", "result": "holding", "lasted": "1 h"}, "card", None)
    found = [*findings, *check_row(row, date(2026, 6, 1))]

    assert not [one for one in found if one.grade == "error"]
    assert force <= row.coupon.load_N <= force + 0.01 * POUND_N / (0.45359237 if system == "metric" else 1.0)
    assert row.coupon.area_m2 == pytest.approx(force / 1e5, rel=2e-4)
    assert row.coupon.temperature_K == pytest.approx(353.15, abs=0.01)
    assert row.coupon.mode == mode


def test_what_happens_is_not_filled_in(planned: tuple[Assessment, tuple[ItemPlan, ...]]) -> None:
    """Result, duration, the load of a pull and where it let go are for the person who saw it."""
    for card in cards_of(planned):
        blank = {"result", "lasted", "failure_pattern", "made_on", "dwell", "name"}
        assert not blank & set(card.cells)
        assert ("load" in card.cells) == (card.way == "hang")


def test_names_are_new_ones(planned: tuple[Assessment, tuple[ItemPlan, ...]]) -> None:
    """Coupons are named after their test, past the names that the logbook has."""
    card = cards_of(planned)[0]
    first = free_names(card, ())
    later = free_names(card, first[:1])

    assert len(set(first)) == card.count
    assert first[0] not in later
    assert later[0] == first[1]
