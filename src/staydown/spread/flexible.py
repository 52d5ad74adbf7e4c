"""A bending item on its mounts: the free item's flexibility once, then a small dense solve for each set of mounts.

The free item is solved for a unit load at each place where a mount may hold it (`free_flexibility`). For one
set of mounts each spring's motion is what the item moves as a whole, plus what loads bend it there, minus
what the springs themselves bend it back; six balances close the system (`hold`). So thousands of layouts of
one item cost one plate. With nothing bending it is the rigid item of `rigid.py`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness, assemble, give, twist_bars

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

# A foot whose point of pull lies this near a side, or nearer, holds the frame and not the laminate: frames are
# 25 to 40 mm wide and feet stand under them; common practice, no source.
FRAME_REACH_m = 0.1
_BARS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Grips:
    """Places where a mount may hold the item, and its motion there: lift, turn about x, turn about y.

    columns: what of each of the plate's unknowns makes that motion, (n, 3 places), place by place.
    twist: (3 places, 3 places), how far a unit torque at one place twists the frame at another while its
    corners are held, times the profile's twist stiffness. [m]
    """

    columns: Array
    twist: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Flexibility:
    """How the free item gives under unit loads, up to a motion that does not bend it.

    among: (3 places + 4, the same), the last four the profiles' twists [m/N, 1/N, 1/(N m)].
    bars: stiffness of those twists [N m/rad]. by_loads: (3 places + 4, fields).
    at_points: lift of the points looked at, (points, 3 places + 4); at_points_by_loads: (points, fields).
    points_m: (points, 2).
    """

    among: Array
    bars: Array
    by_loads: Array
    at_points: Array
    at_points_by_loads: Array
    points_m: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Sets of mounts solved for unit loads: every field without its resultant, then the resultant's six components.

    on_mounts: (..., M, 6, fields + 6), force and moment on each mount. lift: (..., points, fields + 6). [m]
    """

    on_mounts: Array
    lift: Array


def grips(grid: Grid, place_m: Array, foot_m: Array, framed: bool) -> Grips:
    """Return how the item moves over feet at places.

    Parameters
    ----------
    place_m, foot_m : array, shape (places, 2)
        Point of pull forward and left of the item's centre; the foot's length and width. [m]
    framed : bool
        A foot near a side holds the frame there: it lifts by the lever rule between this side and the
        opposite one, turns with the profile's slope and tilts with its twist. Other feet hold the laminate.
    """
    places, lines = len(place_m), (grid.along, grid.across)
    value, slope = zip(*(line.foot(place_m[:, k], foot_m[:, k]) for k, line in enumerate(lines)), strict=True)
    motion = np.stack(
        [_outer(value[0], value[1]), _outer(value[0], slope[1]), -_outer(slope[0], value[1])], axis=1
    )
    twist = np.zeros((places, 3, places, 3))
    for side, axis in enumerate((1, 1, 0, 0) if framed else ()):
        on = np.flatnonzero(_nearest_side(grid, place_m) == side)
        if not len(on):
            continue
        end, along = side % 2, 1 - axis
        edge, turn = _edges(lines[axis]), _edge_slopes(lines[axis])
        far = 0.5 - (2 * end - 1) * place_m[on, axis] / lines[axis].side_m
        lever = (1 - far)[:, None] * edge[end] + far[:, None] * edge[1 - end]
        past = (0.5 + place_m[on, along] / lines[along].side_m)[:, None]
        corners = _edges(lines[along])
        between = (1 - past) * corners[0] + past * corners[1]

        def pair(one: Array, two: Array, along: int = along) -> Array:
            return _outer(one, two) if along == 0 else _outer(two, one)

        near = np.broadcast_to(edge[end], lever.shape)
        turned_edge = np.broadcast_to(turn[end], lever.shape)
        sign = 1.0 if along == 0 else -1.0
        about_side, about_other = (1, 2) if along == 0 else (2, 1)
        motion[on, 0] = pair(value[along][on], lever)
        motion[on, about_side] = sign * pair(between, turned_edge)
        motion[on, about_other] = -sign * pair(slope[along][on], near)
        twist[on[:, None], about_side, on, about_side] = _twist_held(
            lines[along].side_m, place_m[on, along], foot_m[on, along]
        )
    return Grips(columns=motion.reshape(3 * places, -1).T, twist=twist.reshape(3 * places, 3 * places))


