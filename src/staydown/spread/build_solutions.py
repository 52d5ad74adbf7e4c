"""Builds the list of solutions of one item: how foot and item may be joined, and how stiff the tape may be.

The truth lies between a foot that holds the item stiffly (clamped) and one that only pulls at a point
(hinged). The tape's moduli have a say only where points of pull differ in height: springs in one plane share
pulls by tension modulus alone and forces in the plane by shear modulus alone, and one factor on all springs
changes nothing. Elsewhere only their ratio counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Value
from staydown.job.records import Item, Tape
from staydown.library.cards import TapeClassCard
from staydown.loads.load_case import BANDS
from staydown.spread import pad_laws as laws
from staydown.spread.bending_laws import spring_in_series
from staydown.spread.build_pads import Pads
from staydown.spread.lever_sets import build_lever_sets
from staydown.spread.rigid import condition_number, reaction_matrix

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

# A hinged group this badly conditioned is a mechanism for all practical purposes: with moments over the
# group's radius it means points of pull off their common line by less than about 1/300 of that radius, less
# than a person measures; the forces would be the measuring error magnified. Common practice, no source.
HINGED_CONDITION = 1e5
LIKELY, HIGH = BANDS.index("likely"), BANDS.index("high")
# In-plane stiffness that a foot with a free slot keeps: far below its share, far above round-off; where no fixed foot
# is left the slots run out and their feet carry after all. Common practice, no source.
SLOT_SHARE = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Solutions:
    """Solutions by name: clamped (1 or 0) and moduli for each, sides of the levers for (solution, mount).

    everywhere: True where the solution counts in every band, False where only in the high one. holds: share of its
    in-plane stiffness that each foot brings in, (solution, mount): slots are solved stuck and free. [Pa]
    """

    names: tuple[str, ...]
    clamped: Array
    tension_modulus_Pa: Array
    shear_modulus_Pa: Array
    side_along: Array
    side_across: Array
    everywhere: NDArray[np.bool_]
    holds: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Springs of rows of solutions. point: (n, M, 3) [m]; springs: along and about x, y, z, (n, M, 6).

    lever_along, lever_across, height: of the point of pull from the pad's centre, (n, M) [m].
    """

    point: Array
    springs: Array
    lever_along: Array
    lever_across: Array
    height: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """What solves turn a load into; row n belongs to solution[n] in band[n].

    point: of the springs, (n, M, 3) [m]. lever_along, lever_across, height: (n, M) [m].
    matrix: load to each mount's force and moment about its point, (n, M, 6, 6).
    mechanisms: names of hinged solutions left out because a motion would be free.
    """

    solution: Indices
    band: Indices
    point: Array
    lever_along: Array
    lever_across: Array
    height: Array
    matrix: Array
    mechanisms: tuple[str, ...]


def build_solutions(item: Item, tape: Tape, card: TapeClassCard, pads: Pads) -> Solutions:
    """Return clamped and hinged solutions, with each set of levers and each corner of the tape's moduli.

    Mounts in one line cannot be hinged: then the clamped one is alone. Where points of pull differ in height,
    moduli that were not typed are solved at their likely values in every band, and at both ends of their
    ratio in the high band.
    """
    corners = _corners(tape, card)
    likely = corners[0]
    rows = [("clamped", 1.0, *likely[1:], np.zeros((2, len(item.mount))), True)]
    if not in_one_line(pads, *likely[1:]):
        sets = build_lever_sets(item.mount, pads.over_bands(pads.forward)[0], pads.over_bands(pads.left)[0])
        one_height = np.ptp(pads.over_bands(pads.height)) == 0.0
        rows += [
            (name + suffix, 0.0, tension, shear, np.stack([along, across]), not suffix)
            for suffix, tension, shear in corners[: 1 if one_height else None]
            for name, along, across in zip(sets.names, sets.side_along, sets.side_across, strict=True)
        ]
    slides = np.where([bool(mount.slotted) for mount in item.mount], SLOT_SHARE, 1.0)
    count = len(rows)
    if not np.all(slides == 1.0):
        rows += [(f"{row[0]}, slots free", *row[1:]) for row in rows]
    holds = np.ones((len(rows), len(item.mount)))
    holds[count:] = slides
    side = np.array([row[4] for row in rows])
    return Solutions(
        names=tuple(row[0] for row in rows),
        clamped=np.array([row[1] for row in rows]),
        holds=holds,
        tension_modulus_Pa=np.array([row[2] for row in rows]),
        shear_modulus_Pa=np.array([row[3] for row in rows]),
        side_along=side[:, 0],
        side_across=side[:, 1],
        everywhere=np.array([row[5] for row in rows]),
    )


