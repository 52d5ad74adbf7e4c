"""Laws of screws: what one carries in tension, what the thread that holds it carries, what a thin sheet does."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="N",
    equation="F = R_m * A_s",
    symbols={"R_m": "tensile_strength_Pa", "A_s": "stress_area_m2"},
    source="ISO 898-1 and ISO 3506-1: least breaking force = tensile strength x stress area",
)
def screw_breaking_force(tensile_strength_Pa: Value, stress_area_m2: Value) -> Value:
    """Return the least force that breaks a screw in tension. [N]

    Parameters
    ----------
    tensile_strength_Pa : float
        Least tensile strength of its class. [Pa]
    stress_area_m2 : float
        Tensile stress area of its thread. [m²]

    Examples
    --------
    >>> screw_breaking_force(700e6, 20.1e-6)
    14070.0
    """
    return tensile_strength_Pa * stress_area_m2


@law(
    unit="N",
    equation="F = 0.6 * R_m * 0.875 * pi * d * maximum(m - 0.8 * P, 0)",
    symbols={
        "R_m": "tensile_strength_Pa",
        "d": "diameter_m",
        "m": "engagement_m",
        "P": "pitch_m",
    },
    source="VDI 2230 Part 1, 5.5.5: shear area of the nut thread pi d (m/P) (P/2 + (d - D2) tan 30 deg), with D2 = "
    "d - 0.6495 P that is 0.875 pi d m; 0.8 P of the length does not carry; shear 0.6 of tension; from memory",
)
def thread_strip_force(
    tensile_strength_Pa: Value, diameter_m: Value, engagement_m: Value, pitch_m: Value
) -> Value:
    """Return the force that strips the thread cut into a part, the screw being the stronger. [N]

    Parameters
    ----------
    tensile_strength_Pa : float
        Tensile strength of the part that has the thread. [Pa]
    diameter_m : float
        Nominal diameter of the screw. [m]
    engagement_m : float
        Length over which the threads meet. [m]
    pitch_m : float
        Pitch of the thread. [m]

    Examples
    --------
    >>> float(thread_strip_force(200e6, 6e-3, 6e-3, 1e-3))
    10291.9
    """
    return (
        0.6 * tensile_strength_Pa * 0.875 * np.pi * diameter_m * np.maximum(engagement_m - 0.8 * pitch_m, 0)
    )


@law(
    unit="N",
    equation="F = where(t < P, 0.45, 0.65) * d * t * f_u / 1.25",
    symbols={"t": "sheet_thickness_m", "P": "pitch_m", "d": "diameter_m", "f_u": "tensile_strength_Pa"},
    source="EN 1993-1-3:2006 Table 8.2, pull-out of a self-tapping screw, partial factor 1.25, screws of 3 to 8 mm; "
    "value from memory; for other sheet than steel common practice, no source",
)
def sheet_pull_out_force(
    sheet_thickness_m: Value, pitch_m: Value, diameter_m: Value, tensile_strength_Pa: Value
) -> Value:
    """Return the force that pulls a screw out of the thin sheet its own thread bites into. [N]

    Parameters
    ----------
    sheet_thickness_m : float
        Thickness of the sheet. [m]
    pitch_m : float
        Pitch of the thread. [m]
    diameter_m : float
        Nominal diameter of the screw. [m]
    tensile_strength_Pa : float
        Tensile strength of the sheet. [Pa]

    Examples
    --------
    >>> float(sheet_pull_out_force(0.7e-3, 0.8e-3, 5e-3, 270e6))
    340.2
    """
    share = np.where(np.asarray(sheet_thickness_m) < pitch_m, 0.45, 0.65)
    return share * diameter_m * sheet_thickness_m * tensile_strength_Pa / 1.25


@law(
    unit="N",
    equation="F = minimum(F_1, F_2)",
    symbols={"F_1": "screw_N", "F_2": "thread_N"},
    source="definition: what is behind one another is as strong as its weaker part",
)
def weaker_of(screw_N: Value, thread_N: Value) -> Value:
    """Return what a screw carries with the thread that holds it. [N]

    Parameters
    ----------
    screw_N : float
        Breaking force of the screw. [N]
    thread_N : float
        Force that strips the thread or pulls it out of the sheet. [N]

    Examples
    --------
    >>> float(weaker_of(14070.0, 10292.0))
    10292.0
    """
    return np.minimum(screw_N, thread_N)
