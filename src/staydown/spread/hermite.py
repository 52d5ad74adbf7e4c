"""Cubic Hermite functions on an even grid: the one-dimensional halves of the Bogner-Fox-Schmit plate.

A line from -side/2 to +side/2 is cut into equal cells. Every node carries a value and its slope times the
cell's length, so all unknowns are lengths and the matrices are well scaled. All cells are alike: one cell is
integrated and repeated.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_CUBICS = np.array(
    [[1.0, 0.0, -3.0, 2.0], [0.0, 1.0, -2.0, 1.0], [0.0, 0.0, 3.0, -2.0], [0.0, 0.0, -1.0, 1.0]]
)
_LEAST_OVERLAP = 0.25  # share of a foot that is taken to lie under the item where less of it does


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A side of the item cut into equal cells. [m]"""

    side_m: float
    cells: int

    @property
    def cell_m(self) -> float:
        """Return the length of a cell. [m]"""
        return self.side_m / self.cells

    @property
    def unknowns(self) -> int:
        """Return how many unknowns the line has: value and slope at each node."""
        return 2 * (self.cells + 1)

    @property
    def nodes_m(self) -> Array:
        """Return where the nodes lie, from -side/2 to +side/2. [m]"""
        return np.linspace(-self.side_m / 2, self.side_m / 2, self.cells + 1)

    def matrix(self, left: int, right: int) -> Array:
        """Return the integrals of products of the functions' derivatives of these orders: shape (n, n)."""
        cell = _cell_matrix(left, right) * self.cell_m ** (1 - left - right)
        matrix = np.zeros((self.unknowns, self.unknowns))
        for start in range(0, 2 * self.cells, 2):
            matrix[start : start + 4, start : start + 4] += cell
        return matrix

    def value(self, place_m: Array) -> Array:
        """Return what of each unknown makes the value at each place, shape (..., n). [1]"""
        return self._spread(place_m, 0)

    def slope(self, place_m: Array) -> Array:
        """Return what of each unknown makes the slope at each place, shape (..., n). [1/m]"""
        return self._spread(place_m, 1) / self.cell_m

    def foot(self, place_m: Array, width_m: Array) -> tuple[Array, Array]:
        """Return value [1] and slope [1/m] of the straight line that fits the item best over each foot.

        A load that is even over the foot works on that value, one that grows linearly across it on that
        slope. A foot that reaches past the item's end meets only what is above it: the line is drawn on to
        the foot's middle.
        """
        half = self.side_m / 2
        place, width = np.broadcast_arrays(np.asarray(place_m, dtype=float), np.asarray(width_m, dtype=float))
        least = np.minimum(_LEAST_OVERLAP * width, self.side_m)
        low = np.clip(place - width / 2, -half, half - least)
        high = np.clip(place + width / 2, low + least, half)
        length, middle = high - low, (low + high) / 2
        even, linear = self._moments(low, high)
        slope = (linear - middle[..., None] * even) * (12.0 / length**3)[..., None]
        return even / length[..., None] + (place - middle)[..., None] * slope, slope

    def thinning(self, exponent: float, rear: bool) -> Array:
        """Return the load on each unknown of a unit force spread as (distance to the lee end)^exponent. [1]

        exponent 0 is even. rear: whether the wind meets the negative end. The integrals are exact in the
        cell at the lee end, where the power is not smooth, and good to 1e-9 elsewhere.
        """
        points, weights = _gauss(8)
        share = np.zeros(self.unknowns)
        scale = (exponent + 1.0) / self.cells ** (exponent + 1.0)
        for cell in range(self.cells):
            if cell == 0:
                load = (_CUBICS / (exponent + 1.0 + np.arange(4))).sum(axis=1)
            else:
                load = _functions(points, 0) @ (weights * (cell + points) ** exponent)
            share[2 * cell : 2 * cell + 4] += scale * load
        return (share.reshape(-1, 2)[::-1] * [1.0, -1.0]).ravel() if rear else share

    def parabola(self) -> Array:
        """Return the unknowns of the square of the distance from the middle, which the functions hold exactly."""
        nodes = self.nodes_m
        return np.stack([nodes**2, 2 * nodes * self.cell_m], axis=-1).ravel()

    def even(self) -> Array:
        """Return the unknowns of the constant 1."""
        return np.tile([1.0, 0.0], self.cells + 1)

    def _spread(self, place_m: Array, derivative: int) -> Array:
        place = np.clip(np.asarray(place_m, dtype=float) / self.cell_m + self.cells / 2, 0.0, self.cells)
        cell = np.minimum(place.astype(int), self.cells - 1)
        row = np.zeros((*place.shape, self.unknowns))
        columns = 2 * cell[..., None] + np.arange(4)
        np.put_along_axis(row, columns, np.moveaxis(_functions(place - cell, derivative), 0, -1), axis=-1)
        return row

    def _moments(self, low_m: Array, high_m: Array) -> tuple[Array, Array]:
        """Return the integrals of the functions, and of x times them, from low to high: shape (..., n)."""
        points, weights = _gauss(3)
        start = self.nodes_m[:-1]
        low = np.clip(low_m[..., None], start, start + self.cell_m)
        high = np.clip(high_m[..., None], start, start + self.cell_m)
        length = high - low
        place = low[..., None] + length[..., None] * points
        functions = _functions((place - start[:, None]) / self.cell_m, 0) * weights * length[..., None]
        sums = []
        for cells in (functions.sum(axis=-1), (functions * place).sum(axis=-1)):
            total = np.zeros((*low_m.shape, self.cells + 1, 2))
            total[..., :-1, :] += np.moveaxis(cells[:2], 0, -1)
            total[..., 1:, :] += np.moveaxis(cells[2:], 0, -1)
            sums.append(total.reshape(*low_m.shape, -1))
        return sums[0], sums[1]


@cache
def _gauss(count: int) -> tuple[Array, Array]:
    """Return points and weights on 0 to 1."""
    points, weights = np.polynomial.legendre.leggauss(count)
    return (points + 1) / 2, weights / 2


def _functions(place: Array, derivative: int) -> Array:
    """Return the four functions of a cell, or a derivative, at places from 0 to 1: shape (4, ...)."""
    result = np.zeros((4, *np.shape(place)))
    for power in range(derivative, 4):
        factor = np.prod(np.arange(power, power - derivative, -1))
        column = _CUBICS[:, power].reshape((4,) + (1,) * np.ndim(place))
        result += column * factor * np.asarray(place) ** (power - derivative)
    return result


@cache
def _cell_matrix(left: int, right: int) -> Array:
    points, weights = _gauss(4)
    matrix: Array = (_functions(points, left) * weights) @ _functions(points, right).T
    return matrix
