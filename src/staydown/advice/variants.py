"""The catalogue of changes: each turns a job into the same job with one thing built or driven otherwise.

A change says what would be typed, and its job is made from exactly that text, so that the file reads back as it was
assessed. Steps go from small to large; nothing here knows whether a step helps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from staydown.foundation.quantities import key_of
from staydown.foundation.units import parse_quantity
from staydown.job.check_item import check_item, check_on_roof
from staydown.job.records import Item, Job, Mount, Rectangle

STEPS = 8  # of a change that can be made more or less of; common practice, no source
LARGEST_PAD = 2.0  # times the side as it is; common practice, no source
LEAST_GAP_m = 0.010  # less and a foot does not fit under it; common practice, no source
SLOWEST = {"metric": 40.0, "us": 25.0}  # km/h, mph; slower is no way to travel; common practice, no source
SPEED_UNIT = {"metric": "km/h", "us": "mph"}
SPEED_STEP = 5.0
FINEST = {"metric": ("mm", 1e-3, 1.0), "us": ("in", 0.0254, 1 / 16)}  # unit, metres, step
SHARES_OF_THE_WAY = (0.25, 0.5, 0.75)  # of the way from one row of mounts to the next

Typed = tuple[tuple[str, str | bool], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """One step of a change. what: in words, as an order. typed: dotted key and text; a key that ends in `.name` after
    a number that is not there yet begins a new table. job: what reading that text gives.
    """

    what: str
    typed: Typed
    job: Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """All steps of one change. steps: from small to large where `rising`, else ways to do it, none larger.

    effort: rank among the changes, 1 the least: our judgement, common practice, no source. loads: the change moves
    loads or temperatures, not only how they are shared. rule: how it is driven rather than how it is built.
    """

    name: str
    effort: int
    steps: tuple[Callable[[], Variant | None], ...]
    rising: bool = True
    loads: bool = True
    rule: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """One item of a job, counted from 1, in the units its owner reads, with its most used mount (index)."""

    job: Job
    number: int
    most_used: int

    @property
    def item(self) -> Item:
        """Return the item as it is."""
        return self.job.item[self.number - 1]

    @property
    def system(self) -> str:
        """Return "metric" or "us"."""
        return self.job.job.show

    def length(self, value_m: float, up: bool = False) -> tuple[str, float]:
        """Return a length as it would be typed, on the next finest step below (or above), and its value. [m]"""
        unit, metres, step = FINEST[self.system]
        count = value_m / metres / step
        whole = ceil(count - 1e-6) if up else floor(count + 1e-6)
        text = f"{whole * step:.6g} {unit}"
        return text, parse_quantity(text, "m")

    def with_item(self, what: str, typed: Sequence[tuple[str, str | bool]], item: Item) -> Variant | None:
        """Return the variant with another item, None where the item contradicts itself or lies off the roof."""
        place = f"item.{self.number}"
        remarks = (*check_item(item, place, self.job.tape), *check_on_roof(item, self.job.vehicle, place))
        if any(remark.grade == "error" for remark in remarks):
            return None
        items = tuple(item if n == self.number else one for n, one in enumerate(self.job.item, start=1))
        keys = tuple((f"{place}.{key}", text) for key, text in typed)
        return Variant(what=what, typed=keys, job=self.job.model_copy(update={"item": items}))


def families(bench: Bench) -> Iterator[Family]:
    """Yield every change that this item allows, the one of least effort first."""
    for family in (
        _levers(bench),
        _front_edge(bench),
        _gap(bench),
        _places(bench),
        _pads(bench),
        _more_mounts(bench),
        _shade(bench),
        _speed(bench),
    ):
        if family.steps:
            yield family


def _levers(bench: Bench) -> Family:
    """Bring the line of pull nearer to the middle of every pad."""
    levers = [_lever_of(mount) for mount in bench.item.mount]
    largest = max(abs(lever) for lever in levers)

    def at(most_m: float) -> Variant | None:
        text, limit_m = bench.length(most_m)
        typed: list[tuple[str, str | bool]] = []
        mounts = []
        for number, (mount, lever) in enumerate(zip(bench.item.mount, levers, strict=True), start=1):
            if abs(lever) <= limit_m:
                mounts.append(mount)
                continue
            signed = -limit_m if lever < 0.0 else limit_m
            typed.append((f"mount.{number}.lever", f"-{text}" if lever < 0.0 else text))
            mounts.append(mount.model_copy(update={"lever_m": signed}))
        what = f"bring the line of pull within {text} of the middle of every pad"
        return bench.with_item(what, typed, bench.item.model_copy(update={"mount": tuple(mounts)}))

    ends = dict.fromkeys(bench.length(largest * (STEPS - n) / STEPS)[1] for n in range(1, STEPS + 1))
    steps = tuple(_later(at, end) for end in ends if end < largest)
    return Family(name="lever", effort=1, steps=steps, loads=False)


def _lever_of(mount: Mount) -> float:
    """Return the lever as typed; one that nobody typed as the largest that is planned for: 0.3 of the longer side."""
    return 0.3 * max(mount.pad.length_m, mount.pad.width_m) if mount.lever_m is None else mount.lever_m


def _front_edge(bench: Bench) -> Family:
    """Put a ramp before an open front edge."""

    def deflected() -> Variant | None:
        item = bench.item.model_copy(update={"front_edge": "deflected"})
        return bench.with_item(
            "put a ramp before the front edge, so that the wind goes over it",
            [("front_edge", "deflected")],
            item,
        )

    steps = (deflected,) if bench.item.front_edge == "open" else ()
    return Family(name="front edge", effort=2, steps=steps, rising=False)


def _gap(bench: Bench) -> Family:
    """Set the item lower."""
    item = bench.item
    least = max(LEAST_GAP_m, *(mount.foot_thickness_m or 0.0 for mount in item.mount))

    def at(gap_m: float) -> Variant | None:
        text, value = bench.length(gap_m, up=True)
        return bench.with_item(
            f"set it lower: a gap of {text}", [("gap", text)], item.model_copy(update={"gap_m": value})
        )

    way = item.gap_m - least
    steps = tuple(_later(at, item.gap_m - way * n / STEPS) for n in range(1, STEPS + 1)) if way > 0 else ()
    return Family(name="gap", effort=3, steps=steps)


def _places(bench: Bench) -> Family:
    """Move the row of mounts beside the most used one towards it."""
    item = bench.item
    rows = sorted({mount.behind_m for mount in item.mount})
    here = rows.index(item.mount[bench.most_used].behind_m)

    def moved(row_m: float, to_m: float) -> Variant | None:
        text, value = bench.length(to_m)
        typed: list[tuple[str, str | bool]] = []
        mounts = []
        for number, mount in enumerate(item.mount, start=1):
            if mount.behind_m == row_m:
                typed.append((f"mount.{number}.behind", text))
                mount = mount.model_copy(update={"behind_m": value})
            mounts.append(mount)
        names = " and ".join(mount.name for mount in item.mount if mount.behind_m == row_m)
        what = f"move {names} to {text} behind the item's front edge"
        return bench.with_item(what, typed, item.model_copy(update={"mount": tuple(mounts)}))

    ways = [
        _later2(moved, rows[other], rows[other] + share * (rows[here] - rows[other]))
        for other in (here - 1, here + 1)
        if 0 <= other < len(rows)
        for share in SHARES_OF_THE_WAY
    ]
    return Family(name="places", effort=4, steps=tuple(ways), rising=False, loads=True)


def _pads(bench: Bench) -> Family:
    """Lengthen every pad on the side along which it is pried."""
    item = bench.item
    first = item.mount[bench.most_used]
    along = first.lever_direction != "across" if first.lever_m else True

    def at(factor: float) -> Variant | None:
        typed: list[tuple[str, str | bool]] = []
        mounts = []
        told = ""
        for number, mount in enumerate(item.mount, start=1):
            sides = [mount.pad.length_m, mount.pad.width_m]
            longer = 0 if along else 1
            texts = [bench.length(side, up=True) for side in sides]
            texts[longer] = bench.length(sides[longer] * factor, up=True)
            (length, length_m), (width, width_m) = texts
            typed.append((f"mount.{number}.pad", f"{length} x {width}"))
            if number - 1 == bench.most_used:
                told = f"{length} x {width}"
            pad = Rectangle(length_m=length_m, width_m=width_m)
            mounts.append(mount.model_copy(update={"pad": pad}))
        way = "along the vehicle" if along else "across the vehicle"
        what = f"lengthen every pad {way}: {told} (along x across)"
        return bench.with_item(what, typed, item.model_copy(update={"mount": tuple(mounts)}))

    steps = tuple(_later(at, 1.0 + (LARGEST_PAD - 1.0) * n / STEPS) for n in range(1, STEPS + 1))
    return Family(name="pads", effort=5, steps=steps)


def _more_mounts(bench: Bench) -> Family:
    """Add two mounts like the most used one, left and right, between two rows."""
    item = bench.item
    like = item.mount[bench.most_used]
    side_m = max(abs(mount.left_m) for mount in item.mount)
    rows = sorted({mount.behind_m for mount in item.mount})
    here = rows.index(like.behind_m)
    between = [(a + b) / 2 for a, b in pairwise(rows)] or [item.length_m / 2]
    between.sort(key=lambda place: abs(place - rows[here]))

    def added(behind_m: float) -> Variant | None:
        behind, _ = bench.length(behind_m)
        typed: list[tuple[str, str | bool]] = []
        mounts = list(item.mount)
        for side, sign in (("left", 1.0), ("right", -1.0)):
            number = len(mounts) + 1
            name = _free(f"added {side}", mounts)
            left, left_m = bench.length(side_m)
            # a lever typed with its side is mirrored with its foot
            mirror = (
                like.lever_side == "given" and like.lever_direction == "across" and like.left_m * sign < 0.0
            )
            texts = _texts(
                like, {"name": name, "behind": behind, "left": f"-{left}" if sign < 0 else left}, mirror
            )
            typed += [(f"mount.{number}.{key}", text) for key, text in texts.items()]
            mounts.append(_read(like, texts, sign * left_m))
        what = f"add two mounts like {like.name}, left and right, {behind} behind the item's front edge"
        return bench.with_item(what, typed, item.model_copy(update={"mount": tuple(mounts)}))

    return Family(
        name="two more mounts",
        effort=6,
        steps=tuple(_later(added, place) for place in between[:3]),
        rising=False,
    )


def _free(name: str, mounts: Sequence[Mount]) -> str:
    taken = {mount.name for mount in mounts}
    found, number = name, 2
    while found in taken:
        found, number = f"{name} {number}", number + 1
    return found


COPIED = ("lever_m", "foot_thickness_m", "engagement_m", "connection_height_m")


def _texts(like: Mount, own: dict[str, str], mirror: bool) -> dict[str, str | bool]:
    """Return what would be typed for a mount like another one; a screw beside the tape is not copied."""
    texts: dict[str, str | bool] = {**own}
    texts["pad"] = f"{_mm(like.pad.length_m)} x {_mm(like.pad.width_m)}"
    for field in COPIED:
        value = getattr(like, field)
        if value is not None:
            texts[key_of(field)] = _mm(-value if mirror and field == "lever_m" else value)
    for field in ("lever_direction", "lever_side", "foot_material", "under", "slotted"):
        value = getattr(like, field)
        if value is not None:
            texts[field] = value
    if like.fastener is not None:
        texts["fastener"] = like.fastener.text
    return texts


def _read(like: Mount, texts: dict[str, str | bool], left_m: float) -> Mount:
    """Return the mount that reading these texts gives."""
    length, width = str(texts["pad"]).split(" x ")
    pad = Rectangle(length_m=parse_quantity(length, "m"), width_m=parse_quantity(width, "m"))
    lengths = {
        field: parse_quantity(str(texts[key_of(field)]), "m") for field in COPIED if key_of(field) in texts
    }
    return like.model_copy(
        update={
            "name": texts["name"],
            "behind_m": parse_quantity(str(texts["behind"]), "m"),
            "left_m": left_m,
            "pad": pad,
            "also_screw": None,
            "sheet_thickness_m": None,
            "fit_gap_m": None,
            **lengths,
        }
    )


def _mm(length_m: float) -> str:
    return f"{1e3 * length_m:.6g} mm"


def _shade(bench: Bench) -> Family:
    """Park nowhere but in the shade."""

    def shaded() -> Variant | None:
        travel = bench.job.travel.model_copy(update={"parked": "shade"})
        job = bench.job.model_copy(update={"travel": travel})
        return Variant(what="park only in the shade", typed=(("travel.parked", "shade"),), job=job)

    steps = () if bench.job.travel.parked == "shade" else (shaded,)
    return Family(name="shade", effort=7, steps=steps, rising=False, rule=True)


def _speed(bench: Bench) -> Family:
    """Drive no faster."""
    travel, unit = bench.job.travel, SPEED_UNIT[bench.system]
    one = parse_quantity(f"1 {unit}", "m_per_s")
    top = travel.top_speed_m_per_s / one

    def at(limit: float) -> Variant | None:
        text = f"{limit:g} {unit}"
        value = parse_quantity(text, "m_per_s")
        typed: list[tuple[str, str | bool]] = [("travel.top_speed", text)]
        changed = {"top_speed_m_per_s": value}
        if travel.cruise_speed_m_per_s > value:
            typed.append(("travel.cruise_speed", text))
            changed["cruise_speed_m_per_s"] = value
        job = bench.job.model_copy(update={"travel": travel.model_copy(update=changed)})
        return Variant(what=f"drive no faster than {text}", typed=tuple(typed), job=job)

    first = SPEED_STEP * ceil(top / SPEED_STEP - 1.0 - 1e-9)
    count = int((first - SLOWEST[bench.system]) / SPEED_STEP) + 1
    steps = tuple(_later(at, first - SPEED_STEP * n) for n in range(max(count, 0)))
    return Family(name="speed limit", effort=8, steps=steps, rule=True)


def _later(make: Callable[[float], Variant | None], value: float) -> Callable[[], Variant | None]:
    return lambda: make(value)


def _later2(
    make: Callable[[float, float], Variant | None], first: float, second: float
) -> Callable[[], Variant | None]:
    return lambda: make(first, second)
