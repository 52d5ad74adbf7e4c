"""The pages of a dossier on what was tested: chart, grid, every coupon with its failure face, the bounds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.coupon import RESULTS, Coupon
from staydown.foundation.exposure import Mode
from staydown.foundation.quantities import lasting
from staydown.outputs.amounts import amount, bare_pair, bare_percent, one, units_of
from staydown.outputs.blocks import Block, figure, heading, kept_together, listing, paragraph, table
from staydown.outputs.evidence_text import some
from staydown.outputs.matched_tests import matched_tests
from staydown.outputs.most_used import by_case
from staydown.outputs.stress_time_chart import stress_time_of
from staydown.strength.capacity import ModeCapacity

MOST_COUPONS = 60  # listed one by one; more are told group by group
MOST_SPOILED = 24
SAME_WARMTH_K = 5.0
MOST_BOUNDS = 6


def evidence_pages(assessment: Assessment, items: Sequence[ItemAssessment]) -> list[Block]:
    """Return the blocks on each tape and surface that items of the job are bonded with, the worst item's first."""
    blocks: list[Block] = []
    seen: set[tuple[str, str]] = set()
    for assessed in items:
        key = (assessed.item.tape, assessed.standing.surface.id)
        if assessed.mounted is not None and key not in seen:
            seen.add(key)
            blocks += _of_bond(assessment, assessed, assessed.mounted)
    return blocks


def _of_bond(assessment: Assessment, assessed: ItemAssessment, mounted: Mounted) -> list[Block]:
    system = assessment.job.job.show
    name = f"{assessed.item.tape} on {assessed.standing.surface.name}"
    blocks = [heading(f"What was tested: {name}", 1)]
    if not mounted.groups:
        blocks.append(paragraph("No coupon of this tape on this surface: all of the above is estimate."))
        return [*blocks, figure(matched_tests(assessment, assessed, mounted))]
    chart = stress_time_of(assessment, assessed, _mode(mounted))
    if chart is not None:
        caption = (
            f"Shown for {assessed.item.name}. Filled marks are as warm (or as cold) as the panel, open ones are not. Band: "
            "5 to 95 % of belief in the middle bond; dashed: lower bound; heavy line: what is proven of it, wet and aged."
        )
        blocks.append(figure(chart, caption))
    caption = (
        f"Shown for {assessed.item.name}. A box says how many such tests there are; a dash that none was made. A test "
        "that does not speak for a load says nothing about it, however many there are."
    )
    blocks.append(
        kept_together(
            [
                heading("Which test speaks for which load", 2),
                figure(matched_tests(assessment, assessed, mounted), caption),
            ]
        )
    )
    blocks += _coupons(mounted, system)
    blocks += _bounds(assessed, mounted, system)
    return blocks


def _mode(mounted: Mounted) -> Mode:
    """Return the mode that decides: tension, or shear where there is no tension."""
    return "tension" if "tension" in mounted.capacity else next(iter(mounted.capacity), "tension")


def _listed(mounted: Mounted) -> list[Coupon]:
    every = [
        c for group in mounted.groups.values() for c in (*group.valid, *group.conditioned, *group.spoiled)
    ]
    return sorted(
        every, key=lambda c: (c.result == "spoiled", c.mode, -c.temperature_K, RESULTS.index(c.result))
    )


def _coupons(mounted: Mounted, system: str) -> list[Block]:
    """Return every coupon, spoiled ones last; too many of them group by group."""
    coupons = _listed(mounted)
    if len(coupons) > MOST_COUPONS:
        return _grouped(coupons, system)
    columns = (
        ("coupon", "left", 1.0),
        ("mode", "left", 0.0),
        ("what happened", "left", 0.0),
        (f"stress, {units_of('Pa', system)}", "right", 0.0),
        ("lasted", "right", 0.0),
        (f"at, {units_of('K', system)}", "right", 0.0),
        ("face", "left", 0.0),
        ("made", "left", 0.0),
        ("beside", "left", 1.6),
    )
    rows = [
        (
            coupon.name,
            coupon.mode,
            coupon.result,
            _stress(coupon, system),
            lasting(coupon.lasted_s),
            bare_pair(coupon.temperature_K, "K", system),
            coupon.failure_pattern or "-",
            coupon.batch or coupon.made_on or "-",
            _beside(coupon),
        )
        for coupon in coupons
    ]
    return [
        table(f"The {len(rows)} coupons, spoiled ones last: kept and shown, never counted", columns, rows)
    ]


def _beside(coupon: Coupon) -> str:
    parts = [
        "" if coupon.conditioned is None else f"first {coupon.conditioned}",
        "real foot" if coupon.foot == "real" else "",
        coupon.note,
    ]
    return "; ".join(part for part in parts if part)


def _stress(coupon: Coupon, system: str) -> str:
    if coupon.line_load_N_per_m is not None:
        return amount(coupon.line_load_N_per_m, "N/m", system)
    return "-" if coupon.stress_Pa is None else bare_pair(coupon.stress_Pa, "Pa", system)


