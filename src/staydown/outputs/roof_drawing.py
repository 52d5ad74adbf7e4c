"""Draws the roof from above in letters, front at the top, to one scale: items, mounts and what they use.

A cell of a terminal is taken as twice as high as wide. Outlines are right to half a cell; what is too small for a
box is a filled square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from string import ascii_letters

from staydown.outputs.columns import cells, cut

SCALES_m = (
    *(0.002, 0.0025, 0.003, 0.004, 0.005, 0.006, 0.008, 0.01, 0.0125, 0.015, 0.02, 0.025, 0.03, 0.04, 0.05),
    *(0.06, 0.075, 0.08, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.75, 1.0, 2.0, 5.0),
)
LONG_ROOF = 1.8  # a roof that needs a scale this much coarser for its length than for its width is cut short
BESIDE_m = 0.35  # roof still drawn before and behind the items where it is cut short
SMALL = "■"
MOST_NAME = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnMount:
    """A mount: place on the roof and its use as written: `73?`. behind_m of the roof's front, left_m of its middle."""

    name: str
    behind_m: float
    left_m: float
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnItem:
    """An item: its front edge, its centreline and its size on the roof, with its mounts. [m]"""

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    mounts: tuple[DrawnMount, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """The lines of a drawing, its scale, and what stands for a name that did not fit.

    column_m: width of one cell; a row is twice that. keys: letter for each (item, mount) that has one.
    tags: items that carry their number, `#2`, in place of their name. left_out: items whose mounts did not fit.
    front_m, rear_m: roof not drawn before and behind.
    """

    lines: tuple[str, ...]
    column_m: float
    keys: dict[tuple[int, int], str]
    tags: tuple[int, ...]
    left_out: tuple[int, ...]
    front_m: float
    rear_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """A sheet of cells with a scale; (0, 0) is its left front corner."""

    left_m: float
    front_m: float
    column_m: float
    grid: list[list[str]]
    taken: set[tuple[int, int]] = field(default_factory=set)
    boxes: list[tuple[int, int, int, int]] = field(default_factory=list)

    def column(self, left_m: float) -> int:
        return _round((self.left_m - left_m) / self.column_m)

    def row(self, behind_m: float) -> int:
        return _round((behind_m - self.front_m) / (2 * self.column_m))

    def put(self, row: int, column: int, text: str) -> None:
        """Write a text where it lies on the sheet; a wide letter takes its second cell as well."""
        for letter in text:
            wide = max(cells(letter), 1)
            if 0 <= row < len(self.grid) and column >= 0 and column + wide <= len(self.grid[0]):
                self.grid[row][column] = letter
                if wide == 2:
                    self.grid[row][column + 1] = ""
            column += wide

    def free(self, row: int, column: int, width: int) -> bool:
        """Return whether a label fits there without touching another."""
        inside = 0 <= row < len(self.grid) and column >= 0 and column + width <= len(self.grid[0])
        return inside and not any((row, at) in self.taken for at in range(column, column + width))

    def take(self, row: int, column: int, width: int) -> None:
        """Keep the cells of a text, and one at each side, from others."""
        self.taken.update((row, at) for at in range(column - 1, column + width + 1))


def _round(value: float) -> int:
    return math.floor(value + 0.5)


def draw_roof(
    roof_length_m: float,
    roof_width_m: float,
    items: Sequence[DrawnItem],
    *,
    columns: int = 40,
    rows: int = 30,
) -> Drawing:
    """Return a drawing of the roof with items and mounts.

    Parameters
    ----------
    roof_length_m, roof_width_m : float
        Size of the roof. [m]
    items : sequence of DrawnItem
        Items with places on the roof; what overhangs the roof is drawn beside it.
    columns, rows : int
        Largest size of the drawing in cells.
    """
    half = roof_width_m / 2
    lefts = [half, *(i.left_m + i.width_m / 2 for i in items), *(m.left_m for i in items for m in i.mounts)]
    rights = [-half, *(i.left_m - i.width_m / 2 for i in items), *(m.left_m for i in items for m in i.mounts)]
    fronts = [*(i.behind_m for i in items), *(m.behind_m for i in items for m in i.mounts)]
    rears = [*(i.behind_m + i.length_m for i in items), *(m.behind_m for i in items for m in i.mounts)]
    left, right = max(lefts), min(rights)
    front, rear = min([0.0, *fronts]), max([roof_length_m, *rears])
    across = (left - right) / (columns - 1)
    if items and (rear - front) / (2 * (rows - 1)) > LONG_ROOF * across:
        front = max(front, min(fronts) - BESIDE_m)
        rear = min(rear, max(rears) + BESIDE_m)
    needed = max(across, (rear - front) / (2 * (rows - 1)))
    column_m = next((scale for scale in SCALES_m if scale >= needed), needed)
    height = _round((rear - front) / (2 * column_m)) + 1
    width = _round((left - right) / column_m) + 1
    sheet = _Sheet(left_m=left, front_m=front, column_m=column_m, grid=[[" "] * width for _ in range(height)])
    _roof(sheet, roof_length_m, half)
    keys, tags, left_out = _items(sheet, items)
    return Drawing(
        lines=tuple("".join(line).rstrip() for line in sheet.grid),
        column_m=column_m,
        keys=keys,
        tags=tags,
        left_out=left_out,
        front_m=max(0.0, front),
        rear_m=max(0.0, roof_length_m - rear),
    )


def _roof(sheet: _Sheet, length_m: float, half_width_m: float) -> None:
    """Draw the outline of the roof; an end that is cut off is an open wave."""
    one, other = sheet.column(half_width_m), sheet.column(-half_width_m)
    top, bottom = max(0, sheet.row(0.0)), min(len(sheet.grid) - 1, sheet.row(length_m))
    for row in range(top, bottom + 1):
        sheet.put(row, one, "│")
        sheet.put(row, other, "│")
    inner = max(0, other - one - 1)
    whole_front, whole_rear = sheet.row(0.0) >= 0, sheet.row(length_m) < len(sheet.grid)
    edge = "─" if whole_front else "~"
    word = "" if inner < 11 else " front " if whole_front else " ↑ front "
    sheet.put(
        top, one, ("╭" if whole_front else "~") + word.center(inner, edge) + ("╮" if whole_front else "~")
    )
    edge = "─" if whole_rear else "~"
    sheet.put(bottom, one, ("╰" if whole_rear else "~") + edge * inner + ("╯" if whole_rear else "~"))


def _items(
    sheet: _Sheet, items: Sequence[DrawnItem]
) -> tuple[dict[tuple[int, int], str], tuple[int, ...], tuple[int, ...]]:
    """Draw boxes, then the mounts' labels, then names; return keys, tags and items without labels."""
    letters = iter(ascii_letters)
    keys: dict[tuple[int, int], str] = {}
    left_out, tags = [], []
    for item in items:
        _box(sheet, item)
        sheet.boxes.append(_corners(sheet, item))
    for number, item in enumerate(items):
        places = [(sheet.row(m.behind_m), sheet.column(m.left_m)) for m in item.mounts]
        texts = [m.label for m in item.mounts]
        tries: list[list[str]] = [[f"[{text}]" for text in texts], texts]
        if not any(_labels(sheet, number, places, tried) for tried in tries):
            mine = [next(letters, "") for _ in texts]
            if all(mine) and _labels(sheet, number, places, mine):
                keys |= {(number, mount): key for mount, key in enumerate(mine)}
            elif item.mounts:
                left_out.append(number)
    for number, item in enumerate(items):
        named = _name(sheet, number, cut(item.name, MOST_NAME))
        if not named and len(items) > 1 and not any(key[0] == number for key in keys):
            tags += [number] * _name(sheet, number, f"#{number + 1}", beside=True)
    return keys, tuple(tags), tuple(left_out)


def _corners(sheet: _Sheet, item: DrawnItem) -> tuple[int, int, int, int]:
    """Return first and last row, first and last column of an item's box."""
    half = item.width_m / 2
    return (
        sheet.row(item.behind_m),
        sheet.row(item.behind_m + item.length_m),
        sheet.column(item.left_m + half),
        sheet.column(item.left_m - half),
    )


def _box(sheet: _Sheet, item: DrawnItem) -> None:
    top, bottom, one, other = _corners(sheet, item)
    if bottom == top or other - one < 2:
        for row in range(top, bottom + 1):
            sheet.put(row, one, SMALL * (other - one + 1))
        return
    inner = other - one - 1
    sheet.put(top, one, "┌" + "─" * inner + "┐")
    for row in range(top + 1, bottom):
        sheet.put(row, one, "│" + " " * inner + "│")
    sheet.put(bottom, one, "└" + "─" * inner + "┘")


def _labels(sheet: _Sheet, number: int, places: Sequence[tuple[int, int]], texts: Sequence[str]) -> bool:
    """Write all labels of an item centred on their mounts; False and nothing written where they would touch."""
    spots: list[tuple[int, int, str]] = []
    mine: set[tuple[int, int]] = set()
    for (row, column), text in zip(places, texts, strict=True):
        room = cells(text)
        start = min(max(0, column - room // 2), max(0, len(sheet.grid[0]) - room))
        own = {(row, at) for at in range(start, start + room)}
        if own & mine or not sheet.free(row, start, room) or _covers_another(sheet, number, own):
            return False
        mine |= {(row, at) for at in range(start - 1, start + room + 1)}
        spots.append((row, start, text))
    for row, start, text in spots:
        sheet.put(row, start, text)
        sheet.take(row, start, cells(text))
    return True


def _covers_another(sheet: _Sheet, number: int, spots: set[tuple[int, int]]) -> bool:
    """Return whether any of the cells belongs to another item and not to this one."""

    def inside(box: tuple[int, int, int, int], row: int, column: int) -> bool:
        top, bottom, one, other = box
        return top <= row <= bottom and one <= column <= other

    return any(
        inside(box, *spot) and not inside(sheet.boxes[number], *spot)
        for at, box in enumerate(sheet.boxes)
        if at != number
        for spot in spots
    )


def _name(sheet: _Sheet, number: int, text: str, *, beside: bool = False) -> bool:
    """Write a text inside an item's box, as near to its middle as the labels leave room, or beside a small one."""
    top, bottom, one, other = sheet.boxes[number]
    room = cells(text)
    start = (one + other + 1 - room) // 2
    rows = sorted(range(top + 1, bottom), key=lambda row: abs(row - (top + bottom) / 2))
    spots = [(row, start) for row in rows if start > one and start + room <= other]
    if beside:
        middle = (top + bottom) // 2
        spots += [(middle, other + 2), (middle, one - room - 1), (bottom + 1, start), (top - 1, start)]
    for row, column in spots:
        own = {(row, at) for at in range(column, column + room)}
        if sheet.free(row, column, room) and not _covers_another(sheet, number, own):
            sheet.put(row, column, text)
            sheet.take(row, column, room)
            return True
    return False
