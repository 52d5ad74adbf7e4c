"""The answer of `plan`: the tests worth making, in order, with loads a person can hang."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.advice.candidate_tests import GALLON_L, CandidateTest, described, water_L
from staydown.advice.plan_tests import ItemPlan, PlanStep
from staydown.assess import Assessment, Mounted
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2, both, lasting, shown
from staydown.library.cards import Cards
from staydown.outputs.columns import clean, wrap
from staydown.outputs.most_used import Pick, pulling_cases, worst_pick

WIDTH = 80
DWELL = "72 h at room temperature between pressing and testing, longer in the cold"
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
    coupons = sum(step.chosen.test.trial.count for step in plan.steps)
    end = (
        f"If all go as believed, the bond is proven for every case; the chance of that is {_chance(plan.chance)}."
        if plan.clears
        else "In the middle of belief the open cases would be tested and still used at about 100 % or over: "
        "a change is surer than a test (`staydown check`)."
        if plan.too_weak
        else "Even if all go as believed some case stays open; look at what else would help (`staydown check`)."
    )
    tests = f"{len(plan.steps)} test" + ("s" if len(plan.steps) > 1 else "")
    lines += wrap(f"{coupons} coupons in {tests}. {end}", WIDTH, "  ")
    lines.append("")
    for number, step in enumerate(plan.steps, start=1):
        lines += _step(number, step, assessment)
        jigs[_jig_of(step.chosen.test)] = None
    lines += _other(plan)
    plain = plan.plain
    lines += wrap(
        f"The plain way, without any belief: {plain.count} hangs at the stress and for the time of the case, all of "
        f"which hold, show that {100 * plain.reliability:.0f} % of such bonds hold, at "
        f"{100 * plain.confidence:.0f} % confidence; hung {plain.longer:g} times as long, {plain.count_longer}.",
        WIDTH,
        "  ",
    )
    return lines


def _nothing_to_test(plan: ItemPlan, assessment: Assessment) -> list[str]:
    """Return why no test is worth making: what the coupons prove and of which share of bonds, what they do not."""
    item = next(one for one in assessment.items if one.item.name == plan.item)
    assert item.mounted is not None
    confidence = float(assessment.cards.planning["confidence"].decided.value)
    top = worst_pick(item.mounted, cases=pulling_cases(item.mounted))
    bound = f"a bound that {100 * plan.plain.reliability:.4g} % of bonds hold, {100 * confidence:.4g} % sure"
    most = (
        "" if top.use is None else f" The worst, {_place(item.mounted, top)}, uses {_percent(top.use)} of it."
    )
    text = (
        "No test is worth making now: with every mount in place, what your coupons prove is enough in every case "
        f"({bound}).{most}"
    )
    lines = wrap(text, WIDTH, "  ")
    word = item.verdict.word
    kept = plan.other or (item.verdict.because if word in ("NO", "NOT PROVEN") else ())
    if kept:
        lines += ["", *wrap(f"It is {word} all the same, and not for want of coupons:", WIDTH, "  ")]
        for reason in kept:
            lines += wrap(reason, WIDTH, "    - ")
        lines += wrap("What would change it: `staydown check`.", WIDTH, "  ")
    return lines


def _place(mounted: Mounted, top: Pick) -> str:
    case = mounted.table.cases[top.case]
    return f"{clean(mounted.demands.mounts[top.mount])} in {case.name}, {case.exposure.season}"


def _percent(use: float) -> str:
    # 99.6 % must not read as 100
    return f"{100 * use:.1f} %" if 0.99 < use < 1.01 else f"{100 * use:.0f} %"


def _other(plan: ItemPlan) -> list[str]:
    if not plan.other:
        return []
    lines = wrap("Beside that, no matter of these tests:", WIDTH, "  ")
    for reason in plan.other:
        lines += wrap(reason, WIDTH, "    - ")
    return [*lines, ""]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _chance(value: float) -> str:
    if value >= 0.95:
        return "over 95 %"
    return "under 5 %" if value < 0.05 else f"about {10 * round(10 * value):.0f} %"


def _step(number: int, step: PlanStep, assessment: Assessment) -> list[str]:
    weighed, test = step.chosen, step.chosen.test
    system = assessment.job.job.show
    lines = wrap(f"{number}. {_capital(described(test))}", WIDTH, "  ")
    for text in (
        *loads_of(test, assessment, system),
        f"each square {both(test.side_m, 'm', system)} on a side"
        + (", both laps" if test.mode == "shear" else ""),
        f"clears {_cases(weighed.cases, assessment)}: chance {_chance(weighed.chance)}, "
        f"use after it {100 * weighed.use_after:.0f} %",
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


def _cases(cases: Sequence[int], assessment: Assessment) -> str:
    table = next(item.mounted.table for item in assessment.items if item.mounted is not None)
    names = list(dict.fromkeys(table.cases[case].name for case in cases))
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


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
