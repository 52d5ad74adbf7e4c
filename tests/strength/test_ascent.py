"""Newton's ascent on functions whose peak is known."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.strength.ascent import ascend


@pytest.mark.by_hand
def test_peak_and_curvature_of_a_parabola() -> None:
    """-(x-1)² - 2 (y+3)² - (x-1)(y+3): peak at (1, -3), curvature (2, 1; 1, 4)."""

    def parabola(z: np.ndarray) -> np.ndarray:
        x, y = z[:, 0] - 1.0, z[:, 1] + 3.0
        return -(x**2) - 2 * y**2 - x * y

    z, curvature, value = ascend(
        parabola,
        np.array([9.0, 9.0]),
        np.full(2, 0.01),
        rounds=50,
        close=1e-12,
        least_curvature=1e-9,
        longest=1e4,
    )

    assert z == pytest.approx([1.0, -3.0], abs=1e-6)
    assert curvature == pytest.approx(np.array([[2.0, 1.0], [1.0, 4.0]]), rel=1e-6)
    assert value == pytest.approx(0.0, abs=1e-10)


@pytest.mark.by_hand
def test_a_long_flat_start_is_climbed() -> None:
    """log of a logistic-like bump far away: reached although the start is nearly flat."""

    def bump(z: np.ndarray) -> np.ndarray:
        return -np.log(np.cosh(z[:, 0] - 40.0))

    z, _, _ = ascend(
        bump, np.array([0.0]), np.array([0.01]), rounds=200, close=1e-12, least_curvature=1e-8, longest=400.0
    )

    assert z == pytest.approx([40.0], abs=1e-4)
