"""Builds what each mount carries while the pulled edge of one foot opens: its springs soften, its load goes elsewhere.

Every opened width is solved anew for the whole group. No other solve is needed for it: with the response to gaps
known, a softer spring is the gap that leaves on it what the softer spring would carry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.spread import foot_laws, opening_laws, pad_laws
from staydown.spread.build_foot import peak_on_foot
from staydown.spread.lost_mounts import OnRest, about_pads, in_worst_solution
from staydown.spread.spring_group import SpringGroup, held_rows

Array = NDArray[np.float64]
_AXES = 6
_EVEN = 1e-9  # a pull this near the middle of its pad pries neither edge: round-off must not choose


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedFoot:
    """What each mount carries at each opened width of one foot; loads as they are, no factor on them.

    opened_m: (step). pads: force along, across, pull [N], moment about the whole pad's centre about x, y, z [N m], in
    each solution: (6, step, solution, mount, case). spring_N_per_m: the foot's stiffness against pull, (step, solution,
    case). toward: 1 where the edge that opens lies forward or left, else -1: (solution, case). worst: in the solution
    with the largest peak at each mount, the first axis counting steps.
    """

    mount: int
    opened_m: Array
    pads: Array
    spring_N_per_m: Array
    toward: Array
    worst: OnRest


def build_opened_foot(
    group: SpringGroup, mount: int, opened_m: Sequence[float], shear_counts: Array | float = 0.0
) -> OpenedFoot:
    """Return what each mount carries while one foot opens from the edge that its own moment pries.

    Parameters
    ----------
    group : SpringGroup
        The item with all its mounts.
    mount : int
        The foot that opens.
    opened_m : sequence of float
        Widths, each less than the foot's side along the lever. [m]
    shear_counts : array or float
        As of `in_worst_solution`. [1]

    Raises
    ------
    ValueError
        A width leaves nothing of the foot.
    """
    opened, side = np.asarray(opened_m, dtype=float), float(group.bend.side_m[0, mount])
    if np.any(opened < 0.0) or np.any(opened >= side):
        raise ValueError(f"an edge of {side} m opens by less than that")
    whole = group.wind + group.weight
    toward = _toward(_about(whole, group), group, mount)
    stiffness, spring = _opened_springs(group, mount, opened, toward)
    sound = held_rows(group, np.ones((1, len(group.mounts)), dtype=np.bool_))[0]
    pads = _about(whole + _handed_over(group, mount, whole[:, mount], stiffness, sound), group)
    return OpenedFoot(
        mount=mount,
        opened_m=opened,
        pads=pads,
        spring_N_per_m=spring,
        toward=toward,
        worst=_worst(group, mount, opened, toward, pads, (sound, shear_counts)),
    )


def _about(on: Array, group: SpringGroup) -> Array:
    """Return forces and moments about the pads' centres, component first, from those on springs (.., M, 6, case)."""
    return about_pads(np.moveaxis(on, -2, 0)[..., None, :], group)[..., 0, :]


def _along(group: SpringGroup, mount: int) -> bool:
    return bool(group.bend.along[0, mount] > 0.5)


def _toward(pads: Array, group: SpringGroup, mount: int) -> Array:
    """Return which edge of the foot is pulled in each solution and case, (n, case); the outer one where neither is."""
    lies, point = group.bend.along[0, mount], group.layout.point[:, mount]
    pry = np.asarray(foot_laws.pry_along_lever(lies, pads[3, :, mount], pads[4, :, mount]))
    outer = np.where((point[:, 0] if lies > 0.5 else point[:, 1]) < 0.0, -1.0, 1.0)
    even = np.abs(pry) <= _EVEN * np.abs(pads[2, :, mount]) * group.bend.side_m[0, mount]
    return np.where(even, outer[:, None], np.where(pry < 0.0, -1.0, 1.0))


def _opened_springs(group: SpringGroup, mount: int, opened: Array, toward: Array) -> tuple[Array, Array]:
    """Return the springs of the opened foot about its old point, (step, n, case, 6, 6), and that against pull.

    A clamped foot carries about the middle of what still holds; a hinged one goes on being pulled where it was, and
    tilts under that pull, which makes it give the more the longer its lever gets.
    """
    layout, bend = group.layout, group.bend
    side, edge, rate = (float(part[0, mount]) for part in (bend.side_m, bend.edge_m, bend.rate_one_per_m))
    left = np.asarray(foot_laws.side_left(side, opened))[:, None, None]
    along = _along(group, mount)
    own = layout.springs[:, mount]
    typed = layout.lever_along[:, mount] if along else layout.lever_across[:, mount]
    lever = np.maximum(0.0, toward * typed[:, None])
    stiff = opening_laws.more_give_stiff(
        side, left, opening_laws.lever_to_rest(lever, opened[:, None, None]), lever
    )
    # tilting is a spring of its own where the foot is clamped
    stiff = np.where(
        group.clamped[:, None], opening_laws.more_give_stiff(side, left, np.zeros_like(left), 0.0), stiff
    )
    give = opening_laws.give_that_counts(
        rate, stiff, np.asarray(opening_laws.more_give_bending(rate, side, opened))[:, None, None]
    )
    pull = own[:, 2][:, None]
    pad = opening_laws.pad_of_foot(pull, group.skin_N_per_m[mount])
    spring = np.asarray(opening_laws.spring_of_opened(pull, pad, give), dtype=float)
    share = opening_laws.share_bonded(left, side)
    softer = spring / pull
    turned = softer * share**2
    twisted = share * (left**2 + edge**2) / (side**2 + edge**2)
    parts = (share, share, softer, softer, turned, twisted)
    if not along:
        parts = (share, share, softer, turned, softer, twisted)
    shape = (*spring.shape, _AXES)
    diagonal = np.stack([np.broadcast_to(part, spring.shape) for part in parts], axis=-1)
    about_rest = np.zeros((*shape, _AXES))
    about_rest[..., range(_AXES), range(_AXES)] = diagonal * own[:, None, :]
    moved = np.where(group.clamped[:, None], -toward, 0.0) * opened[:, None, None] / 2
    forward, to_left = (moved, np.zeros_like(moved)) if along else (np.zeros_like(moved), moved)
    at_rest = np.zeros_like(about_rest)
    at_rest[...] = np.eye(_AXES)
    at_rest[..., 0, 5], at_rest[..., 1, 5] = -to_left, forward
    at_rest[..., 2, 3], at_rest[..., 2, 4] = to_left, -forward
    return np.swapaxes(at_rest, -1, -2) @ about_rest @ at_rest, spring


