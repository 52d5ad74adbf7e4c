"""Weighs tests that were not made yet: which blocked cases each would clear, with what chance, at what use."""

from __future__ import annotations

from collections.abc import Mapping
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
from staydown.strength.predict import Outlook, Pair, Shown, bounds_after, simulate
from staydown.strength.rupture_laws import HOUR_s
from staydown.strength.wet_and_age import LEAST_CONDITIONED, SAME_TEMPERATURE_K
from staydown.verdict.checks import COVERED, HIGH, INFERRED, NONE

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Codes = NDArray[np.int64]
WORLDS = 48
LIKELY = 0.5  # a test is aimed at the cells that it clears in at least this share of the worlds


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedTest:
    """A test with what it would do: cells are (case, mount).

    chance: that it clears all the cells it is aimed at. use_now, use_after: largest use of those cells before it,
    infinite where something is not known, and expected after it. asked_Pa: their largest stress of the mode tested,
    over what wet keeps where the coupons are dry. cleared: expected number of blocked cells cleared. cases: indices
    of the cases it is aimed at.
    """

    test: CandidateTest
    chance: float
    use_now: float
    use_after: float
    asked_Pa: float
    cleared: float
    cases: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Board:
    """What blocks an item now, cell by cell, and the parts of its use. shape (case, mount)

    stress: demand by mode [Pa]. use, level: by mode. pairs: the different exposures; pair: index of each cell's.
    rows: for each class of duration the cases of it; bonded: cases that load the bond.
    """

    stress: Mapping[Mode, Array]
    use: Mapping[Mode, Array]
    level: Mapping[Mode, Codes]
    pairs: tuple[Pair, ...]
    pair: Codes
    rows: tuple[Mask, ...]
    bonded: Mask
    shear_share: float
    shear_inferred: bool
    inferred_limit: float
    little_shear: float
    negligible: float

    def blocked(self, use: Mapping[Mode, Array], level: Mapping[Mode, Codes]) -> Mask:
        """Return the cells that stop the verdict with these uses and levels. shape (..., case, mount)"""
        total = np.hypot(use["tension"], use["shear"])
        total = np.where(np.isnan(total), np.inf, total)
        worst = np.broadcast_to(np.minimum(level["tension"], level["shear"]), total.shape)
        stop = (total > 1.0) | (worst == NONE) | ((worst == INFERRED) & (total > self.inferred_limit))
        for rows in self.rows:
            part = np.where(rows[:, None], total, -1.0)
            most = part.max(axis=(-2, -1), keepdims=True)
            stop = stop | ((part == most) & (most > self.negligible) & (worst == INFERRED))
        result: Mask = stop & self.bonded[:, None]
        return result


