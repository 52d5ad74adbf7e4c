"""Laws of an overlap of two sheets that stretch: where along a stiff bond its shear piles up, by load and by heat.

Places run from -1 at one end of the overlap over 0 in its middle to 1 at the other end.
"""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

VOLKERSEN = (
    "Volkersen, Luftfahrtforschung 15 (1938) 41; Shigley's Mechanical Engineering Design, 9-7; from memory"
)
GOLAND_REISSNER = "Goland & Reissner, J. Appl. Mech. 11 (1944) A17; Adams, Comyn & Wake; from memory"


@law(
    unit="N/m",
    equation="s = E * t",
    symbols={"E": "modulus_Pa", "t": "thickness_m"},
    source="definition: force in a sheet for each unit of its width and strain",
)
def sheet_stiffness(modulus_Pa: Value, thickness_m: Value) -> Value:
    """Return the stiffness of a sheet in its plane, for each unit of its width. [N/m]

    Parameters
    ----------
    modulus_Pa : float or array
        Young's modulus. [Pa]
    thickness_m : float or array
        Thickness; half of that of a sheet bonded on both faces. [m]

    Examples
    --------
    >>> sheet_stiffness(70e9, 0.002)
    1.4e8
    """
    return modulus_Pa * thickness_m


@law(
    unit="1",
    equation="u = L / 2 * sqrt(G / t * (1 / s_1 + 1 / s_2))",
    symbols={
        "L": "side_m",
        "G": "shear_modulus_Pa",
        "t": "tape_thickness_m",
        "s_1": "first_N_per_m",
        "s_2": "second_N_per_m",
    },
    source=VOLKERSEN,
)
def shear_lag(
    side_m: Value,
    shear_modulus_Pa: Value,
    tape_thickness_m: Value,
    first_N_per_m: Value,
    second_N_per_m: Value,
) -> Value:
    """Return the shear lag of an overlap: small, its shear is even; large, only its ends carry. [1]

    Parameters
    ----------
    side_m : float or array
        Length of the overlap. [m]
    shear_modulus_Pa : float or array
        Shear modulus of the bond. [Pa]
    tape_thickness_m : float or array
        Its thickness. [m]
    first_N_per_m, second_N_per_m : float or array
        Stiffness of the two sheets. [N/m]

    Examples
    --------
    >>> float(shear_lag(0.0125, 1e9, 0.2e-3, 70e9 * 1.6e-3, 70e9 * 1.6e-3))
    1.868
    """
    return (
        side_m / 2 * np.sqrt(shear_modulus_Pa / tape_thickness_m * (1 / first_N_per_m + 1 / second_N_per_m))
    )


@law(
    unit="1",
    equation="d = abs(s_1 - s_2) / (s_1 + s_2)",
    symbols={"s_1": "first_N_per_m", "s_2": "second_N_per_m"},
    source=VOLKERSEN,
)
def imbalance(first_N_per_m: Value, second_N_per_m: Value) -> Value:
    """Return how unlike the two sheets of an overlap are: 0 alike, 1 one of them cannot stretch. [1]

    Parameters
    ----------
    first_N_per_m, second_N_per_m : float or array
        Stiffness of the two sheets. [N/m]

    Examples
    --------
    >>> float(imbalance(3.0e8, 1.0e8))
    0.5
    """
    return np.abs(first_N_per_m - second_N_per_m) / (first_N_per_m + second_N_per_m)


@law(
    unit="1",
    equation="f = u * (cosh(x * u) / sinh(u) + d * sinh(x * u) / cosh(u))",
    symbols={"x": "place", "u": "lag", "d": "unlike"},
    source=VOLKERSEN,
)
def lap_shear_factor(place: Value, lag: Value, unlike: Value) -> Value:
    """Return the shear at a place of an overlap over its mean. [1]

    Parameters
    ----------
    place : float or array
        From -1 to 1, the end of the sheet that stretches more. [1]
    lag : float or array
        Shear lag of the overlap, above 0. [1]
    unlike : float or array
        Imbalance of the sheets. [1]

    Examples
    --------
    >>> float(lap_shear_factor(1.0, 1.868, 0.0))
    1.959
    """
    return lag * (np.cosh(place * lag) / np.sinh(lag) + unlike * np.sinh(place * lag) / np.cosh(lag))


@law(
    unit="Pa",
    equation="t = t_0 * sinh(x * u) / (u * cosh(u))",
    symbols={"t_0": "unrelieved_Pa", "x": "place", "u": "lag"},
    source=VOLKERSEN,
)
def lap_thermal_shear(unrelieved_Pa: Value, place: Value, lag: Value) -> Value:
    """Return the shear at a place of an overlap whose sheets grow unlike; one end with, the other against a load. [Pa]

    Parameters
    ----------
    unrelieved_Pa : float or array
        G gamma at the end, if the sheets did not give: G times mismatch times half the overlap over t. [Pa]
    place : float or array
        From -1 to 1. [1]
    lag : float or array
        Shear lag of the overlap, above 0. [1]

    Examples
    --------
    >>> float(lap_thermal_shear(1.0e6, 1.0, 2.0)), float(lap_thermal_shear(1.0e6, -1.0, 2.0))
    (482013.8, -482013.8)
    """
    return unrelieved_Pa * np.sinh(place * lag) / (lag * np.cosh(lag))


