"""Laws of the dwell clock: how much of its full bond a joint has after a time, and when it has enough."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

BUILD_UP = "planning band for pressure-sensitive foam tapes at room temperature; common practice, no source"
CURE_FRONT = (
    "cure with the air's moisture goes in from the edge as the root of time; common practice, no source"
)
PER_STEP_K = 10.0  # the slowing is told per 10 K


@law(
    unit="1",
    source=BUILD_UP,
    method="straight lines over the logarithm of time through the three points given; none before, full after",
)
def bond_share(
    waited_s: Value, first_s: Value, first_share: Value, most_s: Value, most_share: Value, full_s: Value
) -> Value:
    """Return the share of its full bond that a tape or a two-part adhesive has after a wait. [1]

    Parameters
    ----------
    waited_s : float
        Time at room temperature since it was pressed. [s]
    first_s, most_s, full_s : float
        Times by which it has the first share, the larger one, and all of it. [s]
    first_share, most_share : float
        Those shares. [1]

    Examples
    --------
    >>> float(bond_share(1800.0, 1800.0, 0.5, 86400.0, 0.9, 259200.0))
    0.5
    >>> float(bond_share(60.0, 1800.0, 0.5, 86400.0, 0.9, 259200.0))
    0.0
    >>> float(bond_share(259200.0, 1800.0, 0.5, 86400.0, 0.9, 259200.0))
    1.0
    """
    points = np.log(np.array([first_s, most_s, full_s], dtype=float))
    waited = np.log(np.maximum(np.asarray(waited_s, dtype=float), np.finfo(float).tiny))
    shares = np.array([first_share, most_share, 1.0], dtype=float)
    return np.asarray(np.interp(waited, points, shares, left=0.0))


@law(
    unit="s",
    source=BUILD_UP,
    method="the lines of bond_share read the other way; not a number where more than the whole is asked",
)
def wait_for_share(
    share: Value, first_s: Value, first_share: Value, most_s: Value, most_share: Value, full_s: Value
) -> Value:
    """Return the wait at room temperature after which a joint has a share of its full bond. [s]

    Parameters
    ----------
    share : float
        Share wanted. [1]
    first_s, most_s, full_s : float
        Times by which it has the first share, the larger one, and all of it. [s]
    first_share, most_share : float
        Those shares. [1]

    Examples
    --------
    >>> float(wait_for_share(0.9, 1800.0, 0.5, 86400.0, 0.9, 259200.0))
    86400.0
    """
    points = np.log(np.array([first_s, most_s, full_s], dtype=float))
    shares = np.array([first_share, most_share, 1.0], dtype=float)
    waits: Value = np.exp(np.asarray(np.interp(np.asarray(share, dtype=float), shares, points, right=np.nan)))
    return waits


@law(
    unit="1",
    equation="k = maximum(1, f**((T_r - T) / 10))",
    symbols={"f": "factor", "T_r": "room_K", "T": "bond_K"},
    source="rate that falls by a factor for each 10 K; warmth is not counted as a gain; common practice, no source",
)
def slowing(factor: Value, room_K: Value, bond_K: Value) -> Value:
    """Return how many times longer a joint needs in the cold than at room temperature, at least 1. [1]

    Parameters
    ----------
    factor : float
        Slowing for each 10 K below room temperature. [1]
    room_K, bond_K : float
        Room temperature, and the bond's while it dwells. [K]

    Examples
    --------
    >>> float(slowing(2.0, 296.15, 286.15)), float(slowing(2.0, 296.15, 306.15))
    (2.0, 1.0)
    """
    return np.maximum(1, factor ** ((room_K - bond_K) / PER_STEP_K))


@law(
    unit="s",
    equation="t = k * t_r",
    symbols={"k": "slowing", "t_r": "at_room_s"},
    source="definition of the slowing",
)
def slowed_wait(slowing: Value, at_room_s: Value) -> Value:
    """Return the wait at the bond's own temperature. [s]

    Parameters
    ----------
    slowing : float
        Times longer than at room temperature. [1]
    at_room_s : float
        Wait at room temperature. [s]

    Examples
    --------
    >>> slowed_wait(2.0, 86400.0)
    172800.0
    """
    return slowing * at_room_s


@law(
    unit="s",
    equation="t = t_d * (w / 2 / d)**2",
    symbols={"t_d": "front_s", "w": "bead_width_m", "d": "front_m"},
    source=CURE_FRONT,
)
def cure_time(front_s: Value, bead_width_m: Value, front_m: Value) -> Value:
    """Return the time until a bead that cures from both edges is cured through. [s]

    Parameters
    ----------
    front_s : float
        Time in which the cure goes in by `front_m`. [s]
    bead_width_m : float
        Width of the pressed bead. [m]
    front_m : float
        How deep it goes in that time. [m]

    Examples
    --------
    >>> cure_time(86400.0, 0.012, 0.002)
    777600.0
    """
    return front_s * (bead_width_m / 2 / front_m) ** 2


@law(
    unit="1",
    equation="n = ((v + v_h)**2 + v_c**2) / V**2",
    symbols={"v": "drive_m_per_s", "v_h": "wind_m_per_s", "v_c": "cross_m_per_s", "V": "air_speed_m_per_s"},
    source="wind loads go with the square of the air's speed",
)
def careful_share(
    drive_m_per_s: Value, wind_m_per_s: Value, cross_m_per_s: Value, air_speed_m_per_s: Value
) -> Value:
    """Return the wind loads of a careful drive over those of a case. [1]

    Parameters
    ----------
    drive_m_per_s : float
        Speed of the careful drive. [m/s]
    wind_m_per_s, cross_m_per_s : float
        Wind against it, and from the side. [m/s]
    air_speed_m_per_s : float
        Speed of the air in the case. [m/s]

    Examples
    --------
    >>> careful_share(13.9, 4.0, 0.0, 35.8)
    0.25
    """
    return ((drive_m_per_s + wind_m_per_s) ** 2 + cross_m_per_s**2) / air_speed_m_per_s**2


@law(
    unit="1",
    equation="s = n * u",
    symbols={"n": "load_share", "u": "use"},
    source="the share of its bond that a joint needs for a share of the load that uses it so far",
)
def share_needed(load_share: Value, use: Value) -> Value:
    """Return the share of its full bond that a joint needs for a careful drive. [1]

    Parameters
    ----------
    load_share : float
        Loads of the careful drive over those of the case. [1]
    use : float
        Use of what is proven in the case. [1]

    Examples
    --------
    >>> share_needed(0.25, 0.8)
    0.2
    """
    return load_share * use
