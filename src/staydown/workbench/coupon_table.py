"""A table of coupons that was handed in: looked at first, written down when somebody has seen what it would do."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from staydown.evidence.build_coupons import build_coupons
from staydown.evidence.check_coupons import CouponRow, SortedRows, differences, sort_rows
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.logbook import Logbook
from staydown.storage.read_coupons import CouponFile, look_at_coupons
from staydown.workbench.record import CouponsRecorded, Seen, names_doubted, record_rows

LARGEST_TABLE = 500_000  # bytes; a coupon is a line of some hundred
MOST_LINES = 2000
ENDINGS = (".csv", ".txt")
LONGEST_NAME = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """A row that would correct an entry of the logbook: the columns in which they differ; empty where it hangs."""

    row: CouponRow
    differs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponTable:
    """A table that was looked at. Nothing is written.

    findings: its mistakes, and beside them its doubts; with a mistake none of its rows can be recorded. read, sorted:
    its rows, and what would become of each; None where there is a mistake.
    """

    name: str
    findings: tuple[Finding, ...]
    read: CouponFile | None = None
    sorted: SortedRows | None = None
    corrections: tuple[Correction, ...] = ()

    @property
    def mistakes(self) -> tuple[Finding, ...]:
        """Return what must be mended before any row can be recorded."""
        return tuple(one for one in self.findings if one.grade == "error")

    @property
    def doubts(self) -> tuple[Finding, ...]:
        """Return what is asked about, and does not stop it."""
        return tuple(one for one in self.findings if one.grade == "warning")


def look_at_table(folder: Path, name: str, content: bytes, now: datetime) -> CouponTable:
    """Return what a table says and what recording it would do, checked as `record coupons` checks a file.

    Parameters
    ----------
    folder : Path
        The job's folder.
    name : str
        What the file was called; of it no more is taken than a plain name.
    content : bytes
        At most LARGEST_TABLE; what is larger is refused.
    now : datetime
        The present moment.

    Raises
    ------
    LogbookError
        The logbook cannot be trusted.
    """
    plain = plain_file_name(name)
    try:
        _check_kind(plain, content)
        all_rows, found = look_at_coupons(content, Path(plain), today=now.date())
    except BadInput as error:
        return CouponTable(name=plain, findings=tuple(error.findings))
    if any(one.grade == "error" for one in found):
        # what is doubtful of their names comes with the mistakes, not after them
        doubts = names_doubted(folder, all_rows, unknown_names=True)
        return CouponTable(
            name=plain, findings=tuple(sorted((*found, *doubts), key=lambda one: one.line or 0))
        )
    read = CouponFile(rows=all_rows, warnings=found)
    records = build_coupons(Logbook.read(folder).events())
    known = {record.name: record for record in records}
    rows = sort_rows(read.rows, records, supersede=True)
    corrections = []
    for row in rows.corrections:
        before = known[row.coupon.name].coupon
        differs = () if before is None else differences(before, row.coupon)
        corrections.append(Correction(row=row, differs=differs))
    return CouponTable(
        name=plain,
        # a name that nothing has is a doubt here: it is shown, and recorded when somebody says yes
        findings=(
            *read.warnings,
            *names_doubted(folder, (*rows.new, *rows.corrections), unknown_names=True),
        ),
        read=read,
        sorted=rows,
        corrections=tuple(corrections),
    )


def record_table(folder: Path, table: CouponTable, now: datetime) -> CouponsRecorded:
    """Write down a table as it was shown: all of its rows, or none.

    Raises
    ------
    BadInput
        It has mistakes, or the logbook has changed since it was looked at.
    LogbookError
        The logbook cannot be written.
    """
    if table.read is None or table.sorted is None:
        raise BadInput(table.mistakes)
    return record_rows(
        folder, table.read, Seen(now=now), supersede=True, unknown_names=True, agreed=table.sorted
    )


def _check_kind(name: str, content: bytes) -> None:
    found = []
    if not name.lower().endswith(ENDINGS):
        hint = "save the table as 'CSV UTF-8' with commas between the cells"
        found.append(_about(name, f"is no file that ends in {' or '.join(ENDINGS)}", hint))
    if len(content) > LARGEST_TABLE:
        found.append(_about(name, f"is larger than {LARGEST_TABLE // 1000} kB", "hand it in in parts"))
    elif content.count(b"\n") > MOST_LINES or content.count(b"\r") > MOST_LINES:
        found.append(_about(name, f"has more than {MOST_LINES} lines", "hand it in in parts"))
    if found:
        raise BadInput(found)


def plain_file_name(name: str) -> str:
    """Return a name without its folders and without letters that nobody sees."""
    last = name.replace("\\", "/").rpartition("/")[2]
    seen = "".join(letter for letter in last if letter.isprintable()).strip()
    return seen[-LONGEST_NAME:] or "table"


def _about(name: str, rule: str, hint: str) -> Finding:
    return Finding(file=name, line=None, key="file", value=name, rule=rule, hint=hint)
