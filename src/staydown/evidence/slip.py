"""Reads the slip marks of a foot: net strain of each reading, is it worth comparing, does it grow?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Literal

from staydown.evidence import slip_laws as laws
from staydown.evidence.history import History
from staydown.foundation.numbers import Number, derive, given

GROWING = 2  # successive readings that each grew: common practice, no source

Grade = Literal["record", "watch", "re-bond"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipRules:
    """When a slip is watched and when it ends the bond. [1, 1, K, m]"""

    watch: float
    limit: float
    reach_K: float
    reading_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Thermal:
    """How far a foot moves daily and comes back: strain from cold to hot, over that span of temperature. [1, K]"""

    strain: float
    span_K: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading: when, slip as read [m], net strain [1], None where it was too warm or too cold to compare."""

    when: datetime
    slip_m: float
    net: Number | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """The readings of one foot since it was bonded last; grade: what they ask for; growing: in successive readings."""

    foot: str
    readings: tuple[Reading, ...]
    grade: Grade
    growing: bool

    @property
    def last(self) -> Reading | None:
        """Return the last reading that can be compared."""
        compared = [one for one in self.readings if one.net is not None]
        return compared[-1] if compared else None


def read_slip(
    history: History, item: str, foot: str, thickness_m: float, thermal: Thermal | None, rules: SlipRules
) -> Slip:
    """Return the readings of a foot since it was bonded last.

    Parameters
    ----------
    history : History
        What happened.
    item, foot : str
        Whose readings.
    thickness_m : float
        Of the tape. [m]
    thermal : Thermal or None
        Its reversible movement, at the favourable end so that too little is taken off; None takes nothing off.
    rules : SlipRules
        Limits and what a reading is good for.

    A reading counts within the reach of the roof temperature at which the foot was marked: when it was bonded, or where
    nobody wrote that down at the first reading. One without a temperature is taken as it is.
    """
    bonding = history.bonded(item, foot)
    marked_K = None if bonding is None else bonding.surface_K
    readings = []
    for one in history.inspections:
        if one.item != item or foot not in one.slips:
            continue
        if bonding is not None and one.entry.when < bonding.entry.when:
            continue
        if marked_K is None:
            marked_K = one.roof_K
        slip_m = one.slips[foot]
        net = _net(slip_m, thickness_m, one.roof_K, marked_K, thermal, rules)
        readings.append(Reading(when=one.entry.when, slip_m=slip_m, net=net))
    compared = [one for one in readings if one.net is not None]
    most = max((float(one.net.value) for one in compared if one.net is not None), default=0.0)
    growing = _grows([0.0, *(one.slip_m for one in compared)], rules.reading_m)
    grade: Grade = (
        "re-bond" if most > rules.limit or growing else "watch" if most >= rules.watch else "record"
    )
    return Slip(foot=foot, readings=tuple(readings), grade=grade, growing=growing)


def _net(
    slip_m: float,
    thickness_m: float,
    roof_K: float | None,
    marked_K: float | None,
    thermal: Thermal | None,
    rules: SlipRules,
) -> Number | None:
    strain = derive(
        laws.slip_strain,
        slip_m=given(abs(slip_m), "m", "typed", "read at the foot"),
        thickness_m=given(thickness_m, "m", "typed", "typed in the job"),
    )
    if roof_K is None or marked_K is None:
        return strain
    if abs(roof_K - marked_K) > rules.reach_K:
        return None
    if thermal is None:
        return strain
    return derive(
        laws.net_strain,
        strain=strain,
        daily_strain=given(thermal.strain, "1", "calculation", "daily thermal strain, favourable end"),
        read_K=given(roof_K, "K", "typed", "roof temperature at the reading"),
        marked_K=given(marked_K, "K", "typed", "roof temperature when it was marked"),
        span_K=given(thermal.span_K, "K", "calculation", "span of the daily strain"),
    )


def _grows(slips_m: list[float], reading_m: float) -> bool:
    """Return whether the last readings each grew by more than a reading is good for; 0 is where the mark was made."""
    steps = [abs(after) - abs(before) for before, after in pairwise(slips_m)]
    return len(steps) >= GROWING and all(step > reading_m for step in steps[-GROWING:])
