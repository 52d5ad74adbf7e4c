"""The records of a pad that unzips: what each opened width leaves and hands on, and whether it comes to rest."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Number
from staydown.spread.opened_foot import OpenedFoot
from staydown.verdict.build_rest import Work
from staydown.verdict.rest import Rest

_SAME_m = 1e-9

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A foot that opens, solved at each width, and what of its mounts is used; NaN where nothing is proven.

    bond: use of the bonds alone; use: of the most used of bond and other links; over (step, mount, case). [1]
    slope: of life over stress.
    """

    work: Work
    opened: OpenedFoot
    bond: Array
    use: Array
    slope: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherMount:
    """The most used mount beside the one that opens. use: None where not known [1]. force: pull and shear [N]."""

    mount: str
    case: int
    use: float | None
    force_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class UnzipStep:
    """One width of opened edge. [m]

    case: row of the load table that uses the foot most at this width; at: (step, solution, column) of it in the
    opening. bonded: share of the pad that holds; section: share of its section against prying that is left [1].
    stiffness against pull [N/m]. pull, handed_on: on the foot, and what it has handed on since it was whole [N].
    pulls_N: on every mount in the same case and way of joining; they sum to the load. peak: edge stress [Pa]; growth:
    over that of the whole pad, in the case that used that most [1]. use: None where nothing is proven. holds: how long
    what is left holds at cruise, None where not known [s]. other: None for an item on one mount.
    """

    opened_m: float
    case: int
    at: tuple[int, int, int]
    bonded: float
    section: float
    stiffness_N_per_m: float
    pull_N: float
    handed_on_N: float
    pulls_N: tuple[float, ...]
    peak_Pa: float
    growth: float
    use: float | None
    holds_s: float | None
    other: OtherMount | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unzip:
    """The most used mount at cruise and in gusts opening from its pulled edge.

    index: (case, band, mount) while it is whole. runs_away_m: from this opened width on it is over what is proven;
    rests_m: the width at which it is below again; None where there is no such width, or nothing is proven. lost: what
    is left when it runs through, None where it does not. opening: what the steps were read from.
    """

    mount: str
    index: tuple[int, int, int]
    steps: tuple[UnzipStep, ...]
    runs_away_m: float | None
    rests_m: float | None
    lost: Rest | None
    known: bool
    sentence: str
    opening: Opening = field(repr=False)

    def at(self, opened_m: float) -> UnzipStep:
        """Return the step of a width that is among them."""
        return next(step for step in self.steps if abs(step.opened_m - opened_m) < _SAME_m)
