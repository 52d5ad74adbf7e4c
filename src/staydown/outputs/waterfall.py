"""Where the stress at the worst pad comes from, and what is left of the coupons: two falls on one scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from staydown.assess import ItemAssessment, Mounted
from staydown.foundation.numbers import Derived, Given, Number, at
from staydown.foundation.quantities import lasting, shown
from staydown.job.records import Item, Job
from staydown.outputs.amounts import amount, case_name, in_other, one, percent, units_of
from staydown.outputs.columns import GAP, cut, pad, wrap
from staydown.outputs.most_used import LIKELY, Pick, worst_in_tension
from staydown.strength.capacity import Answer, ModeCapacity
from staydown.verdict.checks import HIGH

FULL, GONE = "█", "░"
WHOLE_Pa = {"metric": 100e3, "us": 690e3}  # 100 kPa and 100 psi: from here on no decimals
LABEL, NUMBER = 27, 7
MOST_NAME = 40
BOW_HELD = "its bow, held down"  # in a soak no load is shared


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a fall: its value at the likely and the high band; whole: it is a sum so far, no part. [Pa]

    number: what the step is read off; trail: the end of that number's path, after item, case and season.
    """

    what: str
    likely_Pa: float | None
    high_Pa: float
    whole: bool
    number: Number | None = None
    trail: str = ""


def demand_steps(item: Item, mounted: Mounted, found: Pick) -> list[Step]:
    """Return how the peak tension of a mount grows: equal share, load factors, worst mount, lever.

    The steps add up to the peak exactly. Loads before their factors are shared equally; what the factors add is
    shared equally too, and what the worst mount carries above the equal share is its own step.
    """
    area_m2 = item.mount[found.mount].pad.area_m2 * len(item.mount)
    steps: dict[int, list[float]] = {}
    for band in (LIKELY, HIGH):
        index = (found.case, band, found.mount)
        bare_N = sum(at(part.force[2], index) for part in mounted.table.parts if part.acts[found.case])
        factored_N = float(mounted.table.force_N[found.case, band, 2])
        mean_Pa = at(mounted.demands.mean_tension, index)
        peak_Pa = at(mounted.demands.peak_tension, index)
        share, factored = bare_N / area_m2, factored_N / area_m2
        steps[band] = [share, factored - share, mean_Pa - factored, peak_Pa - mean_Pa, peak_Pa]
    words = (
        "equal share of the net pull" if len(item.mount) > 1 else "net pull",
        "load factors",
        "this mount, above its share" if mounted.table.cases[found.case].family != "soak" else BOW_HELD,
        "lever and tipping",
        "at the pad's edge",
    )
    name, net = mounted.demands.mounts[found.mount], mounted.table.force[2]
    mean, peak = mounted.demands.mean_tension, mounted.demands.peak_tension
    read_off: tuple[tuple[Number | None, str], ...] = (
        (None, ""),
        (net, "all/force Fz"),
        (mean, f"{name}/mean tension"),
        (peak, f"{name}/peak tension"),
        (peak, f"{name}/peak tension"),
    )
    return [
        Step(
            what=words[number],
            likely_Pa=steps[LIKELY][number],
            high_Pa=steps[HIGH][number],
            whole=number in (0, 4),
            number=read_off[number][0],
            trail=read_off[number][1],
        )
        for number in range(len(words))
        if number in (0, 4) or len(item.mount) > 1 or number != 2
    ]


def strength_steps(
    job: Job, capacity: ModeCapacity, answer: Answer, lasts_s: float, temperature_K: float, system: str
) -> list[Step]:
    """Return how the strength of the coupons shrinks to what is proven, read off the trail of the proven number.

    The middle of the pulls nearest in temperature, the middle of belief for the case, its lower bound, wet and aged;
    empty where nothing is proven.
    """
    kept: list[tuple[str, float]] = []
    share = 1.0
    number = answer.proven
    while isinstance(number, Derived) and number.law.name == "kept_strength":
        kept.append((_kept_label(job, number.inputs["kept"]), float(number.value)))
        share *= float(number.inputs["kept"].value)
        number = number.inputs["stress_Pa"]
    bound = float(number.value)
    if math.isnan(bound):
        return []
    asked = f"{lasting(lasts_s)} at {one(temperature_K, 'K', system)}"
    steps = []
    pulls = [found for found in capacity.classical if found.pulled and not math.isnan(found.median_Pa)]
    if pulls:
        nearest = min(pulls, key=lambda found: abs(found.temperature_K - temperature_K))
        what = f"{nearest.count} pulls, {one(nearest.temperature_K, 'K', system)}, middle"
        steps.append(Step(what=what, likely_Pa=None, high_Pa=nearest.median_Pa, whole=True))
    middle = answer.median_Pa / share
    if not math.isnan(middle):
        steps.append(Step(what=f"{asked}, middle", likely_Pa=None, high_Pa=middle, whole=True))
    steps.append(Step(what="lower bound: scatter, doubt", likely_Pa=None, high_Pa=bound, whole=True))
    steps += [Step(what=label, likely_Pa=None, high_Pa=value, whole=True) for label, value in reversed(kept)]
    return steps


