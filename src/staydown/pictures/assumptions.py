"""What was assumed, each with the use at both ends of its band: what moves the answer most stands first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from staydown.pictures.picture import Picture
from staydown.pictures.style import (
    HAIR,
    HOLD,
    INK,
    PAGE,
    PHONE,
    PULL,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    THIN,
    WHITE,
    folded,
)
from staydown.pictures.svg import circle, document, line, text

ROW = 18.0
LABEL = 226.0
SIDE = 44.0  # room for the words at both ends [pt]
SIDE_TALL = 36.0  # the same on a phone
MOST_TICKS = 5  # with numbers, on a phone
ROOM_OF_TICK = 22.0  # of the number under a tick [pt]


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """One assumption: what it is, use as decided and at the low and high end of its band, the ends in words."""

    words: str
    use: float
    use_at_low: float
    use_at_high: float
    low: str
    high: str


def assumptions(swings: Sequence[Swing], alt: str, *, narrow: bool = False) -> Picture:
    """Return one line an assumption: open ring at its low end, full dot at its high end, a tick at what decided.

    narrow: the words above each line, for a phone.
    """
    if narrow:
        return _tall(swings, alt)
    most = max([1.05, *(max(one.use, one.use_at_low, one.use_at_high) for one in swings)])
    room = PAGE - LABEL - 2 * SIDE
    reach = room / most
    zero = LABEL + SIDE
    bottom = 16.0 + len(swings) * ROW
    height = bottom + 16.0
    marks = []
    for share in _ticks(most):
        x = zero + share * reach
        whole = abs(share - 1.0) < 1e-9
        marks.append(line(x, 12.0, x, bottom, ink=INK if whole else RULE, width=THIN if whole else HAIR))
        marks.append(text(x, bottom + 8.0, f"{100 * share:.0f} %", size=SMALL, anchor="middle", bold=whole))
    marks.append(text(LABEL, 8.0, "use with the assumption at its", size=SMALL, ink=SOFT))
    marks += [
        circle(LABEL + 94.0, 5.6, 2.6, fill=WHITE, ink=INK),
        text(LABEL + 99.0, 8.0, "low end", size=SMALL, ink=SOFT),
    ]
    marks += [
        circle(LABEL + 132.0, 5.6, 2.6, fill=INK),
        text(LABEL + 137.0, 8.0, "high end", size=SMALL, ink=SOFT),
    ]
    marks += [
        line(LABEL + 170.0, 2.0, LABEL + 170.0, 9.0, ink=HOLD, width=STRONG),
        text(LABEL + 174.0, 8.0, "as decided", size=SMALL, ink=SOFT),
    ]
    for number, one in enumerate(swings):
        marks += _row(one, 16.0 + number * ROW, zero, reach)
    return _picture(alt, PAGE, height, marks)


def _picture(alt: str, width: float, height: float, marks: Sequence[str]) -> Picture:
    title = "What was assumed, and what it does to the use"
    return Picture(
        name="assumptions",
        title=title,
        alt=alt,
        width=width,
        height=height,
        svg=document(width, height, title, alt, marks),
    )


def _tall(swings: Sequence[Swing], alt: str) -> Picture:
    """Return the same for a phone: the words above their line, the key over all."""
    most = max([1.05, *(max(one.use, one.use_at_low, one.use_at_high) for one in swings)])
    zero, reach = SIDE_TALL, (PHONE - 2 * SIDE_TALL) / most
    marks = [text(0.0, 8.0, "Use with the assumption at its", size=SMALL, ink=SOFT)]
    marks += [
        circle(4.0, 16.6, 2.6, fill=WHITE, ink=INK),
        text(9.0, 19.0, "low end", size=SMALL, ink=SOFT),
        circle(46.0, 16.6, 2.6, fill=INK),
        text(51.0, 19.0, "high end", size=SMALL, ink=SOFT),
        line(90.0, 13.0, 90.0, 20.0, ink=HOLD, width=STRONG),
        text(94.0, 19.0, "as decided", size=SMALL, ink=SOFT),
    ]
    top = y = 26.0
    lines = []
    for one in swings:
        words = folded(one.words, PHONE, SMALL + 0.4, 3)
        y += 8.0
        lines += [
            text(0.0, y + 8.6 * row, told, size=SMALL + 0.4, halo=True) for row, told in enumerate(words)
        ]
        y += 8.6 * len(words)
        lines += _swing(one, y, zero, reach)
        y += 10.0
    every = _ticks(most)
    numbered = every if len(every) <= MOST_TICKS else every[::2]
    for share in every:
        x, whole = zero + share * reach, abs(share - 1.0) < 1e-9
        marks.append(line(x, top, x, y, ink=INK if whole else RULE, width=THIN if whole else HAIR))
        if whole or (share in numbered and abs(share - 1.0) * reach > ROOM_OF_TICK):
            words_of = f"{100 * share:.0f} %"
            marks.append(text(x, y + 9.0, words_of, size=SMALL, anchor="middle", bold=whole))
    return _picture(alt, PHONE, y + 14.0, [*marks, *lines])


def _ticks(most: float) -> list[float]:
    step = next((step for step in (0.25, 0.5, 1.0, 2.0, 5.0, 10.0) if most / step <= 6.0), 20.0)
    return [step * count for count in range(int(most / step) + 1)]


def _row(one: Swing, y: float, zero: float, reach: float) -> list[str]:
    middle = y + ROW / 2
    lines = folded(one.words, LABEL - 6.0, SMALL + 0.3, 2)
    first = middle + (2.4 if len(lines) == 1 else -1.6)
    marks = [text(0.0, first + 8.2 * row, words, size=SMALL + 0.3) for row, words in enumerate(lines)]
    return [*marks, *_swing(one, middle, zero, reach)]


def _swing(one: Swing, middle: float, zero: float, reach: float) -> list[str]:
    """Return the line of one assumption with both its ends in words."""
    low, high, now = (zero + share * reach for share in (one.use_at_low, one.use_at_high, one.use))
    ink = PULL if max(one.use_at_low, one.use_at_high) > 1.0 else INK
    marks = [line(low, middle, high, middle, ink=ink, width=STRONG)]
    marks.append(line(now, middle - 5.0, now, middle + 5.0, ink=HOLD, width=STRONG))
    marks.append(circle(low, middle, 2.8, fill=WHITE, ink=INK))
    marks.append(circle(high, middle, 2.8, fill=INK))
    left, right = (one.low, one.high) if low <= high else (one.high, one.low)
    marks.append(text(min(low, high) - 5.0, middle + 2.3, left, size=SMALL - 0.4, anchor="end", ink=SOFT))
    marks.append(text(max(low, high) + 5.0, middle + 2.3, right, size=SMALL - 0.4, ink=SOFT))
    return marks
