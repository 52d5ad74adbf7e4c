"""Builds the table of cases of one item: exposures, parts with their factors, sums in force and moment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from staydown.foundation.exposure import Exposure, Season
from staydown.foundation.numbers import Given, Number, add, choose, definition, derive, typed
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2
from staydown.job.records import Item, Job
from staydown.library.cards import Cards, PlanningValue
from staydown.loads import air_laws, force_laws, wind_laws
from staydown.loads.build_boundary_layer import build_boundary_layer
from staydown.loads.build_heat import Weather
from staydown.loads.build_temperatures import Temperatures, build_temperatures
from staydown.loads.build_winds import (
    ONE,
    WindState,
    build_winds,
    coefficient_of,
    edge_bands,
    edge_drag_coefficient,
    given_or_zero,
    ratio_in,
    speed_ratios,
)
from staydown.loads.case_plan import EDGES, PlannedCase, plan_cases
from staydown.loads.load_case import CaseTable, LoadCase, LoadPart

Planning = Mapping[str, PlanningValue]
Triple = tuple[Number, Number, Number]

NO_FORCE = definition(0.0, "N", "definition: no force")
NO_ARM = definition(0.0, "m", "definition: on the axis")
NO_MOMENT = definition(0.0, "Nm", "definition: no moment")
NO_COEFFICIENT = definition(0.0, "1", "definition: no wind in this case")
WHOLE = definition(1.0, "1", "definition: the load as it is, no factor")
GRAVITY = definition(STANDARD_GRAVITY_m_per_s2, "m/s2", "ISO 80000-3: standard gravity")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Workpiece:
    """What the parts of one item share."""

    job: Job
    item: Item
    place: str
    planning: Planning
    rows: tuple[PlannedCase, ...]
    states: tuple[WindState, ...]
    cases: tuple[LoadCase, ...]
    load_factor: Number

    def size(self, name: str, key: str) -> Given:
        """Return a length of the item as typed. [m]"""
        return typed(getattr(self.item, name), "m", f"{self.place}.{key}")

    @property
    def length(self) -> Given:
        return self.size("length_m", "length")

    @property
    def width(self) -> Given:
        return self.size("width_m", "width")

    @property
    def thickness(self) -> Given:
        return self.size("thickness_m", "thickness")

    @property
    def mass(self) -> Given:
        return typed(self.item.mass_kg, "kg", f"{self.place}.mass")

    @property
    def middle(self) -> Number:
        """Return the height of the item's middle. [m]"""
        return derive(force_laws.mid_height, gap_m=self.size("gap_m", "gap"), thickness_m=self.thickness)

    def acts(self, test: Sequence[bool]) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        """Return a mask over cases."""
        return np.array(test, dtype=bool)

    def where(self, test: Sequence[bool], number: Number, nothing: Number) -> Number:
        """Return a number set on the cases where it acts, nothing elsewhere."""
        if number.value is nothing.value:
            return nothing
        return choose([number if t else nothing for t in test], axis=0)


def build_heat_of(job: Job, item: Item, place: str, cards: Cards) -> Temperatures:
    """Return how warm the bond of each mount is in every case of `build_cases`."""
    return build_temperatures(job, item, place, cards, _rows(job), _weather(job, cards.planning))


def build_cases(
    job: Job, item: Item, place: str, consequence: str, cards: Cards, heat: Temperatures | None = None
) -> CaseTable:
    """Return all cases of one item with what acts in each.

    Parameters
    ----------
    job, item : Job, Item
        The job and one of its items.
    place : str
        Dotted place of the item, such as "item.1".
    consequence : str
        low, medium or high: which load factor counts.
    cards : Cards
        Planning values, roof colours and tape classes, the job's own overrides applied.
    heat : Temperatures
        What `build_heat_of` says, where it is known already.

    Returns
    -------
    CaseTable
        Forces and moments over (case, band, 1), bond temperatures over (case, 1, mount).
    """
    planning = cards.planning
    rows = _rows(job)
    winds = build_winds(job, planning)
    states = tuple(winds[row.wind] for row in rows)
    weather = _weather(job, planning)
    heat = heat or build_temperatures(job, item, place, cards, rows, weather)
    work = _Workpiece(
        job=job,
        item=item,
        place=place,
        planning=planning,
        rows=rows,
        states=states,
        cases=_exposed_cases(job, rows, states, planning, weather, heat.governing),
        load_factor=planning[f"load_factor.{consequence}"].decided,
    )
    parts = [*_wind_parts(work, winds), _weight_part(work), *_inertia_parts(work), *_hand_parts(work)]
    if job.travel.pass_pressure_Pa:
        parts.append(_pressed_part(work, "passing truck"))
    if job.climate.snow_Pa:
        parts.append(_pressed_part(work, "snow"))
    force, moment = _sums(parts)
    return CaseTable(
        cases=work.cases,
        parts=tuple(parts),
        force=force,
        moment=moment,
        temperatures=heat.bond,
        soak=heat.soak,
        beside=(*heat.beside, *build_boundary_layer(item, place, rows, winds, weather)),
        findings=heat.findings,
    )


