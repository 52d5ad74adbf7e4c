"""McAdams, Heat Transmission, after Juerges 1924: a surface in a light wind; also Duffie and Beckman. From memory."""

from __future__ import annotations

import pytest

from staydown.loads.convection_laws import light_wind_convection


@pytest.mark.published
@pytest.mark.parametrize(("wind_m_per_s", "coefficient"), [(0.0, 5.7), (1.0, 9.5), (5.0, 24.7)])
def test_light_wind(wind_m_per_s: float, coefficient: float) -> None:
    """h = 5.7 + 3.8 V up to 5 m/s: 24.7 W/m²K at 5 m/s."""
    assert light_wind_convection(wind_m_per_s) == pytest.approx(coefficient, abs=0.05)
