"""Builds the answer about a bending item: what bending changes, how far the item moves, whether it meets the roof."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.findings import Finding
from staydown.foundation.law import Law
from staydown.foundation.numbers import Derived, Given, Number, Source, derive, typed
from staydown.foundation.quantities import shown
from staydown.job.records import Item, Tape
from staydown.library.cards import Band, Cards
from staydown.loads.load_case import BANDS, CaseTable
from staydown.spread import bending_laws as laws
from staydown.spread.build_bending import PLACES, Bending
from staydown.spread.build_bow import over_cases
from staydown.spread.build_solutions import HIGH, Solved
from staydown.spread.build_stiffness import ItemStiffness
from staydown.spread.demands import FlexibleAnswer

Array = NDArray[np.float64]

METHOD = "free item's flexibility (thin plate and frame profiles) on the pads' springs, one dense solve"
SOURCE = "Kirchhoff's plate in the element of Bogner, Fox and Schmit (1965); flexibility method of statics"
_PULL = Law(name="bending_pull", unit="N", equation="", symbols={}, source=SOURCE, method=METHOD)
_RIGID_PULL = Law(
    name="rigid_pull",
    unit="N",
    equation="",
    symbols={},
    source="statics of a rigid body on elastic supports",
    method="rigid item on the springs of clamped pads, one linear solve",
)
_LIFT = Law(
    name="lift_of_point",
    unit="m",
    equation="",
    symbols={},
    source=SOURCE,
    method=f"{METHOD}; the largest movement of all ways of joining item and foot",
)
_SAG = Law(
    name="deepest_sag",
    unit="m",
    equation="",
    symbols={},
    source=SOURCE,
    method=f"{METHOD}; how far the lowest of 25 points comes down, in any way of joining item and foot",
)
_ROOF = Law(
    name="force_of_roof",
    unit="N",
    equation="",
    symbols={},
    source="unilateral support of least energy; non-negative least squares, Lawson and Hanson 1974, from memory",
    method="25 points that may be pushed up and not pulled down, a roof that does not give; the most of all ways of "
    "joining item and foot",
)
_BOWED = Law(
    name="pull_by_bow",
    unit="N",
    equation="",
    symbols={},
    source=SOURCE,
    method=f"{METHOD}; the mounts hold down the shape that the free item takes",
)


def build_flexible(
    item: Item,
    place: str,
    tape: Tape,
    tape_place: str,
    cards: Cards,
    table: CaseTable,
    stiffness: ItemStiffness,
    bending: Bending,
    rigid: Solved,
    bow: tuple[Number, Number],
) -> FlexibleAnswer:
    """Return what bending changes on the mounts, how far the item moves and how it bows in the sun.

    Parameters
    ----------
    stiffness, bending : ItemStiffness, Bending
        From `build_stiffness` and `build_bending`.
    rigid : Solved
        The rigid item on the same mounts.
    bow : tuple of Number
        From `free_bow` and `bow_by_case`.
    """
    item_alone = stiffness_inputs(stiffness)
    inputs = item_alone | _bond_inputs(tape, tape_place, cards) | _load_inputs(table)
    pull = Derived(value=_clamped_pull(bending), unit="N", law=_PULL, inputs=inputs)
    worst = derive(laws.largest_pull, pull_N=pull)
    rigid_pull = Derived(
        value=_rigid_pull(rigid, table), unit="N", law=_RIGID_PULL, inputs=_load_inputs(table)
    )
    change = derive(
        laws.change_by_bending,
        bending_pull_N=worst,
        rigid_pull_N=derive(laws.largest_pull, pull_N=rigid_pull),
    )
    curvature, held_down = bow
    lift, deepest = _movements(bending, over_cases(held_down, table))
    moved_by = inputs | {"bow_one_per_m": held_down}
    sag = Derived(value=deepest[..., None], unit="m", law=_SAG, inputs=moved_by)
    closed = None
    if item.gap_m > 0.0:
        gap = typed(item.gap_m, "m", f"{place}.gap")
        closed = derive(laws.gap_closed, sag_m=sag, gap_m=gap)
    below: dict[str, Number] = {} if item.gap_m <= 0.0 else {"gap_m": typed(item.gap_m, "m", f"{place}.gap")}
    roof = Derived(value=_roof(bending), unit="N", law=_ROOF, inputs=inputs | {"sag_m": sag} | below)
    longer = "length" if item.length_m >= item.width_m else "width"
    side = typed(max(item.length_m, item.width_m), "m", f"{place}.{longer}")
    bow_pull = Derived(
        value=_bow_pull(bending) * np.asarray(curvature.value),
        unit="N",
        law=_BOWED,
        inputs={"curvature_one_per_m": curvature, **item_alone, **_bond_inputs(tape, tape_place, cards)},
    )
    return FlexibleAnswer(
        pull=pull,
        change=change,
        places=PLACES,
        lift=Derived(value=lift, unit="m", law=_LIFT, inputs=moved_by),
        sag=sag,
        gap_closed=closed,
        roof=roof,
        bow=derive(laws.bow_of_side, curvature_one_per_m=curvature, side_m=side),
        bow_pull=bow_pull,
        counted=stiffness.own,
        residual=bending.residual,
        findings=(
            *_changed(place, table, pull, change, cards, counted=stiffness.own),
            *_touching(item, place, table, roof, (sag, closed), counted=stiffness.own),
        ),
    )


def stiffness_inputs(stiffness: ItemStiffness) -> dict[str, Number]:
    """Return the item's stiffness as inputs of a solve, by name."""
    return {
        "laminate_bending_stiffness_Nm": stiffness.laminate,
        "laminate_poisson": stiffness.poisson,
        "frame_bending_stiffness_N_m2": stiffness.frame,
        "frame_torsion_stiffness_N_m2": stiffness.frame_twist,
    }


