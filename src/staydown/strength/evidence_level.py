"""Is a point of time and temperature covered by tests, inferred from them, or without evidence?

Every rule only counts coupons that satisfy it, so one more coupon can never lower the level and one less never
raise it. That is also why the static life of a pull is taken with a slope that the coupons do not move.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Exposure
from staydown.strength.rupture_laws import ramp_static_life
from staydown.strength.trials import tested_stress, valid_coupons

Level = Literal["covered", "inferred", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far tests reach: planning values. coupons: how many must. [K, -]"""

    coupons: int = 3
    cooler_K: float = 10.0
    longer: float = 10.0
    inferred_cooler_K: float = 25.0
    inferred_longer: float = 100.0


REACH = Reach()


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceLevel:
    """The level, the coupons that cover the point, and how far it lies beyond them.

    beyond_K: kelvin hotter than the tests reach (or colder than the coolest test). beyond_time: factor longer
    than they reach, 1 where within. why: in words.
    """

    level: Level
    covering: tuple[str, ...]
    beyond_K: float
    beyond_time: float
    why: str


def static_life_s(coupon: Coupon, slope: float) -> float:
    """Return the time under load a coupon stands for: a pull its equal static life, a late find what was seen. [s]"""
    if coupon.result == "broke":
        return float(ramp_static_life(coupon.lasted_s, slope))
    if coupon.result == "fell" and coupon.found_s is not None:
        return min(coupon.found_s, coupon.lasted_s)
    return coupon.lasted_s


def coolest_test_K(coupons: Sequence[Coupon], reach: Reach = REACH) -> float:
    """Return the temperature that at least three valid coupons were tested at or below; the warmest where fewer. [K]"""
    temperatures = sorted(coupon.temperature_K for coupon in valid_coupons(coupons))
    return temperatures[min(reach.coupons, len(temperatures)) - 1]


def evidence_level(
    coupons: Sequence[Coupon], exposure: Exposure, *, slope: float, coldest_K: float, reach: Reach = REACH
) -> EvidenceLevel:
    """Return the level of evidence of one point.

    Parameters
    ----------
    coupons : sequence of Coupon
        Of one tape, surface and mode. Every valid one counts at every face, as a failure of it or as held.
    exposure : Exposure
        How long and how warm. [s, K]
    slope : float
        For the static life of pulls; of the class card, not of the belief. [1]
    coldest_K : float
        Coldest air of the climate. [K]
    reach : Reach
        Planning values.
    """
    valid = valid_coupons(coupons)
    if len(valid) < reach.coupons:
        return EvidenceLevel(
            level="none",
            covering=(),
            beyond_K=float("inf"),
            beyond_time=float("inf"),
            why=f"{len(valid)} valid coupon(s), {reach.coupons} are needed",
        )
    lives_s = np.array([static_life_s(coupon, slope) for coupon in valid])
    temperatures_K = np.array([coupon.temperature_K for coupon in valid])
    hotter_K = np.maximum(exposure.temperature_K - reach.cooler_K - temperatures_K, 0.0)
    longer = np.maximum(exposure.lasts_s / (reach.longer * lives_s), 1.0)
    covering = (hotter_K == 0.0) & (longer == 1.0)
    inferring = ((hotter_K <= reach.inferred_cooler_K) & (longer == 1.0)) | (
        (hotter_K == 0.0) & (longer <= reach.inferred_longer)
    )
    colder_K = max(coolest_test_K(valid, reach) - exposure.temperature_K, 0.0)
    cold_open = colder_K > 0.0 and not _cold_pulls(valid, coldest_K, reach)
    level: Level = "none"
    if covering.sum() >= reach.coupons and not cold_open:
        level = "covered"
    elif (covering.sum() >= reach.coupons and colder_K <= reach.inferred_cooler_K) or (
        inferring.sum() >= reach.coupons and not cold_open
    ):
        level = "inferred"
    # the point is as far from evidence as the third nearest coupon is
    distance = hotter_K / reach.inferred_cooler_K + np.log(longer) / np.log(reach.inferred_longer)
    third = int(np.argsort(distance, kind="stable")[reach.coupons - 1])
    return EvidenceLevel(
        level=level,
        covering=tuple(coupon.name for coupon, yes in zip(valid, covering, strict=True) if yes),
        beyond_K=float(max(hotter_K[third], colder_K if cold_open else 0.0)),
        beyond_time=float(longer[third]),
        why=_why(
            int(covering.sum()), float(hotter_K[third]), float(longer[third]), colder_K if cold_open else 0.0
        ),
    )


def _cold_pulls(valid: Sequence[Coupon], coldest_K: float, reach: Reach) -> bool:
    """Return whether enough pulls near the coldest air broke no lower than the weakest warmer pull.

    Without a warmer pull nobody can tell whether the cold made a drop.
    """
    pulls = [coupon for coupon in valid if coupon.result == "broke"]
    warm = [tested_stress(c) for c in pulls if c.temperature_K > coldest_K + reach.cooler_K]
    cold = [tested_stress(c) for c in pulls if c.temperature_K <= coldest_K + reach.cooler_K]
    return bool(warm) and sum(stress >= min(warm) for stress in cold) >= reach.coupons


def _why(covering: int, hotter_K: float, longer: float, colder_K: float) -> str:
    told = [f"{covering or 'no'} coupon{'s' if covering != 1 else ''} tested as hot and as long"]
    if hotter_K > 0.0:
        told.append(f"{hotter_K:.0f} K hotter than the tests reach")
    if longer > 1.0:
        told.append(f"{_times(longer)} times as long as the tests reach")
    if colder_K > 0.0:
        told.append(
            f"{colder_K:.0f} K colder than the coolest test, without three pulls in the cold that show no drop"
        )
    return "; ".join(told)


def _times(factor: float) -> str:
    return f"{factor:.2g}" if factor < 10.0 else f"{float(f'{factor:.2g}'):.0f}"
