"""Recording: all rows or none, tests while they hang, clocks that do not agree."""

from __future__ import annotations

import csv
import io
import shutil
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from staydown.foundation.errors import BadInput
from staydown.storage.logbook import Logbook
from staydown.workbench.record import (
    Seen,
    blank_coupons,
    end_hang,
    export_records,
    hang_doubts,
    list_records,
    look_hang,
    mend_logbook,
    record_coupons,
    start_hang,
)
from staydown.workbench.record_one import record_coupon

NOON = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)
HEAD = "name,tape,surface,mode,result,load,area,lasted,temperature,note\n"
ROW = "{},grey foam,gelcoat,tension,fell,{},25 mm x 25 mm,31 h,40 degC,\n"
CELLS = {
    "name": "H1",
    "tape": "grey foam",
    "surface": "gelcoat",
    "mode": "shear",
    "load": "5 L water",
    "area": "25 mm x 25 mm",
    "temperature": "40 degC",
}


def after(hours: float = 0.0) -> Seen:
    """Return a moment some hours after noon."""
    return Seen(now=NOON + timedelta(hours=hours))


def written(folder: Path, *rows: str) -> Path:
    """Write a file of coupons."""
    path = folder / "coupons.csv"
    path.write_text(HEAD + "".join(rows), encoding="utf-8")
    return path


def hung(folder: Path) -> None:
    """Hang a coupon at noon."""
    start_hang(folder, CELLS, after())


def refused(caught: pytest.ExceptionInfo[BadInput]) -> tuple[str, str]:
    """Return key and rule of the only finding."""
    (finding,) = caught.value.findings
    return finding.key, finding.rule


def test_coupons_are_recorded_once(tmp_path: Path) -> None:
    """The same file a second time adds nothing; new rows in it are added."""
    first = record_coupons(tmp_path, written(tmp_path, ROW.format("A1", "180 N")), after())
    second = record_coupons(
        tmp_path, written(tmp_path, ROW.format("A1", "0.18 kN"), ROW.format("A2", "90 N")), after(1)
    )

    assert (first.recorded, first.already) == (("A1",), ())
    assert (second.recorded, second.already) == (("A2",), ("A1",))
    assert [coupon.name for coupon in Logbook.read(tmp_path).coupons()] == ["A1", "A2"]
    assert Logbook.read(tmp_path).events()[1].body["line"] == 3


def test_one_bad_row_keeps_all_out(tmp_path: Path) -> None:
    """A file with a mistake writes nothing at all."""
    with pytest.raises(BadInput):
        record_coupons(
            tmp_path, written(tmp_path, ROW.format("A1", "180 N"), ROW.format("A2", "0 N")), after()
        )

    assert sorted(path.name for path in tmp_path.iterdir()) == ["coupons.csv"]


def test_a_row_that_differs_must_be_meant(tmp_path: Path) -> None:
    """A changed row is refused with all others, or corrects the entry and keeps both."""
    record_coupons(tmp_path, written(tmp_path, ROW.format("A1", "180 N")), after())
    changed = written(tmp_path, ROW.format("A1", "200 N"), ROW.format("A2", "90 N"))
    with pytest.raises(BadInput, match="differs in load"):
        record_coupons(tmp_path, changed, after(1))
    assert len(Logbook.read(tmp_path).events()) == 1
    done = record_coupons(tmp_path, changed, after(1), supersede=True)

    assert (done.recorded, done.superseded) == (("A2",), ("A1",))
    assert [coupon.load_N for coupon in Logbook.read(tmp_path).coupons()] == [200.0, 90.0]
    assert [event.body["coupon"]["load_N"] for event in Logbook.read(tmp_path).events()] == [
        180.0,
        90.0,
        200.0,
    ]
    assert Logbook.read(tmp_path).events()[2].body["supersedes"] == 1


SURFACE = "painted_steel"  # of that job
VAN = Path(__file__).parents[1] / "data" / "van"  # a job with the tape "grey foam"


def van(folder: Path) -> Path:
    """Return a folder with that job."""
    shutil.copy(VAN / "job.toml", folder / "job.toml")
    return folder


