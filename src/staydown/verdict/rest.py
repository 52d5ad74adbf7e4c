"""The records of what is left when mounts are lost: one for each loss, the order in which they go, and the answer."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.foundation.numbers import Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """What is left after one loss, in its worst case of cruise and gusts, from ahead and from the sides.

    use: None where it is not known; trail: the same as a number over (case, band, mount), read at index. case: row
    of the load table. mount: the most used one, None where nothing is left; part: what of it, "bond" or a link of the
    chain. holds: None where it is not known. air_speed (wind included), road_speed [m/s]: where the rest is used to
    100 %, None where not known. warning: how long the next mount holds at cruise [s]; life_left: its life over that
    of the most used one while none was lost [1].
    """

    lost: tuple[str, ...]
    use: float | None
    trail: Number | None
    index: tuple[int, int, int]
    case: int
    mount: str | None
    part: str
    holds: bool | None
    air_speed: Number | None
    road_speed: Number | None
    warning: Number | None
    life_left: Number | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One mount of the order in which they go at cruise: its use just before, how long it holds at that. [1, s]"""

    mount: str
    use: float | None
    warning: Number | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Redundancy:
    """May one mount be lost? redundant: None where it is not known.

    singles: one for each mount. pairs: the worst pairs. order: which mount goes first, second, ... at cruise;
    follow: those not listed go at once after the last. whole_cruise_use: most used mount at cruise, nothing lost.
    slope: of life over stress. sentences: the statement on one lost mount first, ready to print.
    """

    redundant: bool | None
    whole_cruise_use: float | None
    singles: tuple[Rest, ...]
    pairs: tuple[Rest, ...]
    order: tuple[Step, ...]
    follow: bool
    slope: Number
    sentences: tuple[str, ...] = ()

    @property
    def worst(self) -> Rest:
        """Return the single loss after which the rest is used most: nothing left, then not known, then by use."""
        return max(
            self.singles,
            key=lambda rest: (rest.mount is None, rest.holds is None, rest.use or 0.0),
        )
