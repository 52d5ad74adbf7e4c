"""Williams, Landel & Ferry, J. Am. Chem. Soc. 77 (1955) 3701: universal constants 17.44 and 51.6, from memory."""

from __future__ import annotations

import math

import pytest

from staydown.strength import rupture_laws as laws

C1, C2_K = 17.44, 51.6


@pytest.mark.published
@pytest.mark.parametrize(("above_K", "log_shift"), [(20.0, -4.8715), (53.0, -8.8367), (100.0, -11.504)])
def test_universal_shift(above_K: float, log_shift: float) -> None:
    """Log shift at 20, 53 and 100 K above the glass transition."""
    shift = laws.wlf_shift(243.15 + above_K, 243.15, C1, C2_K)

    assert math.log10(shift) == pytest.approx(log_shift, abs=1e-3)


@pytest.mark.published
def test_constants_50_K_above_the_transition() -> None:
    """The paper gives 8.86 and 101.6 for a reference 50 K above the transition."""
    assert laws.moved_wlf_slope(293.15, 243.15, C1, C2_K) == pytest.approx(8.86, abs=0.005)
    assert laws.moved_wlf_offset(293.15, 243.15, C2_K) == pytest.approx(101.6, abs=1e-9)


@pytest.mark.by_hand
def test_moved_constants_give_the_same_shift() -> None:
    """Shifting from 23 to 70 °C shortens life 465 times with the glass transition at -30 °C, whatever the reference."""
    direct = laws.wlf_shift(296.15, 243.15, C1, C2_K) / laws.wlf_shift(343.15, 243.15, C1, C2_K)
    slope, offset_K = (
        laws.moved_wlf_slope(296.15, 243.15, C1, C2_K),
        laws.moved_wlf_offset(296.15, 243.15, C2_K),
    )

    assert direct == pytest.approx(10 ** (11.504 - 8.8367), rel=1e-3)
    assert 1 / laws.wlf_shift(343.15, 296.15, slope, offset_K) == pytest.approx(direct, rel=1e-9)
