"""The guide as sheets: one page a phase, large type, boxes to tick, amounts in both systems."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from staydown.foundation.quantities import both, lasting, shown
from staydown.making.guide import Bought, FootGuide, Guide, Phase
from staydown.outputs.amounts import amount, length
from staydown.outputs.blocks import Block
from staydown.outputs.sheet_blocks import (
    facts,
    fields,
    listing,
    sheet,
    step,
    steps,
    stop,
    table,
    title,
    words,
)

FILL = {
    "dewax": ("remover", "cloths"),
    "abrade": ("grit used",),
    "alcohol": ("strength",),
    "primer": ("primed at", "lot"),
    "press": ("pressed at",),
    "edges": ("sealed at",),
}
PHOTOS = ("clean, dry", "water-break test", "primed or dry", "placed", "sealed")


def guide_sheet(
    guide: Guide, job: str, word: str, cautions: Sequence[str], system: str, version: str
) -> dict[str, Any]:
    """Return the guide of one item as the model of a sheet.

    Parameters
    ----------
    guide : Guide
        What to do, with what.
    job, word : str
        The job's name and its word on this item.
    cautions : sequence of str
        In the library's words.
    system : str
        "metric" or "us", shown first.
    version : str
        Of the program.
    """
    pages = [_first(guide, word, cautions, system), _shop(guide, system)]
    number = 1
    for at, phase in enumerate(guide.phases, start=1):
        page, number = _phase(guide, phase, at, number, system)
        pages.append(page)
    pages.append(_sign_off(guide))
    name = f"{guide.item.name}: how it is bonded"
    aside = f"{guide.item.name} on {guide.surface.name}, {guide.tape.name}"
    return sheet(name, job, aside, "a tick is a signature: tick what you saw", version, pages, "large")


def _first(guide: Guide, word: str, cautions: Sequence[str], system: str) -> list[Block]:
    window = guide.window
    coldest, better, hottest = (
        both(_v(one), "K", system) for one in (window.coldest, window.better, window.hottest)
    )
    least = _v(window.least_margin)
    on_the_day = ("surface temperature", "air temperature", "humidity", "dew point", "time", "who")
    return [
        title(f"{guide.item.name}: before you begin"),
        words(
            f"{guide.surface.name}; {guide.tape.name} ({guide.tape.kind}); {len(guide.feet)} feet.", "lead"
        ),
        words(f"The answer on this item as it stands: {word}. A good bond does not make a wrong one right."),
        facts(
            [
                ("surface", f"{coldest} at the least, {better} better, {hottest} at the most"),
                ("dew point", f"the surface at least {_kelvin(least, 0)} above it"),
                *_measured(guide, system),
                ("weak link here", guide.surface.weak_link),
            ],
            "The window",
        ),
        *_weather(guide),
        fields(on_the_day, "Measured on the day", across=3),
        listing(guide.surface.denies, "Never on this surface"),
        listing([*guide.surface.cautions, *cautions], "Cautions", small=True),
    ]


def _kelvin(difference_K: float, decimals: int = 1) -> str:
    """Return a difference of temperature in both systems."""
    return f"{difference_K:.{decimals}f} K ({1.8 * difference_K:.1f} °F)"


def _measured(guide: Guide, system: str) -> list[tuple[str, str]]:
    window = guide.window
    rows = []
    if window.dew is not None:
        rows.append(("dew point, as typed", both(_v(window.dew), "K", system)))
    if window.margin is not None:
        rows.append(("margin, as typed", _kelvin(_v(window.margin))))
    return rows


def _weather(guide: Guide) -> list[Block]:
    window = guide.window
    blocks: list[Block] = []
    if window.refusals:
        told = ", ".join(window.refusals)
        blocks.append(
            stop("STOP:", f"in the weather that was typed the surface is {told}. Wait, or warm the place.")
        )
    elif window.doubts:
        blocks.append(words("; ".join(window.doubts).capitalize() + "."))
    if window.missing:
        blocks.append(words(f"Not typed, so measure on the day: {', '.join(window.missing)}.", "note"))
    return blocks


def _shop(guide: Guide, system: str) -> list[Block]:
    rows = [
        (_capital(one.what), _amount(one, system), "lot, best before:" if one.lot else "", one.note)
        for one in guide.shopping
    ]
    columns = (
        ("what", "left", 1.3),
        ("how much", "left", 1.0),
        ("write down", "left", 0.8),
        ("see to", "left", 1.6),
    )
    reserve = f"Amounts include {100 * _v(guide.reserve):.0f} % in reserve."
    return [
        title("What to have at hand"),
        table("", columns, rows, note=reserve, grid=True),
        fields(("kept cool, dry, closed", "checked by"), across=2),
    ]


def _amount(one: Bought, system: str) -> str:
    return "" if one.amount is None else _sized(_v(one.amount), one.amount.unit, system)


def _sized(value: float, unit: str, system: str) -> str:
    """Return an amount to buy in both systems, small volumes in millilitres and fluid ounces."""
    if unit == "m3":
        told = {"metric": f"{1e6 * value:.0f} mL", "us": f"{value / 29.5735295625e-6:.1f} US fl oz"}
    elif unit == "m":
        told = {"metric": f"{value:.2f} m", "us": f"{value / 0.3048:.1f} ft"}
    else:
        return both(value, unit, system)
    other = "us" if system == "metric" else "metric"
    return f"{told[system]} ({told[other]})"


def _phase(guide: Guide, phase: Phase, at: int, number: int, system: str) -> tuple[list[Block], int]:
    """Return the page of one phase, and the number of the step that comes after it."""
    rows = []
    for one in phase.steps:
        rows.append(step(number, one.text, one.stop, FILL.get(one.id, ())))
        number += 1
    ids = {one.id for one in phase.steps}
    blocks = [title(f"{at}. {phase.title}"), *_beside(guide, ids, system), steps(rows)]
    if "identify" in ids:
        blocks.append(listing(guide.surface.tests, "Tests that tell, and that are owed here"))
    if "press" in ids:
        blocks += _pressing(guide, system)
    if "edges" in ids:
        blocks.append(_sealing(guide, system))
    if "dwell" in ids:
        blocks += _dwell(guide)
    return blocks, number


def _beside(guide: Guide, ids: set[str], system: str) -> list[Block]:
    """Return what stands above the steps of a phase: the mix, the primer's window."""
    blocks: list[Block] = []
    if "alcohol" in ids:
        blend = guide.blend
        text = (
            f"For {_sized(_v(blend.volume), 'm3', system)} at {100 * _v(blend.share):.0f} % by volume: "
            f"{_sized(_v(blend.stock), 'm3', system)} of {100 * _v(blend.stock_share):.0f} % stock, then water to the "
            f"mark, about {_sized(_v(blend.water), 'm3', system)}. Alcohol burns: no flame, fresh air."
        )
        blocks.append(stop("Mix the wipe.", text))
    if "primer" in ids and guide.primer is not None:
        dry, window = (_v(one) for one in guide.primer)
        text = f"Dry for {lasting(dry)}, bond within {lasting(window)}; if its label says otherwise, that counts."
        blocks.append(stop("Primer:", text))
    return blocks


