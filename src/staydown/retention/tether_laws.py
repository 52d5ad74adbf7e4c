"""Laws of a tether that catches an item on which the wind goes on pushing."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

_ENERGY = "energy: work of the load over slack and stretch = energy of the stretched line"
_SHIGLEY = "Shigley, Mechanical Engineering Design, 4-17, shock and impact: " + _ENERGY


@law(
    unit="N",
    equation="F = maximum(hypot(maximum(N, 0), hypot(X, Y)), -W)",
    symbols={"N": "lift_N", "X": "along_N", "Y": "across_N", "W": "weight_N"},
    source="definition: resultant of wind and weight; at the least the item hangs on its tether",
)
def steady_load(lift_N: Value, along_N: Value, across_N: Value, weight_N: Value) -> Value:
    """Return the steady load of a tether once nothing else holds the item. [N]

    Parameters
    ----------
    lift_N : float
        Uplift less weight, positive away from the roof. [N]
    along_N, across_N : float
        Drag along and across the vehicle. [N]
    weight_N : float
        Weight as a force along z, negative. [N]

    Examples
    --------
    >>> float(steady_load(600.0, -80.0, 0.0, -73.0)), float(steady_load(-50.0, -10.0, 0.0, -73.0))
    (605.3, 73.0)
    """
    pulled = np.hypot(np.maximum(lift_N, 0), np.hypot(along_N, across_N))
    return np.maximum(pulled, -1 * weight_N)


@law(
    unit="m/s",
    equation="v = sqrt(2 * F * s / m)",
    symbols={"F": "steady_N", "s": "slack_m", "m": "mass_kg"},
    source="energy: work of a steady force over the slack = energy of motion",
)
def speed_over_slack(steady_N: Value, slack_m: Value, mass_kg: Value) -> Value:
    """Return the speed that an item has gained when the slack of its tether runs out. [m/s]

    Parameters
    ----------
    steady_N : float
        Force that drives it all the way. [N]
    slack_m : float
        Slack of the tether, 0 or more. [m]
    mass_kg : float
        Mass of the item. [kg]

    Examples
    --------
    >>> float(speed_over_slack(688.0, 0.05, 7.48))
    3.033
    """
    return np.sqrt(2 * steady_N * slack_m / mass_kg)


@law(
    unit="N",
    equation="S = F + sqrt(F**2 + k * m * v**2)",
    symbols={"F": "steady_N", "k": "stiffness_N_per_m", "m": "mass_kg", "v": "speed_m_per_s"},
    source=_SHIGLEY,
)
def snatch_load(steady_N: Value, stiffness_N_per_m: Value, mass_kg: Value, speed_m_per_s: Value) -> Value:
    """Return the peak load of a tether that stops a moving item while the load goes on pushing. [N]

    A weight that falls through the slack h is the case F = W, v = sqrt(2 g h).

    Parameters
    ----------
    steady_N : float
        Force that goes on pushing. [N]
    stiffness_N_per_m : float
        Force over stretch of the whole tether. [N/m]
    mass_kg : float
        Mass of the item. [kg]
    speed_m_per_s : float
        Its speed when the slack runs out. [m/s]

    Examples
    --------
    >>> float(snatch_load(300.0, 50e3, 15.0, 2.0))
    2057.8
    """
    return steady_N + np.sqrt(steady_N**2 + stiffness_N_per_m * mass_kg * speed_m_per_s**2)


@law(
    unit="N",
    equation="R = maximum(a * F, b * S) / e",
    symbols={"a": "steady_factor", "F": "steady_N", "b": "snatch_factor", "S": "snatch_N", "e": "kept"},
    source="ASME B30.9: design factor of slings, value from memory; the one on snatch is common practice, no source",
)
def line_strength_needed(
    steady_factor: Value, steady_N: Value, snatch_factor: Value, snatch_N: Value, kept: Value
) -> Value:
    """Return the breaking strength that the line of a tether needs, its ends counted. [N]

    Parameters
    ----------
    steady_factor, snatch_factor : float
        Strength over steady load, strength over snatch load. [1]
    steady_N, snatch_N : float
        Both loads. [N]
    kept : float
        Share of its strength that the line keeps with its ends (terminations). [1]

    Examples
    --------
    >>> float(line_strength_needed(5.0, 688.0, 2.0, 2280.0, 0.8))
    5700.0
    """
    return np.maximum(steady_factor * steady_N, snatch_factor * snatch_N) / kept


@law(
    unit="N",
    equation="A = b * S",
    symbols={"b": "snatch_factor", "S": "snatch_N"},
    source="common practice, no source: an anchor carries twice the snatch load",
)
def anchor_strength_needed(snatch_factor: Value, snatch_N: Value) -> Value:
    """Return the strength that the anchor of a tether needs. [N]

    Parameters
    ----------
    snatch_factor : float
        Strength over snatch load. [1]
    snatch_N : float
        Snatch load. [N]

    Examples
    --------
    >>> anchor_strength_needed(2.0, 2280.0)
    4560.0
    """
    return snatch_factor * snatch_N


@law(
    unit="N",
    equation="S = minimum(R * e / b, A / c)",
    symbols={
        "R": "line_strength_N",
        "e": "kept",
        "b": "line_factor",
        "A": "anchor_strength_N",
        "c": "anchor_factor",
    },
    source="definition: the weaker of line and anchor, each over its factor",
)
def snatch_allowed(
    line_strength_N: Value, kept: Value, line_factor: Value, anchor_strength_N: Value, anchor_factor: Value
) -> Value:
    """Return the largest snatch load that line and anchor may see. [N]

    Parameters
    ----------
    line_strength_N, anchor_strength_N : float
        Breaking strength of the line, strength of the anchor. [N]
    kept : float
        Share of its strength that the line keeps with its ends. [1]
    line_factor, anchor_factor : float
        Strength over snatch load. [1]

    Examples
    --------
    >>> float(snatch_allowed(9000.0, 0.8, 2.0, 4000.0, 2.0))
    2000.0
    """
    return np.minimum(line_strength_N * kept / line_factor, anchor_strength_N / anchor_factor)


@law(
    unit="m",
    equation="s = maximum(S * (S - 2 * F) / (2 * k * F), 0)",
    symbols={"S": "snatch_N", "F": "steady_N", "k": "stiffness_N_per_m"},
    source=_ENERGY + ", solved for the slack; twice the steady load is reached with no slack at all",
)
def largest_slack(snatch_N: Value, steady_N: Value, stiffness_N_per_m: Value) -> Value:
    """Return the largest slack with which a snatch load is not passed; 0 where none is small enough. [m]

    Parameters
    ----------
    snatch_N : float
        Largest snatch load allowed. [N]
    steady_N : float
        Steady load, above 0. [N]
    stiffness_N_per_m : float
        Force over stretch of the whole tether. [N/m]

    Examples
    --------
    >>> float(largest_slack(2280.0, 688.0, 30e3)), float(largest_slack(1300.0, 688.0, 30e3))
    (0.04993, 0.0)
    """
    with np.errstate(divide="ignore"):  # where nothing pulls any slack will do
        return np.maximum(snatch_N * (snatch_N - 2 * steady_N) / (2 * stiffness_N_per_m * steady_N), 0)


@law(
    unit="m",
    equation="d = gamma * t",
    symbols={"gamma": "strain", "t": "tape_thickness_m"},
    source="definition of shear strain",
)
def heat_movement(strain: Value, tape_thickness_m: Value) -> Value:
    """Return how far heat moves a pad each way: the item over the roof and the foot's own end. [m]

    Parameters
    ----------
    strain : float
        Daily shear strain of the tape each way. [1]
    tape_thickness_m : float
        Thickness of the tape. [m]

    Examples
    --------
    >>> heat_movement(0.4, 1.1e-3)
    0.00044
    """
    return strain * tape_thickness_m


@law(
    unit="m",
    equation="s = d + p",
    symbols={"d": "heat_movement_m", "p": "play_m"},
    source="definition: what moves in service must not draw the tether tight",
)
def least_slack(heat_movement_m: Value, play_m: Value) -> Value:
    """Return the least slack that leaves the item free in service. [m]

    Parameters
    ----------
    heat_movement_m : float
        Movement from heat each way. [m]
    play_m : float
        Other movement in service. [m]

    Examples
    --------
    >>> least_slack(0.0005, 0.005)
    0.0055
    """
    return heat_movement_m + play_m


@law(
    unit="1",
    equation="u = F / R",
    symbols={"F": "needed_N", "R": "strength_N"},
    source="definition: needed over given",
)
def strength_use(needed_N: Value, strength_N: Value) -> Value:
    """Return what is needed over what there is; 1 is just enough, factors are in what is needed. [1]

    Parameters
    ----------
    needed_N : float
        Strength needed. [N]
    strength_N : float
        Strength there is. [N]

    Examples
    --------
    >>> strength_use(4560.0, 6000.0)
    0.76
    """
    return needed_N / strength_N
