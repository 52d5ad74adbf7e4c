"""All that a decision rests on, and the case and mount that govern it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from staydown.foundation.exposure import Mode
from staydown.foundation.numbers import Number
from staydown.library.cards import PlanningValue
from staydown.loads.load_case import CaseTable
from staydown.retention.retention import Retention
from staydown.spread.demands import Demands
from staydown.strength.capacity import ModeCapacity
from staydown.verdict.chain_use import CheckedLink
from staydown.verdict.checks import HIGH, Checks
from staydown.verdict.rest import Redundancy
from staydown.verdict.shared_pull import SharedPull
from staydown.verdict.standing import Standing
from staydown.verdict.unzip import Unzip
from staydown.verdict.verdict import Governing

Planning = Mapping[str, PlanningValue]


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """All that a decision on one item with mounts rests on.

    content: share of bonds that the bounds cover. wet: share kept when wet and aged where no tension coupon says;
    hot_kept: typed hot ratio in tension, or None. unzip: how the most used pad would open. system: "metric" or "us",
    the person's own first.
    """

    standing: Standing
    table: CaseTable
    demands: Demands
    capacity: Mapping[Mode, ModeCapacity]
    content: Number
    checks: Checks
    redundancy: Redundancy
    chain: tuple[CheckedLink, ...]
    shared: tuple[SharedPull, ...]
    retention: Retention
    planning: Planning
    wet: Number
    hot_kept: Number | None
    tape_thickness_m: float
    unzip: Unzip | None
    system: str

    def case_name(self, case: int) -> str:
        """Return a case as a person says it: `gust, hot`."""
        row = self.table.cases[case]
        return f"{row.name}, {row.exposure.season}" if row.family not in ("snow", "soak") else row.name


def governing(brief: Brief) -> Governing:
    """Return the case and mount that decide."""
    return most_used(brief.checks, brief.demands)


def most_used(checks: Checks, demands: Demands) -> Governing:
    """Return the case and mount with the largest use; where nothing is proven, the largest stress without proof."""
    use = checks.use_at_high()
    peak = np.broadcast_to(np.asarray(demands.peak_tension.value), checks.evidence.shape)[:, HIGH, :]
    unproven = np.isnan(use)
    if unproven.any():
        case, mount = np.unravel_index(np.where(unproven, peak, -1.0).argmax(), peak.shape)
        if not np.nanmax(use, initial=0.0) > 1.0:
            return Governing(case=int(case), mount=int(mount), use=None)
    case, mount = np.unravel_index(np.nan_to_num(use, nan=-1.0).argmax(), use.shape)
    return Governing(case=int(case), mount=int(mount), use=float(use[case, mount]))
