"""The logbook of a job: what happened, in order, kept through crashes, never changed, never erased.

`logbook.sqlite` holds the entries, `logbook.head` how many there must be. Each call opens the file, does one
thing and closes it, so that between calls the folder holds no side file that a copy could forget.
"""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from staydown.evidence.build_coupons import build_coupons
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.foundation.errors import BadInput, LogbookDamaged, LogbookError
from staydown.foundation.findings import Finding
from staydown.storage.logbook_chain import Row, body_text, check_chain, next_row
from staydown.storage.logbook_head import EMPTY, Head, check_head, head_of, read_head, write_head
from staydown.storage.migrations import GUARDED_SINCE, GUARDS, migrate, version_of

_T = TypeVar("_T")
Entry = tuple[str, Mapping[str, Any]]
Decide = Callable[[tuple[Event, ...]], Sequence[Entry]]

FILE, HEAD_FILE = "logbook.sqlite", "logbook.head"
CLOCK = "clock"  # kind of the entry that says: from here on the clock was set back, and rightly so
MENDED = "mended"  # kind of the entry that says: entries before this one were lost, and somebody knows
WAIT_s = 10.0  # for another process that writes
CLOCK_TOLERANCE_s = 60.0  # two processes that write at once, or a clock trimmed over the network

_SELECT = "SELECT seq, at, kind, body, prev, hash FROM event ORDER BY seq"
_INSERT = "INSERT INTO event (seq, at, kind, body, prev, hash) VALUES (?, ?, ?, ?, ?, ?)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Logbook:
    """The logbook in a job's folder. Make one with `Logbook.open` (to write) or `Logbook.read`."""

    folder: Path
    writable: bool

    @classmethod
    def open(cls, folder: Path | str) -> Logbook:
        """Return the folder's logbook, made if there is none, upgraded if it is an older one.

        Raises
        ------
        LogbookError
            It cannot be written, is damaged, or was written by a newer version.
        """
        book = cls(folder=Path(folder), writable=True)
        with book._writing():
            pass
        return book

    @classmethod
    def read(cls, folder: Path | str) -> Logbook:
        """Return the folder's logbook for reading only; a folder without one reads as an empty one."""
        return cls(folder=Path(folder), writable=False)

    def append(
        self, kind: str, body: Mapping[str, Any], at: datetime, *, clock_corrected: bool = False
    ) -> Event:
        """Write one entry; when this returns it is on the disk. Errors as `append_decided`."""
        return self.append_many([(kind, body)], at, clock_corrected=clock_corrected)[-1]

    def append_many(
        self, entries: Sequence[Entry], at: datetime, *, clock_corrected: bool = False
    ) -> tuple[Event, ...]:
        """Write entries: all of them or, whatever happens, none. Errors as `append_decided`."""
        return self._append(lambda _: entries, at, clock_corrected)

    def append_decided(
        self, decide: Decide, at: datetime, *, clock_corrected: bool = False
    ) -> tuple[Event, ...]:
        """Write the entries that `decide` makes of all earlier ones, with nobody writing in between.

        Parameters
        ----------
        decide : function
            Takes all events, returns (kind, body) pairs; what it raises leaves the logbook as it was.
        at : datetime
            The present moment, with its time zone.
        clock_corrected : bool
            The clock was set back since the last entry, and it is right now. This is written down too.

        Raises
        ------
        BadInput
            `at` is earlier than the last entry.
        LogbookError
            It was opened for reading, cannot be written, or is damaged.
        """
        return self._append(lambda rows: decide(_events(rows)), at, clock_corrected)

    def events(self, kind: str | None = None) -> tuple[Event, ...]:
        """Return all entries in order, or those of one kind; the chain is checked on the way.

        Raises
        ------
        LogbookDamaged
            An entry is missing or was changed; the message names it.
        """
        return _events(row for row in self._checked_rows() if kind in (None, row.kind))

    def coupons(self) -> tuple[Coupon, ...]:
        """Return the coupons as they stand now: corrections applied, hanging ones holding until last seen."""
        return tuple(record.coupon for record in build_coupons(self.events()) if record.coupon is not None)

    def head(self) -> Head:
        """Return row count and last hash; printed in a report, they pin what the logbook held that day."""
        return head_of(self._checked_rows())

    def verify(self) -> Head:
        """Check everything: every hash, the head, the guards against erasing, the file's own structure.

        Raises
        ------
        LogbookDamaged
            Says what is wrong and in which row.
        """
        head = head_of(self._checked_rows())
        if self._path.exists():
            _read(self._path, _check_the_file)
        return head

    def mend(self, note: str, at: datetime) -> Event | None:
        """Accept that entries after the last one are lost, and write that down; None if nothing is lost.

        Only a lost tail or head can be accepted. An entry that was changed cannot: take a backup copy.

        Raises
        ------
        LogbookDamaged
            What remains does not close either.
        """
        with self._writing(trust_head=False) as (db, rows):
            try:
                check_head(read_head(self._head_path), rows)
            except LogbookDamaged as damage:
                body = {"damage": str(damage), "note": note, "rows_left": len(rows)}
                return _events(_insert(db, rows, [(MENDED, body)], stamp_of(at)))[0]
        return None

    @property
    def _path(self) -> Path:
        return self.folder / FILE

    @property
    def _head_path(self) -> Path:
        return self.folder / HEAD_FILE

    def _append(
        self, choose: Callable[[list[Row]], Sequence[Entry]], at: datetime, clock_corrected: bool
    ) -> tuple[Event, ...]:
        stamp = stamp_of(at)
        with self._writing() as (db, rows):
            clock = _clock_entry(rows, stamp, clock_corrected)
            entries = list(choose(rows))
            new = _insert(db, rows, [*clock, *entries] if entries else [], stamp)
        return _events(new)

    def _checked_rows(self) -> list[Row]:
        # the head first: whoever writes in between adds rows beyond it, and that is allowed
        head = read_head(self._head_path)
        if not self._path.exists():
            check_head(head, ())
            return []

        def checked(db: sqlite3.Connection) -> list[Row]:
            rows = [Row(*row) for row in db.execute(_SELECT)] if version_of(db) else []
            check_chain(rows)
            check_head(head, rows)
            return rows

        return _read(self._path, checked)

    @contextmanager
    def _writing(self, *, trust_head: bool = True) -> Iterator[tuple[sqlite3.Connection, list[Row]]]:
        """Give the connection and all rows inside one write transaction; then bring the head up to date."""
        if not self.writable:
            raise LogbookError("this logbook was opened for reading only")
        if not self.folder.is_dir():
            raise LogbookError(f"{self.folder} is not a folder")
        if trust_head and not self._path.exists():
            # a lost file must not be made anew in silence
            check_head(read_head(self._head_path) or EMPTY, ())
        with _explained(), closing(_connect(self._path)) as db:
            _keep_through_a_crash(db)
            with _transaction(db):
                if trust_head and version_of(db) == 0:
                    check_head(read_head(self._head_path) or EMPTY, ())
                migrate(db)
                rows = [Row(*row) for row in db.execute(_SELECT)]
                check_chain(rows)
                if trust_head:
                    check_head(read_head(self._head_path), rows)
                yield db, rows
            # a second, empty transaction keeps two processes from writing an older head over a newer one
            with _transaction(db):
                last = [Row(*row) for row in db.execute(f"{_SELECT} DESC LIMIT 1")]
                write_head(self._head_path, head_of(last))


