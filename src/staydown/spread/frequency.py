"""How an item swings on its pads: six motions of a rigid one, the lowest up-and-down motion of a bending one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from staydown.spread.flexible import grips, whole_motion
from staydown.spread.plate import Grid, Stiffness, assemble, twist_bars

Array = NDArray[np.float64]

MOTIONS = ("sliding along", "sliding across", "heaving", "rolling", "pitching", "turning")


def rigid_frequencies(
    position_m: Array, springs: Array, mass_kg: float, inertia_kg_m2: Array, height_m: float
) -> Array:
    """Return the natural frequencies of a rigid item, each by the motion that has most of it: shape (6,). [Hz]

    Parameters
    ----------
    position_m : array, shape (M, 3)
        Point of each mount's springs. [m]
    springs : array, shape (M, 6)
        Along and about x, y, z. [N/m, N m/rad]
    mass_kg : float
        Mass of the item, its centre above the middle of the plane of the pads. [kg]
    inertia_kg_m2 : array, shape (3,)
        About axes through that centre. [kg m²]
    height_m : float
        Height of that centre. [m]
    """
    motion = whole_motion(position_m)
    stiffness = np.einsum("mia,mi,mib->ab", motion, springs, motion)
    centre = whole_motion(np.array([[0.0, 0.0, height_m]]))[0]
    root = np.sqrt(np.array([mass_kg] * 3 + list(inertia_kg_m2)))
    # unknowns: motion of the mass itself, weighed by its root, so that the matrix is symmetric
    back = np.linalg.inv(centre) / root
    squares, shapes = np.linalg.eigh(back.T @ stiffness @ back)
    frequencies = np.sqrt(np.maximum(squares, 0.0)) / (2 * np.pi)
    share = shapes**2
    named = np.zeros(6)
    for _ in range(6):  # the clearest motion takes its name first
        part, mode = np.unravel_index(int(np.argmax(share)), share.shape)
        named[part] = frequencies[mode]
        share[part, :] = share[:, mode] = -1.0
    return named


def lowest_bending_frequency(
    grid: Grid,
    stiffness: Stiffness,
    framed: bool,
    feet_m: tuple[Array, Array],
    springs: Array,
    mass_kg: float,
) -> float:
    """Return the lowest natural frequency of a bending item up and down on its pads. [Hz]

    Parameters
    ----------
    feet_m : pair of arrays, shape (M, 2)
        Points of pull, and length and width of the feet. [m]
    springs : array, shape (M, 3)
        In pull, and against tilt about x and y; above 0. [N/m, N m/rad]
    mass_kg : float
        Mass of the item, spread evenly over its outline. [kg]
    """
    held = grips(grid, *feet_m, framed)
    give = np.diag(1 / springs.ravel())
    matrix = assemble(grid, stiffness).dense()
    if framed:
        give = give + held.twist / stiffness.frame_twist_N_m2
        bars = twist_bars(grid)
        lengths = np.repeat([grid.along.side_m, grid.across.side_m], 2)
        matrix += (bars * (stiffness.frame_twist_N_m2 / lengths)) @ bars.T
    matrix += held.columns @ np.linalg.solve(give, held.columns.T)
    area = grid.along.side_m * grid.across.side_m
    # the mass alone is well conditioned: its root makes the problem symmetric; it is a product of one matrix a side
    roots = [np.linalg.inv(np.linalg.cholesky(line.matrix(0, 0))) for line in (grid.along, grid.across)]
    sides = 2 * tuple(len(root) for root in roots)
    whole = np.einsum("ai,ijkl,bk->ajbl", roots[0], matrix.reshape(sides), roots[0], optimize=True)
    whole = np.einsum("cj,ajbl,dl->acbd", roots[1], whole, roots[1], optimize=True)
    whole = whole.reshape(matrix.shape) * (area / mass_kg)
    return float(np.sqrt(np.linalg.eigvalsh((whole + whole.T) / 2)[0]) / (2 * np.pi))
