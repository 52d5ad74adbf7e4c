"""Builds the use of the bond in the way of joining that uses it most, where that is not the one that is reported.

What is reported is the way with the largest peak tension, as an engineer would look for it first. One with less tension
and more shear may use the bond more; that takes what is proven of both, so it is found here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Number, derive, given
from staydown.spread.build_thermal import Thermal
from staydown.spread.demands import Demands
from staydown.verdict import use_laws

_MORE = 1e-9  # of a use; less is round-off
_WHERE = "in the way of joining that uses the bond most"


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWay:
    """Peak tension and shear of the way that uses the bond most [Pa], and their use, over (case, band, mount).

    way: its index among the solutions. counts: where it uses more than the way that is reported.
    """

    peak: Number
    shear: Number
    shear_use: Number
    use: Number
    way: NDArray[np.int64]
    counts: NDArray[np.bool_]


def build_other_way(
    demands: Demands,
    thermal: Thermal,
    proven: tuple[Number, Number],
    reported: tuple[Number, Number],
) -> OtherWay | None:
    """Return the way of joining that uses the bonds more than the reported one, None where no bond is used more.

    Parameters
    ----------
    demands, thermal : Demands, Thermal
        All ways of joining; what heat adds to the shear of a rigid adhesive is the same in each.
    proven : (Number, Number)
        In tension and in shear. [Pa]
    reported : (Number, Number)
        The shear that is judged [Pa] and the use in the way that is reported [1].
    """
    if demands.ways is None or len(demands.ways.peak_Pa) < 2:
        return None
    shape = demands.ways.peak_Pa.shape[1:]
    sheared, use_now = (np.broadcast_to(np.asarray(n.value, dtype=float), shape) for n in reported)
    tension_Pa, shear_Pa = (np.broadcast_to(np.asarray(n.value, dtype=float), shape) for n in proven)
    shear = demands.ways.shear_Pa
    if thermal.rigid:
        # it piles up at the ends of the pad; heat's part stands beside it
        own = np.broadcast_to(np.asarray(demands.shear.value, dtype=float), shape)
        factor = np.broadcast_to(np.asarray(demands.lap.factor.value, dtype=float), shape)
        shear = sheared + factor * (shear - own)
    peak = np.maximum(demands.ways.peak_Pa, 0.0)
    use = np.asarray(
        use_laws.combined_use(
            use_laws.stress_use(peak, tension_Pa), use_laws.stress_use(np.maximum(shear, 0.0), shear_Pa)
        ),
        dtype=float,
    )
    use = np.where((demands.ways.peak_Pa < 0.0) | np.isnan(use), -1.0, use)
    way = use.argmax(axis=0)
    at = (way, *np.ogrid[: shape[0], : shape[1], : shape[2]])
    counts = use[at] > use_now + _MORE
    if not counts.any():
        return None
    most_peak = given(peak[at], "Pa", "calculation", f"peak tension {_WHERE}")
    most_shear = given(np.maximum(shear[at], 0.0), "Pa", "calculation", f"shear {_WHERE}")
    shear_use = derive(use_laws.stress_use, demand_Pa=most_shear, proven_Pa=proven[1])
    combined = derive(
        use_laws.combined_use,
        tension_use=derive(use_laws.stress_use, demand_Pa=most_peak, proven_Pa=proven[0]),
        shear_use=shear_use,
    )
    return OtherWay(
        peak=most_peak, shear=most_shear, shear_use=shear_use, use=combined, way=way, counts=counts
    )
