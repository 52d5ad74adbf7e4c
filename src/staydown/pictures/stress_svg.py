"""Stress over time under load as a drawing for a page: every mark says what it is when it is pointed at."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

from staydown.foundation.quantities import lasting
from staydown.pictures.picture import Picture
from staydown.pictures.stress_time import RESULTS, STRESSES, TIMES, Panel
from staydown.pictures.style import (
    HAIR,
    HOLD,
    HOLD_PALE,
    INK,
    PAGE,
    PHONE,
    PLAIN,
    PULL,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    THIN,
    WHITE,
    fitted,
    text_width,
)
from staydown.pictures.svg import circle, document, line, number, polygon, text

TOP, HEIGHT, LEFT, GAP = 24.0, 176.0, 40.0, 16.0
LEFT_NARROW = 22.0
KEY_ROW = 11.0
MARK = 3.4
LEAST_s, MOST_s = 0.5, 2.0e4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Axes:
    """One panel on the sheet: its left side, its top and width, and where times and stresses stand."""

    left: float
    top: float
    width: float
    times: tuple[float, float]
    stresses: tuple[float, float]

    def x(self, lasts_s: float) -> float:
        return self.left + self.width * _share(lasts_s, self.times)

    def y(self, stress: float) -> float:
        return self.top + HEIGHT * (1.0 - _share(stress, self.stresses))


def stress_svg(name: str, panels: Sequence[Panel], unit: str, alt: str, *, narrow: bool = False) -> Picture:
    """Return the chart; stresses are in `unit` already. narrow: the panels under each other, for a phone."""
    times = _span([value for panel in panels for value in _times(panel)], LEAST_s, MOST_s)
    stresses = _span([value for panel in panels for value in _stresses(panel)], math.inf, 0.0)
    page, left = (PHONE, LEFT_NARROW) if narrow else (PAGE, LEFT)
    beside = 1 if narrow else len(panels)
    width = (page - left - GAP * (beside - 1)) / beside
    marks = []
    bottom = TOP
    for place, panel in enumerate(panels):
        column, row = (0, place) if narrow else (place, 0)
        axes = _Axes(
            left=left + column * (width + GAP),
            top=TOP + row * (TOP + HEIGHT + 18.0),
            width=width,
            times=times,
            stresses=stresses,
        )
        marks += _panel(panel, axes, unit if column == 0 else "", narrow=narrow)
        bottom = axes.top + HEIGHT
    in_a_row = 2 if narrow else len(RESULTS)
    marks += _key(bottom + 34.0 - 8.0 * narrow, page / in_a_row, in_a_row)
    height = bottom + 42.0 + (KEY_ROW * (len(RESULTS) - 1) // in_a_row if narrow else 0.0)
    title = f"{name}: stress over time under load"
    return Picture(
        name="stress",
        title=title,
        alt=alt,
        width=page,
        height=height,
        svg=document(page, height, title, alt, marks),
    )


def _panel(panel: Panel, axes: _Axes, unit: str, *, narrow: bool) -> list[str]:
    right, bottom = axes.left + axes.width, axes.top + HEIGHT
    marks = [text(axes.left, axes.top - 15.0, fitted(panel.title, axes.width, PLAIN, bold=True), bold=True)]
    marks += [text(0.0, axes.top - (6.0 if narrow else 15.0), unit, size=SMALL, ink=SOFT)] if unit else []
    for stress in STRESSES:
        if axes.stresses[0] <= stress <= axes.stresses[1]:
            y = axes.y(stress)
            marks.append(line(axes.left, y, right, y, ink=RULE, width=HAIR))
            if unit:
                marks.append(text(axes.left - 4.0, y + 2.4, f"{stress}", size=SMALL, anchor="end", ink=SOFT))
    said_to = -math.inf
    for lasts_s, words in TIMES:
        if axes.times[0] <= lasts_s <= axes.times[1]:
            x = axes.x(lasts_s)
            marks.append(line(x, axes.top, x, bottom, ink=RULE, width=HAIR))
            half = text_width(words, SMALL) / 2
            if x - half > said_to:  # no number over the one before it
                said_to = x + half + 2.0
                shift = min(right + 6.0 * (not narrow) - x - half, 0.0)
                marks.append(text(x + shift, bottom + 9.0, words, size=SMALL, anchor="middle", ink=SOFT))
    marks += _curves(panel, axes)
    for coupon in (one for one in panel.coupons if one.stress > 0.0):
        where = axes.x(coupon.lasts_s), axes.y(coupon.stress)
        said = f"{coupon.name}: {RESULTS[coupon.result]}, {coupon.stress:.3g}, {lasting(coupon.lasts_s)}"
        said += "" if coupon.speaks else "; at another temperature"
        marks.append(_pointed(said, _mark(coupon.result, *where, HOLD if coupon.speaks else SOFT)))
    taken: list[float] = []
    for demand in (one for one in panel.demands if one.stress > 0.0):
        x, y = axes.x(demand.lasts_s), axes.y(demand.stress)
        said = f"{demand.words or 'demand of the job'}: {demand.stress:.3g} for {lasting(demand.lasts_s)}"
        marks.append(_pointed(said, _mark("demand", x, y, PULL)))
        if demand.words and all(abs(y - other) > SMALL for other in taken):
            taken.append(y)
            words = fitted(demand.words, axes.width - 12.0, SMALL)
            before = x + 5.0 + text_width(words, SMALL) > right + 6.0
            side = "end" if before else "start"
            marks.append(
                text(
                    x - 5.0 if before else x + 5.0,
                    y + 2.4,
                    words,
                    size=SMALL,
                    ink=PULL,
                    anchor=side,
                    halo=True,
                )
            )
    return marks


def _curves(panel: Panel, axes: _Axes) -> list[str]:
    """Return the belief as a band, the lower bound dashed, what is proven as a strong line."""

    def clipped(value: float) -> float:
        return min(max(value, axes.stresses[0]), axes.stresses[1])

    inside = [one for one in panel.curve if axes.times[0] <= one.lasts_s <= axes.times[1]]
    if not inside:
        return []
    upper = [(axes.x(one.lasts_s), axes.y(clipped(one.high))) for one in inside]
    lower = [(axes.x(one.lasts_s), axes.y(clipped(one.low))) for one in inside]
    marks = [
        _pointed("the median bond, believed to nine in ten", polygon([*upper, *lower[::-1]], fill=HOLD_PALE))
    ]
    lines: tuple[tuple[str, Callable[[int], float | None], float, str], ...] = (
        ("lower bound of the bonds", lambda n: inside[n].bound, THIN, "4 3"),
        ("what is proven of it", lambda n: inside[n].proven, STRONG, ""),
    )
    for words, value, width, dash in lines:
        points = [
            (axes.x(one.lasts_s), axes.y(found))
            for n, one in enumerate(inside)
            if (found := value(n)) is not None and axes.stresses[0] <= found <= axes.stresses[1]
        ]
        if len(points) < 2:
            continue
        told = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        stroke = (
            f'<polyline points="{told}" fill="none" stroke="{HOLD}" stroke-width="{number(width)}"{dashes}/>'
        )
        marks.append(_pointed(words, stroke))
    return marks


def _mark(result: str, x: float, y: float, ink: str) -> str:
    """Return a coupon's mark: a disc broke, a triangle downwards fell, one to the right holds, a cross is spoiled."""
    size = MARK
    match result:
        case "broke":
            return circle(x, y, size * 0.85, fill=ink, ink=WHITE, stroke=HAIR)
        case "fell":
            points = [(x - size, y - size * 0.8), (x + size, y - size * 0.8), (x, y + size)]
            return polygon(points, fill=ink, ink=WHITE, stroke=HAIR)
        case "holding":
            points = [(x - size * 0.8, y - size), (x + size, y), (x - size * 0.8, y + size)]
            return polygon(points, fill=WHITE, ink=ink, stroke=THIN + 0.3)
        case "demand":
            points = [(x, y - size * 1.2), (x + size, y), (x, y + size * 1.2), (x - size, y)]
            return polygon(points, fill=ink, ink=WHITE, stroke=HAIR)
    arm = size * 0.8
    return line(x - arm, y - arm, x + arm, y + arm, ink=SOFT) + line(
        x - arm, y + arm, x + arm, y - arm, ink=SOFT
    )


