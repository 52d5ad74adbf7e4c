"""Builds an item with all its mounts as springs that can be taken away: what loads and gaps put on each of them.

A gap is how far a spring is drawn out beside what the item's motion does to it. With the response to gaps known, a
lost mount needs no new solve: it is the gap that takes the load off its springs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from staydown.job.records import Item, Tape
from staydown.library.cards import Cards
from staydown.loads.build_cases import unfactored
from staydown.loads.load_case import CaseTable
from staydown.spread.build_bending import bending_at_high
from staydown.spread.build_foot import build_feet
from staydown.spread.build_pads import ON_RIB, Pads, build_pads
from staydown.spread.build_solutions import (
    HIGH,
    HINGED_CONDITION,
    Layout,
    Solutions,
    build_solutions,
    lay_out,
)
from staydown.spread.build_stiffness import build_stiffness
from staydown.spread.feet import FootBend
from staydown.spread.rigid import condition_number, reaction_matrix

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringGroup:
    """An item with all its mounts at the high band; row n is a solution, rigid ones first, then the bending item's.

    Loads are as they are, no factor on them, the whole weight: wind (and all else but weight) and weight put on the
    springs (n, M, 6, case) [N, N m]. cases: rows of the load table. gaps: force on each spring for a unit gap at
    each, (n, 6 M, 6 M). twin: which of the first `rigid` rows has the same points of pull. length_m, width_m: pads.
    skin_N_per_m: the roof under each foot, infinite on a rib. bend: how their feet bend, one row.
    """

    mounts: tuple[str, ...]
    cases: tuple[int, ...]
    rigid: int
    twin: Indices
    clamped: NDArray[np.bool_]
    layout: Layout
    wind: Array
    weight: Array
    gaps: Array
    length_m: Array
    width_m: Array
    skin_N_per_m: Array
    bend: FootBend

    def only(self, rows: Sequence[int]) -> SpringGroup:
        """Return the same with some of the solutions, and all rigid ones that stand for their points of pull."""
        kept = np.array(sorted({*rows, *(int(n) for n in self.twin[list(rows)])}))
        layout = self.layout
        return replace(
            self,
            rigid=int((kept < self.rigid).sum()),
            twin=np.searchsorted(kept, self.twin[kept]),
            clamped=self.clamped[kept],
            layout=Layout(
                point=layout.point[kept],
                springs=layout.springs[kept],
                lever_along=layout.lever_along[kept],
                lever_across=layout.lever_across[kept],
                height=layout.height[kept],
            ),
            wind=self.wind[kept],
            weight=self.weight[kept],
            gaps=self.gaps[kept],
        )


def build_spring_group(
    item: Item, place: str, tape: Tape, cards: Cards, table: CaseTable, cases: Sequence[int]
) -> SpringGroup:
    """Return an item with all its mounts as springs, rigid and (where its stiffness is known) bending.

    Parameters
    ----------
    item, place : Item, str
        With at least one mount; its dotted place.
    tape : Tape
        The item's tape.
    cards : Cards
        Class card of the tape, planning values.
    table : CaseTable
        The item's cases; their factors are left out.
    cases : sequence of int
        Rows of the table that are wanted.

    Raises
    ------
    ValueError
        The item has no mounts.
    """
    if not item.mount:
        raise ValueError(f"{place}: an item without mounts has none to lose")
    card = cards.tapes[tape.kind]
    pads = build_pads(item, place, cards.planning["lever"], cards.planning["skin_stiffness"])
    bend = build_feet(item, place, tape, "tape", cards, pads).springs([HIGH])
    solutions = build_solutions(item, tape, card, pads)
    whole, weight = unfactored(table), unfactored(table, only=("weight",))
    group = _rigid(pads, solutions, tape.thickness_m, (whole, weight), cases, bend)
    stiffness = build_stiffness(item, place, cards)
    if stiffness is None:
        return group
    more = bending_at_high(item, tape, card, (whole, weight), cases, pads, solutions, stiffness)
    on = more.on.reshape(*more.on.shape[:3], 2, len(cases))
    return replace(
        group,
        twin=np.concatenate([group.twin, more.twin]),
        clamped=np.concatenate([group.clamped, more.clamped]),
        layout=_both(group.layout, more.layout),
        wind=np.concatenate([group.wind, on[..., 0, :] - on[..., 1, :]]),
        weight=np.concatenate([group.weight, on[..., 1, :]]),
        gaps=np.concatenate([group.gaps, more.gaps]),
    )


def held_rows(group: SpringGroup, kept: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which solutions still hold the item when only some mounts are kept: shape (loss, n).

    kept: (loss, M). A hinged item that could turn freely does not; a clamped one does as long as a mount is left.
    """
    some = np.asarray(kept.any(axis=1))
    sound = np.broadcast_to(some[:, None], (len(kept), len(group.clamped))).copy()
    hinged = np.flatnonzero(~group.clamped[: group.rigid])
    if len(hinged):
        springs = group.layout.springs[hinged] * kept[some][:, None, :, None]
        point = np.broadcast_to(group.layout.point[hinged], (*springs.shape[:-1], 3))
        sound[np.ix_(some, hinged)] = np.asarray(condition_number(point, springs)) <= HINGED_CONDITION
    return sound[:, group.twin]


