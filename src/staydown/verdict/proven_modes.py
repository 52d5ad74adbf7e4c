"""Builds what several modes of coupons prove together in tension, and what a rigid adhesive is sheared by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.exposure import Mode
from staydown.foundation.numbers import Number, derive, given
from staydown.spread import lap_laws
from staydown.spread.build_lap import END, OTHER_END
from staydown.spread.build_thermal import Thermal
from staydown.spread.demands import Demands
from staydown.strength.capacity import NOTHING, ModeCapacity
from staydown.strength.trials import peak_over_mean
from staydown.verdict import use_laws

Shape = tuple[int, int, int]
NO_LEVEL = 0
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class InTension:
    """What is proven in tension [Pa], its level over (case, band, mount), and the lever coupons where they speak.

    pried_as_hard: over (case, band, mount), the lever coupons had at least the mount's peak over mean.
    """

    proven: Number
    codes: NDArray[np.int64]
    pried_as_hard: NDArray[np.bool_]


def in_tension(capacity: Mapping[Mode, ModeCapacity], demands: Demands, shape: Shape) -> InTension:
    """Return what straight pulls and pulls with a lever prove together."""
    tension, lever = capacity.get("tension"), capacity.get("cleavage")
    proven: Number = tension.proven if tension else NOTHING
    codes = np.broadcast_to(tension.codes() if tension else np.full((1, 1, 1), NO_LEVEL), shape)
    if lever is None or not lever.belief.coupons:
        return InTension(proven=proven, codes=codes, pried_as_hard=np.zeros(shape, dtype=np.bool_))
    ratio = min(peak_over_mean(coupon) for coupon in lever.belief.coupons)
    mean = np.broadcast_to(np.asarray(demands.mean_tension.value, dtype=float), shape)
    peak = np.broadcast_to(np.asarray(demands.peak_tension.value, dtype=float), shape)
    as_hard = (mean > 0.0) & (peak <= ratio * mean * (1.0 + _ROUNDING))
    told = f"1 where peak over mean is at most {ratio:.2f}, the least of the lever coupons"
    return InTension(
        proven=derive(
            use_laws.lesser_of_straight_and_lever,
            straight_Pa=proven,
            with_lever_Pa=lever.proven,
            pried_as_hard=given(as_hard.astype(float), "1", "coupons", told),
        ),
        codes=np.where(as_hard, np.maximum(codes, lever.codes()), codes),
        pried_as_hard=as_hard,
    )


def sheared_ends(demands: Demands, thermal: Thermal) -> tuple[Number, Number]:
    """Return the shear that is judged, and that at the other end of the pad. [Pa]

    A tape that gives is sheared evenly, and its thermal strain is limited by itself. A rigid adhesive keeps the
    stress of its strain, and its shear piles up at the ends: heat adds at one and takes off at the other.
    """
    if not thermal.rigid:
        return demands.shear, demands.shear
    lap = demands.lap
    ends: list[Number] = []
    for place, factor in ((END, lap.factor), (OTHER_END, lap.other)):
        by_load = derive(lap_laws.peak_shear, peak_factor=factor, shear_Pa=demands.shear)
        by_foot = derive(
            lap_laws.lap_thermal_shear, unrelieved_Pa=thermal.foot_stress, place=place, lag=lap.lag
        )
        by_heat = (
            derive(use_laws.added_shear, shear_Pa=by_foot, thermal_Pa=thermal.item_stress)
            if place is END
            else by_foot
        )
        ends.append(derive(use_laws.added_shear, shear_Pa=by_load, thermal_Pa=by_heat))
    return ends[0], ends[1]