def _bond_inputs(tape: Tape, tape_place: str, cards: Cards) -> dict[str, Number]:
    """Return what the pads' springs are made of beside their areas: the tape's thickness and moduli."""
    card = cards.tapes[tape.kind]

    def modulus(own: float | None, band: Band, name: str) -> Given:
        if own is not None:
            return typed(own, "Pa", f"{tape_place}.{name}")
        source = Source(
            basis=band.basis,
            title=f"{band.source}; decided on the worse of likely and stiff",
            place=f"{card.id}.{name}",
            band=(band.low, band.likely, band.high),
        )
        return Given(value=band.likely, unit=band.unit, source=source)

    return {
        "tape_thickness_m": typed(tape.thickness_m, "m", f"{tape_place}.thickness"),
        "tension_modulus_Pa": modulus(tape.tension_modulus_Pa, card.tension_modulus, "tension_modulus"),
        "shear_modulus_Pa": modulus(tape.shear_modulus_Pa, card.shear_modulus, "shear_modulus"),
    }


def _load_inputs(table: CaseTable) -> dict[str, Number]:
    """Return the load on the item, force and moment, by axis."""
    loads: dict[str, Number] = {}
    for axis, force, moment in zip("xyz", table.force, table.moment, strict=True):
        loads |= {f"load_{axis}_N": force, f"load_about_{axis}_Nm": moment}
    return loads


def _clamped_pull(bending: Bending) -> Array:
    """Return the pull of the clamped bending item, the tape at its likely modulus: (case, band, mount)."""
    clamped = bending.solution == 0  # the first way of joining, in every band
    return bending.on[clamped, :, 2].transpose(2, 0, 1)


def _rigid_pull(rigid: Solved, table: CaseTable) -> Array:
    """Return the pull of the clamped rigid item: (case, band, mount)."""
    clamped = rigid.solution == 0  # the first way of joining, in every band
    load = np.concatenate([table.force_N, table.moment_Nm], axis=-1)
    pull: Array = np.einsum("bml,cbl->cbm", rigid.matrix[clamped, :, 2], load)
    return pull


def _movements(bending: Bending, bow: Array) -> tuple[Array, Array]:
    """Return the largest lift of the named points, (case, band, point), and the deepest sag of all, (case, band).

    bow: curvature held down, over (case, band). [1/m]
    """
    largest, deepest = [], []
    for band in range(len(BANDS)):
        rows = bending.band == band
        lift = bending.lift[rows] + bending.bowed_lift[rows][..., None] * bow[:, band]
        most = np.argmax(np.abs(lift), axis=0, keepdims=True)
        largest.append(np.take_along_axis(lift, most, axis=0)[0, : len(PLACES)].T)
        deepest.append(-lift.min(axis=(0, 1)))
    return np.stack(largest, axis=1), np.stack(deepest, axis=1)


