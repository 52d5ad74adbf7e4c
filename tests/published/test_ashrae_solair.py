"""ASHRAE Handbook Fundamentals, nonresidential cooling loads: sol-air temperature; constants from memory."""

from __future__ import annotations

import pytest

from staydown.loads.balance_laws import sol_air_temperature

SURFACE_W_per_m2_K = 17.0  # 3.0 Btu/(h ft2 F)
BTU_PER_h_ft2_F = 5.678263  # W/(m2 K), exact conversion rounded
BTU_PER_h_ft2 = 3.154591  # W/m2


@pytest.mark.published
@pytest.mark.parametrize(
    ("sun_over_surface", "celsius"), [(0.052, 80.4), (0.026, 55.7)], ids=["dark", "light"]
)
def test_horizontal_roof_in_si(sun_over_surface: float, celsius: float) -> None:
    """35 °C, 950 W/m²; absorptance over coefficient 0.052 (dark) and 0.026 (light), 4 K off toward the sky."""
    absorptance = sun_over_surface * SURFACE_W_per_m2_K
    deficit = 4.0 * SURFACE_W_per_m2_K  # emittance 1: the handbook's eps dR / ho = 4 K

    found = sol_air_temperature(308.15, absorptance, 950.0, SURFACE_W_per_m2_K, 1.0, deficit)

    assert found - 273.15 == pytest.approx(celsius, abs=0.1)


@pytest.mark.published
@pytest.mark.parametrize(
    ("sun_over_surface", "fahrenheit"), [(0.30, 178.0), (0.15, 133.0)], ids=["dark", "light"]
)
def test_horizontal_roof_in_inch_pounds(sun_over_surface: float, fahrenheit: float) -> None:
    """95 °F, 300 Btu/(h ft²); 0.30 and 0.15 h ft² F/Btu, 7 °F off."""
    absorptance = sun_over_surface * 3.0
    surface = 3.0 * BTU_PER_h_ft2_F
    deficit = 7.0 / 1.8 * surface

    found = sol_air_temperature(308.15, absorptance, 300.0 * BTU_PER_h_ft2, surface, 1.0, deficit)

    assert found * 1.8 - 459.67 == pytest.approx(fahrenheit, abs=0.1)


@pytest.mark.by_hand
def test_the_two_systems_agree() -> None:
    """0.30 h ft² F/Btu is 0.05283 m² K/W, which the handbook rounds to 0.052."""
    assert 0.30 / BTU_PER_h_ft2_F == pytest.approx(0.05283, abs=1e-5)