def _kept_label(job: Job, share: Number) -> str:
    value = f"{float(share.value):.2f}"
    if isinstance(share, Given):
        source = share.source
        if source.basis == "planning value":
            return f"wet, aged (assumed {value})"
        if source.basis == "typed" and source.place.startswith("ratio."):
            condition = job.ratio[int(source.place.split(".")[1]) - 1].condition
            return f"{condition} (your ratio, {value})"
    return f"wet, aged (your own, {value})"


def waterfall_text(job: Job, assessed: ItemAssessment, width: int) -> list[str]:
    """Return both falls of the mount and case most used in tension, with bars; nothing where nothing pulls."""
    mounted = assessed.mounted
    if mounted is None:
        return []
    found = worst_in_tension(mounted)
    if found.peak_Pa <= 0.0:
        return []
    system = job.job.show
    demand = demand_steps(assessed.item, mounted, found)
    capacity, answer = mounted.capacity.get("tension"), tension_answer(mounted, found)
    case = mounted.table.cases[found.case]
    strength = (
        []
        if capacity is None or answer is None
        else strength_steps(job, capacity, answer, case.exposure.lasts_s, found.temperature_K, system)
    )
    largest = max(_running(demand) + [step.high_Pa for step in strength])
    # one count of digits in a fall, so that its steps can be added by eye
    digits = 0 if found.peak_Pa >= WHOLE_Pa[system] else 1
    name = mounted.demands.mounts[found.mount]
    lines = wrap(
        f"Where the {amount(found.peak_Pa, 'Pa', system)} at {cut(name, MOST_NAME)} come from ({case_name(case)})",
        width,
        first="  ",
    )
    room = width - 2 - LABEL - 2 * (NUMBER + 1) - 2
    unit = units_of("Pa", system).split(" ")[0]
    lines.append(
        f"  {pad(unit, LABEL)} {'likely':>{NUMBER}} {'high':>{NUMBER}}{GAP}{in_other('Pa', system):>{room}}"
    )
    start = 0.0
    for step in demand:
        end = step.high_Pa if step.whole else start + step.high_Pa
        span = (0.0, end) if step.whole else (min(start, end), max(start, end))
        lines += _line(step, _bar(span, largest, room, FULL), system, digits)
        start = end
    if not strength:
        return [*lines, *wrap("No test of yours says what is left against it.", width, first="  ")]
    lines += ["", *wrap(f"What is left of what your tests showed, {unit}", width, first="  ")]
    before = strength[0].high_Pa
    digits = 0 if strength[-1].high_Pa >= WHOLE_Pa[system] else 1
    for step in strength:
        bar = _bar((0.0, step.high_Pa), largest, room, FULL)
        lost = _bar((0.0, before), largest, room, GONE)[len(bar) :]
        lines += _line(step, bar + lost, system, digits)
        before = step.high_Pa
    if answer is not None and answer.by_hand is not None:
        by_hand = one(float(answer.by_hand.value), "Pa", system)
        lines += wrap(
            f"By hand, for comparison (tolerance bound, typed ratios, wet): {by_hand}.", width, first="  "
        )
    return [*lines, *wrap(_sum_up(found, strength[-1].high_Pa, system), width, first="  ")]


def tension_answer(mounted: Mounted, found: Pick) -> Answer | None:
    """Return what is proven in tension for a pick, or None where no coupon was tested in tension."""
    capacity = mounted.capacity.get("tension")
    return None if capacity is None else capacity.answer(found.case, found.mount)


def _sum_up(found: Pick, left_Pa: float, system: str) -> str:
    demand, left = one(found.peak_Pa, "Pa", system), one(left_Pa, "Pa", system)
    text = f"Used: {demand} of {left} in tension, {percent(found.tension_use)}"
    if found.shear_use >= 0.005:
        text += f"; {percent(found.shear_use)} in shear; together {percent(found.use)}"
    return text + "."


def _running(steps: Sequence[Step]) -> list[float]:
    """Return the sums that a fall passes, which the bars must hold."""
    sums, start = [], 0.0
    for step in steps:
        start = step.high_Pa if step.whole else start + step.high_Pa
        sums.append(start)
    return sums


def _line(step: Step, bar: str, system: str, digits: int) -> list[str]:
    def number(value: float | None) -> str:
        if value is None:
            return ""
        text = shown(value, "Pa", system, digits).split(" ")[0]
        return text if step.whole or text.startswith("-") else f"+{text}"

    labels = wrap(step.what, LABEL, after="  ")
    line = f"  {pad(labels[0], LABEL)} {number(step.likely_Pa):>{NUMBER}} {number(step.high_Pa):>{NUMBER}}{GAP}{bar}"
    return [line.rstrip(), *(f"  {label}" for label in labels[1:])]


def _bar(span: tuple[float, float], largest: float, room: int, letter: str) -> str:
    """Return a bar from one end of the span to the other; what lies below nothing is not drawn."""
    first, last = (round(max(0.0, end) / largest * room) for end in span)
    return " " * first + letter * (last - first)
