"""The logbook keeps every entry, in order, as written; and says so when it cannot."""

from __future__ import annotations

import hashlib
import json
import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from staydown.foundation.errors import BadInput, LogbookDamaged, LogbookError
from staydown.storage.logbook import Logbook, stamp_of
from staydown.storage.logbook_head import EMPTY, read_head
from staydown.storage.write_export import logbook_json

NOON = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)
FILE, HEAD = "logbook.sqlite", "logbook.head"


def filled(folder: Path, count: int = 5) -> Logbook:
    """Return a logbook with some trips."""
    book = Logbook.open(folder)
    for number in range(count):
        book.append("trip", {"number": number}, NOON + timedelta(hours=number))
    return book


def raw(folder: Path) -> sqlite3.Connection:
    """Return a connection past our code, as somebody with another tool would have it."""
    return sqlite3.connect(folder / FILE, isolation_level=None)


def without_guards(folder: Path, *statements: str) -> None:
    """Change the file as somebody would who first takes the guards away, and puts them back."""
    with closing(raw(folder)) as db:
        guards = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            db.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            db.execute(statement)
        for _, sql in guards:
            db.execute(sql)


def test_entries_come_back_in_order(tmp_path: Path) -> None:
    """What is appended is read again, by kind or all, with its place and moment."""
    book = filled(tmp_path, 2)
    book.append("inspection", {"creep_m": 1e-4}, NOON + timedelta(days=1))

    assert [event.seq for event in book.events()] == [1, 2, 3]
    assert [event.body for event in book.events("trip")] == [{"number": 0}, {"number": 1}]
    assert book.events("inspection")[0].at == "2026-05-02T12:00:00Z"


def test_a_moment_is_written_in_utc() -> None:
    """Two clocks in two time zones that show the same moment write the same text."""
    assert stamp_of(datetime(2026, 5, 1, 14, 0, tzinfo=timezone(timedelta(hours=2)))) == stamp_of(NOON)
    with pytest.raises(ValueError, match="time zone"):
        stamp_of(datetime(2026, 5, 1))


def test_a_folder_without_logbook_reads_as_empty(tmp_path: Path) -> None:
    """No logbook, no coupons; and reading makes none."""
    book = Logbook.read(tmp_path)

    assert book.coupons() == ()
    assert book.verify() == EMPTY
    assert list(tmp_path.iterdir()) == []


def test_reading_leaves_the_folder_as_it_was(tmp_path: Path) -> None:
    """`check` writes nothing: no side file, no changed time."""
    filled(tmp_path)
    before = {path.name: (path.stat().st_size, path.stat().st_mtime_ns) for path in tmp_path.iterdir()}
    Logbook.read(tmp_path).verify()

    assert {p.name: (p.stat().st_size, p.stat().st_mtime_ns) for p in tmp_path.iterdir()} == before
    assert set(before) == {FILE, HEAD}


def test_a_logbook_for_reading_cannot_be_written(tmp_path: Path) -> None:
    """`Logbook.read` gives nothing that writes."""
    with pytest.raises(LogbookError, match="reading only"):
        Logbook.read(tmp_path).append("trip", {}, NOON)
    with pytest.raises(LogbookError, match="reading only"):
        Logbook.read(tmp_path).mend("please", NOON)


@pytest.mark.parametrize(
    ("statement", "why"),
    [
        ("UPDATE event SET body = '{}' WHERE seq = 2", "never changed"),
        ("DELETE FROM event WHERE seq = 5", "never erased"),
        ("DELETE FROM event", "never erased"),
        (
            "INSERT OR REPLACE INTO event SELECT 5, at, kind, '{}', prev, hash FROM event WHERE seq = 5",
            "follows",
        ),
        ("REPLACE INTO event SELECT 2, at, kind, '{}', prev, hash FROM event WHERE seq = 2", "follows"),
        ("INSERT INTO event SELECT 9, at, kind, body, prev, hash FROM event WHERE seq = 5", "follows"),
        ("INSERT INTO event SELECT 6, at, kind, body, prev, hash FROM event WHERE seq = 5", "follows"),
    ],
)
def test_nothing_is_changed_or_erased(tmp_path: Path, statement: str, why: str) -> None:
    """The file itself refuses to change, erase, replace or misplace an entry, whoever asks."""
    filled(tmp_path)
    with closing(raw(tmp_path)) as db, pytest.raises(sqlite3.IntegrityError, match=why):
        db.execute(statement)

    assert Logbook.read(tmp_path).verify().rows == 5


