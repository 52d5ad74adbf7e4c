"""The chain of hashes: each entry's hash covers the hash before it, so none can change or go unseen."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from staydown.foundation.errors import LogbookDamaged

NOTHING_BEFORE = bytes(32)


class Row(NamedTuple):
    """An entry as it stands in the file; a tuple, as the database gives and takes it."""

    seq: int
    at: str
    kind: str
    body: str
    prev: bytes
    hash: bytes


def body_text(body: Mapping[str, Any]) -> str:
    """Return the one spelling of a body that is stored and hashed; NaN and infinity are refused."""
    return json.dumps(body, sort_keys=True, separators=(",", ":"), allow_nan=False)


def link(prev: bytes, at: str, kind: str, body: str) -> bytes:
    """Return the hash of an entry: SHA-256 of the hash before it, then time, kind and body on a line each."""
    return hashlib.sha256(prev + f"{at}\n{kind}\n{body}".encode()).digest()


def next_row(last: Row | None, at: str, kind: str, body: str) -> Row:
    """Return the row that follows the last one.

    Raises
    ------
    ValueError
        The kind is empty or has a line break, which would let two entries share a hash.
    """
    if not kind or "\n" in kind:
        raise ValueError(f"an entry's kind is one line of text, got {kind!r}")
    prev = last.hash if last else NOTHING_BEFORE
    return Row(last.seq + 1 if last else 1, at, kind, body, prev, link(prev, at, kind, body))


def check_chain(rows: Iterable[Row]) -> None:
    """Check that the rows are all there, in order, and as they were written.

    Raises
    ------
    LogbookDamaged
        Names the first row where it is not so.
    """
    prev = NOTHING_BEFORE
    for expected, row in enumerate(rows, start=1):
        if row.seq != expected:
            raise LogbookDamaged(
                f"logbook.sqlite: row {expected} is missing (row {row.seq} follows {expected - 1})"
            )
        if row.prev != prev:
            raise LogbookDamaged(
                f"logbook.sqlite: row {expected} does not follow row {expected - 1}: one of them was replaced"
            )
        if row.hash != link(prev, row.at, row.kind, row.body):
            raise LogbookDamaged(
                f"logbook.sqlite: row {expected} ({row.kind}, {row.at}) was changed after it was written"
            )
        prev = row.hash
