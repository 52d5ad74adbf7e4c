"""Builds the guide of one item: its phases with numbered steps and stop points, its feet, its mix, its clock, its shop.

`surface` says in which order a roof is made ready, `product` how the bond is put on; every amount comes from a law.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from staydown.foundation.numbers import Number, definition, derive, typed
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2
from staydown.job.records import Item, Tape
from staydown.library.cards import Cards, PlanningValue, ProductCard, SurfaceCard
from staydown.making import dew_laws, dilution_laws, press_laws
from staydown.making.build_shopping import build_shopping
from staydown.making.dwell_clock import Needed, build_clock
from staydown.making.guide import Blend, FootGuide, Guide, Mix, Phase, Step, Weather, Window
from staydown.spread import pad_laws

Planning = Mapping[str, PlanningValue]
GRAVITY = definition(STANDARD_GRAVITY_m_per_s2, "m/s2", "standard gravity, ISO 80000-3")
CLEAN, ABRADE, WIPE, PLACE, SEAL, DWELL = range(6)
PHASES = (
    "Identify, wash, take the wax off",
    "Abrade",
    "Wipe and prime",
    "Place and press",
    "Seal",
    "Dwell and first drive",
)
_PHASE_OF = {
    "identify": CLEAN,
    "wash": CLEAN,
    "dewax": CLEAN,
    "water": CLEAN,
    "abrade": ABRADE,
    "dust": ABRADE,
    "alcohol": WIPE,
    "dry": WIPE,
    "primer": WIPE,
    "press": PLACE,
    "edges": SEAL,
    "dwell": DWELL,
}


def build_guide(
    item: Item,
    place: str,
    tape: tuple[Tape, str],
    surface: SurfaceCard,
    cards: Cards,
    needed: Needed,
    weather: Weather,
    mix: Mix,
) -> Guide:
    """Return the guide of an item.

    Parameters
    ----------
    item, place : Item, str
        With its mounts, and its dotted place in the job.
    tape : (Tape, str)
        The bonding product and its dotted place.
    surface : SurfaceCard
        What it is bonded to.
    cards : Cards
        Products, stops and planning values.
    needed : Needed
        What the first careful drive asks of the bond.
    weather, mix : Weather, Mix
        What a person typed.
    """
    planning, product = cards.planning, cards.products[tape[0].kind]
    feet = tuple(
        _foot(item, number, f"{place}.mount.{number + 1}", tape, product, planning)
        for number in range(len(item.mount))
    )
    blend = build_blend(mix, planning)
    phases = build_phases(surface, product, cards)
    primed = "primer" in surface.prep_steps
    return Guide(
        item=item,
        tape=tape[0],
        surface=surface,
        product=product,
        phases=phases,
        feet=feet,
        window=build_window(weather, planning),
        blend=blend,
        roller=_roller(planning) if product.pressed else None,
        passes=int(float(planning["roller_passes"].decided.value)),
        hold=planning["press_hold"].decided,
        primer=(planning["primer_dry"].decided, planning["primer_window"].decided) if primed else None,
        clock=build_clock(product, planning, _coldest(weather), needed),
        reserve=planning["stock_reserve"].decided,
        shopping=build_shopping(feet, blend, surface, product, tape[0].name, planning),
    )


def build_phases(surface: SurfaceCard, product: ProductCard, cards: Cards) -> tuple[Phase, ...]:
    """Return the steps of a surface and a product in phases; a phase never goes back to an earlier one.

    What comes before the first abrading belongs to cleaning, whatever it is: nothing is abraded with wax on it.
    """
    steps: list[list[Step]] = [[] for _ in PHASES]
    last_abrade = max(
        (number for number, step in enumerate(surface.prep_steps) if step == "abrade"), default=-1
    )
    now = CLEAN
    for number, (step, text) in enumerate(zip(surface.prep_steps, surface.prep, strict=True)):
        wanted = _PHASE_OF[step]
        if number < last_abrade and step != "abrade":
            wanted = CLEAN
        now = max(now, wanted)
        if step == "press":
            steps[now] += [_step("place", words, "") for words in product.place]
        steps[now].append(_step(step, text, cards.stops.get(step, "")))
        if step == "press":
            steps[now] += [_step("hold", words, "") for words in product.hold]
    if not steps[CLEAN] or steps[CLEAN][0].id != "identify":
        steps[CLEAN].insert(0, _step("identify", cards.cautions["identify_first"], cards.stops["identify"]))
    return tuple(
        Phase(title=title, steps=tuple(mine)) for title, mine in zip(PHASES, steps, strict=True) if mine
    )


def _step(step: str, text: str, stop: str) -> Step:
    return Step(id=step, text=text, stop=stop)


def build_window(weather: Weather, planning: Planning) -> Window:
    """Return whether a surface may be bonded to in this weather, and why not."""
    coldest, better = planning["coldest_surface"].end("low"), planning["coldest_surface"].decided
    hottest, least = planning["hottest_surface"].decided, planning["dew_point_margin"].decided
    dew = margin = None
    refused, doubts, missing = [], [], []
    if weather.air_K is not None and weather.humidity is not None and weather.humidity > 0.0:
        vapour = derive(
            dew_laws.vapour_pressure,
            humidity=typed(weather.humidity, "1", "humidity"),
            air_K=typed(weather.air_K, "K", "air temperature"),
        )
        dew = derive(dew_laws.dew_point, vapour_Pa=vapour)
    if weather.surface_K is None:
        missing.append("surface temperature")
    else:
        surface = typed(weather.surface_K, "K", "surface temperature")
        if weather.surface_K < coldest.value:
            refused.append("too cold")
        elif weather.surface_K < better.value:
            doubts.append("cold: it wets slowly, press longer and wait longer")
        if weather.surface_K > hottest.value:
            refused.append("too hot")
        if dew is not None:
            margin = derive(dew_laws.dew_margin, surface_K=surface, dew_point_K=dew)
            if float(margin.value) < float(least.value):
                refused.append("too near the dew point")
    if weather.air_K is None:
        missing.append("air temperature")
    if weather.humidity is None:
        missing.append("humidity")
    return Window(
        dew=dew,
        margin=margin,
        least_margin=least,
        coldest=coldest,
        better=better,
        hottest=hottest,
        refusals=tuple(refused),
        doubts=tuple(doubts),
        missing=tuple(missing),
    )


def build_blend(mix: Mix, planning: Planning) -> Blend:
    """Return how much stock and water make the wipe that is wanted."""
    volume = planning["wipe_volume"].decided if mix.volume_m3 is None else typed(mix.volume_m3, "m3", "wipe")
    share = planning["alcohol_share"].decided if mix.share is None else typed(mix.share, "1", "strength")
    stock_share = (
        planning["alcohol_stock"].decided if mix.stock_share is None else typed(mix.stock_share, "1", "stock")
    )
    stock = derive(dilution_laws.stock_volume, volume_m3=volume, share=share, stock_share=stock_share)
    water = derive(dilution_laws.water_volume, volume_m3=volume, stock_m3=stock)
    return Blend(volume=volume, share=share, stock_share=stock_share, stock=stock, water=water)


def press_of(area: Number, planning: Planning) -> Number:
    """Return the force that presses a whole pad. [N]"""
    return derive(press_laws.press_force, pressure_Pa=planning["press_pressure"].decided, area_m2=area)


def _foot(
    item: Item, number: int, place: str, tape: tuple[Tape, str], product: ProductCard, planning: Planning
) -> FootGuide:
    mount = item.mount[number]
    length = typed(mount.pad.length_m, "m", f"{place}.pad")
    width = typed(mount.pad.width_m, "m", f"{place}.pad")
    area = derive(pad_laws.pad_area, pad_length_m=length, pad_width_m=width)
    edge = derive(press_laws.pad_edge, pad_length_m=length, pad_width_m=width)
    press = press_of(area, planning) if product.pressed else None
    each, strip, strips = press, None, 1
    if press is not None:
        long, short = (length, width) if mount.pad.length_m >= mount.pad.width_m else (width, length)
        strip, strips, each = _strips(press, long, short, planning)
    taped = product.pressed and tape[0].width_m is not None
    roller = float(planning["roller_width"].decided.value)
    return FootGuide(
        name=mount.name,
        length_m=mount.pad.length_m,
        width_m=mount.pad.width_m,
        area=area,
        press=press,
        each=each,
        leaning=None
        if each is None
        else derive(press_laws.leaning_mass, force_N=each, gravity_m_per_s2=GRAVITY),
        strip=strip,
        strips=strips,
        lanes=math.ceil(min(mount.pad.length_m, mount.pad.width_m) / roller - 1e-9),
        edge=edge,
        bead=derive(press_laws.bead_volume, edge_m=edge, leg_m=planning["seal_leg"].decided),
        tape=derive(
            press_laws.tape_length,
            area_m2=area,
            tape_width_m=typed(tape[0].width_m or 0.0, "m", f"{tape[1]}.width"),
        )
        if taped
        else None,
        layer=None
        if product.pressed
        else derive(
            press_laws.layer_volume,
            area_m2=area,
            thickness_m=typed(tape[0].thickness_m, "m", f"{tape[1]}.thickness"),
        ),
    )


def _strips(
    press: Number, long: Number, short: Number, planning: Planning
) -> tuple[Number | None, int, Number]:
    """Return length, count and force of the strips in which a person can press a pad; one is the whole pad."""
    by_hand, pressure = planning["hand_press"].decided, planning["press_pressure"].decided
    most = derive(press_laws.strip_length, force_N=by_hand, pressure_Pa=pressure, side_m=short)
    count = math.ceil(float(long.value) / float(most.value) - 1e-9)
    if count == 1:
        return None, 1, press
    of = definition(float(count), "1", "as few strips as a person can press")
    strip = derive(press_laws.equal_strip, side_m=long, count=of)
    area = derive(pad_laws.pad_area, pad_length_m=strip, pad_width_m=short)
    return strip, count, press_of(area, planning)


def _roller(planning: Planning) -> Number:
    return derive(
        press_laws.roller_force,
        pressure_Pa=planning["press_pressure"].decided,
        roller_width_m=planning["roller_width"].decided,
        contact_length_m=planning["roller_contact"].decided,
    )


def _coldest(weather: Weather) -> float | None:
    """Return the coldest that the bond is taken to be while it dwells."""
    if weather.dwell_K is not None:
        return weather.dwell_K
    known = [one for one in (weather.surface_K, weather.air_K) if one is not None]
    return min(known) if known else None
