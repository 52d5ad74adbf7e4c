"""What the mounts that are left are proven to carry, how much of it is used, and how much wind they would stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.evidence.chain import ChainLink
from staydown.foundation.numbers import Number
from staydown.loads.load_case import CaseTable
from staydown.spread.lost_mounts import LostMounts, OnRest, on_rest
from staydown.verdict import use_laws
from staydown.verdict.checks import HIGH, Checks

Array = NDArray[np.float64]

LARGEST_SHARE = 25.0  # five times the speed of the case is asked of nobody
_CLOSE = 1e-5  # of the use, and of the share
_MOST_ROUNDS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class RestStrength:
    """What each mount is proven to carry: stresses over (mount, case) [Pa], its weakest other known link (mount) [N].

    peel_N_per_m: line load, over (mount, case). parts: name of that link, "bond" where no other link has a strength of
    its own.
    """

    tension_Pa: Array
    shear_Pa: Array
    peel_N_per_m: Array
    link_N: Array
    parts: tuple[str, ...]

    @property
    def shear_counts(self) -> Array:
        """Return how many times as much a shear stress counts as a tension, 0 where that is not known. (mount, case)"""
        with np.errstate(divide="ignore", invalid="ignore"):
            ratio = self.tension_Pa / self.shear_Pa
        return np.where(np.isfinite(ratio), ratio, 0.0)


def rest_strength(
    table: CaseTable,
    mounts: Sequence[str],
    checks: Checks,
    links: Sequence[ChainLink],
    cases: Sequence[int],
) -> RestStrength:
    """Return what is proven at each mount in some rows of the table."""
    shape = (len(table.cases), checks.evidence.shape[1], len(mounts))

    def at_high(number: Number) -> Array:
        value = np.broadcast_to(np.asarray(number.value, dtype=float), shape)
        return np.ascontiguousarray(value[list(cases), HIGH].T)

    weakest = [("bond", np.inf)] * len(mounts)
    for link in links:
        if link.strength is not None:
            mount, strength_N = list(mounts).index(link.mount), float(np.min(link.strength.value))
            if strength_N < weakest[mount][1]:
                weakest[mount] = (link.part, strength_N)
    return RestStrength(
        tension_Pa=at_high(checks.tension_proven),
        shear_Pa=at_high(checks.shear_proven),
        peel_N_per_m=at_high(checks.peel_proven),
        link_N=np.array([strength for _, strength in weakest]),
        parts=tuple(part for part, _ in weakest),
    )


def uses(strength: RestStrength, rest: OnRest) -> tuple[Array, Array]:
    """Return the use of the bonds and of the other links, (loss, mount, case); NaN where nothing is proven."""
    bond = use_laws.larger_use(
        use_laws.combined_use(
            use_laws.stress_use(rest.peak_Pa, strength.tension_Pa),
            use_laws.stress_use(rest.shear_Pa, strength.shear_Pa),
        ),
        use_laws.peel_use(rest.peel_N_per_m, strength.peel_N_per_m),
    )
    link = use_laws.link_use(rest.force_N, strength.link_N[:, None])
    return np.asarray(bond, dtype=float), np.asarray(link, dtype=float)


def wind_share(strength: RestStrength, lost: LostMounts) -> Array:
    """Return the share of the wind loads at which the most used mount left is used to 100 %, (loss, case).

    NaN where nothing is proven; 0 where even the weight alone is too much; LARGEST_SHARE where more is still held.
    False position with the Illinois step (Dowell and Jarratt 1971): the use rises with the wind, nearly in a line.
    """

    def excess(share: Array) -> Array:
        found: Array = (
            np.maximum(*uses(strength, on_rest(lost, share, strength.shear_counts))).max(axis=1) - 1.0
        )
        return found

    shape = (len(lost.losses), len(lost.group.cases))
    low, high = np.zeros(shape), np.ones(shape)
    at_low, at_high = excess(low), excess(high)
    known = ~np.isnan(at_high)
    more = at_high < 0.0
    if more.any():  # the wind may grow: look as far as is looked at all
        low, at_low = np.where(more, high, low), np.where(more, at_high, at_low)
        high = np.where(more, LARGEST_SHARE, high)
        at_high = excess(high)
    solved = np.where(at_low >= 0.0, 0.0, np.where(at_high <= 0.0, high, np.nan))
    was_over = np.full(shape, np.nan)
    for _ in range(_MOST_ROUNDS):
        if not np.isnan(solved[known]).any():
            break
        step = np.where(at_high > at_low, at_high - at_low, 1.0)
        middle = np.clip(low - at_low * (high - low) / step, low, high)
        value = excess(middle)
        done = (np.abs(value) < _CLOSE) | (high - low < _CLOSE)
        solved = np.where(np.isnan(solved) & done, middle, solved)
        over = value > 0.0
        # an end that stays twice counts half, or the other end would creep
        at_low = np.where(over, np.where(was_over == 1.0, at_low / 2.0, at_low), value)
        at_high = np.where(over, value, np.where(was_over == 0.0, at_high / 2.0, at_high))
        high, low = np.where(over, middle, high), np.where(over, low, middle)
        was_over = over.astype(float)
    return np.where(known, solved, np.nan)
