"""The falls add up: where the stress comes from, and what is left of the coupons."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.numbers import at
from staydown.loads.load_case import BANDS
from staydown.outputs.most_used import Pick, pick, pulling_cases, worst_in_tension
from staydown.outputs.waterfall import demand_steps, strength_steps, waterfall_text
from staydown.verdict.checks import HIGH

Assessed = Callable[[str], Assessment]
LIKELY = BANDS.index("likely")


def first(assessed: Assessed, name: str) -> tuple[ItemAssessment, Mounted]:
    """Return a job's first item and its numbers."""
    item = assessed(name).items[0]
    assert item.mounted is not None
    return item, item.mounted


def pulled(mounted: Mounted) -> list[Pick]:
    """Return every mount in every case that pulls at it."""
    mounts = range(len(mounted.demands.mounts))
    return [
        found
        for case in pulling_cases(mounted)
        for m in mounts
        if (found := pick(mounted, case, m)).peak_Pa > 0
    ]


@pytest.mark.by_hand
@pytest.mark.parametrize("name", ["panel", "one mount", "twelve mounts", "puck"])
def test_the_steps_add_up_to_the_peak(assessed: Assessed, name: str) -> None:
    """Share + factors + above the share + lever is the peak tension, at the likely and at the high band."""
    item, mounted = first(assessed, name)
    for found in pulled(mounted):
        *parts, peak = demand_steps(item.item, mounted, found)

        assert sum(step.high_Pa for step in parts) == pytest.approx(found.peak_Pa, rel=1e-9, abs=1e-6)
        assert sum(step.likely_Pa or 0.0 for step in parts) == pytest.approx(
            found.likely_peak_Pa, rel=1e-9, abs=1e-6
        )
        assert peak.high_Pa == pytest.approx(found.peak_Pa)


@pytest.mark.by_hand
def test_load_factors_are_what_the_parts_say(assessed: Assessed) -> None:
    """The step of the factors is the sum of force x (factor - 1) over all parts, over all pads of this size."""
    item, mounted = first(assessed, "panel")
    found = worst_in_tension(mounted)
    index = (found.case, HIGH, found.mount)
    extra_N = sum(
        at(part.force[2], index) * (at(part.factor, index) - 1.0)
        for part in mounted.table.parts
        if part.acts[found.case]
    )
    factors = next(step for step in demand_steps(item.item, mounted, found) if step.what == "load factors")

    assert factors.high_Pa == pytest.approx(extra_N / (4 * 0.08 * 0.05), rel=1e-6)
    assert factors.high_Pa > 0.0


@pytest.mark.by_hand
def test_strength_falls_to_what_is_proven(assessed: Assessed) -> None:
    """The last step is the proven stress; wet and age take their share of the bound, which is below the middle."""
    assessment = assessed("panel")
    _, mounted = first(assessed, "panel")
    capacity, found = mounted.capacity["tension"], worst_in_tension(mounted)
    answer = capacity.answer(found.case, found.mount)
    lasts_s = mounted.table.cases[found.case].exposure.lasts_s
    steps = strength_steps(assessment.job, capacity, answer, lasts_s, found.temperature_K, "metric")
    *_, middle, bound, wet = steps

    assert wet.high_Pa == pytest.approx(float(answer.proven.value))
    assert wet.high_Pa / bound.high_Pa == pytest.approx(float(capacity.wet.value))
    assert bound.high_Pa < middle.high_Pa
    assert found.tension_use == pytest.approx(found.peak_Pa / wet.high_Pa)


@pytest.mark.by_hand
def test_the_middle_of_the_pulls_is_their_geometric_mean(assessed: Assessed) -> None:
    """The first step is exp of the mean log of the five pulls nearest in temperature, at 85 degC in a hot case."""
    assessment = assessed("panel")
    _, mounted = first(assessed, "panel")
    capacity = mounted.capacity["tension"]
    hot = next(n for n, c in enumerate(mounted.table.cases) if (c.name, c.exposure.season) == ("gust", "hot"))
    found = pick(mounted, hot, 0)
    steps = strength_steps(
        assessment.job, capacity, capacity.answer(hot, 0), 3.0, found.temperature_K, "metric"
    )
    expected_Pa = 640e3 * np.exp(np.log([0.98, 1.05, 0.95, 1.03, 0.97]).mean())

    assert steps[0].what == "5 pulls, 85 °C, middle"
    assert steps[0].high_Pa == pytest.approx(expected_Pa, rel=1e-6)


def test_without_coupons_nothing_is_left_and_it_says_so(assessed: Assessed) -> None:
    """The demand is shown, the other side is a sentence."""
    assessment = assessed("no coupons")
    text = "\n".join(waterfall_text(assessment.job, assessment.items[0], 80))

    assert "No test of yours says what is left against it." in text
    assert "lever and tipping" in text


@pytest.mark.by_hand
def test_bars_are_to_one_scale(assessed: Assessed) -> None:
    """The bar of the peak and the bar of what is proven have the ratio of their figures, to a cell."""
    assessment = assessed("panel")
    _, mounted = first(assessed, "panel")
    found = worst_in_tension(mounted)
    lines = waterfall_text(assessment.job, assessment.items[0], 80)
    peak = next(line.count("█") for line in lines if line.strip().startswith("at the pad's edge"))
    left = next(line.count("█") for line in lines if line.strip().startswith("wet"))

    assert abs(peak - left * found.tension_use) <= 0.5 * (1.0 + found.tension_use)
