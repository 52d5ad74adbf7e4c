"""What is exported can be read again, and says everything."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from staydown.evidence.build_coupons import build_coupons
from staydown.evidence.check_coupons import same_coupon
from staydown.storage.logbook import Logbook
from staydown.storage.read_coupons import read_coupons_csv
from staydown.storage.write_export import coupons_csv, logbook_json
from staydown.storage.write_whole import write_whole
from staydown.workbench.record import Seen, end_hang, look_hang, record_coupons, start_hang

NOON = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)
HEAD = "name,tape,surface,mode,result,load,area,lasted,temperature,dwell,failure_pattern,made_on,note,found,width,lever"
ROWS = f"""{HEAD}
A1,grey foam,gelcoat,tension,broke,180 N,25 mm x 25 mm,6 s,23 degC,72 h,cohesive,2026-04-01,,,,
A2,grey foam,gelcoat,shear,fell,5 L water,1 in x 1 in,31 h,104 degF,,mixed,2026-04-02,"bent, ""slowly"", fell",20 h,,
A3,grey foam,gelcoat,peel,spoiled,9 lb,,1 h 30 min,23 degC,,,,the lamp slipped,,1 in,
A4,grey foam,gelcoat,cleavage,holding,12 kg,6 cm^2,10 days,14 °F,,,,,,,12 mm
"""
HUNG = {
    "tape": "grey foam",
    "surface": "gelcoat",
    "mode": "shear",
    "load": "1 US gal water",
    "area": "24.5 mm x 25.5 mm",
    "temperature": "40 degC",
    "note": "second shelf",
}


def filled(folder: Path) -> Logbook:
    """Return a logbook with coupons of every kind, from a file and hung."""
    file = folder / "rows.csv"
    file.write_text(ROWS, encoding="utf-8")
    record_coupons(folder, file, Seen(now=NOON))
    for name in ("H1", "H2", "H3", "H4"):
        start_hang(folder, {"name": name, **HUNG}, Seen(now=NOON))
    look_hang(folder, "H1", Seen(now=NOON + timedelta(seconds=12345)))
    look_hang(folder, "H2", Seen(now=NOON + timedelta(hours=7)))
    end_hang(folder, "H2", "found", Seen(now=NOON + timedelta(hours=9)), failure_pattern="adhesive")
    end_hang(folder, "H3", "spoiled", Seen(now=NOON + timedelta(hours=9)), note="kicked")
    return Logbook.read(folder)


@pytest.mark.independent
def test_exported_coupons_are_the_coupons(tmp_path: Path) -> None:
    """Reading the exported CSV gives the coupons of the logbook back; one that nobody has seen holding is left out."""
    book = filled(tmp_path)
    path = tmp_path / "exported.csv"
    path.write_text(coupons_csv(build_coupons(book.events())), encoding="utf-8")
    again = read_coupons_csv(path, today=date(2026, 5, 3))

    assert [coupon.name for coupon in again] == ["A1", "A2", "A3", "A4", "H1", "H2", "H3"]
    assert len(again) == len(book.coupons())
    for ours, theirs in zip(book.coupons(), again, strict=True):
        assert same_coupon(ours, theirs), ours.name


def test_an_export_is_known_already(tmp_path: Path) -> None:
    """Recording an export into the logbook that it came from adds nothing; into an empty one, everything."""
    book = filled(tmp_path)
    path = tmp_path / "exported.csv"
    path.write_text(coupons_csv(build_coupons(book.events())), encoding="utf-8")
    (tmp_path / "new").mkdir()
    here = record_coupons(tmp_path, path, Seen(now=NOON + timedelta(days=2)))
    there = record_coupons(tmp_path / "new", path, Seen(now=NOON + timedelta(days=2)))

    assert (len(here.recorded), len(here.already)) == (0, 7)
    assert (len(there.recorded), len(there.already)) == (7, 0)
    assert Logbook.read(tmp_path).verify() == book.verify()


def test_cells_are_exported_as_they_were_typed(tmp_path: Path) -> None:
    """Somebody who typed litres and inches finds litres and inches."""
    text = coupons_csv(build_coupons(filled(tmp_path).events()))

    assert "A2,grey foam,gelcoat,shear,fell,5 L water,1 in x 1 in,31 h,104 degF" in text
    assert "H2,grey foam,gelcoat,shear,fell,1 US gal water,24.5 mm x 25.5 mm,32400 s,40 degC" in text


def test_every_entry_is_exported(tmp_path: Path) -> None:
    """The JSON has all entries with their bodies, corrections and looks too."""
    book = filled(tmp_path)
    told = json.loads(logbook_json(book.events()))

    assert told["format"] == "staydown-logbook-1"
    assert told["rows"] == len(told["events"]) == book.head().rows
    assert [event["body"] for event in told["events"]] == [event.body for event in book.events()]
    assert told["events"][-1]["hash"] == book.head().hash


def test_an_export_replaces_the_older_one_whole(tmp_path: Path) -> None:
    """A new export takes the old one's place, makes its folder, and leaves nothing beside it."""
    path = tmp_path / "out" / "coupons.csv"
    for text in ("long and older\n" * 100, "new\n"):
        write_whole(path, text.encode())

        assert path.read_text(encoding="utf-8") == text
    assert list(path.parent.iterdir()) == [path]
