"""Laws that turn what a coupon carried into the stress that counts."""

from __future__ import annotations

from staydown.foundation.law import law

BEAM = "stress under an eccentric pull, linear over the bond; any text on strength of materials"


@law(
    unit="Pa",
    equation="p = F / A * (1 + 6 * e / a)",
    symbols={"F": "load_N", "A": "area_m2", "e": "lever_m", "a": "side_m"},
    source=BEAM,
)
def lever_peak_stress(load_N: float, area_m2: float, lever_m: float, side_m: float) -> float:
    """Return the peak tension under a pull that acts beside the middle of a rectangular bond. [Pa]

    Parameters
    ----------
    load_N : float
        Pull. [N]
    area_m2 : float
        Bonded area. [m²]
    lever_m : float
        Distance from the middle of the bond to the line of pull, at least 0. [m]
    side_m : float
        Side of the bond along the lever. [m]

    Examples
    --------
    >>> lever_peak_stress(100.0, 0.0025, 0.025, 0.05)
    160000.0
    """
    return load_N / area_m2 * (1.0 + 6.0 * lever_m / side_m)
