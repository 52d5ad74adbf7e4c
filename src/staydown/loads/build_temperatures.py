"""Builds how warm each mount's bond is in every case: parked in sun or shade, driving, in a storm, on a cold night.

Heat has two sources of knowledge. In a calm a roof's rise over air was measured for each W/m² of sun (planning
values, or the person's own measurement); the energy balance of the roof's colour is the floor below which it is
not believed. In moving air only the balance speaks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Chosen, Number, definition, derive, given, typed
from staydown.job.records import Item, Job, Mount
from staydown.library.cards import Cards
from staydown.loads import balance_laws, heat_laws
from staydown.loads.build_heat import NO_SUN, SUN_CARDS, Heat, Place, Weather, build_heat, dark_end
from staydown.loads.case_plan import PlannedCase
from staydown.loads.load_case import Beside, SoakTemperatures

Spot = Literal["under item", "bare roof"]

COOLED_AFTER_s = (60.0, 120.0, 300.0, 600.0)  # points of the curve that is shown
ROUNDING_m = 1e-9
MODULES = frozenset({"solar panel", "flexible panel"})
NOMINAL_MODULE = given(
    318.15, "K", "planning value", "45 degC is usual for modules; common practice, no source"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Temperatures:
    """What heat does in every case. [K]

    bond: over (case, 1, mount). governing: one a case, the hottest mount's, in the cold season the coldest's.
    """

    bond: Number
    governing: tuple[Number, ...]
    soak: SoakTemperatures
    beside: tuple[Beside, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hot:
    """One place on a hot day: at its hottest, driving in full sun, in a storm. [K]"""

    hottest: Number
    driving: Number
    storm: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class _States:
    """Temperatures of one spot by state of heat; what a departure from the sun cools to, and how fast."""

    bond: Mapping[str, Number]
    driving: Number
    constant: Number


def build_temperatures(
    job: Job, item: Item, place: str, cards: Cards, rows: Sequence[PlannedCase], weather: Weather
) -> Temperatures:
    """Return how warm the bond of each mount is in every case.

    Parameters
    ----------
    job, item, place : Job, Item, str
        The job, one of its items, and the item's dotted place.
    cards : Cards
        Colours, tape classes and planning values, the job's overrides applied.
    rows : sequence of PlannedCase
        The cases, before numbers.
    weather : Weather
        Air of each season and full sun.
    """
    heat = build_heat(job, item, place, cards, weather)
    wind = _wind(heat, job)
    night = heat.balance("cold", heat.roof_absorptance, NO_SUN, heat.calm)
    spots: list[Spot] = [spot_of(mount, item) for mount in item.mount] or ["under item"]
    states = {spot: _states(heat, spot, wind, night) for spot in dict.fromkeys(spots)}
    names = [state_of(row) for row in rows]
    over_mounts = {
        name: _side_by_side([states[spot].bond[name] for spot in spots]) for name in dict.fromkeys(names)
    }
    governing = []
    for row, name in zip(rows, names, strict=True):
        pick = max if row.season == "hot" else min
        governing.append(pick((one.bond[name] for one in states.values()), key=lambda n: float(n.value)))
    soak = SoakTemperatures(
        item_hot=_hot(heat, "item", heat.item_absorptance, wind).hottest,
        item_cold=night,
        roof_hot=over_mounts["parked hot"],
        roof_cold=over_mounts["parked cold"],
    )
    kind = next(tape.kind for tape in job.tape if tape.name == item.tape)
    energy = dark_end(cards.tapes[kind].activation_energy, kind)
    beside = [
        *_of_wind(rows, wind),
        *_of_departure(rows, [states[spot] for spot in spots]),
        *_of_soaks(rows, heat, soak, energy, [states[spot].bond["parked hot"] for spot in spots]),
        *_of_modules(rows, heat, item),
    ]
    return Temperatures(
        bond=Chosen(
            value=np.concatenate([over_mounts[name].value for name in names], axis=0),
            unit="K",
            axis=0,
            items=tuple(over_mounts[name] for name in names),
            why="state of heat in the case",
        ),
        governing=tuple(governing),
        soak=soak,
        beside=tuple(beside),
        findings=tuple(_doubts(heat)),
    )


def spot_of(mount: Mount, item: Item) -> Spot:
    """Return where a mount stands: under the item where its pad's centre lies within the item's outline."""
    along = -ROUNDING_m <= mount.behind_m <= item.length_m + ROUNDING_m
    across = abs(mount.left_m) <= item.width_m / 2 + ROUNDING_m
    return "under item" if along and across else "bare roof"


def state_of(row: PlannedCase) -> str:
    """Return the state of heat in which a case finds the bond."""
    if row.snow:
        return "snow"
    if row.name == "cruise":
        return f"cruise {row.season}"
    return f"{'storm' if row.family == 'parked' else 'parked'} {row.season}"


def _wind(heat: Heat, job: Job) -> dict[str, Number]:
    """Return the heat transfer in the states of moving air."""
    speeds: dict[str, Number] = {
        "cruise": typed(job.travel.cruise_speed_m_per_s, "m/s", "travel.cruise_speed"),
        "storm": derive(
            balance_laws.mean_wind,
            gust_m_per_s=typed(job.climate.storm_gust_m_per_s, "m/s", "climate.storm_gust"),
            gust_factor=heat.planning["gust_factor"].decided,
        ),
    }
    return {
        f"{name} {season}": heat.convection(season, speed)
        for name, speed in speeds.items()
        for season in heat.weather.air
    }


def _states(heat: Heat, spot: Spot, wind: Mapping[str, Number], night: Number) -> _States:
    planning, air = heat.planning, heat.weather.air
    absorptance = heat.roof_absorptance
    if spot == "under item":
        absorptance = derive(
            balance_laws.darker_absorptance,
            first_absorptance=absorptance,
            second_absorptance=heat.item_absorptance,
        )
    hot = _hot(heat, spot, absorptance, wind)
    parked, driving = hot.hottest, hot.driving
    constant = derive(
        heat_laws.time_constant,
        heat_capacity_J_per_m2_K=planning["roof_heat_capacity"].decided,
        surface_W_per_m2_K=heat.surface(wind["cruise hot"], driving),
    )
    bond = {
        "parked hot": parked,
        "cruise hot": _on_the_way(parked, driving, planning["departure_duration"].decided, constant),
        "storm hot": hot.storm,
        "snow": planning["snow_temperature"].decided,
    }
    if spot == "under item":
        bond |= dict.fromkeys(("parked cold", "cruise cold", "storm cold"), air["cold"])
    else:
        moving = {
            name: heat.balance("cold", absorptance, NO_SUN, wind[name])
            for name in ("cruise cold", "storm cold")
        }
        duration = planning["departure_duration"].decided
        bond |= moving | {
            "parked cold": night,
            "cruise cold": _on_the_way(night, moving["cruise cold"], duration, constant),
        }
    return _States(bond=bond, driving=driving, constant=constant)


def _hot(heat: Heat, place: Place, absorptance: Number, wind: Mapping[str, Number]) -> _Hot:
    """Return how hot a place gets."""
    sun = heat.weather.sun
    sunny = heat.standing(place, sun)
    driving = heat.in_wind(absorptance, sunny, sun, wind["cruise hot"])
    return _Hot(
        hottest=heat.hottest(place, absorptance, sunny, driving),
        driving=driving,
        storm=heat.in_wind(absorptance, sunny, heat.planning["storm_sun"].decided, wind["storm hot"]),
    )


def _on_the_way(start: Number, end: Number, time: Number, constant: Number) -> Number:
    return derive(heat_laws.cooled_temperature, final_K=end, start_K=start, time_s=time, constant_s=constant)


def _side_by_side(numbers: Sequence[Number]) -> Chosen:
    """Return one number a mount, the axis kept even where all are one number."""
    value = np.array([float(number.value) for number in numbers]).reshape(1, 1, -1)
    return Chosen(
        value=value, unit=numbers[0].unit, axis=2, items=tuple(numbers), why="where the mount stands"
    )


def _rows(rows: Sequence[PlannedCase], name: str) -> tuple[int, ...]:
    return tuple(number for number, row in enumerate(rows) if name in (row.name, state_of(row)))


def _of_wind(rows: Sequence[PlannedCase], wind: Mapping[str, Number]) -> Iterator[Beside]:
    for name, number in wind.items():
        found = _rows(rows, name)
        yield Beside(name="heat transfer to the wind", number=number, cases=found, each_mount=False)


def _of_departure(rows: Sequence[PlannedCase], states: Sequence[_States]) -> Iterator[Beside]:
    """Yield the curve along which a hot bond cools once the vehicle moves."""
    found = _rows(rows, "departure")
    constant = _side_by_side([one.constant for one in states])
    yield Beside(name="time constant", number=constant, cases=found, each_mount=True)
    for seconds in COOLED_AFTER_s:
        time = definition(seconds, "s", "a point of the curve")
        curve = [_on_the_way(one.bond["parked hot"], one.driving, time, one.constant) for one in states]
        name = f"cooled after {seconds / 60:.0f} min"
        yield Beside(name=name, number=_side_by_side(curve), cases=found, each_mount=True)


def _of_soaks(
    rows: Sequence[PlannedCase], heat: Heat, soak: SoakTemperatures, energy: Number, parked: Sequence[Number]
) -> Iterator[Beside]:
    """Yield the item's own temperatures, the balance made linear, and what a day in the sun is worth."""
    hot, cold = _rows(rows, "hot soak"), _rows(rows, "cold soak")
    yield Beside(name="item temperature", number=soak.item_hot, cases=hot, each_mount=False)
    yield Beside(name="item temperature", number=soak.item_cold, cases=cold, each_mount=False)
    air = heat.weather.air["hot"]
    sol_air = derive(
        balance_laws.sol_air_temperature,
        air_temperature_K=air,
        absorptance=heat.roof_absorptance,
        sun_W_per_m2=heat.weather.sun,
        surface_W_per_m2_K=heat.surface(heat.calm, air),
        emittance=heat.emittance["hot"],
        sky_deficit_W_per_m2=derive(
            balance_laws.sky_deficit, air_temperature_K=air, sky_temperature_K=heat.sky["hot"]
        ),
    )
    yield Beside(name="sol-air temperature", number=sol_air, cases=hot, each_mount=False)
    days = [
        derive(
            heat_laws.equivalent_day_temperature,
            coolest_K=air,
            hottest_K=noon,
            activation_energy_J_per_mol=energy,
        )
        for noon in parked
    ]
    name = "equivalent temperature of the day"
    yield Beside(name=name, number=_side_by_side(days), cases=hot, each_mount=True)


