"""Lee and Ballesteros, Uniformly loaded rectangular plate supported at the corners, Int. J. Mech. Sci. 2 (1960)."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread.flexible import free_flexibility, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness
from staydown.spread.pressure_field import field


@pytest.mark.published
def test_square_plate_on_its_corners() -> None:
    """w = 0.0255 q a^4/D in the middle and 0.01775 at the middle of an edge, nu = 0.3; from memory, Ritz confirms."""
    grid = Grid(along=Line(side_m=1.0, cells=8), across=Line(side_m=1.0, cells=8))
    corners = np.array([(x, y) for x in (0.5, -0.5) for y in (0.5, -0.5)])
    points = np.array([(0.0, 0.0), (0.5, 0.0), (0.0, -0.5)])
    stiffness = Stiffness(laminate_Nm=1.0, poisson=0.3, frame_N_m2=0.0, frame_twist_N_m2=0.0)
    feet = grips(grid, corners, np.full((4, 2), 1e-6), framed=False)
    even = field(grid, 0.0, 0.0)[:, None]
    flexibility = free_flexibility(grid, stiffness, feet, even, np.zeros((grid.unknowns, 0)), points)
    springs = np.zeros((4, 6))
    springs[:, :3] = 1e6

    position = np.concatenate([corners, np.zeros((4, 1))], axis=-1)
    held = hold(flexibility, np.arange(4), position, springs, 0.0)
    load = np.array([1.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0])

    assert (held.on_mounts @ load)[:, 2] == pytest.approx(0.25)
    assert held.lift @ load == pytest.approx([0.02551, 0.01775, 0.01775], rel=5e-3)
