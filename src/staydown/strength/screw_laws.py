"""Laws of screws: what one carries in tension."""

from __future__ import annotations

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
