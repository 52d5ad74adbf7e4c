"""A change that turns a word, and what the searches for one share."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.advice.variants import Typed
from staydown.verdict.verdict import Word

LOOKS_OF_A_WHOLE = 3  # what a whole assessment costs beside those by the short way
GOOD: tuple[Word, ...] = ("GO WITH CONDITIONS", "GO")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A change that turns the word. typed: dotted key and text. word, use: of the item with it. effort: 1 the least.

    rule: how it is driven rather than built; it holds only as long as it is kept.
    """

    what: str
    typed: Typed
    word: Word
    use: float | None
    effort: int
    rule: bool