@pytest.mark.independent
def test_the_chain_is_what_the_export_says(tmp_path: Path) -> None:
    """SHA-256 recomputed from the exported JSON by the rule printed there gives every hash."""
    book = filled(tmp_path)
    before = bytes(32)
    for event in json.loads(logbook_json(book.events()))["events"]:
        body = json.dumps(event["body"], sort_keys=True, separators=(",", ":"))
        before = hashlib.sha256(before + f"{event['at']}\n{event['kind']}\n{body}".encode("ascii")).digest()

        assert event["hash"] == before.hex()
    assert read_head(tmp_path / HEAD) == book.head()


@pytest.mark.parametrize(
    ("statement", "why"),
    [
        ("UPDATE event SET body = '{\"number\":7}' WHERE seq = 3", "row 3 .* was changed"),
        ("UPDATE event SET at = '2026-05-01T12:00:01Z' WHERE seq = 1", "row 1 .* was changed"),
        ("UPDATE event SET kind = 'event' WHERE seq = 5", "row 5 .* was changed"),
        ("DELETE FROM event WHERE seq = 2", "row 2 is missing"),
        ("DELETE FROM event WHERE seq = 5", "ends at row 4, logbook.head says 5: the last 1"),
        ("DELETE FROM event", "ends at row 0, logbook.head says 5"),
        ("UPDATE event SET hash = prev WHERE seq = 4", "row 4 .* was changed"),
    ],
)
def test_whoever_takes_the_guards_away_is_found_out(tmp_path: Path, statement: str, why: str) -> None:
    """A change past the guards breaks the chain, and the first row that does not fit is named."""
    book = filled(tmp_path)
    without_guards(tmp_path, statement)

    with pytest.raises(LogbookDamaged, match=why):
        book.events()
    with pytest.raises(LogbookDamaged, match=why):
        book.append("trip", {}, NOON + timedelta(days=1))


def test_a_replaced_row_with_a_good_hash_breaks_the_next(tmp_path: Path) -> None:
    """A forged row whose own hash is right no longer carries the row after it."""
    filled(tmp_path)
    with closing(raw(tmp_path)) as db:
        at, prev = db.execute("SELECT at, prev FROM event WHERE seq = 3").fetchone()
    forged = hashlib.sha256(prev + f"{at}\ntrip\n{{}}".encode()).hexdigest()
    without_guards(tmp_path, f"UPDATE event SET body = '{{}}', hash = x'{forged}' WHERE seq = 3")

    with pytest.raises(LogbookDamaged, match="row 4 does not follow row 3"):
        Logbook.read(tmp_path).events()


def test_missing_guards_are_noticed(tmp_path: Path) -> None:
    """`verify` tells that somebody has taken a guard away, though no row has changed yet."""
    filled(tmp_path)
    with closing(raw(tmp_path)) as db:
        db.execute("DROP TRIGGER event_is_never_erased")

    with pytest.raises(LogbookDamaged, match="event_is_never_erased"):
        Logbook.read(tmp_path).verify()


@pytest.mark.parametrize("share", [0.0, 0.02, 0.5, 0.9])
def test_a_cut_file_is_noticed(tmp_path: Path, share: float) -> None:
    """A file that lost its end, or all of itself, is damaged; it is not taken for an empty logbook."""
    book = filled(tmp_path, 200)
    whole = (tmp_path / FILE).read_bytes()
    (tmp_path / FILE).write_bytes(whole[: int(len(whole) * share)])

    with pytest.raises(LogbookDamaged):
        book.events()
    with pytest.raises(LogbookDamaged):
        Logbook.open(tmp_path)


