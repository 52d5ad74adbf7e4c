"""Builds the states of the wind: velocity, coefficient of uplift and of drag, speed ratios at the item's edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from staydown.foundation.numbers import Derived, Given, Number, Source, definition, derive, typed
from staydown.job.records import Item, Job, LocalWind
from staydown.library.cards import PlanningValue
from staydown.loads import force_laws, wind_laws
from staydown.loads.case_plan import STORM_BEARINGS, bearing_cosines

ONE = definition(1.0, "1", "definition: one")
CALM = definition(0.0, "m/s", "definition: no wind")


@dataclass(frozen=True, slots=True, kw_only=True)
class WindState:
    """One state of the wind over the roof, from which many cases take their wind. [m/s]

    along, across: components, positive from the front and from the left. parked: the vehicle stands.
    """

    name: str
    along: Number
    across: Number
    speed: Number
    parked: bool

    @property
    def from_front_only(self) -> bool:
        """Return whether the vehicle moves and meets the wind straight from the front."""
        return not self.parked and float(self.across.value) == 0.0 and float(self.along.value) > 0.0


def _state(name: str, along: Number, across: Number, parked: bool = False) -> WindState:
    return WindState(
        name=name,
        along=along,
        across=across,
        speed=derive(wind_laws.air_speed, along_m_per_s=along, across_m_per_s=across),
        parked=parked,
    )


def build_winds(job: Job, planning: Mapping[str, PlanningValue]) -> dict[str, WindState]:
    """Return every state of the wind by name: cruise, gust, crosswind left and right, eight storms, calm."""
    travel = job.travel
    cruise = typed(travel.cruise_speed_m_per_s, "m/s", "travel.cruise_speed")
    top = typed(travel.top_speed_m_per_s, "m/s", "travel.top_speed")
    head = typed(travel.headwind_m_per_s, "m/s", "travel.headwind")
    if travel.crosswind_m_per_s is None:
        cross: Given = Given(
            value=travel.headwind_m_per_s,
            unit="m/s",
            source=Source(
                basis="default", title="crosswind not given: taken as the headwind", place="travel.headwind"
            ),
        )
    else:
        cross = typed(travel.crosswind_m_per_s, "m/s", "travel.crosswind")
    gust = (
        given_gust("travel.headwind_is") if travel.headwind_is == "gust" else planning["gust_factor"].decided
    )

    def driving(speed: Number, factor: Number) -> Derived:
        return derive(
            wind_laws.headwind_air_speed, vehicle_speed_m_per_s=speed, gust_factor=factor, wind_m_per_s=head
        )

    def component(factor: Number, wind: Number, cosine: float) -> Number:
        if cosine == 0.0:
            return CALM
        return derive(
            wind_laws.wind_component,
            gust_factor=factor,
            wind_m_per_s=wind,
            direction_cosine=definition(cosine, "1", "direction the wind comes from"),
        )

    states = {
        "calm": WindState(name="calm", along=CALM, across=CALM, speed=CALM, parked=True),
        "cruise": _state("cruise", driving(cruise, ONE), CALM),
        "gust": _state("gust", driving(top, gust), CALM),
    }
    top_with_mean = driving(top, ONE)
    for name, side in (("left", 1.0), ("right", -1.0)):
        states[f"crosswind {name}"] = _state(f"crosswind {name}", top_with_mean, component(gust, cross, side))
    storm = typed(job.climate.storm_gust_m_per_s, "m/s", "climate.storm_gust")
    for name in STORM_BEARINGS:
        along, across = bearing_cosines(name)
        states[f"storm {name}"] = _state(
            f"storm {name}", component(ONE, storm, along), component(ONE, storm, across), parked=True
        )
    return states


def given_gust(place: str) -> Given:
    """Return the gust factor of winds that the person gave as gusts."""
    return Given(
        value=1.0,
        unit="1",
        source=Source(basis="typed", title="the headwind was given as a gust", place=place),
    )


def edge_bands(
    item: Item, place: str, job: Job, planning: Mapping[str, PlanningValue]
) -> dict[str, PlanningValue]:
    """Return for each edge of an item the planning value of uplift when that edge faces the wind."""
    behind = typed(item.behind_roof_front_m, "m", f"{place}.behind_roof_front")
    left = given_or_zero(item.left_of_centre_m, f"{place}.left_of_centre", "m")
    width = typed(item.width_m, "m", f"{place}.width")
    roof_width = typed(job.vehicle.roof_width_m, "m", "vehicle.roof_width")

    def side(sign: float) -> Derived:
        return derive(
            force_laws.side_distance,
            roof_width_m=roof_width,
            side=definition(sign, "1", "left is positive"),
            left_of_centre_m=left,
            width_m=width,
        )

    distances: dict[str, Number] = {
        "front": behind,
        "rear": derive(
            force_laws.rear_distance,
            roof_length_m=typed(job.vehicle.roof_length_m, "m", "vehicle.roof_length"),
            behind_front_m=behind,
            length_m=typed(item.length_m, "m", f"{place}.length"),
        ),
        "left": side(1.0),
        "right": side(-1.0),
    }
    near = float(planning["near_edge_distance"].decided.value)
    flush = item.gap_m == 0.0 and item.front_edge == "sealed"
    bands = {}
    for edge, distance in distances.items():
        treated = edge == "front" and item.front_edge in ("deflected", "sealed")
        treatment = "flush" if flush else "deflected" if treated else "open"
        region = "near_edge" if float(distance.value) < near else "inner"
        bands[edge] = planning[f"uplift.{treatment}.{region}"]
    return bands


def given_or_zero(value: float | None, place: str, unit: str) -> Given:
    """Return a typed value, or zero with the note that it was left out."""
    if value is None:
        source = Source(basis="default", title="left out: taken as zero", place=place)
        return Given(value=0.0, unit=unit, source=source)
    return typed(value, unit, place)


def banded(card: PlanningValue) -> Given:
    """Return all three ends of a planning value along the band axis."""
    band = card.band
    ends = (band.low, band.likely, band.high)
    return Given(
        value=np.array(ends).reshape(1, 3, 1),
        unit=band.unit,
        source=Source(basis=band.basis, title=band.source, place=card.id, band=ends),
    )


def flat_coefficient(state: WindState, bands: Mapping[str, PlanningValue]) -> Number:
    """Return the flat uplift coefficient of a wind state: the largest of the windward edges' values."""
    faces = {
        "front": float(state.along.value) > 0.0,
        "rear": float(state.along.value) < 0.0,
        "left": float(state.across.value) > 0.0,
        "right": float(state.across.value) < 0.0,
    }
    windward = [bands[edge] for edge, faced in faces.items() if faced]
    return banded(max(windward, key=lambda card: card.band.high))


