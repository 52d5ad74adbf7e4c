"""One item in one case, to scale: from above with the use and the push of each foot, from the side as a free body."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from staydown.pictures.foot_mark import foot
from staydown.pictures.picture import Picture
from staydown.pictures.places import Box, first_free
from staydown.pictures.style import (
    HOLD,
    INK,
    PAGE,
    PLAIN,
    PULL,
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
from staydown.pictures.svg import arrow, document, line, number, rect, text

WIDEST, HIGHEST = 400.0, 104.0  # of the item from above [pt]
LONGEST_ARROW = 34.0  # of the largest force in the picture; all forces are on one scale [pt]
LEAST_ARROW = 2.0  # a shorter one is not drawn [pt]
MARGIN = 14.0
LEAST_FOOT = 6.0
SAME_STATION_m = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewFoot:
    """One mount in the case shown: pad's centre behind the item's front and left of its middle, its sides. [m]

    use, level, label: over all cases. pull_N: away from the roof; along_N forward, across_N left; pull: its words.
    """

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    use: float | None
    level: str
    label: str
    pull_N: float
    along_N: float
    across_N: float
    pull: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One load on the item as it counts in the case: where it acts, forward and upward parts, its words. [m, N]"""

    behind_m: float
    height_m: float
    along_N: float
    up_N: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemView:
    """An item with its feet and loads in one case. wind: unit vector to where the air comes from, or None. [m, rad]"""

    name: str
    length_m: float
    width_m: float
    thickness_m: float
    gap_m: float
    nose_up_rad: float
    feet: tuple[ViewFoot, ...]
    causes: tuple[Cause, ...]
    wind: tuple[float, float] | None
    wind_words: str
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    scale: float
    left: float
    middle: float
    skin: float
    bottom: float

    def x(self, behind_m: float) -> float:
        return self.left + behind_m * self.scale

    def y(self, left_m: float) -> float:
        return self.middle + left_m * self.scale


def item_view(view: ItemView) -> Picture:
    """Return the item from above and from its left side, front at the left."""
    wide = max([view.width_m / 2, *(abs(one.left_m) + one.width_m / 2 for one in view.feet)])
    scale = min(WIDEST / view.length_m, HIGHEST / (2 * wide))
    middle = MARGIN + wide * scale
    bottom = middle + wide * scale + 10.0
    stack = min((view.gap_m + view.thickness_m) * scale, 90.0)
    skin = bottom + LONGEST_ARROW + 12.0 + stack
    sheet = _Sheet(
        scale=scale, left=(PAGE - view.length_m * scale) / 2, middle=middle, skin=skin, bottom=bottom
    )
    sizes = [abs(size) for one in view.feet for size in (one.pull_N, one.along_N, one.across_N)]
    sizes += [abs(size) for cause in view.causes for size in (cause.along_N, cause.up_N)]
    reach = LONGEST_ARROW / max([*sizes, 1e-9])
    marks = [*_plan(view, sheet, reach), *_side(view, sheet, reach)]
    longest = max((abs(one.pull_N) * reach for one in view.feet), default=0.0)
    height = skin + 10.0 + max(longest, 16.0)
    title = f"{view.name}: use and forces in its worst case, from above and from its left side"
    return Picture(
        name="item",
        title=title,
        alt=view.alt,
        width=PAGE,
        height=height,
        svg=document(PAGE, height, title, view.alt, marks),
    )


def _plan(view: ItemView, sheet: _Sheet, reach: float) -> list[str]:
    half = view.width_m / 2 * sheet.scale
    left, right = sheet.x(0.0), sheet.x(view.length_m)
    marks = [rect(left, sheet.middle - half, right - left, 2 * half, fill=WASH, ink=INK)]
    taken: list[Box] = []
    for one in view.feet:
        box = _box(one, sheet)
        taken.append(box)
        marks.append(foot(box[0], box[1], box[2] - box[0], box[3] - box[1], one.use, one.level))
    marks += [_push(one, sheet, reach) for one in view.feet]
    marks += [_words(one, view.length_m, sheet, taken) for one in view.feet]
    name = fitted(view.name, right - left - 8.0, PLAIN, bold=True)
    spot = first_free(
        [
            _centred((left + right) / 2, sheet.middle + shift, name, PLAIN)
            for shift in (0.0, -14.0, 14.0, -28.0, 28.0)
        ],
        taken,
        (left, sheet.middle - half, right, sheet.middle + half),
    )
    if spot:
        marks.append(text(spot[0], spot[3] - 1.0, name, bold=True))
    marks.append(text(2.0, 9.0, "from above", size=SMALL, ink=SOFT))
    return [*marks, *_wind(view, sheet)]


