"""What of a job lies over something that is on the roof already.

A value that could not be read is nan, or an empty word; what needs it is not said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from staydown.foundation.units import reads_as
from staydown.job.records import Fixture, Item, Vehicle
from staydown.job.remark import Remark

Span = tuple[float, float]


def check_fixtures(item: Item, vehicle: Vehicle, place: str) -> Iterator[Remark]:
    """Yield a doubt for each pad, and for each item, that lies over what is on the roof."""
    for place_on_roof, fixture in enumerate(vehicle.on_roof, 1):
        name = fixture.name or f"on_roof.{place_on_roof}"
        along, across = (
            _around(fixture.behind_front_m, fixture.length_m),
            _around(fixture.left_of_centre_m, fixture.width_m),
        )
        for number, mount in enumerate(item.mount, 1):
            x = item.behind_roof_front_m + mount.behind_m
            y = (item.left_of_centre_m or 0.0) + mount.left_m
            if _meet(along, _around(x, mount.pad.length_m)) and _meet(across, _around(y, mount.pad.width_m)):
                hint = f"move the mount off the {fixture.kind}" if fixture.kind else "move the mount"
                rule = f"its pad lies over {name}"
                yield Remark(key=f"{place}.mount.{number}.behind", rule=rule, hint=hint, grade="warning")
        front = (item.behind_roof_front_m, item.behind_roof_front_m + item.length_m)
        side = _around(item.left_of_centre_m or 0.0, item.width_m)
        if _meet(along, front) and _meet(across, side):
            yield from _under(item, fixture, name, place)


def _under(item: Item, fixture: Fixture, name: str, place: str) -> Iterator[Remark]:
    key = f"{place}.behind_roof_front"
    if not fixture.kind:
        return
    if fixture.kind == "hatch":
        hint = "a way out must open; move the item"
        yield Remark(key=key, rule=f"lies over {name}, which then cannot open", hint=hint, grade="warning")
    elif math.isfinite(item.gap_m) and (fixture.height_m is None or fixture.height_m > item.gap_m):
        gap = reads_as(item.gap_m, "m")
        tall = "" if fixture.height_m is None else f", {reads_as(fixture.height_m, 'm')} high"
        rule = f"lies over {name}{tall}, with a gap of {gap} under it"
        yield Remark(key=key, rule=rule, hint="does it clear it?", grade="warning")


def _around(middle: float, size: float) -> Span:
    return middle - size / 2, middle + size / 2


def _meet(one: Span, other: Span) -> bool:
    """Return whether two spans share more than a point; a span that could not be read meets nothing."""
    return all(map(math.isfinite, (*one, *other))) and min(one[1], other[1]) > max(one[0], other[0])
