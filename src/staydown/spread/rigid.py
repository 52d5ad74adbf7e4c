"""A rigid item on springs: the reactions of every mount to a force and a moment, for whole batches at once.

Statics with one stiffness matrix: displacements of a spring's point follow from six of the item, spring
loads from them, and six balances give the six displacements (Crede and Harris, Shock and Vibration
Handbook, elastic supports of a rigid body; from memory). All solves are done about the springs' centre
with lengths over the group's radius, so that a condition number means the same for a small and a large item.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

MECHANISM_CONDITION = 1e12  # beyond this a double keeps fewer than four digits: not held in six directions
_EPSILON = float(np.finfo(np.float64).eps)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """The item on its springs, about their centre with lengths over the radius.

    matrix: (..., 6, 6). spring_load: each spring's load for the six motions, (..., 6 M, 6). centre: (..., 3)
    [m]. radius: (...) [m].
    """

    matrix: Array
    spring_load: Array
    centre: Array
    radius: Array


def reactions(position_m: Array, stiffness: Array, force_N: Array, moment_Nm: Array) -> tuple[Array, Array]:
    """Return the force and the moment that a rigid item puts on each of its springs. [N], [N m]

    Parameters
    ----------
    position_m : array, shape (..., M, 3)
        Point of each mount's springs. [m]
    stiffness : array, shape (..., M, 6) or (..., M, 6, 6)
        Springs along and about x, y, z, or one full symmetric matrix a mount (a skew or coupled spring);
        it has as many leading axes as `position_m`. [N/m, N m/rad]. A mount of no stiffness carries nothing:
        layouts of different numbers of mounts are filled up with such.
    force_N, moment_Nm : array, shape (..., 3)
        The load; the moment is about the origin of `position_m`. Leading axes broadcast against the layouts'.

    Returns
    -------
    force_N, moment_Nm : array, shape (..., M, 3)
        On each mount, the moments about its own point.

    Raises
    ------
    ValueError
        The springs leave a motion free (condition over 1e12).
    """
    group = _assemble(position_m, stiffness)
    if np.any(_condition(group.matrix) > MECHANISM_CONDITION):
        raise ValueError("the springs leave a motion of the item free: it is a mechanism")
    load = np.concatenate(np.broadcast_arrays(force_N, moment_Nm), axis=-1)
    on_mounts = (_solve(group) @ load[..., None, :, None])[..., 0]
    return on_mounts[..., :3], on_mounts[..., 3:]


def reaction_matrix(position_m: Array, stiffness: Array) -> Array:
    """Return what turns a load (force, moment) into each mount's (force, moment): shape (..., M, 6, 6).

    It does not depend on the load, so one solve serves any number of cases. Shapes as in `reactions`.

    Raises
    ------
    numpy.linalg.LinAlgError
        The springs leave a motion wholly free; ask `condition_number` first.
    """
    return _solve(_assemble(position_m, stiffness))


def condition_number(position_m: Array, stiffness: Array) -> Array:
    """Return the condition of the item on its springs, infinite for a mechanism: shape (...).

    Largest over smallest stiffness of any motion, moments divided by the group's radius (root mean square
    distance of the springs from their centre, the pads' own radius of gyration included).
    """
    return _condition(_assemble(position_m, stiffness).matrix)


def balance_error(position_m: Array, matrix: Array) -> float:
    """Return the largest relative error of force and moment balance for any load on any layout of the batch.

    matrix: as `reaction_matrix` returns it. The mounts' forces and moments, summed about the origin, must
    give the load back: this is the largest entry of (sum - identity), moments over the largest distance of
    a mount from the origin.
    """
    position, matrix = np.asarray(position_m, dtype=float), np.asarray(matrix, dtype=float)
    moment = matrix[..., 3:, :] - _turned(position) @ matrix[..., :3, :]
    total = np.concatenate([matrix[..., :3, :], moment], axis=-2).sum(axis=-3) - np.eye(6)
    reach = np.sqrt(np.max(np.sum(position**2, axis=-1), axis=-1))[..., None, None]
    reach = np.where(reach > 0, reach, 1.0)
    total[..., 3:, :] /= reach
    total[..., :, 3:] *= reach
    return float(np.max(np.abs(total)))


def _assemble(position_m: Array, stiffness: Array) -> _Group:
    position, stiffness = np.asarray(position_m, dtype=float), np.asarray(stiffness, dtype=float)
    full = stiffness.ndim == position.ndim + 1
    diagonal = np.diagonal(stiffness, axis1=-2, axis2=-1) if full else stiffness
    weight = diagonal[..., :3].sum(axis=-1)
    total = weight.sum(axis=-1)
    centre = np.sum(weight[..., None] * position, axis=-2) / total[..., None]
    points = position - centre[..., None, :]
    square = np.sum(weight * np.sum(points**2, axis=-1), axis=-1) + diagonal[..., 3:].sum(axis=(-2, -1))
    radius = np.sqrt(square / total)
    radius = np.where(radius > 0, radius, 1.0)
    lengths = np.ones((*radius.shape, 1, 6))
    lengths[..., 3:] = radius[..., None, None]
    motion = np.zeros((*points.shape[:-1], 6, 6))
    motion[..., :3, :3] = motion[..., 3:, 3:] = np.eye(3)
    motion[..., :3, 3:] = _turned(points / radius[..., None, None])
    if full:
        spring_load = (stiffness / (lengths[..., :, None] * lengths[..., None, :])) @ motion
    else:
        spring_load = (stiffness / lengths**2)[..., None] * motion
    flat = (*points.shape[:-2], 6 * points.shape[-2], 6)
    matrix = np.swapaxes(motion.reshape(flat), -1, -2) @ spring_load.reshape(flat)
    return _Group(matrix=matrix, spring_load=spring_load.reshape(flat), centre=centre, radius=radius)


def _condition(matrix: Array) -> Array:
    values = np.linalg.eigvalsh(matrix)
    least, most = values[..., 0], values[..., -1]
    held = least > _EPSILON * most
    return np.where(held, most / np.where(held, least, 1.0), np.inf)


def _solve(group: _Group) -> Array:
    radius = group.radius[..., None, None]
    to_centre = np.zeros((*group.radius.shape, 6, 6))
    to_centre[..., :3, :3] = np.eye(3)
    to_centre[..., 3:, 3:] = np.eye(3) / radius
    to_centre[..., 3:, :3] = _turned(group.centre) / radius
    on_mounts = group.spring_load @ np.linalg.solve(group.matrix, to_centre)
    on_mounts = on_mounts.reshape(*on_mounts.shape[:-2], -1, 6, 6)
    on_mounts[..., 3:, :] *= radius[..., None]
    return on_mounts


def _turned(point: Array) -> Array:
    """Return the matrix of minus the cross product with a point: of a turn it makes the point's motion."""
    x, y, z = point[..., 0], point[..., 1], point[..., 2]
    matrix = np.zeros((*x.shape, 3, 3))
    matrix[..., 0, 1], matrix[..., 0, 2] = z, -y
    matrix[..., 1, 0], matrix[..., 1, 2] = -z, x
    matrix[..., 2, 0], matrix[..., 2, 1] = y, -x
    return matrix