def _of_modules(rows: Sequence[PlannedCase], heat: Heat, item: Item) -> Iterator[Beside]:
    """Yield what a solar module on an open rack would have in this sun: on a roof, with little air under it, more."""
    if item.kind not in MODULES:
        return
    hot, air, sun = _rows(rows, "hot soak"), heat.weather.air["hot"], heat.weather.sun
    nominal = derive(
        balance_laws.nominal_module_temperature,
        air_temperature_K=air,
        nominal_K=NOMINAL_MODULE,
        sun_W_per_m2=sun,
    )
    calm = derive(
        balance_laws.windy_module_temperature,
        air_temperature_K=air,
        sun_W_per_m2=sun,
        air_speed_m_per_s=definition(0.0, "m/s", "no wind"),
    )
    yield Beside(name="module on an open rack", number=nominal, cases=hot, each_mount=False)
    yield Beside(name="module on an open rack in a calm", number=calm, cases=hot, each_mount=False)


def _doubts(heat: Heat) -> Iterator[Finding]:
    """Yield a warning where a measured rise is smaller than calm days were seen to give."""
    for number, measured in enumerate(heat.measured, start=1):
        if not measured.calibrates:
            continue
        factor = float(heat.measured_factor(number).value)
        low = heat.planning[SUN_CARDS[measured.place]].band.low
        if factor < low:
            yield Finding(
                file="job.toml",
                line=None,
                key=f"vehicle.measured_temperature.{number}.temperature",
                value="",
                rule=f"is a rise of {factor:.3f} K for each W/m2 in a calm; calm days gave {low:g} and more",
                hint="measure near noon on a still day, on a patch of tape; the measured value is used",
                grade="warning",
            )
