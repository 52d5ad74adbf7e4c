"""READ FIRST: the whole calculation on one page: job + facts -> Assessment.

Two wings that do not see each other: what each mount carries (loads, spread) and what the bond is proven to carry
(evidence, strength). They meet in the verdict.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from staydown.evidence.chain import ChainLink, build_chain, parts_pulled
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.evidence.group_coupons import CouponGroup, group_coupons
from staydown.evidence.history import History, build_history
from staydown.evidence.kept_ratio import KeptRatio
from staydown.evidence.session import Session
from staydown.evidence.slip import Thermal as Movement
from staydown.foundation.exposure import Mode
from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number, typed
from staydown.foundation.version import VERSION
from staydown.job.records import Claim, Item, Job, Tape
from staydown.library.cards import Cards
from staydown.loads.build_cases import build_cases, build_heat_of
from staydown.loads.build_temperatures import Temperatures
from staydown.loads.load_case import CaseTable, exposures
from staydown.retention.build_tether import build_retention
from staydown.retention.retention import Retention
from staydown.spread.build_demands import Depth, build_demands
from staydown.spread.build_thermal import Thermal, build_thermal
from staydown.spread.build_vibration import build_vibration
from staydown.spread.demands import Demands
from staydown.spread.spring_group import SpringGroup, build_spring_group
from staydown.spread.vibration import VibrationAnswer
from staydown.strength.capacity import ModeCapacity, build_capacity
from staydown.strength.wet_and_age import wet_and_age
from staydown.verdict.bonding_told import with_bonding
from staydown.verdict.brief import Brief, governing, most_used
from staydown.verdict.build_unzip import build_unzip
from staydown.verdict.chain_use import CheckedLink, check_chain
from staydown.verdict.checks import Checks, build_checks
from staydown.verdict.decide import decide, refusals
from staydown.verdict.redundancy import (
    build_redundancy,
    judged,
    lay_out_work,
    life_slope,
    stands_one_lost,
)
from staydown.verdict.rest import Redundancy
from staydown.verdict.shared_pull import SharedPull, build_shared_pulls
from staydown.verdict.standing import Standing, build_standing
from staydown.verdict.typed_facts import kept_ratios, pad_areas, typed_links, with_overrides
from staydown.verdict.unsettled import unsettled, with_unsettled
from staydown.verdict.unzip import Unzip
from staydown.verdict.verdict import Governing, Verdict, Word, worst

__all__ = [
    "Assessment",
    "Carried",
    "Facts",
    "ItemAssessment",
    "Mounted",
    "Proven",
    "Subject",
    "assess",
    "assess_again",
    "assess_item",
    "believe",
    "carry",
    "compare",
    "could_be_lost",
    "heat_of",
    "judge",
    "kept_ratios",
    "look_first",
    "lose",
    "movements",
    "prove",
    "pull",
    "session_of",
    "spread",
    "subject_of",
    "typed_links",
    "use_of_item",
    "warm",
    "with_overrides",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What an assessment rests on beside the job: the card library, the coupons, the claims shown for comparison.

    events: what the logbook tells of bonding, inspections and what the roof went through; what nobody has looked at
    since keeps an item from its word.
    """

    cards: Cards
    coupons: tuple[Coupon, ...] = ()
    claims: tuple[Claim, ...] = ()
    events: tuple[Event, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mounted:
    """The numbers of an item that has mounts. content: share of bonds that the bounds must cover. [1]"""

    table: CaseTable
    demands: Demands
    thermal: Thermal
    groups: Mapping[Mode, CouponGroup]
    capacity: Mapping[Mode, ModeCapacity]
    content: Number
    checks: Checks
    redundancy: Redundancy
    chain: tuple[CheckedLink, ...]
    shared: tuple[SharedPull, ...]
    retention: Retention
    unzip: Unzip | None
    vibration: VibrationAnswer
    governing: Governing


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemAssessment:
    """One item: its standing, its numbers (None without mounts), its verdict."""

    item: Item
    place: str
    standing: Standing
    mounted: Mounted | None
    verdict: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """A whole job assessed; the job's word is its worst item's."""

    job: Job
    cards: Cards
    items: tuple[ItemAssessment, ...]
    claims: tuple[Claim, ...]
    findings: tuple[Finding, ...]
    version: str = VERSION

    @property
    def word(self) -> Word:
        """Return the worst item's word."""
        return worst(tuple(item.verdict.word for item in self.items))


def assess(job: Job, facts: Facts) -> Assessment:
    """Return the assessment of a job: loads, spread, strength, verdict for each item.

    Parameters
    ----------
    job : Job
        A job that was read without errors.
    facts : Facts
        Cards, coupons, claims and what happened; nothing else is looked at.
    """
    cards, history = with_overrides(facts.cards, job), build_history(facts.events)
    items = tuple(
        _item_looked_at(job, number, cards, facts, history) for number in range(1, len(job.item) + 1)
    )
    return _whole(job, cards, items, facts)


def _item_looked_at(job: Job, number: int, cards: Cards, facts: Facts, history: History) -> ItemAssessment:
    item = job.item[number - 1]
    session = session_of(item, history)
    assessed = assess_item(job, item, f"item.{number}", cards, facts.coupons, session)
    return look_first(assessed, job, cards, history)


def session_of(item: Item, history: History) -> Session | None:
    """Return the session in which all of an item's feet were bonded, or None."""
    return history.session(item.name, [mount.name for mount in item.mount])


def assess_again(job: Job, facts: Facts, before: Assessment) -> Assessment:
    """Return the same as `assess`; items for which nothing changed are taken from an assessment with these facts.

    An item's numbers rest on the item and on all of the job but the other items.
    """
    if job.model_copy(update={"item": ()}) != before.job.model_copy(update={"item": ()}):
        return assess(job, facts)
    cards, old, history = before.cards, before.items, build_history(facts.events)
    items = tuple(
        old[number - 1]
        if number <= len(old) and old[number - 1].item == item
        else _item_looked_at(job, number, cards, facts, history)
        for number, item in enumerate(job.item, start=1)
    )
    return _whole(job, cards, items, facts)


def look_first(assessed: ItemAssessment, job: Job, cards: Cards, history: History) -> ItemAssessment:
    """Return the item with what must be looked at first among its reasons; until then it is NOT PROVEN.

    A missing bonding record is no reason, but what is done next.
    """
    item = assessed.item
    feet = [mount.name for mount in item.mount]
    reasons = unsettled(
        history,
        item.name,
        feet,
        next(tape for tape in job.tape if tape.name == item.tape).thickness_m,
        {} if assessed.mounted is None else movements(assessed.mounted),
        cards.planning,
        job.job.show,
    )
    verdict = with_unsettled(assessed.verdict, reasons)
    return replace(assessed, verdict=with_bonding(verdict, history, item.name, feet))


def movements(mounted: Mounted) -> dict[str, Movement]:
    """Return how far heat moves each foot to and fro daily, at the favourable end of the bands."""
    thermal, mounts = mounted.thermal, mounted.demands.mounts
    span_K = float(np.asarray(thermal.spans["item"].value).max())
    least = np.broadcast_to(np.asarray(thermal.least.value, dtype=float).reshape(-1), len(mounts))
    if span_K <= 0.0:
        return {}
    # from cold to hot is twice the strain each way
    return {
        mount: Movement(strain=2.0 * float(one), span_K=span_K)
        for mount, one in zip(mounts, least, strict=True)
    }


def _whole(job: Job, cards: Cards, items: tuple[ItemAssessment, ...], facts: Facts) -> Assessment:
    findings = tuple(
        finding
        for mounted in (item.mounted for item in items)
        if mounted is not None
        for finding in (
            *mounted.table.findings,
            *mounted.demands.findings,
            *mounted.thermal.findings,
            *mounted.vibration.findings,
        )
    )
    return Assessment(job=job, cards=cards, items=items, claims=facts.claims, findings=findings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One item with mounts, and what is looked up for it: dotted places, tape, coupons by mode, typed ratios."""

    job: Job
    item: Item
    place: str
    cards: Cards
    standing: Standing
    tape: Tape
    tape_place: str
    groups: Mapping[Mode, CouponGroup]
    ratios: tuple[KeptRatio, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What pulls on an item, how much of it each mount carries, how far heat moves each pad."""

    table: CaseTable
    demands: Demands
    thermal: Thermal


@dataclass(frozen=True, slots=True, kw_only=True)
class Proven:
    """What is proven of a share of bonds (content), and how much of it is used."""

    content: Number
    capacity: Mapping[Mode, ModeCapacity]
    checks: Checks


def assess_item(
    job: Job, item: Item, place: str, cards: Cards, coupons: Sequence[Coupon], session: Session | None = None
) -> ItemAssessment:
    """Return the assessment of one item; session: as of `subject_of`."""
    standing = build_standing(job, item, cards)
    if not item.mount:
        verdict = Verdict(
            word="NO", because=tuple(refusals(standing, cards.planning)), conditions=(), find_out=()
        )
        return ItemAssessment(item=item, place=place, standing=standing, mounted=None, verdict=verdict)
    subject = subject_of(job, item, place, cards, coupons, standing, session)
    # what pulls on it, and which mount carries how much; how much the bond is proven to carry; what else holds
    carried = carry(subject)
    brief = judge(subject, carried)
    mounted = Mounted(
        table=carried.table,
        demands=carried.demands,
        thermal=carried.thermal,
        groups=subject.groups,
        capacity=brief.capacity,
        content=brief.content,
        checks=brief.checks,
        redundancy=brief.redundancy,
        chain=brief.chain,
        shared=brief.shared,
        retention=brief.retention,
        unzip=brief.unzip,
        vibration=build_vibration(subject.job, item, place, subject.tape, subject.tape_place, cards),
        governing=governing(brief),
    )
    return ItemAssessment(item=item, place=place, standing=standing, mounted=mounted, verdict=decide(brief))


def judge(subject: Subject, carried: Carried) -> Brief:
    """Return all that the verdict on an item rests on, from what each of its mounts carries."""
    planning = subject.cards.planning
    proven = prove(subject, carried, planning["content"].decided)
    # may one mount be lost? where not, the bounds must cover more of all bonds
    links, group = chain_of(subject), springs_of(subject, carried.table)
    redundancy = lose(subject, carried, proven, links, group)
    if proven.capacity and not redundancy.redundant:
        proven = prove(subject, carried, planning["content_not_redundant"].decided)
    return _brief(subject, carried, proven, redundancy, links, group)


def use_of_item(
    job: Job,
    item: Item,
    place: str,
    cards: Cards,
    coupons: Sequence[Coupon],
    content: Number | None = None,
) -> float | None:
    """Return the largest use of one item, None where nothing is proven for what pulls most: the short way.

    The same number as the whole assessment's when `content` is the share of bonds that its bounds cover; None
    takes the share of a redundant item. Lost mounts, chain, retention and words are left out.
    """
    if not item.mount:
        return None
    subject = subject_of(job, item, place, cards, coupons)
    carried = carry(subject, "decides")
    asked = cards.planning["content"].decided if content is None else content
    return most_used(prove(subject, carried, asked, light=True).checks, carried.demands).use


def subject_of(
    job: Job,
    item: Item,
    place: str,
    cards: Cards,
    coupons: Sequence[Coupon],
    standing: Standing | None = None,
    session: Session | None = None,
) -> Subject:
    """Return one item with what is looked up for it: tape, standing (where it is not known yet), coupons, ratios.

    session: in which its feet were bonded; coupons made in it share whatever went well or wrong that day.
    """
    standing = standing or build_standing(job, item, cards)
    number, tape = next((n, t) for n, t in enumerate(job.tape, start=1) if t.name == item.tape)
    return Subject(
        job=job,
        item=item,
        place=place,
        cards=cards,
        standing=standing,
        tape=tape,
        tape_place=f"tape.{number}",
        groups=group_coupons(coupons, tape.name, standing.surface.id, session),
        ratios=kept_ratios(job, tape.name),
    )


def carry(subject: Subject, depth: Depth = "all") -> Carried:
    """Return what pulls on an item, and which mount carries how much of it; depth as in `build_demands`."""
    table = pull(subject)
    return Carried(table=table, demands=spread(subject, table, depth), thermal=warm(subject, table))


def pull(subject: Subject, heat: Temperatures | None = None) -> CaseTable:
    """Return what pulls on an item in every case; heat: how warm it is then, where that is known."""
    one = subject
    return build_cases(one.job, one.item, one.place, one.standing.consequence, one.cards, heat)


def heat_of(subject: Subject) -> Temperatures:
    """Return how warm the bond of each mount is in every case."""
    return build_heat_of(subject.job, subject.item, subject.place, subject.cards)


def spread(subject: Subject, table: CaseTable, depth: Depth = "all") -> Demands:
    """Return which mount carries how much of it."""
    bond = (subject.tape, subject.tape_place)
    return build_demands(subject.item, subject.place, *bond, subject.cards, table, depth=depth)


def warm(subject: Subject, table: CaseTable) -> Thermal:
    """Return how far heat moves each pad."""
    return build_thermal(
        subject.item,
        subject.place,
        subject.tape,
        subject.tape_place,
        subject.cards,
        table.soak,
        subject.standing.surface.id,
    )


def prove(subject: Subject, carried: Carried, content: Number, *, light: bool = False) -> Proven:
    """Return what is proven of a share of bonds, and how much of it is used.

    No newton is handed over to the evidence: only how long and how warm. light: the use alone is wanted.
    """
    return compare(subject, carried, content, believe(subject, carried.table, content, light=light))


def believe(
    subject: Subject, table: CaseTable, content: Number, *, light: bool = False
) -> dict[Mode, ModeCapacity]:
    """Return what is proven of a share of bonds for each case: the evidence's wing, which is told no force."""
    return build_capacity(
        subject.groups,
        exposures(table),
        subject.ratios,
        subject.standing.tape,
        subject.cards.planning,
        content=content,
        coldest_K=subject.job.climate.coldest_K,
        light=light,
    )


def compare(
    subject: Subject, carried: Carried, content: Number, capacity: Mapping[Mode, ModeCapacity]
) -> Proven:
    """Return how much of what is proven is used: where the two wings meet."""
    checks = build_checks(carried.table, carried.demands, carried.thermal, capacity, subject.cards.planning)
    return Proven(content=content, capacity=capacity, checks=checks)


def lose(
    subject: Subject, carried: Carried, proven: Proven, links: Sequence[ChainLink], group: SpringGroup
) -> Redundancy:
    """Return what one lost mount, or two, does to the item."""
    job, slope = subject.job, life_slope(proven.capacity, subject.standing.tape)
    return build_redundancy(group, carried.table, proven.checks, links, job.travel, slope, job.job.show)


def could_be_lost(subject: Subject, table: CaseTable, proven: Proven) -> bool:
    """Return whether any one mount may be lost: what `lose` says of it, the short way."""
    stands = stands_one_lost(springs_of(subject, table), table, proven.checks, chain_of(subject))
    return stands is True


def springs_of(subject: Subject, table: CaseTable) -> SpringGroup:
    """Return the mounts as springs that can soften or be taken away, in cruise and gusts."""
    return build_spring_group(subject.item, subject.place, subject.tape, subject.cards, table, judged(table))


def chain_of(subject: Subject) -> tuple[ChainLink, ...]:
    """Return the links of the chain at every mount: as typed, and known by coupons that pulled them too."""
    pulled = parts_pulled(subject.groups, pad_areas(subject.item))
    return build_chain(typed_links(subject.item, subject.place, subject.cards), pulled)


def _brief(
    subject: Subject,
    carried: Carried,
    proven: Proven,
    redundancy: Redundancy,
    links: Sequence[ChainLink],
    group: SpringGroup,
) -> Brief:
    """Return all that the verdict rests on; what holds if no mount does, what a screw beside the tape does."""
    cards, ratios, system = subject.cards, subject.ratios, subject.job.job.show
    tape, tape_place, standing = subject.tape, subject.tape_place, subject.standing
    table, demands, checks = carried.table, carried.demands, proven.checks
    work = lay_out_work(group, table, checks, links, subject.job.travel, redundancy.slope)
    hot = [r.kept for r in ratios if r.condition == "hot" and r.mode == "tension"]
    return Brief(
        standing=standing,
        table=table,
        demands=demands,
        capacity=proven.capacity,
        content=proven.content,
        checks=checks,
        redundancy=redundancy,
        chain=check_chain(links, demands, checks),
        shared=build_shared_pulls(
            subject.item,
            subject.place,
            (tape, tape_place, standing.tape),
            standing.surface,
            cards,
            (table, demands, checks),
            system,
        ),
        retention=build_retention(
            subject.item,
            subject.place,
            typed(tape.thickness_m, "m", f"{tape_place}.thickness"),
            table,
            carried.thermal,
            cards.planning,
            system,
        ),
        planning=cards.planning,
        wet=wet_and_age(None, [r for r in ratios if r.mode == "tension"], cards.planning)[0],
        hot_kept=hot[0] if hot else None,
        tape_thickness_m=tape.thickness_m,
        unzip=build_unzip(work, redundancy, system),
        system=system,
    )
