"""The worst foot in section: where it is pulled, how far beside the pad's middle, and the wedge of stress under it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from staydown.pictures.picture import Picture
from staydown.pictures.style import (
    HAIR,
    HALF,
    HOLD,
    INK,
    PHONE,
    PLAIN,
    PULL,
    PULL_PALE,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    THIN,
    WASH,
    WHITE,
    fitted,
    folded,
    text_width,
)
from staydown.pictures.svg import Point, arrow, document, line, polygon, rect, text

PAD_WIDTH, PAD_NARROW = 128.0, 108.0  # of the pad in the section [pt]
TAPE = 3.4  # never to scale: it would not be seen [pt]
DEEPEST = 58.0  # of the wedge at the largest stress [pt]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One foot cut along its lever. Lengths in metres, stresses in pascal, words ready to print.

    side_m: of the pad in the section. lever_m: of the line of pull from the pad's middle, positive to the right.
    pull_N: away from the roof. push_N: in the plane, positive to the right. left_Pa, right_Pa: stress under the two
    edges of a rigid foot, tension positive, along the more stressed of the pad's other two edges. profile_Pa: from
    the left edge to the right one under a foot that bends, else empty. mean_Pa: over the whole pad.
    """

    title: str
    side_m: float
    foot_m: float
    lever_m: float
    pull_N: float
    push_N: float
    left_Pa: float
    right_Pa: float
    profile_Pa: tuple[float, ...]
    mean_Pa: float
    side: str
    lever: str
    pull: str
    push: str
    left_edge: str
    right_edge: str
    left_stress: str
    right_stress: str
    mean: str
    proven_Pa: float | None
    proven: str
    alt: str


def lever_view(lever: Lever, *, narrow: bool = False) -> Picture:
    """Return the section of a foot with its pressure wedge. narrow: drawn with larger type, for a page."""
    page, pad = (PHONE, PAD_NARROW) if narrow else (HALF, PAD_WIDTH)
    scale = pad / lever.side_m
    middle = page / 2
    left, right = middle - pad / 2, middle + pad / 2
    thick = min(max(lever.foot_m * scale, 8.0), 26.0)
    tape = TAPE
    roof = 92.0
    pulled_at = middle + max(min(lever.lever_m * scale, page / 2 - 12.0), -(page / 2 - 12.0))
    wedge, height = _wedge(lever, (left, right), roof + 13.0, page)
    marks = [
        *_foot((left, right), roof, (thick, tape), pulled_at, page),
        *_forces(lever, pulled_at, roof - tape - thick, page),
        *wedge,
    ]
    return Picture(
        name="lever",
        title=lever.title,
        alt=lever.alt,
        width=page,
        height=height,
        svg=document(page, height, lever.title, lever.alt, marks),
    )


def _foot(
    pad: tuple[float, float], roof: float, layers: tuple[float, float], pulled_at: float, page: float
) -> list[str]:
    (left, right), (thick, tape) = pad, layers
    reach_left, reach_right = min(left, pulled_at - 6.0), max(right, pulled_at + 6.0)
    top = roof - tape - thick
    return [
        rect(4.0, roof, page - 8.0, 7.0, fill=WASH),
        line(4.0, roof, page - 4.0, roof, ink=SOFT, width=THIN),
        rect(left, roof - tape, right - left, tape, fill=SOFT),
        rect(reach_left, top, reach_right - reach_left, thick, fill=WHITE, ink=INK),
        rect(pulled_at - 4.0, top - 7.0, 8.0, 7.0, fill=WHITE, ink=INK),
        text(page - 5.0, roof + 6.0, "roof", size=SMALL - 0.4, anchor="end", ink=SOFT),
        text(right + 4.0, roof - 1.0, "tape", size=SMALL - 0.4, ink=SOFT) if reach_right <= right else "",
    ]


def _forces(lever: Lever, pulled_at: float, top: float, page: float) -> list[str]:
    middle = page / 2
    marks = [line(middle, 40.0, middle, 92.0, ink=RULE, width=HAIR, dash="6 2 1.5 2")]
    if lever.pull_N >= 0.0:
        marks.append(arrow(pulled_at, top - 8.0, pulled_at, 14.0, ink=PULL, width=2.0))
    else:
        marks.append(arrow(pulled_at, 14.0, pulled_at, top - 8.0, ink=PULL, width=2.0))
    left_side = pulled_at > middle
    room = min(110.0, (pulled_at if left_side else page - pulled_at) - 8.0)
    if text_width(lever.pull, PLAIN, bold=True) > room:
        left_side, room = not left_side, page - 8.0 - room
    words = fitted(lever.pull, room, PLAIN, bold=True)
    x = pulled_at - 6.0 if left_side else pulled_at + 6.0
    marks.append(text(x, 20.0, words, bold=True, ink=PULL, anchor="end" if left_side else "start"))
    left_side = pulled_at > middle
    if abs(pulled_at - middle) > 3.0:
        y = 38.0
        marks += [
            line(middle, y, pulled_at, y, width=THIN),
            line(middle, y - 2.5, middle, y + 2.5, width=THIN),
            line(pulled_at, y - 2.5, pulled_at, y + 2.5, width=THIN),
            text(
                middle - 4.0 if left_side else middle + 4.0,
                y + 2.4,
                lever.lever,
                size=SMALL,
                anchor="end" if left_side else "start",
            ),
        ]
    if lever.push:
        forward = lever.push_N >= 0.0
        y = top - 3.5
        x1 = pulled_at + (8.0 if forward else -8.0)
        x2 = x1 + (20.0 if forward else -20.0)
        marks.append(arrow(x1, y, x2, y, ink=PULL, width=THIN + 0.3))
        marks.append(
            text(x2 + (3.0 if forward else -3.0), y - 3.0, lever.push, size=SMALL, ink=PULL,
                 anchor="start" if forward and x2 < page - 60.0 else "end")
        )  # fmt: skip
    return marks


