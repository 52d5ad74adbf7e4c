"""The roof from above and from its left side, to scale, front at the left: items, feet and how far each is used."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.pictures.foot_mark import foot, key
from staydown.pictures.picture import Picture
from staydown.pictures.places import Box, first_free
from staydown.pictures.style import (
    HAIR,
    INK,
    PAGE,
    PLAIN,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    THIN,
    WASH,
    WHITE,
    fitted,
    text_width,
)
from staydown.pictures.svg import arrow, document, line, polygon, rect, text

HIGHEST_PLAN = 144.0  # of the roof from above [pt]
LEAST_FOOT = 5.0  # a foot is never drawn smaller [pt]
EDGE = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofFoot:
    """One mount: its pad's centre behind the roof's front and left of its middle, its sides; use, level, label. [m]"""

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    use: float | None
    level: str
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofItem:
    """One item: its front behind the roof's front, its middle left of the roof's, its sides, gap, thickness. [m]"""

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    gap_m: float
    thickness_m: float
    feet: tuple[RoofFoot, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Roof:
    """The roof with all that is on it. words: under its title; scale_m, scale: a length with its text."""

    length_m: float
    width_m: float
    items: tuple[RoofItem, ...]
    scale_m: float
    scale: str
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """Where things stand on the sheet: points a metre, the roof's corner and middle line, the side view's roof line."""

    scale: float
    left: float
    top: float
    middle: float
    bottom: float
    skin: float

    def x(self, behind_m: float) -> float:
        return self.left + behind_m * self.scale

    def y(self, left_m: float) -> float:
        return self.middle + left_m * self.scale


def roof_plan(roof: Roof) -> Picture:
    """Return the roof from above, its side view under it on the same scale."""
    tallest = max((item.gap_m + item.thickness_m for item in roof.items), default=0.0)
    over = max([0.0, *(-item.behind_m for item in roof.items)])
    beyond = max([roof.length_m, *(item.behind_m + item.length_m for item in roof.items)])
    wide = max([roof.width_m / 2, *(abs(item.left_m) + item.width_m / 2 for item in roof.items)])
    scale = min((PAGE - 2 * EDGE) / (beyond + over), HIGHEST_PLAN / (2 * wide))
    left = (PAGE - scale * (beyond + over)) / 2 + over * scale
    middle = 12.0 + wide * scale
    bottom = middle + wide * scale
    skin = bottom + 26.0 + min(tallest * scale, 60.0)
    sheet = _Sheet(
        scale=scale, left=left, top=middle - roof.width_m / 2 * scale, middle=middle, bottom=bottom, skin=skin
    )
    marks = [*_roof(roof, sheet), *_items(roof, sheet), *_side(roof, sheet)]
    foot_line = skin + 22.0
    marks.append(key(EDGE, foot_line, step=PAGE / 4))
    height = foot_line + 4.0
    title = "The roof from above and from its left side, to scale"
    return Picture(
        name="roof",
        title=title,
        alt=roof.alt,
        width=PAGE,
        height=height,
        svg=document(PAGE, height, title, roof.alt, marks),
    )


def _roof(roof: Roof, sheet: _Sheet) -> list[str]:
    half = roof.width_m / 2 * sheet.scale
    length = roof.length_m * sheet.scale
    left, right = sheet.x(0.0), sheet.x(roof.length_m)
    marks = [
        rect(left, sheet.middle - half, length, 2 * half, fill=WASH, ink=RULE, radius=min(10.0, half / 3)),
        line(left + 4.0, sheet.middle, right - 4.0, sheet.middle, ink=RULE, width=HAIR, dash="7 2.5 1.5 2.5"),
        text(left, 8.0, "front", size=SMALL, ink=SOFT),
        arrow(left + 46.0, 5.6, left + 22.0, 5.6, ink=SOFT, width=THIN),
        text(left + 50.0, 8.0, "driving", size=SMALL, ink=SOFT),
    ]
    bar = roof.scale_m * sheet.scale
    marks += [
        line(right - bar, 5.6, right, 5.6, width=THIN),
        line(right - bar, 3.4, right - bar, 7.8, width=THIN),
        line(right, 3.4, right, 7.8, width=THIN),
        text(right - bar - 4.0, 8.0, roof.scale, size=SMALL, anchor="end"),
    ]
    return marks


def foot_box(sheet: _Sheet, one: RoofFoot) -> Box:
    """Return where a foot is drawn: its pad to scale, never too small to see."""
    wide = max(one.length_m * sheet.scale, LEAST_FOOT)
    high = max(one.width_m * sheet.scale, LEAST_FOOT)
    x, y = sheet.x(one.behind_m) - wide / 2, sheet.y(one.left_m) - high / 2
    return (x, y, x + wide, y + high)


def _items(roof: Roof, sheet: _Sheet) -> list[str]:
    scale = sheet.scale
    marks = [
        rect(
            sheet.x(item.behind_m),
            sheet.y(item.left_m) - item.width_m / 2 * scale,
            item.length_m * scale,
            item.width_m * scale,
            fill=WHITE,
            ink=INK,
        )
        for item in roof.items
    ]
    feet = [
        (one, foot_box(sheet, one), one.left_m <= item.left_m) for item in roof.items for one in item.feet
    ]
    marks += [
        foot(box[0], box[1], box[2] - box[0], box[3] - box[1], one.use, one.level) for one, box, _ in feet
    ]
    taken: list[Box] = [box for _, box, _ in feet]
    inside: Box = (0.0, 10.0, PAGE, sheet.bottom + 10.0)
    marks += [_label(box, one.label, above, taken, inside) for one, box, above in feet]
    return [*marks, *(_name(item, sheet, taken) for item in roof.items)]


def _label(box: Box, words: str, above: bool, taken: list[Box], inside: Box) -> str:
    """Return a foot's number beside it, away from the item's middle where there is room."""
    wide, high = text_width(words, SMALL, bold=True), SMALL * 0.78
    centre = (box[0] + box[2]) / 2
    over = (centre - wide / 2, box[1] - 1.6 - high, centre + wide / 2, box[1] - 1.6)
    under = (centre - wide / 2, box[3] + 1.6, centre + wide / 2, box[3] + 1.6 + high)
    row = (box[1] + box[3] - high) / 2
    before = (box[0] - 2.0 - wide, row, box[0] - 2.0, row + high)
    behind = (box[2] + 2.0, row, box[2] + 2.0 + wide, row + high)
    tries = (over, under, before, behind) if above else (under, over, before, behind)
    spot = first_free(tries, taken, inside)
    return text(spot[0], spot[3], words, size=SMALL, bold=True, halo=True) if spot else ""


def _name(item: RoofItem, sheet: _Sheet, taken: list[Box]) -> str:
    """Return an item's name inside it where there is room, else beside it."""
    left, right = sheet.x(item.behind_m), sheet.x(item.behind_m + item.length_m)
    half = item.width_m / 2 * sheet.scale
    top, bottom = sheet.y(item.left_m) - half, sheet.y(item.left_m) + half
    words = fitted(item.name, max(right - left - 6.0, 90.0), PLAIN)
    wide, high = text_width(words, PLAIN), PLAIN * 0.8
    centre, row = (left + right) / 2, (top + bottom) / 2
    tries = [
        (centre - wide / 2, row + shift - high / 2, centre + wide / 2, row + shift + high / 2)
        for shift in (0.0, -12.0, 12.0, -24.0, 24.0)
        if wide <= right - left - 4.0 and abs(shift) + high / 2 <= half
    ]
    tries += [
        (right + 4.0, row - high / 2, right + 4.0 + wide, row + high / 2),
        (left - 4.0 - wide, row - high / 2, left - 4.0, row + high / 2),
        (centre - wide / 2, bottom + 10.0, centre + wide / 2, bottom + 10.0 + high),
        (centre - wide / 2, top - 10.0 - high, centre + wide / 2, top - 10.0),
    ]
    spot = first_free(tries, taken, (0.0, 10.0, PAGE, sheet.bottom + 12.0))
    return text(spot[0], spot[3] - 0.8, words, ink=INK, halo=True) if spot else ""


