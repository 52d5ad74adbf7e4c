"""What happened, into the logbook: coupons from a file, tests while they hang, lists and exports.

Each use case reads the whole logbook, decides and writes in one transaction. The present moment comes from
the door.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from staydown.evidence.build_coupons import (
    COUPON,
    HANG_END,
    HANG_LOOK,
    HANG_START,
    RecordedCoupon,
    build_coupons,
    coupon_body,
    last_seen_s,
)
from staydown.evidence.check_coupons import (
    CouponRow,
    SortedRows,
    check_bonds,
    check_names,
    check_row,
    mistaken,
    sort_rows,
)
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.foundation.errors import BadInput, LogbookError
from staydown.foundation.findings import Finding
from staydown.foundation.quantities import lasting
from staydown.job.records import Job
from staydown.storage.logbook import CLOCK, Entry, Logbook, moment_of, stamp_of
from staydown.storage.logbook_head import Head
from staydown.storage.read_cards import read_cards
from staydown.storage.read_coupons import CouponFile, look_at_coupon_file, read_cells
from staydown.storage.read_job import read_job
from staydown.storage.write_export import blank_csv, coupons_csv, logbook_json
from staydown.storage.write_whole import write_whole

How = Literal["fell", "found", "holding", "spoiled"]  # seen falling, found fallen, taken down, went wrong

UNKNOWN_NAMES = "--unknown-names"  # the option of the commands that write a coupon down
CLOCKS_AGREE_s = 60.0  # a time given to the minute may lie this far ahead of now


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """When something was seen: now, at an earlier moment, or after it had hung for a time that was measured.

    clock_corrected: this computer's clock was set back since the last entry, and is right now.
    """

    now: datetime
    at: datetime | None = None
    lasted_s: float | None = None
    clock_corrected: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponsRecorded:
    """What `record_coupons` did: names written, known already, corrected; and its doubts."""

    recorded: tuple[str, ...]
    already: tuple[str, ...]
    superseded: tuple[str, ...]
    warnings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Records:
    """What the logbook holds: its coupons, all its entries, its head."""

    coupons: tuple[RecordedCoupon, ...]
    events: tuple[Event, ...]
    head: Head


def record_coupons(
    folder: Path, file: Path, seen: Seen, *, supersede: bool = False, unknown_names: bool = False
) -> CouponsRecorded:
    """Write the coupons of a CSV file: all rows, or none.

    Parameters
    ----------
    supersede : bool
        Rows that differ from an entry of the same name correct it; both are kept.
    unknown_names : bool
        A tape that the job does not have, or a surface that no card has, is meant; it is a doubt then.

    Raises
    ------
    BadInput
        With every finding of the file.
    """
    rows, findings = look_at_coupon_file(file, today=seen.now.date())
    if any(finding.grade == "error" for finding in findings):
        beside = _wrong_beside(folder, rows, findings, supersede=supersede, unknown_names=unknown_names)
        raise BadInput(_by_line([*findings, *beside]))
    read = CouponFile(rows=rows, warnings=findings)
    return record_rows(folder, read, seen, supersede=supersede, unknown_names=unknown_names)


def _wrong_beside(
    folder: Path,
    rows: Sequence[CouponRow],
    findings: Sequence[Finding],
    *,
    supersede: bool,
    unknown_names: bool,
) -> list[Finding]:
    """Return what is wrong with the names of a file that has other mistakes, and with its sound rows in the logbook."""
    try:
        records = build_coupons(Logbook.read(folder).events())
    except LogbookError as error:
        return [_wrong("logbook", "", str(error), "`record list` says more")]
    unsound = mistaken(rows, findings)
    lines = {row.line for row in unsound}
    sorted_rows = sort_rows([row for row in rows if row.line not in lines], records, supersede=supersede)
    known = {record.name: record.coupon for record in records}
    # of a row with a mistake the logbook may hold the same: then its names were meant
    same = [row for row in unsound if _same_names(row, known.get(row.coupon.name))]
    told = _all_but(rows, (*same, *sorted_rows.already))
    doubts = names_doubted(folder, told, unknown_names=unknown_names)
    return [*sorted_rows.findings, *(one for one in doubts if one.grade == "error")]


def _same_names(row: CouponRow, coupon: Coupon | None) -> bool:
    one = row.coupon
    return coupon is not None and (one.tape, one.surface) == (coupon.tape, coupon.surface)


def _all_but(rows: Sequence[CouponRow], others: Sequence[CouponRow]) -> list[CouponRow]:
    lines = {row.line for row in others}
    return [row for row in rows if row.line not in lines]


def _by_line(findings: Sequence[Finding]) -> list[Finding]:
    return sorted(findings, key=lambda one: one.line or 0)


def record_rows(
    folder: Path,
    read: CouponFile,
    seen: Seen,
    *,
    supersede: bool = False,
    unknown_names: bool = False,
    agreed: SortedRows | None = None,
) -> CouponsRecorded:
    """Write the rows of a file that was read: all, or none.

    agreed: how a person was shown them, sorted against the logbook; where they are sorted otherwise now nothing is
    written.

    Raises
    ------
    BadInput
        A row differs from the logbook and is not to correct it, names a tape or surface that nothing has, or the
        logbook has changed since they were shown.
    """
    sorted_rows = SortedRows(new=(), already=(), corrections=(), findings=())
    doubts: tuple[Finding, ...] = ()

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        nonlocal sorted_rows, doubts
        records = build_coupons(events)
        sorted_rows = sort_rows(read.rows, records, supersede=supersede)
        if agreed is not None and _names_of(sorted_rows) != _names_of(agreed):
            rule = "the logbook has changed since these rows were looked at"
            raise BadInput([_wrong("file", read.rows[0].file, rule, "look at them again")])
        rows = (*sorted_rows.new, *sorted_rows.corrections)
        told = _all_but(read.rows, sorted_rows.already)
        doubts = names_doubted(folder, told, unknown_names=unknown_names)
        wrong = (*sorted_rows.findings, *(finding for finding in doubts if finding.grade == "error"))
        if wrong:
            raise BadInput(_by_line([*read.warnings, *wrong]))
        known = {record.name: record.seq for record in records}
        return [(COUPON, _row_body(row, known.get(row.coupon.name))) for row in rows]

    Logbook.open(folder).append_decided(decide, seen.now, clock_corrected=seen.clock_corrected)
    return CouponsRecorded(
        recorded=_names(sorted_rows.new),
        already=_names(sorted_rows.already),
        superseded=_names(sorted_rows.corrections),
        warnings=(*read.warnings, *doubts),
    )


def names_doubted(
    folder: Path, rows: Sequence[CouponRow], *, unknown_names: bool = False
) -> tuple[Finding, ...]:
    """Return what is wrong with the tapes and surfaces of some rows; a doubt where unknown ones are meant."""
    cards = read_cards()
    job = read_job(folder, cards).job
    # none where there is no job yet, or it has mistakes of its own
    tapes = () if job is None else tuple(tape.name for tape in job.tape)
    bonds = () if job is None else bonds_of(job)
    known = [row for row in rows if row.coupon.surface in cards.surfaces]
    idle = check_bonds(known, bonds)
    if unknown_names:
        return (*check_names(rows, tapes, cards.surfaces, "warning"), *idle)
    found = check_names(rows, tapes, cards.surfaces)
    return (
        *(
            replace(
                one,
                hint=f"{one.hint}{'' if one.hint.endswith('?') else '.'} {UNKNOWN_NAMES} records it as it is",
            )
            for one in found
        ),
        *idle,
    )


def bonds_of(job: Job) -> tuple[tuple[str, str], ...]:
    """Return tape and surface of each item of a job, each pair once."""
    return tuple(dict.fromkeys((item.tape, item.surface or job.vehicle.surface) for item in job.item))


def start_hang(
    folder: Path, cells: Mapping[str, str], seen: Seen, *, unknown_names: bool = False
) -> RecordedCoupon:
    """Write down that a coupon has been hung; `cells` as in the CSV, without result, lasted and found.

    unknown_names: as for `record_coupons`.

    Raises
    ------
    BadInput
        With every finding about the cells; or the name is taken.
    """
    row, findings = _hung(folder, cells, seen, unknown_names=unknown_names)
    when = seen.at or seen.now
    if any(finding.grade == "error" for finding in findings):
        raise BadInput([*findings, *name_taken(row, Logbook.read(folder).events())])
    coupon = {
        key: value for key, value in coupon_body(row.coupon).items() if key not in ("result", "lasted_s")
    }
    typed = {column: text for column, text in row.typed.items() if column not in ("result", "lasted")}

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        taken = name_taken(row, events)
        if taken:
            raise BadInput(taken)
        return [(HANG_START, {"coupon": coupon, "typed": typed, "when": stamp_of(when)})]

    return _append(folder, decide, seen)[row.coupon.name]


def name_taken(row: CouponRow, events: Sequence[Event]) -> list[Finding]:
    """Return that the logbook has a coupon of that name already, if it has."""
    if not any(record.name == row.coupon.name for record in build_coupons(events)):
        return []
    return [row.finding("name", "the logbook has a coupon of that name", "give this one a name of its own")]


def hang_doubts(
    folder: Path, cells: Mapping[str, str], seen: Seen, *, unknown_names: bool = False
) -> tuple[Finding, ...]:
    """Return what is doubtful about a coupon that can be hung; arguments as for `start_hang`."""
    found = _hung(folder, cells, seen, unknown_names=unknown_names)[1]
    return tuple(finding for finding in found if finding.grade == "warning")


def _hung(
    folder: Path, cells: Mapping[str, str], seen: Seen, *, unknown_names: bool
) -> tuple[CouponRow, list[Finding]]:
    row, findings = read_cells({**cells, "result": "holding", "lasted": "1 s"}, "command line", None)
    when = seen.at or seen.now
    return row, [
        *findings,
        *check_row(row, when.date()),
        *names_doubted(folder, [row], unknown_names=unknown_names),
        *_not_in_the_future(when, seen.now),
    ]


def look_hang(folder: Path, name: str | None, seen: Seen) -> tuple[RecordedCoupon, ...]:
    """Write down that a coupon was seen hanging, or that all were (`name` None); they held until then.

    Raises
    ------
    BadInput
        It does not hang, or the time cannot be.
    """
    looked: list[str] = []

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        records = {record.name: record for record in build_coupons(events) if record.hanging}
        looked[:] = [name] if name is not None else list(records)
        if not looked:
            raise BadInput([_wrong("NAME", "", "nothing hangs", "`record hang start` begins a test")])
        return [
            (HANG_LOOK, {"name": one, **_time_of(_hanging(records, one, events), seen, events)})
            for one in looked
        ]

    records = _append(folder, decide, seen)
    return tuple(records[one] for one in looked)


def end_hang(
    folder: Path, name: str, how: How, seen: Seen, *, failure_pattern: str | None = None, note: str = ""
) -> RecordedCoupon:
    """Write down how a hanging test ended; one found fallen fell between the last look and the finding.

    Raises
    ------
    BadInput
        It does not hang, the time cannot be, or it was spoiled without a reason.
    """
    wrong = []
    if how == "spoiled" and not note.strip():
        wrong.append(_wrong("--spoiled", "", "needs its reason", "what went wrong"))

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        records = {record.name: record for record in build_coupons(events)}
        try:
            time = _time_of(_hanging(records, name, events), seen, events)
        except BadInput as error:
            raise BadInput([*wrong, *error.findings]) from None
        if wrong:
            raise BadInput(wrong)
        body = {"name": name, "result": how, **time}
        if failure_pattern:
            body["failure_pattern"] = failure_pattern
        if note.strip():
            body["note"] = note.strip()
        return [(HANG_END, body)]

    return _append(folder, decide, seen)[name]


def list_records(folder: Path) -> Records:
    """Return what the logbook holds, after checking all of it."""
    book = Logbook.read(folder)
    head = book.verify()
    events = book.events()
    return Records(coupons=build_coupons(events), events=events, head=head)


def export_records(folder: Path, out: Path) -> tuple[Path, ...]:
    """Write `coupons.csv`, which `record coupons` reads again, and `logbook.json` with every entry."""
    records = list_records(folder)
    files = (out / "coupons.csv", out / "logbook.json")
    for file, text in zip(files, (coupons_csv(records.coupons), logbook_json(records.events)), strict=True):
        write_whole(file, text.encode("utf-8"))
    return files


def blank_coupons(folder: Path) -> str:
    """Return an empty coupon file for a job: its columns, and a row for each tape and surface that its items are on.

    Raises
    ------
    BadInput
        The job has mistakes, or there is none.
    """
    reading = read_job(folder, read_cards())
    if reading.job is None:
        raise BadInput([finding for finding in reading.findings if finding.grade == "error"])
    return blank_csv(bonds_of(reading.job))


def mend_logbook(folder: Path, note: str, now: datetime) -> Event | None:
    """Accept that the logbook's last entries are lost, and write that down; None where nothing is lost."""
    return Logbook(folder=folder, writable=True).mend(note, now)


