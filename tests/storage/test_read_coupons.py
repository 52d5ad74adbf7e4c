"""Coupons from CSV: every mistake is named with its place, and all rows are read or none."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from staydown.evidence.coupon import Coupon
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.read_coupons import COLUMNS, read_coupon_file, read_coupons_csv

TODAY = date(2026, 5, 1)
HEAD = "name,tape,surface,mode,result,load,area,lasted,temperature,dwell,failure_pattern,made_on,note"
GOOD = "A1,grey foam,gelcoat,tension,broke,180 N,25 mm x 25 mm,6 s,23 degC,72 h,cohesive,2026-04-01,"


def written(folder: Path, *lines: str, head: str = HEAD) -> Path:
    """Write a file of coupons."""
    path = folder / "coupons.csv"
    path.write_text("\n".join((head, *lines)) + "\n", encoding="utf-8")
    return path


def read(folder: Path, *lines: str, head: str = HEAD) -> tuple[Coupon, ...]:
    """Return the coupons of these lines."""
    return read_coupons_csv(written(folder, *lines, head=head), today=TODAY)


def findings(folder: Path, *lines: str, head: str = HEAD) -> tuple[Finding, ...]:
    """Return the findings about these lines."""
    with pytest.raises(BadInput) as caught:
        read(folder, *lines, head=head)
    return caught.value.findings


def row(**cells: str) -> str:
    """Return the good row with some cells changed; a column that it lacks is added by `head_of`."""
    names = HEAD.split(",")
    held = dict(zip(names, GOOD.split(","), strict=True)) | cells
    return ",".join(held.values())


def head_of(**cells: str) -> str:
    """Return the head that fits `row`."""
    names = HEAD.split(",")
    return ",".join([*names, *(name for name in cells if name not in names)])


@pytest.mark.by_hand
def test_cells_become_si(tmp_path: Path) -> None:
    """Units by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, g = 9.80665 m/s2, 0 degC = 273.15 K."""
    metric, us = read(
        tmp_path,
        GOOD,
        'A2,grey foam,gelcoat,shear,fell,10 lb,1 in x 1 in,1 day,104 degF,,,,"bent, then fell"',
    )

    assert (metric.load_N, metric.lasted_s) == (180.0, 6.0)
    assert metric.area_m2 == pytest.approx(625e-6)
    assert (metric.temperature_K, metric.dwell_s) == (296.15, 259200.0)
    assert us.load_N == pytest.approx(10 * 0.45359237 * 9.80665)
    assert us.area_m2 == pytest.approx(0.0254**2)
    assert us.lasted_s == 86400.0
    assert us.temperature_K == pytest.approx(313.15)
    assert us.note == "bent, then fell"
    assert (us.dwell_s, us.failure_pattern, us.made_on) == (None, None, None)


@pytest.mark.by_hand
def test_water_is_the_one_volume_with_a_known_weight(tmp_path: Path) -> None:
    """A load may be a volume of water (1 kg/L); of anything else the density is not known."""
    (coupon,) = read(tmp_path, row(load="5 L water"))
    refused = findings(
        tmp_path, row(load="5 L"), row(name="A2", load="5 L sand"), row(name="A3", load="2 gal water")
    )

    assert coupon.load_N == pytest.approx(5 * 9.80665)
    assert [(finding.line, finding.key) for finding in refused] == [(2, "load"), (3, "load"), (4, "load")]
    assert "of what?" in refused[0].hint
    assert "US gal" in refused[2].hint


def test_the_optional_columns(tmp_path: Path) -> None:
    """Peel takes a width and no area; the rest of the optional columns fill their fields."""
    cells = {
        "mode": "peel",
        "area": "",
        "width": "25 mm",
        "load": "40 N",
        "conditioned": "21 d in water at 23 degC",
        "foot": "real",
        "lever": "12 mm",
        "lever_direction": "across",
        "foot_thickness": "5 mm",
        "batch": "session 2",
        "result": "fell",
        "lasted": "30 h",
        "found": "20 h",
    }
    (coupon,) = read(tmp_path, row(**cells), head=head_of(**cells))

    assert coupon.line_load_N_per_m == pytest.approx(1600.0)
    assert (coupon.conditioned, coupon.foot) == ("21 d in water at 23 degC", "real")
    assert (coupon.lever_m, coupon.lever_direction, coupon.foot_thickness_m) == (0.012, "across", 0.005)
    assert (coupon.batch, coupon.found_s, coupon.lasted_s) == ("session 2", 72000.0, 108000.0)


def test_the_batch_is_the_day_made_unless_told(tmp_path: Path) -> None:
    """Coupons made on one day are one batch."""
    assert read(tmp_path, GOOD)[0].batch == "2026-04-01"
    assert read(tmp_path, row(made_on=""))[0].batch is None


@pytest.mark.parametrize("text", ["none", "No", "nothing", "-", "unknown", ""])
def test_not_conditioned_is_not_a_condition(tmp_path: Path, text: str) -> None:
    """The word "none" must not pass for a coupon that had been through water."""
    (coupon,) = read(tmp_path, row(conditioned=text), head=head_of(conditioned=text))

    assert coupon.conditioned is None


@pytest.mark.parametrize(
    ("cells", "key", "rule"),
    [
        ({"load": "0 N"}, "load", "above zero"),
        ({"load": "-12 kg"}, "load", "above zero"),
        ({"load": "12"}, "load", "no unit"),
        ({"load": '"12,5 N"'}, "load", "decimal sign is a point"),
        ({"load": "12 psi"}, "load", "is a pressure"),
        ({"load": ""}, "load", "is missing"),
        ({"area": "0 mm^2"}, "area", "above zero"),
        ({"area": "-6 cm^2"}, "area", "above zero"),
        ({"area": "25 mm"}, "area", "is a length"),
        ({"area": "25 x 25 mm"}, "area", "no unit"),
        ({"area": ""}, "area", "needs the bonded area"),
        ({"area": "25 mm x 1 kg"}, "area", "is a mass"),
        ({"lasted": "0 h"}, "lasted", "above zero"),
        ({"lasted": "-3 h"}, "lasted", "above zero"),
        ({"lasted": "nan h"}, "lasted", "finite"),
        ({"lasted": "72 hm"}, "lasted", "not known"),
        ({"dwell": "-1 h"}, "dwell", "negative"),
        ({"temperature": "40"}, "temperature", "no unit"),
        ({"temperature": "400 degC"}, "temperature", "must be"),
        ({"mode": "tensoin"}, "mode", "is not one of"),
        ({"result": "failed"}, "result", "is not one of"),
        ({"result": "spoiled"}, "note", "reason"),
        ({"failure_pattern": "cohesiv"}, "failure_pattern", "is not one of"),
        ({"made_on": "2026-05-02"}, "made_on", "in the future"),
        ({"made_on": "1.4.2026"}, "made_on", "is not a date"),
        ({"made_on": "2026-02-30"}, "made_on", "is not a date"),
        ({"made_on": "20260401"}, "made_on", "is not a date"),
        ({"made_on": "2026-04-30", "dwell": "72 h"}, "lasted", "longer than the time since"),
        ({"name": ""}, "name", "is missing"),
        ({"tape": ""}, "tape", "is missing"),
        ({"surface": ""}, "surface", "is missing"),
        ({"mode": "peel", "width": "25 mm"}, "area", "load over width"),
        ({"mode": "peel", "area": ""}, "width", "needs the width"),
        ({"width": "25 mm"}, "width", "load over area"),
        ({"found": "3 s"}, "found", "for fell, not for broke"),
        ({"result": "fell", "found": "6 s"}, "found", "earlier than lasted"),
        ({"result": "fell", "found": "0 s"}, "found", "above zero"),
        ({"foot": "fake"}, "foot", "is not one of"),
        ({"lever": "-12 mm"}, "lever", "0 to 500 mm"),
        ({"lever_direction": "up"}, "lever_direction", "is not one of"),
        ({"foot_thickness": "0 mm"}, "foot_thickness", "above zero"),
    ],
)
def test_each_mistake_is_named(tmp_path: Path, cells: dict[str, str], key: str, rule: str) -> None:
    """One mistake gives one error, with file, line, column, value as typed and the rule."""
    found = findings(tmp_path, "", row(**cells), head=head_of(**cells))
    errors = [finding for finding in found if finding.grade == "error"]

    assert [(finding.file, finding.line, finding.key) for finding in errors] == [
        (str(tmp_path / "coupons.csv"), 3, key)
    ]
    assert rule in errors[0].rule
    typed = dict(zip(HEAD.split(","), GOOD.split(","), strict=True)) | cells
    assert errors[0].value == typed.get(key, "").strip('"')


@pytest.mark.parametrize(
    ("word", "hint"),
    [("tensoin", "tension"), ("Sheer", "shear"), ("cleavge", "cleavage")],
)
def test_a_misspelt_word_is_answered_with_the_nearest(tmp_path: Path, word: str, hint: str) -> None:
    """The hint has the word that was probably meant."""
    (found,) = findings(tmp_path, row(mode=word))

    assert found.hint == f"did you mean {hint}?"


def test_all_mistakes_come_at_once_in_the_order_of_the_file(tmp_path: Path) -> None:
    """Three bad rows of four give all their findings, and no coupon is read."""
    found = findings(
        tmp_path,
        row(load="12"),
        GOOD.replace("A1", "A2"),
        row(name="A3", lasted="0 s", temperature="hot"),
        row(name="A3", mode="pull"),
    )
    expected = [(2, "load"), (4, "temperature"), (4, "lasted"), (5, "mode"), (5, "name")]

    assert sorted((finding.line, finding.key) for finding in found) == sorted(expected)
    assert [finding.line for finding in found] == [2, 4, 4, 5, 5]


def test_a_coupon_twice_in_a_file_is_refused(tmp_path: Path) -> None:
    """The same name twice is a slip, whether the rows agree or not."""
    same, other = findings(tmp_path, GOOD, GOOD, row(load="200 N"))

    assert (same.line, same.key) == (3, "name")
    assert "the same row twice" in same.rule
    assert "another coupon" in other.rule


@pytest.mark.parametrize(
    ("cells", "key"),
    [
        ({"load": "180 kN"}, "load"),
        ({"load": "1 N"}, "load"),
        ({"temperature": "150 degC"}, "temperature"),
        ({"lasted": "3 h"}, "lasted"),
        ({"mode": "cleavage"}, "lever"),
        ({"lever": "12 mm"}, "mode"),
        ({"result": "holding"}, "failure_pattern"),
        ({"mode": "peel", "area": "", "width": "25 mm", "load": "2 kN"}, "load"),
    ],
)
def test_what_looks_like_a_slip_is_asked_about_and_read(
    tmp_path: Path, cells: dict[str, str], key: str
) -> None:
    """A value outside the planning bands is a doubt, not a refusal."""
    read = read_coupon_file(written(tmp_path, row(**cells), head=head_of(**cells)), today=TODAY)

    assert len(read.rows) == 1
    assert [(finding.key, finding.grade) for finding in read.warnings] == [(key, "warning")]


def test_units_may_be_mixed(tmp_path: Path) -> None:
    """Metric and US units mix freely, in a file and in a cell."""
    one, two = read(tmp_path, row(area="1 in x 25.4 mm"), row(name="A2", area="1 in^2"))

    assert one.area_m2 == pytest.approx(two.area_m2, rel=1e-12)


@pytest.mark.parametrize(
    "change",
    [
        lambda text: "\ufeff" + text,
        lambda text: text.replace("\n", "\r\n"),
        lambda text: text.replace("\n", "\n\n,,,,\n"),
        lambda text: text.rstrip("\n"),
        lambda text: text.replace("name,tape", "Name, Tape").replace("failure_pattern", "Failure pattern"),
    ],
    ids=["byte order mark", "CRLF", "blank lines", "no last line end", "heads as a person writes them"],
)
def test_what_spreadsheets_do_to_a_file(tmp_path: Path, change: object) -> None:
    """Byte order marks, either kind of line end and blank lines are read as if they were not there."""
    path = tmp_path / "coupons.csv"
    path.write_bytes(change(f"{HEAD}\n{GOOD}\n").encode())  # type: ignore[operator]
    (coupon,) = read_coupons_csv(path, today=TODAY)

    assert coupon == read(tmp_path, GOOD)[0]


@pytest.mark.parametrize(
    ("raw", "line", "rule"),
    [
        (f"{HEAD}\n{GOOD}\n".replace(",", ";").encode(), 1, "semicolons"),
        (f"{HEAD}\n{GOOD}\n".replace(",", "\t").encode(), 1, "tabs"),
        (f"{HEAD}\n{GOOD}\n".encode("utf-16"), None, "not UTF-8"),
        (f"{HEAD}\n{GOOD}\n".replace("degC", "°C").encode("latin-1"), 2, "not UTF-8"),
        (b"", None, "no coupons"),
        (f"{HEAD}\n\n".encode(), None, "no coupons"),
        (f'{HEAD}\n{GOOD}"open\n{GOOD}\n'.encode(), 2, "not CSV"),
        (f"{HEAD}\n{GOOD},12\n".encode(), 2, "has 14 cells"),
    ],
    ids=["semicolons", "tabs", "UTF-16", "Latin-1", "empty", "head only", "open quote", "too many cells"],
)
def test_a_file_of_another_kind_is_told(tmp_path: Path, raw: bytes, line: int | None, rule: str) -> None:
    """A file that is no comma-separated UTF-8 gets one sentence that says so."""
    path = tmp_path / "coupons.csv"
    path.write_bytes(raw)
    with pytest.raises(BadInput) as caught:
        read_coupons_csv(path, today=TODAY)

    (found,) = caught.value.findings
    assert found.line == line
    assert rule in found.rule


def test_lines_are_counted_as_an_editor_counts_them(tmp_path: Path) -> None:
    """A quoted note over two lines does not shift the place of what follows."""
    found = findings(tmp_path, row(note='"bent\nand fell"'), row(name="A2", load="12"))

    assert [finding.line for finding in found] == [4]


@pytest.mark.parametrize(
    ("head", "key", "rule"),
    [
        (HEAD.replace("surface", "surfaec"), "surfaec", "not a column"),
        (HEAD.replace("surface", "surfaec"), "surface", "the column is missing"),
        (HEAD.replace("dwell", "note"), "note", "twice"),
    ],
)
def test_wrong_heads(tmp_path: Path, head: str, key: str, rule: str) -> None:
    """An unknown, missing or doubled column is named once, not once a row."""
    found = findings(tmp_path, row(dwell=""), row(name="A2", dwell=""), head=head)
    about = [finding for finding in found if finding.key == key]

    assert len(about) == 1
    assert about[0].line == 1
    assert rule in about[0].rule
    if key == "surfaec":
        assert about[0].hint == "did you mean surface?"


def test_a_decimal_comma_without_quotes_is_guessed(tmp_path: Path) -> None:
    """A comma in a number makes one cell too many, and the hint says what may have happened."""
    (found,) = findings(tmp_path, row(load="12,5 N"))

    assert (found.line, found.key) == (2, "row")
    assert "decimals take a point" in found.hint


@pytest.mark.parametrize("name", ["nowhere.csv", "."])
def test_a_file_that_cannot_be_opened_is_bad_input(tmp_path: Path, name: str) -> None:
    """A missing file, or a folder in its place, is the person's slip and is told by its name."""
    with pytest.raises(BadInput, match="cannot be read") as caught:
        read_coupons_csv(tmp_path / name, today=TODAY)

    assert caught.value.findings[0].file == str(tmp_path / name)


