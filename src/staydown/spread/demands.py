"""The record of what each mount carries."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number
from staydown.spread.feet import Feet, Lap


@dataclass(frozen=True, slots=True, kw_only=True)
class FlexibleAnswer:
    """What bending changes: Numbers over (case, band, mount), or (case, band, place) for what moves.

    pull: of the clamped bending item on the likely tape [N], (case, band, mount). change: of the worst mount
    against the clamped rigid item [1], (case, band, 1), not a number where no mount is pulled. lift: of each of
    `places` [m], +z up. sag: how far the lowest of 25 points comes down [m]. gap_closed: share of the gap that this
    uses up, from 1 on it touches the roof; None for an item without a gap. roof: force of the roof where it
    touches [N], (case, band, 1); lift and sag are as if no roof were there. bow: height of the free item's bow in
    the sun [m]; bow_pull: what holding it down pulls at each mount [N], both over (1, band, ...). Lift and sag of
    the hot soak are by the bow. counted: the
    demands have the bending solutions among theirs, since the item's own stiffness is known. residual: error of
    balance.
    """

    pull: Number
    change: Number
    places: tuple[str, ...]
    lift: Number
    sag: Number
    gap_closed: Number | None
    roof: Number
    bow: Number
    bow_pull: Number
    counted: bool
    residual: float
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ways:
    """Peak tension and shear of every pad in every way of joining, over (way, case, band, mount). [Pa]

    peak_Pa is below 0 where a way does not count in a band. The way with the largest peak is the one that is reported;
    one with less tension and more shear may use the bond more, which only the verdict can tell.
    """

    peak_Pa: NDArray[np.float64]
    shear_Pa: NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """What the item puts on each mount, +z away from the roof; Numbers over (case, band, mount).

    force [N] and moment about the pad's centre [N m]: three components each, from the solution with the
    largest peak tension at that mount, so mounts may come from different solutions and need not sum.
    solution: index into `solutions` (their names, such as "clamped", "hinged, all levers forward").
    mean_tension, peak_tension, shear [Pa]; line_load [N/m]: tension over the pad's side across the lever.
    foot_moment: that bends a long foot pulled at its end [N m].
    edge_stress: at the edge of a foot that bends, 0 under a rigid one [Pa]; the peak is the worse of it and of the
    rigid foot's. peel: the line load that peels, 0 under a rigid foot [N/m]. feet: how they bend and touch. lap: where
    the shear of the pads piles up.
    residual: largest relative error of force and moment balance over all solutions.
    flexible: what the item's bending changes; None where its stiffness is not known, it is then taken as rigid.
    bow: curvature that the mounts hold down, over (case, band, 1) [1/m]; None where bending is not counted.
    ways: what the other ways of joining put on the pads.
    """

    mounts: tuple[str, ...]
    solutions: tuple[str, ...]
    solution: NDArray[np.int64]
    force: tuple[Number, Number, Number]
    moment: tuple[Number, Number, Number]
    mean_tension: Number
    peak_tension: Number
    shear: Number
    line_load: Number
    edge_stress: Number
    foot_moment: Number
    peel: Number
    feet: Feet
    lap: Lap
    residual: float
    flexible: FlexibleAnswer | None = None
    bow: Number | None = None
    ways: Ways | None = None
    findings: tuple[Finding, ...] = ()
