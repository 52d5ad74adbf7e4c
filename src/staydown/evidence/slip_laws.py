"""Laws of slip: how far a foot has crept, as strain of its tape, net of what goes back with temperature."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="1",
    equation="g = s / t",
    symbols={"s": "slip_m", "t": "thickness_m"},
    source="definition of shear strain",
)
def slip_strain(slip_m: Value, thickness_m: Value) -> Value:
    """Return the shear strain that a slip of a foot is. [1]

    Parameters
    ----------
    slip_m : float
        How far the foot has moved along the roof since it was marked. [m]
    thickness_m : float
        Thickness of the tape. [m]

    Examples
    --------
    >>> slip_strain(0.2e-3, 1.1e-3)
    0.1818
    """
    return slip_m / thickness_m


@law(
    unit="1",
    equation="g_n = maximum(g - g_T * abs(T - T_0) / D, 0)",
    symbols={"g": "strain", "g_T": "daily_strain", "T": "read_K", "T_0": "marked_K", "D": "span_K"},
    source="thermal movement comes and goes with temperature; in proportion to the daily strain over its span",
)
def net_strain(strain: Value, daily_strain: Value, read_K: Value, marked_K: Value, span_K: Value) -> Value:
    """Return the strain of a foot net of what goes back with temperature. [1]

    Parameters
    ----------
    strain : float
        Strain as read. [1]
    daily_strain : float
        Whole daily thermal strain of the foot, from cold to hot. [1]
    read_K, marked_K : float
        Roof temperature now, and when the mark was made. [K]
    span_K : float
        Span of temperature of the daily strain, above 0. [K]

    Examples
    --------
    >>> float(net_strain(0.15, 0.6, 303.15, 298.15, 60.0))
    0.1
    """
    return np.maximum(strain - daily_strain * np.abs(read_K - marked_K) / span_K, 0)