def _wedge(lever: Lever, pad: tuple[float, float], zero: float, page: float) -> tuple[list[str], float]:
    """Return the stress under the pad, tension below the line and pressure above it, and where the drawing ends."""
    left, right = pad
    proven = lever.proven_Pa or 0.0
    shape = lever.profile_Pa or (lever.left_Pa, lever.right_Pa)
    largest = max(*(abs(stress) for stress in shape), abs(lever.left_Pa), abs(lever.right_Pa), proven, 1e-9)
    reach = DEEPEST / largest
    base = zero + max(-min(*shape, lever.left_Pa, lever.right_Pa), 0.0) * reach + 4.0
    step = (right - left) / (len(shape) - 1)
    points = [(left + number * step, base + stress * reach) for number, stress in enumerate(shape)]
    marks = [_pulled(points, base), *_strokes(points, base)]
    deep_left, deep_right = points[0][1], points[-1][1]
    marks += [
        line(left, base, right, base, width=THIN),
        polygon(points, ink=INK, stroke=THIN, closed=False),
        line(left, base, left, deep_left, width=THIN),
        line(right, base, right, deep_right, width=THIN),
    ]
    if lever.profile_Pa:
        rigid = (base + lever.left_Pa * reach, base + lever.right_Pa * reach)
        marks.append(line(left, rigid[0], right, rigid[1], ink=SOFT, width=THIN, dash="3 2"))
    mean = base + lever.mean_Pa * reach
    if abs(mean - base) > 3.0:
        marks.append(line(left, mean, right, mean, ink=SOFT, width=HAIR, dash="2 2"))
    if lever.proven_Pa:
        level = base + proven * reach
        marks.append(line(left, level, right + 10.0, level, ink=HOLD, width=STRONG, dash="5 2.5"))
        marks.append(
            text(page / 2, level + 8.5, lever.proven, size=SMALL, anchor="middle", ink=HOLD, halo=True)
        )
    lowest = max(deep_left, deep_right, base + proven * reach + 9.0)
    if page < HALF:
        below, lowest = _under_ends(lever, lowest, page)
        marks += below
    else:
        beside, lowest = _beside_ends(lever, (left, right), (deep_left, deep_right), (base, lowest))
        marks += beside
    notes = folded(f"{lever.side}; {lever.mean}", page - 4.0, SMALL, 2 if page >= HALF else 4)
    marks += [
        text(page / 2, lowest + 12.0 + 8.4 * row, words, size=SMALL, anchor="middle")
        for row, words in enumerate(notes)
    ]
    return marks, lowest + 8.0 + 8.4 * len(notes)


def _beside_ends(
    lever: Lever, pad: tuple[float, float], deep: tuple[float, float], ends: tuple[float, float]
) -> tuple[list[str], float]:
    """Return the stress at both edges beside the wedge, and how far down the words reach."""
    (left, right), (base, lowest) = pad, ends
    marks = []
    for x, down, stress, edge, anchor in (
        (left - 4.0, deep[0], lever.left_stress, lever.left_edge, "end"),
        (right + 4.0, deep[1], lever.right_stress, lever.right_edge, "start"),
    ):
        room = left - 6.0
        y = max(down, base + 6.0) if down >= base else down + 4.0
        marks.append(text(x, y, fitted(stress, room, PLAIN, bold=True), bold=True, anchor=anchor))
        rows = folded(edge, room, SMALL - 0.4, 2)
        marks += [
            text(x, y + 8.0 * (row + 1), words, size=SMALL - 0.4, anchor=anchor, ink=SOFT)
            for row, words in enumerate(rows)
        ]
        lowest = max(lowest, y + 8.0 * len(rows))
    return marks, lowest


def _under_ends(lever: Lever, lowest: float, page: float) -> tuple[list[str], float]:
    """Return the stress at both edges under the wedge, where there is no room beside it."""
    marks = []
    room = page / 2 - 6.0
    for x, stress, edge, anchor in (
        (2.0, lever.left_stress, lever.left_edge, "start"),
        (page - 2.0, lever.right_stress, lever.right_edge, "end"),
    ):
        y = lowest + 10.0
        marks += [
            text(x, y, fitted(stress, room, PLAIN, bold=True), bold=True, anchor=anchor),
            text(x, y + 8.4, fitted(edge, room, SMALL), size=SMALL, anchor=anchor, ink=SOFT),
        ]
    return marks, lowest + 20.0


def _pulled(points: Sequence[Point], base: float) -> str:
    """Return what is pulled of the wedge, filled; what presses stays white under its strokes."""
    edge = [points[0]]
    for (x1, y1), (x2, y2) in pairwise(points):
        if (y1 - base) * (y2 - base) < 0.0:
            edge.append((x1 + (x2 - x1) * (base - y1) / (y2 - y1), base))
        edge.append((x2, y2))
    shape = [(x, max(y, base)) for x, y in edge]
    return polygon([(edge[0][0], base), *shape, (edge[-1][0], base)], fill=PULL_PALE)


def _strokes(points: Sequence[Point], base: float) -> list[str]:
    """Return upright strokes where the pad is pressed, which tell pressure from tension in grey."""
    marks = []
    x = points[0][0] + 2.5
    for (x1, y1), (x2, y2) in pairwise(points):
        while x <= x2:
            deep = y1 + (y2 - y1) * (x - x1) / (x2 - x1)
            if deep < base - 0.3:
                marks.append(line(x, base, x, deep, ink=SOFT, width=HAIR))
            x += 3.0
    return marks
