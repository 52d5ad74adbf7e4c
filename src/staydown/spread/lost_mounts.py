"""Builds what the rest carries when mounts have let go: each mount alone, then each pair, for all cases at once.

The item keeps its shape and its load; the springs of what is lost are zero. Loads are as they are, no factor on
them and the whole weight. Wind and weight stay apart, since only the wind grows with speed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from staydown.job.records import Item, Tape
from staydown.library.cards import Cards
from staydown.loads.build_cases import unfactored
from staydown.loads.load_case import CaseTable
from staydown.spread import pad_laws as laws
from staydown.spread.build_pads import Pads, build_pads
from staydown.spread.build_solutions import (
    HIGH,
    HINGED_CONDITION,
    Layout,
    Solutions,
    build_solutions,
    lay_out,
)
from staydown.spread.rigid import condition_number, reaction_matrix

Array = NDArray[np.float64]
Loss = tuple[int, ...]

_SAME_PEAK = 1.0 - 1e-9  # as in build_demands: round-off must not choose


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """An item's mounts as springs in every solution of the high band, whole, and how one pad turns load to stress.

    layout: rows are solutions. clamped: (solution). length_m, width_m: of the pads, (mount).
    """

    mounts: tuple[str, ...]
    layout: Layout
    clamped: NDArray[np.bool_]
    length_m: Array
    width_m: Array

    def only(self, solutions: Sequence[int]) -> Group:
        """Return the same with some of the solutions."""
        rows = list(solutions)
        layout = self.layout
        return replace(
            self,
            layout=Layout(
                point=layout.point[rows],
                springs=layout.springs[rows],
                lever_along=layout.lever_along[rows],
                lever_across=layout.lever_across[rows],
                height=layout.height[rows],
            ),
            clamped=self.clamped[rows],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainLoads:
    """Wind (and all else but weight) and weight of some cases at the high band, no factor on them: (6, case). [N, N m]

    cases: rows of the load table.
    """

    cases: tuple[int, ...]
    wind: Array
    weight: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class LostMounts:
    """What wind and weight put on each pad for each loss; component first: (6, loss, solution, mount, case).

    Components: force along, across, pull [N], moment about the pad's centre about x, y, z [N m]. cases: rows of the
    load table. sound: (loss, solution), False where a hinged item could turn freely on what is left.
    """

    group: Group
    losses: tuple[Loss, ...]
    cases: tuple[int, ...]
    wind: Array
    weight: Array
    sound: NDArray[np.bool_]

    def only(self, solutions: Sequence[int]) -> LostMounts:
        """Return the same with some of the solutions."""
        rows = list(solutions)
        return replace(
            self,
            group=self.group.only(rows),
            wind=self.wind[:, :, rows],
            weight=self.weight[:, :, rows],
            sound=self.sound[:, rows],
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
    solution: index of that solution in the group.
    """

    peak_Pa: Array
    shear_Pa: Array
    force_N: Array
    solution: NDArray[np.int64]


def build_group(item: Item, place: str, tape: Tape, cards: Cards) -> Group:
    """Return the mounts of an item as springs, moduli and levers at the high band.

    Raises
    ------
    ValueError
        The item has no mounts.
    """
    if not item.mount:
        raise ValueError(f"{place}: an item without mounts has none to lose")
    pads: Pads = build_pads(item, place, cards.planning["lever"], cards.planning["skin_stiffness"])
    solutions: Solutions = build_solutions(item, tape, cards.tapes[tape.kind], pads)
    rows = np.arange(len(solutions.names))
    return Group(
        mounts=pads.names,
        layout=lay_out(solutions, pads, tape.thickness_m, rows, np.full(len(rows), HIGH)),
        clamped=solutions.clamped > 0.0,
        length_m=pads.over_bands(pads.length)[HIGH],
        width_m=pads.over_bands(pads.width)[HIGH],
    )


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


