"""Boxes seen from a corner: where a point lies on the sheet, and which box is drawn before which.

Axes as in a job: x forward, y left, z up. Parallel projection: equal lengths along one axis stay equal, so that a
drawing can be measured.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin

Point3 = tuple[float, float, float]
Flat = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A box along the axes: its lowest and its highest corner. [m]"""

    low: Point3
    high: Point3

    @property
    def middle(self) -> Point3:
        """Return the centre. [m]"""
        one, two, three = ((a + b) / 2 for a, b in zip(self.low, self.high, strict=True))
        return (one, two, three)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenFrom:
    """Where one looks from: the angle from straight ahead towards the left, and the angle above the roof. [rad]"""

    azimuth_rad: float
    elevation_rad: float

    @property
    def towards(self) -> Point3:
        """Return the unit vector towards the eye. [1]"""
        level = cos(self.elevation_rad)
        return (level * cos(self.azimuth_rad), level * sin(self.azimuth_rad), sin(self.elevation_rad))

    def flat(self, point: Point3) -> Flat:
        """Return a point on the sheet, rightwards and upwards, on the scale of the points. [m]

        Examples
        --------
        >>> ahead = SeenFrom(azimuth_rad=0.0, elevation_rad=0.0)
        >>> ahead.flat((5.0, 2.0, 1.0))
        (2.0, 1.0)
        """
        x, y, z = point
        across, along = cos(self.azimuth_rad), sin(self.azimuth_rad)
        over = x * across + y * along
        return (y * across - x * along, z * cos(self.elevation_rad) - over * sin(self.elevation_rad))

    def depth(self, point: Point3) -> float:
        """Return how near a point is to the eye, larger is nearer. [m]"""
        return sum(a * b for a, b in zip(point, self.towards, strict=True))


def drawing_order(solids: Sequence[Solid], seen: SeenFrom) -> list[int]:
    """Return the indices of boxes in the order in which they are painted, what is behind first.

    Two boxes that do not run into each other have a plane along the axes between them; the one on the far side of
    it is behind. Where planes of two axes disagree they do not cover each other. Boxes that run into each other, and
    rings of boxes of which each covers the next, come by the depth of their middles.
    """
    behind: list[set[int]] = [set() for _ in solids]
    for one in range(len(solids)):
        for other in range(one + 1, len(solids)):
            first, second = (
                _far_side(solids[one], solids[other], seen),
                _far_side(solids[other], solids[one], seen),
            )
            if first and not second:
                behind[other].add(one)
            elif second and not first:
                behind[one].add(other)
    left = sorted(range(len(solids)), key=lambda number: seen.depth(solids[number].middle))
    found: list[int] = []
    while left:
        free = next((number for number in left if not behind[number] & set(left)), left[0])
        left.remove(free)
        found.append(free)
    return found


def _far_side(one: Solid, other: Solid, seen: SeenFrom) -> bool:
    """Return whether a plane along the axes has `one` on its far side and `other` on its near side."""
    return any(
        (towards > 0.0 and one.high[axis] <= other.low[axis])
        or (towards < 0.0 and one.low[axis] >= other.high[axis])
        for axis, towards in enumerate(seen.towards)
    )


def faces(solid: Solid, seen: SeenFrom) -> tuple[tuple[int, tuple[Point3, Point3, Point3, Point3]], ...]:
    """Return the faces that are seen, each with the axis that it stands across: 0 ends, 1 sides, 2 top."""
    found = []
    for axis, towards in enumerate(seen.towards):
        if towards == 0.0:
            continue
        level = solid.high[axis] if towards > 0.0 else solid.low[axis]
        first, second = (other for other in range(3) if other != axis)
        corners = []
        for a, b in (("low", "low"), ("high", "low"), ("high", "high"), ("low", "high")):
            point = [0.0, 0.0, 0.0]
            point[axis] = level
            point[first] = getattr(solid, a)[first]
            point[second] = getattr(solid, b)[second]
            corners.append((point[0], point[1], point[2]))
        found.append((axis, (corners[0], corners[1], corners[2], corners[3])))
    return tuple(found)
