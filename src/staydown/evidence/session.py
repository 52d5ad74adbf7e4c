"""The session in which feet were bonded: its day, and what was noted of tape and primer. Which coupons are of it?

Coupons of that day are, unless a lot or a primer is noted of both and is not the same. What is not noted tells nothing
apart, and the answer says so. One coupon of another lot among those of the day takes the whole day's: nobody knows then
whether that day's hands bonded the feet with the same tape.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from staydown.evidence.coupon import Coupon


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """The day on which all feet of an item were bonded; lots and primers noted of them, each once."""

    day: str
    lots: frozenset[str] = frozenset()
    primers: frozenset[str] = frozenset()

    def of(self, coupons: Sequence[Coupon]) -> tuple[str | None, str]:
        """Return the batch of these coupons that the feet were bonded with, None where there is none; how it was told.

        coupons: of one tape, surface and mode.
        """
        mine = [one for one in coupons if (one.batch or one.made_on) == self.day]
        if not mine:
            return None, ""
        told, untold = ["day"], []
        noted = (
            ("tape lot", self.lots, [one.lot for one in mine]),
            ("primer", self.primers, [one.primer for one in mine]),
        )
        for what, of_feet, of_coupons in noted:
            feet = {plain(text) for text in of_feet if plain(text)}
            theirs = {plain(text) for text in of_coupons if text and plain(text)}
            if feet and theirs and len(feet | theirs) > 1:
                return (
                    None,
                    f"coupons of the day that bonded the feet are not of their session: another {what}",
                )
            if feet and theirs and all(of_coupons):
                told.append(what)
            else:
                untold.append(what)
        missing = f"; {' and '.join(untold)} not noted of both feet and coupons" if untold else ""
        return self.day, f"matched by {' and '.join(told)}{missing}"


def plain(text: str) -> str:
    """Return a lot or a primer as it is compared: capitals and blanks tell nothing apart."""
    return "".join(text.split()).casefold()
