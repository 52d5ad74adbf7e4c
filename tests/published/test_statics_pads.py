"""Textbook statics of plates on springs and of eccentrically loaded rectangles; formulas stand in the tests."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread import pad_laws
from staydown.spread.frequency import rigid_frequencies
from staydown.spread.rigid import reactions


@pytest.mark.by_hand
def test_rigid_plate_on_four_equal_springs() -> None:
    """R = F/n + F x0 x/sum x^2 + F y0 y/sum y^2 (Blodgett's and every statics book): 100 N at (0.2, 0.1) m."""
    position = np.array([[x, y, 0.0] for x in (0.5, -0.5) for y in (0.3, -0.3)])
    springs = np.tile([3e5, 3e5, 1e6, 0.0, 0.0, 0.0], (4, 1))

    force, _ = reactions(position, springs, np.array([0.0, 0.0, 100.0]), np.array([10.0, -20.0, 0.0]))

    by_formula = 25.0 + 20.0 * position[:, 0] / (4 * 0.25) + 10.0 * position[:, 1] / (4 * 0.09)
    assert force[:, 2] == pytest.approx(by_formula, rel=1e-12)
    assert force[:, 2] == pytest.approx([43.33, 26.67, 23.33, 6.67], abs=5e-3)


@pytest.mark.by_hand
def test_pad_with_eccentric_pull() -> None:
    """Peak = (F/A)(1 + 6 e/a): 100 N at 10 mm from the centre of 50 x 50 mm gives 88.0 kPa on a mean of 40."""
    moment = pad_laws.pad_moment_about_y(0.0, 100.0, 0.010, 0.0, 0.0)

    peak = pad_laws.peak_tension(100.0, 0.0, moment, 0.05, 0.05)

    assert peak == pytest.approx(88.0e3, rel=1e-12)
    assert peak / pad_laws.mean_tension(100.0, 0.05 * 0.05) == pytest.approx(2.2, rel=1e-12)


@pytest.mark.by_hand
def test_shear_spring_and_frequency_of_four_pads() -> None:
    """k = G A/t: 0.3 MPa, 25 cm2, 1.1 mm give 6.818e5 N/m; 10 kg on four: f = sqrt(4 k/m)/2 pi = 83.1 Hz."""
    spring = pad_laws.pad_spring(0.3e6, 25e-4, 1.1e-3)

    assert spring == pytest.approx(6.818e5, rel=1e-3)
    assert np.sqrt(4 * spring / 10.0) / (2 * np.pi) == pytest.approx(83.1, rel=1e-3)
    corners = np.array([(x, y, 0.0) for x in (0.4, -0.4) for y in (0.2, -0.2)])
    springs = np.tile([spring, spring, 9.0 * spring, 0.0, 0.0, 0.0], (4, 1))
    swings = rigid_frequencies(corners, springs, 10.0, np.ones(3), 0.0)  # what `check` asks of an item
    assert swings[:2] == pytest.approx(83.1, rel=1e-3)  # sliding along and across


@pytest.mark.by_hand
def test_twist_of_a_rectangle() -> None:
    """tau = M r/J with J = b h (b^2 + h^2)/12, as for a rectangular group of welds or bolts in torsion."""
    shear = pad_laws.pad_shear(0.0, 0.0, 2.0, 0.08, 0.06)

    assert shear == pytest.approx(2.0 * 0.05 / (0.08 * 0.06 * (0.08**2 + 0.06**2) / 12), rel=1e-12)


@pytest.mark.by_hand
def test_one_of_four_feet_lost() -> None:
    """Three feet are statically determinate: lift at the quarter point gives 0.75, 0.50 and -0.25 of it.

    FR + RL + RR = F; RL + RR = 0.25 F; FR - RL + RR = 0; the springs, made unequal, have no say in it.
    """
    front, rear, left = 0.5, -0.5, 0.3
    position = np.array([[front, -left, 0.0], [rear, left, 0.0], [rear, -left, 0.0]])
    springs = np.array([[3e5, 3e5, k, 0.0, 0.0, 0.0] for k in (1e6, 2e6, 5e6)])
    lift = 688.0

    force, _ = reactions(position, springs, np.array([0.0, 0.0, lift]), np.array([0.0, -lift * 0.25, 0.0]))

    assert force[:, 2] / lift == pytest.approx([0.75, 0.50, -0.25], abs=1e-12)


@pytest.mark.by_hand
def test_rows_of_feet_under_uplift_and_drag() -> None:
    """Eight feet in four rows: F/n + M x/sum x^2 gives 393, 265, 111 and -17 N (1613 N up, 41 N drag).

    Rows at 100, 500, 980 and 1380 mm of a panel of 1480 mm; centre of pressure 0.370 m forward of its middle,
    drag 43 mm above the pads, 106.8 N of weight.
    """
    rows = np.array([0.64, 0.24, -0.24, -0.64])
    position = np.array([[x, y, 0.0] for x in rows for y in (0.3, -0.3)])
    springs = np.tile([4e5, 4e5, 1e6, 0.0, 0.0, 0.0], (8, 1))
    moment = np.array([0.0, -(1613.0 * 0.370 + 41.0 * 0.043), 0.0])

    force, _ = reactions(position, springs, np.array([0.0, 0.0, 1613.0 - 106.8]), moment)

    assert force[::2, 2] == pytest.approx([393.0, 265.0, 111.0, -17.0], abs=1.0)
    assert force[:, 2].max() / force[:, 2].mean() == pytest.approx(2.09, abs=5e-3)
