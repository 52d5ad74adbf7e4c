"""A beam over three springs by the flexibility method of structural analysis; the formula stands in the test."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread.flexible import free_flexibility, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness
from staydown.spread.pressure_field import field

SPAN_m, WIDTH_m, LOAD_N_per_m, EI_N_m2 = 0.5, 0.04, 100.0, 50.0


def pulls(spring_N_per_m: float) -> list[float]:
    """Return what a narrow plate of the beam's stiffness gives the three springs. [N]"""
    grid = Grid(along=Line(side_m=2 * SPAN_m, cells=8), across=Line(side_m=WIDTH_m, cells=2))
    places = np.array([(-SPAN_m, 0.0), (0.0, 0.0), (SPAN_m, 0.0)])
    stiffness = Stiffness(laminate_Nm=EI_N_m2 / WIDTH_m, poisson=0.0, frame_N_m2=0.0, frame_twist_N_m2=0.0)
    feet = grips(grid, places, np.tile([1e-6, WIDTH_m], (3, 1)), framed=False)
    even = field(grid, 0.0, 0.0)[:, None]
    flexibility = free_flexibility(grid, stiffness, feet, even, np.zeros((grid.unknowns, 0)), places)
    springs = np.zeros((3, 6))
    springs[:, :3] = spring_N_per_m
    springs[:, 3] = 1.0  # three springs in one line do not hold it against rolling
    held = hold(flexibility, np.arange(3), np.concatenate([places, np.zeros((3, 1))], axis=-1), springs, 0.0)
    force = LOAD_N_per_m * 2 * SPAN_m
    on = held.on_mounts @ np.array([force, 0.0, 0.0, force, 0.0, 0.0, 0.0])
    return [float(pull) for pull in on[:, 2]]


@pytest.mark.by_hand
@pytest.mark.parametrize(("spring_N_per_m", "middle", "end"), [(1e4, 54.78, 22.61), (1e3, 39.67, 30.16)])
def test_beam_on_three_equal_springs(spring_N_per_m: float, middle: float, end: float) -> None:
    """R = [5 w (2l)^4/(384 EI) + w l/k]/[(2l)^3/(48 EI) + 3/(2k)] in the middle, half of the rest at each end."""
    sag = 5 * LOAD_N_per_m * (2 * SPAN_m) ** 4 / (384 * EI_N_m2) + LOAD_N_per_m * SPAN_m / spring_N_per_m
    formula = sag / ((2 * SPAN_m) ** 3 / (48 * EI_N_m2) + 1.5 / spring_N_per_m)

    found = pulls(spring_N_per_m)

    assert formula == pytest.approx(middle, rel=1e-3)
    assert found == pytest.approx([end, formula, end], rel=1e-3)


@pytest.mark.by_hand
def test_stiff_and_soft_springs_are_the_limits() -> None:
    """On stiff springs the middle one carries 5/4 w l, on soft ones a third of the whole."""
    assert pulls(1e9)[1] == pytest.approx(1.25 * LOAD_N_per_m * SPAN_m, rel=1e-3)
    assert pulls(1.0)[1] == pytest.approx(2 / 3 * LOAD_N_per_m * SPAN_m, rel=1e-3)