def free_flexibility(
    grid: Grid, stiffness: Stiffness, held: Grips, loads: Array, shapes: Array, points_m: Array
) -> Flexibility:
    """Return how the free item gives at its grips and at points.

    Parameters
    ----------
    loads : array, shape (n, loads)
        Loads on the plate's unknowns, each of unit size.
    shapes : array, shape (n, shapes)
        Shapes that the free item takes without load, as when it is hot on top; `by_loads` has them last.
    points_m : array, shape (points, 2)
        Points whose lift is looked at, forward and left of the centre. [m]
    """
    framed = stiffness.frame_twist_N_m2 > 0.0
    works_on = np.concatenate([held.columns, twist_bars(grid) * framed], axis=1)
    looks_at = at_points(grid, points_m)
    moved = give(assemble(grid, stiffness), np.concatenate([works_on, loads], axis=1))
    moved = np.concatenate([moved, shapes], axis=1)
    mine = works_on.shape[1]
    among = works_on.T @ moved[:, :mine]
    if framed:
        among[:-_BARS, :-_BARS] += held.twist / stiffness.frame_twist_N_m2
    lengths = np.repeat([grid.along.side_m, grid.across.side_m], 2)
    return Flexibility(
        among=(among + among.T) / 2,
        bars=stiffness.frame_twist_N_m2 / lengths,
        by_loads=works_on.T @ moved[:, mine:],
        at_points=looks_at @ moved[:, :mine],
        at_points_by_loads=looks_at @ moved[:, mine:],
        points_m=points_m,
    )


def at_points(grid: Grid, points_m: Array) -> Array:
    """Return how much of each of the plate's unknowns lifts each point: shape (points, n).

    The same is the work of a unit force there: its transpose is such forces as loads.
    """
    return _outer(grid.along.value(points_m[:, 0]), grid.across.value(points_m[:, 1]))


def hold(
    flexibility: Flexibility, pick: Indices, position_m: Array, stiffness: Array, middle_m: float
) -> Held:
    """Return what the item puts on its mounts, and how its points lift, for every unit load.

    Parameters
    ----------
    pick : array, shape (..., M)
        Which grip each mount is.
    position_m : array, shape (..., M, 3)
        Point of each mount's springs; its height is above the plane of the pads. [m]
    stiffness : array, shape (..., M, 6)
        Springs along and about x, y, z; 0 where there is none. [N/m, N m/rad]
    middle_m : float
        Height of the item's own middle above the plane of the pads: loads in the plane act on the item there,
        springs at another height turn it. [m]

    Raises
    ------
    numpy.linalg.LinAlgError
        The springs leave a motion wholly free.
    """
    joint = _join(flexibility, pick, position_m, stiffness, middle_m)
    bent = joint.motion @ flexibility.by_loads[joint.rows]
    force, moved = _balance(joint, bent)
    looked = np.moveaxis(flexibility.at_points[:, joint.rows], 0, -2)
    lift = _lift_of(flexibility.points_m) @ moved - looked @ (joint.pushes @ force)
    lift[..., : bent.shape[-1]] += flexibility.at_points_by_loads
    mounts = (*joint.rows.shape[:-1], position_m.shape[-2], 6, force.shape[-1])
    return Held(on_mounts=force[..., :-_BARS, :].reshape(mounts), lift=lift)


def gap_response(
    flexibility: Flexibility, pick: Indices, position_m: Array, stiffness: Array, middle_m: float
) -> Array:
    """Return the force on each spring for a unit gap at each other one, nothing else acting: (..., 6 M, 6 M).

    A gap is how far a spring is drawn out beside what the item's motion does to it. Parameters as in `hold`.
    """
    joint = _join(flexibility, pick, position_m, stiffness, middle_m)
    springs = joint.springs.shape[-2]
    gaps = np.broadcast_to(np.eye(springs, springs - _BARS), (*pick.shape[:-1], springs, springs - _BARS))
    force, _ = _balance(joint, gaps)
    return force[..., :-_BARS, : springs - _BARS]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Joint:
    """A set of mounts on the free item. rows: of its flexibility that the mounts use, (..., 3 M + 4).

    springs: (..., 6 M + 4, 1), those of the mounts and the profiles' twists. motion: of the springs for that of the
    rows; pushes: of the springs on the rows; whole: of the springs for the six motions of the whole item. among:
    motion of the springs under forces in them.
    """

    rows: Indices
    springs: Array
    motion: Array
    pushes: Array
    whole: Array
    among: Array


