"""Laws of the pull that proves without doing harm, and of the speed that leaves a margin."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="1",
    equation="k = 1 + 6 * abs(e) / b",
    symbols={"e": "lever_m", "b": "pad_side_m"},
    source="strength of materials: rigid foot, straight pull beside the middle of its pad",
)
def lever_factor(lever_m: Value, pad_side_m: Value) -> Value:
    """Return the peak over the mean tension of a pad that is pulled beside its middle. [1]

    Parameters
    ----------
    lever_m : float
        Pad's middle to the line of pull. [m]
    pad_side_m : float
        Side of the pad along the lever. [m]

    Examples
    --------
    >>> float(lever_factor(0.003, 0.0508))
    1.3543
    """
    return 1 + 6 * np.abs(lever_m) / pad_side_m


@law(
    unit="N",
    equation="R = c * A / k",
    symbols={"c": "proven_Pa", "A": "area_m2", "k": "lever_factor"},
    source="the peak of the pad reaches what is proven",
)
def foot_bound(proven_Pa: Value, area_m2: Value, lever_factor: Value) -> Value:
    """Return the straight pull at which a foot uses all that is proven. [N]

    Parameters
    ----------
    proven_Pa : float
        What is proven for the time and temperature of the pull. [Pa]
    area_m2 : float
        Area of the pad. [m²]
    lever_factor : float
        Peak over mean tension. [1]

    Examples
    --------
    >>> foot_bound(206.0e3, 3871e-6, 1.354)
    588.9
    """
    return proven_Pa * area_m2 / lever_factor


@law(
    unit="N",
    equation="F = maximum(f * F_c, F_0)",
    symbols={"f": "factor", "F_c": "cruise_N", "F_0": "least_N"},
    source="a pull that shows less than the road does shows nothing; common practice, no source",
)
def proof_pull(factor: Value, cruise_N: Value, least_N: Value) -> Value:
    """Return the pull that is worth making at a foot. [N]

    Parameters
    ----------
    factor : float
        Over the force at cruise. [1]
    cruise_N : float
        Force of the foot at cruise, no factor on the loads. [N]
    least_N : float
        Smallest pull that says something. [N]

    Examples
    --------
    >>> float(proof_pull(1.25, 194.0, 100.0))
    242.5
    """
    return np.maximum(factor * cruise_N, least_N)


@law(
    unit="N",
    equation="F_m = n * R",
    symbols={"n": "share", "R": "bound_N"},
    source="half of the bound does a good bond no harm; common practice, no source",
)
def proof_pull_limit(share: Value, bound_N: Value) -> Value:
    """Return the largest pull that does no harm. [N]

    Parameters
    ----------
    share : float
        Of the foot's bound. [1]
    bound_N : float
        Pull at which all that is proven is used. [N]

    Examples
    --------
    >>> proof_pull_limit(0.5, 588.9)
    294.45
    """
    return share * bound_N


@law(
    unit="m/s",
    equation="v = V * sqrt(1 / f)",
    symbols={"V": "air_speed_m_per_s", "f": "margin"},
    source="wind loads go with the square of the air's speed",
)
def speed_with_margin(air_speed_m_per_s: Value, margin: Value) -> Value:
    """Return the speed of the air that leaves a margin on the loads. [m/s]

    Parameters
    ----------
    air_speed_m_per_s : float
        Speed at which all that is proven is used. [m/s]
    margin : float
        Loads that would still hold over those that come. [1]

    Examples
    --------
    >>> float(speed_with_margin(60.0, 2.0))
    42.426
    """
    return air_speed_m_per_s * np.sqrt(1 / margin)