def _handed_over(
    group: SpringGroup, mount: int, own: Array, stiffness: Array, sound: NDArray[np.bool_]
) -> Array:
    """Return what the softening adds at every spring: (step, n, M, 6, case).

    F = K (u + g) is what the old spring K carries with a gap g, and F = K' u what the new one does: with F = f + R g
    and Q = K' / K the gap is the solution of ((1 - Q) R + K') g = -(1 - Q) f.
    """
    rows, mounts = len(group.clamped), len(group.mounts)
    at = slice(_AXES * mount, _AXES * (mount + 1))
    springs = group.layout.springs[:, mount]
    none = springs == 0.0
    kept = stiffness / np.where(none, 1.0, springs)[:, None, None, :]
    less = np.eye(_AXES) - kept
    response = group.gaps[:, at, at][:, None]
    matrix = less @ response + stiffness
    # where there is no spring, or nothing to be solved, the gap is nought
    matrix = matrix + (none[:, None, :, None] & np.eye(_AXES, dtype=bool))
    matrix = np.where(sound[:, None, None, None], matrix, np.eye(_AXES))
    none = none | ~sound[:, None]
    force = np.moveaxis(own, 2, 1)[..., None]  # (n, case, 6, 1)
    gap = np.linalg.solve(matrix, -np.where(none[:, None, :, None], 0.0, less @ force))[..., 0]
    added = group.gaps[:, :, at] @ np.swapaxes(gap, -1, -2)
    return added.reshape(len(gap), rows, mounts, _AXES, -1)


def _worst(
    group: SpringGroup,
    mount: int,
    opened: Array,
    toward: Array,
    pads: Array,
    picked: tuple[NDArray[np.bool_], Array | float],
) -> OnRest:
    """Return peak, shear and the rest in the worst solution; the opened foot on what is left of it.

    picked: which solutions hold the item, and how much a shear counts, as of `in_worst_solution`.
    """
    sound, shear_counts = picked
    along, across, pull, about_x, about_y, about_z = pads
    bend = group.bend
    peak = peak_on_foot(pull, about_x, about_y, (group.length_m[:, None], group.width_m[:, None]), bend)
    length = np.broadcast_to(group.length_m, (len(opened), len(group.mounts))).copy()
    width = np.broadcast_to(group.width_m, length.shape).copy()
    side, edge, rate = (float(part[0, mount]) for part in (bend.side_m, bend.edge_m, bend.rate_one_per_m))
    left = np.asarray(foot_laws.side_left(side, opened), dtype=float)
    (length if _along(group, mount) else width)[:, mount] = left
    lies, here = bend.along[0, mount], pull[:, :, mount]
    turns = {"moment_about_x_Nm": about_x[:, :, mount], "moment_about_y_Nm": about_y[:, :, mount]}
    peak[:, :, mount] = opened_peak(
        here,
        np.asarray(opening_laws.pry_at_opened_edge(toward, foot_laws.pry_along_lever(lies, **turns))),
        np.asarray(foot_laws.moment_across_lever(lies, **turns)),
        opened[:, None, None],
        (side, edge, rate),
    )
    shear = pad_laws.pad_shear(along, across, about_z, length[:, None, :, None], width[:, None, :, None])
    line = foot_laws.peeling_line_load(
        bend.rate_one_per_m[..., None], pad_laws.line_load(pull, bend.edge_m[..., None])
    )
    return in_worst_solution(
        np.where(sound[:, None, None], peak, -1.0),
        np.asarray(shear, dtype=float),
        np.asarray(line, dtype=float),
        np.hypot(np.maximum(pull, 0.0), np.hypot(along, across)),
        shear_counts,
    )


def opened_peak(
    pull_N: Array, pry_Nm: Array, across_Nm: Array, opened_m: Array, foot: tuple[float, float, float]
) -> Array:
    """Return the peak tension of an opened foot from what is on it about its old centre, the sizes broadcasting. [Pa]

    pry_Nm: along the lever, positive where it pries the opened edge; across_Nm: size of the moment square to it. foot:
    side along the lever, side across it [m], lambda that counts [1/m].
    """
    side, edge, rate = foot
    left = foot_laws.side_left(side, opened_m)
    moment = foot_laws.moment_about_rest(pry_Nm, pull_N, opened_m)
    peak = pad_laws.peak_tension(pull_N, across_Nm, moment, left, edge)
    at_edge = opening_laws.larger_moment(pry_Nm, foot_laws.moment_of_edge_pull(pull_N, side))
    bent = foot_laws.moment_about_rest(at_edge, pull_N, opened_m)
    edge_stress = foot_laws.foot_edge_stress(rate, pull_N, bent, across_Nm, left, edge)
    return np.asarray(foot_laws.larger_stress(peak, edge_stress), dtype=float)
