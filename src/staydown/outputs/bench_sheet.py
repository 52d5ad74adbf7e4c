"""The chosen tests as a sheet for the bench: jig, cut list, loads as water, table to fill in, pass rule, cautions."""

from __future__ import annotations

from typing import Any

from staydown.advice.candidate_tests import GALLON_L, CandidateTest, described, water_L
from staydown.advice.plan_tests import ItemPlan, PlanStep
from staydown.assess import Assessment
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2, both, lasting, shown
from staydown.library.cards import Cards
from staydown.outputs.blocks import Block
from staydown.outputs.plan_text import CAUTIONS
from staydown.outputs.plan_words import DWELL
from staydown.outputs.sheet_blocks import (
    drawing,
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

SPARE = 1  # one coupon more than is asked for: the first one made goes wrong; common practice, no source
OVERLAP_m = 0.06  # of a strip beyond its bond, to hold it by; common practice, no source
BORDER_m = 0.02  # of surface round a block; common practice, no source
OVEN_K = 308.15  # above it a room is no longer warm enough; common practice, no source


def bench_sheet(
    plan: ItemPlan, assessment: Assessment, tape: str, surface: str, system: str
) -> dict[str, Any]:
    """Return the plan of one item as the model of a sheet.

    Parameters
    ----------
    plan : ItemPlan
        The tests chosen, at least one.
    assessment : Assessment
        The job that they were chosen for.
    tape, surface : str
        The bonding product as the job calls it, and the surface's id: both go into the records.
    system : str
        "metric" or "us", shown first.
    """
    pages = [_first(plan, assessment, surface, system)]
    for number, one in enumerate(plan.steps, start=1):
        pages.append(_test(number, one, assessment, system))
    name = f"{plan.item}: tests for the bench"
    return sheet(
        name,
        assessment.job.job.name,
        f"{plan.item}: {tape} on {surface}",
        "every result counts, also a low one",
        assessment.version,
        pages,
        "bench",
    )


def _first(plan: ItemPlan, assessment: Assessment, surface: str, system: str) -> list[Block]:
    rows = [
        (
            str(number),
            _capital(described(one.chosen.test)),
            str(one.chosen.test.trial.count),
            "" if one.chosen.test.way == "pull" else lasting(one.chosen.test.trial.lasts_s),
            both(one.chosen.test.trial.temperature_K, "K", system),
        )
        for number, one in enumerate(plan.steps, start=1)
    ]
    columns = (
        ("", "left", 0.0),
        ("test", "left", 1.6),
        ("count", "right", 0.0),
        ("hangs for", "left", 0.0),
        ("bond at", "left", 0.8),
    )
    cautions = assessment.cards.cautions
    prep = assessment.cards.surfaces[surface].prep
    return [
        title(f"{plan.item}: tests worth making"),
        table("", columns, rows, note="In this order; after each the plan is made anew from what it showed."),
        stop(
            "All coupons alike:",
            "same hands, same lot, same preparation as on the roof, made in one session.",
        ),
        listing(prep, "Prepare each piece of surface as the roof", tick=True, small=True),
        words(f"Between pressing and testing: {DWELL}."),
        fields(("made by", "made on", "lot", "best before", "room", "humidity"), across=3),
        listing([cautions[name] for name in CAUTIONS], "Cautions", small=True),
    ]


def _test(number: int, one: PlanStep, assessment: Assessment, system: str) -> list[Block]:
    test = one.chosen.test
    jig = assessment.cards.jigs[f"{test.mode}_{test.way}"]
    blocks: list[Block] = [
        title(f"{number}. {_capital(described(test))}"),
        facts(_loads(test, assessment.cards, system)),
        listing(cut_list(test, system), "Cut list, one to spare"),
        steps([step(count, text) for count, text in enumerate(jig.words, start=1)]),
        drawing(jig.drawing, f"{jig.name}: {jig.words[0]}"),
        _to_fill_in(number, test),
        stop("Passes when:", _rule(test)),
    ]
    if test.trial.temperature_K > OVEN_K:
        blocks.append(words(assessment.cards.cautions["hot_box"], "note"))
    return blocks


def _loads(test: CandidateTest, cards: Cards, system: str) -> list[tuple[str, str]]:
    side = shown(test.side_m, "m", "metric", 1), shown(test.side_m, "m", "us", 3)
    laps = ", both laps together" if test.mode == "shear" else ""
    rows = [
        ("bond", f"{side[0]} ({side[1]}) square, {both(test.area_m2, 'm2', system)}{laps}"),
        ("bond at", f"{both(test.trial.temperature_K, 'K', system)}, a sensor beside it"),
    ]
    if test.soaked:
        rows.append(("before", "three weeks under water at room temperature, tested within the hour"))
    if test.way == "pull":
        return [*rows, ("load", "pulled evenly until it lets go, after 5 to 10 s")]
    container = float(cards.planning["container_mass"].decided.value)
    litres = water_L(test.load_N, container)
    mass = test.load_N / STANDARD_GRAVITY_m_per_s2
    return [
        *rows,
        ("load on each", f"{both(test.load_N, 'N', system)}, that is {both(mass, 'kg', system)}"),
        ("as water", f"{litres:.2f} L ({litres / GALLON_L:.2f} US gal), its container {both(container, 'kg', system)}"),
        ("hangs for", lasting(test.trial.lasts_s)),
    ]  # fmt: skip


def cut_list(test: CandidateTest, system: str) -> list[str]:
    """Return what is cut and bought for a test, with one coupon to spare."""
    count = test.trial.count + SPARE
    side = _size(test.side_m, system)
    if test.mode == "shear":
        long = _size(test.side_m + OVERLAP_m, system)
        return [
            f"{3 * count} strips of the roof's own material, {side} wide, {long} long: two outer, one middle each",
            f"{2 * count} squares of tape, {side} on a side, cut with a new blade",
        ]
    wide = _size(test.side_m + 2 * BORDER_m, system)
    return [
        f"{count} blocks of aluminium, {side} square, 12 mm (1/2 in) or thicker, corners just broken",
        f"{count} squares of tape, {side} on a side, cut with a new blade",
        f"{count} pieces of the roof's own surface, {wide} square or larger, stiffly backed",
        f"{count} screw eyes, a swivel, a short cord",
    ]


def _to_fill_in(number: int, test: CandidateTest) -> Block:
    names = [f"T{number}-{count}" for count in range(1, test.trial.count + SPARE + 1)]
    if test.way == "pull":
        heads = ("coupon", "made on", "bond at", "load", "seconds", "face: where it let go", "note")
    else:
        heads = (
            "coupon",
            "hung at",
            "bond at",
            "looked at",
            "looked at",
            "fell / taken down at",
            "face, note",
        )
    columns = [(head, "left", 1.6 if "face" in head or "fell" in head else 1.0) for head in heads]
    rows = [(name, *("" for _ in heads[1:])) for name in names]
    return table(
        "Write down",
        columns,
        rows,
        note="Face: adhesive, cohesive, coating, substrate or mixed. What went wrong is kept, with its reason.",
        grid=True,
    )


def _rule(test: CandidateTest) -> str:
    count = test.trial.count
    if test.way == "pull":
        said = "`staydown record coupons` and `staydown check` say what they prove"
        return f"{count} pulls are written down with their faces; {said}."
    falls = "one that falls is a result too: write down when"
    return f"all {count} still hang after {lasting(test.trial.lasts_s)}; {falls}."


def _size(value_m: float, system: str) -> str:
    told = {"metric": shown(value_m, "m", "metric", 1), "us": shown(value_m, "m", "us", 2)}
    other = "us" if system == "metric" else "metric"
    return f"{told[system]} ({told[other]})"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
