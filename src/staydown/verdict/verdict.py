"""The record of the verdict: one of four words with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Word = Literal["NO", "NOT PROVEN", "GO WITH CONDITIONS", "GO"]
WORDS: tuple[Word, ...] = ("NO", "NOT PROVEN", "GO WITH CONDITIONS", "GO")


@dataclass(frozen=True, slots=True, kw_only=True)
class Governing:
    """The case and mount that decide; use is None where nothing is proven for it."""

    case: int
    mount: int
    use: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """One item's word, why, on which conditions, and what is worth finding out."""

    word: Word
    because: tuple[str, ...]
    conditions: tuple[str, ...]
    find_out: tuple[str, ...]
    changes: tuple[str, ...] = ()


def worst(words: tuple[Word, ...]) -> Word:
    """Return the worst of several words; no item at all is NOT PROVEN.

    Examples
    --------
    >>> worst(("GO", "NOT PROVEN"))
    'NOT PROVEN'
    """
    return min(words, key=WORDS.index) if words else "NOT PROVEN"
