"""Coupons as CSV: one row a coupon, the unit in each cell. All rows are read, or none."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from math import nan
from pathlib import Path
from typing import Any

from staydown.evidence.check_coupons import CouponRow, check_row, find_duplicates, mistaken
from staydown.evidence.coupon import FAILURE_PATTERNS, RESULTS, Coupon
from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.foundation.exposure import MODES
from staydown.foundation.findings import Finding
from staydown.foundation.nearest import nearest
from staydown.foundation.units import parse_area, parse_load, parse_quantity, parse_rectangle

Memo = dict[tuple[str, str], Any]
MOST_COLUMNS = (
    100  # a file with more is no table of coupons, and each unknown one is looked for among the known
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponFile:
    """The rows of a file, and the doubts about them (`warning`); a mistake would have been raised."""

    rows: tuple[CouponRow, ...]
    warnings: tuple[Finding, ...]


def _one_of(words: tuple[str, ...], text: str) -> str:
    if text.lower() in words:
        return text.lower()
    near = nearest(text, words)
    raise UnreadableValue(f"is not one of {', '.join(words)}", f"did you mean {near}?" if near else "")


def _conditioned(text: str) -> str | None:
    # "none" kept as text would pass for a coupon that had been through water
    return None if text.lower() in ("none", "no", "nothing", "-") else text


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: the coupon's field that it fills, and how its text is read; number: in SI."""

    field: str
    read: Callable[[str], Any] = str
    required: bool = False
    number: bool = False


def _number(field: str, read: Callable[[str], float], required: bool = False) -> Column:
    return Column(field=field, read=read, required=required, number=True)


def _quantity(suffix: str) -> Callable[[str], float]:
    return lambda text: parse_quantity(text, suffix)


COLUMNS: dict[str, Column] = {
    "name": Column(field="name", required=True),
    "tape": Column(field="tape", required=True),
    "surface": Column(field="surface", required=True),
    "mode": Column(field="mode", read=partial(_one_of, MODES), required=True),
    "result": Column(field="result", read=partial(_one_of, RESULTS), required=True),
    "load": _number("load_N", parse_load, required=True),
    "area": _number("area_m2", parse_area),
    "lasted": _number("lasted_s", _quantity("s"), required=True),
    "temperature": _number("temperature_K", _quantity("K"), required=True),
    "dwell": _number("dwell_s", _quantity("s")),
    "failure_pattern": Column(field="failure_pattern", read=partial(_one_of, FAILURE_PATTERNS)),
    "made_on": Column(field="made_on"),
    "note": Column(field="note"),
    "width": _number("width_m", _quantity("m")),
    "conditioned": Column(field="conditioned", read=_conditioned),
    "foot": Column(field="foot", read=partial(_one_of, ("real",))),
    "lever": _number("lever_m", _quantity("m")),
    "lever_direction": Column(field="lever_direction", read=partial(_one_of, ("along", "across"))),
    "foot_thickness": _number("foot_thickness_m", _quantity("m")),
    "batch": Column(field="batch"),
    "lot": Column(field="lot"),
    "primer": Column(field="primer"),
    "found": _number("found_s", _quantity("s")),
}


def read_coupons_csv(path: Path | str, *, today: date) -> tuple[Coupon, ...]:
    """Return the coupons of a CSV file. Errors as `read_coupon_file`."""
    return tuple(row.coupon for row in read_coupon_file(path, today=today).rows)


def read_coupon_file(path: Path | str, *, today: date) -> CouponFile:
    """Return the rows of a CSV file, each with what was typed and where.

    Parameters
    ----------
    path : path
        UTF-8 text with commas; a byte order mark, either kind of line end and blank lines are accepted.
    today : date
        No coupon can have been made later.

    Raises
    ------
    BadInput
        With every finding of the file, in its order; or it cannot be opened.
    """
    path = Path(path)
    return read_coupon_bytes(_bytes(path), path, today=today)


