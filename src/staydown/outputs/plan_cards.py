"""Each test of a plan as a card: what to do, what it takes, what it buys, when to stop; and as cells of a coupon."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from staydown.advice.candidate_tests import GALLON_L, CandidateTest, SOAK_s, described, water_L
from staydown.advice.plan_tests import SOAKED_CONTENT, ItemPlan, PlanStep
from staydown.assess import Assessment, ItemAssessment
from staydown.foundation.counted import counted
from staydown.foundation.quantities import ZERO_CELSIUS_K, STANDARD_GRAVITY_m_per_s2, both, lasting, rounded
from staydown.outputs.amounts import amount
from staydown.outputs.bench_sheet import OVEN_K, cut_list
from staydown.outputs.plan_words import DWELL, DWELL_s, cases_of, chance_words, use_now
from staydown.strength.capacity import reach_of

FREEZER_K = 5.0 + ZERO_CELSIUS_K  # below it a room is no longer cold enough; common practice, no source
DAY_s = 86400.0
INCH_m = 0.0254  # exact


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCard:
    """One test of an item's plan, as a person takes it to the bench.

    key: names it among all. facts: label and words, in the order in which they are needed. needs: what is cut and
    bought. how: the jig in steps, drawing: it as text. cells: what is planned of one coupon, by the columns of a
    coupon file. count: how many.
    """

    key: str
    item: str
    way: str
    title: str
    facts: tuple[tuple[str, str], ...]
    needs: tuple[str, ...]
    how: tuple[str, ...]
    drawing: str
    instead: tuple[str, ...]
    cells: Mapping[str, str]
    count: int


def plan_cards(plan: ItemPlan, plans: Sequence[ItemPlan], assessment: Assessment) -> tuple[PlanCard, ...]:
    """Return the cards of one item's plan.

    Parameters
    ----------
    plan : ItemPlan
        The plan of the item.
    plans : sequence
        The plans of all items: a test may count for more than one.
    assessment : Assessment
        What they were made from.
    """
    return tuple(_card(number, step, plan, plans, assessment) for number, step in enumerate(plan.steps, 1))


def _card(
    number: int, step: PlanStep, plan: ItemPlan, plans: Sequence[ItemPlan], assessment: Assessment
) -> PlanCard:
    test, system = step.chosen.test, assessment.job.job.show
    item = _item(plan.item, assessment)
    jig = assessment.cards.jigs[f"{test.mode}_{test.way}"]
    bond = f"{item.item.tape} on {item.standing.surface.name}"
    laps = ", both laps" if test.mode == "shear" else ""
    facts = [
        (
            "Make",
            f"{counted(test.trial.count, 'coupon')}, {both(test.side_m, 'm', system)} square{laps}: {bond}",
        ),
        ("Load", _load(step, assessment, system)),
        ("Bond at", _at(test, system)),
        ("Takes", _takes(test, assessment)),
        ("Clears", _gain(step, plan.item, assessment)),
        ("Stop early", _stop(step, assessment, system)),
    ]
    also = _also(test, plan, plans, assessment)
    if also:
        facts.append(("Counts also", also))
    return PlanCard(
        key=f"{plan.item}/{number}",
        item=plan.item,
        way=test.way,
        title=f"Test {number}: {described(test, system)}",
        facts=tuple(facts),
        needs=tuple(cut_list(test, system)),
        how=tuple(jig.words),
        drawing=jig.drawing.strip("\n"),
        instead=tuple(_short(other.test, system) for other in step.instead),
        cells=planned_cells(test, item.item.tape, item.standing.surface.id, system),
        count=test.trial.count,
    )


def _item(name: str, assessment: Assessment) -> ItemAssessment:
    return next(one for one in assessment.items if one.item.name == name)


def _load(step: PlanStep, assessment: Assessment, system: str) -> str:
    test = step.chosen.test
    if test.way == "pull":
        assert step.expected_N is not None
        return (
            "pull evenly until it lets go, after 5 to 10 s; believed to be at about "
            f"{amount(step.expected_N, 'N', system)}, so the scale must read further"
        )
    container = float(assessment.cards.planning["container_mass"].decided.value)
    litres = water_L(test.load_N, container)
    return (
        f"hang {_mass(test, system)} on each, that is {amount(test.load_N, 'N', system)}: {litres:.1f} L "
        f"({litres / GALLON_L:.1f} US gal) of water in a container of {both(container, 'kg', system)}"
    )


def _mass(test: CandidateTest, system: str) -> str:
    """Return what hangs on one coupon, never less than is planned."""
    return rounded(test.load_N / STANDARD_GRAVITY_m_per_s2, "kg", system, "up", 4)


def _at(test: CandidateTest, system: str) -> str:
    at = test.trial.temperature_K
    where = (
        ", in an oven or lamp box that holds it"
        if at > OVEN_K
        else ", straight from a freezer"
        if at < FREEZER_K
        else ""
    )
    return f"{both(at, 'K', system)}{where}; a sensor beside the bond"


def _takes(test: CandidateTest, assessment: Assessment) -> str:
    work = float(assessment.cards.planning["coupon_work"].decided.value) * test.trial.count
    waits = [DWELL]
    whole = DWELL_s
    if test.soaked:
        waits.append(f"{lasting(SOAK_s)} under water")
        whole += SOAK_s
    if test.way == "hang":
        waits.append(f"{lasting(test.trial.lasts_s)} of hanging, all side by side")
        whole += test.trial.lasts_s
    days = ceil(whole / DAY_s)
    return f"about {lasting(work)} of work; {'; then '.join(waits)}. In all about {days} days from pressing"


def _gain(step: PlanStep, item: str, assessment: Assessment) -> str:
    weighed = step.chosen
    text = (
        f"{cases_of(weighed, item, assessment)}; the chance of that is {chance_words(weighed.chance)}. "
        f"Most used of them: {use_now(weighed)} now, {100 * weighed.use_after:.0f} % after it. "
        f"Cases of {item} that are open: {step.open_now} now, {step.open_after} after it"
    )
    if step.open_after > step.open_now:
        text += (
            ". They become more at first: once sliding has tests of its own it no longer rests on straight pulls, and "
            "must be tested hot and cold"
        )
    return text


def _stop(step: PlanStep, assessment: Assessment, system: str) -> str:
    test = step.chosen.test
    if test.way == "hang":
        least = reach_of(assessment.cards.planning).coupons
        falls = max(test.trial.count - least, 0) + 1
        fallen = "one has fallen" if falls == 1 else f"{falls} have fallen"
        return (
            f"when {fallen}: {least} must hold to show {lasting(test.trial.lasts_s)}. Write down when each fell, and "
            "take the others down as still holding: all of it counts"
        )
    asked = step.chosen.asked_Pa * test.area_m2
    return (
        f"when one lets go below {amount(asked, 'N', system)}, which is what the roof asks of it: more of them will "
        "hardly clear this. Or when paint or skin of the surface comes off with it: then it is not the tape that "
        "decides. Write down what was pulled: a low one counts as much"
    )


def _also(test: CandidateTest, plan: ItemPlan, plans: Sequence[ItemPlan], assessment: Assessment) -> str:
    """Return for which other items the same coupons count: same tape and surface, the same test in their plan."""
    mine = _item(plan.item, assessment)
    told = []
    for other in plans:
        its = _item(other.item, assessment)
        alike = its.item.tape == mine.item.tape and its.standing.surface.id == mine.standing.surface.id
        if other.item == plan.item or not alike:
            continue
        for number, step in enumerate(other.steps, 1):
            if _covers(test, step.chosen.test):
                told.append(f"as test {number} of {other.item}: make them once")
    return "; ".join(told)


def _covers(made: CandidateTest, wanted: CandidateTest) -> bool:
    same = (made.mode, made.way, made.soaked) == (wanted.mode, wanted.way, wanted.soaked)
    warm = made.trial.temperature_K == wanted.trial.temperature_K
    much = made.trial.count >= wanted.trial.count and made.trial.stress_Pa >= wanted.trial.stress_Pa
    return same and warm and much and made.trial.lasts_s >= wanted.trial.lasts_s


def _short(test: CandidateTest, system: str) -> str:
    if test.way == "pull":
        return described(test, system)
    return f"{described(test, system)}, {amount(test.load_N, 'N', system)} on each, {lasting(test.trial.lasts_s)}"


def planned_cells(test: CandidateTest, tape: str, surface: str, system: str) -> dict[str, str]:
    """Return what is planned of one coupon, as somebody would type it; what happens is left out.

    Parameters
    ----------
    test : CandidateTest
        The test.
    tape, surface : str
        The tape's name in the job, and the surface's id.
    system : str
        "metric" or "us": in what it is typed.
    """
    long = test.side_m * (2.0 if test.mode == "shear" else 1.0)
    celsius = test.trial.temperature_K - ZERO_CELSIUS_K
    metric = system == "metric"
    cells = {
        "tape": tape,
        "surface": surface,
        "mode": test.mode,
        "area": f"{1e3 * long:.4g} mm x {1e3 * test.side_m:.4g} mm"
        if metric
        else f"{long / INCH_m:.4g} in x {test.side_m / INCH_m:.4g} in",
        "temperature": f"{celsius:.4g} degC" if metric else f"{1.8 * celsius + 32.0:.4g} degF",
    }
    if test.way == "hang":
        cells["load"] = _mass(test, system).partition(" (")[0]
        cells["note"] = f"planned to hang {lasting(test.trial.lasts_s)}"
    if test.soaked:
        cells["conditioned"] = SOAKED_CONTENT
    return cells


def free_names(card: PlanCard, taken: Sequence[str]) -> tuple[str, ...]:
    """Return names for the coupons of a test that no coupon of the logbook has.

    They say what a test is: `80 C hang 1`.
    """
    stem = card.cells["temperature"].replace("deg", "")
    kind = "soaked" if "conditioned" in card.cells else card.way
    lap = "lap " if card.cells["mode"] == "shear" else ""
    found: list[str] = []
    number = 0
    while len(found) < card.count:
        number += 1
        name = f"{lap}{kind} {stem} {number}"
        if name not in taken:
            found.append(name)
    return tuple(found)