def test_every_single_flipped_byte_of_the_rows_is_noticed(tmp_path: Path) -> None:
    """A byte that the disk spoiled inside an entry never passes."""
    filled(tmp_path, 3)
    whole = bytearray((tmp_path / FILE).read_bytes())
    at = whole.index(b'{"number":1}')
    for offset in range(12):
        spoiled = bytearray(whole)
        spoiled[at + offset] ^= 1
        (tmp_path / FILE).write_bytes(spoiled)

        with pytest.raises(LogbookDamaged, match="row 2"):
            Logbook.read(tmp_path).events()


def test_a_vanished_file_is_noticed(tmp_path: Path) -> None:
    """A head without its logbook is a loss, and no new logbook is made over it."""
    filled(tmp_path)
    (tmp_path / FILE).unlink()

    with pytest.raises(LogbookDamaged, match=r"ends at row 0, logbook\.head says 5"):
        Logbook.read(tmp_path).events()
    with pytest.raises(LogbookDamaged, match="ends at row 0"):
        Logbook.open(tmp_path)
    assert not (tmp_path / FILE).exists()


def test_an_older_copy_is_noticed(tmp_path: Path) -> None:
    """Putting an older, in itself sound copy of the logbook in place loses its tail, and shows."""
    book = filled(tmp_path, 3)
    shutil.copy(tmp_path / FILE, tmp_path / "older")
    book.append("trip", {}, NOON + timedelta(days=1))
    shutil.copy(tmp_path / "older", tmp_path / FILE)

    with pytest.raises(LogbookDamaged, match=r"ends at row 3, logbook\.head says 4"):
        book.events()


def test_another_logbook_is_noticed(tmp_path: Path) -> None:
    """A longer logbook of another job does not pass for this one."""
    (tmp_path / "other").mkdir()
    book = filled(tmp_path, 3)
    other = Logbook.open(tmp_path / "other")
    for _ in range(6):
        other.append("bonding", {}, NOON)
    shutil.copy(tmp_path / "other" / FILE, tmp_path / FILE)

    with pytest.raises(LogbookDamaged, match="row 3 is not the one"):
        book.events()


def test_a_crash_before_the_head_was_written_is_no_loss(tmp_path: Path) -> None:
    """Rows that chain on beyond an older head are accepted, and the next writer brings the head up to date."""
    book = filled(tmp_path, 3)
    older = (tmp_path / HEAD).read_bytes()
    book.append("trip", {"number": 3}, NOON + timedelta(hours=3))
    (tmp_path / HEAD).write_bytes(older)
    read = Logbook.read(tmp_path).events()

    assert len(read) == 4
    assert (tmp_path / HEAD).read_bytes() == older, "reading writes nothing"
    Logbook.open(tmp_path)
    head = read_head(tmp_path / HEAD)
    assert head is not None
    assert head.rows == 4


@pytest.mark.parametrize(
    "text", [None, "", "rows 5", '{"rows": 5}', "[]", '{"format": "other", "rows": 5, "hash": ""}']
)
def test_a_spoiled_head_is_noticed(tmp_path: Path, text: str | None) -> None:
    """A head that is missing or cannot be understood is not made anew in silence."""
    book = filled(tmp_path)
    if text is None:
        (tmp_path / HEAD).unlink()
    else:
        (tmp_path / HEAD).write_text(text)

    with pytest.raises(LogbookDamaged, match=r"logbook\.head"):
        book.events()
    with pytest.raises(LogbookDamaged, match=r"logbook\.head"):
        Logbook.open(tmp_path)


def test_a_loss_can_be_accepted_and_stays_written_down(tmp_path: Path) -> None:
    """`mend` goes on after a lost tail, with an entry that says what was lost; a whole logbook it leaves alone."""
    book = filled(tmp_path)
    assert book.mend("nothing", NOON) is None
    without_guards(tmp_path, "DELETE FROM event WHERE seq > 3")
    entry = book.mend("the card was pulled out too early", NOON + timedelta(days=1))

    assert entry is not None
    assert entry.seq == 4
    assert "the last 2 entries are lost" in entry.body["damage"]
    assert Logbook.read(tmp_path).verify().rows == 4


