"""The quick look at a changed item: does anything stand against it that a whole assessment would find too?"""

from __future__ import annotations

from staydown.assess import Carried, Proven, Subject, could_be_lost, prove
from staydown.foundation.numbers import Number
from staydown.verdict.brief import most_used


def may_hold(subject: Subject, carried: Carried) -> bool:
    """Return whether what pulls on a rigid item is within what is proven, a mount lost where that must be stood.

    Whatever fails here fails in a whole assessment too.
    """
    planning = subject.cards.planning
    proven = prove(subject, carried, planning["content"].decided, light=True)
    if not _all_within(proven, carried):
        return False
    if could_be_lost(subject, carried.table, proven):
        return True
    if subject.standing.consequence == "high":
        return False
    return within(subject, carried, planning["content_not_redundant"].decided)


def within(subject: Subject, carried: Carried, content: Number) -> bool:
    """Return whether every mount is used at most to 100 %."""
    return _all_within(prove(subject, carried, content, light=True), carried)


def _all_within(proven: Proven, carried: Carried) -> bool:
    use = most_used(proven.checks, carried.demands).use
    return use is not None and use <= 1.0