def with_heat(table: CaseTable, heat: Temperatures) -> CaseTable:
    """Return the same loads at other temperatures of the bonds."""
    cases = tuple(
        replace(
            case,
            bond_temperature=warm,
            exposure=replace(case.exposure, temperature_K=float(warm.value)),
        )
        for case, warm in zip(table.cases, heat.governing, strict=True)
    )
    return replace(
        table,
        cases=cases,
        temperatures=heat.bond,
        soak=heat.soak,
        beside=(*heat.beside, *table.beside[len(heat.beside) :]),
        findings=heat.findings,
    )


def _rows(job: Job) -> tuple[PlannedCase, ...]:
    return plan_cases(passing=bool(job.travel.pass_pressure_Pa), snow=bool(job.climate.snow_Pa))


def unfactored(table: CaseTable, *, only: Sequence[str] | None = None) -> CaseTable:
    """Return the same cases with every load as it is: no factor on it, and the whole weight.

    only: names of the parts that count, such as `weight`; None takes all. No part at all is a table of zeros.
    """
    parts = tuple(replace(part, factor=WHOLE) for part in table.parts if only is None or part.name in only)
    force, moment = _sums(parts)
    return replace(table, parts=parts, force=force, moment=moment)


def _weather(job: Job, planning: Planning) -> Weather:
    climate = job.climate
    air: dict[Season, Number] = {
        "hot": typed(climate.hottest_K, "K", "climate.hottest"),
        "cold": typed(climate.coldest_K, "K", "climate.coldest"),
    }
    altitude = given_or_zero(job.travel.altitude_m, "travel.altitude", "m")
    pressure = derive(air_laws.standard_pressure, altitude_m=altitude)
    return Weather(
        air=air,
        density={
            season: derive(air_laws.dry_air_density, pressure_Pa=pressure, temperature_K=air[season])
            for season in air
        },
        sun=planning["sun"].decided
        if climate.sun_W_per_m2 is None
        else typed(climate.sun_W_per_m2, "W/m2", "climate.sun"),
    )


def _exposed_cases(
    job: Job,
    rows: Sequence[PlannedCase],
    states: Sequence[WindState],
    planning: Planning,
    weather: Weather,
    bond: Sequence[Number],
) -> tuple[LoadCase, ...]:
    leg = typed(job.travel.longest_leg_s, "s", "travel.longest_leg")
    cases = []
    for row, state, temperature in zip(rows, states, bond, strict=True):
        lasts = leg if row.duration == "longest_leg" else planning[row.duration].decided
        cases.append(
            LoadCase(
                name=row.name,
                exposure=Exposure(
                    lasts_s=float(lasts.value), temperature_K=float(temperature.value), season=row.season
                ),
                family=row.family,
                lasts=lasts,
                air_temperature=weather.air[row.season],
                bond_temperature=temperature,
                air_density=weather.density[row.season],
                air_velocity_m_per_s=(float(state.along.value), float(state.across.value)),
                air_speed=state.speed,
            )
        )
    return tuple(cases)


