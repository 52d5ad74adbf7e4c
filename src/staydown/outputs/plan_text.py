"""The answer of `plan`: the tests worth making, in order, with loads a person can hang."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.advice.candidate_tests import GALLON_L, CandidateTest, described, water_L
from staydown.advice.plan_tests import ItemPlan, PlanStep
from staydown.assess import Assessment
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2, both, lasting, shown
from staydown.library.cards import Cards
from staydown.outputs.columns import wrap
from staydown.outputs.plan_words import (
    DWELL,
    all_the_same,
    cases_of,
    chance_words,
    enough,
    kept_by,
    plain_way,
    summary_of,
    use_now,
)

WIDTH = 80
ELSEWHERE = " (`staydown check`)."
CAUTIONS = ("hang_test", "hot_box", "chemicals")


def plan_text(plans: Sequence[ItemPlan], assessment: Assessment) -> str:
    """Return the plan of every item: what to test, how, what it would buy, and the plain alternative."""
    lines: list[str] = []
    jigs: dict[str, None] = {}
    for plan in plans:
        lines += _item(plan, assessment, jigs)
        lines.append("")
    if jigs:
        lines += ["How to load them", ""]
        for jig in jigs:
            lines += _jig(jig, assessment.cards)
        lines += ["Cautions"]
        for caution in CAUTIONS:
            lines += wrap(assessment.cards.cautions[caution], WIDTH, "  - ")
        lines += wrap("The plan is made anew from every coupon that is recorded.", WIDTH)
    return "\n".join(lines).rstrip()


def _item(plan: ItemPlan, assessment: Assessment, jigs: dict[str, None]) -> list[str]:
    lines = [f"{assessment.job.job.name} / {plan.item}", ""]
    if plan.clears and not plan.steps:
        return [*lines, *_nothing_to_test(plan, assessment)]
    if plan.why_none:
        lines += [*wrap(_capital(plan.why_none) + ".", WIDTH, "  "), ""]
        lines += _other(plan)
        return lines
    lines += wrap(f"{summary_of(plan)}{'' if plan.clears else ELSEWHERE}", WIDTH, "  ")
    lines.append("")
    for number, step in enumerate(plan.steps, start=1):
        lines += _step(number, step, plan.item, assessment)
        jigs[_jig_of(step.chosen.test)] = None
    lines += _other(plan)
    lines += wrap(plain_way(plan), WIDTH, "  ")
    return lines


def _nothing_to_test(plan: ItemPlan, assessment: Assessment) -> list[str]:
    lines = wrap(enough(plan, assessment), WIDTH, "  ")
    word, kept = kept_by(plan, assessment)
    if kept:
        lines += ["", *wrap(f"{all_the_same(word)}:", WIDTH, "  ")]
        for reason in kept:
            lines += wrap(reason, WIDTH, "    - ")
        lines += wrap("What would change it: `staydown check`.", WIDTH, "  ")
    return lines


def _other(plan: ItemPlan) -> list[str]:
    if not plan.other:
        return []
    lines = wrap("Beside that, no matter of these tests:", WIDTH, "  ")
    for reason in plan.other:
        lines += wrap(reason, WIDTH, "    - ")
    return [*lines, ""]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _step(number: int, step: PlanStep, item: str, assessment: Assessment) -> list[str]:
    weighed, test = step.chosen, step.chosen.test
    system = assessment.job.job.show
    lines = wrap(f"{number}. {_capital(described(test, system))}", WIDTH, "  ")
    for text in (
        *loads_of(test, assessment, system),
        f"each square {both(test.side_m, 'm', system)} on a side"
        + (", both laps" if test.mode == "shear" else ""),
        f"clears {cases_of(weighed, item, assessment)}: chance {chance_words(weighed.chance)}, "
        f"use {use_now(weighed)} now, {100 * weighed.use_after:.0f} % after it; "
        f"open cases {step.open_now} now, {step.open_after} after it",
        f"effort: {test.trial.count} coupons"
        + (f" x {lasting(test.trial.lasts_s)}" if test.way == "hang" else ""),
    ):
        lines += wrap(text, WIDTH, "     - ")
    if step.instead:
        lines += wrap("or: " + "; ".join(_short(other.test) for other in step.instead), WIDTH, "     - ")
    return [*lines, ""]


def _short(test: CandidateTest) -> str:
    if test.way == "pull":
        return described(test)
    return f"{described(test)}, {shown(test.trial.stress_Pa, 'Pa')}, {lasting(test.trial.lasts_s)}"


def loads_of(test: CandidateTest, assessment: Assessment, system: str) -> list[str]:
    """Return the load of one coupon as force, mass and water, and the rule by which it passes."""
    if test.way == "pull":
        return [
            f"pull so that it lets go after 5 to 10 s; {DWELL}",
            "write down the load and the face; every result counts, also a low one",
        ]
    container = float(assessment.cards.planning["container_mass"].decided.value)
    litres = water_L(test.load_N, container)
    mass = test.load_N / STANDARD_GRAVITY_m_per_s2
    return [
        f"hang {both(test.load_N, 'N', system)}, that is {both(mass, 'kg', system)} or {litres:.1f} L "
        f"({litres / GALLON_L:.1f} US gal) of water in a container of {shown(container, 'kg')}, "
        f"for {lasting(test.trial.lasts_s)}; {DWELL}",
        "passes when all still hang at the end; a fall is a result too: write down when",
    ]


def _jig_of(test: CandidateTest) -> str:
    return f"{test.mode}_{test.way}"


def _jig(name: str, cards: Cards) -> list[str]:
    jig = cards.jigs[name]
    lines = [f"  {_capital(jig.name)}"]
    for words in jig.words:
        lines += wrap(words, WIDTH, "    - ")
    return [*lines, *(f"      {line}" for line in jig.drawing.strip("\n").splitlines()), ""]


def quiet_text(plans: Sequence[ItemPlan], assessment: Assessment) -> str:
    """Return one line for each test of each item."""
    lines = []
    for plan in plans:
        if plan.why_none:
            word = next(one.verdict.word for one in assessment.items if one.item.name == plan.item)
            why = f"{word}; no test is worth making now" if plan.clears else plan.why_none
            lines.append(f"{plan.item}: {why}")
        lines += [f"{plan.item}: {_short(step.chosen.test)}" for step in plan.steps]
    return "\n".join(lines)