def test_every_field_of_a_coupon_has_its_column() -> None:
    """A field that is added to the record without a column would silently be lost; the side is read off the area."""
    assert {column.field for column in COLUMNS.values()} | {"along_m"} == set(Coupon.__slots__)


@pytest.mark.parametrize(
    ("mode", "area", "direction", "along_m"),
    [
        ("cleavage", "30 mm x 20 mm", "along", 0.030),
        ("cleavage", "30 mm x 20 mm", "across", 0.020),
        ("cleavage", "20 mm x 30 mm", "", 0.030),
        ("cleavage", "6 cm^2", "along", None),
        ("tension", "30 mm x 20 mm", "", None),
    ],
)
def test_side_of_a_pried_coupon(
    tmp_path: Path, mode: str, area: str, direction: str, along_m: float | None
) -> None:
    """The side along the lever is read off a rectangle, the longer one where the direction is not told."""
    lever = "5 mm" if mode == "cleavage" else ""
    cells = {"mode": mode, "area": area, "lever": lever, "lever_direction": direction}
    (coupon,) = read(tmp_path, row(**cells), head=head_of(**cells))

    assert coupon.along_m == along_m


def test_a_long_file_is_read_row_by_row(tmp_path: Path) -> None:
    """10,000 rows without a cell in common are read, each as it stands."""
    lines = [
        row(name=f"C{n}", load=f"{20 + n / 100:.2f} N", lasted=f"{10 + n / 1000:.3f} s", note=f"row {n}")
        for n in range(10_000)
    ]
    path = written(tmp_path, *lines)
    coupons = read_coupons_csv(path, today=TODAY)

    assert len(coupons) == 10_000
    assert coupons[1234].load_N == pytest.approx(32.34)


def test_findings_can_be_sent_as_json(tmp_path: Path) -> None:
    """Everything in a finding is text or a number."""
    (found,) = findings(tmp_path, row(load="12"))

    assert json.loads(json.dumps([found.file, found.line, found.key, found.value, found.rule, found.hint]))