def _wind_parts(work: _Workpiece, winds: Mapping[str, WindState]) -> list[LoadPart]:
    item, place, planning = work.item, work.place, work.planning
    bands = edge_bands(item, place, work.job, planning)
    blowing = [state.name != "calm" for state in work.states]
    drag_ratio, up_ratio = speed_ratios(work.job, item, place, planning)
    moving_air = {name: state for name, state in winds.items() if name != "calm"}
    coefficients = {name: coefficient_of(state, item, place, bands) for name, state in moving_air.items()}
    centres = {
        name: (
            derive(
                wind_laws.pressure_centre,
                side_m=work.length,
                component_m_per_s=state.along,
                air_speed_m_per_s=state.speed,
            ),
            derive(
                wind_laws.pressure_centre,
                side_m=work.width,
                component_m_per_s=state.across,
                air_speed_m_per_s=state.speed,
            ),
        )
        for name, state in moving_air.items()
    }

    def by_case(of: Mapping[str, Number], calm: Number) -> Number:
        return choose([of.get(state.name, calm) for state in work.states], axis=0)

    speed = choose([state.speed for state in work.states], axis=0)
    density = choose([case.air_density for case in work.cases], axis=0)
    pressure = derive(wind_laws.dynamic_pressure, air_speed_m_per_s=speed, air_density_kg_per_m3=density)
    coefficient = by_case(coefficients, NO_COEFFICIENT)
    lift = derive(
        wind_laws.uplift,
        pressure_Pa=pressure,
        coefficient=coefficient,
        length_m=work.length,
        width_m=work.width,
        speed_ratio=choose([ratio_in(state, up_ratio) for state in work.states], axis=0),
    )
    uplift = LoadPart(
        name="uplift",
        force=(NO_FORCE, NO_FORCE, lift),
        at=(
            by_case({name: centre[0] for name, centre in centres.items()}, NO_ARM),
            by_case({name: centre[1] for name, centre in centres.items()}, NO_ARM),
            NO_ARM,
        ),
        factor=work.load_factor,
        coefficient=coefficient,
        acts=work.acts(blowing),
    )

    def drag(
        component: Number, side: Given, side_key: str, side_m: float, ratio: Number
    ) -> tuple[Number, Number]:
        edge = edge_drag_coefficient(item, place, side_m, side_key)
        return edge, derive(
            wind_laws.edge_drag,
            air_density_kg_per_m3=density,
            air_speed_m_per_s=speed,
            component_m_per_s=component,
            drag_coefficient=edge,
            side_m=side,
            thickness_m=work.thickness,
            speed_ratio=ratio,
        )

    front_coefficient, front = drag(
        choose([state.along for state in work.states], axis=0),
        work.width,
        "width",
        item.width_m,
        choose([ratio_in(state, drag_ratio) for state in work.states], axis=0),
    )
    side_coefficient, side = drag(
        choose([state.across for state in work.states], axis=0), work.length, "length", item.length_m, ONE
    )
    height = work.middle
    return [
        uplift,
        LoadPart(
            name="edge drag",
            force=(front, NO_FORCE, NO_FORCE),
            at=(NO_ARM, NO_ARM, height),
            factor=work.load_factor,
            coefficient=front_coefficient,
            acts=work.acts(
                [state.name != "calm" and float(state.along.value) != 0.0 for state in work.states]
            ),
        ),
        LoadPart(
            name="side drag",
            force=(NO_FORCE, side, NO_FORCE),
            at=(NO_ARM, NO_ARM, height),
            factor=work.load_factor,
            coefficient=side_coefficient,
            acts=work.acts([float(state.across.value) != 0.0 for state in work.states]),
        ),
    ]


def _weight_part(work: _Workpiece) -> LoadPart:
    heavy = [not row.thermal for row in work.rows]
    force = derive(force_laws.weight, mass_kg=work.mass, gravity_m_per_s2=GRAVITY)
    helping = work.planning["weight_factor"].decided
    return LoadPart(
        name="weight",
        force=(NO_FORCE, NO_FORCE, work.where(heavy, force, NO_FORCE)),
        at=(NO_ARM, NO_ARM, work.middle),
        factor=choose([work.load_factor if row.snow else helping for row in work.rows], axis=0),
        coefficient=None,
        acts=work.acts(heavy),
    )


