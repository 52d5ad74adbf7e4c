"""What contradicts itself in a coupon, what is impossible, what looks like a slip of the pen."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from math import inf, isclose

from staydown.evidence.build_coupons import RecordedCoupon
from staydown.evidence.coupon import Coupon
from staydown.foundation.findings import Finding, Grade
from staydown.foundation.nearest import nearest
from staydown.foundation.quantities import key_of, shown

# impossible outside (the band of test temperatures that a job's claims have too)
COLDEST_TEST_K, HOTTEST_TEST_K = 173.15, 573.15
LONGEST_LEVER_m = 0.5

# outside these a coupon is asked about, not refused: planning bands of the trade, no source
PLAUSIBLE_TEST_K = (233.15, 383.15)
PLAUSIBLE_STRESS_Pa = (5e3, 1.5e6)
PLAUSIBLE_LINE_LOAD_N_per_m = (500.0, 15e3)
LONGEST_PULL_s = 600.0
DAY_s = 86400.0

_ABOVE_ZERO = ("load_N", "area_m2", "lasted_s", "width_m", "foot_thickness_m", "found_s")
_SAME = 1e-9  # relative: two spellings of one value, such as 1 h and 60 min


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponRow:
    """A coupon as somebody wrote it: where, and what each cell said."""

    coupon: Coupon
    file: str
    line: int | None
    typed: Mapping[str, str] = field(default_factory=dict)

    def finding(self, column: str, rule: str, hint: str, grade: Grade = "error") -> Finding:
        """Return a finding about one cell of this row."""
        return Finding(
            file=self.file,
            line=self.line,
            key=column,
            value=self.typed.get(column, ""),
            rule=rule,
            hint=hint,
            grade=grade,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SortedRows:
    """Rows against the logbook: new ones, ones that it has already, ones that correct an entry of it."""

    new: tuple[CouponRow, ...]
    already: tuple[CouponRow, ...]
    corrections: tuple[CouponRow, ...]
    findings: tuple[Finding, ...]


def check_row(row: CouponRow, today: date) -> tuple[Finding, ...]:
    """Return the findings about one row. A number that is NaN could not be read and is left alone."""
    return (
        *_impossible(row),
        *_by_mode(row),
        *_by_result(row),
        *_made_on(row, today),
        *_doubtful(row),
    )


def _impossible(row: CouponRow) -> Iterator[Finding]:
    coupon = row.coupon
    for name in _ABOVE_ZERO:
        value = getattr(coupon, name)
        if value is not None and (value <= 0 or value == inf):
            hint = "seen holding only as it was hung: 1 s" if name == "found_s" else "as measured"
            yield row.finding(key_of(name), "must be above zero" if value <= 0 else "is infinite", hint)
    if coupon.dwell_s is not None and coupon.dwell_s < 0:
        yield row.finding("dwell", "must not be negative", "the time from pressing to loading")
    if coupon.lever_m is not None and (coupon.lever_m < 0 or coupon.lever_m > LONGEST_LEVER_m):
        yield row.finding("lever", "must be 0 to 500 mm", "pad centre to line of pull, without a sign")
    if coupon.temperature_K < COLDEST_TEST_K or coupon.temperature_K > HOTTEST_TEST_K:
        yield row.finding("temperature", "must be -100 to 300 degC", "the temperature of the bond")


def _by_mode(row: CouponRow) -> Iterator[Finding]:
    coupon = row.coupon
    if coupon.mode == "peel":
        if coupon.width_m is None:
            yield row.finding("width", "peel needs the width that peels", "such as 25 mm")
        if coupon.area_m2 is not None:
            yield row.finding(
                "area", "peel is load over width, not over area", "leave area empty, give width"
            )
    elif coupon.mode in ("tension", "shear", "cleavage"):
        if coupon.area_m2 is None:
            yield row.finding("area", f"{coupon.mode} needs the bonded area", "such as 25 mm x 25 mm")
        if coupon.width_m is not None:
            yield row.finding("width", f"{coupon.mode} is load over area, not width", "leave width empty")
    if coupon.mode == "cleavage" and coupon.lever_m is None:
        hint = "give lever and lever_direction, or it counts with its mean stress only"
        yield row.finding("lever", "cleavage without its lever", hint, "warning")
    if coupon.mode == "tension" and coupon.lever_m:
        yield row.finding("mode", "tension with a lever", "pulled off centre it is cleavage", "warning")


def _by_result(row: CouponRow) -> Iterator[Finding]:
    coupon = row.coupon
    if coupon.result == "spoiled" and not coupon.note.strip():
        yield row.finding("note", "spoiled needs its reason", "what went wrong; kept and never counted")
    if coupon.found_s is not None and coupon.result in ("broke", "holding", "spoiled"):
        yield row.finding("found", f"is for fell, not for {coupon.result}", "when it was last seen holding")
    elif coupon.result == "fell" and coupon.found_s is not None and coupon.found_s >= coupon.lasted_s:
        hint = "found: last seen holding; lasted: seen fallen"
        yield row.finding("found", "must be earlier than lasted", hint)
    if coupon.result == "holding" and coupon.failure_pattern is not None:
        hint = "a coupon that holds has not failed; leave it empty"
        yield row.finding("failure_pattern", "holding and failed", hint, "warning")
    if coupon.result == "broke" and coupon.lasted_s > LONGEST_PULL_s:
        hint = "broke: lasted is the time of the pull; a constant load that fell is `fell`"
        yield row.finding("lasted", "a pull of more than 10 min", hint, "warning")


def _made_on(row: CouponRow, today: date) -> Iterator[Finding]:
    said = row.coupon.made_on
    if said is None:
        return
    try:
        made = date.fromisoformat(said) if len(said) == len("2026-05-01") else None
    except ValueError:
        made = None
    if made is None:
        yield row.finding("made_on", "is not a date", "year-month-day, such as 2026-05-01")
    elif made > today:
        yield row.finding("made_on", f"lies in the future (today is {today})", "the day it was bonded")
    elif (row.coupon.dwell_s or 0.0) + row.coupon.lasted_s > ((today - made).days + 1) * DAY_s:
        rule = f"dwell and test are longer than the time since it was made ({said})"
        yield row.finding("lasted", rule, "check made_on, dwell and lasted")


def _doubtful(row: CouponRow) -> Iterator[Finding]:
    coupon = row.coupon
    checks = (
        ("load", "stress", coupon.stress_Pa if coupon.area_m2 else None, "Pa", PLAUSIBLE_STRESS_Pa),
        (
            "load",
            "line load",
            coupon.line_load_N_per_m if coupon.width_m else None,
            "N/m",
            PLAUSIBLE_LINE_LOAD_N_per_m,
        ),
        ("temperature", "temperature", coupon.temperature_K, "K", PLAUSIBLE_TEST_K),
    )
    for column, what, value, unit, (low, high) in checks:
        if value is not None and 0 < value < inf and not low <= value <= high:
            band = f"{shown(low, unit)} to {shown(high, unit)}"
            rule = f"a {what} of {shown(value, unit)} is unusual (planning band {band})"
            yield row.finding(column, rule, "check the units of this row", "warning")


def same_coupon(one: Coupon, other: Coupon) -> bool:
    """Return whether two coupons say the same, however their units were written."""
    return not differences(one, other)


def differences(one: Coupon, other: Coupon) -> tuple[str, ...]:
    """Return the columns in which two coupons differ."""
    return tuple(
        key_of(item.name)
        for item in fields(Coupon)
        if not _same_value(getattr(one, item.name), getattr(other, item.name))
    )


def _same_value(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=_SAME)
    return one == other


def mistaken(rows: Sequence[CouponRow], findings: Sequence[Finding]) -> tuple[CouponRow, ...]:
    """Return the rows of a file with a mistake in them, which say nothing as a whole."""
    lines = {finding.line for finding in findings if finding.grade == "error"}
    return tuple(row for row in rows if row.line in lines)


def find_duplicates(rows: Sequence[CouponRow], unsound: Collection[CouponRow] = ()) -> tuple[Finding, ...]:
    """Return a finding for each row whose name an earlier row of the same file has; unsound: as `mistaken` says."""
    unread = {id(row) for row in unsound}
    first: dict[str, CouponRow] = {}
    found = []
    for row in rows:
        name = row.coupon.name
        earlier = first.setdefault(name, row)
        if name and earlier is not row:
            same = ": the same row twice" if same_coupon(earlier.coupon, row.coupon) else ": another coupon"
            rule = f"line {earlier.line} has that name too{'' if {id(earlier), id(row)} & unread else same}"
            found.append(row.finding("name", rule, "each coupon has a name of its own; remove or rename one"))
    return tuple(found)


def check_names(
    rows: Sequence[CouponRow],
    tapes: Collection[str],
    surfaces: Collection[str],
    grade: Grade = "error",
) -> tuple[Finding, ...]:
    """Return a finding for each tape and surface that nothing else has the name of: it would count for nothing.

    An empty collection stands for "not known" and is not compared with. grade: `warning` where it is meant.
    """
    first: dict[tuple[str, str], CouponRow] = {}
    count: dict[tuple[str, str], int] = {}
    for row in rows:
        for column, name, known in (
            ("tape", row.coupon.tape, tapes),
            ("surface", row.coupon.surface, surfaces),
        ):
            if name and known and name not in known:
                first.setdefault((column, name), row)
                count[column, name] = count.get((column, name), 0) + 1
    found = []
    for (column, name), row in first.items():
        known, what = (tapes, "tape of the job") if column == "tape" else (surfaces, "surface card")
        near = nearest(name, known)
        hint = f"did you mean {near}?" if near else f"there are {', '.join(sorted(known))}"
        more = count[column, name] - 1
        also = f", nor for {more} more row{'s' if more > 1 else ''}" if more else ""
        rule = f"no {what} has that name: the coupon counts for nothing here{also}"
        found.append(row.finding(column, rule, hint, grade))
    return tuple(found)


def check_bonds(rows: Sequence[CouponRow], bonds: Collection[tuple[str, str]]) -> tuple[Finding, ...]:
    """Return a doubt for each pair of tape and surface, both of known names, that no item of the job has.

    bonds: tape and surface of each item; empty stands for "not known" and is not compared with.
    """
    found: dict[tuple[str, str], Finding] = {}
    tapes = {tape for tape, _ in bonds}
    for row in rows:
        pair = (row.coupon.tape, row.coupon.surface)
        if pair[0] in tapes and pair not in bonds and pair not in found:
            there = ", ".join(sorted({surface for tape, surface in bonds if tape == pair[0]}))
            rule = f"no item of the job has {pair[0]} on that surface: the coupon counts for none of them"
            found[pair] = row.finding("surface", rule, f"the items are on {there}", "warning")
    return tuple(found.values())


def sort_rows(
    rows: Sequence[CouponRow], recorded: Sequence[RecordedCoupon], *, supersede: bool
) -> SortedRows:
    """Return rows sorted against what the logbook has; what differs from it must be meant (`supersede`)."""
    known = {record.name: record for record in recorded}
    new, already, corrections, findings = [], [], [], []
    for row in rows:
        record = known.get(row.coupon.name)
        if record is None:
            new.append(row)
        elif record.coupon is not None and same_coupon(record.coupon, row.coupon):
            already.append(row)
        elif supersede:
            corrections.append(row)
        else:
            findings.append(_differs(row, record))
    return SortedRows(
        new=tuple(new), already=tuple(already), corrections=tuple(corrections), findings=tuple(findings)
    )


def _differs(row: CouponRow, record: RecordedCoupon) -> Finding:
    if record.hanging or record.coupon is None:
        rule = "the logbook has it hanging"
        hint = "`staydown record hang end` tells how it went; --supersede replaces it by this row"
    else:
        columns = ", ".join(differences(record.coupon, row.coupon))
        rule = f"entry {record.seq} of the logbook has that name and differs in {columns}"
        hint = "--supersede corrects the entry (both are kept); or give this coupon a name of its own"
    return row.finding("name", rule, hint)