def stamp_of(at: datetime) -> str:
    """Return a moment as the logbook writes it: UTC, to the second.

    Raises
    ------
    ValueError
        The moment has no time zone.

    Examples
    --------
    >>> from datetime import timezone, timedelta
    >>> stamp_of(datetime(2026, 5, 1, 10, 30, tzinfo=timezone(timedelta(hours=2))))
    '2026-05-01T08:30:00Z'
    """
    if at.tzinfo is None:
        raise ValueError(f"a moment needs its time zone, got {at}")
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def moment_of(stamp: str) -> datetime:
    """Return the moment that the logbook wrote."""
    return datetime.fromisoformat(stamp)


def _events(rows: Iterator[Row] | Sequence[Row]) -> tuple[Event, ...]:
    return tuple(
        Event(seq=row.seq, at=row.at, kind=row.kind, body=json.loads(row.body), hash=row.hash.hex())
        for row in rows
    )


def _clock_entry(rows: Sequence[Row], stamp: str, corrected: bool) -> list[Entry]:
    last = rows[-1].at if rows else stamp
    if (moment_of(last) - moment_of(stamp)).total_seconds() <= CLOCK_TOLERANCE_s:
        return []
    if corrected:
        return [(CLOCK, {"last_entry_at": last})]
    raise BadInput(
        [
            Finding(
                file=FILE,
                line=None,
                key="clock",
                value=stamp,
                rule=f"the clock went backwards: the last entry is of {last}",
                hint="set the clock; if it is right now and was wrong then, say --clock-corrected",
            )
        ]
    )


