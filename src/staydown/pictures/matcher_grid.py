"""Which kind of test speaks for which kind of load, and how many such tests there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from staydown.pictures.picture import Picture
from staydown.pictures.style import HAIR, HOLD, INK, PAGE, PLAIN, RULE, SMALL, SOFT, THIN, WHITE, folded
from staydown.pictures.svg import document, hatch, line, rect, text

State = Literal["enough", "some", "wanted", "silent"]

LABEL = 128.0
ANSWER = 96.0  # width of the last column [pt]
HEAD = 28.0
ROW = 20.0
KEY: tuple[tuple[State, str, str], ...] = (
    ("enough", "5", "enough such tests"),
    ("some", "2", "some, too few to count"),
    ("wanted", "", "would speak, none made"),
    ("silent", "", "does not speak for it"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What one kind of test says of one kind of load: how many there are, and whether that is enough."""

    state: State
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One kind of load, its cells, and its most used case in words."""

    load: str
    lasts: str
    cells: tuple[Cell, ...]
    answer: str


def matcher_grid(name: str, columns: Sequence[str], rows: Sequence[Row], alt: str) -> Picture:
    """Return the grid of loads against tests."""
    step = (PAGE - LABEL - ANSWER) / max(len(columns), 1)
    bottom = HEAD + len(rows) * ROW
    height = bottom + 20.0
    marks = [
        text(0.0, HEAD - 8.0, "load", bold=True),
        text(PAGE - ANSWER + 6.0, HEAD - 8.0, "most used case", bold=True),
    ]
    for number, words in enumerate(columns):
        lines = folded(words, step - 4.0, SMALL, 4)
        first = HEAD - 8.0 - 8.0 * (len(lines) - 1)
        marks += [
            text(
                LABEL + step * (number + 0.5), first + 8.0 * row, part, size=SMALL, anchor="middle", bold=True
            )
            for row, part in enumerate(lines)
        ]
    for number, row in enumerate(rows):
        y = HEAD + number * ROW
        marks.append(line(0.0, y, PAGE, y, ink=RULE, width=HAIR))
        marks.append(text(0.0, y + 8.8, row.load, size=PLAIN))
        marks.append(text(0.0, y + 16.6, row.lasts, size=SMALL - 0.4, ink=SOFT))
        for column, cell in enumerate(row.cells):
            marks.append(_cell(cell, LABEL + step * (column + 0.5), y + ROW / 2))
        lines = folded(row.answer, ANSWER - 8.0, SMALL, 2)
        first = y + (12.4 if len(lines) == 1 else 8.6)
        marks += [
            text(PAGE - ANSWER + 6.0, first + 8.2 * place, words, size=SMALL)
            for place, words in enumerate(lines)
        ]
    marks.append(line(0.0, bottom, PAGE, bottom, ink=RULE, width=HAIR))
    for number, (state, count, words) in enumerate(KEY):
        x = 12.0 + number * PAGE / 4
        marks.append(_cell(Cell(state=state, count=int(count or 0)), x, bottom + 11.0))
        marks.append(text(x + 16.0, bottom + 13.4, words, size=SMALL))
    title = f"{name}: which test speaks for which load"
    return Picture(
        name="grid",
        title=title,
        alt=alt,
        width=PAGE,
        height=height,
        svg=document(PAGE, height, title, alt, marks),
    )


def _cell(cell: Cell, x: float, y: float) -> str:
    """Return a box: full with its count, hatched where too few, empty with a dash where none; a dot where silent."""
    half_wide, half_high = 11.0, 6.0
    left, top = x - half_wide, y - half_high
    if cell.state == "silent":
        return rect(x - 1.0, y - 1.0, 2.0, 2.0, fill=RULE)
    if cell.state == "enough":
        box = rect(left, top, 2 * half_wide, 2 * half_high, fill=HOLD, ink=INK)
        return box + text(x, y + 2.7, str(cell.count), bold=True, anchor="middle", ink=WHITE)
    box = rect(left, top, 2 * half_wide, 2 * half_high, fill=WHITE)
    if cell.state == "some":
        box += hatch(left, top, 2 * half_wide, 2 * half_high, ink=HOLD)
        box += rect(x - 5.0, top + 1.5, 10.0, 2 * half_high - 3.0, fill=WHITE)
        box += text(x, y + 2.7, str(cell.count), bold=True, anchor="middle")
    else:
        box += line(x - 3.0, y, x + 3.0, y, width=THIN)
    return box + rect(left, top, 2 * half_wide, 2 * half_high, ink=INK)