def _pressing(guide: Guide, system: str) -> list[Block]:
    if not guide.product.pressed:
        return [words("This product is not pressed hard: until the spacers touch, then held still.")]
    rows = [_press_row(foot, system) for foot in guide.feet]
    columns = (
        ("foot", "left", 1.2),
        ("pad", "left", 1.0),
        ("whole pad", "right", 0.0),
        ("in strips", "left", 1.2),
        ("lean with", "right", 0.0),
        ("held, s", "left", 0.0),
    )
    hold = lasting(_v(guide.hold))
    lean = "Lean: what a scale under your hands would show."
    note = f"Each strip under its force for {hold}, from the middle outwards. {lean}"
    blocks: list[Block] = [table("Force for each foot", columns, rows, note=note, grid=True)]
    if guide.roller is not None:
        lanes = max(foot.lanes for foot in guide.feet)
        blocks.append(
            words(
                f"Or a hand roller: {amount(_v(guide.roller), 'N', system)} on it, "
                f"{lanes} lane{'s' if lanes > 1 else ''} across, {guide.passes} passes over each, slowly, half of them "
                "each way."
            )
        )
    return blocks


def _press_row(foot: FootGuide, system: str) -> tuple[str, ...]:
    assert foot.press is not None
    assert foot.each is not None
    assert foot.leaning is not None
    strips = "whole pad at once"
    if foot.strip is not None:
        strips = (
            f"{foot.strips} of {length(_v(foot.strip), system)}, each {amount(_v(foot.each), 'N', system)}"
        )
    return (
        foot.name,
        f"{length(foot.length_m, system)} x {length(foot.width_m, system)}",
        amount(_v(foot.press), "N", system),
        strips,
        _whole(_v(foot.leaning), "kg", system),
        "",
    )


