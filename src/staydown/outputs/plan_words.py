"""The sentences of a plan of tests that the terminal and the pages share: what it adds up to, what it would buy."""

from __future__ import annotations

from math import isfinite

from staydown.advice.plan_tests import ItemPlan
from staydown.advice.weigh_tests import WeighedTest
from staydown.assess import Assessment, Mounted
from staydown.foundation.counted import counted
from staydown.outputs.columns import clean
from staydown.outputs.most_used import Pick, pulling_cases, worst_pick

DWELL_s = 72 * 3600.0  # common practice, no source
DWELL = f"{DWELL_s / 3600.0:.0f} h at room temperature between pressing and testing, longer in the cold"


def summary_of(plan: ItemPlan) -> str:
    """Return what the tests of a plan come to; where they do not clear all it is left open, for a place to look at."""
    coupons = sum(step.chosen.test.trial.count for step in plan.steps)
    end = (
        f"If all go as believed, the bond is proven for every case; the chance of that is {chance_words(plan.chance)}."
        if plan.clears
        else "In the middle of belief the open cases would be tested and still used at about 100 % or over: "
        "a change is surer than a test"
        if plan.too_weak
        else "Even if all go as believed some case stays open; look at what else would help"
    )
    return f"{counted(coupons, 'coupon')} in {counted(len(plan.steps), 'test')}. {end}"


def plain_way(plan: ItemPlan) -> str:
    """Return the zero-failure plan in a sentence."""
    plain = plan.plain
    return (
        f"The plain way, without any belief: {plain.count} hangs at the stress and for the time of the case, all of "
        f"which hold, show that {100 * plain.reliability:.0f} % of such bonds hold, at "
        f"{100 * plain.confidence:.0f} % confidence; hung {plain.longer:g} times as long, {plain.count_longer}."
    )


def enough(plan: ItemPlan, assessment: Assessment) -> str:
    """Return why no test is worth making: what the coupons prove, of which share of bonds, and how much is used."""
    item = next(one for one in assessment.items if one.item.name == plan.item)
    assert item.mounted is not None
    confidence = float(assessment.cards.planning["confidence"].decided.value)
    top = worst_pick(item.mounted, cases=pulling_cases(item.mounted))
    bound = f"a bound that {100 * plan.plain.reliability:.4g} % of bonds hold, {100 * confidence:.4g} % sure"
    most = (
        "" if top.use is None else f" The worst, {_place(item.mounted, top)}, uses {_percent(top.use)} of it."
    )
    return (
        "No test is worth making now: with every mount in place, what your coupons prove is enough in every case "
        f"({bound}).{most}"
    )


def kept_by(plan: ItemPlan, assessment: Assessment) -> tuple[str, tuple[str, ...]]:
    """Return the word of an item whose bond is proven, and what keeps it from a better one."""
    verdict = next(one.verdict for one in assessment.items if one.item.name == plan.item)
    return verdict.word, plan.other or (verdict.because if verdict.word in ("NO", "NOT PROVEN") else ())


def all_the_same(word: str) -> str:
    """Return what introduces the reasons of `kept_by`."""
    return f"It is {word} all the same, and not for want of coupons"


def _place(mounted: Mounted, top: Pick) -> str:
    case = mounted.table.cases[top.case]
    return f"{clean(mounted.demands.mounts[top.mount])} in {case.name}, {case.exposure.season}"


def _percent(use: float) -> str:
    # 99.6 % must not read as 100
    return f"{100 * use:.1f} %" if 0.99 < use < 1.01 else f"{100 * use:.0f} %"


def use_now(weighed: WeighedTest) -> str:
    """Return the largest use, before a test, of the cases it is aimed at."""
    return f"{100 * weighed.use_now:.0f} %" if isfinite(weighed.use_now) else "not known"


def cases_of(weighed: WeighedTest, item: str, assessment: Assessment, most: int = 4) -> str:
    """Return the names of the cases that a test is aimed at, the first few of them."""
    mounted = next(one.mounted for one in assessment.items if one.item.name == item)
    assert mounted is not None
    names = list(dict.fromkeys(mounted.table.cases[case].name for case in weighed.cases))
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def chance_words(value: float) -> str:
    """Return a chance as a person takes it, to the nearest ten per cent."""
    if value >= 0.95:
        return "over 95 %"
    return "under 5 %" if value < 0.05 else f"about {10 * round(10 * value):.0f} %"
