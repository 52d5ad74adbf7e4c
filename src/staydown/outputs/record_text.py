"""What the logbook holds, as text and as JSON."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from staydown.evidence.build_coupons import RecordedCoupon, coupon_body
from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, HAPPENING, INSPECTION, KINDS
from staydown.foundation.counted import counted
from staydown.foundation.quantities import lasting, shown
from staydown.outputs.columns import clean

HEADS = ("name", "tape", "surface", "mode", "result", "stress", "lasted", "at", "note")


def records_text(coupons: Sequence[RecordedCoupon], events: Sequence[Event], head_hash: str) -> str:
    """Return a table of the coupons, what hangs, what was corrected, and the state of the logbook."""
    if not events:
        return "The logbook is empty.\n"
    lines = _table([HEADS, *(_row(record) for record in coupons if record.coupon is not None)])
    hanging = [hanging_text(record) for record in coupons if record.hanging]
    corrected = [
        f"{record.name}: entry {record.seq} corrects {_words(record.earlier)}"
        for record in coupons
        if record.earlier
    ]
    kinds = Counter(event.kind for event in events)
    told = ", ".join(f"{count} {kind}" for kind, count in sorted(kinds.items()))
    state = f"{counted(len(events), 'entry', 'entries')} ({told}); all there and as written. Head {head_hash[:16]}."
    told_of = [line for event in events if (line := happened_text(event))]
    return "\n".join([*(lines if len(lines) > 1 else []), *hanging, *corrected, *told_of, state]) + "\n"


def happened_text(event: Event) -> str:
    """Return one line about an entry on bonding, looking or a happening, with its row; empty for other entries."""
    body = event.body
    if event.kind not in KINDS:
        return ""
    what = {BONDING: "bonded", INSPECTION: "looked at", HAPPENING: body.get("what", "")}[event.kind]
    where = clean(body.get("item", "")) or "the whole roof"
    feet = f": {clean(', '.join(body['feet']))}" if body.get("feet") else ""
    corrects = f", corrects row {body['supersedes']}" if "supersedes" in body else ""
    against = f", past a STOP ({clean(body['going_on'])})" if body.get("against") else ""
    return f"row {event.seq}: {where} {what}{feet}, {_moment(body['when'])}{against}{corrects}"


def hanging_text(record: RecordedCoupon) -> str:
    """Return one sentence about a coupon that hangs: what it counts as, and since when."""
    since = f"{record.name} hangs since {_moment(record.started)}"
    if record.coupon is None:
        return f"{since}; until somebody looks it counts for nothing."
    held = lasting(record.coupon.lasted_s)
    return (
        f"{since}; seen {_moment(record.seen)}: it counts as holding for {held}, "
        "and for more after the next look."
    )


def ended_text(record: RecordedCoupon) -> str:
    """Return one sentence about how a test ended."""
    coupon = record.coupon
    if coupon is None:
        return hanging_text(record)
    if coupon.found_s is not None:
        between = f"between {lasting(coupon.found_s)} and {lasting(coupon.lasted_s)}"
        return f"{record.name} fell {between}: between the last look and the finding."
    after = f"after {lasting(coupon.lasted_s)}"
    if coupon.result == "spoiled":
        return f"{record.name} was spoiled {after} ({coupon.note}): kept and shown, never counted."
    return f"{record.name} {'fell' if coupon.result == 'fell' else 'was taken down, still holding,'} {after}."


def record_json(record: RecordedCoupon) -> dict[str, Any]:
    """Return one coupon in SI, with the entries that it stands on."""
    return {
        "name": record.name,
        "hanging": record.hanging,
        "started": record.started or None,
        "seen": record.seen or None,
        "entry": record.seq,
        "supersedes": list(record.earlier),
        "coupon": None if record.coupon is None else coupon_body(record.coupon),
    }


def _row(record: RecordedCoupon) -> tuple[str, ...]:
    coupon = record.coupon
    if coupon is None:
        return (record.name, *("",) * (len(HEADS) - 1))
    if coupon.stress_Pa is not None:
        load = shown(coupon.stress_Pa, "Pa")
    else:
        load = "" if coupon.line_load_N_per_m is None else shown(coupon.line_load_N_per_m, "N/m")
    between = "" if coupon.found_s is None else f"{lasting(coupon.found_s)} to "
    return (
        coupon.name,
        coupon.tape,
        coupon.surface,
        coupon.mode,
        "hanging" if record.hanging else coupon.result,
        load,
        between + lasting(coupon.lasted_s),
        shown(coupon.temperature_K, "K"),
        coupon.note,
    )


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    ]


def _moment(stamp: str) -> str:
    return stamp.replace("T", " ").removesuffix("Z") + " UTC"


def _words(entries: Sequence[int]) -> str:
    return ("entry " if len(entries) == 1 else "entries ") + ", ".join(str(entry) for entry in entries)
