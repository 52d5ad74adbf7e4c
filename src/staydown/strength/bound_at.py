"""The belief's bound at one duration and temperature: its level of evidence, how far beyond the tests it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.foundation.counted import counted
from staydown.foundation.exposure import Exposure
from staydown.foundation.quantities import lasting
from staydown.strength.belief import Belief
from staydown.strength.evidence_level import Level, Reach, evidence_level, static_life_s
from staydown.strength.rupture_laws import stress_for_life
from staydown.strength.temperature_terms import temperature_term
from staydown.strength.trials import tested_stress

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoundAt:
    """Bound and median [Pa] at one point, level, reason, distance beyond the tests [K, factor], coupons behind it.

    cut: nothing fell or broke near the point, so the bound is no more than the stress that coupons survived.
    """

    stress_Pa: float
    median_Pa: float
    level: Level
    because: str
    beyond_K: float
    beyond_time: float
    coupons: int
    made_from: str
    cut: bool


def bounds_at(
    belief: Belief,
    pairs: tuple[Pair, ...],
    content: float,
    confidence: float,
    *,
    slope: float,
    coldest_K: float,
    reach: Reach,
    medians: bool = True,
) -> tuple[BoundAt, ...]:
    """Return bound, median and level of evidence at each (lasting [s], temperature [K]).

    Remembered point by point: a job is assessed again and again with the same coupons while its assumptions are
    weighed, and most of its points stay. Without `medians` they are NaN where they are not known yet.
    """
    known = _remembered(belief, content, confidence, slope, coldest_K, reach)
    missing = tuple(
        pair for pair in pairs if pair not in known or (medians and np.isnan(known[pair].median_Pa))
    )
    if missing:
        new = _bounds(belief, missing, content, confidence, slope, coldest_K, reach, medians)
        known.update(zip(missing, new, strict=True))
    return tuple(known[pair] for pair in pairs)


@lru_cache(maxsize=64)
def _remembered(*_asked: object) -> dict[Pair, BoundAt]:
    """Return the points known of one belief, share, confidence, slope, climate and reach; new ones are put in."""
    return {}


def _bounds(
    belief: Belief,
    pairs: tuple[Pair, ...],
    content: float,
    confidence: float,
    slope: float,
    coldest_K: float,
    reach: Reach,
    with_medians: bool,
) -> list[BoundAt]:
    exposures = [Exposure(lasts_s=lasts, temperature_K=warm, season="hot") for lasts, warm in pairs]
    stresses = belief.lower_bound(exposures, content, confidence)
    medians = belief.strength_quantile(pairs, 0.5, 0.5) if with_medians else np.full(len(pairs), np.nan)
    found = []
    for pair, exposure, stress, median in zip(pairs, exposures, stresses, medians, strict=True):
        told = evidence_level(belief.coupons, exposure, slope=slope, coldest_K=coldest_K, reach=reach)
        survived = _limit(belief, pair, slope, reach)
        cut = survived is not None and bool(survived < stress)
        covering = f"{counted(len(told.covering), 'coupon')} as hot and as long"
        found.append(
            BoundAt(
                stress_Pa=float(min(stress, survived)) if survived is not None else float(stress),
                median_Pa=float(median),
                level=told.level,
                because=belief.refusals[0] if belief.refusals else told.why,
                beyond_K=told.beyond_K,
                beyond_time=told.beyond_time,
                coupons=len(belief.coupons),
                made_from=f"{counted(len(belief.coupons), 'coupon')}, {covering}"
                + (f"; cut to what survived, none let go near {lasting(pair[0])}" if cut else ""),
                cut=cut,
            )
        )
    return found


def _limit(belief: Belief, pair: Pair, slope: float, reach: Reach) -> float | None:
    if let_go_near(belief.coupons, belief.coolest_K, pair, slope, reach):
        return None
    limit = survived_stress(belief, belief.coupons, pair, slope, reach)
    return limit if np.isfinite(limit) else None


def let_go_near(coupons: Sequence[Coupon], coolest_K: float, pair: Pair, slope: float, reach: Reach) -> bool:
    """Return whether a coupon fell or broke within the reach of a point in temperature and time."""
    lasts_s, temperature_K = pair[0], max(pair[1], coolest_K)
    return any(
        coupon.result in ("fell", "broke")
        and abs(coupon.temperature_K - temperature_K) <= reach.cooler_K
        and 1.0 / reach.longer <= static_life_s(coupon, slope) / lasts_s <= reach.longer
        for coupon in coupons
    )


@lru_cache(maxsize=64)
def _ends(belief: Belief) -> tuple[float, float, float, float]:
    told = belief.parameters()
    slope, energy = told["slope"], told["activation_energy_J_per_mol"]
    return slope["low_5"], slope["high_95"], energy["low_5"], energy["high_95"]


def _speaking(coupons: Sequence[Coupon], pair: Pair, slope: float, reach: Reach) -> Sequence[Coupon]:
    for cooler_K, longer in (
        (reach.cooler_K, reach.longer),
        (reach.inferred_cooler_K, reach.longer),
        (reach.cooler_K, reach.inferred_longer),
    ):
        found = [
            coupon
            for coupon in coupons
            if coupon.temperature_K >= pair[1] - cooler_K and longer * static_life_s(coupon, slope) >= pair[0]
        ]
        if len(found) >= reach.coupons:
            return found
    return ()


def survived_stress(
    belief: Belief, coupons: Sequence[Coupon], pair: Pair, slope: float, reach: Reach
) -> float:
    """Return the stress that enough coupons survived, carried to a point at the cautious ends of belief. [Pa]

    A steep slope and a small activation energy gain the least on the way to shorter and cooler, a flat slope
    and a large energy lose the most on the way to longer and hotter. Pulls survived the stress that broke them
    for their equal static life. Only coupons as hot and as long as the point count, or where too few are, those
    within the inferred reach: a pull of seconds carried to days is no survivor. NaN where too few were tested.
    """
    coupons = _speaking(coupons, pair, slope, reach)
    if len(coupons) < reach.coupons:
        return float("nan")
    flat, steep, small, large = _ends(belief)
    terms = temperature_term(
        belief.settings.temperature_law,
        np.array([max(pair[1], belief.coolest_K), *(c.temperature_K for c in coupons)]),
    )
    stresses = np.array([tested_stress(coupon) for coupon in coupons])
    lives_s = np.array([static_life_s(coupon, slope) for coupon in coupons])
    cooler = terms[0] - terms[1:]  # above zero where the point is cooler than the test
    lives_s = lives_s * 10.0 ** (np.where(cooler > 0.0, small, large) * cooler)
    carried = stress_for_life(pair[0], stresses, lives_s, np.where(lives_s > pair[0], steep, flat))
    return float(np.sort(carried)[-reach.coupons])