def _append(folder: Path, decide: Any, seen: Seen) -> dict[str, RecordedCoupon]:
    book = Logbook.open(folder)
    book.append_decided(decide, seen.now, clock_corrected=seen.clock_corrected)
    return {record.name: record for record in build_coupons(book.events())}


def _row_body(row: CouponRow, supersedes: int | None) -> dict[str, Any]:
    body: dict[str, Any] = {"coupon": coupon_body(row.coupon), "typed": dict(row.typed)}
    body["file"] = Path(row.file).name
    if row.line is not None:
        body["line"] = row.line
    if supersedes is not None:
        body["supersedes"] = supersedes
    return body


def _names(rows: Sequence[CouponRow]) -> tuple[str, ...]:
    return tuple(row.coupon.name for row in rows)


def _names_of(rows: SortedRows) -> tuple[tuple[str, ...], ...]:
    return _names(rows.new), _names(rows.already), _names(rows.corrections)


def _wrong(key: str, value: str, rule: str, hint: str) -> Finding:
    return Finding(file="command line", line=None, key=key, value=value, rule=rule, hint=hint)


def _hanging(records: Mapping[str, RecordedCoupon], name: str, events: Sequence[Event]) -> RecordedCoupon:
    record = records.get(name)
    if record is not None and record.hanging:
        return record
    known = {one.name for one in build_coupons(events)}
    hanging = ", ".join(one.name for one in build_coupons(events) if one.hanging) or "nothing"
    rule = "does not hang any more" if name in known else "no coupon of that name hangs"
    raise BadInput([_wrong("NAME", name, rule, f"what hangs: {hanging}")])


