"""What a field of the job says of itself: limits, plausible band, and whether it must be given."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of a quantity in SI: outside them it is impossible and refused.

    least, most: inclusive unless `open_below`. plausible: a band outside which the reader warns and asks.
    """

    least: float | None = None
    most: float | None = None
    open_below: bool = False
    plausible: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MayBeUnknown:
    """The key must stand in its table, and its value may be "unknown"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardId:
    """The value is the id of a card of this shelf: surfaces, tapes, kinds, materials."""

    shelf: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reads:
    """How this field is read when its suffix alone does not say.

    form: rectangle, area, fastener, load (force, mass or water), hours (a bare number: the key says it).
    """

    form: Literal["rectangle", "area", "load", "fastener", "hours"]