def _side(roof: Roof, sheet: _Sheet) -> list[str]:
    """Return the side view: the roof line, every item at its height, its feet under it."""
    left, right, skin = sheet.x(0.0), sheet.x(roof.length_m), sheet.skin
    marks = [
        polygon([(left, skin + 9.0), (left, skin + 3.0), (left + 4.0, skin), (right, skin), (right, skin + 9.0)],
                fill=WASH),
        polygon([(left, skin + 9.0), (left, skin + 3.0), (left + 4.0, skin), (right, skin), (right, skin + 9.0)],
                ink=RULE, closed=False),
    ]  # fmt: skip
    for item in sorted(roof.items, key=lambda item: -item.left_m, reverse=True):
        top = skin - (item.gap_m + item.thickness_m) * sheet.scale
        for one in item.feet:
            wide = max(one.length_m * sheet.scale, 2.0)
            x = sheet.x(one.behind_m) - wide / 2
            marks.append(rect(x, skin - max(item.gap_m * sheet.scale, 1.2), wide, max(item.gap_m * sheet.scale, 1.2),
                              fill=SOFT))  # fmt: skip
        marks.append(
            rect(sheet.x(item.behind_m), top, item.length_m * sheet.scale, max(item.thickness_m * sheet.scale, 1.6),
                 fill=WHITE, ink=INK)
        )  # fmt: skip
    middle = skin - 9.0
    room = min((item.behind_m for item in roof.items), default=0.0) * sheet.scale
    if room > 60.0:
        marks.append(text(left + 4.0, middle - 5.0, "wind", size=SMALL, ink=SOFT))
        marks.append(arrow(left + 4.0, middle, left + 30.0, middle, ink=SOFT, width=STRONG))
    return marks
