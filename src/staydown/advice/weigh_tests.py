"""Weighs tests that were not made yet: which blocked cases each would clear, with what chance, at what use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.advice.candidate_tests import CandidateTest
from staydown.assess import Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Exposure, Mode
from staydown.library.cards import PlanningValue
from staydown.loads.load_case import exposures
from staydown.strength.belief import Belief
from staydown.strength.bound_at import let_go_near, survived_stress
from staydown.strength.capacity import LEVELS
from staydown.strength.evidence_level import Reach, evidence_level
from staydown.strength.predict import Outlook, Pair, bounds_after, simulate
from staydown.verdict.checks import COVERED, HIGH, INFERRED, NONE

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
WORLDS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedTest:
    """A test with what it would do: cells are (case, mount).

    chance: that it clears all the cells it is aimed at. use_after: expected largest use of those cells.
    cleared: expected number of blocked cells cleared. cases: indices of the cases it is aimed at.
    """

    test: CandidateTest
    chance: float
    use_after: float
    cleared: float
    cases: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Board:
    """What blocks an item now, cell by cell, and the parts of its use. shape (case, mount)

    stress: demand by mode [Pa]. use: by mode. level: by mode. pairs: exposure of each cell.
    """

    stress: Mapping[Mode, Array]
    use: Mapping[Mode, Array]
    level: Mapping[Mode, NDArray[np.int64]]
    pairs: tuple[tuple[Pair, ...], ...]
    bonded: Mask
    shear_share: float
    shear_inferred: bool
    inferred_limit: float
    little_shear: float
    classes: tuple[str, ...]

    def blocked(self, use: Mapping[Mode, Array], level: Mapping[Mode, NDArray[np.int64]]) -> Mask:
        """Return the cells that stop the verdict with these uses and levels."""
        total = np.hypot(use["tension"], use["shear"])
        worst = np.minimum(level["tension"], level["shear"])
        stop = np.isnan(total) | (total > 1.0) | (worst == NONE)
        stop |= (worst == INFERRED) & (total > self.inferred_limit)
        for name in dict.fromkeys(self.classes):
            rows = np.array([c == name for c in self.classes]) & self.bonded
            part = np.where(rows[:, None], np.nan_to_num(total, nan=np.inf), -1.0)
            if part.max() > 0.0:
                top = np.unravel_index(part.argmax(), part.shape)
                stop[top] |= bool(worst[top] == INFERRED)
        result: Mask = stop & self.bonded[:, None]
        return result


def build_board(mounted: Mounted, planning: Mapping[str, PlanningValue]) -> Board:
    """Return what blocks an item now."""
    checks, demands = mounted.checks, mounted.demands
    shape = checks.evidence.shape
    cases = mounted.table.cases
    pairs = tuple(
        tuple(
            (row[min(mount, len(row) - 1)].lasts_s, row[min(mount, len(row) - 1)].temperature_K)
            for mount in range(shape[2])
        )
        for row in exposures(mounted.table)
    )

    def high(value: object) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=float), shape)[:, HIGH, :]

    return Board(
        stress={"tension": high(demands.peak_tension.value), "shear": high(demands.shear.value)},
        use={"tension": high(checks.tension_use.value), "shear": high(checks.shear_use.value)},
        level={mode: checks.evidence_of[mode][:, HIGH, :] for mode in ("tension", "shear")},
        pairs=pairs,
        bonded=np.array([case.family != "soak" for case in cases]),
        shear_share=float(planning["shear_from_tension"].decided.value),
        shear_inferred=checks.shear_inferred,
        inferred_limit=float(planning["inferred_use_limit"].decided.value),
        little_shear=float(planning["shear_from_tension_covered"].decided.value),
        classes=tuple(case.exposure.duration_class for case in cases),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stand:
    """What is known of one mode now, for weighing tests of it: belief, outlook, share kept wet, simulated worlds."""

    belief: Belief
    look: Outlook
    wet: float
    wet_measured: float
    truths: NDArray[np.int64]
    noise: Array
    slope: float
    coldest_K: float


def weigh(
    test: CandidateTest, board: Board, stand: Stand, reach: Reach, confidence: float
) -> WeighedTest | None:
    """Return what a test would do, or None when it clears nothing."""
    before = board.blocked(board.use, board.level)
    if test.soaked:
        kept = stand.wet_measured / stand.wet
        if kept <= 1.0:
            return None
        use = {mode: value / kept for mode, value in board.use.items() if mode == test.mode}
        return _weighed(test, board, before, [dict(board.use) | use], board.level)
    level = _levels_after(test, board, stand, reach)
    if not (before & (level[test.mode] > board.level[test.mode])).any() and not _near_any(test, stand, reach):
        return None
    bounds = _bounds(test, stand, reach, confidence)
    uses = [_uses(test, board, stand, row) for row in bounds]
    return _weighed(test, board, before, uses, level)


def _near_any(test: CandidateTest, stand: Stand, reach: Reach) -> bool:
    return any(
        abs(test.trial.temperature_K - warm) <= reach.inferred_cooler_K or warm < test.trial.temperature_K
        for _, warm in stand.look.pairs
    )


def _weighed(
    test: CandidateTest,
    board: Board,
    before: Mask,
    uses: Sequence[Mapping[Mode, Array]],
    level: Mapping[Mode, NDArray[np.int64]],
) -> WeighedTest | None:
    freed = [before & ~board.blocked(use, level) for use in uses]
    share = np.mean(freed, axis=0)
    aimed = share > 0.0
    if not aimed.any():
        return None
    totals = [np.hypot(use["tension"], use["shear"])[aimed].max() for use in uses]
    return WeighedTest(
        test=test,
        chance=float(np.mean([free[aimed].all() for free in freed])),
        use_after=float(np.mean(totals)),
        cleared=float(share.sum()),
        cases=tuple(int(row) for row in np.nonzero(aimed.any(axis=1))[0]),
    )


def _uses(test: CandidateTest, board: Board, stand: Stand, bounds: Array) -> dict[Mode, Array]:
    """Return the uses of every cell when this mode's bounds are these. bounds: (pairs,) [Pa]"""
    by_pair = dict(zip(stand.look.pairs, bounds * stand.wet, strict=True))
    shape = board.stress[test.mode].shape
    proven = np.array([[by_pair.get(pair, np.nan) for pair in row] for row in board.pairs]).reshape(shape)
    use = dict(board.use)
    stress = board.stress[test.mode]
    use[test.mode] = np.where(stress > 0.0, stress / proven, 0.0)
    if test.mode == "tension" and board.shear_inferred:
        sliding = board.stress["shear"]
        use["shear"] = np.where(sliding > 0.0, sliding / (board.shear_share * proven), 0.0)
    return use