@pytest.mark.parametrize(
    ("was", "typed", "key", "hint"),
    [
        ("gelcoat", "gelcoat2", "surface", "did you mean gelcoat?"),
        ("grey foam", "gray foam", "tape", "did you mean grey foam?"),
        ("grey foam", "Grey Foam", "tape", "did you mean grey foam?"),
        ("grey foam", "xyz", "tape", "there are grey foam"),
    ],
)
def test_a_name_that_nothing_has_keeps_all_rows_out(
    tmp_path: Path, was: str, typed: str, key: str, hint: str
) -> None:
    """A tape that the job does not have, or a surface that no card has, is refused with the nearest."""
    folder = van(tmp_path)
    rows = ROW.format("A1", "180 N"), ROW.format("A2", "180 N").replace(was, typed)
    with pytest.raises(BadInput) as caught:
        record_coupons(folder, written(folder, *rows), after())

    (finding,) = caught.value.findings
    assert (finding.line, finding.key, finding.value) == (3, key, typed)
    assert finding.hint.startswith(hint)
    assert finding.hint.endswith(" --unknown-names records it as it is")
    assert Logbook.read(folder).events() == ()


def test_a_name_that_nothing_has_is_recorded_where_it_is_meant(tmp_path: Path) -> None:
    """With unknown names meant the rows are in with a doubt; the same file again needs no word: it adds nothing."""
    folder = van(tmp_path)
    file = written(folder, ROW.format("A1", "180 N").replace("grey foam", "gray foam"))
    done = record_coupons(folder, file, after(), unknown_names=True)
    again = record_coupons(folder, file, after(1))

    assert done.recorded == ("A1",)
    assert [(finding.key, finding.grade) for finding in done.warnings] == [("tape", "warning")]
    assert (again.already, again.warnings) == (("A1",), ())


def test_a_surface_that_no_item_is_on_is_doubted(tmp_path: Path) -> None:
    """Both names are known, but the roof is painted steel: recorded, and said to count for no item; once a surface."""
    folder = van(tmp_path)
    rows = ROW.format("A1", "180 N"), ROW.format("A2", "180 N")
    steel = ROW.format("A3", "180 N").replace("gelcoat", SURFACE)
    done = record_coupons(folder, written(folder, *rows, steel), after())
    (doubt,) = done.warnings

    assert done.recorded == ("A1", "A2", "A3")
    assert (doubt.line, doubt.key, doubt.value, doubt.grade) == (2, "surface", "gelcoat", "warning")
    assert doubt.hint == f"the items are on {SURFACE}"


def test_an_empty_file_has_the_names_of_the_job_and_records_nothing(tmp_path: Path) -> None:
    """Each tape on its surface has a row a mode; as it is it is refused whole, filled in it is recorded."""
    folder = van(tmp_path)
    blank = blank_coupons(folder)
    file = folder / "coupons.csv"
    file.write_text(blank, encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        record_coupons(folder, file, after())
    rows = list(csv.DictReader(io.StringIO(blank)))
    for number, row in enumerate(rows):
        row |= {
            "name": f"C{number}",
            "result": "broke",
            "load": "180 N",
            "area": "25 mm x 25 mm",
            "lasted": "6 s",
        }
        row |= {"temperature": "23 degC"}
    with file.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)

    assert [(row["tape"], row["surface"], row["mode"]) for row in rows] == [
        ("grey foam", SURFACE, "tension"),
        ("grey foam", SURFACE, "shear"),
    ]
    assert {finding.key for finding in caught.value.findings} >= {
        "result",
        "load",
        "lasted",
        "temperature",
        "area",
    }
    assert record_coupons(folder, file, after()).recorded == ("C0", "C1")


def test_what_hangs_and_what_a_form_gives_has_a_known_name_too(tmp_path: Path) -> None:
    """A hanging coupon is refused as a row is, and taken where the name is meant; a form offers no unknown ones."""
    folder = van(tmp_path)
    misspelt = {**CELLS, "tape": "grey faom"}
    with pytest.raises(BadInput) as caught:
        start_hang(folder, misspelt, after())
    with pytest.raises(BadInput) as form:
        record_coupon(folder, {**misspelt, "result": "holding", "lasted": "2 h"}, after())

    assert refused(caught) == refused(form)
    assert refused(caught)[0] == "tape"
    assert Logbook.read(folder).events() == ()
    assert start_hang(folder, misspelt, after(), unknown_names=True).hanging
    assert [one.key for one in hang_doubts(folder, misspelt, after(), unknown_names=True)] == ["tape"]
    assert [one.key for one in hang_doubts(folder, CELLS, after())] == ["surface"]  # of no item
    assert hang_doubts(folder, {**CELLS, "surface": SURFACE}, after()) == ()