def _pointed(words: str, mark: str) -> str:
    """Return a mark that tells what it is to a pointer and to a screen reader."""
    return f'<g role="img" aria-label="{escape(words)}"><title>{escape(words)}</title>{mark}</g>'


def _key(y: float, step: float, in_a_row: int) -> list[str]:
    marks = []
    for place, (result, words) in enumerate(RESULTS.items()):
        x, row = place % in_a_row * step + 6.0, y + KEY_ROW * (place // in_a_row)
        marks.append(_mark(result, x, row - 2.4, PULL if result == "demand" else HOLD))
        marks.append(text(x + 7.0, row, words, size=SMALL, ink=INK))
    return marks


def _share(value: float, span: tuple[float, float]) -> float:
    low, high = span
    return (math.log(value) - math.log(low)) / (math.log(high) - math.log(low))


def _span(values: Sequence[float], low: float, high: float) -> tuple[float, float]:
    known = [value for value in values if value > 0.0 and math.isfinite(value)]
    return min([*known, low]) / 1.5, max([*known, high]) * 1.5


def _times(panel: Panel) -> list[float]:
    return [one.lasts_s for one in panel.coupons] + [one.lasts_s for one in panel.demands]


def _stresses(panel: Panel) -> list[float]:
    points = [one.stress for one in panel.coupons] + [one.stress for one in panel.demands]
    proven = [one.proven for one in panel.curve if one.proven is not None]
    return points + proven