def test_a_changed_entry_cannot_be_mended(tmp_path: Path) -> None:
    """Only a lost tail can be accepted."""
    book = filled(tmp_path)
    without_guards(tmp_path, "UPDATE event SET body = '{}' WHERE seq = 3")

    with pytest.raises(LogbookDamaged, match="row 3"):
        book.mend("please", NOON)


def test_many_are_written_or_none(tmp_path: Path) -> None:
    """One entry that cannot be written keeps the others out."""
    book = filled(tmp_path, 1)
    with pytest.raises(ValueError, match="Out of range float"):
        book.append_many([("trip", {"m": 1.0}), ("trip", {"m": float("nan")})], NOON)
    with pytest.raises(ValueError, match="one line"):
        book.append_many([("trip", {}), ("trip\nfalse", {})], NOON)

    assert len(book.events()) == 1
    assert [event.seq for event in book.append_many([("a", {}), ("b", {})], NOON)] == [2, 3]


def test_what_decide_raises_leaves_the_logbook_as_it_was(tmp_path: Path) -> None:
    """A decision sees all entries before it, and its refusal writes nothing."""
    book = filled(tmp_path, 2)
    seen = []

    def decide(events: tuple[object, ...]) -> list[tuple[str, dict[str, int]]]:
        seen.append(len(events))
        raise KeyError("refused")

    with pytest.raises(KeyError):
        book.append_decided(decide, NOON + timedelta(days=1))
    assert seen == [2]
    assert Logbook.read(tmp_path).verify().rows == 2


def test_a_clock_that_went_backwards_is_refused(tmp_path: Path) -> None:
    """An entry cannot be older than the one before it, by more than two clocks may differ."""
    book = filled(tmp_path, 1)
    book.append("trip", {}, NOON - timedelta(seconds=59))
    with pytest.raises(
        BadInput, match="the clock went backwards: the last entry is of 2026-05-01T11:59:01Z"
    ) as caught:
        book.append("trip", {}, NOON - timedelta(hours=1))

    assert caught.value.findings[0].key == "clock"
    assert caught.value.findings[0].value == "2026-05-01T11:00:00Z"
    assert len(book.events()) == 2


def test_a_corrected_clock_is_written_down(tmp_path: Path) -> None:
    """Whoever says that the clock is right now goes on, with an entry that tells of the step back."""
    book = filled(tmp_path, 1)
    book.append("trip", {}, NOON - timedelta(days=365), clock_corrected=True)
    book.append("trip", {}, NOON - timedelta(days=364), clock_corrected=True)

    assert [event.kind for event in book.events()] == ["trip", "clock", "trip", "trip"]
    assert book.events("clock")[0].body == {"last_entry_at": "2026-05-01T12:00:00Z"}


def test_a_foreign_file_is_left_alone(tmp_path: Path) -> None:
    """A database of another program under our name is neither read nor written."""
    with closing(raw(tmp_path)) as db:
        db.execute("CREATE TABLE songs (title TEXT)")

    with pytest.raises(LogbookDamaged, match="another program"):
        Logbook.open(tmp_path)
    (tmp_path / FILE).write_text("no database at all, but long enough to look at, " * 20)
    with pytest.raises(LogbookDamaged, match="cut or overwritten"):
        Logbook.read(tmp_path).events()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    """A logbook is made in a folder, not with one."""
    with pytest.raises(LogbookError, match="not a folder"):
        Logbook.open(tmp_path / "nowhere")


def test_another_writer_is_waited_for_and_then_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another program holds the file, ours says so instead of writing past it."""
    monkeypatch.setattr("staydown.storage.logbook.WAIT_s", 0.05)
    book = filled(tmp_path, 1)
    with closing(raw(tmp_path)) as db:
        db.execute("BEGIN IMMEDIATE")
        with pytest.raises(LogbookError, match="locked"):
            book.append("trip", {}, NOON)
        db.execute("ROLLBACK")

    assert len(book.events()) == 1