def plain_loads(table: CaseTable, cases: Sequence[int]) -> PlainLoads:
    """Return the loads of some rows of the table as they are: no factor, the whole weight."""
    whole, weight = (_loads(unfactored(table, only=only), cases) for only in (None, ("weight",)))
    return PlainLoads(cases=tuple(cases), wind=whole - weight, weight=weight)


def build_lost_mounts(group: Group, loads: PlainLoads, losses: Sequence[Loss]) -> LostMounts:
    """Return what wind and weight put on every pad after each loss.

    Parameters
    ----------
    group : Group
        The item's mounts.
    loads : PlainLoads
        From `plain_loads`.
    losses : sequence of tuples of int
        Mounts that are lost together; all of them at once is allowed and leaves zeros.
    """
    mounts, layout = len(group.mounts), group.layout
    rows = [[mount not in loss for mount in range(mounts)] for loss in losses]
    kept: NDArray[np.bool_] = np.array(rows, dtype=np.bool_)
    springs = layout.springs * kept[:, None, :, None]
    point = np.broadcast_to(layout.point, (*springs.shape[:-1], 3))
    some = np.asarray(kept.any(axis=1))
    sound = np.broadcast_to(some[:, None], springs.shape[:2]).copy()
    hinged = ~group.clamped
    if hinged.any():
        sound[np.ix_(some, hinged)] = (
            condition_number(point[some][:, hinged], springs[some][:, hinged]) <= HINGED_CONDITION
        )
    # what cannot hold is solved on six springs a mount, and never looked at
    springs = np.where(sound[..., None, None], springs, layout.springs[np.argmax(group.clamped)])
    matrix = reaction_matrix(point, springs)
    matrix[~sound] = 0.0
    both = np.concatenate([loads.wind, loads.weight], axis=-1)
    on = (matrix.reshape(-1, 6 * mounts, 6) @ both).reshape(*sound.shape, mounts, 6, 2, len(loads.cases))
    on_pads = _about_pads(np.moveaxis(on, 3, 0), layout)
    return LostMounts(
        group=group,
        losses=tuple(losses),
        cases=loads.cases,
        wind=np.ascontiguousarray(on_pads[..., 0, :]),
        weight=np.ascontiguousarray(on_pads[..., 1, :]),
        sound=sound,
    )


def on_rest(lost: LostMounts, wind_share: Array | float) -> OnRest:
    """Return what each mount carries after each loss with the wind loads times a share.

    wind_share: over (loss, case) or one for all; 1 is the wind of the cases, and it goes with the square of speed.
    """
    share = np.asarray(wind_share, dtype=float)
    scale = np.broadcast_to(share, (len(lost.losses), len(lost.cases)))[:, None, None, :]
    along, across, pull, about_x, about_y, about_z = lost.wind * scale + lost.weight
    length, width = lost.group.length_m[:, None], lost.group.width_m[:, None]
    peak = _array(laws.peak_tension(pull, about_x, about_y, length, width))
    shear = _array(laws.pad_shear(along, across, about_z, length, width))
    peak = np.where(lost.sound[:, :, None, None], peak, -1.0)  # no peak is below 0: -1 never governs
    most = np.argmax(
        np.where(peak >= _SAME_PEAK * peak.max(axis=1, keepdims=True), shear, -1.0), axis=1, keepdims=True
    )

    def governing(values: Array) -> Array:
        return np.take_along_axis(values, most, axis=1)[:, 0]

    pulled = np.maximum(governing(pull), 0.0)
    return OnRest(
        peak_Pa=np.maximum(governing(peak), 0.0),
        shear_Pa=governing(shear),
        force_N=np.hypot(pulled, np.hypot(governing(along), governing(across))),
        solution=most[:, 0],
    )


def _loads(table: CaseTable, rows: Sequence[int]) -> Array:
    load = np.concatenate([table.force_N, table.moment_Nm], axis=-1)
    return np.ascontiguousarray(load[list(rows), HIGH].T)


def _about_pads(on: Array, layout: Layout) -> Array:
    """Return forces as they are, moments turned from the point of pull to the pad's centre."""
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
