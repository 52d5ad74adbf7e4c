"""Laws of a foot whose pulled edge has opened: how much more it gives, and how much of its load goes elsewhere."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

HETENYI = (
    "Hetenyi, Beams on Elastic Foundation, 1946, semi-infinite beam, load and moment at its end; from memory"
)


@law(
    unit="1",
    equation="w = l / L",
    symbols={"l": "side_left_m", "L": "side_m"},
    source="definition",
)
def share_bonded(side_left_m: Value, side_m: Value) -> Value:
    """Return the share of a pad that still holds. [1]

    Parameters
    ----------
    side_left_m : float or array
        What still holds of the side along the lever. [m]
    side_m : float or array
        The whole side, above 0. [m]

    Examples
    --------
    >>> share_bonded(0.03, 0.05)
    0.6
    """
    return side_left_m / side_m


@law(
    unit="m",
    equation="a = e + s / 2",
    symbols={"e": "lever_m", "s": "opened_m"},
    source="geometry: the middle of what still holds moves away from the opened edge by half its width",
)
def lever_to_rest(lever_m: Value, opened_m: Value) -> Value:
    """Return the lever from the middle of what still holds to the line of pull. [m]

    Parameters
    ----------
    lever_m : float or array
        From the whole pad's centre, positive toward the edge that opens. [m]
    opened_m : float or array
        Width of the strip that has let go. [m]

    Examples
    --------
    >>> lever_to_rest(0.012, 0.02)
    0.022
    """
    return lever_m + opened_m / 2


@law(
    unit="1",
    equation="g = L / l * (1 + 12 * (a / l)**2) - 1 - 12 * (e / L)**2",
    symbols={"L": "side_m", "l": "side_left_m", "a": "arm_m", "e": "lever_m"},
    source="statics: a stiff foot on an elastic layer is drawn out and tilts about the middle of what holds it",
)
def more_give_stiff(side_m: Value, side_left_m: Value, arm_m: Value, lever_m: Value) -> Value:
    """Return how much more a stiff foot gives since its edge opened, over the give of the whole pad pulled evenly. [1]

    Parameters
    ----------
    side_m, side_left_m : float or array
        Side along the lever, whole and what still holds, above 0. [m]
    arm_m : float or array
        Lever to the middle of what still holds. [m]
    lever_m : float or array
        Lever to the whole pad's centre. [m]

    Examples
    --------
    >>> float(more_give_stiff(0.05, 0.05, 0.01, 0.01)), float(more_give_stiff(0.05, 0.025, 0.0125, 0.0))
    (0.0, 7.0)
    """
    whole: Value = 1 + 12 * (lever_m / side_m) ** 2
    return side_m / side_left_m * (1 + 12 * (arm_m / side_left_m) ** 2) - whole


@law(
    unit="1",
    equation="g = 2 * b * L * (2 * b * s + 2 * (b * s)**2 + 2 / 3 * (b * s)**3)",
    symbols={"b": "rate_one_per_m", "L": "side_m", "s": "opened_m"},
    source=HETENYI + "; the opened strip is a cantilever on the rest",
)
def more_give_bending(rate_one_per_m: Value, side_m: Value, opened_m: Value) -> Value:
    """Return how much more a bending foot gives at its edge since that opened, over the give of the whole pad. [1]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda of the foot. [1/m]
    side_m : float or array
        Whole side along the lever. [m]
    opened_m : float or array
        Width of the strip that has let go. [m]

    Examples
    --------
    >>> float(more_give_bending(34.66, 0.05, 0.0)), float(more_give_bending(34.66, 0.05, 0.02))
    (0.0, 8.906)
    """
    x = rate_one_per_m * opened_m
    return 2 * rate_one_per_m * side_m * (2 * x + 2 * x**2 + 2 / 3 * x**3)


@law(
    unit="1",
    equation="g = where(b > 0, minimum(g_s, g_b), g_s)",
    symbols={"b": "rate_one_per_m", "g_s": "stiff", "g_b": "bending"},
    source="safe side: a foot that gives less keeps more of the load",
)
def give_that_counts(rate_one_per_m: Value, stiff: Value, bending: Value) -> Value:
    """Return how much more an opened foot gives: of a bending one the lesser of both, which relieves it less. [1]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda that counts, 0 for a stiff foot. [1/m]
    stiff, bending : float or array
        More give as a stiff plate and as a bending one. [1]

    Examples
    --------
    >>> float(give_that_counts(0.0, 7.0, 5.0)), float(give_that_counts(34.66, 7.0, 5.0))
    (7.0, 5.0)
    """
    return np.where(np.asarray(rate_one_per_m) > 0.0, np.minimum(stiff, bending), stiff)


@law(
    unit="N/m",
    equation="k_p = 1 / (1 / k_0 - 1 / k_s)",
    symbols={"k_0": "whole_spring_N_per_m", "k_s": "skin_spring_N_per_m"},
    source="statics, springs one behind the other: the roof's skin taken off",
)
def pad_of_foot(whole_spring_N_per_m: Value, skin_spring_N_per_m: Value) -> Value:
    """Return the stiffness against pull of the tape alone under a whole foot. [N/m]

    Parameters
    ----------
    whole_spring_N_per_m : float or array
        Of tape and skin one behind the other. [N/m]
    skin_spring_N_per_m : float or array
        Of the roof's skin, infinite on a rib, larger than both together. [N/m]

    Examples
    --------
    >>> pad_of_foot(1.0e6, 2.0e6)
    2000000.0
    """
    return 1 / (1 / whole_spring_N_per_m - 1 / skin_spring_N_per_m)


@law(
    unit="N/m",
    equation="k = 1 / (1 / k_0 + g / k_p)",
    symbols={"k_0": "whole_spring_N_per_m", "k_p": "pad_spring_N_per_m", "g": "more_give"},
    source="statics, springs one behind the other: roof and whole pad, then what the opening adds",
)
def spring_of_opened(whole_spring_N_per_m: Value, pad_spring_N_per_m: Value, more_give: Value) -> Value:
    """Return the stiffness against pull of a foot whose edge has opened. [N/m]

    Parameters
    ----------
    whole_spring_N_per_m : float or array
        Of the whole foot, the roof's skin included, above 0. [N/m]
    pad_spring_N_per_m : float or array
        Of the tape under the whole pad alone, above 0. [N/m]
    more_give : float or array
        How much more it gives, over the give of the whole pad, 0 or more. [1]

    Examples
    --------
    >>> spring_of_opened(1.0e6, 1.0e6, 3.0)
    250000.0
    """
    return 1 / (1 / whole_spring_N_per_m + more_give / pad_spring_N_per_m)


@law(
    unit="N",
    equation="H = N_0 - N",
    symbols={"N_0": "whole_pull_N", "N": "pull_N"},
    source="definition",
)
def pull_handed_on(whole_pull_N: Value, pull_N: Value) -> Value:
    """Return the pull that a foot has handed on to the other mounts since its edge opened. [N]

    Parameters
    ----------
    whole_pull_N, pull_N : float or array
        Pull on it while it was whole, and now. [N]

    Examples
    --------
    >>> pull_handed_on(150.0, 90.0)
    60.0
    """
    return whole_pull_N - pull_N


@law(
    unit="Nm",
    equation="M = c * m",
    symbols={"c": "toward", "m": "pry_Nm"},
    source="definition: the moment counts for the edge that opens",
)
def pry_at_opened_edge(toward: Value, pry_Nm: Value) -> Value:
    """Return the moment that pries the edge that opens, below 0 where it presses it. [N m]

    Parameters
    ----------
    toward : float or array
        1 where the front or left edge opens, -1 where the rear or right one. [1]
    pry_Nm : float or array
        Moment about the whole pad's centre, positive where it pries the front or left edge. [N m]

    Examples
    --------
    >>> pry_at_opened_edge(-1.0, -3.0)
    3.0
    """
    return toward * pry_Nm


@law(
    unit="Nm",
    equation="M = maximum(m, M_e)",
    symbols={"m": "pry_Nm", "M_e": "edge_pull_Nm"},
    source="safe side: a foot that bends is taken as pulled at its edge, wherever its lever says",
)
def larger_moment(pry_Nm: Value, edge_pull_Nm: Value) -> Value:
    """Return the moment that bends a foot which bends: its own, at least that of a pull at its edge. [N m]

    Parameters
    ----------
    pry_Nm : float or array
        Moment about the whole pad's centre that pries the edge. [N m]
    edge_pull_Nm : float or array
        Moment of the same pull if it acted at that edge. [N m]

    Examples
    --------
    >>> float(larger_moment(1.0, 2.5))
    2.5
    """
    return np.maximum(pry_Nm, edge_pull_Nm)
