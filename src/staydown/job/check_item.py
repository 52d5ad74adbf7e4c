"""What in an item contradicts itself: mounts outside it, pads on one another, heights that do not fit.

A value that could not be read is nan, or an empty word; what needs it is not said. Where it decides only how bad
something is, that is said as a doubt.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from staydown.foundation.units import reads_as
from staydown.job.check_tether import check_tethers
from staydown.job.records import Item, Mount, Tape, Vehicle
from staydown.job.remark import Remark

ROUNDING_m = 1e-3  # sizes measured with a tape, or in sixteenths of an inch, meet to a millimetre
TOUCHING_m = 1e-4  # pads side by side share an edge

# kg/m² with everything on it; common practice, no source
PANEL_MASS_PER_AREA = {"solar panel": (5.0, 20.0), "flexible panel": (1.5, 5.0)}


def check_item(item: Item, place: str, tapes: Sequence[Tape]) -> Iterator[Remark]:
    """Yield what contradicts or is doubtful within one item; tapes: of the job, the item's own among them."""
    tape_m = next((tape.thickness_m for tape in tapes if item.tape and tape.name == item.tape), 0.0)
    for number, mount in enumerate(item.mount, 1):
        key = f"{place}.mount.{number}"
        yield from _outside(mount, item, key)
        yield from _overlapping(number, item.mount, key)
        yield from _lever(mount, key)
        yield from _heights(mount, item, key)
        yield from _room(mount, item, tape_m, key)
        yield from _contact(mount, key)
    yield from check_tethers(item, place, tapes)
    if item.mount and all(mount.slotted for mount in item.mount):
        hint = "leave the slots out at one or two mounts; those hold it, the others let it grow"
        yield Remark(
            key=f"{place}.mount.1.slotted",
            rule="every mount is slotted: nothing holds it along the roof",
            hint=hint,
        )
    uplift = item.uplift_coefficient
    if uplift is not None and (uplift.low > uplift.likely or uplift.likely > uplift.high):
        rule = "low, likely and high are not in rising order"
        yield Remark(key=f"{place}.uplift_coefficient.likely", rule=rule, hint="low <= likely <= high")
    elif uplift is not None and math.isnan(uplift.likely) and uplift.low > uplift.high:
        rule = f"is above high, {uplift.high:g}"
        yield Remark(key=f"{place}.uplift_coefficient.low", rule=rule, hint="low <= likely <= high")
    band = PANEL_MASS_PER_AREA.get(item.kind or "")
    if band is not None:
        area_m2 = item.length_m * item.width_m  # 0 for sizes that are below the smallest float together
        per_area = item.mass_kg / area_m2 if area_m2 > 0.0 else math.nan
        if per_area < band[0] or per_area > band[1]:
            rule = f"is {per_area:.3g} kg per m² of {item.kind}; usual is {band[0]:g} to {band[1]:g}"
            yield Remark(key=f"{place}.mass", rule=rule, hint="are mass and sizes right?", grade="warning")


def check_on_roof(item: Item, vehicle: Vehicle, place: str) -> Iterator[Remark]:
    """Yield how far an item lies off the roof: an error where a pad or its middle does, else a doubt."""
    front, left = item.behind_roof_front_m, item.left_of_centre_m or 0.0
    half_width = vehicle.roof_width_m / 2
    sides = (
        (-front, "behind_roof_front", "front"),
        (front + item.length_m - vehicle.roof_length_m, "behind_roof_front", "rear"),
        (left + item.width_m / 2 - half_width, "left_of_centre", "left"),
        (item.width_m / 2 - left - half_width, "left_of_centre", "right"),
    )
    spots = [(front + item.length_m / 2, left, 0.0, 0.0)]
    spots += [
        (front + one.behind_m, left + one.left_m, one.pad.length_m / 2, one.pad.width_m / 2)
        for one in item.mount
    ]
    supported = not any(
        x - a < -ROUNDING_m
        or x + a > vehicle.roof_length_m + ROUNDING_m
        or abs(y) + b > half_width + ROUNDING_m
        for x, y, a, b in spots
    )
    for over, key, side in sides:
        if not over > ROUNDING_m:
            continue
        if item.left_of_centre_m is None and key == "left_of_centre":
            key = "width"
        reach = f"{reads_as(over, 'm')} past the {side} edge of the roof"
        if supported:
            hint = "what the wind does to an overhang is not computed; is the place right?"
            yield Remark(key=f"{place}.{key}", rule=f"the item reaches {reach}", hint=hint, grade="warning")
        else:
            hint = "a pad or the middle of the item has no roof under it"
            yield Remark(
                key=f"{place}.{key}", rule=f"the item lies off the roof: it reaches {reach}", hint=hint
            )


