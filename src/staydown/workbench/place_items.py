"""Where things stand on the roof, and moving them: metres into the words of the job, and to what a thing snaps."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from staydown.job.records import Item, Job
from staydown.storage.edit_toml import Change, SetKey
from staydown.workbench.edit_job import path_of, value_at

MILLIMETRE_m = 1e-3
SIXTEENTH_m = 0.0254 / 16  # exact
INCH_m = 0.0254
_IN_INCHES = re.compile(r"\b(in|inch|inches|ft|foot|feet)\b|['\"″′]")
_IN_METRES = re.compile(r"^[+-]?[0-9.]+\s*m$")
_PLACE = re.compile(r"item\.(\d+)(?:\.mount\.(\d+))?$|vehicle\.on_roof\.(\d+)$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A thing's middle on the roof: behind the roof's front edge, left of its centreline. [m]"""

    behind_m: float
    left_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Catches:
    """Where a dragged thing's middle snaps to: lines across and along the vehicle, each with what it is. [m]"""

    behind: Mapping[float, str]
    left: Mapping[float, str]


def spot_of(job: Job, place: str) -> Spot:
    """Return where a mount, an item or a fixture stands. `item.2.mount.1`, `item.2`, `vehicle.on_roof.1`."""
    item, mount, fixture = _numbers(place)
    if fixture is not None:
        one = job.vehicle.on_roof[fixture]
        return Spot(behind_m=one.behind_front_m, left_m=one.left_of_centre_m)
    assert item is not None
    whole = job.item[item]
    if mount is None:
        return Spot(
            behind_m=whole.behind_roof_front_m + whole.length_m / 2, left_m=whole.left_of_centre_m or 0.0
        )
    foot = whole.mount[mount]
    return Spot(
        behind_m=whole.behind_roof_front_m + foot.behind_m,
        left_m=(whole.left_of_centre_m or 0.0) + foot.left_m,
    )


def moved_job(job: Job, place: str, spot: Spot) -> Job:
    """Return the job with one thing moved: for the answer while it is dragged, with nothing written."""
    item, mount, fixture = _numbers(place)
    own = _own(job, place, spot)
    if fixture is not None:
        things = list(job.vehicle.on_roof)
        things[fixture] = things[fixture].model_copy(update=_named("front", own))
        return job.model_copy(update={"vehicle": job.vehicle.model_copy(update={"on_roof": tuple(things)})})
    assert item is not None
    items = list(job.item)
    if mount is None:
        items[item] = items[item].model_copy(
            update={"behind_roof_front_m": own.behind_m, "left_of_centre_m": own.left_m}
        )
    else:
        feet = list(items[item].mount)
        feet[mount] = feet[mount].model_copy(update={"behind_m": own.behind_m, "left_m": own.left_m})
        items[item] = items[item].model_copy(update={"mount": tuple(feet)})
    return job.model_copy(update={"item": tuple(items)})


def moves(job: Job, content: str, place: str, spot: Spot) -> tuple[Change, ...]:
    """Return the changes that put a thing at a spot, in the unit that was typed there before."""
    _, mount, fixture = _numbers(place)
    own = _own(job, place, spot)
    keys = {
        "behind_front" if fixture is not None else "behind" if mount is not None else "behind_roof_front": own.behind_m,
        "left" if mount is not None else "left_of_centre": own.left_m,
    }  # fmt: skip
    changes = []
    for key, value_m in keys.items():
        typed = value_at(content, f"{place}.{key}")
        if typed is None and abs(value_m) < MILLIMETRE_m / 2:
            continue
        text = length_text(value_m, str(typed or ""), job.job.show)
        if text != typed:
            changes.append(SetKey(path=path_of(f"{place}.{key}"), value=text))
    return tuple(changes)


def catches(job: Job, place: str) -> Catches:
    """Return to which lines a thing's middle snaps while it is dragged."""
    item, mount, fixture = _numbers(place)
    if fixture is not None:
        return Catches(behind={}, left={0.0: "the vehicle's centreline"})
    assert item is not None
    whole = job.item[item]
    return _catches_of_item(job, item) if mount is None else _catches_of_mount(whole, mount)


