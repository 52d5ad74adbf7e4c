"""WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B: vapour pressure, for moist air."""

from __future__ import annotations

from math import exp

import pytest

from staydown.loads.air_laws import dry_air_density
from staydown.making.dew_laws import dew_point, vapour_pressure


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


@pytest.mark.published
def test_vapour_is_saturated_as_the_magnus_form_says() -> None:
    """2332.6 Pa at 20 degC by WMO-No. 8, Annex 4.B; constants and value from memory, recomputed."""
    assert vapour_pressure(1.0, 293.15) == pytest.approx(2332.6, abs=0.1)
    assert vapour_pressure(1.0, 273.15) == pytest.approx(611.2, abs=1e-9)


@pytest.mark.published
@pytest.mark.parametrize(
    ("air_C", "humidity", "dew_C"), [(20.0, 0.5, 9.3), (25.0, 0.6, 16.7), (10.0, 0.9, 8.4)]
)
def test_dew_points_agree_with_tables(air_C: float, humidity: float, dew_C: float) -> None:
    """Dew points as printed on psychrometric tables, to 0.1 K; values from memory, no page."""
    dew_K = dew_point(vapour_pressure(humidity, air_C + 273.15))

    assert dew_K - 273.15 == pytest.approx(dew_C, abs=0.1)


@pytest.mark.independent
@pytest.mark.parametrize("air_K", [243.15, 268.15, 288.15, 313.15, 328.15])
def test_saturated_air_has_its_own_temperature_as_dew_point(air_K: float) -> None:
    """Limit case: at 100 % the dew point is the air's temperature, so the two laws are each other's inverse."""
    assert dew_point(vapour_pressure(1.0, air_K)) == pytest.approx(air_K, abs=1e-9)