def check_item_pairs(items: Sequence[Item]) -> Iterator[Remark]:
    """Yield a doubt for each item that takes the room of an earlier one, in plan and in height.

    Only the first such item is named: of many items on one spot each is told once.
    """
    for number, item in enumerate(items, 1):
        for earlier, other in enumerate(items[: number - 1], 1):
            along = _shared(
                *_span(item.behind_roof_front_m, item.length_m),
                *_span(other.behind_roof_front_m, other.length_m),
            )
            across = _shared(*_across(item), *_across(other))
            up = _shared(*_span(item.gap_m, item.thickness_m), *_span(other.gap_m, other.thickness_m))
            if along > ROUNDING_m and across > ROUNDING_m and up > ROUNDING_m:
                hint = f"they share {_mm(along)} x {_mm(across)} of the roof at one height; is a place or a size wrong?"
                rule = f"takes the room of {_called('item', earlier, other.name)}"
                yield Remark(key=f"item.{number}.behind_roof_front", rule=rule, hint=hint, grade="warning")
                break


def _outside(mount: Mount, item: Item, key: str) -> Iterator[Remark]:
    """Yield where a pad does not even touch the item's outline."""
    reach = mount.pad.length_m / 2
    if mount.behind_m < -reach or mount.behind_m > item.length_m + reach:
        hint = "0 mm is the item's front edge"
        if not math.isnan(item.length_m):
            hint += f", {reads_as(item.length_m, 'm')} its rear edge"
        yield Remark(key=f"{key}.behind", rule="the mount lies outside the item", hint=hint)
    if abs(mount.left_m) > item.width_m / 2 + mount.pad.width_m / 2:
        hint = f"from the item's centreline its sides are {reads_as(item.width_m / 2, 'm')} to the left and right"
        yield Remark(key=f"{key}.left", rule="the mount lies outside the item", hint=hint)


def _overlapping(number: int, mounts: Sequence[Mount], key: str) -> Iterator[Remark]:
    """Yield the first earlier pad that lies partly where this one lies."""
    mount = mounts[number - 1]
    for earlier, other in enumerate(mounts[: number - 1], 1):
        along = _shared(
            *_around(mount.behind_m, mount.pad.length_m), *_around(other.behind_m, other.pad.length_m)
        )
        across = _shared(*_around(mount.left_m, mount.pad.width_m), *_around(other.left_m, other.pad.width_m))
        if along > TOUCHING_m and across > TOUCHING_m:
            rule = f"the pad overlaps the pad of {_called('mount', earlier, other.name)}"
            yield Remark(key=f"{key}.behind", rule=rule, hint=f"they share {_mm(along)} x {_mm(across)}")
            return


def _lever(mount: Mount, key: str) -> Iterator[Remark]:
    if mount.lever_m is None:
        if mount.lever_side == "given":
            hint = 'give the lever, positive forward or left, or write lever_side = "unknown"'
            yield Remark(
                key=f"{key}.lever_side", rule="there is no lever whose sign could say the side", hint=hint
            )
        return
    halves = {"along": mount.pad.length_m / 2, "across": mount.pad.width_m / 2}
    unread = mount.lever_direction not in (None, *halves)
    half = halves.get(mount.lever_direction or "", (max if unread else min)(halves.values()))
    if abs(mount.lever_m) > half:
        rule = f"the item pulls outside the pad, whose edge is {_mm(half)} from its centre"
        yield Remark(key=f"{key}.lever", rule=rule, hint="is the lever right?", grade="warning")


def _contact(mount: Mount, key: str) -> Iterator[Remark]:
    touching, pad = mount.contact, mount.pad
    if touching is None:
        return
    if touching.length_m <= 0.0 or touching.width_m <= 0.0:
        hint = "a foot that touches nowhere is no mount: take it out"
        yield Remark(key=f"{key}.contact", rule="nothing of the pad touches", hint=hint)
    if touching.length_m > pad.length_m + TOUCHING_m or touching.width_m > pad.width_m + TOUCHING_m:
        hint = "along the vehicle x across it, like the pad; at most its sides"
        yield Remark(key=f"{key}.contact", rule="more touches than there is of the pad", hint=hint)


