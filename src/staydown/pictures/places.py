"""Finds room for labels, so that no two lie over each other."""

from __future__ import annotations

from collections.abc import Iterable

Box = tuple[float, float, float, float]  # left, top, right, bottom


def apart(one: Box, other: Box) -> bool:
    """Return whether two boxes do not touch.

    Examples
    --------
    >>> apart((0.0, 0.0, 1.0, 1.0), (2.0, 0.0, 3.0, 1.0)), apart((0.0, 0.0, 2.0, 2.0), (1.0, 1.0, 3.0, 3.0))
    (True, False)
    """
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def first_free(tries: Iterable[Box], taken: list[Box], inside: Box) -> Box | None:
    """Return the first box that lies inside and touches nothing taken, and take it; None where there is none."""
    for box in tries:
        held = inside[0] <= box[0] and inside[1] <= box[1] and box[2] <= inside[2] and box[3] <= inside[3]
        if held and all(apart(box, other) for other in taken):
            taken.append(box)
            return box
    return None
