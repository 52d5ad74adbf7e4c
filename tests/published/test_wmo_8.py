"""WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B: vapour pressure, for moist air."""

from __future__ import annotations

from math import exp

import pytest

from staydown.loads.air_laws import dry_air_density


def moist_air_density(temperature_C: float, humidity: float) -> float:
    """Return density by partial pressures, e_s = 611.2 exp(17.62 t/(243.12 + t)). [kg/m³]"""
    vapour_Pa = humidity * 611.2 * exp(17.62 * temperature_C / (243.12 + temperature_C))
    kelvin = temperature_C + 273.15
    return (101325.0 - vapour_Pa) / (287.05 * kelvin) + vapour_Pa / (461.5 * kelvin)


@pytest.mark.published
@pytest.mark.parametrize(
    ("temperature_C", "humidity", "moist"),
    [(20.0, 0.50, 1.1989), (35.0, 0.60, 1.1311), (40.0, 0.30, 1.1179)],
)
def test_dry_air_is_the_safe_side(temperature_C: float, humidity: float, moist: float) -> None:
    """Moist air is lighter, by 3 % at most here, so dry air never understates a wind load; from memory, recomputed."""
    dry = dry_air_density(101325.0, temperature_C + 273.15)

    assert moist_air_density(temperature_C, humidity) == pytest.approx(moist, abs=5e-4)
    assert moist < dry < 1.03 * moist
