"""Charles, J. Appl. Phys. 29 (1958) 1657: constant-rate pulls on a power law of life; ASTM C1368, E1300."""

from __future__ import annotations

import pytest

from staydown.strength import rupture_laws as laws


@pytest.mark.published
def test_ramp_breaks_at_m_plus_one_static_lives() -> None:
    """A pull takes m + 1 times the static life at its breaking stress: relation of Charles, value from memory."""
    slope, rate = 8.0, 0.5
    stress = laws.ramp_breaking_stress(rate, 1.0, 1e6, slope)  # life 1e6 / stress**8
    pull_s = stress / rate

    assert stress == pytest.approx(5.4859, rel=1e-4)
    assert pull_s == pytest.approx(10.972, rel=1e-4)
    assert laws.rupture_life(stress, 1.0, 1e6, slope) == pytest.approx(1.21908, rel=1e-4)
    assert laws.ramp_static_life(pull_s, slope) == pytest.approx(1.21908, rel=1e-4)


@pytest.mark.published
def test_minute_of_pulling_at_exponent_16() -> None:
    """Exponent 16 of ASTM E1300 (value from memory): 60 s of pull stand for 60/17 s of holding."""
    assert laws.ramp_static_life(60.0, 16.0) == pytest.approx(3.529, abs=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(("short_s", "long_s", "factor"), [(3.0, 60.0, 1.2059), (60.0, 3600.0, 1.2916)])
def test_load_duration_factors_of_glass(short_s: float, long_s: float, factor: float) -> None:
    """Duration factor (t1/t2)^(1/16) of ASTM E1300, from memory."""
    short = laws.stress_for_life(short_s, 1.0, long_s, 16.0)

    assert short == pytest.approx(factor, abs=1e-4)