@law(
    unit="1",
    equation="v = L / (2 * h) * sqrt(3 * (1 - n**2) / 2 * p / (E * h))",
    symbols={
        "L": "side_m",
        "h": "thickness_m",
        "n": "poisson",
        "p": "line_load_N_per_m",
        "E": "modulus_Pa",
    },
    source=GOLAND_REISSNER,
)
def lap_bending_number(
    side_m: Value, thickness_m: Value, poisson: Value, line_load_N_per_m: Value, modulus_Pa: Value
) -> Value:
    """Return how far a single overlap turns into line with its load: 0 not at all. [1]

    Parameters
    ----------
    side_m, thickness_m : float or array
        Length of the overlap and thickness of one of its two sheets. [m]
    poisson : float or array
        Poisson's ratio of the sheets, below 1. [1]
    line_load_N_per_m : float or array
        Force in the sheet for each unit of its width, 0 or more. [N/m]
    modulus_Pa : float or array
        Young's modulus of the sheets. [Pa]

    Examples
    --------
    >>> float(lap_bending_number(0.0125, 1.6e-3, 0.33, 1.0e5, 70e9))
    0.1350
    """
    turning = 3 * (1 - poisson**2) / 2 * line_load_N_per_m / (modulus_Pa * thickness_m)
    return side_m / (2 * thickness_m) * np.sqrt(turning)


@law(
    unit="1",
    equation="k = cosh(v) / (cosh(v) + 2 * sqrt(2) * sinh(v))",
    symbols={"v": "number"},
    source=GOLAND_REISSNER,
)
def edge_moment_factor(number: Value) -> Value:
    """Return the moment at the end of a single overlap over that of its undeformed lever. [1]

    Parameters
    ----------
    number : float or array
        Bending number of the overlap. [1]

    Examples
    --------
    >>> float(edge_moment_factor(0.0)), float(edge_moment_factor(0.1350))
    (1.0, 0.7249)
    """
    eased: Value = 2 * np.sqrt(2) * np.tanh(number)
    return 1 / (1 + eased)


@law(
    unit="1",
    equation="f = (2 * u * (1 + 3 * k) * cosh(2 * u) / sinh(2 * u) + 3 * (1 - k)) / 4",
    symbols={"u": "lag", "k": "moment_factor"},
    source=GOLAND_REISSNER + "; its beta c/t is twice the shear lag of two like sheets",
)
def bent_lap_factor(lag: Value, moment_factor: Value) -> Value:
    """Return the peak shear of a single overlap of two like sheets over its mean, bending counted. [1]

    Parameters
    ----------
    lag : float or array
        Shear lag of the overlap, above 0. [1]
    moment_factor : float or array
        Factor of the moment at its end. [1]

    Examples
    --------
    >>> float(bent_lap_factor(1.9587, 0.7250))
    3.318
    """
    stiff = 2 * lag * (1 + 3 * moment_factor) * np.cosh(2 * lag) / np.sinh(2 * lag)
    return (stiff + 3 * (1 - moment_factor)) / 4


@law(
    unit="N/m",
    equation="p = t * L",
    symbols={"t": "shear_Pa", "L": "side_m"},
    source="statics: what the overlap hands over, for each unit of its width",
)
def lap_line_load(shear_Pa: Value, side_m: Value) -> Value:
    """Return the force that an overlap hands from sheet to sheet, for each unit of its width. [N/m]

    Parameters
    ----------
    shear_Pa : float or array
        Mean shear. [Pa]
    side_m : float or array
        Length of the overlap. [m]

    Examples
    --------
    >>> lap_line_load(20e3, 0.05)
    1000.0
    """
    return shear_Pa * side_m


@law(
    unit="Pa",
    equation="t = f * t_m",
    symbols={"f": "peak_factor", "t_m": "shear_Pa"},
    source="definition: peak over mean",
)
def peak_shear(peak_factor: Value, shear_Pa: Value) -> Value:
    """Return the shear at a place of an overlap from its mean. [Pa]

    Parameters
    ----------
    peak_factor : float or array
        Shear there over the mean. [1]
    shear_Pa : float or array
        Mean shear. [Pa]

    Examples
    --------
    >>> peak_shear(1.959, 20e3)
    39180.0
    """
    return peak_factor * shear_Pa


@law(
    unit="1",
    equation="f = maximum(f_1, f_2)",
    symbols={"f_1": "stretched", "f_2": "bent"},
    source="safe side: the larger of both theories",
)
def larger_factor(stretched: Value, bent: Value) -> Value:
    """Return the larger of two peak factors. [1]

    Parameters
    ----------
    stretched, bent : float or array
        Peak over mean with sheets that stretch, and that bend too. [1]

    Examples
    --------
    >>> float(larger_factor(2.038, 3.318))
    3.318
    """
    return np.maximum(stretched, bent)
