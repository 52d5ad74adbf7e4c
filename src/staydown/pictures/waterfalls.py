"""Two falls on one scale: where the demand comes from, and where the strength of the coupons goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from staydown.pictures.picture import Picture
from staydown.pictures.style import (
    HAIR,
    HOLD,
    HOLD_PALE,
    LARGE,
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
    folded,
)
from staydown.pictures.svg import document, hatch, line, rect, text

ROW = 16.5
LABEL = 104.0  # width of the words before the bars [pt]
GUTTER = 14.0
COLUMN = (PAGE - GUTTER) / 2
NUMBER = 28.0  # room for a number at the end of a bar
BAR = 11.0
LINE = 8.4  # from one line of words to the next, where they stand above their bar


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """One step: words, value, its text; whole: a sum so far, else what is added (or taken). [Pa]

    path: of its trail, where there is one.
    """

    words: str
    value_Pa: float
    shown: str
    whole: bool
    path: str = ""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where a fall stands. above: its words stand above their bars, else before them. points [pt] a pascal."""

    left: float
    top: float
    wide: float
    above: bool
    points_per_Pa: float

    @property
    def zero(self) -> float:
        return self.left if self.above else self.left + LABEL

    def words(self, fall: Fall, *, last: bool) -> list[str]:
        room = self.wide if self.above else LABEL - 6.0
        return folded(fall.words, room, SMALL + 0.4, 2, bold=last)

    def bars(self, falls: Sequence[Fall]) -> list[float]:
        """Return the top of each bar, and where the next would begin."""
        if not self.above:
            return [self.top + 24.0 + number * ROW for number in range(len(falls) + 1)]
        tops, y = [], self.top + 20.0
        for number, fall in enumerate(falls):
            y += LINE * len(self.words(fall, last=number == len(falls) - 1)) + 3.0
            tops.append(y)
            y += BAR + 5.0
        return [*tops, y]


def waterfalls(falls: Falls, *, narrow: bool = False) -> Picture:
    """Return both falls beside each other, bars on one scale of stress; narrow: under each other, for a phone."""
    largest = max([*_sums(falls.demand), *_sums(falls.strength), 1e-9])
    page, column = (PHONE, PHONE) if narrow else (PAGE, COLUMN)
    scale = (column - NUMBER - (0.0 if narrow else LABEL)) / largest
    first = _Place(left=0.0, top=0.0, wide=column, above=narrow, points_per_Pa=scale)
    first_end = first.bars(falls.demand)[-1]
    second = _Place(
        left=0.0 if narrow else COLUMN + GUTTER,
        top=first_end + 8.0 if narrow else 0.0,
        wide=column,
        above=narrow,
        points_per_Pa=scale,
    )
    demand = falls.demand[-1].value_Pa * scale if falls.demand else None
    marks = [
        *_column(falls.demand, falls.demand_title, first, falls.unit, None, pulls=True),
        *_column(falls.strength, falls.strength_title, second, falls.unit, demand, pulls=False),
    ]
    missing = folded(falls.missing, column - 10.0, PLAIN, 4)
    for row, words in enumerate(missing):
        marks.append(text(second.left, second.top + 36.0 + 10.0 * row, words, ink=SOFT))
    title = f"{falls.name}: where the demand comes from, and where the capacity goes"
    height = max(first_end, second.bars(falls.strength)[-1], 24.0 + ROW) + 10.0
    if missing:
        height = max(height, second.top + 40.0 + 10.0 * len(missing))
    return Picture(
        name="falls",
        title=title,
        alt=falls.alt,
        width=page,
        height=height,
        svg=document(page, height, title, falls.alt, marks),
    )


def _sums(falls: Sequence[Fall]) -> list[float]:
    sums, start = [], 0.0
    for fall in falls:
        start = fall.value_Pa if fall.whole else start + fall.value_Pa
        sums.append(start)
    return sums


def _column(
    falls: Sequence[Fall], title: str, place: _Place, unit: str, through: float | None, *, pulls: bool
) -> list[str]:
    """Return one fall; through: where a line is drawn through its bars, for the two to be compared by eye."""
    left, right, top, zero, reach = (
        place.left,
        place.left + place.wide,
        place.top,
        place.zero,
        place.points_per_Pa,
    )
    heading = fitted(title, place.wide - 24.0, LARGE, bold=True)
    marks = [
        text(left, top + 10.0, heading, size=LARGE, bold=True),
        text(right, top + 10.0, unit if falls else "", size=SMALL, anchor="end", ink=SOFT),
        line(left, top + 16.0, right, top + 16.0, ink=RULE, width=HAIR),
    ]
    bars = place.bars(falls)
    bottom = bars[-1] if not place.above else bars[-1] - 3.0
    marks.append(line(zero, top + 20.0, zero, bottom, ink=RULE, width=HAIR) if falls else "")
    told = []
    start = 0.0
    before = falls[0].value_Pa if falls else 0.0
    for number, fall in enumerate(falls):
        y, last = bars[number], number == len(falls) - 1
        end = fall.value_Pa if fall.whole else start + fall.value_Pa
        low, high = (0.0, end) if fall.whole else (min(start, end), max(start, end))
        low, high = max(low, 0.0), max(high, 0.0)
        x, wide = zero + low * reach, (high - low) * reach
        lost = zero + before * reach
        marks.append(_demand_bar(fall, x, y, wide) if pulls else _strength_bar(x, y, wide, lost, last=last))
        edge = x + wide if pulls else max(x + wide, lost)
        before = fall.value_Pa
        said = [
            *_words(fall, place, y, last=last),
            text(edge + 3.0, y + 8.6, fall.shown, bold=fall.whole and last, halo=True),
        ]
        told.append(_asked(fall, (left, y - 2.0, place.wide), said) if fall.path else "".join(said))
        if not last:
            marks.append(
                line(
                    zero + end * reach,
                    y + BAR,
                    zero + end * reach,
                    bars[number + 1] + 1.0,
                    ink=SOFT,
                    width=HAIR,
                )
            )
        start = end
    if through is not None and falls:
        marks.append(
            line(zero + through, top + 22.0, zero + through, bottom + 2.0, ink=PULL, width=STRONG, dash="3 2")
        )
    return [*marks, *told]


def _asked(fall: Fall, row: tuple[float, float, float], marks: Sequence[str]) -> str:
    """Return the marks of a step so that a page can tell, when it is pressed, which trail is asked for."""
    x, y, wide = row
    reach = rect(x, y, wide, BAR + 4.0).replace("/>", ' pointer-events="all"/>')
    return f'<g data-why="{escape(fall.path)}">{reach}{"".join(marks)}</g>'


def _words(fall: Fall, place: _Place, y: float, *, last: bool) -> list[str]:
    lines = place.words(fall, last=last)
    size = SMALL + 0.4
    if place.above:
        first = y - 3.4 - LINE * (len(lines) - 1)
        return [
            text(place.left + 1.0, first + LINE * row, words, size=size, bold=last, halo=True)
            for row, words in enumerate(lines)
        ]
    first = y + (8.4 if len(lines) == 1 else 4.6)
    return [
        text(place.left, first + 8.0 * row, words, size=size, bold=last) for row, words in enumerate(lines)
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
