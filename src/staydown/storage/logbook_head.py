"""`logbook.head`: how many entries there are and the last one's hash, so that a lost tail is noticed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from staydown.foundation.counted import counted
from staydown.foundation.errors import LogbookDamaged
from staydown.storage.logbook_chain import NOTHING_BEFORE, Row
from staydown.storage.write_whole import write_whole

HEAD_FORMAT = "staydown-logbook-head-1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """Row count and hash of the last row, in hexadecimal. Two heads that agree have the same entries."""

    rows: int
    hash: str


EMPTY = Head(rows=0, hash=NOTHING_BEFORE.hex())


def head_of(rows: Sequence[Row]) -> Head:
    """Return the head of these rows."""
    return Head(rows=rows[-1].seq, hash=rows[-1].hash.hex()) if rows else EMPTY


def read_head(path: Path) -> Head | None:
    """Return what the file says, or None where there is no file.

    Raises
    ------
    LogbookDamaged
        The file is there but cannot be understood.
    """
    try:
        said = json.loads(path.read_text(encoding="ascii"))
        head = Head(rows=int(said["rows"]), hash=str(said["hash"]))
    except FileNotFoundError:
        return None
    except (ValueError, KeyError, TypeError) as error:
        raise LogbookDamaged("logbook.head cannot be understood: it was edited or cut") from error
    if said.get("format") != HEAD_FORMAT:
        raise LogbookDamaged(f"logbook.head has format {said.get('format')!r}, not {HEAD_FORMAT!r}")
    return head


def write_head(path: Path, head: Head) -> None:
    """Write the file so that after a crash the old or the new one is there, never half of one."""
    text = json.dumps({"format": HEAD_FORMAT, "rows": head.rows, "hash": head.hash}) + "\n"
    write_whole(path, text.encode("ascii"))


def check_head(head: Head | None, rows: Sequence[Row]) -> None:
    """Check that the rows go at least as far as the head says, and through the same entry.

    Rows beyond the head are accepted: they chain on, and a crash between the two writes leaves them so.

    Raises
    ------
    LogbookDamaged
        Entries are missing, were replaced, or there is no head although there are entries.
    """
    if head is None:
        if rows:
            raise LogbookDamaged(
                f"logbook.head is missing beside {counted(len(rows), 'entry', 'entries')}: "
                "later ones may have been lost"
            )
    elif head.rows > len(rows):
        raise LogbookDamaged(
            f"logbook.sqlite ends at row {len(rows)}, logbook.head says {head.rows}: "
            f"the last {counted(head.rows - len(rows), 'entry is', 'entries are')} lost "
            "(a copy without its logbook.sqlite-wal?)"
        )
    elif head.hash != head_of(rows[: head.rows]).hash:
        raise LogbookDamaged(f"logbook.sqlite: row {head.rows} is not the one that logbook.head stands for")
