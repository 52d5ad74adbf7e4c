"""A coupon: one small test bond, what was done to it and what happened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from staydown.foundation.exposure import Mode

Result = Literal["broke", "fell", "holding", "spoiled"]
RESULTS: tuple[Result, ...] = ("broke", "fell", "holding", "spoiled")
FailurePattern = Literal["adhesive", "cohesive", "coating", "substrate", "mixed"]
FAILURE_PATTERNS: tuple[FailurePattern, ...] = ("adhesive", "cohesive", "coating", "substrate", "mixed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupon:
    """One coupon of the logbook, in SI.

    load_N: force held or reached. area_m2: bonded area (None for peel, which has width_m).
    lasted_s: seconds of pull (broke), time to the fall (fell), time held so far (holding).
    found_s: `fell` seen only later: the last time it was seen holding; the fall lies between the two.
    conditioned: what it went through before the test, None when nothing. foot: "real" when the real
    bracket was pulled. batch: the day it was made, unless told otherwise. lot, primer: of the tape, and what was put
    under it, where noted. along_m: side of a cleavage coupon along
    its lever, where its area was written as a rectangle.
    """

    name: str
    tape: str
    surface: str
    mode: Mode
    result: Result
    load_N: float
    area_m2: float | None
    lasted_s: float
    temperature_K: float
    dwell_s: float | None = None
    failure_pattern: FailurePattern | None = None
    made_on: str | None = None
    note: str = ""
    width_m: float | None = None
    conditioned: str | None = None
    foot: Literal["real"] | None = None
    lever_m: float | None = None
    lever_direction: Literal["along", "across"] | None = None
    foot_thickness_m: float | None = None
    batch: str | None = None
    found_s: float | None = None
    along_m: float | None = None
    lot: str | None = None
    primer: str | None = None

    @property
    def stress_Pa(self) -> float | None:
        """Return load over area, or None for a peel coupon. [Pa]"""
        return None if self.area_m2 is None else self.load_N / self.area_m2

    @property
    def line_load_N_per_m(self) -> float | None:
        """Return load over width of a peel coupon, or None. [N/m]"""
        return None if self.width_m is None else self.load_N / self.width_m
