"""Is it written down how the feet were bonded? No reason against a word, but what is done next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from staydown.evidence.history import History
from staydown.verdict.verdict import Verdict


def feet_not_told(history: History, item: str, feet: Sequence[str]) -> tuple[str, ...]:
    """Return the feet of an item of whose bonding the logbook says nothing."""
    return tuple(foot for foot in feet if history.bonded(item, foot) is None)


def with_bonding(verdict: Verdict, history: History, item: str, feet: Sequence[str]) -> Verdict:
    """Return the verdict with what is to be done about feet without a bonding record; a NO needs none.

    Among what to do next where the item may go, among the conditions where it is not proven yet.
    """
    silent = feet_not_told(history, item, feet)
    if not silent or verdict.word == "NO":
        return verdict
    text = _sentence(silent, len(feet))
    if verdict.word == "NOT PROVEN":
        return replace(verdict, conditions=(text, *verdict.conditions))
    return replace(verdict, find_out=(*verdict.find_out, text))


def _sentence(silent: Sequence[str], feet: int) -> str:
    if len(silent) == feet:
        what, missing = "it", "the logbook holds no record of its bonding"
    else:
        what = ", ".join(silent)
        missing = f"the logbook holds no record of how {what} {'was' if len(silent) == 1 else 'were'} bonded"
    return (
        f"bond {what} by the bonding sheet and record how it was bonded: {missing}, and "
        "what is proven holds for feet that were made as the coupons were. On the roof without one, treat it as "
        "NOT PROVEN"
    )
