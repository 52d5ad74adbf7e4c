"""Lays text out in columns of a terminal: wrapped sentences, headlines, tables, blocks side by side.

Widths are cells of a terminal, in which a wide character takes two; what a person typed is cleaned of control
characters, so that a name can neither break a line nor move the cursor.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import zip_longest

WIDTH = 80
LEAST_COLUMN = 6  # a flexible column is not squeezed below this
GAP = "  "
_GLUE = "\u00a0"  # holds a number and its unit on one line while wrapping
_UNIT = re.compile(
    r"(?<=\d) (?=(?:\(?-?\d[\d.]* )?(?:%|°C|°F|N/mm|lb/in|N|lb|kPa|psi|km/h|mph|mm|kg|in|s|min|h|days|K)(?![\w/]))"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table: its head (lines split by \\n), side of its text, may it be narrowed by wrapping."""

    head: str
    right: bool = False
    flexible: bool = False


def cells(text: str) -> int:
    """Return how many cells of a terminal a text takes.

    Examples
    --------
    >>> cells("front left"), cells("屋根")
    (10, 4)
    """
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
    )


def clean(text: str) -> str:
    """Return a text on one line, without control and formatting characters.

    Examples
    --------
    >>> clean("front\\n left\\x1b[2J")
    'front left[2J'
    """
    kept = "".join(c for c in text if c.isspace() or unicodedata.category(c) not in ("Cc", "Cf", "Cs"))
    return re.sub(r"[^\S\u00a0]+", " ", kept).strip()


def cut(text: str, width: int) -> str:
    """Return a text of at most `width` cells, its end replaced by … where it is longer.

    Examples
    --------
    >>> cut("forward panel", 8)
    'forward…'
    """
    text = clean(text)
    if cells(text) <= width:
        return text
    while text and cells(text) > width - 1:
        text = text[:-1]
    return text.rstrip() + "…"


def pad(text: str, width: int, *, right: bool = False) -> str:
    """Return a text filled with blanks to a width in cells."""
    blanks = " " * max(0, width - cells(text))
    return blanks + text if right else text + blanks


def wrap(text: str, width: int, first: str = "", after: str | None = None) -> list[str]:
    """Return a text in lines of at most `width` cells; a number stays with its unit, words too long are cut in two.

    Parameters
    ----------
    text : str
        Any text; its own line breaks count as blanks.
    width : int
        Cells of a line, indents included.
    first, after : str
        What the first line and the others start with; `after` defaults to blanks as long as `first`.
    """
    lead = " " * cells(first) if after is None else after
    lines: list[str] = []
    line, empty = first, True
    waiting = _UNIT.sub(_GLUE, clean(text).replace(_GLUE, " ")).split(" ")
    while waiting:
        word = waiting.pop(0)
        grown = line + ("" if empty else " ") + word
        if cells(grown) <= width:
            line, empty = grown, False
        elif not empty:
            lines.append(line)
            line, empty = lead, True
            waiting.insert(0, word)
        elif _GLUE in word:
            waiting[:0] = word.split(_GLUE)
        else:
            room = _fitting(word, max(2, width - cells(line)))
            lines.append(line + word[:room])
            line = lead
            if word[room:]:
                waiting.insert(0, word[room:])
    if not empty:
        lines.append(line)
    return [line.replace(_GLUE, " ").rstrip() for line in lines] or [first.rstrip()]


def _fitting(word: str, width: int) -> int:
    """Return how many letters of a word fit, at least one."""
    taken = 1
    while taken < len(word) and cells(word[: taken + 1]) <= width:
        taken += 1
    return taken


def headline(left: str, right: str, width: int) -> list[str]:
    """Return a line with one text at each side; a left text that is too long runs on below."""
    room = width - cells(right) - len(GAP)
    lines = wrap(left, room)
    return [pad(lines[0], width - cells(right)) + right, *lines[1:]]


def listed(texts: Iterable[str], width: int, *, indent: int = 2, numbered: bool = False) -> list[str]:
    """Return texts as a list, each hanging behind its mark."""
    lines: list[str] = []
    for number, text in enumerate(texts, start=1):
        lines += wrap(text, width, first=" " * indent + (f"{number}. " if numbered else "- "))
    return lines


def table(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int, *, indent: int = 2
) -> list[str]:
    """Return a table with a rule under its heads; flexible columns are wrapped until it fits the width.

    Raises
    ------
    ValueError
        A row does not have one cell for each column.
    """
    texts = [[clean(cell) for cell in row] for row in rows]
    heads = [column.head.split("\n") for column in columns]
    widths = [
        max([cells(line) for line in head] + [cells(row[number]) for row in texts])
        for number, head in enumerate(heads)
    ]
    room = width - indent - len(GAP) * (len(columns) - 1)
    _narrow(widths, [c.flexible for c in columns], room)
    lines = [_row([heads[n][at : at + 1] for n in range(len(columns))], columns, widths, indent)
             for at in range(max(len(head) for head in heads))]  # fmt: skip
    lines.append(" " * indent + GAP.join("-" * w for w in widths))
    for row in texts:
        blocks = [
            wrap(cell, w, after=" ") if column.flexible else [cell]
            for cell, w, column in zip(row, widths, columns, strict=True)
        ]
        lines += [
            _row([block[at : at + 1] for block in blocks], columns, widths, indent)
            for at in range(max(len(block) for block in blocks))
        ]
    return lines


def _narrow(widths: list[int], flexible: Sequence[bool], room: int) -> None:
    """Take cells from the widest flexible column, one after the other, until all columns fit."""
    while sum(widths) > room:
        widest = max(
            (n for n, may in enumerate(flexible) if may and widths[n] > LEAST_COLUMN),
            key=widths.__getitem__,
            default=None,
        )
        if widest is None:
            return
        widths[widest] -= 1


def _row(
    texts: Sequence[Sequence[str]], columns: Sequence[Column], widths: Sequence[int], indent: int
) -> str:
    line = GAP.join(
        pad(text[0] if text else "", w, right=column.right)
        for text, w, column in zip(texts, widths, columns, strict=True)
    )
    return (" " * indent + line).rstrip()


def side_by_side(left: Sequence[str], right: Sequence[str], gap: int = 3) -> list[str]:
    """Return two blocks beside each other; the longer one runs on alone."""
    room = max((cells(line) for line in left), default=0) + gap
    return [(pad(one, room) + two).rstrip() for one, two in zip_longest(left, right, fillvalue="")]
