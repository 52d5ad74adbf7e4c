"""What a picture of the roof from a corner shows, which part of the roof, and how large it lies on the sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot, sin

from staydown.pictures.solids import Flat, Point3, SeenFrom, Solid

HIGHEST = 225.0  # of roof and items on the sheet [pt]
LONGEST_ARROW = 44.0  # of the largest force in the picture [pt]
MARGIN = 6.0
LABEL_ROOM = 14.0  # over the tips of the longest arrows [pt]
WIND_ROOM = 12.0  # under the lowest arrow of air, for its words [pt]
MARK = (11.0, 5.5)  # of a use beside its number [pt]
# shares of the diagonal of what is shown: looks, measured by nobody
BODY, SCREEN, WIND_LENGTH, WIND_STEP, WIND_OFF, AROUND = 0.075, 0.055, 0.14, 0.07, 0.07, 0.09
NARROW = 196.0  # width of the picture for a phone [pt]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceFoot:
    """One mount in the case shown: its pad's centre behind the roof's front and left of its middle, its sides. [m, N]

    pull_N: away from the roof, None where this case says nothing of it. use, level: in this case. label: its use as
    written; pull: its words.
    """

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    pull_N: float | None
    use: float | None
    level: str
    label: str
    pull: str
    worst: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceItem:
    """One item: its front behind the roof's front, its middle left of the roof's, sides, gap, thickness. [m, rad]"""

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    gap_m: float
    thickness_m: float
    nose_up_rad: float
    feet: tuple[SpaceFoot, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceFixture:
    """What is on the roof already: its middle, its sides, its height; flat where nobody knows the height. [m]"""

    name: str
    behind_m: float
    left_m: float
    length_m: float
    width_m: float
    height_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """The roof in one case. wind: unit vector to where the air comes from, forward and left, or None. [m, 1]

    told: the item whose case it is; of the others only the worst mount is written out. near: that item fills the
    picture, without the rest of the roof.
    """

    length_m: float
    width_m: float
    items: tuple[SpaceItem, ...]
    fixtures: tuple[SpaceFixture, ...]
    wind: Flat | None
    wind_words: str
    scale_m: float
    scale: str
    seen: SeenFrom
    seen_words: str
    told: int
    near: bool
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """A part of the roof: from rear to front and from right to left, forward and left of the roof's front. [m]"""

    rear: float
    front: float
    right: float
    left: float

    @property
    def diagonal(self) -> float:
        """Return the distance between opposite corners. [m]"""
        return hypot(self.front - self.rear, self.left - self.right)

    @property
    def middle(self) -> Flat:
        """Return its middle, forward and left. [m]"""
        return ((self.front + self.rear) / 2, (self.left + self.right) / 2)

    def corners(self, height: float = 0.0) -> list[Point3]:
        """Return its corners at a height over the roof: rear right, front right, front left, rear left. [m]"""
        return [
            (self.rear, self.right, height),
            (self.front, self.right, height),
            (self.front, self.left, height),
            (self.rear, self.left, height),
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Points a metre, and where the roof's front middle lies on the sheet. [pt]"""

    seen: SeenFrom
    scale: float
    x: float
    y: float
    width: float

    def at(self, point: Point3) -> Flat:
        """Return where a point lies on the sheet, rightwards and downwards. [pt]"""
        right, up = self.seen.flat(point)
        return (self.x + right * self.scale, self.y - up * self.scale)

    def all(self, points: Iterable[Point3]) -> list[Flat]:
        """Return where points lie on the sheet. [pt]"""
        return [self.at(point) for point in points]


def plane_of(space: Space) -> Plane:
    """Return the part of the roof that is shown: all of it, or what lies under and around one item."""
    whole = Plane(rear=-space.length_m, front=0.0, right=-space.width_m / 2, left=space.width_m / 2)
    if not space.near:
        return whole
    item = space.items[space.told]
    around = AROUND * hypot(item.length_m, item.width_m)
    return Plane(
        rear=-item.behind_m - item.length_m - around,
        front=-item.behind_m + around,
        right=item.left_m - item.width_m / 2 - around,
        left=item.left_m + item.width_m / 2 + around,
    )


def shown(space: Space, plane: Plane) -> tuple[list[SpaceItem], list[SpaceFixture]]:
    """Return the items and what is on the roof already, as far as they lie in what is shown."""
    if not space.near:
        return list(space.items), list(space.fixtures)

    def inside(behind_m: float, left_m: float, length_m: float, width_m: float) -> bool:
        return (
            -behind_m <= plane.front
            and -behind_m - length_m >= plane.rear
            and left_m + width_m / 2 <= plane.left
            and left_m - width_m / 2 >= plane.right
        )

    items = [one for one in space.items if inside(one.behind_m, one.left_m, one.length_m, one.width_m)]
    fixtures = [
        one
        for one in space.fixtures
        if inside(one.behind_m - one.length_m / 2, one.left_m, one.length_m, one.width_m)
    ]
    return items, fixtures


def towards_eye(space: Space) -> float:
    """Return whether the air comes from the eye's side, positive, or from behind what is shown."""
    return (
        0.0
        if space.wind is None
        else sum(a * b for a, b in zip(space.wind, space.seen.towards[:2], strict=True))
    )


def winds_of(space: Space, plane: Plane) -> list[tuple[Point3, Point3, float]]:
    """Return flat arrows of air beside what is shown: tail, tip, width. [m]"""
    if space.wind is None:
        return []
    along, across = space.wind
    diagonal = plane.diagonal
    middle_x, middle_y = plane.middle
    half_x, half_y = (plane.front - plane.rear) / 2, (plane.left - plane.right) / 2
    out = min(half_x / abs(along) if along else 1e9, half_y / abs(across) if across else 1e9)
    height = max((one.gap_m + one.thickness_m / 2 for one in space.items), default=0.0)
    found = []
    for number in (-1, 0, 1):
        near = out + WIND_OFF * diagonal
        aside = number * WIND_STEP * diagonal
        start = near + WIND_LENGTH * diagonal * (1.0 if number == 0 else 0.75)
        tail, tip = (
            (middle_x + along * far - across * aside, middle_y + across * far + along * aside, height)
            for far in (start, near)
        )
        found.append((tail, tip, 0.022 * diagonal))
    return found


def sheet_of(
    space: Space, plane: Plane, winds: list[tuple[Point3, Point3, float]], width: float
) -> tuple[Sheet, float]:
    """Return the scale on which all of it fits, and the height that it takes. [pt]"""
    items, fixtures = shown(space, plane)
    points = plane.corners()
    points += plane.corners(max((one.gap_m + one.thickness_m for one in items), default=0.0))
    points += plane.corners(max((one.height_m for one in fixtures), default=0.0))
    points += [point for tail, tip, _ in winds for point in (tail, tip)]
    if not space.near:
        points += [point for part in body_of(plane, space.seen) for point in part]
    flat = [space.seen.flat(point) for point in points]
    left, right = min(x for x, _ in flat), max(x for x, _ in flat)
    low, high = min(y for _, y in flat), max(y for _, y in flat)
    scale = min((width - 2 * MARGIN) / (right - left), HIGHEST / (high - low))
    # room for the longest arrow wherever it may stand, so that nothing jumps while something is dragged
    tops = [space.seen.flat(top_of(item, one))[1] for item in items for one in item.feet]
    over = max(MARGIN, (max(tops, default=low) - high) * scale + LONGEST_ARROW + LABEL_ROOM)
    sheet = Sheet(
        seen=space.seen,
        scale=scale,
        x=(width - (right - left) * scale) / 2 - left * scale,
        y=over + high * scale,
        width=width,
    )
    lowest = min((space.seen.flat(tail)[1] for tail, _, _ in winds), default=high)
    words = WIND_ROOM if (lowest - low) * scale < WIND_ROOM else 0.0
    return sheet, over + (high - low) * scale + MARGIN + words


def body_of(plane: Plane, seen: SeenFrom) -> list[list[Point3]]:
    """Return the sides of the vehicle that are seen, and the slant before the roof: a hint of where the front is."""
    down, ahead = BODY * plane.diagonal, SCREEN * plane.diagonal
    towards = seen.towards
    parts: list[list[Point3]] = []
    side = plane.left if towards[1] > 0.0 else plane.right
    parts.append(
        [
            (plane.rear, side, 0.0),
            (plane.front, side, 0.0),
            (plane.front + ahead, side, -down),
            (plane.rear, side, -down),
        ]
    )
    if towards[0] > 0.0:
        parts.append(
            [
                (plane.front, plane.right, 0.0),
                (plane.front, plane.left, 0.0),
                (plane.front + ahead, plane.left, -down),
                (plane.front + ahead, plane.right, -down),
            ]
        )
    else:
        parts.append(
            [*plane.corners()[:1], plane.corners()[3], plane.corners(-down)[3], plane.corners(-down)[0]]
        )
    return parts


def item_box(item: SpaceItem) -> Solid:
    """Return an item as a box over the roof, as if its nose were level. [m]"""
    return Solid(
        low=(-item.behind_m - item.length_m, item.left_m - item.width_m / 2, item.gap_m),
        high=(-item.behind_m, item.left_m + item.width_m / 2, item.gap_m + item.thickness_m),
    )


def lift(item: SpaceItem, x_m: float) -> float:
    """Return how much higher a nose-up item is at a place, turned about its rear edge. [m]"""
    return (x_m + item.behind_m + item.length_m) * sin(item.nose_up_rad)


def top_of(item: SpaceItem, one: SpaceFoot) -> Point3:
    """Return where the line of pull of a mount comes out of its item. [m]"""
    x = -one.behind_m
    return (x, one.left_m, item.gap_m + item.thickness_m + lift(item, x))
