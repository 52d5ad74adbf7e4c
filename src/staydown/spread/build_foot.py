"""Builds how the feet bend: rigid, flexible or between, what their edges pull, how they fit a curved roof."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Given, Number, Source, Value, choose, definition, derive, typed
from staydown.job.records import Item, Mount, Tape
from staydown.library.cards import Band, Cards, MaterialCard, PlanningValue
from staydown.loads.load_case import BANDS
from staydown.spread import foot_laws as laws
from staydown.spread import pad_laws
from staydown.spread.build_pads import Pads, lever_lies_along
from staydown.spread.feet import Feet, Fit, FootBend, FootKind

Array = NDArray[np.float64]

HIGH = BANDS.index("high")
ALONG = definition(1.0, "1", "the lever lies along the vehicle")
ACROSS = definition(0.0, "1", "the lever lies across the vehicle")


def build_feet(item: Item, place: str, tape: Tape, tape_place: str, cards: Cards, pads: Pads) -> Feet:
    """Return how each foot of an item bends on its tape.

    Parameters
    ----------
    item, place : Item, str
        With at least one mount; its dotted place.
    tape, tape_place : Tape, str
        The tape under the feet.
    cards : Cards
        Class card of the tape, materials, planning values `foot_thickness`, `rigid_below`, `flexible_above`,
        `tape_over_gap`.
    pads : Pads
        What of each pad touches.
    """
    planning = cards.planning
    lies = [lever_lies_along(mount) for mount in item.mount]
    side = choose([_of(pads.length if one else pads.width, n) for n, one in enumerate(lies)], axis=2)
    edge = choose([_of(pads.width if one else pads.length, n) for n, one in enumerate(lies)], axis=2)
    depth = typed(tape.thickness_m, "m", f"{tape_place}.thickness")
    modulus = _layer_modulus(tape, tape_place, cards, pads, depth)
    bed = derive(laws.bed_stiffness, modulus_Pa=modulus, tape_thickness_m=depth)
    plates = [_plate(item, place, n, cards) for n in range(len(item.mount))]
    thickness = choose([thick for thick, _ in plates], axis=2)
    foot_modulus = choose([stiff for _, stiff in plates], axis=2)
    rate = derive(laws.foot_rate, bed_N_per_m3=bed, foot_modulus_Pa=foot_modulus, foot_thickness_m=thickness)
    number = derive(laws.stiffness_number, rate_one_per_m=rate, side_m=side)
    rigid, flexible = planning["rigid_below"].decided, planning["flexible_above"].decided
    return Feet(
        mounts=pads.names,
        kinds=_kinds(pads.over_bands(number)[HIGH], float(rigid.value), float(flexible.value)),
        modulus=modulus,
        rate=rate,
        counted=derive(laws.rate_that_counts, rate_one_per_m=rate, number=number, rigid_below=rigid),
        number=number,
        along=choose([ALONG if one else ACROSS for one in lies], axis=2),
        side=side,
        edge=edge,
        pulled=derive(laws.pulled_length, rate_one_per_m=rate),
        rigid_from=derive(
            laws.least_rigid_thickness,
            bed_N_per_m3=bed,
            side_m=side,
            rigid_below=rigid,
            foot_modulus_Pa=foot_modulus,
        ),
        foot_modulus=foot_modulus,
        thickness=thickness,
        touching=tuple(mount.touching.area_m2 / mount.pad.area_m2 for mount in item.mount),
        fits=tuple(
            _fit(mount, f"{place}.mount.{n}", planning["tape_over_gap"])
            for n, mount in enumerate(item.mount, start=1)
        ),
    )


def peak_on_foot(
    pull_N: Value, about_x_Nm: Value, about_y_Nm: Value, sides_m: tuple[Value, Value], bend: FootBend
) -> Array:
    """Return the peak tension of pads under their feet, rigid or bending, over any axes that broadcast. [Pa]

    pull_N, about_x_Nm, about_y_Nm: what is on the pads, the cases last, the mounts before them. sides_m: length and
    width. bend: its arrays without an axis for the cases.
    """
    peak = np.asarray(pad_laws.peak_tension(pull_N, about_x_Nm, about_y_Nm, *sides_m), dtype=float)
    if not np.any(bend.rate_one_per_m > 0.0):
        return peak
    along = bend.along[..., None]
    edge = laws.foot_edge_stress(
        bend.rate_one_per_m[..., None],
        pull_N,
        laws.moment_along_lever(along, about_x_Nm, about_y_Nm),
        laws.moment_across_lever(along, about_x_Nm, about_y_Nm),
        bend.side_m[..., None],
        bend.edge_m[..., None],
    )
    return np.asarray(laws.larger_stress(peak, edge), dtype=float)


def edge_stress(feet: Feet, pull: Number, about_x: Number, about_y: Number) -> Number:
    """Return what the edges of feet that bend pull, 0 for rigid ones, as a number that explains itself. [Pa]"""
    turns = {"moment_about_x_Nm": about_x, "moment_about_y_Nm": about_y}
    return derive(
        laws.foot_edge_stress,
        rate_one_per_m=feet.counted,
        pull_N=pull,
        along_lever_Nm=derive(laws.moment_along_lever, lever_lies_along=feet.along, **turns),
        across_lever_Nm=derive(laws.moment_across_lever, lever_lies_along=feet.along, **turns),
        side_m=feet.side,
        edge_m=feet.edge,
    )


def _of(number: Number, mount: int) -> Number:
    """Return one mount's number out of numbers side by side over mounts."""
    items = getattr(number, "items", None)
    return number if items is None else items[mount]


