"""Laws of air at rest: pressure at an altitude, density, viscosity, conductivity."""

from __future__ import annotations

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

# ISO 2533:1975, Standard Atmosphere: values at sea level, lapse rate of the troposphere, gas constant of dry air
SEA_LEVEL_PRESSURE_Pa = 101325.0
SEA_LEVEL_TEMPERATURE_K = 288.15
LAPSE_RATE_K_per_m = 0.0065
BAROMETRIC_EXPONENT = 5.25588
GAS_CONSTANT_DRY_AIR = 287.05287  # J/(kg K)
SPECIFIC_HEAT_DRY_AIR = 1004.685  # J/(kg K), 7/2 of the gas constant
# ISO 2533:1975, viscosity after Sutherland and thermal conductivity; constants from memory
SUTHERLAND_FACTOR = 1.458e-6
SUTHERLAND_POWER = 1.5
SUTHERLAND_TEMPERATURE_K = 110.4
CONDUCTIVITY_FACTOR = 2.648151e-3
CONDUCTIVITY_TEMPERATURE_K = 245.4
CONDUCTIVITY_BASE = 10.0
CONDUCTIVITY_EXPONENT_K = 12.0


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


@law(
    unit="Pa s",
    equation="mu = 1.458e-6 * T**1.5 / (T + 110.4)",
    symbols={"T": "temperature_K"},
    source="Sutherland's formula as in ISO 2533:1975; constants from memory",
)
def air_viscosity(temperature_K: Value) -> Value:
    """Return the dynamic viscosity of air. [Pa s]

    Parameters
    ----------
    temperature_K : float
        Air temperature. [K]

    Examples
    --------
    >>> air_viscosity(288.15)
    1.7894e-05
    """
    return SUTHERLAND_FACTOR * temperature_K**SUTHERLAND_POWER / (temperature_K + SUTHERLAND_TEMPERATURE_K)


@law(
    unit="W/mK",
    equation="k = 2.648151e-3 * T**1.5 / (T + 245.4 * 10**(-12 / T))",
    symbols={"T": "temperature_K"},
    source="ISO 2533:1975; constants from memory",
)
def air_conductivity(temperature_K: Value) -> Value:
    """Return the thermal conductivity of air. [W/mK]

    Parameters
    ----------
    temperature_K : float
        Air temperature. [K]

    Examples
    --------
    >>> air_conductivity(288.15)
    0.025343
    """
    slip = CONDUCTIVITY_TEMPERATURE_K * CONDUCTIVITY_BASE ** (-CONDUCTIVITY_EXPONENT_K / temperature_K)
    return CONDUCTIVITY_FACTOR * temperature_K**SUTHERLAND_POWER / (temperature_K + slip)


@law(
    unit="m2/s",
    equation="nu = mu / rho",
    symbols={"mu": "viscosity_Pa_s", "rho": "air_density_kg_per_m3"},
    source="definition",
)
def kinematic_viscosity(viscosity_Pa_s: Value, air_density_kg_per_m3: Value) -> Value:
    """Return the kinematic viscosity of air. [m²/s]

    Parameters
    ----------
    viscosity_Pa_s : float
        Dynamic viscosity. [Pa s]
    air_density_kg_per_m3 : float
        Density. [kg/m³]

    Examples
    --------
    >>> kinematic_viscosity(1.7894e-5, 1.225)
    1.4607e-05
    """
    return viscosity_Pa_s / air_density_kg_per_m3


@law(
    unit="1",
    equation="Pr = 1004.685 * mu / k",
    symbols={"mu": "viscosity_Pa_s", "k": "conductivity_W_per_m_K"},
    source="definition; specific heat 7/2 of the gas constant of ISO 2533:1975",
)
def prandtl_number(viscosity_Pa_s: Value, conductivity_W_per_m_K: Value) -> Value:
    """Return the Prandtl number of air. [1]

    Parameters
    ----------
    viscosity_Pa_s : float
        Dynamic viscosity. [Pa s]
    conductivity_W_per_m_K : float
        Thermal conductivity. [W/mK]

    Examples
    --------
    >>> prandtl_number(1.7894e-5, 0.025343)
    0.7094
    """
    return SPECIFIC_HEAT_DRY_AIR * viscosity_Pa_s / conductivity_W_per_m_K
