"""Builds the dwell clock of a bond: when it has how much of its strength, when it may be driven, when it is full."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from staydown.foundation.numbers import Number, definition, derive, given, typed
from staydown.job.records import Travel
from staydown.library.cards import Band, PlanningValue, ProductCard
from staydown.loads.load_case import CaseTable
from staydown.making import dwell_laws as laws
from staydown.verdict.checks import Checks

Planning = Mapping[str, PlanningValue]
WINDY = ("cruise", "departure", "gust", "crosswind left", "crosswind right", "passing truck")
AT_TOP = ("gust", "crosswind left", "crosswind right")
CALM = definition(0.0, "m/s", "no wind from that side")


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """Share of its full bond that a first careful drive needs, and in which case; None where nothing is proven. [1]"""

    share: Number | None
    case: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One stage of build-up: after this wait [s] the bond has this share [1]."""

    wait: Number
    share: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Clock:
    """The waits of a bond from the moment it was pressed. [s]

    earliest: before the first careful drive; None where that drive needs more than is proven, or nothing is: then not
    before it is full, and not then either while the verdict says so. full: until it has all of its strength.
    slowing: of the cold. stages: how it builds up; empty where it cures from the edge. why: of the earliest.
    """

    earliest: Number | None
    full: Number
    slowing: Number
    stages: tuple[Stage, ...]
    needed: Needed
    why: str

    @property
    def first_drive_s(self) -> float:
        """Return the wait before anything is driven. [s]"""
        return float((self.full if self.earliest is None else self.earliest).value)

    @property
    def full_s(self) -> float:
        """Return the wait until the bond has all of its strength. [s]"""
        return float(self.full.value)


def share_for_first_drive(table: CaseTable, checks: Checks, travel: Travel, planning: Planning) -> Needed:
    """Return the share of its full bond that an item needs for a careful drive.

    Wind loads are those of the careful speed with the wind of each case; braking, corners and rough road count whole.
    """
    use = checks.use_at_high().max(axis=1)
    careful = planning["careful_speed"].decided
    worst: Needed | None = None
    for row, case in enumerate(table.cases):
        if case.family != "moving":
            continue
        if np.isnan(use[row]):
            return Needed(share=None, case=case.name)
        load: Number = definition(1.0, "1", "no less of it at a careful speed")
        along, across = case.air_velocity_m_per_s
        if case.name in WINDY and along > 0.0:
            road = travel.top_speed_m_per_s if case.name in AT_TOP else travel.cruise_speed_m_per_s
            wind = given(max(along - road, 0.0), "m/s", "calculation", f"wind in {case.name}")
            cross = given(abs(across), "m/s", "calculation", f"wind in {case.name}") if across else CALM
            load = derive(
                laws.careful_share,
                drive_m_per_s=careful,
                wind_m_per_s=wind,
                cross_m_per_s=cross,
                air_speed_m_per_s=given(
                    float(np.hypot(along, across)), "m/s", "calculation", f"air in {case.name}"
                ),
            )
        used = given(float(use[row]), "1", "calculation", f"use of what is proven in {case.name}")
        share = derive(laws.share_needed, load_share=load, use=used)
        if worst is None or worst.share is None or share.value > worst.share.value:
            worst = Needed(share=share, case=f"{case.name}, {case.exposure.season}")
    return worst or Needed(share=None, case="")


def build_clock(product: ProductCard, planning: Planning, dwell_K: float | None, needed: Needed) -> Clock:
    """Return the clock of a bond.

    Parameters
    ----------
    product : ProductCard
        How its class sets.
    planning : mapping
        Planning values by id.
    dwell_K : float or None
        Coldest temperature of the bond while it dwells; None takes the coldest at which it may be bonded. [K]
    needed : Needed
        What the first careful drive asks of it.
    """
    cold = (
        planning["coldest_surface"].end("low")
        if dwell_K is None
        else typed(dwell_K, "K", "temperature while it dwells")
    )
    slowing = derive(
        laws.slowing,
        factor=planning["dwell_slowing"].decided,
        room_K=planning["room_temperature"].decided,
        bond_K=cold,
    )

    def slowed(at_room: Number) -> Number:
        return derive(laws.slowed_wait, slowing=slowing, at_room_s=at_room)

    if product.clock == "cures from the edge":
        through = derive(
            laws.cure_time,
            front_s=_end(product.front_time, product.id),
            bead_width_m=_end(product.bead_width, product.id, "high"),
            front_m=_end(product.front_depth, product.id, "low"),
        )
        return Clock(
            earliest=None,
            full=slowed(through),
            slowing=slowing,
            stages=(),
            needed=needed,
            why="its middle is soft until the cure has met: nothing is driven before",
        )
    points = {
        "first_s": _end(product.first_time, product.id),
        "first_share": _end(product.first_share, product.id),
        "most_s": _end(product.most_time, product.id),
        "most_share": _end(product.most_share, product.id),
        "full_s": _end(product.full_time, product.id),
    }
    least = planning["first_drive_share"].decided
    stages = tuple(
        Stage(wait=slowed(wait), share=derive(laws.bond_share, waited_s=wait, **points))
        for wait in (points["first_s"], points["most_s"], points["full_s"])
    )
    earliest, why = _earliest(needed, least, points)
    return Clock(
        earliest=None if earliest is None else slowed(earliest),
        full=slowed(points["full_s"]),
        slowing=slowing,
        stages=stages,
        needed=needed,
        why=why,
    )


def _earliest(needed: Needed, least: Number, points: Mapping[str, Number]) -> tuple[Number | None, str]:
    """Return the wait at room temperature before a first careful drive, and why it is that."""
    if needed.share is None:
        return (
            None,
            f"nothing is proven for {needed.case or 'any case'}: not before it is full, and not until it is proven",
        )
    wanted = float(needed.share.value)
    if wanted > 1.0:
        return None, f"even the full bond is not proven for a careful drive ({needed.case})"
    asked, why = least, f"no road before {100 * float(least.value):.0f} % of the bond is there"
    if wanted > float(least.value):
        asked, why = needed.share, f"{needed.case} of a careful drive needs {100 * wanted:.0f} % of the bond"
    return derive(laws.wait_for_share, share=asked, **points), why


def _end(band: Band | None, product: str, which: str = "likely") -> Number:
    assert band is not None, "the card library is checked when it is read"
    value = {"low": band.low, "likely": band.likely, "high": band.high}[which]
    return given(value, band.unit, "class card", band.source, f"products.{product}")
