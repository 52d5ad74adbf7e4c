"""A table that is handed in: looked at without a trace, written down whole as it was shown, or not at all."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staydown.foundation.errors import BadInput
from staydown.storage.logbook import FILE
from staydown.workbench.coupon_table import (
    LARGEST_TABLE,
    MOST_LINES,
    CouponTable,
    look_at_table,
    record_table,
)
from staydown.workbench.record import Seen, list_records, record_coupons

VAN = Path(__file__).parents[1] / "data" / "van"
NOW = datetime(2026, 6, 2, 9, tzinfo=UTC)
HEAD = "name,tape,surface,mode,result,load,area,lasted,temperature"
ROW = "{name},grey foam,painted_steel,tension,broke,{load},60 mm x 60 mm,8 s,22 degC"


@pytest.fixture(scope="module")
def van(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job of our own without a logbook."""
    return Path(shutil.copytree(VAN, tmp_path_factory.mktemp("job") / "van"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A job of our own with its coupons recorded."""
    folder = Path(shutil.copytree(VAN, tmp_path / "van"))
    record_coupons(folder, folder / "coupons.csv", Seen(now=datetime(2026, 6, 1, 12, tzinfo=UTC)))
    return folder


def table(folder: Path, *rows: str, head: str = HEAD, name: str = "tests.csv") -> CouponTable:
    """Return a table as it is looked at."""
    return look_at_table(folder, name, "\n".join((head, *rows)).encode(), NOW)


def row(name: str, load: str = "2200 N") -> str:
    """Return a row of a coupon."""
    return ROW.format(name=name, load=load)


def test_looking_writes_nothing_and_recording_writes_what_was_shown(folder: Path) -> None:
    """Rows are sorted against the logbook before anybody says yes; then all of them are written."""
    before = list_records(folder).head
    looked = table(folder, row("room 6"), row("room 7"))

    assert list_records(folder).head == before
    assert looked.sorted is not None
    assert [one.coupon.name for one in looked.sorted.new] == ["room 6", "room 7"]

    done = record_table(folder, looked, NOW)

    assert done.recorded == ("room 6", "room 7")
    assert list_records(folder).head.rows == before.rows + 2


@pytest.mark.independent
def test_it_is_checked_as_the_command_checks(folder: Path) -> None:
    """Every finding that `record coupons` has of a file is there, with its row, column, value, rule and hint."""
    rows = (row("a", "2200"), row("", "-3 N"), row("b").replace("tension", "tenison"), row("b", "9 N"))
    looked = table(folder, *rows)
    file = folder / "tests.csv"
    file.write_text("\n".join((HEAD, *rows)))
    with pytest.raises(BadInput) as error:
        record_coupons(folder, file, Seen(now=NOW))

    def told(findings: object) -> list[tuple[object, ...]]:
        return [(f.line, f.key, f.value, f.rule, f.hint, f.grade) for f in findings]  # type: ignore[attr-defined]

    assert told(looked.findings) == told(error.value.findings)
    assert len(looked.mistakes) >= 5
    with pytest.raises(BadInput):
        record_table(folder, looked, NOW)


def test_one_bad_row_keeps_all_out(folder: Path) -> None:
    """A mistake in the last row leaves the first ones unwritten too."""
    before = list_records(folder).head
    looked = table(folder, *(row(f"new {number}") for number in range(20)), row("last", "heavy"))
    with pytest.raises(BadInput):
        record_table(folder, looked, NOW)

    assert list_records(folder).head == before


def test_a_row_that_differs_is_shown_as_a_correction(folder: Path) -> None:
    """What differs from the logbook is named by column; both are kept when it is recorded."""
    header = (VAN / "coupons.csv").read_text().splitlines()
    changed = header[1].replace("2110 N", "2150 N")
    looked = look_at_table(folder, "c.csv", "\n".join((header[0], changed, header[2])).encode(), NOW)

    assert [(one.row.coupon.name, one.differs) for one in looked.corrections] == [("room 1", ("load",))]
    assert looked.sorted is not None
    assert [one.coupon.name for one in looked.sorted.already] == ["room 2"]

    assert record_table(folder, looked, NOW).superseded == ("room 1",)
    assert next(one for one in list_records(folder).coupons if one.name == "room 1").earlier


def test_a_logbook_that_changed_meanwhile_stops_it(folder: Path) -> None:
    """What was shown as new and is there by now is not written over: it is to be looked at again."""
    looked = table(folder, row("room 6", "2200 N"))
    record_table(folder, table(folder, row("room 6", "1900 N")), NOW)
    rows = list_records(folder).head.rows
    with pytest.raises(BadInput) as error:
        record_table(folder, looked, NOW)

    assert "has changed since" in error.value.findings[0].rule
    assert list_records(folder).head.rows == rows


@pytest.mark.parametrize(
    ("name", "content", "rule"),
    [
        ("tests.xlsx", b"PK\x03\x04", "ends in .csv"),
        ("tests.csv", b"PK\x03\x04\0\0", "not UTF-8"),
        ("tests.csv", "\ufeffa".encode("utf-16"), "not UTF-8"),
        ("tests.csv", b"\xff\xfe\xff", "not UTF-8"),
        ("tests.csv", b"", "no coupons"),
        ("tests.csv", b"x" * (LARGEST_TABLE + 1), "larger than"),
        ("tests.csv", b"a\n" * (MOST_LINES + 1), "lines"),
        ("tests.csv", b"name;tape\n1;2\n", "semicolons"),
        ("tests.csv", b",".join([b"a"] * 5000), "columns"),
        ("tests.csv", b'name,"tape\n', "not CSV"),
    ],
)
def test_what_is_no_table_is_refused(van: Path, name: str, content: bytes, rule: str) -> None:
    """Another type, another encoding, too much of it: said in a sentence."""
    looked = look_at_table(van, name, content, NOW)

    assert any(rule in one.rule for one in looked.mistakes)


@pytest.mark.parametrize(
    ("given_name", "kept"),
    [
        ("../../etc/cron.csv", "cron.csv"),
        ("C:\\Users\\me\\t.csv", "t.csv"),
        ("a\x00b\u202eb\n.csv", "abb.csv"),
        ("", "table"),
    ],
)
def test_a_name_is_no_path(van: Path, given_name: str, kept: str) -> None:
    """Of what a file was called no more is kept than a plain name; a letter that turns others round is left out."""
    assert look_at_table(van, given_name, b"name\n1\n", NOW).name == kept


@settings(max_examples=60, deadline=None)
@given(
    content=st.one_of(
        st.binary(max_size=400), st.text(alphabet='",;\n\r\tab 1', max_size=300).map(str.encode)
    )
)
def test_any_bytes_are_answered(van: Path, content: bytes) -> None:
    """Whatever comes in is looked at or refused; nothing is written and nothing breaks."""
    looked = look_at_table(van, "t.csv", content, NOW)

    assert looked.findings or looked.sorted is not None
    assert not (van / FILE).exists()


def test_the_worst_table_is_answered(van: Path) -> None:
    """A table made to be slow, as wide and as long as may be, is refused with its findings like any other."""
    wide = ",".join(f"nam{number}" for number in range(100))
    long = "\n".join([HEAD, *["x,y,z,q,w,e,r,t,u"] * (MOST_LINES - 2)])
    for text in (wide, long, f"{HEAD}\n" + '"' + "a" * (LARGEST_TABLE - 200)):
        assert look_at_table(van, "t.csv", text.encode(), NOW).mistakes
