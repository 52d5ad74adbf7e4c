"""ISO 2533:1975, Standard Atmosphere: pressure and density in the troposphere."""

from __future__ import annotations

import pytest

from staydown.loads.air_laws import (
    air_conductivity,
    air_viscosity,
    dry_air_density,
    kinematic_viscosity,
    prandtl_number,
    standard_pressure,
)

DENSITY_kg_per_m3 = {
    0.0: 1.2250,
    500.0: 1.1673,
    1000.0: 1.1116,
    1500.0: 1.0581,
    2000.0: 1.0065,
    2500.0: 0.9569,
    3000.0: 0.9091,
}


@pytest.mark.published
@pytest.mark.parametrize(("altitude_m", "density"), DENSITY_kg_per_m3.items())
def test_density_of_the_standard_atmosphere(altitude_m: float, density: float) -> None:
    """Table of density against geopotential altitude, T = 288.15 - 0.0065 h; values from memory, recomputed."""
    pressure = standard_pressure(altitude_m)

    assert dry_air_density(pressure, 288.15 - 0.0065 * altitude_m) == pytest.approx(density, abs=2e-4)


@pytest.mark.published
@pytest.mark.parametrize(("altitude_m", "pressure_Pa"), [(0.0, 101325), (1500.0, 84556), (3000.0, 70109)])
def test_pressure_of_the_standard_atmosphere(altitude_m: float, pressure_Pa: float) -> None:
    """Table of pressure against geopotential altitude; values from memory, recomputed."""
    assert standard_pressure(altitude_m) == pytest.approx(pressure_Pa, abs=2)


@pytest.mark.published
@pytest.mark.parametrize(
    ("temperature_C", "density"), [(-10.0, 1.3414), (0.0, 1.2923), (15.0, 1.2250), (20.0, 1.2041)]
)
def test_dry_air_at_sea_level(temperature_C: float, density: float) -> None:
    """Ideal gas with the standard's R = 287.05287 J/(kg K) at 101 325 Pa; common table values, recomputed."""
    assert dry_air_density(101325.0, temperature_C + 273.15) == pytest.approx(density, abs=5e-4)


@pytest.mark.published
def test_viscosity_and_conductivity_at_sea_level() -> None:
    """Table at 0 m: 1.7894e-5 Pa s, 1.4607e-5 m2/s, 2.5343e-2 W/(m K); values from memory. Prandtl number 0.71."""
    viscosity, conductivity = air_viscosity(288.15), air_conductivity(288.15)

    assert viscosity == pytest.approx(1.7894e-5, rel=1e-4)
    assert kinematic_viscosity(viscosity, 1.2250) == pytest.approx(1.4607e-5, rel=1e-4)
    assert conductivity == pytest.approx(2.5343e-2, rel=1e-4)
    assert prandtl_number(viscosity, conductivity) == pytest.approx(0.71, abs=0.005)
