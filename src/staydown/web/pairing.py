"""Lets one phone in: a code that is good once and for a few minutes, and the sessions that came of it."""

from __future__ import annotations

import hashlib
import hmac
import secrets
from collections import deque
from collections.abc import Callable

ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # without what looks alike: I and 1, O and 0
LENGTH = 8  # 32**8 codes
CODE_LASTS_s = 300.0
SESSION_LASTS_s = 12 * 3600.0
MOST_WRONG = 5  # of one code: then it is void
TRIES, TRIES_WITHIN_s = 10, 60.0  # of all codes together


class Pairing:
    """Codes and sessions, in memory only: they end with the program."""

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._code = ""
        self._until = 0.0
        self._wrong = 0
        self._tries: deque[float] = deque()
        self._sessions: dict[str, float] = {}

    def code(self) -> tuple[str, float]:
        """Return the code that is good now and for how long; a new one where the old is used, void or too old. [s]"""
        if not self._good():
            self._code = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
            self._until = self._clock() + CODE_LASTS_s
            self._wrong = 0
        return self._code, self._until - self._clock()

    def pair(self, typed: str) -> str | None:
        """Return a session for the right code, which is used up by it; None for a wrong one.

        Raises
        ------
        TooMany
            Too many were tried of late: this one was not looked at.
        """
        now = self._clock()
        while self._tries and now - self._tries[0] > TRIES_WITHIN_s:
            self._tries.popleft()
        if len(self._tries) >= TRIES:
            raise TooMany
        self._tries.append(now)
        plain = "".join(letter for letter in typed.upper() if letter in ALPHABET)
        if not self._good() or not hmac.compare_digest(plain.encode(), self._code.encode()):
            self._wrong += 1
            return None
        self._code = ""
        session = secrets.token_urlsafe(32)
        self._sessions[_digest(session)] = now + SESSION_LASTS_s
        return session

    def knows(self, session: str) -> bool:
        """Return whether a session is open; each look keeps it open longer."""
        until = self._sessions.get(_digest(session))
        if until is None:
            return False
        if until < self._clock():
            del self._sessions[_digest(session)]
            return False
        self._sessions[_digest(session)] = self._clock() + SESSION_LASTS_s
        return True

    @property
    def paired(self) -> int:
        """Return how many sessions are open."""
        now = self._clock()
        return sum(until >= now for until in self._sessions.values())

    def end_all(self) -> None:
        """Close every session."""
        self._sessions.clear()

    def _good(self) -> bool:
        return bool(self._code) and self._clock() < self._until and self._wrong < MOST_WRONG


class TooMany(Exception):
    """Too many codes were tried within a minute."""


def _digest(session: str) -> str:
    return hashlib.sha256(session.encode()).hexdigest()