def _bow_pull(bending: Bending) -> Array:
    """Return what a bow of curvature 1 pulls at each mount, the most of all ways of joining: (1, band, mount)."""
    warm = bending.solutions.everywhere[bending.solution]
    pulls = [bending.bowed[warm & (bending.band == band), :, 2].max(axis=0) for band in range(len(BANDS))]
    return np.stack(pulls)[None]


def _changed(
    place: str, table: CaseTable, pull: Number, change: Number, cards: Cards, *, counted: bool
) -> Iterator[Finding]:
    """Yield a warning where bending changes the worst mount notably, in the case where it does so most.

    Cases whose worst mount is pulled less than a third as hard as in the worst case are left out.
    """
    worst = np.asarray(pull.value)[:, HIGH].max(axis=1)
    changes = np.abs(np.asarray(change.value)[:, HIGH, 0])
    case = int(np.argmax(np.where((worst >= worst.max() / 3) & np.isfinite(changes), changes, -1.0)))
    by = float(np.asarray(change.value)[case, HIGH, 0])
    if abs(by) > float(cards.planning["bending_notice"].decided.value):
        word = "more" if by > 0 else "less"
        yield _finding(
            f"{place}.mount",
            f"the item bends: its worst mount carries {100 * abs(by):.0f} % {word} than under a rigid item"
            f" ({table.cases[case].name}, {table.cases[case].exposure.season})",
            "it is counted; a stiffer frame or mounts closer together share the load better"
            if counted
            else "that is for a usual item of its kind, and not counted: give laminate_bending_stiffness, and"
            " frame_bending_stiffness if it has a frame",
        )


def _touching(
    item: Item,
    place: str,
    table: CaseTable,
    roof: Number,
    down: tuple[Number, Number | None],
    *,
    counted: bool,
) -> Iterator[Finding]:
    """Yield a warning where the item bends or sags down to the roof: by how much, in which case, what keeps it off."""
    sag, closed = down
    if closed is None:
        return
    share = np.asarray(closed.value)[:, HIGH, 0]
    case = int(np.argmax(share))
    if share[case] >= 1.0:
        deep = float(np.asarray(sag.value)[case, HIGH, 0])
        carried = float(np.asarray(roof.value)[case, HIGH, 0])
        others = int((share >= 1.0).sum()) - 1
        more = "" if not others else f", and in {others} case{'s' if others > 1 else ''} more"
        mounts = (
            "its mounts are judged with and without the roof, the worse counts"
            if counted
            else "its mounts are judged without that, as of a rigid item"
        )
        yield _finding(
            f"{place}.gap",
            f"the item touches the roof: it would come down by {_fine(deep)} over a gap of {_fine(item.gap_m)}"
            f" ({table.cases[case].name}, {table.cases[case].exposure.season}{more}); the roof then carries up to"
            f" {shown(carried, 'N')}, {mounts}",
            f"feet higher by {_fine(deep - item.gap_m)}, a mount where it comes down or a stiffer item keeps it off;"
            " where it touches it chafes and dents",
        )


def _fine(length_m: float) -> str:
    return f"{shown(length_m, 'm', decimals=1)} ({shown(length_m, 'm', 'us', 2)})"


def _roof(bending: Bending) -> Array:
    """Return the largest force of the roof in any way of joining, 0 where none touches: (case, band, 1)."""
    most = np.zeros((bending.on.shape[-1], len(BANDS), 1))
    touches = bending.touches
    if touches is not None:
        carried = touches.roof.sum(axis=1)
        for band in range(len(BANDS)):
            mine = carried[bending.band[touches.rows] == band]
            if len(mine):
                most[:, band, 0] = mine.max(axis=0)
    return most


def _finding(key: str, rule: str, hint: str) -> Finding:
    return Finding(file="job.toml", line=None, key=key, value="", rule=rule, hint=hint, grade="warning")
