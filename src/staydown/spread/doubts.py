"""What a person should know of the group of mounts itself: in one line, or leaning on its pads."""

from __future__ import annotations

import numpy as np

from staydown.foundation.findings import Finding
from staydown.library.cards import PlanningValue
from staydown.spread.build_pads import Pads
from staydown.spread.build_solutions import Solutions, Solved

_TURNS = ("rocking sideways", "pitching", "twisting on the roof")
_WAYS = ("across the vehicle", "along the vehicle", "")


def doubts(
    item_place: str, pads: Pads, solutions: Solutions, solved: Solved, share_card: PlanningValue
) -> tuple[Finding, ...]:
    """Return warnings about the group of mounts, none for a group that stands well apart.

    share_card: share of a moment carried by the pads' own rotation above which a warning is given.
    """

    def doubt(rule: str, hint: str) -> Finding:
        key = f"{item_place}.mount"
        return Finding(file="job.toml", line=None, key=key, value="", rule=rule, hint=hint, grade="warning")

    if len(pads.names) == 1:
        rule = "one mount: only the pad's own length and width resist rocking and twisting"
        return (doubt(rule, "three mounts or more, not in one line, hold an item by their distance"),)
    if solutions.clamped.all():
        rule = "mounts stand in one line: only the pads' own length resists rocking"
        return (doubt(rule, "set one mount out of the line, or add one beside it"),)
    found = []
    if solved.mechanisms:
        rule = (
            f"the points of pull stand in one line and cannot hold the item: {'; '.join(solved.mechanisms)}"
        )
        found.append(doubt(f"{rule}: not counted", "set the mounts further apart than twice their levers"))
    limit = float(share_card.decided.value)
    for turn, way, share in zip(_TURNS, _WAYS, _shares_of_pads(solutions, solved), strict=True):
        if share > limit:
            rule = f"{turn}: the pads' own rotation carries {100 * share:.0f} % of the moment, their distance the rest"
            found.append(doubt(rule, f"set the mounts further apart {way}".rstrip()))
    return tuple(found)


def _shares_of_pads(solutions: Solutions, solved: Solved) -> list[float]:
    """Return the largest share of a pure moment about x, y, z that clamped pads take by their own tilt."""
    clamped = solved.matrix[solutions.clamped[solved.solution] > 0]
    own = np.diagonal(clamped[:, :, 3:, 3:], axis1=-2, axis2=-1).sum(axis=1)
    return [float(share) for share in own.max(axis=0)]