def _rigid(
    pads: Pads,
    solutions: Solutions,
    tape_thickness_m: float,
    tables: tuple[CaseTable, CaseTable],
    cases: Sequence[int],
    bend: FootBend,
) -> SpringGroup:
    rows = np.arange(len(solutions.names))
    layout = lay_out(solutions, pads, tape_thickness_m, rows, np.full(len(rows), HIGH))
    clamped = solutions.clamped > 0.0
    held = clamped | (np.asarray(condition_number(layout.point, layout.springs)) <= HINGED_CONDITION)
    # a mechanism is solved on clamped springs so that it can be solved at all; it is never looked at
    springs = np.where(held[:, None, None], layout.springs, layout.springs[np.argmax(clamped)])
    matrix = reaction_matrix(layout.point, springs)
    mounts = len(pads.names)
    flat = matrix.reshape(len(rows), 6 * mounts, 6)
    moved = (springs[..., None] * _motion(layout.point)).reshape(len(rows), 6 * mounts, 6)
    gaps = np.eye(6 * mounts) * springs.reshape(len(rows), -1)[:, None, :] - flat @ np.swapaxes(moved, 1, 2)
    loads = [np.concatenate([t.force_N, t.moment_Nm], axis=-1)[list(cases), HIGH].T for t in tables]
    whole, weight = ((flat @ load).reshape(len(rows), mounts, 6, -1) for load in loads)
    return SpringGroup(
        mounts=pads.names,
        cases=tuple(cases),
        rigid=len(rows),
        twin=rows,
        clamped=clamped,
        layout=layout,
        wind=whole - weight,
        weight=weight,
        gaps=gaps,
        length_m=pads.over_bands(pads.length)[HIGH],
        width_m=pads.over_bands(pads.width)[HIGH],
        skin_N_per_m=pads.over_bands(pads.skin or ON_RIB)[HIGH],
        bend=bend,
    )


def _motion(point: Array) -> Array:
    """Return how each spring moves with the six motions of the item, about the origin: (n, M, 6, 6)."""
    x, y, z = np.moveaxis(point, -1, 0)
    motion = np.zeros((*x.shape, 6, 6))
    motion[...] = np.eye(6)
    motion[..., 0, 4], motion[..., 0, 5] = z, -y
    motion[..., 1, 3], motion[..., 1, 5] = -z, x
    motion[..., 2, 3], motion[..., 2, 4] = y, -x
    return motion


def _both(one: Layout, two: Layout) -> Layout:
    def both(first: Array, second: Array) -> Array:
        return np.concatenate([first, second])

    return Layout(
        point=both(one.point, two.point),
        springs=both(one.springs, two.springs),
        lever_along=both(one.lever_along, two.lever_along),
        lever_across=both(one.lever_across, two.lever_across),
        height=both(one.height, two.height),
    )
