"""The roof seen from a corner, to scale: what stands over it at its gap, the wind, and what each mount carries.

One case: every arrow and every use in it is of that case. Parallel projection, so that it can be measured along each
axis; only the body under the roof is indicated and not to be measured.
"""

from __future__ import annotations

from math import hypot

from staydown.pictures.foot_mark import key
from staydown.pictures.picture import Picture
from staydown.pictures.places import Box
from staydown.pictures.solids import Point3, Solid, drawing_order, faces
from staydown.pictures.space_sheet import (
    LONGEST_ARROW,
    NARROW,
    Plane,
    Sheet,
    Space,
    SpaceFoot,
    SpaceItem,
    body_of,
    item_box,
    lift,
    plane_of,
    sheet_of,
    shown,
    top_of,
    towards_eye,
    winds_of,
)
from staydown.pictures.space_words import names, use_words, words_around
from staydown.pictures.style import (
    HAIR,
    HOLD_PALE,
    INK,
    PAGE,
    PULL,
    RULE,
    SOFT,
    STRONG,
    THIN,
    WASH,
    WHITE,
)
from staydown.pictures.svg import arrow, circle, document, line, polygon

LEAST_ARROW = 2.5  # of a force; a shorter one is not drawn [pt]


def roof_in_space(space: Space, *, narrow: bool = False, keyed: bool = True) -> Picture:
    """Return the roof seen from a corner. narrow: for the width of a phone. keyed: with the key to the marks."""
    width = NARROW if narrow else PAGE
    plane = plane_of(space)
    winds = winds_of(space, plane)
    sheet, height = sheet_of(space, plane, winds, width)
    before = space.wind is not None and towards_eye(space) <= 0.0
    marks = _ground(space, plane, sheet)
    blown = [_flat_arrow(one, sheet) for one in winds]
    taken: list[Box] = []
    marks += [*(blown if before else []), *_solids(space, plane, sheet), *([] if before else blown)]
    marks += _forces(space, sheet, taken, told=space.near + (not narrow))
    marks += [*names(space, plane, sheet, taken), *words_around(space, plane, sheet, winds, taken, height)]
    if keyed:  # four in a row, on a phone two rows of two
        rows = [(0, 2), (2, 4)] if narrow else [(0, 4)]
        for part in rows:
            marks.append(key(1.0, height + 8.0, step=width / (part[1] - part[0]), part=part))
            height += 12.0
    title = f"The roof seen from {space.seen_words}, to scale"
    return Picture(
        name="space",
        title=title,
        alt=space.alt,
        width=width,
        height=height,
        svg=document(width, height, title, space.alt, marks),
    )


def _ground(space: Space, plane: Plane, sheet: Sheet) -> list[str]:
    """Return the roof, its body where all of it is shown, and under every item its outline on the roof."""
    marks: list[str] = []
    if not space.near:
        side, end = body_of(plane, space.seen)
        marks.append(polygon(sheet.all(side), fill=RULE, opacity=0.45))
        screen = space.seen.towards[0] > 0.0
        marks.append(
            polygon(sheet.all(end), fill=HOLD_PALE if screen else RULE, opacity=0.9 if screen else 0.65)
        )
        marks += [polygon(sheet.all(part), ink=RULE, stroke=HAIR) for part in (side, end)]
    top = sheet.all(plane.corners())
    marks.append(polygon(top, fill=WASH, ink=RULE if not space.near else "none"))
    middle = plane.middle[1] if space.near else 0.0
    if not space.near:
        ends = sheet.all([(plane.rear, middle, 0.0), (plane.front, middle, 0.0)])
        marks.append(line(*ends[0], *ends[1], ink=RULE, width=HAIR, dash="7 2.5 1.5 2.5"))
    items, _ = shown(space, plane)
    for item in items:
        box = item_box(item)
        shade = [
            (box.low[0], box.low[1], 0.0),
            (box.high[0], box.low[1], 0.0),
            (box.high[0], box.high[1], 0.0),
            (box.low[0], box.high[1], 0.0),
        ]
        marks.append(polygon(sheet.all(shade), fill=RULE, opacity=0.6))
    return marks


