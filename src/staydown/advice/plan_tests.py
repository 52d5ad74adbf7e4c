"""Plans tests one after the other: the cheapest that clears most, then the next as if that one went as believed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from staydown.advice.candidate_tests import COUNTS, Asked, CandidateTest, candidates
from staydown.advice.weigh_tests import (
    WORLDS,
    Board,
    Stand,
    WeighedTest,
    as_planned,
    build_board,
    has_dry_partners,
    weigh,
)
from staydown.assess import Assessment, Facts, ItemAssessment, assess_item, session_of
from staydown.evidence.coupon import Coupon
from staydown.evidence.history import build_history
from staydown.foundation.exposure import Mode, SECONDS_END_s
from staydown.foundation.numbers import Number, derive, given
from staydown.library.cards import PlanningValue
from staydown.strength import success_run_laws
from staydown.strength.belief import Belief
from staydown.strength.build_belief import believe
from staydown.strength.capacity import reach_of, settings_of
from staydown.strength.predict import outlook
from staydown.verdict.checks import COVERED
from staydown.verdict.decide import refusals

DRAWS = 1200
MOST_STEPS = 8
NEARLY_BEST = 0.9  # the cheapest test that clears this share of what the best clears is taken
HALF = 0.5  # a mode used less than this beside another is not what blocks
LEAST_CHANCE = 0.3  # a further step below this is a gamble, not a plan
LEAST_PRODUCT = 0.1  # nor is a plan whose steps all going well is less likely than this
WORTH = 0.05  # a chance below this is not worth a test
SOAKED_CONTENT = "21 d in water at 23 degC"
Planning = Mapping[str, PlanningValue]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainPlan:
    """A zero-failure plan without any belief: hangs that all must hold, for a share at a confidence.

    count: at the stress and for the time of the case. count_longer: when they hang `longer` times as long.
    """

    reliability: float
    confidence: float
    count: int
    longer: float
    count_longer: int
    count_exact: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep:
    """One step: the test chosen, and the others that would do nearly as well.

    open_now, open_after: cases that the bond keeps from being proven before it, and after it if it goes as believed.
    expected_N: at what load a coupon is believed to let go, none for hangs.
    """

    chosen: WeighedTest
    instead: tuple[WeighedTest, ...]
    open_now: int
    open_after: int
    expected_N: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemPlan:
    """The tests worth making for one item, in order.

    clears: whether nothing of the bond blocks the verdict after the last step, if all goes as believed.
    chance: that every step does what it is aimed at. other: what no test of the bond can clear.
    why_none: why no test is offered. too_weak: what stays open is tested, and used over 100 %.
    """

    item: str
    steps: tuple[PlanStep, ...]
    clears: bool
    chance: float
    other: tuple[str, ...]
    plain: PlainPlan
    weighed: int
    why_none: str = ""
    too_weak: bool = False


def plan_tests(assessment: Assessment, facts: Facts, generator: np.random.Generator) -> tuple[ItemPlan, ...]:
    """Return for each item the tests worth making next.

    Parameters
    ----------
    assessment : Assessment
        What `assess` returned; after each coupon it is made anew, and the plan with it.
    facts : Facts
        The facts it rests on.
    generator : Generator
        For the simulated worlds; the same seed gives the same plan.
    """
    return tuple(_plan_item(assessment, facts, item, generator) for item in assessment.items)


def _plan_item(
    assessment: Assessment, facts: Facts, item: ItemAssessment, generator: np.random.Generator
) -> ItemPlan:
    planning = assessment.cards.planning
    plain = plain_plan(planning, item.mounted.content if item.mounted else planning["content"].decided)
    refused = refusals(item.standing, planning)
    if item.mounted is None or refused:
        why = "no test can make this pass: " + "; ".join(refused or item.verdict.because)
        return _without(item, plain, why)
    board = build_board(item.mounted, planning)
    other = _other_reasons(item)
    if not board.blocked(board.use, board.level).any():
        why = "no test is worth making now: with every mount in place the coupons prove enough in every case"
        return replace(_without(item, plain, why), clears=True, chance=1.0, other=other)
    session = session_of(item.item, build_history(facts.events))
    steps: list[PlanStep] = []
    weighed, now = 0, item
    coupons: tuple[Coupon, ...] = facts.coupons
    chance = 1.0
    for _ in range(MOST_STEPS):
        board = _board_of(now, planning)
        if not board.blocked(board.use, board.level).any():
            break
        found, count = _weigh_all(now, board, assessment, generator)
        weighed += count
        good = _choose(found, planning) if found else None
        if good is None or (steps and (good[0].chance < LEAST_CHANCE or chance < LEAST_PRODUCT)):
            break
        chosen = good[0]
        chance *= chosen.chance
        made = _as_made(chosen.test, now, board, assessment, len(steps) + 1, generator)
        coupons = (*coupons, *made)
        now = assess_item(assessment.job, item.item, item.place, assessment.cards, coupons, session)
        steps.append(
            PlanStep(
                chosen=chosen,
                instead=good[1:],
                open_now=_open_cases(board),
                open_after=_open_cases(_board_of(now, planning)),
                expected_N=_expected(chosen.test, made),
            )
        )
        if _only_too_weak(now, planning):
            break
    if not steps:
        return replace(
            _without(item, plain, "no test can make this pass: none clears a single case"), other=other
        )
    board = _board_of(now, planning)
    return ItemPlan(
        item=item.item.name,
        steps=tuple(steps),
        clears=not board.blocked(board.use, board.level).any(),
        chance=chance,
        other=_other_reasons(now),
        plain=plain,
        weighed=weighed,
        too_weak=_only_too_weak(now, planning),
    )


def _without(item: ItemAssessment, plain: PlainPlan, why: str) -> ItemPlan:
    return ItemPlan(
        item=item.item.name,
        steps=(),
        clears=False,
        chance=0.0,
        other=(),
        plain=plain,
        weighed=0,
        why_none=why,
    )


def _other_reasons(item: ItemAssessment) -> tuple[str, ...]:
    """Return what blocks the word beside the bond: links that nobody knows, heat that moves the pads too far."""
    assert item.mounted is not None
    loose = [link.link.part for link in item.mounted.chain if not link.link.known]
    reasons = [f"the {part} is unknown" for part in dict.fromkeys(loose)]
    checks = item.mounted.checks
    reasons += [
        text for text in item.verdict.because if text.startswith(("not redundant", "whether the rest"))
    ]
    if (checks.strain_decides() & (checks.use_at_high() > 1.0)).any():
        reasons.append("heat moves a pad further than the planning limit: no coupon is needed, a change is")
    return tuple(reasons)


def _only_too_weak(now: ItemAssessment, planning: Planning) -> bool:
    """Return whether every case that is still open is covered by tests: then the bond is too weak, not untested."""
    board = _board_of(now, planning)
    open_cells = board.blocked(board.use, board.level)
    level = np.minimum(board.level["tension"], board.level["shear"])
    return bool(open_cells.any() and (level[open_cells] == COVERED).all())


def _stand(
    mode: Mode,
    now: ItemAssessment,
    board: Board,
    assessment: Assessment,
    generator: np.random.Generator,
) -> Stand:
    assert now.mounted is not None
    planning = assessment.cards.planning
    capacity = now.mounted.capacity.get(mode)
    belief = (
        capacity.belief
        if capacity is not None
        else believe((), now.standing.tape, mode=mode, settings=settings_of(planning))
    )
    draws = belief.draws(DRAWS, generator)
    card = planning["wet_and_age"]
    wet = float(capacity.wet.value) if capacity is not None else float(card.decided.value)
    measured = card.band.likely if capacity is None or capacity.planned_wet else wet
    return Stand(
        belief=belief,
        look=outlook(draws, board.pairs, float(now.mounted.content.value)),
        wet=wet,
        wet_measured=measured,
        truths=generator.integers(0, DRAWS, WORLDS),
        noise=generator.standard_normal((WORLDS, max(COUNTS), draws.slope.shape[0])),
        slope=now.standing.tape.slope.likely,
        coldest_K=assessment.job.climate.coldest_K,
    )


def _weigh_all(
    now: ItemAssessment, board: Board, assessment: Assessment, generator: np.random.Generator
) -> tuple[list[WeighedTest], int]:
    planning = assessment.cards.planning
    before = board.blocked(board.use, board.level)
    modes: list[Mode] = []
    both: tuple[Mode, ...] = ("tension", "shear")
    for mode in both:
        short = (board.level[mode] < COVERED) | (np.nan_to_num(board.use[mode], nan=2.0) > HALF)
        if (before & short & (board.stress[mode] > 0.0)).any():
            modes.append(mode)
    stands = {mode: _stand(mode, now, board, assessment, generator) for mode in modes}
    asked = [_asked(mode, board, stands[mode]) for mode in modes]
    temperatures = [board.pairs[number][1] for number in np.unique(board.pair[board.bonded])]
    tests = [
        test
        for want in asked
        for test in candidates(want, max(temperatures), min(temperatures), now.standing.tape, planning)
    ]
    reach, confidence = reach_of(planning), float(planning["confidence"].decided.value)
    found = [weigh(test, board, stands[test.mode], reach, confidence) for test in tests]
    return [test for test in found if test is not None and test.chance >= WORTH], len(tests)


def _asked(mode: Mode, board: Board, stand: Stand) -> Asked:
    """Return what hangs must show: the largest stress of the cases of minutes and longer, wet counted, and how long."""
    lasts = np.array([pair[0] for pair in board.pairs])[board.pair]
    long = (lasts >= SECONDS_END_s) & board.bonded[:, None] & (board.stress[mode] > 0.0)
    if not long.any():
        return Asked(mode=mode, stress_Pa=0.0, longest_s=3600.0)
    return Asked(
        mode=mode,
        stress_Pa=float(board.stress[mode][long].max()) / stand.wet,
        longest_s=float(lasts[long].max()),
    )


def _board_of(now: ItemAssessment, planning: Planning) -> Board:
    assert now.mounted is not None
    return build_board(now.mounted, planning)


def _open_cases(board: Board) -> int:
    return int(board.blocked(board.use, board.level).any(axis=1).sum())


def _expected(test: CandidateTest, made: Sequence[Coupon]) -> float | None:
    """Return the load at which a planned pull lets go, in the middle of belief; those it is compared with left out."""
    if test.way == "hang":
        return None
    own = [coupon.load_N for coupon in made if (coupon.conditioned is not None) == test.soaked]
    return float(np.exp(np.mean(np.log(own))))


def _choose(found: Sequence[WeighedTest], planning: Planning) -> tuple[WeighedTest, ...]:
    """Return the test to take, and others that would do nearly as well."""
    work = float(planning["coupon_work"].decided.value)
    best = max(test.cleared * test.chance for test in found)
    good = [test for test in found if test.cleared * test.chance >= NEARLY_BEST * best]
    good.sort(key=lambda weighed: weighed.test.effort_s(work))
    return tuple(good[:3])


def _as_made(
    test: CandidateTest,
    now: ItemAssessment,
    board: Board,
    assessment: Assessment,
    step: int,
    generator: np.random.Generator,
) -> tuple[Coupon, ...]:
    """Return a test's coupons as if it went as believed, so that the next step may build on it.

    A little scatter keeps the belief from taking equal results for a bond without any. Soaked pulls come with dry
    ones beside them where the logbook has none at that temperature.
    """
    stand = _stand(test.mode, now, board, assessment, generator)
    spread = float(assessment.cards.planning["coupon_scatter"].decided.value)
    tape = next(t for t in assessment.job.tape if t.name == now.item.tape)
    steps = np.linspace(-1.0, 1.0, test.trial.count) if test.way == "pull" else np.zeros(test.trial.count)

    def made(kind: str, kept: float, conditioned: str | None) -> list[Coupon]:
        return [
            replace(
                coupon,
                name=f"planned {step}.{kind}{number + 1}",
                tape=tape.name,
                surface=now.standing.surface.id,
                load_N=coupon.load_N * kept * float(np.exp(spread * place)),
                conditioned=conditioned,
                failure_pattern="cohesive" if test.way == "pull" else None,
                foot="real" if test.mode == "tension" and test.way == "pull" else None,
                batch=_batch(stand.belief),
            )
            for number, (coupon, place) in enumerate(zip(as_planned(test, stand), steps, strict=True))
        ]

    if not test.soaked:
        return tuple(made("", 1.0, None))
    dry = [] if has_dry_partners(test, stand) else made("dry ", 1.0, None)
    return (*dry, *made("wet ", stand.wet_measured, SOAKED_CONTENT))


def _batch(belief: Belief) -> str:
    last = [coupon.batch for coupon in belief.coupons if coupon.batch]
    return last[-1] if last else "planned"


def plain_plan(planning: Planning, share: Number) -> PlainPlan:
    """Return the zero-failure plan for the share that the bounds must cover, and the same with twice the time."""
    confidence = planning["success_confidence"].decided
    shape = planning["weibull_shape"].end("likely")
    longer = given(2.0, "1", "planning value", "twice the time of the case; common practice, no source")
    count = derive(success_run_laws.success_run_count, reliability=share, confidence=confidence)
    fewer = derive(
        success_run_laws.success_run_count_longer,
        reliability=share,
        confidence=confidence,
        time_ratio=longer,
        shape=shape,
    )
    return PlainPlan(
        reliability=float(share.value),
        confidence=float(confidence.value),
        count=int(np.ceil(float(count.value))),
        longer=float(longer.value),
        count_longer=int(np.ceil(float(fewer.value))),
        count_exact=count,
    )