def read_coupon_bytes(raw: bytes, path: Path, *, today: date) -> CouponFile:
    """Return the rows of a CSV file in hand. path: what it is called in findings. Errors as `read_coupon_file`."""
    rows, findings = look_at_coupons(raw, path, today=today)
    if any(finding.grade == "error" for finding in findings):
        raise BadInput(findings)
    return CouponFile(rows=rows, warnings=findings)


def look_at_coupon_file(
    path: Path | str, *, today: date
) -> tuple[tuple[CouponRow, ...], tuple[Finding, ...]]:
    """Return the rows of a CSV file whatever is wrong with them, and all findings by line; as `look_at_coupons`."""
    path = Path(path)
    return look_at_coupons(_bytes(path), path, today=today)


def look_at_coupons(
    raw: bytes, path: Path, *, today: date
) -> tuple[tuple[CouponRow, ...], tuple[Finding, ...]]:
    """Return rows and findings of a CSV file in hand; what could not be read of a row is NaN or an empty word.

    Raises
    ------
    BadInput
        It is no table of coupons at all: another encoding of two bytes a sign, no commas, a hundred columns.
    """
    findings: list[Finding] = []
    rows: list[CouponRow] = []
    memo: Memo = {}
    for line, cells in _lines(raw, path, findings):
        row, mistakes = read_cells(cells, str(path), line, memo)
        rows.append(row)
        findings += mistakes
        findings += check_row(row, today)
    findings += find_duplicates(rows, mistaken(rows, findings))
    if not rows and not findings:
        findings.append(_about_file(path, None, "has no coupons", "one row a coupon below the columns"))
    findings.sort(key=lambda finding: finding.line or 0)
    return tuple(rows), tuple(findings)


def read_cells(
    cells: Mapping[str, str], file: str, line: int | None, memo: Memo | None = None
) -> tuple[CouponRow, list[Finding]]:
    """Return a row and what could not be read of it; a number that could not is NaN, a word is empty.

    Parameters
    ----------
    cells : mapping
        Column to text. A column of the file that is missing here was reported already.
    memo : dict
        What a text of a column was read as; share one among the rows of a file.
    """
    memo = {} if memo is None else memo
    findings: list[Finding] = []
    values: dict[str, Any] = {"area_m2": None}
    given = {column: text for column, text in cells.items() if text}
    typed = {column: _shown(text) for column, text in given.items()}
    row = CouponRow(coupon=_UNREAD, file=file, line=line, typed=typed)
    for name, column in COLUMNS.items():
        text = given.get(name, "")
        if text.lower() == "unknown" and not column.required and name != "note":
            text = ""
        if undecoded(text):  # told of its line; a note is there, whatever it says
            words = _shown(text) if name == "note" else "" if column.required else None
            values[column.field] = nan if column.number else words
        elif text:
            value = text if column.read is str else _read_cell(name, column, text, memo)
            if isinstance(value, UnreadableValue):
                findings.append(row.finding(name, value.rule, value.hint))
                value = nan if column.number else ""
            values[column.field] = value
        elif column.required:
            if name in cells:
                findings.append(row.finding(name, "is missing", "every coupon needs it"))
            values[column.field] = nan if column.number else ""
    if values.get("mode") == "cleavage":
        values["along_m"] = _side_along_lever(typed.get("area", ""), values.get("lever_direction"))
    if not values.get("batch"):
        values["batch"] = values.get("made_on")
    return CouponRow(coupon=Coupon(**values), file=file, line=line, typed=typed), findings


_UNREAD = Coupon(
    name="",
    tape="",
    surface="",
    mode="tension",
    result="holding",
    load_N=nan,
    area_m2=None,
    lasted_s=nan,
    temperature_K=nan,
)


def _side_along_lever(area: str, direction: str | None) -> float | None:
    """Return the side of a bond along its lever, from an area written as along x across; None where it was not.

    Where the lever's direction is not told the longer side counts: it credits the least peak.
    """
    try:
        along_m, across_m = parse_rectangle(area)
    except UnreadableValue:
        return None
    return {"along": along_m, "across": across_m}.get(direction or "", max(along_m, across_m))


def undecoded(text: str) -> bool:
    """Return whether there is a byte in it that is no UTF-8, kept as a lone surrogate."""
    return not text.isascii() and any("\ud800" <= sign <= "\udfff" for sign in text)