def _solids(space: Space, plane: Plane, sheet: Sheet) -> list[str]:
    """Return everything that stands on the roof, what is behind first."""
    items, fixtures = shown(space, plane)
    boxes: list[Solid] = []
    drawn: list[str] = []
    for fixture in fixtures:
        box = Solid(
            low=(-fixture.behind_m - fixture.length_m / 2, fixture.left_m - fixture.width_m / 2, 0.0),
            high=(
                -fixture.behind_m + fixture.length_m / 2,
                fixture.left_m + fixture.width_m / 2,
                fixture.height_m,
            ),
        )
        boxes.append(box)
        drawn.append(_block(box, sheet, (RULE, RULE, WASH), (0.7, 0.45, 1.0), ink=SOFT))
    for item in items:
        for one in item.feet:
            x = -one.behind_m
            box = Solid(
                low=(x - one.length_m / 2, one.left_m - one.width_m / 2, 0.0),
                high=(x + one.length_m / 2, one.left_m + one.width_m / 2, item.gap_m + lift(item, x)),
            )
            boxes.append(box)
            drawn.append(_block(box, sheet, (SOFT, SOFT, SOFT), (1.0, 0.85, 0.7)))
        box = item_box(item)
        boxes.append(box)
        drawn.append(
            _block(box, sheet, (RULE, WASH, WHITE), (0.8, 1.0, 1.0), ink=INK, under=WHITE, item=item)
        )
    return [drawn[number] for number in drawing_order(boxes, space.seen)]


def _block(
    box: Solid,
    sheet: Sheet,
    fills: tuple[str, str, str],
    shares: tuple[float, float, float],
    *,
    ink: str = "none",
    under: str = "",
    item: SpaceItem | None = None,
) -> str:
    """Return a box with its ends, sides and top in three tones; under: what shows through a tone."""
    marks = []
    for axis, corners in faces(box, sheet.seen):
        lifted = corners
        if item is not None and item.nose_up_rad:
            lifted = tuple((x, y, z + lift(item, x)) for x, y, z in corners)  # type: ignore[assignment]
        flat = sheet.all(lifted)
        if under and shares[axis] < 1.0:
            marks.append(polygon(flat, fill=under))
        marks.append(polygon(flat, fill=fills[axis], opacity=shares[axis]))
        if ink != "none":
            marks.append(polygon(flat, ink=ink, stroke=THIN))
    return "".join(marks)


def _flat_arrow(one: tuple[Point3, Point3, float], sheet: Sheet) -> str:
    """Return an arrow of air that lies level beside the roof."""
    (x1, y1, z), (x2, y2, _), half = one
    length = hypot(x2 - x1, y2 - y1)
    along, across = (x2 - x1) / length, (y2 - y1) / length
    head = min(4.2 * half, 0.6 * length)
    neck_x, neck_y = x2 - along * head, y2 - across * head

    def beside(x: float, y: float, share: float) -> Point3:
        return (x - across * half * share, y + along * half * share, z)

    outline = [
        beside(x1, y1, 0.5),
        beside(neck_x, neck_y, 0.5),
        beside(neck_x, neck_y, 1.5),
        (x2, y2, z),
        beside(neck_x, neck_y, -1.5),
        beside(neck_x, neck_y, -0.5),
        beside(x1, y1, -0.5),
    ]
    return polygon(sheet.all(outline), fill=WASH, ink=SOFT, stroke=THIN)


def _forces(space: Space, sheet: Sheet, taken: list[Box], *, told: int) -> list[str]:
    """Return the arrow of each mount, up where it is pulled and down where it is pressed, with its use.

    told: 0 writes out the worst mount of each item, 1 the use of each mount of the item that is told about, 2 its
    force too.
    """
    mine_item = space.items[space.told]
    feet = [
        (one, sheet.at(top_of(item, one)), item is mine_item)
        for item in shown(space, plane_of(space))[0]
        for one in item.feet
        if one.pull_N is not None
    ]
    most = max((abs(one.pull_N or 0.0) for one, _, _ in feet), default=0.0)
    reach = LONGEST_ARROW / max(most, 1e-9)
    marks: list[str] = []
    tips: list[tuple[SpaceFoot, Box, float, bool]] = []
    for one, (x, y), mine in sorted(feet, key=lambda foot: foot[1][1]):
        length = (one.pull_N or 0.0) * reach
        high = abs(length)
        marks.append(circle(x, y, 1.3, fill=INK))
        if high >= LEAST_ARROW:
            ends = (y - 1.5, y - 1.5 - high) if length > 0.0 else (y - 1.5 - high, y - 1.5)
            marks.append(
                arrow(x, ends[0], x, ends[1], ink=PULL if length > 0.0 else SOFT, width=STRONG + 0.3)
            )
        else:
            high = 0.0
        tips.append((one, (x - 2.0, y - high - 1.5, x + 2.0, y + 1.5), high, mine))
    arrows = [box for _, box, _, _ in tips]
    taken += arrows
    for one, box, _, mine in sorted(tips, key=lambda tip: (not tip[3], not tip[0].worst, -tip[2])):
        if (mine and told > 0) or one.worst:
            marks.append(use_words(one, box, arrows, sheet, taken, full=told > 1 or one.worst))
    return marks
