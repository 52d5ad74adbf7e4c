"""The classical bounds that an engineer checks by hand: tolerance bound of pulls, survivors, bound on life of falls.

Nothing is extrapolated here: a bound speaks for its own temperature and hotter tests, its own duration and longer.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import CouponGroup
from staydown.foundation.counted import counted
from staydown.foundation.exposure import Exposure
from staydown.foundation.numbers import Given, Number, Source, derive, given
from staydown.library.cards import PlanningValue
from staydown.strength import classical_laws, rupture_laws, success_run_laws, tolerance_laws

Planning = Mapping[str, PlanningValue]
SAME_TEMPERATURE_K = 5.0  # coupons within this are one condition; common practice, no source
SAME_STRESS = 0.05  # hangs within 5 % of one stress are one condition; common practice, no source
LEAST_SURVIVORS = 5  # fewer leave a reliability below 0.63 at 90 % confidence (success run)
LEAST_FOR_BOUND = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassicalBound:
    """One bound, what it was made from and what it speaks for.

    stress [Pa]; temperature_K and lasts_s of the test (a pull counts as the equal static life); survivors:
    how many held, 0 where coupons broke or fell; reliability: the share that would hold too, of survivors.
    """

    stress: Number
    made_from: str
    temperature_K: float
    lasts_s: float
    count: int
    pulled: bool
    survivors: int = 0
    reliability: Number | None = None
    median_Pa: float = float("nan")


def _clusters(coupons: Sequence[Coupon], key: Callable[[Coupon], float], width: float) -> list[list[Coupon]]:
    clusters: list[list[Coupon]] = []
    for coupon in sorted(coupons, key=key):
        if clusters and key(coupon) - key(clusters[-1][0]) <= width:
            clusters[-1].append(coupon)
        else:
            clusters.append([coupon])
    return clusters


def _sample(values: Sequence[float], what: str) -> tuple[Given, Given]:
    logs = np.log(values)
    source = Source(basis="coupons", title=what)
    return (
        Given(value=float(logs.mean()), unit="1", source=source),
        Given(value=float(logs.std(ddof=1)), unit="1", source=source),
    )


def _tolerance(values: Sequence[float], planning: Planning, content: Number, what: str) -> Number:
    mean, spread = _sample(values, what)
    factor = derive(
        tolerance_laws.tolerance_factor,
        count=given(float(len(values)), "1", "coupons", what),
        content=content,
        confidence=planning["confidence"].decided,
    )
    return derive(tolerance_laws.lower_bound_of_logs, mean_log=mean, sd_log=spread, factor=factor)


def pull_bounds(
    group: CouponGroup, planning: Planning, content: Number, slope: Number
) -> list[ClassicalBound]:
    """Return a tolerance bound for each temperature and failure face with at least three pulls.

    Faces are separate populations: where pulls of one temperature failed by several faces, the lowest face
    decides, and a face with fewer than three leaves that temperature without a bound.
    """
    bounds = []
    pulls = [c for c in group.valid if c.result == "broke" and c.stress_Pa]
    for cluster in _clusters(pulls, lambda c: c.temperature_K, SAME_TEMPERATURE_K):
        faces: dict[str, list[Coupon]] = {}
        for coupon in cluster:
            faces.setdefault(coupon.failure_pattern or "not recorded", []).append(coupon)
        if min(len(mine) for mine in faces.values()) < LEAST_FOR_BOUND:
            continue
        by_face = [_pull_bound(mine, face, planning, content, slope) for face, mine in faces.items()]
        bounds.append(min(by_face, key=lambda bound: float(bound.stress.value)))
    return bounds


def _pull_bound(
    pulls: Sequence[Coupon], face: str, planning: Planning, content: Number, slope: Number
) -> ClassicalBound:
    stresses = [c.stress_Pa for c in pulls if c.stress_Pa is not None]
    what = f"{counted(len(pulls), 'pull')}, failure face {face}: {', '.join(c.name for c in pulls)}"
    bound = derive(classical_laws.stress_of_log, log_stress=_tolerance(stresses, planning, content, what))
    shortest = given(min(c.lasted_s for c in pulls), "s", "coupons", "shortest of these pulls")
    static = derive(rupture_laws.ramp_static_life, pull_s=shortest, slope=slope)
    return ClassicalBound(
        stress=bound,
        made_from=what,
        temperature_K=min(c.temperature_K for c in pulls),
        lasts_s=float(static.value),
        count=len(pulls),
        pulled=True,
        median_Pa=float(np.exp(np.log(stresses).mean())),
    )


def hang_bounds(group: CouponGroup, planning: Planning, content: Number) -> list[ClassicalBound]:
    """Return what hang tests prove: the stress of five or more survivors, or the bound on life of falls at one stress.

    Where some of one stress and temperature fell and others still hold, the classical bound does not exist.
    """
    bounds = []
    hangs = [c for c in group.valid if c.result in ("fell", "holding") and c.stress_Pa]
    for warm in _clusters(hangs, lambda c: c.temperature_K, SAME_TEMPERATURE_K):
        for cluster in _clusters(warm, lambda c: float(np.log(c.stress_Pa or 1.0)), SAME_STRESS):
            results = {c.result for c in cluster}
            lowest = min(c.stress_Pa for c in cluster if c.stress_Pa is not None)
            names = ", ".join(c.name for c in cluster)
            temperature = min(c.temperature_K for c in cluster)
            if results == {"holding"} and len(cluster) >= LEAST_SURVIVORS:
                what = f"{counted(len(cluster), 'hang')}, all held: {names}"
                # one that was hung a minute ago must not shorten what the others have shown
                held_s = sorted(c.lasted_s for c in cluster)[-LEAST_SURVIVORS]
                survivors = sum(c.lasted_s >= held_s for c in cluster)
                bounds.append(
                    ClassicalBound(
                        stress=given(lowest, "Pa", "coupons", what),
                        made_from=what,
                        temperature_K=temperature,
                        lasts_s=held_s,
                        count=survivors,
                        pulled=False,
                        survivors=survivors,
                        reliability=_success_run(survivors, what, planning),
                    )
                )
            elif results == {"fell"} and len(cluster) >= LEAST_FOR_BOUND:
                what = f"{counted(len(cluster), 'hang')}, all fell: {names}"
                log_life = _tolerance([c.found_s or c.lasted_s for c in cluster], planning, content, what)
                life = derive(classical_laws.life_of_log, log_life=log_life)
                bounds.append(
                    ClassicalBound(
                        stress=given(lowest, "Pa", "coupons", what),
                        made_from=what,
                        temperature_K=temperature,
                        lasts_s=float(life.value),
                        count=len(cluster),
                        pulled=False,
                        median_Pa=lowest,
                    )
                )
    return bounds


def _success_run(survivors: int, what: str, planning: Planning) -> Number:
    return derive(
        success_run_laws.success_run_reliability,
        count=given(float(survivors), "1", "coupons", what),
        confidence=planning["success_confidence"].decided,
    )


def speaks_for(bound: ClassicalBound, exposure: Exposure, planning: Planning) -> bool:
    """Return whether a bound speaks for an exposure: warm enough, long enough.

    Pulls cover up to ten times their equal static life; hangs only what they lasted.
    """
    warm = bound.temperature_K >= exposure.temperature_K - float(planning["temperature_reach"].decided.value)
    reach = float(planning["duration_reach"].decided.value) if bound.pulled else 1.0
    return warm and bound.lasts_s * reach >= exposure.lasts_s
