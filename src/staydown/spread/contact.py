"""Where a bending item comes down on the roof: points that may be pushed up and never pulled down.

A point that comes down further than the gap is held there by a force of the roof; a point that stays above has none.
Of all sets of forces that obey both there is one, the one of least energy; it is found point by point, as non-negative
least squares are.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.spread.flexible import Flexibility, hold

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

# Of the largest give: keeps points that move alike, as on a stiff edge, from sharing a force without end
_ROUND_OFF = 1e-9
_MOST_ROUNDS = 10  # exchanges a point; each lowers the energy, so the search ends; a guard against round-off


def roof_forces(give: Array, clearance: Array) -> Array:
    """Return the force of the roof at each point, 0 where the item stays above it. [N], shape (points,)

    Parameters
    ----------
    give : array, shape (points, points)
        How far a unit force up at one point lifts another, the mounts holding; symmetric. [m/N]
    clearance : array, shape (points,)
        How far each point stays above the roof without any force of it, negative where it would pass it. [m]

    Examples
    --------
    >>> roof_forces(np.array([[2e-5, 1e-5], [1e-5, 2e-5]]), np.array([-1e-3, 2e-3])).round(6).tolist()
    [50.0, 0.0]
    """
    count = len(clearance)
    scale = float(np.abs(np.diagonal(give)).max())
    matrix = give + _ROUND_OFF * scale * np.eye(count)
    small = _ROUND_OFF * float(np.abs(clearance).max())
    force = np.zeros(count)
    held = np.zeros(count, dtype=bool)
    for _ in range(_MOST_ROUNDS * count):
        above = np.where(held, np.inf, clearance + matrix @ force)
        lowest = int(above.argmin())
        if above[lowest] >= -small:
            break
        held[lowest] = True
        while True:
            wanted = np.zeros(count)
            wanted[held] = np.linalg.solve(matrix[np.ix_(held, held)], -clearance[held])
            pulled = held & (wanted <= 0.0)
            if not pulled.any():
                break
            # go as far as no point is pulled down, and let that one go
            share = np.min(force[pulled] / (force[pulled] - wanted[pulled]))
            force = force + share * (wanted - force)
            held &= force > _ROUND_OFF * max(float(force.max()), 1.0)
            force[~held] = 0.0
        force = wanted
    return force


@dataclass(frozen=True, slots=True, kw_only=True)
class Stopped:
    """Ways of joining in which the item comes down on the roof; row n is a way of joining.

    on: what the item then puts on its mounts, (n, M, 6, case) [N, N m]. roof: force of the roof, (n, points, case) [N].
    """

    on: Array
    roof: Array


def stop(
    flexibility: Flexibility,
    mounts: tuple[Indices, Array, Array, float],
    free: tuple[Array, Array],
    gap_m: float,
) -> Stopped:
    """Return what the mounts carry where the roof holds an item up that would come down on it.

    Parameters
    ----------
    flexibility : Flexibility
        Of the free item, its fields unit forces up at its points.
    mounts : tuple
        pick, position, stiffness and middle as in `hold`, for n ways of joining.
    free : tuple of array
        Without the roof: on the mounts, (n, M, 6, case) [N, N m], and lift of the points, (n, points, case) [m].
    gap_m : float
        Clear gap under every point. [m]
    """
    on, lift = free
    points = len(flexibility.points_m)
    held = hold(flexibility, *mounts)
    # a unit force up at a point: its field, and what it comes to about the middle of the item
    whole = np.zeros((6, points))
    whole[2], whole[3], whole[4] = 1.0, flexibility.points_m[:, 1], -flexibility.points_m[:, 0]
    each_on = held.on_mounts[..., :points] + held.on_mounts[..., points:] @ whole
    give = held.lift[..., :points] + held.lift[..., points:] @ whole
    roof = np.zeros(lift.shape)
    for row, case in zip(*np.nonzero((lift < -gap_m).any(axis=1)), strict=True):
        clearance = lift[row, :, case] + gap_m
        roof[row, :, case] = roof_forces((give[row] + give[row].T) / 2, clearance)
    return Stopped(on=on + each_on @ roof[:, None], roof=roof)
