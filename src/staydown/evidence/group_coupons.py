"""Groups coupons by tape, surface and mode; spoiled and conditioned ones apart, so that nothing is mixed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from staydown.evidence.coupon import Coupon
from staydown.evidence.session import Session
from staydown.foundation.exposure import Mode


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponGroup:
    """The coupons of one tape on one surface in one mode.

    valid: dry, unconditioned, not spoiled. conditioned: aged or wetted before the test. spoiled: kept, never counted.
    bonded_in: the batch (a day, as coupons without a name for theirs are told apart) that bonded the feet too.
    session_told: how that was told, or why the coupons of that day are not of it.
    """

    tape: str
    surface: str
    mode: Mode
    valid: tuple[Coupon, ...] = ()
    conditioned: tuple[Coupon, ...] = ()
    spoiled: tuple[Coupon, ...] = ()
    bonded_in: str | None = None
    session_told: str = ""

    @property
    def counts(self) -> dict[str, int]:
        """Return how many coupons had each result, conditioned ones included."""
        told = [coupon.result for coupon in (*self.valid, *self.conditioned)]
        return {
            "broke": told.count("broke"),
            "fell": told.count("fell"),
            "holding": told.count("holding"),
            "spoiled": len(self.spoiled),
        }


def group_coupons(
    coupons: Sequence[Coupon], tape: str, surface: str, session: Session | None = None
) -> dict[Mode, CouponGroup]:
    """Return the groups of one tape on one surface, by mode; modes without a coupon are absent.

    session: in which the feet were bonded, where all were on one day.
    """
    modes: dict[Mode, list[Coupon]] = {}
    for coupon in coupons:
        if coupon.tape == tape and coupon.surface == surface:
            modes.setdefault(coupon.mode, []).append(coupon)
    groups = {
        mode: CouponGroup(
            tape=tape,
            surface=surface,
            mode=mode,
            valid=tuple(c for c in mine if c.result != "spoiled" and c.conditioned is None),
            conditioned=tuple(c for c in mine if c.result != "spoiled" and c.conditioned is not None),
            spoiled=tuple(c for c in mine if c.result == "spoiled"),
        )
        for mode, mine in modes.items()
    }
    return groups if session is None else {mode: _in_session(one, session) for mode, one in groups.items()}


def _in_session(group: CouponGroup, session: Session) -> CouponGroup:
    bonded_in, told = session.of(group.valid)
    return replace(group, bonded_in=bonded_in, session_told=told)


def groups_elsewhere(coupons: Sequence[Coupon], tape: str, surface: str) -> tuple[str, ...]:
    """Return the other tapes and surfaces that coupons exist for: shown, never counted here."""
    others = {(c.tape, c.surface) for c in coupons if (c.tape, c.surface) != (tape, surface)}
    return tuple(f"{t} on {s}" for t, s in sorted(others))
