"""The plan of tests: what it offers, what it never offers, and that its steps do what they promise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from known_jobs import known_panel, panel_coupons
from sample_jobs import cards, changed, job_of
from staydown.advice.candidate_tests import (
    Asked,
    CandidateTest,
    candidates,
    described,
    water_L,
)
from staydown.advice.plan_tests import ItemPlan, plain_plan, plan_tests
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.coupon import Coupon
from staydown.strength.predict import Trial


def planned(
    job: dict[str, Any], coupons: Sequence[Coupon] = (), seed: int = 1
) -> tuple[Assessment, ItemPlan]:
    """Return the assessment and the plan of a job's first item."""
    facts = Facts(cards=cards(), coupons=tuple(coupons))
    assessment = assess(job_of(job), facts)
    return assessment, plan_tests(assessment, facts, np.random.default_rng(seed))[0]


@pytest.mark.by_hand
def test_water_with_its_container() -> None:
    """98.0665 N are 10 kg: 9.6 L of water in a container of 0.4 kg; a load below the container's needs none."""
    litres = water_L(98.0665, 0.4)

    assert litres == pytest.approx(9.6)
    assert water_L(1.0, 0.4) == 0.0


@pytest.mark.published
def test_plain_plan() -> None:
    """22 hangs show 0.90 at 90 % (success run, MIL-HDBK-781); twice the time at shape 1.5 needs 7.73, so 8."""
    plain = plain_plan(cards().planning, cards().planning["content"].decided)

    assert (plain.count, plain.count_longer) == (22, 8)


def test_nothing_is_planned_for_a_forbidden_surface() -> None:
    """On a membrane no test is offered, and the plan says that none can make it pass."""
    _, plan = planned(changed(known_panel(), {"item.0.surface": "epdm"}))

    assert plan.steps == ()
    assert plan.why_none.startswith("no test can make this pass")


def test_without_coupons_the_first_tests_are_pulls_hot_and_cold() -> None:
    """A bond nobody tested is pulled warm and cold before anything else is bought."""
    _, plan = planned(known_panel())
    first = [step.chosen.test for step in plan.steps[:3]]

    assert all(test.mode == "tension" for test in first[:1])
    assert {test.trial.temperature_K > 296.15 for test in first} == {True, False}


def test_every_offered_test_clears_something() -> None:
    """No test is offered that clears no case, and every chance lies in (0, 1]."""
    _, plan = planned(known_panel())
    offered = [weighed for step in plan.steps for weighed in (step.chosen, *step.instead)]

    assert offered
    assert all(weighed.cleared > 0.0 and 0.0 < weighed.chance <= 1.0 and weighed.cases for weighed in offered)


def test_a_proven_bond_needs_no_test() -> None:
    """Where every case is covered and below 100 %, nothing is left to test."""
    assessment, plan = planned(known_panel(), panel_coupons())
    assert assessment.word in ("GO WITH CONDITIONS", "GO")

    assert plan.steps == ()
    assert plan.clears


def test_the_same_seed_gives_the_same_plan() -> None:
    """A plan is repeatable."""
    _, one = planned(known_panel())
    _, two = planned(known_panel())

    assert [s.chosen for s in one.steps] == [s.chosen for s in two.steps]


def test_recorded_coupons_change_the_plan() -> None:
    """The hot pulls in tension are not planned again once they are made and strong."""
    coupons = panel_coupons()
    hottest = max(c.temperature_K for c in coupons)
    hot = [c for c in coupons if c.temperature_K >= hottest - 1.0]
    _, plan = planned(known_panel(), hot)
    again = [
        step.chosen.test
        for step in plan.steps
        if step.chosen.test.way == "pull" and step.chosen.test.trial.temperature_K > 330.0
    ]

    assert hot
    assert plan.steps
    assert again == []


def test_candidates_stay_within_the_tapes_range() -> None:
    """No test is hotter or colder than the class is used at."""
    tape = replace(cards().tapes["acrylic foam tape"], coldest_K=283.15, hottest_K=330.0)
    asked = Asked(mode="tension", stress_Pa=50e3, longest_s=7200.0)
    found = candidates(asked, 360.0, 263.15, tape, cards().planning)

    assert found
    assert all(283.15 <= test.trial.temperature_K <= 330.0 for test in found)


def test_no_hang_without_a_case_of_minutes() -> None:
    """Where nothing lasts minutes there is nothing to hang for."""
    asked = Asked(mode="shear", stress_Pa=0.0, longest_s=3600.0)
    found = candidates(asked, 350.0, 263.15, cards().tapes["acrylic foam tape"], cards().planning)

    assert {test.way for test in found} == {"pull"}


@pytest.mark.by_hand
def test_shear_coupons_have_two_laps() -> None:
    """A double lap of 20 mm squares bonds 800 mm2: at 50 kPa it hangs 40 N."""
    trial = Trial(way="hang", count=3, temperature_K=300.0, lasts_s=3600.0, stress_Pa=50e3)
    test = CandidateTest(mode="shear", trial=trial, side_m=0.020)

    assert test.load_N == pytest.approx(40.0)
    assert described(test) == "3 double-lap hangs at 27 °C"
    assert test.effort_s(600.0) == pytest.approx(3 * 4200.0)
