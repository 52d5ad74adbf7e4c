"""Shigley's Mechanical Engineering Design, section 4-17, shock and impact: a weight that falls on a spring."""

from __future__ import annotations

import pytest

from staydown.retention.tether_laws import snatch_load, speed_over_slack

MASS_kg, GRAVITY_m_per_s2, STIFFNESS_N_per_m = 15.0, 9.80665, 50e3


@pytest.mark.published
@pytest.mark.parametrize(("drop_m", "peak_N"), [(0.0, 294.2), (0.1, 1368.8), (0.3, 2253.0)])
def test_falling_weight(drop_m: float, peak_N: float) -> None:
    """F = W + sqrt(W^2 + 2 W k h), from memory; the energy equation of the text: 15 kg, 50 N/mm, 0.1 %.

    No drop at all gives twice the weight.
    """
    weight_N = MASS_kg * GRAVITY_m_per_s2
    speed = speed_over_slack(weight_N, drop_m, MASS_kg)

    assert snatch_load(weight_N, STIFFNESS_N_per_m, MASS_kg, speed) == pytest.approx(peak_N, rel=1e-3)


@pytest.mark.published
def test_fall_factor_form_of_ropes() -> None:
    """W (1 + sqrt(1 + 2 EA f/W)) with k = EA/L, h = f L: EA 50 kN, f = 1 gives 3985.3 N for any length; from memory."""
    weight_N = MASS_kg * GRAVITY_m_per_s2
    for length_m in (0.4, 1.0, 3.0):
        speed = speed_over_slack(weight_N, length_m, MASS_kg)

        assert snatch_load(weight_N, 50e3 / length_m, MASS_kg, speed) == pytest.approx(3985.3, rel=1e-3)


@pytest.mark.by_hand
def test_load_that_keeps_pushing_a_moving_item() -> None:
    """d = (F + sqrt(F^2 + k m v^2))/k and k d: 300 N, 15 kg, 2 m/s, 50 N/mm give 41.16 mm and 2057.8 N, 0.1 %."""
    snatch = snatch_load(300.0, STIFFNESS_N_per_m, MASS_kg, 2.0)

    assert snatch == pytest.approx(2057.8, rel=1e-3)
    assert snatch / STIFFNESS_N_per_m == pytest.approx(41.16e-3, rel=1e-3)
