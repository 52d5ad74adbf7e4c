"""The answer of `plan` as one JSON object in SI units."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import Any

from staydown.advice.candidate_tests import CandidateTest, described, water_L
from staydown.advice.plan_tests import ItemPlan
from staydown.advice.weigh_tests import WeighedTest
from staydown.assess import Assessment
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2

FORMAT = "staydown-plan-1"


def plan_json(plans: Sequence[ItemPlan], assessment: Assessment) -> dict[str, Any]:
    """Return every item's plan as plain dictionaries."""
    return {
        "format": FORMAT,
        "job": assessment.job.job.name,
        "items": [
            {
                "name": plan.item,
                "why_none": plan.why_none or None,
                "clears": plan.clears,
                "chance": plan.chance,
                "other": list(plan.other),
                "candidates_weighed": plan.weighed,
                "steps": [
                    {
                        **_weighed(step.chosen, assessment),
                        "expected_N": step.expected_N,
                        "open_cases_now": step.open_now,
                        "open_cases_after": step.open_after,
                        "instead": [_weighed(other, assessment) for other in step.instead],
                    }
                    for step in plan.steps
                ],
                "plain": {
                    "reliability": plan.plain.reliability,
                    "confidence": plan.plain.confidence,
                    "count": plan.plain.count,
                    "time_ratio": plan.plain.longer,
                    "count_longer": plan.plain.count_longer,
                },
            }
            for plan in plans
        ],
    }


def _weighed(weighed: WeighedTest, assessment: Assessment) -> dict[str, Any]:
    return {
        **_test(weighed.test, assessment),
        "chance": weighed.chance,
        "use_now": weighed.use_now if isfinite(weighed.use_now) else None,
        "use_after": weighed.use_after,
        "asked_N": weighed.asked_Pa * weighed.test.area_m2,
        "cells_cleared": weighed.cleared,
    }


def _test(test: CandidateTest, assessment: Assessment) -> dict[str, Any]:
    planning = assessment.cards.planning
    hung = test.way == "hang"
    return {
        "what": described(test),
        "mode": test.mode,
        "way": test.way,
        "soaked": test.soaked,
        "count": test.trial.count,
        "side_m": test.side_m,
        "area_m2": test.area_m2,
        "temperature_K": test.trial.temperature_K,
        "lasts_s": test.trial.lasts_s,
        "load_N": test.load_N if hung else None,
        "mass_kg": test.load_N / STANDARD_GRAVITY_m_per_s2 if hung else None,
        "water_m3": 1e-3 * water_L(test.load_N, float(planning["container_mass"].decided.value))
        if hung
        else None,
        "stress_Pa": test.trial.stress_Pa if hung else None,
        "effort_s": test.effort_s(float(planning["coupon_work"].decided.value)),
        "jig": f"{test.mode}_{test.way}",
    }
