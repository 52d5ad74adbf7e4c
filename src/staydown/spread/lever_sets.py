"""On which side, and in which direction, the item pulls beside the pad's centre: the sets that are solved.

Nobody knows on which side a bolt ends up or how a bracket leans, and mounts of one make lean alike: all to
one side, or mirrored about the item. What a person did not type is solved both ways.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.job.records import Mount

Array = NDArray[np.float64]
Direction = Literal["along", "across"]
Side = Literal["as typed", "plus", "minus", "toward", "away"]

_SIDES: tuple[Side, ...] = ("plus", "minus", "toward", "away")
_WORDS = {"along": ("forward", "rearward"), "across": ("left", "right")}


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverSets:
    """Sets of levers by name; side_along, side_across: +1, -1 or 0 for each (set, mount)."""

    names: tuple[str, ...]
    side_along: Array
    side_across: Array


def build_lever_sets(mounts: Sequence[Mount], forward_m: Array, left_m: Array) -> LeverSets:
    """Return the sets of levers to solve, those that put every mount's lever alike only once.

    Parameters
    ----------
    mounts : sequence of Mount
        As typed: lever, direction and side, each None where unknown.
    forward_m, left_m : array, shape (M,)
        Where the pads stand from the item's centre. [m]
    """
    has_lever = [mount.lever_m is None or mount.lever_m != 0.0 for mount in mounts]
    side_typed = [mount.lever_side == "given" and mount.lever_m is not None for mount in mounts]
    open_direction = any(has and m.lever_direction is None for has, m in zip(has_lever, mounts, strict=True))
    open_side = any(has and not known for has, known in zip(has_lever, side_typed, strict=True))
    directions: tuple[Direction | None, ...] = ("along", "across") if open_direction else (None,)
    sides: tuple[Side, ...] = _SIDES if open_side else ("as typed",)
    found: dict[bytes, tuple[str, Array]] = {}
    for direction in directions:
        for side in sides:
            signs = np.array(
                [
                    _signs(mount, direction, side, (x, y))
                    for mount, x, y in zip(mounts, forward_m, left_m, strict=True)
                ]
            )
            name = _name(mounts, direction, side) if any(has_lever) else "hinged"
            found.setdefault(signs.tobytes(), (name, signs))
    table = np.array([signs for _, signs in found.values()])
    return LeverSets(
        names=tuple(name for name, _ in found.values()),
        side_along=table[:, :, 0],
        side_across=table[:, :, 1],
    )


def _signs(mount: Mount, direction: Direction | None, side: Side, place: tuple[float, float]) -> list[float]:
    """Return the side of one mount's lever along and across; one of the two is 0."""
    axis = 0 if (mount.lever_direction or direction) == "along" else 1
    signs = [0.0, 0.0]
    if mount.lever_m == 0.0:
        return signs
    if mount.lever_side == "given" and mount.lever_m is not None:
        signs[axis] = float(np.sign(mount.lever_m))
    elif side in ("plus", "minus"):
        signs[axis] = 1.0 if side == "plus" else -1.0
    else:
        # a mount on the item's own axis has no inner side: it then leans once to each
        inward = -1.0 if place[axis] > 0 else 1.0
        signs[axis] = inward if side == "toward" else -inward
    return signs


def _name(mounts: Sequence[Mount], direction: Direction | None, side: Side) -> str:
    pulled = [mount for mount in mounts if mount.lever_m != 0.0]
    ways = {mount.lever_direction or direction for mount in pulled}
    way = ways.pop() if len(ways) == 1 else None
    tried = f" {direction}" if direction else ""
    if side in ("plus", "minus"):
        number = 0 if side == "plus" else 1
        words = [_WORDS[way]] if way else _WORDS.values()
        return f"hinged, all levers {' or '.join(word[number] for word in words)}"
    if side == "as typed":
        return f"hinged, levers{tried} as typed"
    end = "toward the item's centre" if side == "toward" else "away from the item's centre"
    return f"hinged, levers{tried} {end}"
