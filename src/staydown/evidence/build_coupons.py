"""From the entries of the logbook to the coupons as they stand now."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any

from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.foundation.errors import LogbookTooNew

COUPON, HANG_START, HANG_LOOK, HANG_END = "coupon", "hang start", "hang look", "hang end"

# who hangs a coupon and writes it down has seen it hold for the shortest time that the logbook tells apart
FIRST_LOOK_s = 1.0

_FIELDS = tuple(item.name for item in fields(Coupon))


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedCoupon:
    """A coupon as the logbook tells it.

    coupon: None while it hangs and nobody has looked: zero time proves nothing.
    seq: the entry with its properties. earlier: the entries that it supersedes, oldest first.
    started, seen: when it was hung and when it was last looked at; empty for one recorded when done.
    typed: the cells as written, of those fields that no later entry replaced.
    """

    name: str
    coupon: Coupon | None
    hanging: bool
    seq: int
    started: str = ""
    seen: str = ""
    typed: Mapping[str, str] = field(default_factory=dict)
    earlier: tuple[int, ...] = ()


def coupon_body(coupon: Coupon) -> dict[str, Any]:
    """Return a coupon as a body of the logbook: its fields in SI, those without a value left out."""
    pairs = ((name, getattr(coupon, name)) for name in _FIELDS)
    return {name: value for name, value in pairs if value is not None and value != ""}


def coupon_of(event: Event) -> Coupon:
    """Return the coupon of a `coupon` or `hang start` entry; one just hung is holding since a moment.

    Raises
    ------
    LogbookTooNew
        The entry says something of the coupon that this version does not know.
    """
    said = event.body["coupon"]
    unknown = sorted(set(said) - set(_FIELDS))
    if unknown:
        raise LogbookTooNew(
            f"logbook.sqlite: row {event.seq} says {', '.join(unknown)} of a coupon: a newer version's"
        )
    left_out = {"area_m2": None, "result": "holding", "lasted_s": FIRST_LOOK_s}
    return Coupon(**(left_out | said))


def build_coupons(events: Sequence[Event]) -> tuple[RecordedCoupon, ...]:
    """Return the coupons in the order of their first entry, each as its last entries leave it.

    A coupon that hangs counts as holding until it was last *seen* hanging, not until now: nobody knows
    what it did since. One found fallen fell between that look and the finding.
    """
    records: dict[str, RecordedCoupon] = {}
    starts: dict[str, Coupon] = {}
    for event in events:
        if event.kind in (COUPON, HANG_START):
            coupon = coupon_of(event)
            hung = event.kind == HANG_START
            starts[coupon.name] = coupon
            before = records.get(coupon.name)
            records[coupon.name] = RecordedCoupon(
                name=coupon.name,
                coupon=None if hung else coupon,
                hanging=hung,
                seq=event.seq,
                started=event.body["when"] if hung else "",
                typed=event.body.get("typed", {}),
                earlier=() if before is None else (*before.earlier, before.seq),
            )
        elif event.kind in (HANG_LOOK, HANG_END):
            name = event.body["name"]
            records[name] = _after(records[name], starts[name], event)
    return tuple(records.values())


def last_seen_s(record: RecordedCoupon) -> float:
    """Return how long a hanging coupon was last seen to hold. [s]"""
    return FIRST_LOOK_s if record.coupon is None else record.coupon.lasted_s


def _after(record: RecordedCoupon, start: Coupon, event: Event) -> RecordedCoupon:
    """Return the record after somebody looked at it or ended it."""
    body = event.body
    how = body.get("result", "holding")
    coupon = replace(
        start,
        result="fell" if how == "found" else how,
        lasted_s=body["lasted_s"],
        found_s=last_seen_s(record) if how == "found" else None,
        failure_pattern=body.get("failure_pattern"),
        note="; ".join(note for note in (start.note, body.get("note", "")) if note),
    )
    typed = {column: text for column, text in record.typed.items() if column != "note"}
    return replace(record, coupon=coupon, hanging=event.kind == HANG_LOOK, seen=body["when"], typed=typed)
