"""The free item: motions that do not bend it, its columns eliminated, its frame in twist."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread.flexible import free_flexibility, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness, assemble, give, twist_bars

GRID = Grid(along=Line(side_m=1.3, cells=5), across=Line(side_m=0.7, cells=4))
FRAMED = Stiffness(laminate_Nm=200.0, poisson=0.25, frame_N_m2=1400.0, frame_twist_N_m2=70.0)


@pytest.mark.independent
def test_a_rigid_motion_bends_nothing() -> None:
    """Lifting and turning as a whole needs no force, and twists no profile."""
    matrix = assemble(GRID, FRAMED).dense()

    assert np.abs(matrix @ GRID.rigid()).max() < 1e-12 * np.abs(matrix).max()
    assert np.abs(twist_bars(GRID).T @ GRID.rigid()).max() < 1e-12
    assert np.linalg.eigvalsh(matrix)[2:4] == pytest.approx([0.0, np.linalg.eigvalsh(matrix)[3]], abs=1e-9)


@pytest.mark.independent
def test_eliminated_columns_equal_one_solve() -> None:
    """Column by column the shape is that of one dense solve with the corner held."""
    columns = assemble(GRID, FRAMED)
    loads = np.random.default_rng(3).normal(size=(GRID.unknowns, 4))
    free = np.setdiff1d(np.arange(GRID.unknowns), [0, 1, GRID.across.unknowns])

    moved = give(columns, loads)

    assert moved[free] == pytest.approx(np.linalg.solve(columns.dense()[np.ix_(free, free)], loads[free]))


@pytest.mark.by_hand
def test_a_ring_of_profiles_under_twisting_corners() -> None:
    """Corners pulled up and down in turn: each side bends in an S and twists; the formula stands in the test.

    Corner slopes from 6 EI/a (slope - chord) + 2 GJ slope/b = 0; force at a corner is the sum of two end shears.
    """
    a, b, bending, twist, lift = 1.3, 0.7, FRAMED.frame_N_m2, FRAMED.frame_twist_N_m2, 1e-3
    force = 0.0
    for side, other in ((a, b), (b, a)):
        chord = 2 * lift / side
        slope = 6 * bending / side * chord / (6 * bending / side + 2 * twist / other)
        force += 12 * bending / side**2 * (chord - slope)
    bare = Stiffness(laminate_Nm=1e-6, poisson=0.0, frame_N_m2=bending, frame_twist_N_m2=twist)
    corners = np.array([(x, y) for x in (a / 2, -a / 2) for y in (b / 2, -b / 2)])
    feet = grips(GRID, corners, np.full((4, 2), 1e-6), framed=True)
    soft = np.zeros((4, 6))
    soft[:, :3] = 1.0  # next to nothing holds it: the corners' own loads are in balance
    pull = (feet.columns[:, ::3] @ np.array([1.0, -1.0, -1.0, 1.0]))[:, None]

    flexibility = free_flexibility(GRID, bare, feet, pull, np.zeros((GRID.unknowns, 0)), corners)
    held = hold(flexibility, np.arange(4), np.concatenate([corners, np.zeros((4, 1))], axis=-1), soft, 0.0)

    assert held.lift[:, 0] * force == pytest.approx(lift * np.array([1, -1, -1, 1]), rel=1e-3)
