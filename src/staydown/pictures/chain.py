"""The chain from the item to the roof: every link as strong as it is known to be, the weakest marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from staydown.pictures.picture import Picture
from staydown.pictures.style import (
    HOLD,
    INK,
    PAGE,
    PHONE,
    PLAIN,
    PULL,
    SMALL,
    SOFT,
    STRONG,
    THIN,
    WHITE,
    folded,
)
from staydown.pictures.svg import document, hatch, line, rect, text

LINK = 22.0  # height of a link [pt]
TOP = 14.0
HEIGHT = 97.0
OVAL = 66.0  # width of a link where the links hang under each other [pt]
LEAST_STEP = 34.0  # from one of those to the next [pt]
LINE = 8.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One link: its part, how far it is used, the words under it; use None and known False where nobody knows it."""

    part: str
    use: float | None
    known: bool
    weakest: bool
    label: str
    strength: str
    known_by: str


def chain(name: str, links: Sequence[Link], alt: str, *, narrow: bool = False) -> Picture:
    """Return the links side by side, the item at the left, the roof at the right.

    narrow: under each other, the item at the top, for a phone.
    """
    if narrow:
        return _hanging(name, links, alt)
    step = PAGE / max(len(links), 1)
    marks = [
        text(0.0, 8.0, "item", size=SMALL, ink=SOFT),
        text(PAGE, 8.0, "roof", size=SMALL, anchor="end", ink=SOFT),
    ]
    for number, link in enumerate(links):
        marks += _link(link, number * step, step, last=number + 1 == len(links))
    return _picture(name, alt, PAGE, HEIGHT, marks)


def _picture(name: str, alt: str, width: float, height: float, marks: Sequence[str]) -> Picture:
    title = f"{name}: the chain from the item to the roof"
    return Picture(
        name="chain",
        title=title,
        alt=alt,
        width=width,
        height=height,
        svg=document(width, height, title, alt, marks),
    )


def _hanging(name: str, links: Sequence[Link], alt: str) -> Picture:
    """Return the links under each other, the words of each beside it."""
    marks = [text(OVAL / 2, 8.0, "item", size=SMALL, anchor="middle", ink=SOFT)]
    beside = OVAL + 8.0
    y = TOP
    for number, link in enumerate(links):
        rows = folded(link.strength, PHONE - beside, SMALL, 2) + folded(
            link.known_by, PHONE - beside, SMALL, 4
        )
        step = max(LEAST_STEP, 12.0 + LINE * len(rows) + 8.0)
        if number + 1 < len(links):
            marks.append(line(OVAL / 2, y + LINK - 4.0, OVAL / 2, y + step + 4.0, ink=INK, width=3.2))
        marks += _oval(link, 0.0, OVAL, y)
        marks.append(text(beside, y + 8.4, link.part, size=PLAIN, bold=True))
        marks.append(text(PHONE, y + 8.4, link.label, size=PLAIN, anchor="end", bold=link.weakest))
        marks += [
            text(beside, y + 18.0 + LINE * row, words, size=SMALL, ink=SOFT) for row, words in enumerate(rows)
        ]
        y += step
    marks.append(text(OVAL / 2, y + 2.0, "roof", size=SMALL, anchor="middle", ink=SOFT))
    return _picture(name, alt, PHONE, y + 6.0, marks)


def _link(link: Link, left: float, step: float, *, last: bool) -> list[str]:
    wide, middle = step - 10.0, left + step / 2
    x = left + 5.0
    marks = []
    if not last:
        bridge = TOP + LINK / 2
        marks.append(line(x + wide - 4.0, bridge, x + wide + 14.0, bridge, ink=INK, width=3.2))
    marks += _oval(link, x, wide, TOP)
    y = TOP + LINK + 11.0
    marks.append(text(middle, y, link.part, size=PLAIN, bold=True, anchor="middle"))
    marks.append(text(middle, y + 10.0, link.label, size=PLAIN, anchor="middle", bold=link.weakest))
    rows = folded(link.strength, wide + 4.0, SMALL - 0.2, 2) + folded(
        link.known_by, wide + 4.0, SMALL - 0.2, 3
    )
    marks += [
        text(middle, y + 19.0 + 7.6 * row, words, size=SMALL - 0.2, anchor="middle", ink=SOFT)
        for row, words in enumerate(rows)
    ]
    return marks


def _oval(link: Link, x: float, wide: float, top: float) -> list[str]:
    """Return one link, filled as far as it is used."""
    radius = LINK / 2
    marks = [rect(x, top, wide, LINK, fill=WHITE, radius=radius)]
    if link.use is not None:
        share = min(link.use, 1.0)
        ink = PULL if link.use > 1.0 else HOLD
        inset = 3.4
        marks.append(rect(x + inset, top + inset, (wide - 2 * inset) * share, LINK - 2 * inset, fill=ink,
                          radius=min(radius - inset, (wide - 2 * inset) * share / 2)))  # fmt: skip
    if not link.known:
        marks.append(hatch(x + radius / 2, top + 4.0, wide - radius, LINK - 8.0, ink=SOFT))
    outline = STRONG * 1.5 if link.weakest else THIN
    over = link.use is not None and link.use > 1.0
    dash = "4 2.6" if over or not link.known else ""
    marks.append(rect(x, top, wide, LINK, ink=INK, stroke=outline, radius=radius, dash=dash))
    return marks
