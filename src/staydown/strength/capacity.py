"""What the evidence of one tape on one surface proves, for each exposure asked: the seam between the two wings.

The belief gives the bound; the level says how far tests speak for it; the bounds that an engineer works out by
hand stand beside. No force comes in here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from staydown.evidence.group_coupons import CouponGroup
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.exposure import Exposure, Mode
from staydown.foundation.law import Law
from staydown.foundation.numbers import Chosen, Derived, Given, Number, Source, derive, given
from staydown.library.cards import PlanningValue, TapeClassCard
from staydown.strength import classical_laws
from staydown.strength.belief import Belief, BeliefSettings
from staydown.strength.bound_at import BoundAt, bounds_at
from staydown.strength.build_belief import believe
from staydown.strength.classical import ClassicalBound, hang_bounds, pull_bounds, speaks_for
from staydown.strength.evidence_level import Level, Reach
from staydown.strength.wet_and_age import wet_and_age

LEVELS: tuple[Level, ...] = ("none", "inferred", "covered")
Planning = Mapping[str, PlanningValue]
Pair = tuple[float, float]

NOTHING = given(float("nan"), "Pa", "coupons", "no evidence")
NOTHING_PEELED = given(float("nan"), "N/m", "coupons", "no evidence")
BOUND = Law(
    name="belief_lower_bound",
    unit="Pa",
    equation="",
    symbols={},
    source="docs/method/strength.md; checked against CMH-17 tolerance factors, lifelines and emcee",
    method="(1 - confidence) quantile over belief of the stress that a share `content` of bonds holds so long so hot",
)
LINE_BOUND = replace(BOUND, name="belief_lower_bound_of_peel", unit="N/m")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What is proven for one exposure in one mode.

    proven [Pa, of peel N/m]: the belief's bound after wet and age; NaN where nothing speaks. level, because: how
    far tests speak for it, and what covers it or is missing. median_Pa: the middle of belief, for "more coupons cannot
    help". by_hand [Pa]: the classical bound times typed ratios, None where there is none. beyond_K,
    beyond_time: how far the exposure lies outside the tests.
    """

    proven: Number
    level: Level
    because: str
    median_Pa: float
    by_hand: Number | None
    beyond_K: float
    beyond_time: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ModeCapacity:
    """The answers of one mode over (case, mount), and what is proven set along both axes. [Pa, of peel N/m]

    answers: by (lasting [s], temperature [K]). pairs: the exposure of each (case, mount). statements: named
    conditions that go with the evidence. classical: the bounds worked out by hand. wet: share kept wet and aged.
    """

    mode: Mode
    pairs: tuple[tuple[Pair, ...], ...]
    answers: Mapping[Pair, Answer]
    proven: Number
    statements: tuple[str, ...]
    classical: tuple[ClassicalBound, ...]
    belief: Belief
    wet: Number
    planned_wet: bool

    def answer(self, case: int, mount: int) -> Answer:
        """Return the answer for one case and mount."""
        row = self.pairs[case]
        return self.answers[row[min(mount, len(row) - 1)]]

    def codes(self) -> NDArray[np.int64]:
        """Return the level of evidence as a code, 0 none to 2 covered. shape (case, 1, mount)"""
        code = {pair: LEVELS.index(answer.level) for pair, answer in self.answers.items()}
        return np.array([[code[pair] for pair in row] for row in self.pairs], dtype=np.int64)[:, None, :]

    def medians(self) -> NDArray[np.float64]:
        """Return the middle of belief, after wet and age. [Pa], shape (case, mount)"""
        return np.array([[self.answers[pair].median_Pa for pair in row] for row in self.pairs])