def _levels_after(
    test: CandidateTest, board: Board, stand: Stand, reach: Reach
) -> dict[Mode, NDArray[np.int64]]:
    coupons = (*stand.belief.coupons, *as_planned(test, stand))
    known = {
        pair: LEVELS.index(
            evidence_level(
                coupons,
                Exposure(lasts_s=pair[0], temperature_K=pair[1], season="hot"),
                slope=stand.slope,
                coldest_K=stand.coldest_K,
                reach=reach,
            ).level
        )
        for pair in stand.look.pairs
    }
    shape = board.level[test.mode].shape
    new = np.array([[known.get(pair, COVERED) for pair in row] for row in board.pairs]).reshape(shape)
    level = dict(board.level)
    level[test.mode] = np.where(board.stress[test.mode] > 0.0, new, COVERED)
    if test.mode == "tension" and board.shear_inferred:
        sliding = np.where(board.stress["shear"] > 0.0, np.minimum(new, INFERRED), COVERED)
        little = board.use["shear"] <= board.little_shear
        level["shear"] = np.where(little & (board.stress["shear"] > 0.0), new, sliding)
    return level


def as_planned(test: CandidateTest, stand: Stand) -> tuple[Coupon, ...]:
    """Return the coupons of a test as they would stand if it went as believed: pulls break, hangs hold."""
    trial = test.trial
    stress = trial.stress_Pa if trial.way == "hang" else expected_breaking(test, stand)
    return tuple(
        Coupon(
            name=f"planned {number + 1}: {trial.way} at {trial.temperature_K:.0f} K",
            tape=stand.belief.coupons[0].tape if stand.belief.coupons else "planned",
            surface=stand.belief.coupons[0].surface if stand.belief.coupons else "planned",
            mode=test.mode,
            result="broke" if trial.way == "pull" else "holding",
            load_N=stress * test.area_m2,
            area_m2=test.area_m2,
            lasted_s=trial.lasts_s,
            temperature_K=trial.temperature_K,
            batch="planned",
        )
        for number in range(trial.count)
    )


def expected_breaking(test: CandidateTest, stand: Stand) -> float:
    """Return the stress at which a pull would break, in the middle of belief. [Pa]"""
    trial = test.trial
    told = stand.belief.parameters()
    slope = told["slope"]["median"]
    one = stand.belief.strength_quantile([(trial.lasts_s / (slope + 1.0), trial.temperature_K)], 0.5, 0.5)
    return float(one[0])


def _bounds(test: CandidateTest, stand: Stand, reach: Reach, confidence: float) -> Array:
    """Return the bounds after each world, cut to what survived where nothing let go near. [Pa], (worlds, pairs)"""
    likelihood = simulate(stand.look, test.trial, stand.truths, stand.noise)
    found = bounds_after(stand.look, likelihood, confidence)
    planned = as_planned(test, stand)
    for number, pair in enumerate(stand.look.pairs):
        near = let_go_near(stand.belief.coupons, stand.belief.coolest_K, pair, stand.slope, reach)
        near |= test.way == "pull" and let_go_near(
            planned, min(stand.belief.coolest_K, test.trial.temperature_K), pair, stand.slope, reach
        )
        if not near:
            limit = survived_stress(stand.belief, (*stand.belief.coupons, *planned), pair, stand.slope, reach)
            found[:, number] = np.minimum(found[:, number], limit)
    return found