def build_board(mounted: Mounted, planning: Mapping[str, PlanningValue]) -> Board:
    """Return what blocks an item now."""
    checks, demands = mounted.checks, mounted.demands
    shape = checks.evidence.shape
    cases = mounted.table.cases
    cells = [
        [
            (row[min(mount, len(row) - 1)].lasts_s, row[min(mount, len(row) - 1)].temperature_K)
            for mount in range(shape[2])
        ]
        for row in exposures(mounted.table)
    ]
    pairs = tuple(dict.fromkeys(pair for row in cells for pair in row))
    bonded = ~checks.soaks | (demands.bow is not None)
    classes = [case.exposure.duration_class for case in cases]

    def high(value: object) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=float), shape)[:, HIGH, :]

    return Board(
        stress={"tension": high(demands.peak_tension.value), "shear": high(demands.shear.value)},
        use={"tension": high(checks.tension_use.value), "shear": high(checks.shear_use.value)},
        level={mode: checks.evidence_of[mode][:, HIGH, :] for mode in ("tension", "shear")},
        pairs=pairs,
        pair=np.array([[pairs.index(pair) for pair in row] for row in cells]),
        rows=tuple(np.array([c == name for c in classes]) & bonded for name in dict.fromkeys(classes)),
        bonded=bonded,
        shear_share=float(planning["shear_from_tension"].decided.value),
        shear_inferred=checks.shear_inferred,
        inferred_limit=float(planning["inferred_use_limit"].decided.value),
        little_shear=float(planning["shear_from_tension_covered"].decided.value),
        negligible=float(planning["negligible_use"].decided.value),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stand:
    """What is known of one mode now, for weighing tests of it: belief, outlook, share kept wet, simulated worlds."""

    belief: Belief
    look: Outlook
    wet: float
    wet_measured: float
    truths: Codes
    noise: Array
    slope: float
    coldest_K: float


def weigh(
    test: CandidateTest, board: Board, stand: Stand, reach: Reach, confidence: float
) -> WeighedTest | None:
    """Return what a test would do, or None when it clears nothing in any world."""
    before = board.blocked(board.use, board.level)
    if test.soaked:
        gain = stand.wet_measured / stand.wet
        if gain <= 1.0:
            return None
        drier = {
            mode: value[None] / (gain if mode == test.mode else 1.0) for mode, value in board.use.items()
        }
        return _weighed(test, board, stand, before, drier, board.level)
    shown = simulate(stand.look, test.trial, stand.truths, stand.noise)
    held = (~shown.let_go).sum(axis=1) >= reach.coupons
    counts = held if test.way == "hang" else np.ones(WORLDS, dtype=bool)
    after = _levels_after(test, board, stand, reach)
    # hangs that fell early say nothing for the time they were meant to last: those worlds keep today's level
    level = {mode: np.where(counts[:, None, None], after[mode], board.level[mode]) for mode in after}
    use = _uses(test, board, stand, _bounds(test, stand, shown, reach, confidence))
    return _weighed(test, board, stand, before, use, level)


def _weighed(
    test: CandidateTest,
    board: Board,
    stand: Stand,
    before: Mask,
    use: Mapping[Mode, Array],
    level: Mapping[Mode, Codes],
) -> WeighedTest | None:
    freed = before & ~board.blocked(use, level)
    share = freed.mean(axis=0)
    aimed = share >= min(LIKELY, float(share.max()))
    if share.max() <= 0.0:
        return None
    total = np.hypot(use["tension"], use["shear"])[:, aimed]
    now = np.hypot(board.use["tension"], board.use["shear"])[aimed]
    return WeighedTest(
        test=test,
        chance=float(freed[:, aimed].all(axis=1).mean()),
        use_now=float(np.where(np.isnan(now), np.inf, now).max()),
        use_after=float(total.max(axis=1).mean()),
        asked_Pa=float(board.stress[test.mode][aimed].max()) / (1.0 if test.soaked else stand.wet),
        cleared=float(share.sum()),
        cases=tuple(int(row) for row in np.nonzero(aimed.any(axis=1))[0]),
    )


def _uses(test: CandidateTest, board: Board, stand: Stand, bounds: Array) -> dict[Mode, Array]:
    """Return the uses of every cell in every world. bounds: (worlds, pairs) [Pa]; result (worlds, case, mount)"""
    proven = bounds[:, board.pair] * stand.wet
    use = {mode: value[None] for mode, value in board.use.items()}
    use[test.mode] = np.where(board.stress[test.mode] > 0.0, board.stress[test.mode] / proven, 0.0)
    if test.mode == "tension" and board.shear_inferred:
        sliding = board.stress["shear"]
        use["shear"] = np.where(sliding > 0.0, sliding / (board.shear_share * proven), 0.0)
    return use


def _levels_after(test: CandidateTest, board: Board, stand: Stand, reach: Reach) -> dict[Mode, Codes]:
    coupons = (*stand.belief.coupons, *as_planned(test, stand))
    codes = np.array(
        [
            LEVELS.index(
                evidence_level(
                    coupons,
                    Exposure(lasts_s=pair[0], temperature_K=pair[1], season="hot"),
                    slope=stand.slope,
                    coldest_K=stand.coldest_K,
                    reach=reach,
                ).level
            )
            for pair in board.pairs
        ]
    )
    new = codes[board.pair]
    level = dict(board.level)
    level[test.mode] = np.where(board.stress[test.mode] > 0.0, new, COVERED)
    if test.mode == "tension" and board.shear_inferred:
        slides = board.stress["shear"] > 0.0
        little = board.use["shear"] <= board.little_shear
        level["shear"] = np.where(slides, np.where(little, new, np.minimum(new, INFERRED)), COVERED)
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


def has_dry_partners(test: CandidateTest, stand: Stand) -> bool:
    """Return whether enough dry pulls exist at the temperature of a soaked test to compare it with."""
    dry = [
        coupon
        for coupon in stand.belief.coupons
        if coupon.result == "broke"
        and abs(coupon.temperature_K - test.trial.temperature_K) <= SAME_TEMPERATURE_K
    ]
    return len(dry) >= LEAST_CONDITIONED


def expected_breaking(test: CandidateTest, stand: Stand) -> float:
    """Return the stress at which a pull would break, in the middle of belief. [Pa]"""
    trial = test.trial
    told = stand.belief.parameters()
    slope = told["slope"]["median"]
    one = stand.belief.strength_quantile([(trial.lasts_s / (slope + 1.0), trial.temperature_K)], 0.5, 0.5)
    return float(one[0])


def _bounds(test: CandidateTest, stand: Stand, shown: Shown, reach: Reach, confidence: float) -> Array:
    """Return the bounds after each world, cut to what survived where nothing let go near. [Pa], (worlds, pairs)"""
    found = bounds_after(stand.look, shown.log_likelihood, confidence)
    known = stand.belief.coupons
    planned = as_planned(test, stand)
    held = (~shown.let_go).sum(axis=1) >= reach.coupons
    coolest = min(stand.belief.coolest_K, test.trial.temperature_K)
    hours = 10.0**shown.seen
    for number, pair in enumerate(stand.look.pairs):
        if let_go_near(known, stand.belief.coolest_K, pair, stand.slope, reach):
            continue
        if test.way == "pull":
            near: Mask = np.full(WORLDS, let_go_near(planned, coolest, pair, stand.slope, reach))
        else:
            warm = abs(test.trial.temperature_K - max(pair[1], coolest)) <= reach.cooler_K
            ratio = hours * HOUR_s / pair[0]
            alike = shown.let_go & (ratio >= 1.0 / reach.longer) & (ratio <= reach.longer)
            near = np.asarray(warm & alike.any(axis=1))
        now = survived_stress(stand.belief, known, pair, stand.slope, reach)
        then = survived_stress(stand.belief, (*known, *planned), pair, stand.slope, reach)
        limit = np.where(held | (test.way == "pull"), then, now)
        found[:, number] = np.where(near, found[:, number], np.fmin(found[:, number], limit))
    return found
