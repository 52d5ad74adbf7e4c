"""Older logbooks are upgraded by named steps, newer ones are left alone."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.foundation.errors import LogbookTooNew
from staydown.storage.logbook import Logbook
from staydown.storage.logbook_chain import body_text, next_row
from staydown.storage.logbook_head import EMPTY, head_of, write_head
from staydown.storage.migrations import GUARDS, MIGRATIONS, Migration, migrate, version_of

NOON = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)


def connect(folder: Path) -> sqlite3.Connection:
    """Return a connection past our code."""
    return sqlite3.connect(folder / "logbook.sqlite", isolation_level=None)


def older(folder: Path, version: int) -> None:
    """Make a logbook as that version left it, with two entries."""
    with closing(connect(folder)) as db:
        for step in MIGRATIONS[:version]:
            for statement in step.statements:
                db.execute(statement)
        db.execute(f"PRAGMA user_version = {version}")
        first = next_row(None, "2026-04-01T08:00:00Z", "trip", body_text({"n": 1}))
        rows = [first, next_row(first, "2026-04-02T08:00:00Z", "trip", body_text({"n": 2}))]
        db.executemany("INSERT INTO event VALUES (?, ?, ?, ?, ?, ?)", rows)
    write_head(folder / "logbook.head", head_of(rows))


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS)))
def test_an_older_logbook_is_upgraded_and_keeps_its_rows(tmp_path: Path, version: int) -> None:
    """Every older version gets the missing steps; its entries and their chain stay as they were."""
    older(tmp_path, version)
    before = Logbook.read(tmp_path).events()
    book = Logbook.open(tmp_path)
    book.append("trip", {"n": 3}, NOON)

    assert book.events()[:2] == before
    assert [event.body["n"] for event in book.events()] == [1, 2, 3]
    assert book.verify().rows == 3
    with closing(connect(tmp_path)) as db:
        assert version_of(db) == len(MIGRATIONS)
        assert {
            name for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        } == GUARDS


def test_reading_an_older_logbook_does_not_upgrade_it(tmp_path: Path) -> None:
    """`check` writes nothing, not even an upgrade."""
    older(tmp_path, 1)
    Logbook.read(tmp_path).verify()

    with closing(connect(tmp_path)) as db:
        assert version_of(db) == 1


def test_a_step_that_fails_leaves_the_older_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Steps go in together or not at all."""
    older(tmp_path, 1)
    broken = (
        *MIGRATIONS,
        Migration(name="broken", statements=("CREATE TABLE half (a)", "CREATE TABLE event (a)")),
    )
    monkeypatch.setattr("staydown.storage.migrations.MIGRATIONS", broken)
    with pytest.raises(Exception, match="already exists"):
        Logbook.open(tmp_path)

    with closing(connect(tmp_path)) as db:
        assert db.execute("PRAGMA user_version").fetchone() == (1,)
        assert db.execute("SELECT count(*) FROM sqlite_master WHERE name = 'half'").fetchone() == (0,)
    assert len(Logbook.read(tmp_path).events()) == 2


def test_a_newer_logbook_is_refused_and_left_alone(tmp_path: Path) -> None:
    """What a newer version wrote is neither read nor written."""
    Logbook.open(tmp_path)
    with closing(connect(tmp_path)) as db:
        db.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")

    with pytest.raises(LogbookTooNew, match="newer"):
        Logbook.open(tmp_path)
    with pytest.raises(LogbookTooNew, match="newer"):
        Logbook.read(tmp_path).events()


def test_migrating_twice_changes_nothing(tmp_path: Path) -> None:
    """A logbook that is up to date stays byte for byte the same."""
    Logbook.open(tmp_path)
    before = (tmp_path / "logbook.sqlite").read_bytes()
    with closing(connect(tmp_path)) as db:
        migrate(db)
    Logbook.open(tmp_path)

    assert (tmp_path / "logbook.sqlite").read_bytes() == before
    assert Logbook.read(tmp_path).verify() == EMPTY


def test_steps_have_names_of_their_own() -> None:
    """Each step can be told from the others."""
    names = [step.name for step in MIGRATIONS]

    assert len(set(names)) == len(names)
