"""Laws of two fastenings side by side: springs of a screw and of the sheet it bites into, and who takes how much."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="m",
    equation="l = h + t",
    symbols={"h": "foot_thickness_m", "t": "tape_thickness_m"},
    source="geometry",
)
def length_through(foot_thickness_m: Value, tape_thickness_m: Value) -> Value:
    """Return the length of a screw that stretches: through the foot and the tape. [m]

    Parameters
    ----------
    foot_thickness_m, tape_thickness_m : float
        Thickness of each. [m]

    Examples
    --------
    >>> length_through(5e-3, 1.1e-3)
    0.0061
    """
    return foot_thickness_m + tape_thickness_m


@law(
    unit="N/m",
    equation="k = E * A / l",
    symbols={"E": "modulus_Pa", "A": "stress_area_m2", "l": "length_m"},
    source="strength of materials, bar in tension",
)
def screw_spring(modulus_Pa: Value, stress_area_m2: Value, length_m: Value) -> Value:
    """Return the stiffness of a screw in tension. [N/m]

    Parameters
    ----------
    modulus_Pa : float
        Young's modulus of the screw. [Pa]
    stress_area_m2 : float
        Stress area of its thread. [m²]
    length_m : float
        Length that stretches: through foot and tape. [m]

    Examples
    --------
    >>> screw_spring(200e9, 14.2e-6, 6.1e-3)
    465573770.5
    """
    return modulus_Pa * stress_area_m2 / length_m


@law(
    unit="N/m",
    equation="k = 8 * sqrt(E_t / t * E * h**3 / (12 * (1 - 0.3**2)))",
    symbols={"E_t": "tape_modulus_Pa", "t": "tape_thickness_m", "E": "modulus_Pa", "h": "sheet_thickness_m"},
    source="Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: wide plate on an elastic foundation under a "
    "point load, w = P / (8 sqrt(k D)), here the tape is the foundation; Poisson's ratio 0.3; from memory",
)
def sheet_spring(
    tape_modulus_Pa: Value, tape_thickness_m: Value, modulus_Pa: Value, sheet_thickness_m: Value
) -> Value:
    """Return the stiffness with which a sheet, bonded to a stiff foot, follows a screw that pulls at one point. [N/m]

    Parameters
    ----------
    tape_modulus_Pa : float
        Tension modulus of the tape. [Pa]
    tape_thickness_m : float
        Thickness of the tape. [m]
    modulus_Pa : float
        Young's modulus of the sheet. [Pa]
    sheet_thickness_m : float
        Thickness of the sheet. [m]

    Examples
    --------
    >>> float(sheet_spring(1e6, 1.1e-3, 210e9, 0.7e-3))
    619496.8
    """
    bending = modulus_Pa * sheet_thickness_m**3 / (12 * (1 - 0.3**2))
    return 8 * np.sqrt(tape_modulus_Pa / tape_thickness_m * bending)


@law(
    unit="N/m",
    equation="k = 1 / (1 / k_1 + 1 / k_2)",
    symbols={"k_1": "first_N_per_m", "k_2": "second_N_per_m"},
    source="statics: springs one behind the other",
)
def spring_in_series(first_N_per_m: Value, second_N_per_m: Value) -> Value:
    """Return the stiffness of two springs one behind the other. [N/m]

    Parameters
    ----------
    first_N_per_m, second_N_per_m : float
        Stiffness of each. [N/m]

    Examples
    --------
    >>> spring_in_series(3e6, 6e6)
    2000000.0
    """
    return 1 / (1 / first_N_per_m + 1 / second_N_per_m)


@law(
    unit="1",
    equation="x = k / (k + K)",
    symbols={"k": "own_N_per_m", "K": "other_N_per_m"},
    source="statics: springs side by side share by stiffness",
)
def share_by_stiffness(own_N_per_m: Value, other_N_per_m: Value) -> Value:
    """Return the share of a pull that one of two springs side by side takes. [1]

    Parameters
    ----------
    own_N_per_m, other_N_per_m : float
        Stiffness of the one, of the other. [N/m]

    Examples
    --------
    >>> share_by_stiffness(9e6, 1e6)
    0.9
    """
    return own_N_per_m / (own_N_per_m + other_N_per_m)


@law(
    unit="N",
    equation="F = minimum(F_1 / x, F_2 / (1 - x))",
    symbols={"F_1": "first_N", "F_2": "second_N", "x": "first_share"},
    source="statics: the pull at which the first of two that share by stiffness is at its strength",
)
def strength_side_by_side(first_N: Value, second_N: Value, first_share: Value) -> Value:
    """Return the pull that two fastenings side by side carry until the first of them lets go. [N]

    Parameters
    ----------
    first_N, second_N : float
        Strength of each alone. [N]
    first_share : float
        Share of the pull that the first takes, between 0 and 1. [1]

    Examples
    --------
    >>> float(strength_side_by_side(340.0, 800.0, 0.8))
    425.0
    """
    return np.minimum(first_N / first_share, second_N / (1 - first_share))
