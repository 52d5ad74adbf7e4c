"""Laws of moist air: the pressure of water vapour and the dew point, by the Magnus form."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

# WMO-No. 8 (2018), Annex 4.B, saturation over water, -45 to 60 degC; constants from memory
SATURATION_Pa = 611.2
MAGNUS_FACTOR = 17.62
MAGNUS_C = 243.12
ZERO_C_K = 273.15  # ISO 80000-5, exact

MAGNUS = "WMO-No. 8 (2018), Annex 4.B, Magnus form over water; constants from memory"


@law(
    unit="Pa",
    equation="p_v = U * 611.2 * exp(17.62 * (T - 273.15) / (243.12 + (T - 273.15)))",
    symbols={"U": "humidity", "T": "air_K"},
    source=MAGNUS,
)
def vapour_pressure(humidity: Value, air_K: Value) -> Value:
    """Return the pressure of the water vapour in air. [Pa]

    Parameters
    ----------
    humidity : float
        Relative humidity, above 0 to 1. [1]
    air_K : float
        Air temperature, 228 to 333 K. [K]

    Examples
    --------
    >>> float(vapour_pressure(1.0, 293.15))
    2332.6
    """
    warm = air_K - ZERO_C_K
    return humidity * SATURATION_Pa * np.exp(MAGNUS_FACTOR * warm / (MAGNUS_C + warm))


@law(
    unit="K",
    equation="T_d = 273.15 + 243.12 * log(p_v / 611.2) / (17.62 - log(p_v / 611.2))",
    symbols={"p_v": "vapour_Pa"},
    source=f"{MAGNUS}; solved for the temperature",
)
def dew_point(vapour_Pa: Value) -> Value:
    """Return the temperature at which the vapour in air is saturated. [K]

    Parameters
    ----------
    vapour_Pa : float
        Pressure of the vapour, above 0. [Pa]

    Examples
    --------
    >>> float(dew_point(0.5 * 2332.6))
    282.41
    """
    share = np.log(vapour_Pa / SATURATION_Pa)
    return ZERO_C_K + MAGNUS_C * share / (MAGNUS_FACTOR - share)


@law(
    unit="K",
    equation="m = T_s - T_d",
    symbols={"T_s": "surface_K", "T_d": "dew_point_K"},
    source="definition",
)
def dew_margin(surface_K: Value, dew_point_K: Value) -> Value:
    """Return how much warmer a surface is than the dew point. [K]

    Parameters
    ----------
    surface_K, dew_point_K : float
        Temperatures. [K]

    Examples
    --------
    >>> dew_margin(291.15, 282.41)
    8.74
    """
    return surface_K - dew_point_K
