"""Robinson 1938, Palmgren 1924 and Miner 1945 (linear sums); Larson & Miller 1952 as in Callister."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.strength import rupture_laws as laws

HOUR_s = 3600.0


@pytest.mark.published
def test_linear_sum_of_three_loads() -> None:
    """Handbook example of Miner's rule: 40/15/5 minutes an hour on lives of 50000/6500/1000 h; from memory."""
    minutes = np.array([40.0, 15.0, 5.0])
    lives_h = np.array([50_000.0, 6500.0, 1000.0])
    used = laws.robinson_sum(minutes * 60, lives_h * HOUR_s)
    shares = minutes / 60 / lives_h / used

    assert used == pytest.approx(1.35128e-4, rel=1e-4)
    assert 1 / used == pytest.approx(7400.38, rel=1e-4)
    assert shares == pytest.approx([0.0987, 0.2846, 0.6167], abs=1e-4)


@pytest.mark.by_hand
def test_equivalent_time_of_three_spells() -> None:
    """Exponent 8: 1000 h at half, 10 h at full, 1 h at one and a half load: 3.906 + 10 + 25.629 h."""
    times_h = np.array([1000.0, 10.0, 1.0])
    ratio = np.array([0.5, 1.0, 1.5])

    assert np.sum(laws.equivalent_time(times_h, ratio, 1.0, 8.0)) == pytest.approx(39.535, rel=1e-4)


@pytest.mark.published
def test_larson_miller_of_s590_steel() -> None:
    """Callister, Materials Science and Engineering, design example 8.2: 24.0e3 at 1073 K is 233 h; from memory."""
    life_s = laws.larson_miller_life(24.0e3, 1073.0, 20.0)

    assert life_s / HOUR_s == pytest.approx(233.0, rel=1e-3)
    assert laws.larson_miller_parameter(life_s, 1073.0, 20.0) == pytest.approx(24.0e3, rel=1e-12)


@pytest.mark.published
def test_larson_miller_from_900_to_1100_fahrenheit() -> None:
    """9000 h at 900 °F scale to 7.63 h at 1100 °F with C = 20; common worked example, from memory."""
    parameter = laws.larson_miller_parameter(9000 * HOUR_s, (900 + 459.67) / 1.8, 20.0)
    life_s = laws.larson_miller_life(parameter, (1100 + 459.67) / 1.8, 20.0)

    assert life_s / HOUR_s == pytest.approx(7.63, rel=1e-3)
