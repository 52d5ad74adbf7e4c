"""Builds what the rest carries when mounts have let go: any set of them, for all cases at once.

The item keeps its load; the springs of what is lost carry nothing. Wind and weight stay apart, since only the wind
grows with speed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from staydown.spread import foot_laws
from staydown.spread import pad_laws as laws
from staydown.spread.build_foot import peak_on_foot
from staydown.spread.spring_group import SpringGroup, held_rows

Array = NDArray[np.float64]
Loss = tuple[int, ...]

_SAME_PEAK = 1.0 - 1e-9  # as in build_demands: round-off must not choose


@dataclass(frozen=True, slots=True, kw_only=True)
class LostMounts:
    """What wind and weight put on each pad for each loss; component first: (6, loss, solution, mount, case).

    Components: force along, across, pull [N], moment about the pad's centre about x, y, z [N m]. sound: (loss,
    solution), False where a hinged item could turn freely on what is left, or nothing is.
    """

    group: SpringGroup
    losses: tuple[Loss, ...]
    wind: Array
    weight: Array
    sound: NDArray[np.bool_]

    def only(self, solutions: Sequence[int]) -> LostMounts:
        """Return the same with some of the solutions; `OnRest.solution` then counts these."""
        rows = list(solutions)
        return replace(
            self, wind=self.wind[:, :, rows], weight=self.weight[:, :, rows], sound=self.sound[:, rows]
        )

    def of(self, losses: Sequence[int]) -> LostMounts:
        """Return the same for some of the losses, by index."""
        rows = list(losses)
        return replace(
            self,
            losses=tuple(self.losses[row] for row in rows),
            wind=self.wind[:, rows],
            weight=self.weight[:, rows],
            sound=self.sound[rows],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class OnRest:
    """What each mount carries after each loss, in the solution with the largest peak there: (loss, mount, case).

    peak_Pa, shear_Pa: zero where the mount is lost. force_N: resultant of shear and pull, pressing left out. [Pa, N]
    peel_N_per_m: line load at the edge of a foot that bends, zero under a rigid one.
    solution: index of that solution in the group.
    """

    peak_Pa: Array
    shear_Pa: Array
    peel_N_per_m: Array
    force_N: Array
    solution: NDArray[np.int64]


def singles_and_pairs(mounts: int) -> tuple[Loss, ...]:
    """Return every mount alone, then every pair that leaves something.

    Examples
    --------
    >>> singles_and_pairs(3)
    ((0,), (1,), (2,), (0, 1), (0, 2), (1, 2))
    >>> singles_and_pairs(2)
    ((0,), (1,))
    """
    pairs = tuple(combinations(range(mounts), 2)) if mounts > 2 else ()
    return (*((mount,) for mount in range(mounts)), *pairs)


def build_lost_mounts(group: SpringGroup, losses: Sequence[Loss]) -> LostMounts:
    """Return what wind and weight put on every pad after each loss.

    Parameters
    ----------
    group : SpringGroup
        The item with all its mounts.
    losses : sequence of tuples of int
        Mounts that are lost together, as many in each; all of them at once is allowed and leaves zeros.

    Raises
    ------
    ValueError
        The losses are not of one size.
    """
    mounts, size = len(group.mounts), len(losses[0])
    if any(len(loss) != size for loss in losses):
        raise ValueError("losses of one size are solved together")
    kept = np.array([[mount not in loss for mount in range(mounts)] for loss in losses], dtype=np.bool_)
    sound = held_rows(group, kept)
    columns = group.wind.shape[-1]
    whole = np.concatenate([group.wind, group.weight], axis=-1).reshape(len(group.clamped), 6 * mounts, -1)
    on = np.broadcast_to(whole, (len(losses), *whole.shape))
    if size:
        on = on + _taken_away(group, whole, losses, sound)
    on = np.where(sound[..., None, None], on, 0.0).reshape(*sound.shape, mounts, 6, 2, columns)
    on = on * kept[:, None, :, None, None, None]
    on_pads = about_pads(np.moveaxis(on, 3, 0), group)
    return LostMounts(
        group=group,
        losses=tuple(losses),
        wind=np.ascontiguousarray(on_pads[..., 0, :]),
        weight=np.ascontiguousarray(on_pads[..., 1, :]),
        sound=sound,
    )


def _taken_away(group: SpringGroup, whole: Array, losses: Sequence[Loss], sound: NDArray[np.bool_]) -> Array:
    """Return what must be added so that the lost springs carry nothing: gaps at them that take their loads off."""
    at = np.array([[6 * mount + axis for mount in loss for axis in range(6)] for loss in losses])
    back = np.moveaxis(group.gaps[:, :, at], 2, 0)  # (loss, n, 6 M, lost)
    among = group.gaps[:, at[:, :, None], at[:, None, :]].swapaxes(0, 1)
    none = group.layout.springs.reshape(len(group.clamped), -1)[:, at].swapaxes(0, 1) == 0.0
    eye = np.eye(at.shape[1])
    # where there is no spring, or nothing to be solved, the gap is set to nought
    among = np.where(sound[..., None, None], among + none[..., None, :] * eye, eye)
    gap = np.linalg.solve(among, -whole[:, at].swapaxes(0, 1))
    added: Array = back @ gap
    return added


def on_rest(lost: LostMounts, wind_share: Array | float, shear_counts: Array | float = 0.0) -> OnRest:
    """Return what each mount carries after each loss with the wind loads times a share.

    wind_share: over (loss, case) or one for all; 1 is the wind of the cases, and it goes with the square of speed.
    shear_counts: as of `in_worst_solution`.
    """
    share = np.asarray(wind_share, dtype=float)
    scale = np.broadcast_to(share, (len(lost.losses), lost.wind.shape[-1]))[:, None, None, :]
    along, across, pull, about_x, about_y, about_z = lost.wind * scale + lost.weight
    length, width = lost.group.length_m[:, None], lost.group.width_m[:, None]
    bend = lost.group.bend
    peak = peak_on_foot(pull, about_x, about_y, (length, width), bend)
    shear = _array(laws.pad_shear(along, across, about_z, length, width))
    line = foot_laws.peeling_line_load(
        bend.rate_one_per_m[..., None], laws.line_load(pull, bend.edge_m[..., None])
    )
    return in_worst_solution(
        np.where(lost.sound[:, :, None, None], peak, -1.0),  # no peak is below 0: -1 never governs
        shear,
        _array(line),
        np.hypot(np.maximum(pull, 0.0), np.hypot(along, across)),
        shear_counts,
    )


def in_worst_solution(
    peak: Array, shear: Array, line: Array, force: Array, shear_counts: Array | float = 0.0
) -> OnRest:
    """Return what counts at each mount: the solution that stresses it most there, among alike ones the most shear.

    Each over (loss, solution, mount, case); peak below 0 where a solution does not count. [Pa, Pa, N/m, N]
    shear_counts: how many times as much a shear stress counts as a tension, over (mount, case) or one for all; 0 takes
    the largest peak.
    """
    stressed = np.where(peak < 0.0, -1.0, np.hypot(np.maximum(peak, 0.0), shear_counts * shear))
    worst = stressed.max(axis=1, keepdims=True)
    most = np.argmax(np.where(stressed >= _SAME_PEAK * worst, shear, -1.0), axis=1)
    losses, mounts, cases = np.ogrid[: most.shape[0], : most.shape[1], : most.shape[2]]
    at = (losses, most, mounts, cases)
    return OnRest(
        peak_Pa=np.maximum(peak[at], 0.0),
        shear_Pa=shear[at],
        peel_N_per_m=line[at],
        force_N=force[at],
        solution=most,
    )


def about_pads(on: Array, group: SpringGroup) -> Array:
    """Return forces as they are, moments turned from the point of pull to the pad's centre."""
    layout = group.layout
    ex, ey, h = (
        value[:, :, None, None] for value in (layout.lever_along, layout.lever_across, layout.height)
    )
    along, across, pull, *turns = on
    return np.stack(
        [
            along,
            across,
            pull,
            _array(laws.pad_moment_about_x(turns[0], pull, ey, h, across)),
            _array(laws.pad_moment_about_y(turns[1], pull, ex, h, along)),
            _array(laws.pad_moment_about_z(turns[2], ex, ey, along, across)),
        ]
    )


def _array(value: Any) -> Array:
    return np.asarray(value, dtype=float)
