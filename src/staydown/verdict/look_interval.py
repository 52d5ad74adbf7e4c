"""How often is every foot of an item looked at? By use, evidence and consequence; one rule for answer and upkeep."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from staydown.library.cards import PlanningValue
from staydown.verdict.checks import COVERED, HIGH, Checks


def look_interval(
    checks: Checks, consequence: str | None, planning: Mapping[str, PlanningValue]
) -> tuple[float, tuple[str, ...]]:
    """Return the longest time between two looks at every foot, and what speaks for a short one. [s]

    Two reasons halve it: much is used or not known, a case that no test covers, a high consequence.
    """
    use = np.nan_to_num(checks.use_at_high(), nan=np.inf).max()
    limit = float(planning["inspection_use"].decided.value)
    reasons = []
    if use > limit:
        told = "not known" if np.isinf(use) else f"{100 * use:.0f} %"
        reasons.append(f"use {told}, over {100 * limit:.0f} %")
    if (checks.evidence[:, HIGH, :] < COVERED).any():
        reasons.append("not every case is covered by tests")
    if consequence == "high":
        reasons.append("high consequence")
    card = planning["inspection_close" if len(reasons) >= 2 else "inspection_interval"]
    return float(card.decided.value), tuple(reasons)