def _not_in_the_future(when: datetime, now: datetime) -> list[Finding]:
    if (when - now).total_seconds() <= CLOCKS_AGREE_s:
        return []
    return [_wrong("--at", stamp_of(when), "lies in the future", f"now it is {stamp_of(now)}")]


def _time_of(record: RecordedCoupon, seen: Seen, events: Sequence[Event]) -> dict[str, Any]:
    """Return when it was seen and how long it had hung by then, or raise what cannot be."""
    started = moment_of(record.started)
    corrected = (
        any(event.kind == CLOCK and event.seq > record.seq for event in events) or seen.clock_corrected
    )
    when = seen.at or seen.now
    wrong = _not_in_the_future(when, seen.now)
    hung_s = (moment_of(stamp_of(when)) - started).total_seconds()
    lasted_s = hung_s if seen.lasted_s is None else seen.lasted_s
    if seen.lasted_s is None and corrected:
        hint = "give --lasted, how long it has hung by another watch"
        wrong.append(_wrong("clock", "", "this clock was set back since the coupon was hung", hint))
    elif not corrected and lasted_s > hung_s + CLOCKS_AGREE_s:
        rule = f"it was hung only {lasting(hung_s)} ago ({record.started})"
        wrong.append(_wrong("--lasted", lasting(lasted_s), rule, "how long it has hung"))
    elif lasted_s <= last_seen_s(record):
        before = f"it was seen holding after {lasting(last_seen_s(record))} already"
        wrong.append(_wrong("--at", stamp_of(when), before, f"it was hung at {record.started}"))
    if wrong:
        raise BadInput(wrong)
    return {"when": stamp_of(when), "lasted_s": lasted_s}