def _wind(view: ItemView, sheet: _Sheet) -> list[str]:
    if view.wind is None:
        return []
    towards_x, towards_y = -view.wind[0], -view.wind[1]  # of the air, forward and left
    x, y, half = 26.0, sheet.middle, 17.0
    dx, dy = -towards_x * half, towards_y * half  # forward is to the left of the sheet, left is down
    tip = arrow(x - dx, y - dy, x + dx, y + dy, ink=PULL, width=2.2)
    return [tip, text(2.0, y + 30.0, view.wind_words, size=SMALL, ink=PULL)]


def _box(one: ViewFoot, sheet: _Sheet) -> Box:
    wide, high = max(one.length_m * sheet.scale, LEAST_FOOT), max(one.width_m * sheet.scale, LEAST_FOOT)
    x, y = sheet.x(one.behind_m) - wide / 2, sheet.y(one.left_m) - high / 2
    return (x, y, x + wide, y + high)


def _push(one: ViewFoot, sheet: _Sheet, reach: float) -> str:
    """Return the arrow of the force along the roof that the item puts on a foot, where it is long enough to see."""
    if math.hypot(one.along_N, one.across_N) * reach < LEAST_ARROW:
        return ""
    x, y = sheet.x(one.behind_m), sheet.y(one.left_m)
    return arrow(x, y, x - one.along_N * reach, y + one.across_N * reach, ink=PULL)


def _centred(x: float, y: float, words: str, size: float) -> Box:
    wide = text_width(words, size, bold=True)
    return (x - wide / 2, y - size / 2, x + wide / 2, y + size / 2)


def _words(one: ViewFoot, length_m: float, sheet: _Sheet, taken: list[Box]) -> str:
    """Return a foot's use and pull beside it: towards the item's middle, behind, away, before, where there is room."""
    box = _box(one, sheet)
    wide = max(text_width(one.label, PLAIN, bold=True), text_width(one.pull, SMALL))
    high = PLAIN + SMALL + 1.0
    row = (box[1] + box[3] - high) / 2
    centre = (box[0] + box[2]) / 2
    ends = (sheet.x(0.0) + 3.0, sheet.x(length_m) - 3.0 - wide)
    first = min(max(centre - wide / 2, ends[0]), max(ends))  # inside the item where it is long enough
    under = (first, box[3] + 2.0, first + wide, box[3] + 2.0 + high)
    over = (first, box[1] - 2.0 - high, first + wide, box[1] - 2.0)
    inward, outward = (over, under) if one.left_m > 0.0 else (under, over)
    step = (high + 2.0) * (-1.0 if one.left_m > 0.0 else 1.0)
    further = (inward[0], inward[1] + step, inward[2], inward[3] + step)
    tries = [
        inward,
        further,
        (box[2] + 4.0, row, box[2] + 4.0 + wide, row + high),
        outward,
        (box[0] - 4.0 - wide, row, box[0] - 4.0, row + high),
    ]
    spot = first_free(tries, taken, (0.0, 0.0, PAGE, sheet.bottom))
    if spot is None:
        return ""
    return text(spot[0], spot[1] + PLAIN * 0.8, one.label, bold=True, halo=True) + text(
        spot[0], spot[3] - 1.0, one.pull, size=SMALL, halo=True
    )


def _side(view: ItemView, sheet: _Sheet, reach: float) -> list[str]:
    left, right, skin = sheet.x(0.0), sheet.x(view.length_m), sheet.skin
    gap = max(view.gap_m * sheet.scale, 1.5)
    thick = max(view.thickness_m * sheet.scale, 2.0)
    marks = [
        rect(left - 30.0, skin, right - left + 60.0, 5.0, fill=WASH),
        line(left - 30.0, skin, right + 30.0, skin, ink=RULE, width=THIN),
        text(2.0, sheet.bottom + 10.0, "from the left side, as a free body", size=SMALL, ink=SOFT),
    ]
    for one in view.feet:
        wide = max(one.length_m * sheet.scale, 2.5)
        marks.append(rect(sheet.x(one.behind_m) - wide / 2, skin - gap, wide, gap, fill=SOFT))
    body = rect(left, skin - gap - thick, right - left, thick, fill=WHITE, ink=INK)
    if view.nose_up_rad:
        turn = math.degrees(view.nose_up_rad)
        body = f'<g transform="rotate({number(turn)} {number(right)} {number(skin - gap)})">{body}</g>'
    marks.append(body)
    return [*marks, *_causes(view, sheet, skin - gap - thick, reach), *_held(view, sheet, reach)]