def card_ends(band: Band, place: str, order: Sequence[str]) -> Number:
    """Return a card's band along the bands of the loads, in an order that makes the high one unfavourable."""
    ends = (band.low, band.likely, band.high)
    source = Source(basis=band.basis, title=band.source, place=place, band=ends)
    return choose([Given(value=getattr(band, end), unit=band.unit, source=source) for end in order], axis=1)


def _layer_modulus(tape: Tape, tape_place: str, cards: Cards, pads: Pads, depth: Number) -> Number:
    """Return the modulus of the layer; a solid class keeps its volume and is stiffer the thinner it is."""
    card = cards.tapes[tape.kind]
    modulus: Number = (
        typed(tape.tension_modulus_Pa, "Pa", f"{tape_place}.tension_modulus")
        if tape.tension_modulus_Pa is not None
        else card_ends(card.tension_modulus, f"{card.id}.tension_modulus", BANDS)
    )
    if card.bulk_modulus is None:
        return modulus
    shape = derive(
        laws.shape_factor, pad_length_m=pads.length, pad_width_m=pads.width, tape_thickness_m=depth
    )
    return derive(
        laws.with_bulk,
        apparent_Pa=derive(laws.apparent_modulus, modulus_Pa=modulus, shape=shape),
        bulk_modulus_Pa=card_ends(card.bulk_modulus, f"{card.id}.bulk_modulus", BANDS),
    )


def _plate(item: Item, place: str, number: int, cards: Cards) -> tuple[Number, Number]:
    """Return thickness and modulus of one foot's plate; an item glued flat is its own foot where none was typed."""
    mount, key = item.mount[number], f"{place}.mount.{number + 1}"
    thickness: Number = cards.planning["foot_thickness"].decided
    material = mount.foot_material or "aluminium"
    if mount.foot_thickness_m is not None:
        thickness = typed(mount.foot_thickness_m, "m", f"{key}.foot_thickness")
    elif item.gap_m == 0.0:
        thickness = typed(item.thickness_m, "m", f"{place}.thickness")
        material = mount.foot_material or item.material or cards.kinds[item.kind or "other"].material
    card: MaterialCard = cards.materials[material]
    return thickness, card_ends(card.modulus, f"material {card.id}.modulus", tuple(reversed(BANDS)))


def _kinds(number: Array, rigid_below: float, flexible_above: float) -> tuple[FootKind, ...]:
    return tuple(
        "rigid" if one < rigid_below else "between" if one <= flexible_above else "flexible" for one in number
    )


def _fit(mount: Mount, key: str, times: PlanningValue) -> Fit | None:
    """Return how a flat foot fits a curved roof, its longer side along the curve; None on a flat one."""
    if mount.roof_radius_m is None:
        return None
    longer = max(mount.pad.length_m, mount.pad.width_m)
    gap = derive(
        laws.gap_on_curve,
        side_m=typed(longer, "m", f"{key}.pad"),
        radius_m=typed(mount.roof_radius_m, "m", f"{key}.roof_radius"),
    )
    return Fit(gap=gap, least_tape=derive(laws.least_tape_thickness, times_the_gap=times.decided, gap_m=gap))
