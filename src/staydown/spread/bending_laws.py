"""Laws of a bending item: its field of pressure, springs in series, its bow, what changes against a rigid one."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="1",
    equation="n = 1 / (1 / 2 - abs(m)) - 2",
    symbols={"m": "centre_share"},
    source="geometry: centre of a load that thins as a power of the distance to its lee end",
)
def thinning_power(centre_share: Value) -> Value:
    """Return the power with which a pressure thins toward the lee edge: 0 even, 2 a parabola. [1]

    Parameters
    ----------
    centre_share : float or array
        Centre of pressure from the middle, over the side; less than half of it. [1]

    Examples
    --------
    >>> float(thinning_power(0.0)), float(thinning_power(0.25))
    (0.0, 2.0)
    """
    return 1 / (0.5 - np.abs(centre_share)) - 2


@law(
    unit="N/m",
    equation="k = 1 / (1 / k_1 + 1 / k_2)",
    symbols={"k_1": "pad_spring_N_per_m", "k_2": "skin_spring_N_per_m"},
    source="statics: two springs in series",
)
def spring_in_series(pad_spring_N_per_m: Value, skin_spring_N_per_m: Value) -> Value:
    """Return the stiffness of a pad on the skin that bends under it; an infinite skin is a rib. [N/m]

    Parameters
    ----------
    pad_spring_N_per_m : float or array
        Stiffness of the pad in pull, above 0. [N/m]
    skin_spring_N_per_m : float or array
        Stiffness of the skin under the foot, above 0. [N/m]

    Examples
    --------
    >>> spring_in_series(3.0e6, 6.0e6)
    2000000.0
    """
    return 1 / (1 / pad_spring_N_per_m + 1 / skin_spring_N_per_m)


@law(
    unit="Nm2",
    equation="K = s * B",
    symbols={"s": "twist_share", "B": "frame_bending_stiffness_N_m2"},
    source="definition of the share",
)
def twist_of_share(twist_share: Value, frame_bending_stiffness_N_m2: Value) -> Value:
    """Return a profile's stiffness in twist as a share of that in bending. [N m²]

    Parameters
    ----------
    twist_share : float or array
        GJ over EI, above 0. [1]
    frame_bending_stiffness_N_m2 : float or array
        EI of one profile about its horizontal axis. [N m²]

    Examples
    --------
    >>> twist_of_share(0.05, 1400.0)
    70.0
    """
    return twist_share * frame_bending_stiffness_N_m2


@law(
    unit="N",
    method="largest over the mounts, not a number where none is pulled",
    source="definition",
)
def largest_pull(pull_N: Value) -> Value:
    """Return the pull of the most pulled mount. [N]

    Parameters
    ----------
    pull_N : array
        Pull of each mount, mounts along the last axis. [N]

    Examples
    --------
    >>> float(largest_pull(np.array([40.0, -5.0]))[0])
    40.0
    """
    largest = np.max(pull_N, axis=-1, keepdims=True)
    return np.where(largest > 0, largest, np.nan)


@law(
    unit="1",
    equation="d = R / S - 1",
    symbols={"R": "bending_pull_N", "S": "rigid_pull_N"},
    source="definition",
)
def change_by_bending(bending_pull_N: Value, rigid_pull_N: Value) -> Value:
    """Return how much more the worst mount carries under a bending item than under a rigid one. [1]

    Parameters
    ----------
    bending_pull_N : float or array
        Largest pull of any mount under the bending item. [N]
    rigid_pull_N : float or array
        Largest pull of any mount under the rigid item, above 0. [N]

    Examples
    --------
    >>> change_by_bending(550.0, 500.0)
    0.1
    """
    return bending_pull_N / rigid_pull_N - 1


@law(
    unit="1",
    equation="g = maximum(0, w) / h",
    symbols={"w": "sag_m", "h": "gap_m"},
    source="definition; the clear gap between item and roof is taken as even",
)
def gap_closed(sag_m: Value, gap_m: Value) -> Value:
    """Return the share of the gap that the item's lowest point uses up; from 1 on it touches the roof. [1]

    Parameters
    ----------
    sag_m : float or array
        How far the lowest point comes down. [m]
    gap_m : float or array
        Clear gap under the item, above 0. [m]

    Examples
    --------
    >>> float(gap_closed(0.010, 0.040))
    0.25
    """
    return np.maximum(0.0, sag_m) / gap_m


@law(
    unit="1/m",
    equation="k = a * D / t",
    symbols={"a": "expansion_one_per_K", "D": "hotter_top_K", "t": "thickness_m"},
    source="Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, thermal bowing; from memory",
)
def free_curvature(expansion_one_per_K: Value, hotter_top_K: Value, thickness_m: Value) -> Value:
    """Return the curvature that an item takes when its top is hotter than its underside and nothing holds it. [1/m]

    Parameters
    ----------
    expansion_one_per_K : float or array
        Linear thermal expansion. [1/K]
    hotter_top_K : float or array
        Temperature of the top less that of the underside. [K]
    thickness_m : float or array
        Height of the item between the two, above 0. [m]

    Examples
    --------
    >>> free_curvature(24e-6, 10.0, 0.04)
    0.006
    """
    return expansion_one_per_K * hotter_top_K / thickness_m


@law(
    unit="m",
    equation="f = k * s**2 / 8",
    symbols={"k": "curvature_one_per_m", "s": "side_m"},
    source="geometry of a shallow arc",
)
def bow_of_side(curvature_one_per_m: Value, side_m: Value) -> Value:
    """Return how far the middle of a bowed side stands above the chord of its ends. [m]

    Parameters
    ----------
    curvature_one_per_m : float or array
        Curvature of the side. [1/m]
    side_m : float or array
        Length of the side. [m]

    Examples
    --------
    >>> bow_of_side(0.006, 1.5)
    0.0016875
    """
    return curvature_one_per_m * side_m**2 / 8
