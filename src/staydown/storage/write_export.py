"""The logbook as files that other programs read: coupons as CSV, all entries as JSON."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence

from staydown.evidence.build_coupons import RecordedCoupon
from staydown.evidence.event import Event
from staydown.foundation.quantities import ZERO_CELSIUS_K, suffix_of
from staydown.storage.read_coupons import COLUMNS

LOGBOOK_FORMAT = "staydown-logbook-1"

# unit of a cell that nobody typed: what it is called, factor from SI, zero point in SI
_UNITS = {
    "N": ("N", 1.0, 0.0),
    "m2": ("mm^2", 1e6, 0.0),
    "m": ("mm", 1e3, 0.0),
    "s": ("s", 1.0, 0.0),
    "K": ("degC", 1.0, ZERO_CELSIUS_K),
}


def coupons_csv(records: Sequence[RecordedCoupon]) -> str:
    """Return coupons as the CSV that `record coupons` reads; as typed where they were typed.

    A coupon that hangs and that nobody has looked at proves nothing yet and is left out.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for record in records:
        if record.coupon is not None:
            writer.writerow([_cell(record, name) for name in COLUMNS])
    return out.getvalue()


def blank_csv(bonds: Sequence[tuple[str, str]]) -> str:
    """Return the columns, and for each tape and surface a row to fill in; nothing measured stands in it.

    It cannot be recorded as it is: result, load, time and temperature are missing.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for tape, surface in bonds:
        for mode in ("tension", "shear"):
            known = {"tape": tape, "surface": surface, "mode": mode}
            writer.writerow([known.get(name, "") for name in COLUMNS])
    return out.getvalue()


def logbook_json(events: Sequence[Event]) -> str:
    """Return all entries as JSON.

    To check the chain: hash = SHA-256 of the hash before it (32 zero bytes before the first), then time, kind
    and body on a line each, the body as JSON with sorted keys, without spaces, in ASCII.
    """
    entries = [
        {"seq": event.seq, "at": event.at, "kind": event.kind, "body": event.body, "hash": event.hash}
        for event in events
    ]
    whole = {"format": LOGBOOK_FORMAT, "rows": len(entries), "events": entries}
    return json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _cell(record: RecordedCoupon, name: str) -> str:
    if name in record.typed:
        return record.typed[name]
    column = COLUMNS[name]
    value = getattr(record.coupon, column.field)
    if value is None:
        return ""
    if not column.number:
        return str(value)
    unit, factor, zero = _UNITS[suffix_of(column.field)]
    return f"{(value - zero) * factor:.12g} {unit}"