def _heights(mount: Mount, item: Item, key: str) -> Iterator[Remark]:
    top = item.gap_m + item.thickness_m + _rise_m(item)
    if mount.connection_height_m is not None and mount.connection_height_m > top + ROUNDING_m:
        rule = "the connection lies above the item"
        hint = f"gap and thickness make {reads_as(top, 'm')}"
        yield Remark(key=f"{key}.connection_height", rule=rule, hint=hint)


def _room(mount: Mount, item: Item, tape_m: float, key: str) -> Iterator[Remark]:
    """Yield where a foot, or foot and tape, cannot stand between roof and item.

    An error where the item lies over the whole pad; a doubt where the foot may reach up beside or into the item, and
    under an item without a gap, which is its own foot.
    """
    foot_m, gap_m = mount.foot_thickness_m, item.gap_m
    if foot_m is None or math.isnan(foot_m):
        return
    if gap_m == 0.0:
        if math.isnan(item.thickness_m):
            return
        if foot_m > item.thickness_m:
            rule = f"the foot is thicker than the item of {_mm(item.thickness_m)} that lies flat on the roof"
            hint = "without a gap the item is its own foot: leave foot_thickness out, or give the gap"
            yield Remark(key=f"{key}.foot_thickness", rule=rule, hint=hint)
        else:
            rule = f"the foot is thicker than the gap of {_mm(gap_m)} it stands in"
            yield Remark(key=f"{key}.foot_thickness", rule=rule, hint="is the gap right?", grade="warning")
        return
    room_m = gap_m + _rise_m(item)
    if foot_m > room_m:
        rule = f"the foot is thicker than the gap of {_mm(room_m)} it stands in"
    elif foot_m + tape_m > room_m + ROUNDING_m:
        rule = (
            f"the foot and its tape of {_mm(tape_m)} are higher than the gap of {_mm(room_m)} they stand in"
        )
    else:
        return
    half_length, half_width = mount.pad.length_m / 2, mount.pad.width_m / 2
    inside = (
        mount.behind_m - half_length + ROUNDING_m,
        item.length_m - half_length + ROUNDING_m - mount.behind_m,
        item.width_m / 2 - half_width + ROUNDING_m - abs(mount.left_m),
    )
    beside = any(room < 0.0 for room in inside)
    into = mount.connection_height_m is not None and mount.connection_height_m >= foot_m
    unsure = any(math.isnan(one) for one in (*inside, mount.connection_height_m or 0.0))
    if beside or into:
        how = "reaches up beside the item" if beside else "is held above the item's underside"
        hint = f"it may, since it {how}; is the gap right?"
        yield Remark(key=f"{key}.foot_thickness", rule=rule, hint=hint, grade="warning")
    elif unsure:
        hint = "is the gap right?"
        yield Remark(key=f"{key}.foot_thickness", rule=rule, hint=hint, grade="warning")
    else:
        hint = "gap is from the roof to the item's underside, tape and foot included; are both right?"
        yield Remark(key=f"{key}.foot_thickness", rule=rule, hint=hint)


def _rise_m(item: Item) -> float:
    """Return how much higher one end of an item stands than the other; its length is not asked where it lies level."""
    return item.length_m * abs(math.sin(item.nose_up_rad)) if item.nose_up_rad else 0.0


def _called(what: str, number: int, name: str) -> str:
    """Return how one of several is called: by its name, or by its number where that could not be read."""
    named = "the item " if what == "item" else ""
    return f'{named}"{name}"' if name else f"{what} {number}"


def _span(start: float, size: float) -> tuple[float, float]:
    return start, start + size


def _around(middle: float, size: float) -> tuple[float, float]:
    return middle - size / 2, middle + size / 2


def _across(item: Item) -> tuple[float, float]:
    return _around(item.left_of_centre_m or 0.0, item.width_m)


def _shared(start: float, end: float, other_start: float, other_end: float) -> float:
    """Return the length that two spans share, not above 0 where they do not meet; nan where one is nan."""
    if math.isnan(start + end + other_start + other_end):
        return math.nan
    return min(end, other_end) - max(start, other_start)


def _mm(length_m: float) -> str:
    return f"{length_m * 1e3:.4g} mm"