def _sealing(guide: Guide, system: str) -> Block:
    rows = [
        (foot.name, length(_v(foot.edge), system), _sized(_v(foot.bead), "m3", system)) for foot in guide.feet
    ]
    columns = (("foot", "left", 1.0), ("edge to seal", "left", 1.0), ("sealant", "right", 0.0))
    return table(
        "Fillet round each foot", columns, rows, note="Smoothed once, no gap, water can run off above it."
    )


def _dwell(guide: Guide) -> list[Block]:
    clock = guide.clock
    rows = [(lasting(_v(one.wait)), f"{100 * _v(one.share):.0f} %", "") for one in clock.stages]
    slowing = _v(clock.slowing)
    cold = (
        ""
        if slowing <= 1.0
        else f" Waits are {slowing:.1f} times those at room temperature, for the cold typed or to be expected."
    )
    blocks: list[Block] = []
    if rows:
        columns = (
            ("after", "left", 1.0),
            ("of the full bond", "left", 1.0),
            ("that is at (date, time)", "left", 1.6),
        )
        blocks.append(
            table("Build-up", columns, rows, note=f"A planning band, not a promise.{cold}", grid=True)
        )
    first, full = lasting(clock.first_drive_s), lasting(clock.full_s)
    blocks.append(stop(f"No drive before {first} after the last foot was pressed:", f"{clock.why}."))
    if clock.earliest is not None and clock.earliest.value < clock.full.value:
        careful = "Then only a first careful drive: up to 60 km/h (37 mph), no motorway, dry roof, no storm."
        blocks.append(words(f"{careful} Full load after {full}."))
    else:
        blocks.append(words(f"Full load not before {full}."))
    blocks.append(fields(("last foot pressed at", "first drive not before", "full from"), across=3))
    return blocks


def _sign_off(guide: Guide) -> list[Block]:
    columns = (("foot", "left", 1.4), *((name, "left", 1.0) for name in PHOTOS))
    rows = [(foot.name, *("" for _ in PHOTOS)) for foot in guide.feet]
    return [
        title("Photos, marks, signature"),
        words("Scribe a mark across an edge of every foot onto the roof: slip is read there for years."),
        table("A photo of each foot at each stage", columns, rows, grid=True),
        fields(("done by", "date", "looked at by", "date", "handed over to", "date"), "Signatures", across=2),
        words("Then `staydown record bonding` writes it down, lots and temperatures with it.", "note"),
    ]


def ends_at(pressed: datetime, wait_s: float) -> datetime:
    """Return the moment when a wait is over, up to the minute after."""
    end = pressed + timedelta(seconds=wait_s)
    return (
        end
        if not (end.second or end.microsecond)
        else end.replace(second=0, microsecond=0) + timedelta(minutes=1)
    )


def guide_text(guide: Guide, system: str) -> str:
    """Return what decides, for a terminal: window, forces, clock."""
    lines = [f"{guide.item.name}: {guide.surface.name}, {guide.tape.name}"]
    window = guide.window
    if window.refusals:
        lines.append(f"  STOP: the surface is {', '.join(window.refusals)}")
    if window.margin is not None:
        dew = "" if window.dew is None else f" of {both(_v(window.dew), 'K', system)}"
        lines.append(f"  {_kelvin(_v(window.margin))} above the dew point{dew}")
    for foot in guide.feet:
        if foot.press is not None and foot.leaning is not None:
            strips = "" if foot.strip is None else f", in {foot.strips} strips"
            lines.append(f"  {foot.name}: press with {amount(_v(foot.press), 'N', system)}{strips}")
    lines.append(f"  no drive before {lasting(guide.clock.first_drive_s)}: {guide.clock.why}")
    lines.append(f"  full load after {lasting(guide.clock.full_s)}")
    return "\n".join(lines)


def _whole(value: float, unit: str, system: str) -> str:
    """Return an amount without decimals in both systems."""
    other = "us" if system == "metric" else "metric"
    return f"{shown(value, unit, system, 0)} ({shown(value, unit, other, 0)})"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _v(number: Any) -> float:
    return float(number.value)