def _grouped(coupons: Sequence[Coupon], system: str) -> list[Block]:
    rows = []
    for group in _groups([coupon for coupon in coupons if coupon.result != "spoiled"]):
        first = group[0]
        stresses = sorted(
            c.stress_Pa if c.stress_Pa is not None else c.line_load_N_per_m or 0.0 for c in group
        )
        unit = "N/m" if first.mode == "peel" else "Pa"
        lasts = dict.fromkeys(
            lasting(end) for end in (min(c.lasted_s for c in group), max(c.lasted_s for c in group))
        )
        warm = dict.fromkeys(one(end, "K", system) for end in (group[-1].temperature_K, first.temperature_K))
        rows.append(
            (
                str(len(group)),
                first.mode,
                first.result,
                bare_pair(stresses[0], unit, system),
                bare_pair(stresses[len(stresses) // 2], unit, system),
                bare_pair(stresses[-1], unit, system),
                " to ".join(lasts),
                " to ".join(warm),
                first.failure_pattern or "-",
                first.conditioned or "",
            )
        )
    columns = (
        ("n", "right", 0.0),
        ("mode", "left", 0.0),
        ("what happened", "left", 0.0),
        (f"least, {units_of('Pa', system)}", "right", 0.0),
        ("middle", "right", 0.0),
        ("most", "right", 0.0),
        ("lasted", "left", 1.0),
        ("at", "left", 0.0),
        ("face", "left", 0.0),
        ("first", "left", 0.5),
    )
    spoiled = [c for c in coupons if c.result == "spoiled"]
    note = "Peel in N/mm (lb/in). Every coupon by itself: `staydown record export`."
    blocks = [
        table(
            f"The {len(coupons)} coupons, by mode, warmth, face and what happened", columns, rows, note=note
        )
    ]
    if spoiled:
        told = [f"{c.name} ({c.mode}, {c.note or 'no reason given'})" for c in spoiled]
        words = f"Spoiled, kept and never counted: {some(told, MOST_SPOILED)}."
        blocks.append(paragraph(words, "note"))
    return blocks


def _groups(coupons: Sequence[Coupon]) -> Iterator[list[Coupon]]:
    """Yield coupons alike in mode, result, face and conditioning, within a few kelvins, the warmest first."""
    alike: dict[tuple[Any, ...], list[Coupon]] = {}
    for coupon in coupons:
        key = (coupon.mode, coupon.result, coupon.failure_pattern, coupon.conditioned)
        alike.setdefault(key, []).append(coupon)
    for group in alike.values():
        mine: list[Coupon] = []
        for coupon in sorted(group, key=lambda c: -c.temperature_K):
            if mine and mine[0].temperature_K - coupon.temperature_K > SAME_WARMTH_K:
                yield mine
                mine = []
            mine.append(coupon)
        yield mine


def _bounds(assessed: ItemAssessment, mounted: Mounted, system: str) -> list[Block]:
    """Return what is proven for the worst cases, and the bounds that an engineer works out by hand."""
    content = float(mounted.content.value)
    blocks: list[Block] = []
    rows = [
        row for mode, capacity in mounted.capacity.items() for row in _proven(mode, capacity, mounted, system)
    ]
    columns = (
        ("mode", "left", 0.0),
        ("for", "left", 0.0),
        ("at", "left", 0.0),
        (f"middle, {units_of('Pa', system)}", "right", 0.0),
        ("proven", "right", 0.0),
        ("by hand", "right", 0.0),
        ("evidence", "left", 0.0),
        ("because", "left", 1.0),
    )
    confidence = "95"
    note = (
        f"Shown for {assessed.item.name}: the stress that {100 * content:.0f} % of bonds hold so long and so warm, with "
        f"{confidence} % confidence, wet and aged. By hand: tolerance bound with typed ratios, for comparison."
    )
    if rows:
        blocks.append(
            table("What is proven, for the durations and temperatures of the cases", columns, rows, note=note)
        )
    hand = [
        (
            mode,
            bound.made_from,
            str(bound.count),
            amount(bound.temperature_K, "K", system),
            lasting(bound.lasts_s),
            "-" if math.isnan(bound.median_Pa) else bare_pair(bound.median_Pa, "Pa", system),
            bare_pair(float(bound.stress.value), "Pa", system),
            "-" if bound.reliability is None else f"{bare_percent(float(bound.reliability.value))} %",
        )
        for mode, capacity in mounted.capacity.items()
        for bound in capacity.classical
    ]
    columns = (
        ("mode", "left", 0.0),
        ("from", "left", 1.0),
        ("n", "right", 0.0),
        ("at", "left", 0.0),
        ("speaks for", "right", 0.0),
        ("middle", "right", 0.0),
        (f"bound, {units_of('Pa', system)}", "right", 0.0),
        ("would hold too", "right", 0.0),
    )
    if hand:
        blocks.append(table("The bounds worked out by hand, dry", columns, hand))
    notes = list(
        dict.fromkeys(
            note
            for capacity in mounted.capacity.values()
            for note in (*capacity.belief.refusals, *capacity.belief.notes)
        )
    )
    if notes:
        blocks.append(listing(notes, "How the belief was formed", small=True))
    return blocks


def _proven(mode: Mode, capacity: ModeCapacity, mounted: Mounted, system: str) -> Iterator[tuple[str, ...]]:
    """Yield one row for each duration and temperature of the worst cases."""
    seen: set[tuple[str, str]] = set()
    for row in by_case(mounted):
        if row.case.family == "soak" or len(seen) >= MOST_BOUNDS:
            continue
        answer = capacity.answer(row.pick.case, row.pick.mount)
        key = (lasting(row.case.exposure.lasts_s), amount(row.pick.temperature_K, "K", system))
        if key in seen:
            continue
        seen.add(key)
        by_hand = "-" if answer.by_hand is None else bare_pair(float(answer.by_hand.value), "Pa", system)
        yield (
            mode,
            *key,
            bare_pair(answer.median_Pa, "Pa", system),
            bare_pair(float(answer.proven.value), "Pa", system),
            by_hand,
            answer.level,
            answer.because,
        )
