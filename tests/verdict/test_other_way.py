"""The use that decides is that of the way of joining that uses the bond most, whichever has the largest peak."""

from __future__ import annotations

import numpy as np
import pytest

from answers import first
from known_jobs import known_panel, panel_coupons
from sample_jobs import cards, job_of
from staydown.assess import Assessment, Facts, assess
from staydown.verdict import use_laws

FACTS = Facts(cards=cards(), coupons=tuple(panel_coupons()))
SLOTS = {f"item.0.mount.{number}.slotted": True for number in range(2)}
BENDS = {"item.0.frame_bending_stiffness_N_m2": 3500.0}


@pytest.fixture(scope="module", params=[{}, SLOTS, BENDS], ids=["fixed", "slotted", "bending"])
def assessment(request: pytest.FixtureRequest) -> Assessment:
    """Return the panel on fixed feet, with its front feet in slots, and bending."""
    return assess(job_of(known_panel(), request.param), FACTS)


@pytest.mark.independent
def test_no_way_of_joining_uses_a_bond_more_than_what_is_told(assessment: Assessment) -> None:
    """Every way that was solved is put against what is proven by itself; none is used more."""
    mounted = first(assessment)
    checks, ways = mounted.checks, mounted.demands.ways
    assert ways is not None
    use = use_laws.combined_use(
        use_laws.stress_use(np.maximum(ways.peak_Pa, 0.0), np.asarray(checks.tension_proven.value)),
        use_laws.stress_use(np.maximum(ways.shear_Pa, 0.0), np.asarray(checks.shear_proven.value)),
    )
    each = np.where(ways.peak_Pa < 0.0, 0.0, np.asarray(use, dtype=float))
    told = np.broadcast_to(np.asarray(checks.bond_use.value, dtype=float), each.shape[1:])

    assert len(each) > 1
    assert (np.nan_to_num(each).max(axis=0) <= np.nan_to_num(told, nan=np.inf) * (1.0 + 1e-9) + 1e-12).all()


@pytest.mark.independent
def test_a_way_with_less_tension_and_more_shear_is_found() -> None:
    """In slots some way uses a bond more than the one with the largest peak; its two stresses explain the use."""
    mounted = first(assess(job_of(known_panel(), SLOTS), FACTS))
    other = mounted.checks.other_way
    assert other is not None
    at = tuple(int(n) for n in np.argwhere(other.counts)[0])
    peak, shear = (float(np.asarray(number.value)[at]) for number in (other.peak, other.shear))
    shape = other.counts.shape
    now_Pa, sheared_Pa = (
        float(np.broadcast_to(np.asarray(number.value), shape)[at])
        for number in (mounted.demands.peak_tension, mounted.checks.sheared)
    )

    assert peak <= now_Pa
    assert shear > sheared_Pa
    assert float(np.asarray(mounted.checks.bond_use.value)[at]) == pytest.approx(
        float(np.asarray(other.use.value)[at]), rel=1e-12
    )