def test_a_hanging_test_survives_closing_the_program(tmp_path: Path) -> None:
    """Each step opens the logbook anew; what hangs counts as holding until it was last seen."""
    hung(tmp_path)
    assert Logbook.read(tmp_path).coupons() == ()
    (record,) = look_hang(tmp_path, "H1", after(31))
    (coupon,) = Logbook.read(tmp_path).coupons()

    assert record.hanging
    assert (coupon.result, coupon.lasted_s) == ("holding", 31 * 3600.0)
    assert coupon.load_N == pytest.approx(5 * 9.80665)
    assert list_records(tmp_path).coupons == (record,)


def test_a_found_fall_is_an_interval(tmp_path: Path) -> None:
    """Seen at 20 h, found at 31 h: it fell in between."""
    hung(tmp_path)
    look_hang(tmp_path, None, after(20))
    record = end_hang(tmp_path, "H1", "found", after(31), failure_pattern="adhesive", note="clean tape")

    assert record.coupon is not None
    assert (record.coupon.result, record.coupon.found_s, record.coupon.lasted_s) == (
        "fell",
        72000.0,
        111600.0,
    )
    assert (record.coupon.failure_pattern, record.coupon.note) == ("adhesive", "clean tape")


def test_a_seen_fall_has_its_own_time(tmp_path: Path) -> None:
    """A fall that was seen earlier than it is written down keeps its own time, by clock or by stopwatch."""
    hung(tmp_path)
    start_hang(tmp_path, {**CELLS, "name": "H2"}, after())
    by_clock = end_hang(tmp_path, "H1", "fell", Seen(now=after(31).now, at=after(25).now))
    by_watch = end_hang(tmp_path, "H2", "fell", Seen(now=after(31).now, lasted_s=24.5 * 3600))

    assert by_clock.coupon is not None
    assert by_watch.coupon is not None
    assert (by_clock.coupon.lasted_s, by_watch.coupon.lasted_s) == (90000.0, 88200.0)


@pytest.mark.by_hand
def test_summer_time_does_not_count(tmp_path: Path) -> None:
    """From 12:00 at +01:00 to 12:00 at +02:00 the next day are 23 hours."""
    winter, summer = timezone(timedelta(hours=1)), timezone(timedelta(hours=2))
    start_hang(tmp_path, CELLS, Seen(now=datetime(2026, 3, 28, 12, 0, tzinfo=winter)))
    (record,) = look_hang(tmp_path, "H1", Seen(now=datetime(2026, 3, 29, 12, 0, tzinfo=summer)))

    assert record.coupon is not None
    assert record.coupon.lasted_s == 23 * 3600.0


@pytest.mark.parametrize(
    ("seen", "key", "rule"),
    [
        (Seen(now=after(30).now, at=after(31).now), "--at", "in the future"),
        (Seen(now=after(30).now, at=after(-1).now), "--at", "seen holding after"),
        (Seen(now=after(30).now, at=after(20).now), "--at", "seen holding after 20 h already"),
        (Seen(now=after(30).now, lasted_s=31 * 3600.0), "--lasted", "was hung only 30 h ago"),
        (Seen(now=after(30).now, lasted_s=20 * 3600.0), "--at", "seen holding after 20 h already"),
    ],
)
def test_times_that_cannot_be(tmp_path: Path, seen: Seen, key: str, rule: str) -> None:
    """A time in the future, before the hanging or before the last look is refused and writes nothing."""
    hung(tmp_path)
    look_hang(tmp_path, "H1", after(20))
    with pytest.raises(BadInput) as caught:
        end_hang(tmp_path, "H1", "fell", seen)

    assert refused(caught)[0] == key
    assert rule in refused(caught)[1]
    assert len(Logbook.read(tmp_path).events()) == 2


def test_zero_time_is_refused(tmp_path: Path) -> None:
    """A test that ends as it begins has shown nothing."""
    hung(tmp_path)
    with pytest.raises(BadInput, match="seen holding after 1 s"):
        end_hang(tmp_path, "H1", "fell", after())


