"""For how long, how hot, how wet: what load and strength must agree on before they may be compared."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Mode = Literal["tension", "shear", "cleavage", "peel"]
MODES: tuple[Mode, ...] = ("tension", "shear", "cleavage", "peel")

Season = Literal["hot", "cold"]
DurationClass = Literal["seconds", "minutes to hours", "days"]

SECONDS_END_s = 60.0
HOURS_END_s = 24 * 3600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """How long a load acts at one time, how warm the bond is meanwhile, and in which season. [s, K]"""

    lasts_s: float
    temperature_K: float
    season: Season

    @property
    def duration_class(self) -> DurationClass:
        """Return the class of duration whose governing case must be covered by a test of its own."""
        if self.lasts_s < SECONDS_END_s:
            return "seconds"
        return "minutes to hours" if self.lasts_s < HOURS_END_s else "days"
