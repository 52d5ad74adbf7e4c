"""Two falls on one scale: where the demand comes from, and where the strength of the coupons goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from staydown.pictures.picture import Picture
from staydown.pictures.style import (
    HAIR,
    HOLD,
    HOLD_PALE,
    LARGE,
    PAGE,
    PLAIN,
    PULL,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    THIN,
    WHITE,
    folded,
)
from staydown.pictures.svg import document, hatch, line, rect, text

ROW = 16.5
LABEL = 104.0  # width of the words before the bars [pt]
GUTTER = 14.0
COLUMN = (PAGE - GUTTER) / 2
NUMBER = 28.0  # room for a number at the end of a bar


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """One step: words, value, its text; whole: a sum so far, else what is added (or taken). [Pa]"""

    words: str
    value_Pa: float
    shown: str
    whole: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Falls:
    """Both falls of one foot in one case. unit: of the numbers; sums: what is compared, in words."""

    name: str
    demand_title: str
    strength_title: str
    demand: tuple[Fall, ...]
    strength: tuple[Fall, ...]
    unit: str
    missing: str
    alt: str


def waterfalls(falls: Falls) -> Picture:
    """Return both falls beside each other, bars on one scale of stress."""
    largest = max([*_sums(falls.demand), *_sums(falls.strength), 1e-9])
    room = COLUMN - LABEL - NUMBER
    rows = max(len(falls.demand), len(falls.strength), 1)
    height = 30.0 + rows * ROW + 4.0
    scale = room / largest
    demand = falls.demand[-1].value_Pa * scale if falls.demand else None
    marks = [
        *_column(falls.demand, falls.demand_title, 0.0, scale, falls.unit, None),
        *_column(falls.strength, falls.strength_title, COLUMN + GUTTER, scale, falls.unit, demand),
    ]
    for row, words in enumerate(folded(falls.missing, COLUMN - 10.0, PLAIN, 4)):
        marks.append(text(COLUMN + GUTTER, 36.0 + 10.0 * row, words, ink=SOFT))
    title = f"{falls.name}: where the demand comes from, and where the capacity goes"
    return Picture(
        name="falls",
        title=title,
        alt=falls.alt,
        width=PAGE,
        height=height,
        svg=document(PAGE, height, title, falls.alt, marks),
    )


def _sums(falls: Sequence[Fall]) -> list[float]:
    sums, start = [], 0.0
    for fall in falls:
        start = fall.value_Pa if fall.whole else start + fall.value_Pa
        sums.append(start)
    return sums


def _column(
    falls: Sequence[Fall], title: str, left: float, reach: float, unit: str, through: float | None
) -> list[str]:
    """Return one fall; through: where a line is drawn through its bars, for the two to be compared by eye."""
    marks = [
        text(left, 10.0, title, size=LARGE, bold=True),
        text(left + COLUMN, 10.0, unit if falls else "", size=SMALL, anchor="end", ink=SOFT),
        line(left, 16.0, left + COLUMN, 16.0, ink=RULE, width=HAIR),
    ]
    pulls = left == 0.0
    zero = left + LABEL
    marks.append(line(zero, 20.0, zero, 24.0 + len(falls) * ROW, ink=RULE, width=HAIR) if falls else "")
    numbers = []
    start = 0.0
    before = falls[0].value_Pa if falls else 0.0
    for number, fall in enumerate(falls):
        y = 24.0 + number * ROW
        end = fall.value_Pa if fall.whole else start + fall.value_Pa
        low, high = (0.0, end) if fall.whole else (min(start, end), max(start, end))
        low, high = max(low, 0.0), max(high, 0.0)
        x, wide = zero + low * reach, (high - low) * reach
        marks += _words(fall, left, y, last=number == len(falls) - 1)
        if pulls:
            marks.append(_demand_bar(fall, x, y, wide))
        else:
            marks.append(_strength_bar(x, y, wide, zero + before * reach, last=number == len(falls) - 1))
        edge = x + wide if pulls else max(x + wide, zero + before * reach)
        before = fall.value_Pa
        bold = fall.whole and (number == len(falls) - 1)
        numbers.append(text(edge + 3.0, y + 8.6, fall.shown, bold=bold, halo=True))
        if number + 1 < len(falls):
            marks.append(
                line(zero + end * reach, y + 11.0, zero + end * reach, y + ROW + 1.0, ink=SOFT, width=HAIR)
            )
        start = end
    if through is not None and falls:
        bottom = 26.0 + len(falls) * ROW
        marks.append(line(zero + through, 22.0, zero + through, bottom, ink=PULL, width=STRONG, dash="3 2"))
    return [*marks, *numbers]


def _words(fall: Fall, left: float, y: float, *, last: bool) -> list[str]:
    lines = folded(fall.words, LABEL - 6.0, SMALL + 0.4, 2, bold=last)
    first = y + (8.4 if len(lines) == 1 else 4.6)
    return [
        text(left, first + 8.0 * row, words, size=SMALL + 0.4, bold=last) for row, words in enumerate(lines)
    ]


def _demand_bar(fall: Fall, x: float, y: float, wide: float) -> str:
    if fall.whole:
        return rect(x, y, wide, 11.0, fill=PULL)
    if fall.value_Pa >= 0.0:
        return rect(x, y, wide, 11.0, fill=PULL)
    return (
        rect(x, y, wide, 11.0, fill=WHITE)
        + hatch(x, y, wide, 11.0, ink=PULL)
        + rect(x, y, wide, 11.0, ink=PULL)
    )


def _strength_bar(x: float, y: float, wide: float, before: float, *, last: bool) -> str:
    lost = before - x - wide
    bar = rect(x, y, wide, 11.0, fill=HOLD if last else HOLD_PALE, ink=HOLD, stroke=THIN)
    if lost > 0.5:
        bar += rect(x + wide, y, lost, 11.0, fill=WHITE) + hatch(x + wide, y, lost, 11.0, ink=HOLD)
        bar += rect(x + wide, y, lost, 11.0, ink=HOLD, stroke=HAIR)
    return bar
