"""Coupons as arrays: what each one says about one face of failure, in logs, ready for a likelihood."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.evidence.coupon import Coupon, FailurePattern
from staydown.strength.coupon_laws import lever_peak_stress
from staydown.strength.rupture_laws import HOUR_s

Face = FailurePattern | Literal["not named"]
STACK: tuple[FailurePattern, ...] = ("cohesive", "adhesive", "coating", "substrate")  # from the foot downward

EXACT, HOLDING, BETWEEN = 0, 1, 2


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trials:
    """What the valid coupons of one mode say about one face, one row for each different result.

    log_stress: log10 of stress [Pa] (peel: line load [N/m]). log_time: log10 of hours held, or of hours of
    pull where `ramp`. log_seen: log10 of the hours at which a BETWEEN was last seen holding. kind: EXACT,
    HOLDING (this face held, whatever else let go) or BETWEEN. batch: index into `batches`. count: how many
    coupons the row stands for.
    """

    face: Face
    log_stress: NDArray[np.float64]
    temperature_K: NDArray[np.float64]
    log_time: NDArray[np.float64]
    log_seen: NDArray[np.float64]
    kind: NDArray[np.int64]
    ramp: NDArray[np.bool_]
    batch: NDArray[np.int64]
    count: NDArray[np.float64]
    batches: tuple[str, ...]

    def rows(self, kept: NDArray[np.bool_]) -> Trials:
        """Return some of the rows."""
        return Trials(
            face=self.face,
            log_stress=self.log_stress[kept],
            temperature_K=self.temperature_K[kept],
            log_time=self.log_time[kept],
            log_seen=self.log_seen[kept],
            kind=self.kind[kept],
            ramp=self.ramp[kept],
            batch=self.batch[kept],
            count=self.count[kept],
            batches=self.batches,
        )

    @property
    def coupons(self) -> int:
        """Return the number of coupons."""
        return int(self.count.sum())

    @property
    def failures(self) -> int:
        """Return the number of coupons whose own face let go at a known time."""
        return int(self.count[self.kind == EXACT].sum())


def tested_stress(coupon: Coupon) -> float:
    """Return the stress a coupon was under: peak where it was pulled with a lever, line load for peel. [Pa, N/m]

    A cleavage coupon whose sides are not known is taken as square.

    Raises
    ------
    ValueError
        The coupon lacks its area, or a peel coupon its width.
    """
    if coupon.mode == "peel":
        if coupon.line_load_N_per_m is None:
            raise ValueError(f"coupon {coupon.name!r}: a peel coupon needs a width")
        return coupon.line_load_N_per_m
    if coupon.area_m2 is None:
        raise ValueError(f"coupon {coupon.name!r}: needs an area")
    lever_m = abs(coupon.lever_m or 0.0) if coupon.mode == "cleavage" else 0.0
    side_m = coupon.along_m or math.sqrt(coupon.area_m2)
    return lever_peak_stress(coupon.load_N, coupon.area_m2, lever_m, side_m)


def peak_over_mean(coupon: Coupon) -> float:
    """Return the peak tension of a coupon over its mean: 1 where it was pulled straight. [1]

    Raises
    ------
    ValueError
        It has no area.
    """
    if coupon.area_m2 is None:
        raise ValueError(f"coupon {coupon.name!r}: needs an area")
    return tested_stress(coupon) * coupon.area_m2 / coupon.load_N


def valid_coupons(coupons: Sequence[Coupon]) -> tuple[Coupon, ...]:
    """Return the coupons that count: all but the spoiled ones."""
    return tuple(coupon for coupon in coupons if coupon.result != "spoiled")


def faces_of(coupons: Sequence[Coupon]) -> tuple[Face, ...]:
    """Return the faces at which coupons let go, from the foot downward; one nameless face where none was told."""
    named: set[Face] = set()
    for coupon in valid_coupons(coupons):
        if coupon.result != "holding":
            named |= {
                face for face in STACK if _lets_go_at(coupon, face) and coupon.failure_pattern is not None
            }
    told = {c.failure_pattern for c in valid_coupons(coupons)} - {None, "mixed"}
    only_unnamed_mixed = not told and len(named) == len(STACK)
    return ("not named",) if not named or only_unnamed_mixed else tuple(f for f in STACK if f in named)


def _lowest_in_note(coupon: Coupon) -> FailurePattern | None:
    mentioned = [face for face in STACK if face in coupon.note.lower()]
    return mentioned[-1] if mentioned else None


def _lets_go_at(coupon: Coupon, face: Face) -> bool:
    """Return whether a coupon that fell or broke is exact for a face; unknown and unnamed count for all."""
    if coupon.failure_pattern is None or face == "not named":
        return True
    if coupon.failure_pattern == "mixed":
        return _lowest_in_note(coupon) in (None, face)
    return coupon.failure_pattern == face


def batch_name(coupon: Coupon) -> str:
    """Return the batch a coupon belongs to: as told, else the day it was made, else one batch for all."""
    return coupon.batch or coupon.made_on or ""


def trials_of(coupons: Sequence[Coupon], face: Face) -> Trials:
    """Return what coupons of one tape, surface and mode say about one face.

    Raises
    ------
    ValueError
        Coupons of several tapes, surfaces or modes are mixed.
    """
    valid = valid_coupons(coupons)
    if len({(c.tape, c.surface, c.mode) for c in valid}) > 1:
        raise ValueError("coupons of different tapes, surfaces or modes do not share one strength")
    batches = tuple(sorted({batch_name(coupon) for coupon in valid}))
    rows = [(*_row(coupon, face), batches.index(batch_name(coupon))) for coupon in valid]
    table = np.array(rows, dtype=float).reshape(-1, 7)
    table, count = np.unique(table, axis=0, return_counts=True)
    return Trials(
        face=face,
        log_stress=table[:, 0],
        temperature_K=table[:, 1],
        log_time=table[:, 2],
        log_seen=table[:, 3],
        kind=table[:, 4].astype(np.int64),
        ramp=table[:, 5] > 0,
        batch=table[:, 6].astype(np.int64),
        count=count.astype(float),
        batches=batches,
    )


def _row(coupon: Coupon, face: Face) -> tuple[float, float, float, float, int, bool]:
    lasted_h, seen_h = coupon.lasted_s / HOUR_s, coupon.found_s
    kind = EXACT if coupon.result != "holding" and _lets_go_at(coupon, face) else HOLDING
    log_time, log_seen = math.log10(lasted_h), 0.0
    if coupon.result == "fell" and seen_h is not None and seen_h < coupon.lasted_s:
        # seen holding at 0 s says nothing of the start: one second is the shortest time anybody notices
        log_seen = math.log10(max(seen_h, 1.0) / HOUR_s)
        if kind == EXACT and log_seen < log_time:
            kind = BETWEEN
        elif kind == HOLDING:
            log_time, log_seen = log_seen, 0.0
    stress = math.log10(tested_stress(coupon))
    return stress, coupon.temperature_K, log_time, log_seen, kind, coupon.result == "broke"
