"""Builds the daily thermal shear strain of each pad: item and foot against the roof, between hot and cold soak."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any

from staydown.foundation.numbers import Given, Number, Source, choose, derive, typed
from staydown.job.records import Climate, Item, Mount, Tape
from staydown.library.cards import Band, Cards, MaterialCard, PlanningValue
from staydown.loads import heat_laws
from staydown.spread import pad_laws

Pick = Callable[..., Any]  # min or max


@dataclass(frozen=True, slots=True, kw_only=True)
class Thermal:
    """Daily shear strain each way of every pad, over (1, 1, mount), and the distance from the stiffness centre. [1, m]

    strain: at the unfavourable ends of the expansion bands, which decides. least: at the favourable ends, what is
    left when every unknown turns out well.
    """

    strain: Number
    least: Number
    distance: Number
    spans: Mapping[str, Number]


def build_thermal(
    item: Item,
    place: str,
    tape: Tape,
    tape_place: str,
    cards: Cards,
    climate: Climate,
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
    climate : Climate
        Hottest and coldest air, sun.
    surface : str
        Id of the roof's surface card.
    """
    planning = cards.planning
    spans = _spans(climate, planning)
    roof = cards.surfaces[surface].expansion
    fixed = _stiffness_centre(item, place)
    distance = choose(
        [
            derive(heat_laws.plane_distance, x_m=x, centre_x_m=fixed[0], y_m=y, centre_y_m=fixed[1])
            for x, y in _centres(item, place)
        ],
        axis=2,
        why="one pad each",
    )
    thickness = typed(tape.thickness_m, "m", f"{tape_place}.thickness")
    feet = [_half_foot(mount, f"{place}.mount.{number}") for number, mount in enumerate(item.mount, start=1)]
    materials = [cards.materials[mount.foot_material or "aluminium"] for mount in item.mount]

    def strain_at(pick: Pick) -> Number:
        """Return the strain with every mismatch taken at one end of its bands."""

        def mismatch(material: MaterialCard, change: Number) -> Number:
            pair = ((material.expansion, f"material {material.id}"), (roof, f"surface {surface}"))
            return _mismatch(pair, (change, spans["roof"]), pick)

        def sheared(mismatch: Number, distance: Number) -> Number:
            return derive(
                heat_laws.thermal_shear_strain, mismatch=mismatch, distance_m=distance, thickness_m=thickness
            )

        of_item = sheared(mismatch(_item_material(item, cards), spans["item"]), distance)
        of_feet = [
            sheared(mismatch(material, spans["roof"]), half)
            for material, half in zip(materials, feet, strict=True)
        ]
        foot = choose(of_feet, axis=2, why="one pad each")
        return derive(heat_laws.strain_each_way, item_strain=of_item, foot_strain=foot)

    return Thermal(strain=strain_at(max), least=strain_at(min), distance=distance, spans=spans)


def _half_foot(mount: Mount, place: str) -> Number:
    side = max(mount.pad.length_m, mount.pad.width_m)
    return derive(heat_laws.half_length, side_m=typed(side, "m", f"{place}.pad"))


def _spans(climate: Climate, planning: Mapping[str, PlanningValue]) -> dict[str, Number]:
    hottest = typed(climate.hottest_K, "K", "climate.hottest")
    coldest = typed(climate.coldest_K, "K", "climate.coldest")
    sun: Number = (
        planning["sun"].decided
        if climate.sun_W_per_m2 is None
        else typed(climate.sun_W_per_m2, "W/m2", "climate.sun")
    )

    def span(card: str) -> Number:
        hot = derive(
            heat_laws.parked_temperature,
            air_temperature_K=hottest,
            sun_factor_K_m2_per_W=planning[card].decided,
            sun_W_per_m2=sun,
        )
        return derive(heat_laws.temperature_span, hot_K=hot, cold_K=coldest)

    return {"item": span("sun.item"), "roof": span("sun.under_item")}


def _item_material(item: Item, cards: Cards) -> MaterialCard:
    if item.material is not None:
        return cards.materials[item.material]
    kind = cards.kinds[item.kind] if item.kind is not None else cards.kinds["other"]
    return cards.materials[kind.material]


def _centres(item: Item, place: str) -> list[tuple[Number, Number]]:
    length = typed(item.length_m, "m", f"{place}.length")
    return [
        (
            derive(
                pad_laws.forward_of_centre,
                item_length_m=length,
                behind_front_edge_m=typed(mount.behind_m, "m", f"{place}.mount.{number}.behind"),
            ),
            typed(mount.left_m, "m", f"{place}.mount.{number}.left"),
        )
        for number, mount in enumerate(item.mount, start=1)
    ]


def _stiffness_centre(item: Item, place: str) -> tuple[Number, Number]:
    """Return the centre that stays put: pads of one tape weigh with their areas."""
    areas = [
        derive(
            pad_laws.pad_area,
            pad_length_m=typed(mount.pad.length_m, "m", f"{place}.mount.{number}.pad"),
            pad_width_m=typed(mount.pad.width_m, "m", f"{place}.mount.{number}.pad"),
        )
        for number, mount in enumerate(item.mount, start=1)
    ]
    area = choose(areas, axis=2, why="one pad each")
    pairs = _centres(item, place)
    return (
        derive(heat_laws.weighted_centre, place_m=choose([x for x, _ in pairs], axis=2), area_m2=area),
        derive(heat_laws.weighted_centre, place_m=choose([y for _, y in pairs], axis=2), area_m2=area),
    )


def _mismatch(
    pair: tuple[tuple[Band, str], tuple[Band, str]], changes: tuple[Number, Number], pick: Pick
) -> Number:
    """Return the mismatch of two parts with both expansions at the ends of their bands that `pick` wants."""

    def end(band: Band, value: float, name: str) -> Given:
        source = Source(
            basis=band.basis, title=band.source, place=name, band=(band.low, band.likely, band.high)
        )
        return Given(value=value, unit=band.unit, source=source)

    (first, first_id), (second, second_id) = pair
    ends = [
        derive(
            heat_laws.mismatch_strain,
            first_expansion_one_per_K=end(first, one, first_id),
            first_change_K=changes[0],
            second_expansion_one_per_K=end(second, two, second_id),
            second_change_K=changes[1],
        )
        for one, two in product((first.low, first.high), (second.low, second.high))
    ]
    picked: Number = pick(ends, key=lambda mismatch: float(mismatch.value))
    return picked