def _causes(view: ItemView, sheet: _Sheet, top: float, reach: float) -> list[str]:
    """Return the loads on the item, each as an arrow at its place with its words."""
    marks: list[str] = []
    taken: list[Box] = [(sheet.x(0.0), top - 1.0, sheet.x(view.length_m), sheet.skin)]
    inside: Box = (0.0, sheet.bottom + 4.0, PAGE, sheet.skin)
    for cause in sorted(view.causes, key=lambda cause: -abs(cause.up_N)):
        ends = _cause_ends(view, cause, sheet, top, reach)
        marks.append(arrow(*ends, ink=PULL, width=STRONG))
        low, high = min(ends[1], ends[3]), max(ends[1], ends[3])
        first, last = min(ends[0], ends[2]), max(ends[0], ends[2])
        taken.append((first - 1.5, low, last + 1.5, high))
        wide, tall = text_width(cause.words, SMALL), SMALL * 0.9
        rows = [low + step for step in (0.0, 8.0, -8.0, 16.0, 24.0, -16.0)]
        if ends[1] == ends[3]:
            rows = [low - tall / 2, *rows]
        tries = [(last + 4.0, row, last + 4.0 + wide, row + tall) for row in rows]
        before = [(first - 4.0 - wide, row, first - 4.0, row + tall) for row in rows]
        spot = first_free([*before, *tries] if ends[1] == ends[3] else [*tries, *before], taken, inside)
        if spot:
            marks.append(text(spot[0], spot[3] - 0.8, cause.words, size=SMALL, ink=PULL, halo=True))
    return marks


def _cause_ends(
    view: ItemView, cause: Cause, sheet: _Sheet, top: float, reach: float
) -> tuple[float, float, float, float]:
    """Return tail and tip of a load's arrow: over the item where it acts, or beside it at its height."""
    if abs(cause.up_N) >= abs(cause.along_N):
        x, length = sheet.x(cause.behind_m), cause.up_N * reach
        return (
            (x, top - 2.0, x, top - 2.0 - length) if length >= 0.0 else (x, top - 2.0 + length, x, top - 2.0)
        )
    y, length = sheet.skin - cause.height_m * sheet.scale, abs(cause.along_N) * reach
    if cause.along_N < 0.0:  # rearward: it pushes at the front, which is at the left
        return (sheet.x(0.0) - 3.0 - length, y, sheet.x(0.0) - 3.0, y)
    return (sheet.x(view.length_m) + 3.0 + length, y, sheet.x(view.length_m) + 3.0, y)


def _held(view: ItemView, sheet: _Sheet, reach: float) -> list[str]:
    """Return what the roof does to the feet, one arrow a station: down where they pull, up where they press."""
    marks = [text(2.0, sheet.skin + 15.0, "the roof holds", size=SMALL, ink=HOLD)]
    taken: list[Box] = []
    for station in stations(view.feet):
        most = max(station, key=lambda one: abs(one.pull_N))
        x, length = sheet.x(most.behind_m), abs(most.pull_N) * reach
        if length >= LEAST_ARROW:
            ends = (sheet.skin + 6.0, sheet.skin + 6.0 + length)
            start, end = ends if most.pull_N > 0.0 else ends[::-1]
            marks.append(arrow(x, start, x, end, ink=HOLD, width=STRONG))
        wide, high = text_width(most.pull, SMALL), SMALL * 0.9
        tries = [
            (x + 4.0, sheet.skin + down, x + 4.0 + wide, sheet.skin + down + high)
            for down in (9.0, 18.0, 27.0)
        ]
        spot = first_free(tries, taken, (0.0, sheet.skin, PAGE, sheet.skin + LONGEST_ARROW + 10.0))
        if spot:
            marks.append(text(spot[0], spot[3] - 0.6, most.pull, size=SMALL, ink=HOLD))
    return marks


def stations(feet: Sequence[ViewFoot]) -> list[list[ViewFoot]]:
    """Return the feet that stand at one distance from the item's front, front first."""
    groups: list[list[ViewFoot]] = []
    for one in sorted(feet, key=lambda one: one.behind_m):
        if groups and one.behind_m - groups[-1][0].behind_m <= SAME_STATION_m:
            groups[-1].append(one)
        else:
            groups.append([one])
    return groups
