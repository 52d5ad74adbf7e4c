"""Shigley's Mechanical Engineering Design: bolt groups under eccentric shear."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread.rigid import reactions


@pytest.mark.published
def test_eccentric_shear_of_four_bolts() -> None:
    """Example 8-7 (its number differs by edition): 16 kN at 425 mm from four bolts on 150 x 120 mm.

    The book prints 21.0 and 14.8 kN (from memory); 20.97 and 14.79 by its own steps: r = 96.05 mm,
    primary 4 kN, secondary M r / sum r^2 = 17.7 kN. Bolts carry shear only, so all springs but the two in
    the plane may be any.
    """
    position = np.array([[x, y, 0.0] for x in (0.075, -0.075) for y in (0.060, -0.060)])
    springs = np.tile([1e8, 1e8, 1e8, 0.0, 0.0, 0.0], (4, 1))
    force, moment = np.array([0.0, -16e3, 0.0]), np.array([0.0, 0.0, -16e3 * 0.425])

    on_bolts, _ = reactions(position, springs, force, moment)
    shear = np.hypot(on_bolts[:, 0], on_bolts[:, 1])

    assert shear == pytest.approx([20.97e3, 20.97e3, 14.79e3, 14.79e3], abs=50.0)
    assert np.hypot(0.075, 0.060) == pytest.approx(96.05e-3, abs=5e-6)