def build_capacity(
    groups: Mapping[Mode, CouponGroup],
    exposures: Sequence[Sequence[Exposure]],
    ratios: Sequence[KeptRatio],
    tape: TapeClassCard,
    planning: Planning,
    *,
    content: Number,
    coldest_K: float,
    light: bool = False,
) -> dict[Mode, ModeCapacity]:
    """Return for each mode with coupons what is proven for each exposure.

    Parameters
    ----------
    groups : mapping
        Coupons of one tape on one surface, by mode.
    exposures : sequence of sequences of Exposure
        Duration and bond temperature for each case and mount (one entry a case where all mounts are alike).
    ratios : sequence of KeptRatio
        Ratios typed for this tape.
    tape : TapeClassCard
        Class card: the wide prior, and the slope that turns a pull into an equal static life.
    planning : mapping
        Planning values by id.
    content : Number
        Share of bonds that must hold: 0.90, or 0.99 for an item that is not redundant. [1]
    coldest_K : float
        Coldest air of the climate. [K]
    light : bool
        Only what is proven and how far tests speak for it: no bounds by hand, no medians, no statements.
    """
    pairs = tuple(tuple((e.lasts_s, e.temperature_K) for e in row) for row in exposures)
    return {
        mode: _mode_capacity(
            group, pairs, [r for r in ratios if r.mode == mode], tape, planning, (content, coldest_K), light
        )
        for mode, group in groups.items()
        if group.valid or group.conditioned
    }


def reach_of(planning: Planning) -> Reach:
    """Return how far tests reach, from the planning values."""
    return Reach(
        coupons=int(float(planning["least_coupons"].decided.value)),
        cooler_K=float(planning["temperature_reach"].decided.value),
        longer=float(planning["duration_reach"].decided.value),
        inferred_cooler_K=float(planning["inferred_temperature_reach"].decided.value),
        inferred_longer=float(planning["inferred_duration_reach"].decided.value),
    )


def settings_of(planning: Planning) -> BeliefSettings:
    """Return how beliefs are formed for a verdict: class prior, normal scatter, Arrhenius."""
    band = planning["batch_scatter"].band
    return BeliefSettings(batch_spread=(band.low, band.likely, band.high))


def _mode_capacity(
    group: CouponGroup,
    pairs: tuple[tuple[Pair, ...], ...],
    ratios: Sequence[KeptRatio],
    tape: TapeClassCard,
    planning: Planning,
    asked: tuple[Number, float],
    light: bool,
) -> ModeCapacity:
    content, coldest_K = asked
    slope = Given(
        value=tape.slope.likely,
        unit="1",
        source=Source(basis="class card", title=tape.slope.source, place=f"{tape.id}.slope"),
    )
    hot = tuple(r for r in ratios if r.condition == "hot")
    settings = replace(
        settings_of(planning), bonded_in_batch=group.bonded_in, session_told=group.session_told
    )
    belief = believe(group.valid, tape, mode=group.mode, settings=settings, hot_ratios=hot)
    confidence = planning["confidence"].decided
    unique = tuple(dict.fromkeys(pair for row in pairs for pair in row))
    bounds = bounds_at(
        belief,
        unique,
        float(content.value),
        float(confidence.value),
        slope=float(slope.value),
        coldest_K=coldest_K,
        reach=reach_of(planning),
        medians=not light,
    )
    wet, planned = wet_and_age(group, ratios, planning, belief)
    by_hand = (
        []
        if light
        else [*pull_bounds(group, planning, content, slope), *hang_bounds(group, planning, content)]
    )
    answers = {
        pair: _answer(group.mode, pair, bound, wet, by_hand, ratios, planning, (content, confidence))
        for pair, bound in zip(unique, bounds, strict=True)
    }
    return ModeCapacity(
        mode=group.mode,
        pairs=pairs,
        answers=answers,
        proven=_along(pairs, answers),
        statements=_statements(by_hand, pairs, planning),
        classical=tuple(by_hand),
        belief=belief,
        wet=wet,
        planned_wet=planned,
    )


def _along(pairs: tuple[tuple[Pair, ...], ...], answers: Mapping[Pair, Answer]) -> Number:
    """Return what is proven along cases and mounts; rows that are alike share one number."""
    rows: dict[tuple[Pair, ...], Number] = {}
    for row in pairs:
        if row not in rows:
            items = tuple(answers[pair].proven for pair in row)
            value = np.array([float(item.value) for item in items]).reshape(1, 1, -1)
            rows[row] = Chosen(value=value, unit=items[0].unit, axis=2, items=items)
    stacked = np.concatenate([np.asarray(rows[row].value) for row in pairs], axis=0)
    return Chosen(
        value=stacked,
        unit=rows[pairs[0]].unit,
        axis=0,
        items=tuple(rows[row] for row in pairs),
        why="evidence that speaks for the case",
    )


