"""The free item: a laminate as a thin plate with frame profiles on its four sides, and how it gives.

Kirchhoff's plate in the conforming element of Bogner, Fox and Schmit (1965): cubic Hermite functions along
times across, so that the stiffness is a sum of products of one-dimensional matrices. Columns of nodes across
the item are eliminated one after the other. The laminate lies in its frame as a pane in a window: it moves
with it, and does not twist it; the profiles are mitred at the corners, where one's twist is the other's slope.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.spread.hermite import Line

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """The item's outline cut into equal cells along and across."""

    along: Line
    across: Line

    @property
    def unknowns(self) -> int:
        """Return how many unknowns the plate has: value, two slopes and twist at each node."""
        return self.along.unknowns * self.across.unknowns

    def rigid(self) -> Array:
        """Return the unknowns of lifting by 1, turning about x by 1 and about y by 1: shape (n, 3)."""
        along, across = self.along, self.across
        forward = np.stack([along.nodes_m, np.full(along.cells + 1, along.cell_m)], axis=-1).ravel()
        left = np.stack([across.nodes_m, np.full(across.cells + 1, across.cell_m)], axis=-1).ravel()
        parts = [(along.even(), across.even()), (along.even(), left), (-forward, across.even())]
        return np.stack([np.kron(one, two) for one, two in parts], axis=-1)

    def bowl(self) -> Array:
        """Return the unknowns of a shape of curvature 1 both ways, its middle up: shape (n, 1). [m²]"""
        along, across = self.along, self.across
        shape = np.kron(along.parabola(), across.even()) + np.kron(along.even(), across.parabola())
        return -shape[:, None] / 2

    def lifts(self, motion: Array) -> Array:
        """Return how the nodes lift in motions of shape (n, ...): shape (nodes along, nodes across, ...)."""
        shape = (self.along.unknowns, self.across.unknowns, *motion.shape[1:])
        return motion.reshape(shape)[::2, ::2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stiffness:
    """How stiff the item is: laminate per width [N m], one profile of the frame in bending and twist [N m²]."""

    laminate_Nm: float
    poisson: float
    frame_N_m2: float
    frame_twist_N_m2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """The stiffness by columns of nodes across the item: first, inner and last, and what ties a column to the next."""

    first: Array
    inner: Array
    last: Array
    tie: Array
    count: int

    def dense(self) -> Array:
        """Return the whole matrix."""
        size = len(self.inner)
        matrix = np.zeros((self.count * size, self.count * size))
        for column in range(self.count):
            own = slice(column * size, (column + 1) * size)
            matrix[own, own] = self.block(column)
            if column + 1 < self.count:
                after = slice((column + 1) * size, (column + 2) * size)
                matrix[own, after], matrix[after, own] = self.tie, self.tie.T
        return matrix

    def block(self, column: int) -> Array:
        """Return the stiffness of one column in itself."""
        if column == 0:
            return self.first
        return self.last if column == self.count - 1 else self.inner


def assemble(grid: Grid, stiffness: Stiffness) -> Columns:
    """Return the stiffness of laminate and frame bending; the frame's twist acts at the corners, see `twist_bars`."""
    along, across = grid.along, grid.across
    size = across.unknowns
    pairs = {(a, b): (along.matrix(a, b), across.matrix(b, a)) for a, b in ((2, 0), (1, 1))}
    curved, plain = (along.matrix(2, 2), across.matrix(0, 0)), (along.matrix(0, 0), across.matrix(2, 2))
    mixed, twisted = pairs[2, 0], pairs[1, 1]
    plate, poisson = stiffness.laminate_Nm, stiffness.poisson

    def tile(rows: slice, columns: slice) -> Array:
        total = np.kron(curved[0][rows, columns], curved[1]) + np.kron(plain[0][rows, columns], plain[1])
        total += poisson * np.kron(mixed[0][rows, columns], mixed[1])
        total += poisson * np.kron(mixed[0].T[rows, columns], mixed[1].T)
        total += 2 * (1 - poisson) * np.kron(twisted[0][rows, columns], twisted[1])
        total *= plate
        # a profile on each side along the vehicle: it bends with the plate's edge
        profile = stiffness.frame_N_m2 * curved[0][rows, columns]
        for edge in (0, size - 2):
            total[edge::size, edge::size] += profile
        return total

    here, after = slice(2, 4), slice(4, 6)
    ends = [tile(end, end) for end in (slice(0, 2), slice(-2, None))]
    for end in ends:
        end[:size, :size] += stiffness.frame_N_m2 * plain[1]  # and on the sides across
    return Columns(
        first=ends[0], inner=tile(here, here), last=ends[1], tie=tile(here, after), count=along.cells + 1
    )


def give(columns: Columns, loads: Array) -> Array:
    """Return how the item moves under loads while one corner is held in place and in slope: shape (n, loads).

    Held so it is just held: under loads in balance the corner carries nothing, and the shape is the free
    item's, up to a motion that does not bend it.
    """
    size = len(columns.inner)
    held = [0, 1, size // 2]
    eliminated: list[tuple[Array, Array]] = []
    right = loads.reshape(columns.count, size, -1).copy()
    right[0, held] = 0.0
    block = columns.first.copy()
    block[held, :] = block[:, held] = 0.0
    block[held, held] = np.diagonal(columns.inner).mean()
    tie = columns.tie.copy()
    tie[held, :] = 0.0
    for column in range(columns.count - 1):
        solved = np.linalg.solve(block, np.concatenate([tie, right[column]], axis=-1))
        onward, shape = solved[:, :size], solved[:, size:]
        eliminated.append((onward, shape))
        block = columns.block(column + 1) - tie.T @ onward
        right[column + 1] -= tie.T @ shape
        tie = columns.tie
    moved = np.empty_like(right)
    moved[-1] = np.linalg.solve(block, right[-1])
    for column in range(columns.count - 2, -1, -1):
        onward, shape = eliminated[column]
        moved[column] = shape - onward @ moved[column + 1]
    return moved.reshape(len(loads), -1)


def twist_bars(grid: Grid) -> Array:
    """Return what of each unknown makes the difference of twist between the ends of each profile: shape (n, 4).

    Order: right and left side (along the vehicle), rear and front (across).
    """
    along, across = grid.along, grid.across
    end_x, end_y = _ends(along), _ends(across)
    turn_x, turn_y = _end_slopes(along), _end_slopes(across)
    sides = [np.kron(end_x[1] - end_x[0], turn_y[side]) for side in (0, 1)]
    sides += [np.kron(turn_x[side], end_y[1] - end_y[0]) for side in (0, 1)]
    return np.stack(sides, axis=-1)


def _ends(line: Line) -> Array:
    return line.value(np.array([-line.side_m / 2, line.side_m / 2]))


def _end_slopes(line: Line) -> Array:
    return line.slope(np.array([-line.side_m / 2, line.side_m / 2]))
