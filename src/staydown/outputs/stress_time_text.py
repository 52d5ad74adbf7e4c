"""The stress-time chart of one belief in characters: coupons by result, median and lower bound at one temperature."""

from __future__ import annotations

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.foundation.quantities import lasting, shown
from staydown.strength.evidence_level import static_life_s
from staydown.strength.told_belief import ToldBelief
from staydown.strength.trials import tested_stress

WIDTH, HEIGHT = 62, 15
MARKS = {"broke": "x", "fell": "o", "holding": ">", "spoiled": "s"}
TICKS_s = (1.0, 60.0, 3600.0, 86400.0, 604800.0, 31557600.0)


def chart(
    told: ToldBelief,
    temperature_K: float,
    slope: float,
    content: float,
    confidence: float,
    system: str = "metric",
) -> list[str]:
    """Return the chart as lines, at most 80 wide; log time across, log stress up.

    Pulls stand at their equal static life. The curves are the belief at one temperature; coupons of other
    temperatures are drawn where they were tested and told apart in the table below.
    """
    coupons = (*told.group.valid, *told.group.conditioned, *told.group.spoiled)
    times = [max(static_life_s(c, slope), 0.1) for c in coupons]
    stresses = [tested_stress(c) for c in coupons]
    left, right = np.log10(min([*times, 1.0])), np.log10(max([*times, 86400.0]))
    across = np.linspace(left, right, WIDTH)
    pairs = tuple((float(10.0**x), temperature_K) for x in across)
    median = told.belief.strength_quantile(pairs, 0.5, 0.5)
    bound = told.belief.strength_quantile(pairs, content, 1.0 - confidence)
    values = np.log10([*stresses, *median, *bound])
    low, high = float(values.min()), float(values.max())
    grid = [[" "] * WIDTH for _ in range(HEIGHT)]

    def row(stress: float) -> int:
        return round(float((high - np.log10(stress)) / max(high - low, 1e-9) * (HEIGHT - 1)))

    def column(seconds: float) -> int:
        return round(float((np.log10(seconds) - left) / max(right - left, 1e-9) * (WIDTH - 1)))

    for number in range(WIDTH):
        grid[row(float(median[number]))][number] = "-"
        grid[row(float(bound[number]))][number] = "="
    for coupon, seconds, stress in zip(coupons, times, stresses, strict=True):
        grid[row(stress)][column(seconds)] = MARKS[coupon.result]
    unit = "N/m" if told.group.mode == "peel" else "Pa"
    lines = []
    for number, cells in enumerate(grid):
        stress = 10.0 ** (high - number / (HEIGHT - 1) * (high - low))
        label = shown(stress, unit, system) if number % 7 == 0 else ""
        lines.append(f"{label:>12} |{''.join(cells)}".rstrip())
    lines.append(f"{'':>12} +{'-' * WIDTH}")
    lines.append(f"{'':>14}{_ticks(left, right)}".rstrip())
    lines.append(
        f"{'':>14}x broke  o fell  > holding  s spoiled   {shown(temperature_K, 'K', system)}: - middle = bound"
    )
    return lines


def _ticks(left: float, right: float) -> str:
    line = [" "] * (WIDTH + 4)
    for seconds in TICKS_s:
        place = np.log10(seconds)
        if left <= place <= right:
            start = round((place - left) / (right - left) * (WIDTH - 1))
            for offset, letter in enumerate(lasting(seconds)):
                if start + offset < len(line):
                    line[start + offset] = letter
    return "".join(line)


def coupon_rows(coupons: tuple[Coupon, ...], system: str = "metric") -> list[tuple[str, ...]]:
    """Return one row of a table for each coupon: name, result, stress, time, temperature, face, note."""
    rows: list[tuple[str, ...]] = []
    for coupon in coupons:
        unit = "N/m" if coupon.mode == "peel" else "Pa"
        rows.append(
            (
                coupon.name,
                coupon.result,
                shown(tested_stress(coupon), unit, system),
                lasting(coupon.lasted_s),
                shown(coupon.temperature_K, "K", system),
                coupon.failure_pattern or "-",
                coupon.conditioned or coupon.note,
            )
        )
    return rows
