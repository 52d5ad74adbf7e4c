"""Laws of still air: pressure at an altitude, density."""

from __future__ import annotations

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

# ISO 2533:1975, Standard Atmosphere: values at sea level, lapse rate of the troposphere, gas constant of dry air
SEA_LEVEL_PRESSURE_Pa = 101325.0
SEA_LEVEL_TEMPERATURE_K = 288.15
LAPSE_RATE_K_per_m = 0.0065
BAROMETRIC_EXPONENT = 5.25588
GAS_CONSTANT_DRY_AIR = 287.05287  # J/(kg K)


@law(
    unit="Pa",
    equation="p = 101325 * (1 - 0.0065 * h / 288.15)**5.25588",
    symbols={"h": "altitude_m"},
    source="ISO 2533:1975, Standard Atmosphere, troposphere",
)
def standard_pressure(altitude_m: Value) -> Value:
    """Return the air pressure at an altitude in the standard atmosphere. [Pa]

    Parameters
    ----------
    altitude_m : float
        Geopotential altitude, -2000 to 11000. [m]

    Examples
    --------
    >>> standard_pressure(1500.0)
    84556.
    """
    ratio = 1 - LAPSE_RATE_K_per_m * altitude_m / SEA_LEVEL_TEMPERATURE_K
    return SEA_LEVEL_PRESSURE_Pa * ratio**BAROMETRIC_EXPONENT


@law(
    unit="kg/m3",
    equation="rho = p / (287.05287 * T)",
    symbols={"p": "pressure_Pa", "T": "temperature_K"},
    source="ideal gas, gas constant of ISO 2533:1975; dry air is denser than moist air, so this is the safe side",
)
def dry_air_density(pressure_Pa: Value, temperature_K: Value) -> Value:
    """Return the density of dry air. [kg/m³]

    Parameters
    ----------
    pressure_Pa : float
        Air pressure. [Pa]
    temperature_K : float
        Air temperature. [K]

    Examples
    --------
    >>> dry_air_density(101325.0, 288.15)
    1.2250
    """
    return pressure_Pa / (GAS_CONSTANT_DRY_AIR * temperature_K)