def _insert(db: sqlite3.Connection, rows: Sequence[Row], entries: Sequence[Entry], stamp: str) -> list[Row]:
    last, new = (rows[-1] if rows else None), []
    for kind, body in entries:
        last = next_row(last, stamp, kind, body_text(body))
        new.append(last)
    db.executemany(_INSERT, new)
    return new


def _connect(path: Path, how: str = "mode=rwc") -> sqlite3.Connection:
    return sqlite3.connect(
        f"{path.absolute().as_uri()}?{how}", uri=True, timeout=WAIT_s, isolation_level=None
    )


def _keep_through_a_crash(db: sqlite3.Connection) -> None:
    # FULL: with NORMAL a commit may vanish when the power fails (SQLite, "PRAGMA synchronous")
    db.execute("PRAGMA synchronous = FULL")
    give_up = time.monotonic() + WAIT_s
    while True:  # SQLite does not wait by itself when two processes switch a new file at once
        try:
            db.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() > give_up:
                raise
            time.sleep(0.005)


def _read(path: Path, take: Callable[[sqlite3.Connection], _T]) -> _T:
    """Return what `take` reads and checks, and leave the folder as it was.

    SQLite leaves side files even where it only reads. `immutable` does not, but it trusts that nobody writes:
    where its rows do not close, somebody may have, and the ordinary way of reading decides.
    """
    if not _is_being_written(path):
        with suppress(sqlite3.DatabaseError, LogbookDamaged), closing(_connect(path, "immutable=1")) as db:
            return take(db)
    with _explained(), closing(_connect(path, "mode=ro")) as db:
        return take(db)


def _is_being_written(path: Path) -> bool:
    """Whether a writer is at work or was killed at it: its side file holds something."""
    try:
        return path.with_name(path.name + "-wal").stat().st_size > 0
    except FileNotFoundError:
        return False


def _check_the_file(db: sqlite3.Connection) -> None:
    found = {name for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
    if version_of(db) >= GUARDED_SINCE and not found >= GUARDS:
        raise LogbookDamaged(f"logbook.sqlite: its guards {sorted(GUARDS - found)} were taken away")
    (answer,) = db.execute("PRAGMA integrity_check(1)").fetchone()
    if answer != "ok":
        raise LogbookDamaged(f"logbook.sqlite: {answer}")


@contextmanager
def _transaction(db: sqlite3.Connection) -> Iterator[None]:
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        if db.in_transaction:  # on a full disk SQLite has rolled back already
            db.execute("ROLLBACK")
        raise
    db.execute("COMMIT")


@contextmanager
def _explained() -> Iterator[None]:
    try:
        yield
    except sqlite3.DatabaseError as error:
        if getattr(error, "sqlite_errorcode", 0) & 0xFF in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
            raise LogbookDamaged(f"logbook.sqlite was cut or overwritten: {error}") from error
        raise LogbookError(f"logbook.sqlite cannot be used: {error}") from error
