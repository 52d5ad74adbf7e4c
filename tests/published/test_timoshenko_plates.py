"""Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, Table 8: simply supported plates, nu = 0.3."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness, assemble
from staydown.spread.pressure_field import field

Array = NDArray[np.float64]


def simply_supported(length_m: float, width_m: float) -> tuple[float, float]:
    """Return deflection and larger bending moment in the middle for D = 1 N m and 1 Pa. [m, N]"""
    cells = (int(16 * length_m), int(16 * width_m))
    grid = Grid(along=Line(side_m=length_m, cells=cells[0]), across=Line(side_m=width_m, cells=cells[1]))
    columns = assemble(grid, Stiffness(laminate_Nm=1.0, poisson=0.3, frame_N_m2=0.0, frame_twist_N_m2=0.0))
    load = field(grid, 0.0, 0.0) * length_m * width_m
    shape = (cells[0] + 1, 2, cells[1] + 1, 2)
    free = np.ones(shape, dtype=bool)
    free[[0, -1], 0] = False  # lift, and slope along the edge
    free[:, :, [0, -1], 0] = False
    rows = np.flatnonzero(free.ravel())
    moved = np.zeros(grid.unknowns)
    moved[rows] = np.linalg.solve(columns.dense()[np.ix_(rows, rows)], load[rows])
    lift = moved.reshape(shape)
    middle = (cells[0] // 2, cells[1] // 2)
    return float(lift[middle[0], 0, middle[1], 0]), max(
        _curvature(lift[:, :, middle[1], 0], middle[0], grid.along)
        + 0.3 * _curvature(lift[middle[0], 0], middle[1], grid.across),
        _curvature(lift[middle[0], 0], middle[1], grid.across)
        + 0.3 * _curvature(lift[:, :, middle[1], 0], middle[0], grid.along),
    )


def _curvature(line: Array, node: int, of: Line) -> float:
    """Return the curvature that a cubic has at its start: (6 (w1 - w0) - 4 s0 - 2 s1)/h^2, turned."""
    (start, slope), (end, slope_at_end) = line[node], line[node + 1]
    return float(-(6 * (end - start) - 4 * slope - 2 * slope_at_end) / of.cell_m**2)


@pytest.mark.published
@pytest.mark.parametrize(
    ("length_m", "deflection", "moment"), [(1.0, 0.004062, 0.0479), (2.0, 0.01013, 0.1017)]
)
def test_simply_supported_plates(length_m: float, deflection: float, moment: float) -> None:
    """w = alpha q a^4/D, M = beta q a^2 with a = 1 m: square and twice as long; values from memory, within 0.5 %."""
    w, m = simply_supported(length_m, 1.0)

    assert w == pytest.approx(deflection, rel=5e-3)
    assert m == pytest.approx(moment, rel=5e-3)
