"""The heat of the sample panel's roof worked out beside the program, and what is read from its table of cases."""

from __future__ import annotations

from typing import Any

from scipy.optimize import brentq

from sample_jobs import row_of
from staydown.loads.load_case import CaseTable, exposures

SIGMA = 5.670374419e-8
AIR_K, COLD_K, SUN_W_per_m2 = 311.15, 258.15, 1000.0  # of the sample panel
EMITTANCE, NIGHT_EMITTANCE = 0.85, 0.95  # the ends that decide
DIRT = 0.10


def balance(air_K: float, sky_K: float, gain_W_per_m2: float, emittance: float, convection: float) -> float:
    """Return the steady temperature by bisection: nothing of the law's own way of solving."""

    def excess(temperature_K: float) -> float:
        out = emittance * SIGMA * (temperature_K**4 - sky_K**4) + convection * (temperature_K - air_K)
        return out - gain_W_per_m2

    return float(brentq(excess, 100.0, 900.0, xtol=1e-10))


def wind_W_per_m2_K(speed_m_per_s: float, air_K: float, length_m: float = 4.2) -> float:
    """Return the mean heat transfer of a plate at sea level, each step written out."""
    viscosity = 1.458e-6 * air_K**1.5 / (air_K + 110.4)
    conductivity = 2.648151e-3 * air_K**1.5 / (air_K + 245.4 * 10 ** (-12 / air_K))
    density = 101325.0 / (287.05287 * air_K)
    reynolds = speed_m_per_s * length_m * density / viscosity
    prandtl = 1004.685 * viscosity / conductivity
    return float((0.037 * reynolds**0.8 - 871) * prandtl ** (1 / 3) * conductivity / length_m)


def bond_K(table: CaseTable, name: str, season: str = "hot", mount: int = 0) -> float:
    """Return the bond temperature of one mount in one case."""
    return exposures(table)[row_of(table, name, season)][mount].temperature_K


def measured(**values: Any) -> dict[str, Any]:
    """Return a measurement under the item: 23 degC of air, 790 W/m2, 58 degC, no wind, unless told otherwise."""
    reading = {"place": "under item", "temperature_K": 331.15, "air_K": 296.15}
    return reading | {"sun_W_per_m2": 790.0, "wind_m_per_s": 0.0} | values