def test_a_clock_that_went_backwards(tmp_path: Path) -> None:
    """A clock set back while a coupon hangs: refused; when corrected, the time must come from another watch."""
    hung(tmp_path)
    with pytest.raises(BadInput, match="the clock went backwards"):
        look_hang(tmp_path, "H1", Seen(now=NOON - timedelta(hours=5), lasted_s=3600.0))
    with pytest.raises(BadInput, match="set back since the coupon was hung"):
        look_hang(tmp_path, "H1", Seen(now=NOON - timedelta(hours=5), clock_corrected=True))
    look_hang(tmp_path, "H1", Seen(now=NOON - timedelta(hours=5), lasted_s=3600.0, clock_corrected=True))
    with pytest.raises(BadInput, match="set back since the coupon was hung"):
        look_hang(tmp_path, "H1", after(2))
    record = end_hang(tmp_path, "H1", "holding", Seen(now=after(2).now, lasted_s=7 * 3600.0))

    assert record.coupon is not None
    assert record.coupon.lasted_s == 7 * 3600.0
    assert [event.kind for event in Logbook.read(tmp_path).events()] == [
        "hang start",
        "clock",
        "hang look",
        "hang end",
    ]


@pytest.mark.parametrize(
    ("name", "rule"),
    [
        ("H9", "no coupon of that name hangs"),
        ("H1", "does not hang any more"),
        ("A1", "does not hang any more"),
    ],
)
def test_only_what_hangs_can_be_looked_at_or_ended(tmp_path: Path, name: str, rule: str) -> None:
    """A wrong name is answered with what hangs."""
    record_coupons(tmp_path, written(tmp_path, ROW.format("A1", "180 N")), after())
    hung(tmp_path)
    start_hang(tmp_path, {**CELLS, "name": "H2"}, after())
    end_hang(tmp_path, "H1", "holding", after(1))
    for attempt in (
        lambda: look_hang(tmp_path, name, after(2)),
        lambda: end_hang(tmp_path, name, "fell", after(2)),
    ):
        with pytest.raises(BadInput) as caught:
            attempt()
        assert refused(caught) == ("NAME", rule)
        assert caught.value.findings[0].hint == "what hangs: H2"


def test_looking_when_nothing_hangs(tmp_path: Path) -> None:
    """There is nothing to look at, and that is said."""
    with pytest.raises(BadInput, match="nothing hangs"):
        look_hang(tmp_path, None, after())


def test_a_name_hangs_once(tmp_path: Path) -> None:
    """A second coupon of the same name is refused."""
    hung(tmp_path)
    with pytest.raises(BadInput, match="has a coupon of that name"):
        hung(tmp_path)


def test_a_hanging_coupon_is_checked_as_a_row_is(tmp_path: Path) -> None:
    """All mistakes of the cells come at once, and no logbook is made for them."""
    with pytest.raises(BadInput) as caught:
        start_hang(tmp_path, {**CELLS, "load": "5 L", "area": "", "temperature": "40"}, after())

    assert {finding.key for finding in caught.value.findings} == {"load", "area", "temperature"}
    assert {finding.file for finding in caught.value.findings} == {"command line"}
    assert list(tmp_path.iterdir()) == []


def test_hung_in_the_future_is_refused(tmp_path: Path) -> None:
    """Nothing can be hung tomorrow."""
    with pytest.raises(BadInput, match="in the future"):
        start_hang(tmp_path, CELLS, Seen(now=NOON, at=after(1).now))


def test_spoiled_needs_a_reason(tmp_path: Path) -> None:
    """A spoiled test without a reason would be a dropped one."""
    hung(tmp_path)
    with pytest.raises(BadInput, match="needs its reason"):
        end_hang(tmp_path, "H1", "spoiled", after(1), note=" ")


def test_export_writes_both_files(tmp_path: Path) -> None:
    """The coupons and the whole logbook go where they were asked for."""
    hung(tmp_path)
    look_hang(tmp_path, None, after(1))
    files = export_records(tmp_path, tmp_path / "out")

    assert [path.name for path in files] == ["coupons.csv", "logbook.json"]
    assert all(path.is_file() for path in files)
    assert "H1,grey foam" in files[0].read_text(encoding="utf-8")


def test_mending_a_whole_logbook_does_nothing(tmp_path: Path) -> None:
    """Nothing lost, nothing written."""
    hung(tmp_path)

    assert mend_logbook(tmp_path, "why not", NOON) is None
    assert len(Logbook.read(tmp_path).events()) == 1