def _shown(text: str) -> str:
    return text.encode("utf-8", "replace").decode("utf-8") if undecoded(text) else text


def _read_cell(name: str, column: Column, text: str, memo: Memo) -> Any:
    """Return the value of a cell, or the error that says what is wrong with it."""
    key = (name, text)
    if key not in memo:
        try:
            memo[key] = column.read(text)
        except UnreadableValue as error:
            memo[key] = error
    return memo[key]


def _about_file(
    path: Path, line: int | None, rule: str, hint: str, key: str = "file", value: str = ""
) -> Finding:
    return Finding(file=str(path), line=line, key=key, value=value, rule=rule, hint=hint)


def _lines(raw_text: bytes, path: Path, findings: list[Finding]) -> Iterator[tuple[int, dict[str, str]]]:
    """Give the line number and the cells of each row; what is wrong with the file goes to `findings`."""
    text = _text(raw_text, path, findings)
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, skipinitialspace=True)
    heads: list[str] = []
    began = 1
    try:
        for raw in reader:
            line, began = began, reader.line_num + 1
            cells = [cell.strip() for cell in raw]
            if not any(cells):
                continue
            if not heads:
                heads = _heads(path, line, cells, findings)
            elif len(cells) > len(heads):
                rule = f"has {len(cells)} cells, the file has {len(heads)} columns"
                hint = 'a comma inside a cell needs quotes around it: "bent, broke"; decimals take a point'
                findings.append(_about_file(path, line, rule, hint, key="row", value=_shown(",".join(raw))))
            else:
                cells += [""] * (len(heads) - len(cells))
                yield line, {head: cell for head, cell in zip(heads, cells, strict=False) if head in COLUMNS}
    except csv.Error as error:
        rule = f"is not CSV from here on: {error}"
        findings.append(_about_file(path, began, rule, "look for a quote that is not closed"))


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        rule = f"cannot be read: {error.strerror}"
        raise BadInput([_about_file(path, None, rule, "give the CSV file of the coupons")]) from error


def _text(raw: bytes, path: Path, findings: list[Finding]) -> str:
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\0" in raw:
        raise BadInput([_about_file(path, None, "is not UTF-8 text", "save it as 'CSV UTF-8' with commas")])
    text = raw.decode("utf-8-sig", errors="surrogateescape")
    for number, line in enumerate(text.split("\n"), 1):
        if undecoded(line):
            rule = "is not UTF-8 text (the degree sign or an accent from an older program?)"
            findings.append(_about_file(path, number, rule, "save it as 'CSV UTF-8', or write degC"))
    return text


def _heads(path: Path, line: int, cells: list[str], findings: list[Finding]) -> list[str]:
    """Return the columns that the heads name; without a comma between them nothing can be read at all."""
    if len(cells) == 1:
        for sign, name in ((";", "semicolons"), ("\t", "tabs")):
            if sign in cells[0]:
                hint = "save it with commas between the cells and points in the decimals"
                rule = f"has {name} between its cells"
                raise BadInput([_about_file(path, line, rule, hint, value=cells[0])])
    if len(cells) > MOST_COLUMNS:
        rule, hint = f"has {len(cells)} columns", f"the columns are {', '.join(COLUMNS)}"
        raise BadInput([_about_file(path, line, rule, hint)])
    heads = [cell.lower().replace(" ", "_") for cell in cells]
    for place, head in enumerate(heads):
        if undecoded(head):
            continue
        if head and head not in COLUMNS:
            near = nearest(head, COLUMNS)
            hint = f"did you mean {near}?" if near else f"the columns are {', '.join(COLUMNS)}"
            findings.append(_about_file(path, line, "is not a column", hint, key=cells[place]))
        elif head and head in heads[:place]:
            findings.append(_about_file(path, line, "is there twice", "one column each", key=head))
    for name, column in COLUMNS.items():
        if column.required and name not in heads:
            findings.append(
                _about_file(path, line, "the column is missing", "every coupon needs it", key=name)
            )
    return heads
