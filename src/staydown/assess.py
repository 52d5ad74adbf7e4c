"""READ FIRST: the whole calculation on one page: job + facts -> Assessment.

Two wings that do not see each other: what each mount carries (loads, spread) and what the bond is proven to carry
(evidence, strength). They meet in the verdict.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from staydown.evidence.chain import Part, build_chain, parts_pulled
from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import CouponGroup, group_coupons
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.exposure import Mode
from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number, given, typed
from staydown.foundation.version import VERSION
from staydown.job.records import Claim, Item, Job
from staydown.library.cards import Band, Cards, PlanningValue
from staydown.loads.build_cases import build_cases
from staydown.loads.load_case import CaseTable, exposures
from staydown.retention.build_tether import build_retention
from staydown.retention.retention import Retention
from staydown.spread.build_demands import build_demands
from staydown.spread.build_thermal import Thermal, build_thermal
from staydown.spread.demands import Demands
from staydown.spread.spring_group import build_spring_group
from staydown.strength.capacity import ModeCapacity, build_capacity
from staydown.strength.wet_and_age import wet_and_age
from staydown.verdict.brief import Brief, governing
from staydown.verdict.chain_use import CheckedLink, check_chain
from staydown.verdict.checks import Checks, build_checks
from staydown.verdict.decide import decide, refusals
from staydown.verdict.fastener import fastener_strength
from staydown.verdict.redundancy import build_redundancy, judged, life_slope
from staydown.verdict.rest import Redundancy
from staydown.verdict.shared_pull import SharedPull, build_shared_pulls
from staydown.verdict.standing import Standing, build_standing
from staydown.verdict.verdict import Governing, Verdict, Word, worst


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What an assessment rests on beside the job: the card library, the coupons, the claims shown for comparison."""

    cards: Cards
    coupons: tuple[Coupon, ...] = ()
    claims: tuple[Claim, ...] = ()


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
        Cards, coupons and claims; nothing else is looked at.
    """
    cards = with_overrides(facts.cards, job)
    items = tuple(
        assess_item(job, item, f"item.{number}", cards, facts.coupons)
        for number, item in enumerate(job.item, start=1)
    )
    return _whole(job, cards, items, facts)


def assess_again(job: Job, facts: Facts, before: Assessment) -> Assessment:
    """Return the same as `assess`; items for which nothing changed are taken from an assessment with these facts.

    An item's numbers rest on the item and on all of the job but the other items.
    """
    if job.model_copy(update={"item": ()}) != before.job.model_copy(update={"item": ()}):
        return assess(job, facts)
    cards, old = before.cards, before.items
    items = tuple(
        old[number - 1]
        if number <= len(old) and old[number - 1].item == item
        else assess_item(job, item, f"item.{number}", cards, facts.coupons)
        for number, item in enumerate(job.item, start=1)
    )
    return _whole(job, cards, items, facts)


def _whole(job: Job, cards: Cards, items: tuple[ItemAssessment, ...], facts: Facts) -> Assessment:
    findings = tuple(
        finding
        for mounted in (item.mounted for item in items)
        if mounted is not None
        for finding in (
            *mounted.table.findings,
            *mounted.demands.findings,
            *mounted.thermal.findings,
        )
    )
    return Assessment(job=job, cards=cards, items=items, claims=facts.claims, findings=findings)


def assess_item(job: Job, item: Item, place: str, cards: Cards, coupons: Sequence[Coupon]) -> ItemAssessment:
    """Return the assessment of one item."""
    standing = build_standing(job, item, cards)
    if not item.mount:
        verdict = Verdict(
            word="NO", because=tuple(refusals(standing, cards.planning)), conditions=(), find_out=()
        )
        return ItemAssessment(item=item, place=place, standing=standing, mounted=None, verdict=verdict)
    number, tape = next((n, t) for n, t in enumerate(job.tape, start=1) if t.name == item.tape)

    # what pulls on it, and which mount carries how much
    table = build_cases(job, item, place, standing.consequence, cards)
    demands = build_demands(item, place, tape, f"tape.{number}", cards, table)
    thermal = build_thermal(item, place, tape, f"tape.{number}", cards, table.soak, standing.surface.id)

    # how much the bond is proven to carry: no newton is handed over
    groups = group_coupons(coupons, tape.name, standing.surface.id)
    ratios = kept_ratios(job, tape.name)

    def prove(content: Number) -> tuple[Mapping[Mode, ModeCapacity], Checks]:
        """Return what is proven of a share of bonds, and how much of it is used."""
        proven = build_capacity(
            groups,
            exposures(table),
            ratios,
            standing.tape,
            cards.planning,
            content=content,
            coldest_K=job.climate.coldest_K,
        )
        return proven, build_checks(table, demands, thermal, proven, cards.planning)

    content = cards.planning["content"].decided
    capacity, checks = prove(content)

    # may one mount be lost? where not, the bounds must cover more of all bonds
    links = build_chain(typed_links(item, place, cards), parts_pulled(groups))
    group = build_spring_group(item, place, tape, cards, table, judged(table))
    slope = life_slope(capacity, standing.tape)
    redundancy = build_redundancy(group, table, checks, links, job.travel, slope, job.job.show)
    if capacity and not redundancy.redundant:
        content = cards.planning["content_not_redundant"].decided
        capacity, checks = prove(content)

    # what holds if no mount does, and what a screw beside the tape does
    thickness = typed(tape.thickness_m, "m", f"tape.{number}.thickness")
    retention = build_retention(item, place, thickness, table, thermal, cards.planning, job.job.show)
    shared = build_shared_pulls(
        item,
        place,
        (tape, f"tape.{number}", standing.tape),
        standing.surface,
        cards,
        (table, demands, checks),
        job.job.show,
    )

    # does it stay on?
    chain = check_chain(links, table, demands, checks)
    wet, _ = wet_and_age(None, [r for r in ratios if r.mode == "tension"], cards.planning)
    hot = [r.kept for r in ratios if r.condition == "hot" and r.mode == "tension"]
    brief = Brief(
        standing=standing,
        table=table,
        demands=demands,
        capacity=capacity,
        content=content,
        checks=checks,
        redundancy=redundancy,
        chain=chain,
        shared=shared,
        retention=retention,
        planning=cards.planning,
        wet=wet,
        hot_kept=hot[0] if hot else None,
        system=job.job.show,
    )
    mounted = Mounted(
        table=table,
        demands=demands,
        thermal=thermal,
        groups=groups,
        capacity=capacity,
        content=content,
        checks=checks,
        redundancy=redundancy,
        chain=chain,
        shared=shared,
        retention=retention,
        governing=governing(brief),
    )
    return ItemAssessment(item=item, place=place, standing=standing, mounted=mounted, verdict=decide(brief))


def with_overrides(cards: Cards, job: Job) -> Cards:
    """Return the cards with the job's own planning values in place of the library's."""
    if not job.planning:
        return cards
    planning = dict(cards.planning)
    for name, own in job.planning.items():
        card = planning[name]
        band = Band(
            low=own.low,
            likely=own.likely,
            high=own.high,
            unit=card.band.unit,
            basis="typed",
            source=own.source or "typed in the job, no source given",
        )
        planning[name] = PlanningValue(
            id=f"planning.{name}", what=card.what, band=band, decided_on=card.decided_on
        )
    return replace(cards, planning=planning)


def kept_ratios(job: Job, tape: str) -> tuple[KeptRatio, ...]:
    """Return the ratios typed for one tape, each number with its place and source."""
    return tuple(
        KeptRatio(
            mode=ratio.mode,
            condition=ratio.condition,
            temperature_K=ratio.temperature_K,
            kept=given(ratio.kept, "1", "typed", ratio.source, f"ratio.{number}.kept"),
        )
        for number, ratio in enumerate(job.ratio, start=1)
        if ratio.tape == tape
    )


def typed_links(item: Item, place: str, cards: Cards) -> dict[str, dict[Part, tuple[Number | None, str]]]:
    """Return for each mount the links whose strength somebody typed: link tables and fasteners."""
    shared: dict[Part, tuple[Number | None, str]] = {}
    for number, link in enumerate(item.link, start=1):
        if link.strength_N is not None:
            strength = given(link.strength_N, "N", "typed", link.source, f"{place}.link.{number}.strength")
            shared[link.part] = (strength, f"typed: {link.source}")
    links = {}
    for number, mount in enumerate(item.mount, start=1):
        own = dict(shared)
        if mount.fastener is not None:
            strength_N, known_by = fastener_strength(mount, f"{place}.mount.{number}", cards)
            if strength_N is not None or known_by != "unknown":
                own["fastener"] = (strength_N, known_by)
        links[mount.name] = own
    return links
