"""Builds the daily thermal shear strain of each pad: item and foot against the roof, between hot and cold soak."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any

from staydown.foundation.findings import Finding
from staydown.foundation.numbers import (
    Chosen,
    Given,
    Number,
    Source,
    choose,
    definition,
    derive,
    given,
    typed,
)
from staydown.foundation.quantities import both
from staydown.job.records import Item, Tape
from staydown.library.cards import Band, Cards, MaterialCard, PlanningValue, TapeClassCard
from staydown.loads import heat_laws
from staydown.loads.load_case import SoakTemperatures
from staydown.spread import pad_laws

Pick = Callable[..., Any]  # min or max

SLIDES = definition(0.0, "1", "slotted: the item slides on this foot, friction left out")
LEFT_OUT = definition(0.0, "1", "left out: this part is looked at by itself")
YIELDS = definition(0.0, "Pa", "a tape that gives: its strain is limited instead of its stress")
ANY_LENGTH = definition(math.inf, "m", "foot and roof move alike: any length")
NO_GAP = given(0.0, "m", "default", "gap under the feet not given: taken as none", "fit_gap")


@dataclass(frozen=True, slots=True, kw_only=True)
class Thermal:
    """Daily shear strain each way of every pad, over (1, 1, mount), and the distance from the stiffness centre. [1, m]

    strain: at the unfavourable ends of the expansion bands, which decides. least: at the favourable ends, what is
    left when every unknown turns out well. longest_foot: whose ends would just keep the limit [m]. stress: what the
    strain leaves in a rigid adhesive, 0 in a tape that gives; item_stress, foot_stress: of it by the item, and by the
    foot's own length [Pa]. fit, fit_stress: strain and tension that a gap
    pressed shut leaves for good [1, Pa]. rigid: the class judges its thermal stress by coupons.
    """

    strain: Number
    least: Number
    distance: Number
    spans: Mapping[str, Number]
    longest_foot: Number
    stress: Number
    item_stress: Number
    foot_stress: Number
    fit: Number
    fit_stress: Number
    rigid: bool
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strains:
    """Strains over the whole span, one a mount: of the item, of the foot at its end, and the foot's mismatch."""

    of_item: list[Number]
    of_foot: list[Number]
    foot_mismatch: list[Number]

    def each_way(self, *, item: bool = True, foot: bool = True) -> Number:
        """Return item and foot summed, half of the span each way; or one of them alone."""
        return derive(
            heat_laws.strain_each_way,
            item_strain=choose(self.of_item, axis=2, why="one pad each") if item else LEFT_OUT,
            foot_strain=choose(self.of_foot, axis=2, why="one pad each") if foot else LEFT_OUT,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parts:
    """What moves: the item on its mounts, its tape and roof, and by how much the temperature of each changes."""

    item: Item
    place: str
    tape: Tape
    tape_place: str
    tape_class: TapeClassCard
    item_material: MaterialCard
    feet: tuple[MaterialCard, ...]
    roof: Band
    surface: str
    item_change: Number
    roof_changes: tuple[Number, ...]

    @property
    def thickness(self) -> Given:
        return typed(self.tape.thickness_m, "m", f"{self.tape_place}.thickness")

    def mount_place(self, number: int) -> str:
        """Return the dotted place of a mount counted from 0."""
        return f"{self.place}.mount.{number + 1}"


def build_thermal(
    item: Item,
    place: str,
    tape: Tape,
    tape_place: str,
    cards: Cards,
    soak: SoakTemperatures,
    surface: str,
) -> Thermal:
    """Return the thermal shear strain of each pad at the unfavourable end of the expansion bands.

    Parameters
    ----------
    item, place : Item, str
        The item and its dotted place.
    tape, tape_place : Tape, str
        The tape, which gives the thickness that is sheared.
    cards : Cards
        Expansions and planning values, the job's overrides applied.
    soak : SoakTemperatures
        Item and roof, hot and cold, each with its own temperatures.
    surface : str
        Id of the roof's surface card.
    """
    parts = _parts(item, place, tape, tape_place, cards, soak, surface)
    distances = _distances(parts)
    worst = _strains(parts, distances, max)
    strain = worst.each_way()
    fit = choose([_fit_strain(parts, number) for number in range(len(item.mount))], axis=2)
    return Thermal(
        strain=strain,
        least=_strains(parts, distances, min).each_way(),
        distance=choose(distances, axis=2, why="one pad each"),
        spans={"item": parts.item_change, "roof": choose(parts.roof_changes, axis=2)},
        longest_foot=_longest_feet(parts, worst, cards.planning["thermal_strain_limit"]),
        stress=_stress(parts, strain),
        item_stress=_stress(parts, worst.each_way(foot=False)),
        foot_stress=_stress(parts, worst.each_way(item=False)),
        fit=fit,
        fit_stress=derive(
            heat_laws.fit_stress, tension_modulus_Pa=_modulus(parts, "tension_modulus"), strain=fit
        ),
        rigid=parts.tape_class.rigid,
        findings=tuple(_doubts(parts, cards.planning["fit_limit"])),
    )


def _stress(parts: _Parts, strain: Number) -> Number:
    """Return what a strain leaves in a rigid adhesive whose sheets do not give."""
    if not parts.tape_class.rigid:
        return YIELDS
    modulus = _modulus(parts, "shear_modulus")
    return derive(heat_laws.thermal_shear_stress, shear_modulus_Pa=modulus, strain=strain)


def _parts(
    item: Item, place: str, tape: Tape, tape_place: str, cards: Cards, soak: SoakTemperatures, surface: str
) -> _Parts:
    kind = cards.kinds[item.kind or "other"]
    hot, cold = soak.roof_hot, soak.roof_cold
    by_ends: dict[tuple[int, int], Number] = {}
    changes = []
    for number in range(len(item.mount)):
        ends = _of_mount(hot, number), _of_mount(cold, number)
        key = (id(ends[0]), id(ends[1]))
        if key not in by_ends:
            by_ends[key] = derive(heat_laws.temperature_span, hot_K=ends[0], cold_K=ends[1])
        changes.append(by_ends[key])
    return _Parts(
        item=item,
        place=place,
        tape=tape,
        tape_place=tape_place,
        tape_class=cards.tapes[tape.kind],
        item_material=cards.materials[item.material or kind.material],
        feet=tuple(cards.materials[mount.foot_material or "aluminium"] for mount in item.mount),
        roof=cards.surfaces[surface].expansion,
        surface=surface,
        item_change=derive(heat_laws.temperature_span, hot_K=soak.item_hot, cold_K=soak.item_cold),
        roof_changes=tuple(changes),
    )


def _of_mount(number: Number, mount: int) -> Number:
    """Return one mount's number out of numbers side by side over mounts."""
    if isinstance(number, Chosen) and number.axis == 2:
        return number.items[mount]
    return number


def _strains(parts: _Parts, distances: list[Number], pick: Pick) -> _Strains:
    """Return the strains with every mismatch taken at one end of its bands.

    A foot stands between item and roof; it is taken as warm as either, whichever strains more (or less).
    """
    known: dict[tuple[str, str, int], Number] = {}

    def mismatch(material: MaterialCard, part: str, changes: list[Number], roof_change: Number) -> Number:
        key = (part, material.id, id(roof_change))
        if key not in known:
            bands = (
                (material.expansion, f"material {material.id}"),
                (parts.roof, f"surface {parts.surface}"),
            )
            ends = [end for change in changes for end in _mismatches(bands, (change, roof_change))]
            known[key] = pick(ends, key=lambda one: float(one.value))
        return known[key]

    def sheared(mismatched: Number, distance: Number) -> Number:
        return derive(
            heat_laws.thermal_shear_strain,
            mismatch=mismatched,
            distance_m=distance,
            thickness_m=parts.thickness,
        )

    of_item, of_foot, foot_mismatch = [], [], []
    for number, (mount, foot) in enumerate(zip(parts.item.mount, parts.feet, strict=True)):
        roof_change = parts.roof_changes[number]
        side = max(mount.pad.length_m, mount.pad.width_m)
        half = derive(heat_laws.half_length, side_m=typed(side, "m", f"{parts.mount_place(number)}.pad"))
        moved = mismatch(parts.item_material, "item", [parts.item_change], roof_change)
        own = mismatch(foot, "foot", [parts.item_change, roof_change], roof_change)
        of_item.append(SLIDES if mount.slotted else sheared(moved, distances[number]))
        of_foot.append(sheared(own, half))
        foot_mismatch.append(own)
    return _Strains(of_item=of_item, of_foot=of_foot, foot_mismatch=foot_mismatch)


def _mismatches(
    bands: tuple[tuple[Band, str], tuple[Band, str]], changes: tuple[Number, Number]
) -> list[Number]:
    """Return the mismatch of two parts at every pair of ends of their expansions."""

    def end(band: Band, value: float, name: str) -> Given:
        source = Source(
            basis=band.basis, title=band.source, place=name, band=(band.low, band.likely, band.high)
        )
        return Given(value=value, unit=band.unit, source=source)

    (first, first_id), (second, second_id) = bands
    return [
        derive(
            heat_laws.mismatch_strain,
            first_expansion_one_per_K=end(first, one, first_id),
            first_change_K=changes[0],
            second_expansion_one_per_K=end(second, two, second_id),
            second_change_K=changes[1],
        )
        for one, two in product((first.low, first.high), (second.low, second.high))
    ]


def _distances(parts: _Parts) -> list[Number]:
    """Return how far each pad stands from the point that stays put: fixed pads weigh with their areas."""
    item = parts.item
    length = typed(item.length_m, "m", f"{parts.place}.length")
    places: list[tuple[Number, Number]] = []
    areas: list[Number] = []
    for number, mount in enumerate(item.mount):
        key = parts.mount_place(number)
        x = derive(
            pad_laws.forward_of_centre,
            item_length_m=length,
            behind_front_edge_m=typed(mount.behind_m, "m", f"{key}.behind"),
        )
        places.append((x, typed(mount.left_m, "m", f"{key}.left")))
        areas.append(
            derive(
                pad_laws.pad_area,
                pad_length_m=typed(mount.pad.length_m, "m", f"{key}.pad"),
                pad_width_m=typed(mount.pad.width_m, "m", f"{key}.pad"),
            )
        )
    every = range(len(item.mount))
    holding = [number for number in every if not item.mount[number].slotted] or list(every)
    area = choose([areas[number] for number in holding], axis=2, why="one pad each")
    centre = [
        derive(
            heat_laws.weighted_centre,
            place_m=choose([places[number][axis] for number in holding], axis=2),
            area_m2=area,
        )
        for axis in (0, 1)
    ]
    return [
        derive(heat_laws.plane_distance, x_m=x, centre_x_m=centre[0], y_m=y, centre_y_m=centre[1])
        for x, y in places
    ]


def _longest_feet(parts: _Parts, worst: _Strains, limit: PlanningValue) -> Number:
    feet: list[Number] = []
    for item_strain, mismatch in zip(worst.of_item, worst.foot_mismatch, strict=True):
        if float(mismatch.value) == 0.0:
            feet.append(ANY_LENGTH)
            continue
        feet.append(
            derive(
                heat_laws.longest_foot,
                thickness_m=parts.thickness,
                strain_limit=limit.decided,
                item_strain=item_strain,
                foot_mismatch=mismatch,
            )
        )
    return choose(feet, axis=2, why="one pad each")


def _fit_strain(parts: _Parts, number: int) -> Number:
    gap = parts.item.mount[number].fit_gap_m
    known = NO_GAP if gap is None else typed(gap, "m", f"{parts.mount_place(number)}.fit_gap")
    return derive(heat_laws.fit_strain, gap_m=known, thickness_m=parts.thickness)


def _modulus(parts: _Parts, name: str) -> Number:
    """Return a modulus of the tape as typed, else on the stiff end of its class."""
    own = getattr(parts.tape, f"{name}_Pa")
    if own is not None:
        return typed(own, "Pa", f"{parts.tape_place}.{name}")
    band: Band = getattr(parts.tape_class, name)
    ends = (band.low, band.likely, band.high)
    source = Source(basis=band.basis, title=band.source, place=f"{parts.tape_class.id}.{name}", band=ends)
    return Given(value=band.high, unit=band.unit, source=source)


def _doubts(parts: _Parts, limit: PlanningValue) -> Iterator[Finding]:
    """Yield a warning for each foot that was pressed down over too wide a gap."""
    most_m = float(limit.decided.value) * parts.tape.thickness_m
    for number, mount in enumerate(parts.item.mount):
        if mount.fit_gap_m is not None and mount.fit_gap_m > most_m:
            yield Finding(
                file="job.toml",
                line=None,
                key=f"{parts.mount_place(number)}.fit_gap",
                value="",
                rule=f"is over {100 * float(limit.decided.value):g} % of the tape: pressed shut it pulls for good",
                hint=f"shim or shape the foot until at most {both(most_m, 'm')} is left, or take a thicker tape",
                grade="warning",
            )
