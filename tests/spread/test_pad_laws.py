"""Laws of one pad against the pad cut into small squares."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread import pad_laws as laws

LENGTH_m, WIDTH_m, THICKNESS_m, TENSION_Pa, SHEAR_Pa = 0.08, 0.05, 1.1e-3, 1.0e6, 0.35e6
CUTS = 400


def small_squares() -> tuple[np.ndarray, np.ndarray, float]:
    """Return middles of the pad's small rectangles along and across, and the area of one."""
    along = ((np.arange(CUTS) + 0.5) / CUTS - 0.5) * LENGTH_m
    across = ((np.arange(CUTS) + 0.5) / CUTS - 0.5) * WIDTH_m
    x, y = np.meshgrid(along, across)
    return x, y, LENGTH_m * WIDTH_m / CUTS**2


@pytest.mark.independent
def test_rotation_springs_are_the_layer_added_up() -> None:
    """Moment of a bed of small springs for a turn of one radian about each axis, and none for a hinge."""
    x, y, area = small_squares()
    whole = laws.pad_area(LENGTH_m, WIDTH_m)
    pull = laws.pad_spring(TENSION_Pa, whole, THICKNESS_m)
    shear = laws.pad_spring(SHEAR_Pa, whole, THICKNESS_m)

    about_x = np.sum(TENSION_Pa / THICKNESS_m * area * y**2)
    about_y = np.sum(TENSION_Pa / THICKNESS_m * area * x**2)
    about_z = np.sum(SHEAR_Pa / THICKNESS_m * area * (x**2 + y**2))
    assert laws.tilt_spring(1.0, pull, WIDTH_m) == pytest.approx(about_x, rel=1e-4)
    assert laws.tilt_spring(1.0, pull, LENGTH_m) == pytest.approx(about_y, rel=1e-4)
    assert laws.twist_spring(1.0, shear, LENGTH_m, WIDTH_m) == pytest.approx(about_z, rel=1e-4)
    assert laws.tilt_spring(0.0, pull, WIDTH_m) == laws.twist_spring(0.0, shear, LENGTH_m, WIDTH_m) == 0.0


@pytest.mark.independent
def test_the_peak_field_carries_the_load_back() -> None:
    """The plane field whose corner is the peak sums to the pull and the moments it came from."""
    pull_N, about_x_Nm, about_y_Nm = 300.0, 4.0, -7.0
    x, y, area = small_squares()
    mean, slope_y = pull_N / (LENGTH_m * WIDTH_m), about_x_Nm / (LENGTH_m * WIDTH_m**3 / 12)
    slope_x = -about_y_Nm / (WIDTH_m * LENGTH_m**3 / 12)
    field = mean + slope_y * y + slope_x * x

    corners = [
        mean + slope_y * i * WIDTH_m / 2 + slope_x * j * LENGTH_m / 2 for i in (-1, 1) for j in (-1, 1)
    ]
    peak = laws.peak_tension(pull_N, about_x_Nm, about_y_Nm, LENGTH_m, WIDTH_m)
    assert np.sum(field) * area == pytest.approx(pull_N, rel=1e-9)
    assert np.sum(field * y) * area == pytest.approx(about_x_Nm, rel=1e-4)
    assert -np.sum(field * x) * area == pytest.approx(about_y_Nm, rel=1e-4)
    assert peak == pytest.approx(max(corners), rel=1e-12)


@pytest.mark.independent
def test_pad_moments_are_a_cross_product() -> None:
    """Pull beside and above the pad's centre: arm x force, with the sign of axes forward, left, up."""
    arm, force = np.array([0.013, -0.021, 0.045]), np.array([-80.0, 35.0, 640.0])
    own = np.array([0.5, -0.25, 0.125])

    by_laws = (
        laws.pad_moment_about_x(own[0], force[2], arm[1], arm[2], force[1]),
        laws.pad_moment_about_y(own[1], force[2], arm[0], arm[2], force[0]),
        laws.pad_moment_about_z(own[2], arm[0], arm[1], force[0], force[1]),
    )

    assert by_laws == pytest.approx(own + np.cross(arm, force), rel=1e-12)


@pytest.mark.by_hand
def test_a_pressed_pad_has_no_peak_and_no_line_load() -> None:
    """Pressing with no more moment than keeps the whole pad closed pulls nowhere; the mean stays signed."""
    assert laws.peak_tension(-400.0, 1.0, 1.0, LENGTH_m, WIDTH_m) == 0.0
    assert laws.line_load(-400.0, WIDTH_m) == 0.0
    assert laws.mean_tension(-400.0, LENGTH_m * WIDTH_m) == pytest.approx(-100e3)


@pytest.mark.independent
def test_shear_is_no_less_than_at_any_place_of_the_pad() -> None:
    """Mean plus corner twist, taken in line, covers the vector sum everywhere on the pad."""
    x, y, _ = small_squares()
    polar = LENGTH_m * WIDTH_m * (LENGTH_m**2 + WIDTH_m**2) / 12
    force_x, force_y, twist = 90.0, -40.0, 1.5
    field = np.hypot(
        force_x / (LENGTH_m * WIDTH_m) - twist * y / polar, force_y / (LENGTH_m * WIDTH_m) + twist * x / polar
    )

    shear = laws.pad_shear(force_x, force_y, twist, LENGTH_m, WIDTH_m)
    assert field.max() <= shear <= 1.2 * field.max()