def _inertia_parts(work: _Workpiece) -> list[LoadPart]:
    parts = []
    for row in {row.name: row for row in work.rows if row.inertia is not None}.values():
        assert row.inertia is not None
        card, direction = row.inertia
        here = [other.name == row.name for other in work.rows]
        components: list[Number] = []
        for cosine in direction:
            if cosine == 0.0:
                components.append(NO_FORCE)
                continue
            push = derive(
                force_laws.directed_acceleration,
                direction=definition(cosine, "1", "direction of the push on the item"),
                size_m_per_s2=work.planning[card].decided,
            )
            force = derive(force_laws.inertia_force, mass_kg=work.mass, acceleration_m_per_s2=push)
            components.append(work.where(here, force, NO_FORCE))
        parts.append(
            LoadPart(
                name="bump" if card == "bump" else row.name,
                force=(components[0], components[1], components[2]),
                at=(NO_ARM, NO_ARM, work.middle),
                factor=work.load_factor,
                coefficient=None,
                acts=work.acts(here),
            )
        )
    return parts


def _hand_parts(work: _Workpiece) -> list[LoadPart]:
    parts = []
    for row in {row.name: row for row in work.rows if row.push is not None}.values():
        assert row.push is not None
        edge, direction = row.push
        here = [other.name == row.name for other in work.rows]
        force = tuple(
            work.where(
                here,
                derive(
                    force_laws.directed_force,
                    direction=definition(cosine, "1", "direction of the hand's force"),
                    size_N=work.planning["handling_force"].decided,
                ),
                NO_FORCE,
            )
            if cosine
            else NO_FORCE
            for cosine in direction
        )
        place = tuple(
            derive(force_laws.edge_place, direction=definition(sign, "1", f"{edge} edge"), side_m=side)
            if sign
            else NO_ARM
            for sign, side in zip(EDGES[edge], (work.length, work.width), strict=True)
        )
        parts.append(
            LoadPart(
                name="hand",
                force=(force[0], force[1], force[2]),
                at=(place[0], place[1], work.middle),
                factor=work.load_factor,
                coefficient=None,
                acts=work.acts(here),
            )
        )
    return parts


def _pressed_part(work: _Workpiece, name: str) -> LoadPart:
    up = name == "passing truck"
    here = [row.passing if up else row.snow for row in work.rows]
    pressure = (
        typed(work.job.travel.pass_pressure_Pa or 0.0, "Pa", "travel.pass_pressure")
        if up
        else typed(work.job.climate.snow_Pa or 0.0, "Pa", "climate.snow")
    )
    force = derive(
        force_laws.pressed_area,
        direction=definition(1.0 if up else -1.0, "1", "away from the roof is positive"),
        pressure_Pa=pressure,
        length_m=work.length,
        width_m=work.width,
    )
    return LoadPart(
        name="passing pressure" if up else "snow",
        force=(NO_FORCE, NO_FORCE, work.where(here, force, NO_FORCE)),
        at=(NO_ARM, NO_ARM, NO_ARM),
        factor=work.load_factor,
        coefficient=None,
        acts=work.acts(here),
    )


def _sums(parts: Sequence[LoadPart]) -> tuple[Triple, Triple]:
    forces: list[dict[str, Number]] = [{}, {}, {}]
    moments: list[dict[str, Number]] = [{}, {}, {}]
    for number, part in enumerate(parts):
        name = part.name if part.name != "hand" else f"hand {number}"
        scaled = tuple(
            force if force is NO_FORCE else derive(force_laws.factored, factor=part.factor, force_N=force)
            for force in part.force
        )
        for axis in range(3):
            if scaled[axis] is not NO_FORCE:
                forces[axis][name] = scaled[axis]
            one, two = (axis + 1) % 3, (axis + 2) % 3
            lever_one = part.at[one] is not NO_ARM and scaled[two] is not NO_FORCE
            lever_two = part.at[two] is not NO_ARM and scaled[one] is not NO_FORCE
            if lever_one or lever_two:
                moments[axis][name] = derive(
                    force_laws.moment_component,
                    first_arm_m=part.at[one],
                    second_force_N=scaled[two],
                    second_arm_m=part.at[two],
                    first_force_N=scaled[one],
                )
    force = tuple(add(group) if group else NO_FORCE for group in forces)
    moment = tuple(add(group) if group else NO_MOMENT for group in moments)
    return (force[0], force[1], force[2]), (moment[0], moment[1], moment[2])