def _join(
    flexibility: Flexibility, pick: Indices, position_m: Array, stiffness: Array, middle_m: float
) -> _Joint:
    """Return the mounts joined to the item: they lift and turn with it, and push it up, turn it, push it sideways.

    A force in the plane turns the item by its height above the item's middle. That a turn also moves a foot
    sideways by that height, a fraction of a millimetre that tape and bracket take in shear, is left out: how stiff
    a foot is against that nobody knows, and stiff springs would invent forces.
    """
    position = np.asarray(position_m, dtype=float)
    batch, mounts = position.shape[:-2], position.shape[-2]
    own = (3 * pick[..., None] + np.arange(3)).reshape(*batch, 3 * mounts)
    last = np.arange(len(flexibility.among) - _BARS, len(flexibility.among))
    rows = np.concatenate([own, np.broadcast_to(last, (*batch, _BARS))], axis=-1)
    motion = np.zeros((*batch, 6 * mounts + _BARS, 3 * mounts + _BARS))
    pushes = np.zeros((*batch, 3 * mounts + _BARS, 6 * mounts + _BARS))
    height = position[..., 2] - middle_m
    for mount in range(mounts):
        lift, tilt, nod = range(3 * mount, 3 * mount + 3)
        along, across, up, about_x, about_y = range(6 * mount, 6 * mount + 5)
        for row, column in ((up, lift), (about_x, tilt), (about_y, nod)):
            motion[..., row, column] = pushes[..., column, row] = 1.0
        pushes[..., nod, along], pushes[..., tilt, across] = height[..., mount], -height[..., mount]
    motion[..., 6 * mounts :, 3 * mounts :] = pushes[..., 3 * mounts :, 6 * mounts :] = np.eye(_BARS)
    whole = np.zeros((*batch, 6 * mounts + _BARS, 6))
    whole[..., :-_BARS, :] = whole_motion(position).reshape(*batch, 6 * mounts, 6)
    bars = np.broadcast_to(flexibility.bars, (*batch, _BARS))
    return _Joint(
        rows=rows,
        springs=np.concatenate([np.reshape(stiffness, (*batch, 6 * mounts)), bars], axis=-1)[..., None],
        motion=motion,
        pushes=pushes,
        whole=whole,
        among=motion @ flexibility.among[rows[..., :, None], rows[..., None, :]] @ pushes,
    )


def _balance(joint: _Joint, bent: Array) -> tuple[Array, Array]:
    """Return each spring's force and the item's motion as a whole, for fields and for the resultant's components.

    force = spring (whole motion - among force + bent), and the forces balance the resultant. The whole motion
    is scaled by the stiffest spring, so that both kinds of rows are of one size.
    """
    springs, size, fields = joint.springs, joint.springs.shape[-2], bent.shape[-1]
    unit = springs.max(axis=-2, keepdims=True)
    matrix = np.zeros((*springs.shape[:-2], size + 6, size + 6))
    matrix[..., :size, :size] = np.eye(size) + springs * joint.among
    matrix[..., :size, size:] = -springs / unit * joint.whole
    matrix[..., size:, :size] = np.swapaxes(joint.whole, -1, -2)
    right = np.zeros((*springs.shape[:-2], size + 6, fields + 6))
    right[..., :size, :fields] = springs * bent
    right[..., size:, fields:] = np.eye(6)
    solved = np.linalg.solve(matrix, right)
    return solved[..., :size, :], solved[..., size:, :] / unit


def whole_motion(position: Array) -> Array:
    """Return how each spring moves with the six motions of the whole item: shape (..., M, 6, 6)."""
    x, y, z = np.moveaxis(position, -1, 0)
    motion = np.zeros((*x.shape, 6, 6))
    motion[...] = np.eye(6)
    motion[..., 0, 4], motion[..., 0, 5] = z, -y
    motion[..., 1, 3], motion[..., 1, 5] = -z, x
    motion[..., 2, 3], motion[..., 2, 4] = y, -x
    return motion


def _lift_of(points_m: Array) -> Array:
    """Return how points lift with the six motions of the whole item: shape (points, 6)."""
    lift = np.zeros((len(points_m), 6))
    lift[:, 2], lift[:, 3], lift[:, 4] = 1.0, points_m[:, 1], -points_m[:, 0]
    return lift


def _outer(along: Array, across: Array) -> Array:
    """Return the plate's unknowns from those along and across: shape (..., n)."""
    return (along[..., :, None] * across[..., None, :]).reshape(*along.shape[:-1], -1)


def _nearest_side(grid: Grid, place_m: Array) -> Indices:
    """Return the side that a foot holds: 0 right, 1 left, 2 rear, 3 front, -1 none."""
    half = np.array([grid.along.side_m, grid.across.side_m]) / 2
    forward, left = place_m.T
    away = np.abs(np.stack([left + half[1], left - half[1], forward + half[0], forward - half[0]]))
    side: Indices = np.where(away.min(axis=0) <= FRAME_REACH_m, away.argmin(axis=0), -1)
    return side


def _twist_held(length_m: float, place_m: Array, foot_m: Array) -> Array:
    """Return how far a unit torque at each place twists a bar with both ends held, times its stiffness. [m]

    Two feet meet at their middles; a foot with itself over its own length, which takes a sixth of it away.
    """
    past = np.clip(length_m / 2 + place_m, 0.0, length_m)
    first, last = np.minimum(past, past[:, None]), np.maximum(past, past[:, None])
    twist = first * (length_m - last) / length_m
    np.fill_diagonal(twist, np.maximum(0.0, np.diagonal(twist) - foot_m / 6))
    return twist


def _edges(line: Line) -> Array:
    return line.value(np.array([-line.side_m / 2, line.side_m / 2]))


def _edge_slopes(line: Line) -> Array:
    return line.slope(np.array([-line.side_m / 2, line.side_m / 2]))
