"""One coupon at a time, as a form gives it: a finished test, or the reason why a recorded one counts for nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from staydown.evidence.build_coupons import COUPON, RecordedCoupon, build_coupons, coupon_body
from staydown.evidence.check_coupons import check_row
from staydown.evidence.event import Event
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.logbook import Entry, Logbook
from staydown.storage.read_coupons import read_cells
from staydown.workbench.record import Seen, name_taken, names_doubted

WHERE = "form"


def record_coupon(folder: Path, cells: Mapping[str, str], seen: Seen) -> RecordedCoupon:
    """Write down a finished test; `cells` by the columns of the coupon file.

    Raises
    ------
    BadInput
        With every finding about the cells; or the name is taken.
    """
    row, findings = read_cells(cells, WHERE, None)
    findings = [*findings, *check_row(row, seen.now.date()), *names_doubted(folder, [row])]
    if any(finding.grade == "error" for finding in findings):
        taken = name_taken(row, Logbook.read(folder).events())
        raise BadInput([*(finding for finding in findings if finding.grade == "error"), *taken])

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        taken = name_taken(row, events)
        if taken:
            raise BadInput(taken)
        return [(COUPON, {"coupon": coupon_body(row.coupon), "typed": dict(row.typed)})]

    return _written(folder, decide, seen)[row.coupon.name]


def spoil_coupon(folder: Path, name: str, reason: str, seen: Seen) -> RecordedCoupon:
    """Write down that a recorded test went wrong: it is kept and shown, and counts for nothing from now on.

    Raises
    ------
    BadInput
        There is no reason, no such coupon, or it hangs still.
    """
    if not reason.strip():
        raise BadInput([_wrong("note", "", "needs its reason", "what went wrong")])

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        records = {record.name: record for record in build_coupons(events)}
        record = records.get(name)
        if record is None or record.coupon is None or record.hanging:
            raise BadInput(
                [_wrong("name", name, "is no finished coupon of the logbook", "choose one of the list")]
            )
        spoiled = replace(
            record.coupon, result="spoiled", note=reason.strip(), failure_pattern=None, found_s=None
        )
        return [
            (
                COUPON,
                {"coupon": coupon_body(spoiled), "typed": {"note": reason.strip()}, "supersedes": record.seq},
            )
        ]

    return _written(folder, decide, seen)[name]


def _written(folder: Path, decide: object, seen: Seen) -> dict[str, RecordedCoupon]:
    book = Logbook.open(folder)
    book.append_decided(decide, seen.now, clock_corrected=seen.clock_corrected)  # type: ignore[arg-type]
    return {record.name: record for record in build_coupons(book.events())}


def _wrong(key: str, value: str, rule: str, hint: str) -> Finding:
    return Finding(file=WHERE, line=None, key=key, value=value, rule=rule, hint=hint)
