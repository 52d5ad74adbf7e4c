"""The pages of a dossier on what was tested: chart, grid, every coupon with its failure face, the bounds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Mode
from staydown.foundation.quantities import lasting
from staydown.outputs.amounts import amount, bare, bare_pair, bare_percent, units_of
from staydown.outputs.blocks import Block, figure, heading, kept_together, listing, paragraph, table
from staydown.outputs.matched_tests import matched_tests
from staydown.outputs.most_used import by_case
from staydown.outputs.stress_time_chart import stress_time_of
from staydown.strength.capacity import ModeCapacity

MOST_VALUES = 40  # of coupons alike, in one row
MOST_BY_DAY = 60  # more coupons than this are not told apart by the day they were made
MOST_BOUNDS = 5


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
    blocks += _coupons(mounted, system)
    chart = stress_time_of(assessment, assessed, _mode(mounted))
    if chart is not None:
        caption = (
            f"Shown for {assessed.item.name}. Filled marks are as warm (or as cold) as the panel, open ones are not. "
            "Band: 5 to 95 % of belief in the middle bond; dashed: lower bound; heavy: what is proven, wet and aged."
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
    blocks += _bounds(assessment, assessed, mounted)
    return blocks


def _mode(mounted: Mounted) -> Mode:
    """Return the mode that decides: tension, or shear where there is no tension."""
    return "tension" if "tension" in mounted.capacity else next(iter(mounted.capacity), "tension")


def _coupons(mounted: Mounted, system: str) -> list[Block]:
    """Return every coupon with its stress and failure face, those alike in one row, spoiled ones last."""
    every = [
        c for group in mounted.groups.values() for c in (*group.valid, *group.conditioned, *group.spoiled)
    ]
    rows = []
    for group in sorted(
        _alike(every, by_day=len(every) <= MOST_BY_DAY),
        key=lambda g: (g[0].result == "spoiled", g[0].mode, -g[0].temperature_K),
    ):
        first = group[0]
        unit = "N/m" if first.mode == "peel" else "Pa"
        stresses = [bare(_stress(coupon), unit, system) for coupon in group[:MOST_VALUES]]
        more = f" and {len(group) - MOST_VALUES} more" if len(group) > MOST_VALUES else ""
        lasts = (min(c.lasted_s for c in group), max(c.lasted_s for c in group))
        warm = (min(c.temperature_K for c in group), max(c.temperature_K for c in group))
        rows.append(
            (
                series([coupon.name for coupon in group]),
                first.mode,
                first.result,
                ", ".join(stresses) + more,
                " to ".join(dict.fromkeys(lasting(end) for end in lasts)),
                " to ".join(dict.fromkeys(amount(end, "K", system) for end in warm)),
                first.failure_pattern or "-",
                _made(group),
                _beside(first),
            )
        )
    label = units_of("Pa", system).split(" ")[0]
    columns = (
        ("coupons", "left", 0.9),
        ("mode", "left", 0.0),
        ("what happened", "left", 0.0),
        (f"stress of each, {label}", "left", 1.5),
        ("lasted", "left", 0.0),
        ("at", "left", 0.0),
        ("face", "left", 0.0),
        ("made", "left", 0.0),
        ("beside", "left", 1.1),
    )
    title = (
        f"All {len(every)} coupons, those alike in one row; spoiled ones are kept and shown, never counted"
    )
    return [table(title, columns, rows)]


def _made(coupons: Sequence[Coupon]) -> str:
    days = list(dict.fromkeys(coupon.batch or coupon.made_on or "-" for coupon in coupons))
    return days[0] if len(days) == 1 else f"{len(days)} batches"


def _alike(coupons: Sequence[Coupon], *, by_day: bool) -> list[list[Coupon]]:
    """Return coupons grouped by what a reader must tell apart, in the order of the logbook."""
    groups: dict[tuple[Any, ...], list[Coupon]] = {}
    for coupon in coupons:
        made = (coupon.made_on, coupon.batch) if by_day else ()
        warmth = round(coupon.temperature_K)
        key = (coupon.mode, coupon.result, warmth, coupon.failure_pattern, _beside(coupon), made)
        groups.setdefault(key, []).append(coupon)
    return list(groups.values())


def series(names: Sequence[str], most: int = 4) -> str:
    """Return names in a row, a numbered series by its ends.

    Examples
    --------
    >>> series(["hot 1", "hot 2", "hot 3"]), series(["a", "b"]), series(["a", "b", "c", "d", "e"])
    ('hot 1 to 3', 'a, b', 'a, b, c, d and 1 more')
    """
    stems = [name.rstrip("0123456789") for name in names]
    numbers = [name[len(stem) :] for name, stem in zip(names, stems, strict=True)]
    if len(names) > 2 and len(set(stems)) == 1 and all(numbers):
        counts = [int(number) for number in numbers]
        if counts == list(range(counts[0], counts[0] + len(counts))):
            return f"{names[0]} to {numbers[-1]}"
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def _beside(coupon: Coupon) -> str:
    parts = [
        "" if coupon.conditioned is None else f"first {coupon.conditioned}",
        "real foot" if coupon.foot == "real" else "",
        coupon.note,
    ]
    return "; ".join(part for part in parts if part)


def _stress(coupon: Coupon) -> float:
    """Return the stress of a coupon, of a peel coupon its line load. [Pa, N/m]"""
    stress = coupon.line_load_N_per_m if coupon.mode == "peel" else coupon.stress_Pa
    return math.nan if stress is None else stress


def _bounds(assessment: Assessment, assessed: ItemAssessment, mounted: Mounted) -> list[Block]:
    """Return what is proven for the worst cases, and the bounds that an engineer works out by hand."""
    content, system = float(mounted.content.value), assessment.job.job.show
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
    confidence = float(assessment.cards.planning["confidence"].decided.value)
    note = (
        f"Shown for {assessed.item.name}: the stress that {100 * content:.0f} % of bonds hold so long and so warm, "
        f"with {100 * confidence:.0f} % confidence, wet and aged. By hand: tolerance bound, typed ratios."
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
        if row.pick.heat_only or len(seen) >= MOST_BOUNDS:
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
