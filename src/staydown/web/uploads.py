"""Tables that were handed in and wait for a yes: held in memory under a word that nobody guesses, a few at a time."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from staydown.workbench.coupon_table import CouponTable

MOST_WAITING = 16  # of all jobs; the oldest goes first


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A table that was looked at, of which job, and its content, to be looked at again."""

    job: str
    name: str
    content: bytes
    table: CouponTable


class Uploads:
    """What was handed in and is neither recorded nor forgotten."""

    def __init__(self) -> None:
        self._waiting: dict[str, Waiting] = {}

    def put(self, waiting: Waiting, token: str = "") -> str:
        """Keep a table and return the word under which it is found."""
        token = token or secrets.token_urlsafe(12)
        self._waiting[token] = waiting
        while len(self._waiting) > MOST_WAITING:
            del self._waiting[next(iter(self._waiting))]
        return token

    def get(self, token: str, job: str) -> Waiting | None:
        """Return a table of a job, None where it is gone."""
        found = self._waiting.get(token)
        return found if found is not None and found.job == job else None

    def drop(self, token: str) -> None:
        """Forget a table."""
        self._waiting.pop(token, None)