def in_one_line(pads: Pads, tension_modulus_Pa: float, shear_modulus_Pa: float) -> bool:
    """Return whether the pads' centres stand in one line, or are fewer than three."""
    if len(pads.names) < 3:
        return True
    area = pads.over_bands(pads.area)[HIGH]
    pull, shear, none = tension_modulus_Pa * area, shear_modulus_Pa * area, np.zeros_like(area)
    centre = np.stack([pads.over_bands(pads.forward)[HIGH], pads.over_bands(pads.left)[HIGH], none], axis=-1)
    springs = np.stack([shear, shear, pull, none, none, none], axis=-1)
    return bool(condition_number(centre, springs) > HINGED_CONDITION)


def lay_out(
    solutions: Solutions, pads: Pads, tape_thickness_m: float, solution: Indices, band: Indices
) -> Layout:
    """Return where the springs of some solutions stand in some bands, and how stiff they are."""
    clamped = solutions.clamped[solution, None]
    length, width, area = (pads.over_bands(n)[band] for n in (pads.length, pads.width, pads.area))
    pull = laws.pad_spring(solutions.tension_modulus_Pa[solution, None], area, tape_thickness_m)
    if pads.skin is not None:
        pull = spring_in_series(pull, pads.over_bands(pads.skin)[band])
    shear = laws.sliding_spring(
        solutions.holds[solution],
        laws.pad_spring(solutions.shear_modulus_Pa[solution, None], area, tape_thickness_m),
    )
    tilts = (laws.tilt_spring(clamped, pull, width), laws.tilt_spring(clamped, pull, length))
    springs = np.stack(
        [shear, shear, pull, *tilts, laws.twist_spring(clamped, shear, length, width)], axis=-1
    )
    along = _array(
        laws.lever_to_side(solutions.side_along[solution], pads.over_bands(pads.lever_along)[band])
    )
    across = _array(
        laws.lever_to_side(solutions.side_across[solution], pads.over_bands(pads.lever_across)[band])
    )
    height = _array(laws.height_of_pull(clamped, pads.over_bands(pads.height)[band]))
    forward, left = pads.over_bands(pads.forward)[band] + along, pads.over_bands(pads.left)[band] + across
    return Layout(
        point=np.stack([forward, left, height], axis=-1),
        springs=springs,
        lever_along=along,
        lever_across=across,
        height=height,
    )


def solve(solutions: Solutions, pads: Pads, tape_thickness_m: float, lost: Sequence[int] = ()) -> Solved:
    """Return every solution in every band in which it counts, solved for any load; lost mounts carry nothing."""
    counts = solutions.everywhere[:, None] | (np.arange(len(BANDS)) == HIGH)
    solution, band = np.nonzero(counts)
    layout = lay_out(solutions, pads, tape_thickness_m, solution, band)
    layout.springs[:, list(lost)] = 0.0
    held = (solutions.clamped[solution] > 0) | (
        condition_number(layout.point, layout.springs) <= HINGED_CONDITION
    )
    free = tuple(solutions.names[number] for number in np.unique(solution[~held]))
    return Solved(
        solution=solution[held],
        band=band[held],
        point=layout.point[held],
        lever_along=layout.lever_along[held],
        lever_across=layout.lever_across[held],
        height=layout.height[held],
        matrix=reaction_matrix(layout.point[held], layout.springs[held]),
        mechanisms=free,
    )


def _array(value: Value) -> Array:
    return np.asarray(value, dtype=float)


def _corners(tape: Tape, card: TapeClassCard) -> list[tuple[str, float, float]]:
    """Return (suffix of the name, tension modulus, shear modulus): likely or typed first, then the ends."""
    tension, shear = tape.tension_modulus_Pa, tape.shear_modulus_Pa
    bands = card.tension_modulus, card.shear_modulus
    corners = [("", tension or bands[0].likely, shear or bands[1].likely)]
    if tension is None or shear is None:
        corners += [
            (", tape soft in tension and stiff in shear", tension or bands[0].low, shear or bands[1].high),
            (", tape stiff in tension and soft in shear", tension or bands[0].high, shear or bands[1].low),
        ]
    return corners
