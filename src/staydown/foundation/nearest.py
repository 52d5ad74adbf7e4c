"""The word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

CUTOFF = 0.6  # of difflib's ratio; its own default, common practice


def nearest(word: str, known: Iterable[str], cutoff: float = CUTOFF) -> str | None:
    """Return the known word that was probably meant, letter case and hyphens aside, or None.

    Examples
    --------
    >>> nearest("Cruise-Sped", ["top_speed", "cruise_speed"])
    'cruise_speed'
    """
    folded: dict[str, str] = {}
    for one in known:
        folded.setdefault(_folded(one), one)
    close = get_close_matches(_folded(word), folded, n=1, cutoff=cutoff)
    return folded[close[0]] if close else None


def _folded(word: str) -> str:
    return word.strip().casefold().replace("-", "_").replace(" ", "_")