def _catches_of_mount(item: Item, number: int) -> Catches:
    """Return where a pad is flush with its item's frame, in a row with another foot, or on the middle."""
    front, middle = item.behind_roof_front_m, item.left_of_centre_m or 0.0
    pad = item.mount[number].pad
    behind = {
        front + pad.length_m / 2: "flush with the front edge",
        front + item.length_m / 2: "the item's middle",
        front + item.length_m - pad.length_m / 2: "flush with the rear edge",
    }
    left = {
        middle + item.width_m / 2 - pad.width_m / 2: "flush with the left side",
        middle: "the item's centreline",
        middle - item.width_m / 2 + pad.width_m / 2: "flush with the right side",
    }
    for other, mount in enumerate(item.mount):
        if other != number:
            behind.setdefault(front + mount.behind_m, f"in a row with {mount.name}")
            left.setdefault(middle + mount.left_m, f"in line with {mount.name}")
            left.setdefault(middle - mount.left_m, f"opposite {mount.name}")
    return Catches(behind=behind, left=left)


def _catches_of_item(job: Job, number: int) -> Catches:
    """Return where an item is on the middle, at the roof's edge, or against another item."""
    item, vehicle = job.item[number], job.vehicle
    half, side = item.length_m / 2, item.width_m / 2
    behind = {half: "the roof's front edge", vehicle.roof_length_m - half: "the roof's rear edge"}
    left = {
        0.0: "the vehicle's centreline",
        vehicle.roof_width_m / 2 - side: "the roof's left edge",
        side - vehicle.roof_width_m / 2: "the roof's right edge",
    }
    for other, one in enumerate(job.item):
        if other != number:
            behind.setdefault(one.behind_roof_front_m - half, f"in front of {one.name}")
            behind.setdefault(one.behind_roof_front_m + one.length_m + half, f"behind {one.name}")
            left.setdefault(one.left_of_centre_m or 0.0, f"in line with {one.name}")
    return Catches(behind=behind, left=left)


def length_text(value_m: float, typed: str, system: str) -> str:
    """Return a length as a person would type it, in the unit typed before, to a millimetre or a sixteenth of an inch.

    Examples
    --------
    >>> length_text(0.1234, "100 mm", "metric"), length_text(1.1054, "1.1 m", "metric")
    ('123 mm', '1.105 m')
    >>> length_text(0.1, "4 in", "metric"), length_text(-0.3, "", "us")
    ('3 15/16 in', '-11 13/16 in')
    """
    if _IN_INCHES.search(typed) or (not typed and system == "us"):
        sixteenths = round(abs(value_m) / SIXTEENTH_m)
        whole, part = divmod(sixteenths, 16)
        size = 16
        while part and part % 2 == 0:
            part, size = part // 2, size // 2
        told = " ".join([str(whole)] * bool(whole or not part) + [f"{part}/{size}"] * bool(part))
        return f"{'-' if value_m < 0 and sixteenths else ''}{told} in"
    millimetres = round(value_m / MILLIMETRE_m)
    if _IN_METRES.match(typed):
        return f"{millimetres * MILLIMETRE_m:.3f} m"
    return f"{millimetres} mm"


def _numbers(place: str) -> tuple[int | None, int | None, int | None]:
    """Return the indices from 0 of item, mount and fixture that a dotted key names."""
    found = _PLACE.fullmatch(place)
    if found is None:
        raise ValueError(f"{place!r} is no item, mount or fixture")
    return tuple(None if part is None else int(part) - 1 for part in found.groups())  # type: ignore[return-value]


def _own(job: Job, place: str, spot: Spot) -> Spot:
    """Return a spot of the roof in the axes in which the thing's own place is given."""
    item, mount, _ = _numbers(place)
    if item is None:
        return spot
    whole = job.item[item]
    if mount is None:
        return Spot(behind_m=spot.behind_m - whole.length_m / 2, left_m=spot.left_m)
    return Spot(
        behind_m=spot.behind_m - whole.behind_roof_front_m,
        left_m=spot.left_m - (whole.left_of_centre_m or 0.0),
    )


def _named(after: str, spot: Spot) -> dict[str, float]:
    return {f"behind_{after}_m": spot.behind_m, "left_of_centre_m": spot.left_m}
