"""Writes down how feet were bonded: lots, weather, pressing; an expired lot, cold or damp stops it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from staydown.assess import Assessment, ItemAssessment, assess, with_overrides
from staydown.evidence.history import BONDING, Bonding, Entry, History
from staydown.foundation.errors import BadInput
from staydown.foundation.numbers import typed as typed_number
from staydown.foundation.quantities import both
from staydown.job.records import Item
from staydown.library.cards import Cards
from staydown.making.build_guide import build_window, press_of
from staydown.making.dwell_clock import Clock, Needed, build_clock
from staydown.making.guide import Weather
from staydown.workbench.bonding_words import Reader
from staydown.workbench.happened import Stop, Told, Written, done, feet_of, item_told, write_entry
from staydown.workbench.open_job import JobFolder
from staydown.workbench.sheets import needed_of

TEXTS = ("lot", "cleaner", "abrasive", "primer", "primer_lot")
LONGEST_TEXT = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Bonded:
    """What was written, and from when it may be driven and loaded."""

    written: Written
    item: str
    feet: tuple[str, ...]
    clock: Clock
    first_drive: datetime
    full: datetime


def record_bonding(
    folder: JobFolder, item_name: str, feet: Sequence[str], typed: Mapping[str, str | None], told: Told
) -> Bonded:
    """Write down that feet of an item were bonded.

    Parameters
    ----------
    folder : JobFolder
        The opened job.
    item_name : str
        The item; may be empty where the job has one.
    feet : sequence of str
        Which feet; none is all.
    typed : mapping
        Texts: lot, expires, air, humidity, surface_temperature, dwell_temperature, press, held, cleaner, abrasive,
        primer, primer_lot; what is left out is not known.
    told : Told
        Who, when, photos, why somebody goes on past a stop.

    Raises
    ------
    BadInput
        A value cannot be, or a stop point was not kept and nobody said why.
    """
    reader = Reader()
    item = item_told(reader, folder, item_name)
    named = () if item is None else feet_of(reader, item, feet, "--foot")
    weather = Weather(
        air_K=reader.temperature("--air", typed.get("air")),
        humidity=reader.share("--humidity", typed.get("humidity")),
        surface_K=reader.temperature("--surface-temperature", typed.get("surface_temperature")),
        dwell_K=reader.temperature("--dwell-temperature", typed.get("dwell_temperature")),
    )
    expires = reader.day("--expires", typed.get("expires"))
    body: dict[str, Any] = {
        "feet": list(named),
        "expires": expires,
        "surface_K": weather.surface_K,
        "air_K": weather.air_K,
        "humidity": weather.humidity,
        "dwell_K": weather.dwell_K,
        "press_N": reader.force("--press", typed.get("press")),
        "held_s": reader.quantity("--held", typed.get("held"), "s", 0.1, 86400.0),
    }
    for key in TEXTS:
        text = (typed.get(key) or "").strip()
        if len(text) > LONGEST_TEXT:
            reader.wrong(
                f"--{key.replace('_', '-')}", text[:20], "is too long", f"at most {LONGEST_TEXT} letters"
            )
        body[key] = text
    cards = with_overrides(folder.cards, folder.job)
    stops = [*_weather_stops(weather, cards.planning), *_lot_stops(expires, told.when.astimezone().date())]
    stops += [] if item is None else _bond_stops(folder, item, cards)
    done(reader, folder, BONDING, told, stops)
    if item is None:
        raise BadInput(reader.findings)
    body["item"] = item.name
    doubts = [*build_window(weather, cards.planning).doubts, *_pressed(item, named, body["press_N"], cards)]
    written = write_entry(folder, BONDING, body, told, stops, doubts)
    bonding = Bonding(
        entry=Entry(seq=written.event.seq, when=told.when, by=told.by),
        item=item.name,
        feet=named,
        surface_K=weather.surface_K,
        air_K=weather.air_K,
        dwell_K=weather.dwell_K,
    )
    clock = clock_of(folder, bonding, needed_for(folder, item.name))
    return Bonded(
        written=written,
        item=item.name,
        feet=named,
        clock=clock,
        first_drive=told.when + timedelta(seconds=clock.first_drive_s),
        full=told.when + timedelta(seconds=clock.full_s),
    )


def _bond_stops(folder: JobFolder, item: Item, cards: Cards) -> list[Stop]:
    """Return a stop for a surface and for a tape that bear no structure."""
    stops = []
    surface = cards.surfaces[item.surface or folder.job.vehicle.surface]
    tape = next(one for one in folder.job.tape if one.name == item.tape)
    if surface.start == "no":
        stops.append(
            Stop(
                key="surface", value=surface.id, rule=f"{surface.name} is not bonded to", hint=surface.way_out
            )
        )
    if not cards.tapes[tape.kind].structural:
        stops.append(
            Stop(key="tape", value=tape.kind, rule="no structure", hint=cards.tapes[tape.kind].why_not)
        )
    return stops


def needed_for(folder: JobFolder, item: str, assessment: Assessment | None = None) -> Needed:
    """Return what a first careful drive asks of an item of the job."""
    whole = assess(folder.job, folder.facts) if assessment is None else assessment
    found: list[ItemAssessment] = [one for one in whole.items if one.item.name == item]
    return needed_of(whole, found[0]) if found else Needed(share=None, case="")


def clock_of(folder: JobFolder, bonding: Bonding, needed: Needed) -> Clock:
    """Return the clock that runs since feet were bonded."""
    cards = with_overrides(folder.cards, folder.job)
    item = next(one for one in folder.job.item if one.name == bonding.item)
    tape = next(one for one in folder.job.tape if one.name == item.tape)
    known = [one for one in (bonding.surface_K, bonding.air_K) if one is not None]
    dwell_K = bonding.dwell_K if bonding.dwell_K is not None else min(known, default=None)
    return build_clock(cards.products[tape.kind], cards.planning, dwell_K, needed)


def last_pressed(history: History, item: str, feet: Sequence[str]) -> Bonding | None:
    """Return the bonding of an item whose clock ends last: the newest one of any of its feet."""
    found = [one for foot in feet if (one := history.bonded(item, foot)) is not None]
    return max(found, key=lambda one: one.entry.when, default=None)


def _weather_stops(weather: Weather, planning: Any) -> list[Stop]:
    window = build_window(weather, planning)
    stops = []
    if weather.surface_K is not None and {"too cold", "too hot"} & set(window.refusals):
        cold = "too cold" in window.refusals
        limit = window.coldest if cold else window.hottest
        rule = (
            f"the surface is {'too cold' if cold else 'too hot'} to bond on: {both(weather.surface_K, 'K')}"
        )
        hint = f"{'at least' if cold else 'at most'} {both(float(limit.value), 'K')}; warm the place or wait"
        stops.append(
            Stop(key="--surface-temperature", value=both(weather.surface_K, "K"), rule=rule, hint=hint)
        )
    if window.margin is not None and window.dew is not None and "too near the dew point" in window.refusals:
        margin, least = float(window.margin.value), float(window.least_margin.value)
        rule = f"the surface is {margin:.1f} K over the dew point of {both(float(window.dew.value), 'K')}"
        stops.append(
            Stop(
                key="--humidity",
                value="",
                rule=rule,
                hint=f"at least {least:.0f} K; water stands on it before you see it",
            )
        )
    return stops


def _lot_stops(expires: str, day: date) -> list[Stop]:
    if not expires or date.fromisoformat(expires) >= day:
        return []
    return [
        Stop(key="--expires", value=expires, rule=f"the lot expired on {expires}", hint="take one in date")
    ]


def _pressed(item: Any, feet: Sequence[str], press_N: float | None, cards: Any) -> list[str]:
    """Return a doubt for feet that were pressed with less than their pad asks for."""
    if press_N is None:
        return []
    doubts = []
    for mount in item.mount:
        if mount.name in feet:
            wanted = press_of(typed_number(mount.pad.area_m2, "m2", "pad"), cards.planning)
            if press_N < 0.9 * float(wanted.value):
                asked = both(float(wanted.value), "N")
                doubts.append(
                    f"{mount.name} was pressed with {both(press_N, 'N')}, its pad asks for {asked}, or that in strips"
                )
    return doubts
