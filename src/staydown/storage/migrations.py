"""The logbook's tables, made and upgraded by named steps.

A step adds tables, indexes and guards; none may touch a row, or the chain of hashes would no longer close.
The file's user_version counts the steps that it has had. Steps are added at the end and never edited.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from staydown.foundation.errors import LogbookDamaged, LogbookTooNew

APPLICATION_ID = 0x53544459  # "STDY": tells our files from other people's SQLite files


@dataclass(frozen=True, slots=True, kw_only=True)
class Migration:
    """One step: what it brings, and its statements."""

    name: str
    statements: tuple[str, ...]


MIGRATIONS = (
    Migration(
        name="entries",
        statements=(
            f"PRAGMA application_id = {APPLICATION_ID}",
            """CREATE TABLE event (
                 seq INTEGER PRIMARY KEY,
                 at TEXT NOT NULL,
                 kind TEXT NOT NULL,
                 body TEXT NOT NULL CHECK (json_valid(body)),
                 prev BLOB NOT NULL CHECK (length(prev) = 32),
                 hash BLOB NOT NULL CHECK (length(hash) = 32)
               ) STRICT""",
        ),
    ),
    Migration(
        name="nothing is changed or erased",
        statements=(
            """CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
               BEGIN SELECT RAISE(ABORT, 'the logbook is append-only: an entry is never changed'); END""",
            """CREATE TRIGGER event_is_never_erased BEFORE DELETE ON event
               BEGIN SELECT RAISE(ABORT, 'the logbook is append-only: an entry is never erased'); END""",
            # REPLACE erases without firing the trigger above, so a row may only ever be the next one
            """CREATE TRIGGER event_follows_the_last BEFORE INSERT ON event
               WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM event)
                 OR (NEW.seq > 1 AND NEW.prev IS NOT (SELECT hash FROM event WHERE seq = NEW.seq - 1))
               BEGIN SELECT RAISE(ABORT, 'the logbook is append-only: an entry follows the last one'); END""",
        ),
    ),
    Migration(name="entries by kind", statements=("CREATE INDEX event_by_kind ON event (kind, seq)",)),
)
GUARDS = frozenset({"event_is_never_changed", "event_is_never_erased", "event_follows_the_last"})
GUARDED_SINCE = 2  # version from which a logbook has these guards


def version_of(db: sqlite3.Connection) -> int:
    """Return how many steps the file has had.

    Raises
    ------
    LogbookTooNew
        It has had steps that this version of staydown does not know.
    LogbookDamaged
        It is an SQLite file, but no logbook.
    """
    version = int(db.execute("PRAGMA user_version").fetchone()[0])
    is_ours = db.execute("PRAGMA application_id").fetchone()[0] == APPLICATION_ID
    is_empty = db.execute("SELECT count(*) FROM sqlite_master").fetchone()[0] == 0
    if not is_ours and not (version == 0 and is_empty):
        raise LogbookDamaged("logbook.sqlite is an SQLite file of another program, not a logbook")
    if version > len(MIGRATIONS):
        raise LogbookTooNew(
            f"logbook.sqlite has version {version}, this staydown knows up to {len(MIGRATIONS)}: "
            "it was written by a newer one; use that"
        )
    return version


def migrate(db: sqlite3.Connection) -> None:
    """Bring the file to the newest version: all missing steps or, where one fails, none.

    Call it inside a write transaction.
    """
    for done, step in enumerate(MIGRATIONS[version_of(db) :], start=version_of(db) + 1):
        for statement in step.statements:
            db.execute(statement)
        db.execute(f"PRAGMA user_version = {done}")