def _answer(
    mode: Mode,
    pair: Pair,
    bound: BoundAt,
    wet: Number,
    by_hand: Sequence[ClassicalBound],
    ratios: Sequence[KeptRatio],
    planning: Planning,
    basis: tuple[Number, Number],
) -> Answer:
    content, confidence = basis
    lasts_s, temperature_K = pair
    known = np.isfinite(bound.stress_Pa) and bound.level != "none"
    peels = mode == "peel"
    law = LINE_BOUND if peels else BOUND
    proven: Number = NOTHING_PEELED if peels else NOTHING
    if known:
        believed = Derived(
            value=bound.stress_Pa,
            unit=law.unit,
            law=law,
            inputs={
                "lasts": given(lasts_s, "s", "calculation", "duration of the case"),
                "temperature": given(temperature_K, "K", "calculation", "bond temperature of the case"),
                "content": content,
                "confidence": confidence,
                "coupons": given(float(bound.coupons), "1", "coupons", bound.made_from),
            },
        )
        proven = (
            derive(classical_laws.kept_line_load, kept=wet, line_load_N_per_m=believed)
            if peels
            else derive(classical_laws.kept_strength, kept=wet, stress_Pa=believed)
        )
    return Answer(
        proven=proven,
        level=bound.level if known else "none",
        because=bound.because,
        median_Pa=bound.median_Pa * float(wet.value),
        by_hand=_by_hand(pair, by_hand, ratios, wet, planning),
        beyond_K=bound.beyond_K,
        beyond_time=bound.beyond_time,
    )


def _by_hand(
    pair: Pair,
    bounds: Sequence[ClassicalBound],
    ratios: Sequence[KeptRatio],
    wet: Number,
    planning: Planning,
) -> Number | None:
    """Return the largest classical bound that speaks for an exposure, typed ratios applied; None where none does."""
    exposure = Exposure(lasts_s=pair[0], temperature_K=pair[1], season="hot")
    reach_K = float(planning["temperature_reach"].decided.value)
    longer = float(planning["duration_reach"].decided.value)
    hot = [r for r in ratios if r.condition == "hot" and r.temperature_K >= exposure.temperature_K - reach_K]
    found: list[Number] = []
    for bound in bounds:
        stress: Number | None = bound.stress if speaks_for(bound, exposure, planning) else None
        if stress is None and hot and bound.pulled and bound.lasts_s * longer >= exposure.lasts_s:
            ratio = max(hot, key=lambda r: float(r.kept.value))
            stress = derive(classical_laws.kept_strength, kept=ratio.kept, stress_Pa=bound.stress)
        if stress is not None:
            found.append(derive(classical_laws.kept_strength, kept=wet, stress_Pa=stress))
    return max(found, key=lambda number: float(number.value)) if found else None


def _statements(
    bounds: Sequence[ClassicalBound], pairs: Sequence[Sequence[Pair]], planning: Planning
) -> tuple[str, ...]:
    """Return what the survivors that speak for some case prove, as the success run says it."""
    asked = [
        Exposure(lasts_s=lasts, temperature_K=temperature, season="hot")
        for lasts, temperature in {pair for row in pairs for pair in row}
    ]
    lines = []
    for bound in bounds:
        if bound.reliability is not None and any(speaks_for(bound, e, planning) for e in asked):
            confidence = float(planning["success_confidence"].decided.value)
            lines.append(
                f"{bound.survivors} of {bound.survivors} hangs held: at {100 * confidence:.0f} % confidence at least "
                f"{100 * float(bound.reliability.value):.0f} % of such bonds would hold too"
            )
    return tuple(dict.fromkeys(lines))
