"""The word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

CUTOFF = 0.6  # of difflib's ratio; its own default, common practice


# what people call it, and what the cards call it: a guess by spelling would send a fibreglass roof to "glass"
OTHER_NAMES = {
    "aluminum": "aluminium",
    "fibreglass": "gelcoat",
    "fiberglass": "gelcoat",
    "gel_coat": "gelcoat",
    "grp": "bare_grp",
    "metal": "painted_steel",
    "steel": "painted_steel",
    "rubber": "epdm",
    "plastic": "abs",
    "paint": "painted_steel",
    "unknown": "unidentified",
    "silicone": "silicone_contaminated",
    "foam_tape": "acrylic foam tape",
    "double_sided_tape": "acrylic foam tape",
}


def nearest(word: str, known: Iterable[str], cutoff: float = CUTOFF) -> str | None:
    """Return the known word that was probably meant, letter case and hyphens aside, or None.

    Examples
    --------
    >>> nearest("Cruise-Sped", ["top_speed", "cruise_speed"])
    'cruise_speed'
    >>> nearest("fibreglass", ["glass", "gelcoat"])
    'gelcoat'
    """
    folded: dict[str, str] = {}
    for one in known:
        folded.setdefault(_folded(one), one)
    meant = OTHER_NAMES.get(_folded(word))
    if meant is not None and _folded(meant) in folded and _folded(word) not in folded:
        return folded[_folded(meant)]
    close = get_close_matches(_folded(word), folded, n=1, cutoff=cutoff)
    return folded[close[0]] if close else None


def _folded(word: str) -> str:
    return word.strip().casefold().replace("-", "_").replace(" ", "_")