def coefficient_of(state: WindState, item: Item, place: str, bands: Mapping[str, PlanningValue]) -> Number:
    """Return the net uplift coefficient of an item in a wind state, over the band axis."""
    measured = item.uplift_coefficient
    if measured is not None and state.from_front_only:
        ends = (measured.low, measured.likely, measured.high)
        return Given(
            value=np.array(ends).reshape(1, 3, 1),
            unit="1",
            source=Source(
                basis="typed",
                title=f"measured: {measured.source}",
                place=f"{place}.uplift_coefficient",
                band=ends,
            ),
        )
    flat = flat_coefficient(state, bands)
    nose_up = given_or_zero(item.nose_up_rad, f"{place}.nose_up", "rad")
    if float(nose_up.value) <= 0.0:
        return flat
    incidence = derive(
        wind_laws.wind_incidence,
        nose_up_rad=nose_up,
        along_m_per_s=state.along,
        air_speed_m_per_s=state.speed,
    )
    ratio = derive(
        wind_laws.aspect_ratio,
        across_m=typed(item.width_m, "m", f"{place}.width"),
        along_m=typed(item.length_m, "m", f"{place}.length"),
    )
    return derive(
        wind_laws.uplift_coefficient,
        flat_coefficient=flat,
        incidence_coefficient=derive(
            wind_laws.incidence_coefficient, incidence_rad=incidence, aspect_ratio=ratio
        ),
        separated_coefficient=derive(wind_laws.separated_plate_coefficient, incidence_rad=incidence),
    )


def edge_drag_coefficient(item: Item, place: str, side_m: float, side_key: str) -> Number:
    """Return the drag coefficient of one edge: the person's own, or that of a plate of its shape."""
    if item.drag_coefficient is not None:
        return typed(item.drag_coefficient, "1", f"{place}.drag_coefficient")
    ratio = derive(
        wind_laws.aspect_ratio,
        across_m=typed(side_m, "m", f"{place}.{side_key}"),
        along_m=typed(item.thickness_m, "m", f"{place}.thickness"),
    )
    return derive(wind_laws.plate_drag_coefficient, aspect_ratio=ratio)


def _measured_ratio(
    places: Sequence[tuple[int, LocalWind]], where: Number, planning: Mapping[str, PlanningValue]
) -> Number:
    if not places:
        return ONE
    ordered = sorted(places, key=lambda pair: pair[1].behind_front_m)

    def ratio(pair: tuple[int, LocalWind]) -> Given:
        return typed(pair[1].speed_ratio, "1", f"vehicle.local_wind.{pair[0]}.speed_ratio")

    x = float(where.value)
    below = [pair for pair in ordered if pair[1].behind_front_m <= x]
    above = [pair for pair in ordered if pair[1].behind_front_m >= x]
    if below and above:
        first, second = below[-1], above[0]
        if first[1].behind_front_m == second[1].behind_front_m:
            return ratio(first)
        return derive(
            wind_laws.ratio_between,
            place_m=where,
            first_place_m=typed(first[1].behind_front_m, "m", f"vehicle.local_wind.{first[0]}.behind_front"),
            second_place_m=typed(
                second[1].behind_front_m, "m", f"vehicle.local_wind.{second[0]}.behind_front"
            ),
            first_ratio=ratio(first),
            second_ratio=ratio(second),
        )
    nearest = below[-1] if below else above[0]
    reach = float(planning["local_wind_reach"].decided.value)
    away = round(abs(nearest[1].behind_front_m - x), 6)  # to a micrometre: 0.9 - 0.6 is not 0.3 in binary
    return ratio(nearest) if away <= reach else ONE


def speed_ratios(
    job: Job, item: Item, place: str, planning: Mapping[str, PlanningValue]
) -> tuple[Number, Number]:
    """Return the measured speed ratios at the item's front edge that count for drag and for uplift.

    A shelter (below 1) counts only for what it was measured for; a ratio above 1 raises uplift too.
    """
    where = typed(item.behind_roof_front_m, "m", f"{place}.behind_roof_front")
    numbered = list(enumerate(job.vehicle.local_wind, start=1))
    any_ratio = _measured_ratio(numbered, where, planning)
    drag = _measured_ratio([p for p in numbered if "drag" in p[1].covers], where, planning)
    up = _measured_ratio([p for p in numbered if "uplift" in p[1].covers], where, planning)
    if up is ONE and float(any_ratio.value) > 1.0:
        up = any_ratio
    return drag, up


def ratio_in(state: WindState, ratio: Number) -> Number:
    """Return the speed ratio that holds in a wind state: shelter only from straight ahead, speed-up while moving."""
    if state.parked:
        return ONE
    return ratio if state.from_front_only or float(ratio.value) > 1.0 else ONE
