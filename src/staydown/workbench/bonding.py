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
from staydown.making.guide import Weather, Window
from staydown.workbench.bonding_words import Reader, is_nothing
from staydown.workbench.happened import Stop, Told, Written, done, feet_of, item_told, write_entry
from staydown.workbench.open_job import JobFolder
from staydown.workbench.sheets import needed_of

DAMP = "too near the dew point"
TEXTS = ("lot", "cleaner", "abrasive", "primer", "primer_lot")
LONGEST_TEXT = 200
# what the guide asks for at its end, and what it costs where nobody knows it
ASKED = {
    "lot": "the number on the roll or cartridge: a bond without it cannot be traced when the lot turns out bad",
    "expires": "the last day on the label: without it nobody can say that the lot was in date",
    "held": "how long each pad was held: without it nobody can say that it was long enough",
    "press": "the force, on a scale or with a weight: without it nobody can say that it was pressed enough",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Bonded:
    """What was written, and from when it may be driven and loaded."""

    written: Written
    item: str
    feet: tuple[str, ...]
    clock: Clock
    first_drive: datetime
    full: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class ByGuide:
    """The guide by which feet were bonded: the row of its beginning, and what was passed on the way, with the reasons.

    settled: words (`Stop.about`) of the stops whose reason stands for what was measured last.
    """

    run: int
    passed: tuple[Stop, ...]
    settled: frozenset[str]


def record_bonding(
    folder: JobFolder,
    item_name: str,
    feet: Sequence[str],
    typed: Mapping[str, str | None],
    told: Told,
    by_guide: ByGuide | None = None,
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
    by_guide : ByGuide or None
        The guide that was worked through: it wants who did it and each of `ASKED`, or that it is "unknown".

    Raises
    ------
    BadInput
        A value cannot be or is missing, or a stop point was not kept and nobody said why.
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
        text = "" if is_nothing(typed.get(key)) else (typed[key] or "").strip()
        if len(text) > LONGEST_TEXT:
            reader.wrong(
                f"--{key.replace('_', '-')}", text[:20], "is too long", f"at most {LONGEST_TEXT} letters"
            )
        body[key] = text
    if by_guide is not None:
        body |= {"run": by_guide.run, "not_known": _asked(reader, typed, told)}
    cards = with_overrides(folder.cards, folder.job)
    window = build_window(weather, cards.planning)
    stops = [*weather_stops(weather, window), *_lot_stops(expires, told.when.astimezone().date())]
    stops += [] if item is None else _bond_stops(folder, item, cards)
    if by_guide is not None:
        stops = [*by_guide.passed, *(stop for stop in stops if stop.about not in by_guide.settled)]
    done(reader, folder, BONDING, told, stops)
    if item is None:
        raise BadInput(reader.findings)
    body["item"] = item.name
    doubts = [*window.doubts, *_pressed(item, named, body["press_N"], cards)]
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


def weather_stops(weather: Weather, window: Window) -> list[Stop]:
    """Return why a surface may not be bonded to in this weather; what was not measured is none of it."""
    stops = []
    for word in ("too cold", "too hot"):
        if weather.surface_K is not None and word in window.refusals:
            cold = word == "too cold"
            limit = float((window.coldest if cold else window.hottest).value)
            measured = both(weather.surface_K, "K")
            rule = f"the surface is {word} to bond on: {measured}"
            hint = f"{'at least' if cold else 'at most'} {both(limit, 'K')}; warm the place or wait"
            key = "--surface-temperature"
            stops.append(Stop(key=key, value=measured, rule=rule, hint=hint, about=word))
    if window.margin is not None and window.dew is not None and DAMP in window.refusals:
        margin, least = float(window.margin.value), float(window.least_margin.value)
        rule = f"the surface is {margin:.1f} K over the dew point of {both(float(window.dew.value), 'K')}"
        hint = f"at least {least:.0f} K; water stands on it before you see it"
        stops.append(Stop(key="--humidity", value="", rule=rule, hint=hint, about=DAMP))
    return stops


def _asked(reader: Reader, typed: Mapping[str, str | None], told: Told) -> list[str]:
    """Keep as a mistake what was left empty, and return what somebody said is not known."""
    for key, hint in ASKED.items():
        if not (typed.get(key) or "").strip():
            reader.wrong(f"--{key}", "", "is missing", f'{hint}. "unknown" where nobody knows it')
    if is_nothing(told.by):
        reader.wrong("--by", "", "is missing", "initials of whoever did it: somebody answers for this bond")
    return [key for key in ASKED if is_nothing(typed.get(key))]


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
