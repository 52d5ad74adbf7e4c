"""What is written on a picture of the roof from a corner: uses, names, the air, a length to measure by."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from staydown.pictures.foot_mark import foot
from staydown.pictures.places import Box, first_free
from staydown.pictures.solids import Flat, Point3, Solid, faces
from staydown.pictures.space_sheet import (
    BODY,
    MARK,
    SCREEN,
    Plane,
    Sheet,
    Space,
    SpaceFoot,
    item_box,
    shown,
)
from staydown.pictures.style import HAIR, INK, PLAIN, PULL, SMALL, SOFT, THIN, fitted, text_width
from staydown.pictures.svg import line, text


def use_words(
    one: SpaceFoot, own: Box, arrows: Sequence[Box], sheet: Sheet, taken: list[Box], *, full: bool
) -> str:
    """Return a mount's use with its mark, and its force where `full` and there is room, at its own arrow.

    own: the box of its arrow. arrows: of all; a label that lies nearer to another one gets a line to its own.
    """
    x, tip, base = (own[0] + own[2]) / 2, own[1] - 2.0, own[3]
    size = PLAIN if one.worst else SMALL
    wide = MARK[0] + 2.5 + text_width(one.label, size, bold=True)
    wide = max(wide, text_width(one.pull, SMALL) if full else 0.0)
    high = size * 0.9 + (SMALL + 0.5 if full else 0.0)
    tries = [(x - wide / 2, row, x + wide / 2, row + high) for row in (tip - high, tip - high - 6.0)]
    for row in (tip - 1.0, (tip + base - high) / 2, base - high):
        tries += [(x + 4.0, row, x + 4.0 + wide, row + high), (x - 4.0 - wide, row, x - 4.0, row + high)]
    further = [
        (x - wide / 2 + shift, tip - high - up, x + wide / 2 + shift, tip - up)
        for up in (6.0, 12.0, 18.0, 24.0, 30.0)
        for shift in (0.0, -14.0, 14.0, -28.0, 28.0)
    ]
    others = [box for box in arrows if box != own]
    clear = (box for box in [*tries, *further] if all(_gap(box, own) < _gap(box, other) for other in others))
    inside: Box = (0.0, 0.0, sheet.width, 1e9)
    spot, tied = first_free(clear, taken, inside), ""
    if spot is None:
        spot = first_free([*tries, *further], taken, inside)
        if spot is None:
            return use_words(one, own, arrows, sheet, taken, full=False) if full else ""
        middle = (spot[0] + spot[2]) / 2
        tied = line(
            middle,
            spot[3] if spot[3] < own[1] else (spot[1] + spot[3]) / 2,
            x,
            own[1] + 3.0,
            ink=SOFT,
            width=HAIR,
        )
    line_y = spot[1] + size * 0.78
    marks = [
        tied,
        foot(spot[0], line_y - MARK[1], MARK[0], MARK[1], one.use, one.level),
        text(spot[0] + MARK[0] + 2.5, line_y, one.label, size=size, bold=True, halo=True),
    ]
    if full:
        ink = PULL if (one.pull_N or 0.0) > 0.0 else SOFT
        marks.append(text(spot[0], spot[3] - 0.6, one.pull, size=SMALL, ink=ink, halo=True))
    return "".join(marks)


def _gap(one: Box, other: Box) -> float:
    """Return the distance between two boxes, zero where they touch. [pt]"""
    across = max(one[0] - other[2], other[0] - one[2], 0.0)
    down = max(one[1] - other[3], other[1] - one[3], 0.0)
    return hypot(across, down)


def names(space: Space, plane: Plane, sheet: Sheet, taken: list[Box]) -> list[str]:
    """Return the names of what stands on the roof, on it where there is room, else beside it."""
    items, fixtures = shown(space, plane)
    told: list[tuple[str, Solid, bool]] = [(one.name, item_box(one), True) for one in items]
    told += [
        (
            one.name,
            Solid(
                low=(-one.behind_m - one.length_m / 2, one.left_m - one.width_m / 2, 0.0),
                high=(-one.behind_m + one.length_m / 2, one.left_m + one.width_m / 2, one.height_m),
            ),
            False,
        )
        for one in fixtures
    ]
    marks = []
    for name, box, bold in told:
        size = PLAIN if bold else SMALL
        words = fitted(name, 130.0, size, bold=bold)
        wide, high = text_width(words, size, bold=bold), size * 0.85
        middle = sheet.at((box.middle[0], box.middle[1], box.high[2]))
        flat = sheet.all(corner for _, face in faces(box, sheet.seen) for corner in face)
        low, left, right = max(y for _, y in flat), min(x for x, _ in flat), max(x for x, _ in flat)
        tries: list[Box] = []
        spots = [middle] if bold else _along(box, sheet)
        if (right - left) * 0.6 >= wide:
            tries += [
                (x - wide / 2 + aside, y - high / 2 + up, x + wide / 2 + aside, y + high / 2 + up)
                for x, y in spots
                for up in (0.0, 5.0, -5.0)
                for aside in (0.0, 16.0, -16.0)
            ]
        if bold or right - left < 2.0 * wide:
            tries += [
                (middle[0] - wide / 2, low + 2.0, middle[0] + wide / 2, low + 2.0 + high),
                (right + 3.0, middle[1] - high / 2, right + 3.0 + wide, middle[1] + high / 2),
                (left - 3.0 - wide, middle[1] - high / 2, left - 3.0, middle[1] + high / 2),
                (middle[0] - wide / 2, low + 12.0, middle[0] + wide / 2, low + 12.0 + high),
            ]
        spot = first_free(tries, taken, (0.0, 0.0, sheet.width, 1e9))
        if spot:
            marks.append(
                text(
                    spot[0],
                    spot[3] - size * 0.08,
                    words,
                    size=size,
                    bold=bold,
                    ink=INK if bold else SOFT,
                    halo=True,
                )
            )
    return marks


def _along(box: Solid, sheet: Sheet) -> list[Flat]:
    """Return places on the middle line of a box along the vehicle, its middle first."""
    length = box.high[0] - box.low[0]
    return sheet.all(
        (box.low[0] + share * length, box.middle[1], box.high[2]) for share in (0.5, 0.75, 0.25, 0.9, 0.1)
    )


def words_around(
    space: Space,
    plane: Plane,
    sheet: Sheet,
    winds: list[tuple[Point3, Point3, float]],
    taken: list[Box],
    height: float,
) -> list[str]:
    """Return what is written beside the roof: where its front is, how fast the air comes, a length to measure by."""
    marks: list[str] = []
    inside: Box = (0.0, 0.0, sheet.width, height)
    if winds:
        for tail, tip, half in winds:
            ends = sheet.all([tail, tip])
            wide = 1.5 * half * sheet.scale
            taken.append(
                (
                    min(ends[0][0], ends[1][0]) - wide / 3,
                    min(ends[0][1], ends[1][1]) - wide / 3,
                    max(ends[0][0], ends[1][0]) + wide / 3,
                    max(ends[0][1], ends[1][1]) + wide / 3,
                )
            )
        flat = [sheet.at(point) for tail, tip, _ in winds for point in (tail, tip)]
        x, low, high = sum(a for a, _ in flat) / len(flat), max(b for _, b in flat), min(b for _, b in flat)
        wide = text_width(space.wind_words, SMALL, bold=True)
        start = min(max(x - wide / 2, 1.0), sheet.width - wide - 1.0)
        tries = [
            (start + aside, row, start + aside + wide, row + SMALL * 0.85)
            for row in (low + 5.0, high - 11.0, low - 2.0, high - 18.0, low + 12.0)
            for aside in (0.0, 24.0, -24.0, 60.0, -60.0)
            if 0.0 <= start + aside <= sheet.width - wide
        ]
        roof = sheet.all(plane.corners())
        tries.sort(key=lambda box: any(_within(corner, roof) for corner in _corners_of(box)))
        spot = first_free(tries, taken, inside)
        if spot:
            marks.append(
                text(spot[0], spot[3] - 0.6, space.wind_words, size=SMALL, bold=True, ink=SOFT, halo=True)
            )
    ahead = SCREEN * plane.diagonal * 0.5 if not space.near else 0.04 * plane.diagonal
    x, y = sheet.at(
        (plane.front + ahead, plane.middle[1], -BODY * plane.diagonal * 0.5 if not space.near else 0.0)
    )
    wide = text_width("front", SMALL)
    tries = [
        (x - wide / 2 + aside, y - 3.0 + up, x + wide / 2 + aside, y + 3.0 + up)
        for up in (0.0, 6.0, -6.0)
        for aside in (0.0, 14.0, -14.0)
    ]
    spot = first_free(tries, taken, inside)
    if spot:
        marks.append(text(spot[0], spot[3] - 0.8, "front", size=SMALL, ink=SOFT, halo=space.near))
    return [*marks, *_measure(space, plane, sheet, taken)]


def _corners_of(box: Box) -> list[Flat]:
    return [(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]


def _within(point: Flat, outline: list[Flat]) -> bool:
    """Return whether a point lies inside an outline that bulges everywhere."""
    sides = []
    for (x1, y1), (x2, y2) in zip(outline, [*outline[1:], outline[0]], strict=True):
        sides.append((x2 - x1) * (point[1] - y1) - (y2 - y1) * (point[0] - x1))
    return all(side >= 0.0 for side in sides) or all(side <= 0.0 for side in sides)


def _measure(space: Space, plane: Plane, sheet: Sheet, taken: list[Box]) -> list[str]:
    """Return a bar of known length along the roof's near side, at its rear end."""
    if space.scale_m > (plane.front - plane.rear) * 0.8:
        return []
    near = plane.left if space.seen.towards[1] > 0.0 else plane.right
    off = (0.03 if near > plane.middle[1] else -0.03) * plane.diagonal
    down = -BODY * plane.diagonal if not space.near else 0.0
    start = plane.rear + 0.02 * plane.diagonal
    ends = sheet.all([(start, near + off, down), (start + space.scale_m, near + off, down)])
    marks = [line(*ends[0], *ends[1], width=THIN)]
    marks += [line(x, y - 2.0, x, y + 2.0, width=THIN) for x, y in ends]
    for share in (0.1, 0.3, 0.5, 0.7, 0.9):
        x, y = (ends[0][axis] + share * (ends[1][axis] - ends[0][axis]) for axis in (0, 1))
        taken.append((x - 1.0, y - 1.0, x + 1.0, y + 1.0))
    wide = text_width(space.scale, SMALL)
    x, y = ((ends[0][axis] + ends[1][axis]) / 2 for axis in (0, 1))
    tries = [
        (x - wide / 2 + aside, y + 2.5 + up, x + wide / 2 + aside, y + 2.5 + up + SMALL * 0.85)
        for up in (0.0, 3.0, 6.0, 9.0, 12.0)
        for aside in (0.0, -12.0, 12.0)
    ]
    tries += [(x + 6.0, y - 3.0, x + 6.0 + wide, y + 3.0), (x - 6.0 - wide, y - 3.0, x - 6.0, y + 3.0)]
    spot = first_free(tries, taken, (0.0, 0.0, sheet.width, 1e9))
    if spot:
        marks.append(text(spot[0], spot[3] - 0.6, space.scale, size=SMALL, halo=True))
    return marks
