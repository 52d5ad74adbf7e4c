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
from staydown.foundation.numbers import Number, derive, given, typed
from staydown.foundation.version import VERSION
from staydown.job.records import Claim, Fastener, Item, Job
from staydown.library.cards import Band, Cards, PlanningValue
from staydown.loads.build_cases import build_cases
from staydown.loads.load_case import CaseTable
from staydown.spread.build_demands import build_demands
from staydown.spread.build_thermal import Thermal, build_thermal
from staydown.spread.demands import Demands
from staydown.strength.capacity import ModeCapacity, build_capacity
from staydown.strength.screw_laws import screw_breaking_force
from staydown.strength.wet_and_age import wet_and_age
from staydown.verdict.brief import Brief, governing
from staydown.verdict.chain_use import CheckedLink, check_chain
from staydown.verdict.checks import Checks, build_checks
from staydown.verdict.decide import decide, refusals
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
    """The numbers of an item that has mounts."""

    table: CaseTable
    demands: Demands
    thermal: Thermal
    groups: Mapping[Mode, CouponGroup]
    capacity: Mapping[Mode, ModeCapacity]
    checks: Checks
    chain: tuple[CheckedLink, ...]
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
    findings = tuple(f for item in items if item.mounted for f in item.mounted.demands.findings)
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
    table = build_cases(job, item, place, standing.consequence, cards.planning)
    demands = build_demands(item, place, tape, f"tape.{number}", cards, table)
    thermal = build_thermal(item, place, tape, f"tape.{number}", cards, job.climate, standing.surface.id)

    # how much the bond is proven to carry: no newton is handed over
    groups = group_coupons(coupons, tape.name, standing.surface.id)
    ratios = kept_ratios(job, tape.name)
    capacity = build_capacity(
        groups,
        [[case.exposure] for case in table.cases],
        ratios,
        standing.tape,
        cards.planning,
        content=cards.planning["content"].decided,
        coldest_K=job.climate.coldest_K,
    )

    # does it stay on?
    checks = build_checks(table, demands, thermal, capacity, cards.planning)
    links = build_chain(typed_links(item, place, cards), parts_pulled(groups))
    chain = check_chain(links, table, demands, checks)
    wet, _ = wet_and_age(None, [r for r in ratios if r.mode == "tension"], cards.planning)
    hot = [r.kept for r in ratios if r.condition == "hot" and r.mode == "tension"]
    brief = Brief(
        standing=standing,
        table=table,
        demands=demands,
        capacity=capacity,
        checks=checks,
        chain=chain,
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
        checks=checks,
        chain=chain,
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
            screw = _fastener_strength(mount.fastener, f"{place}.mount.{number}.fastener", cards)
            if screw is not None:
                own["fastener"] = (screw, mount.fastener.text)
        links[mount.name] = own
    return links


def _fastener_strength(fastener: Fastener, place: str, cards: Cards) -> Number | None:
    if fastener.strength_N is not None:
        return typed(fastener.strength_N, "N", place)
    if fastener.size is None or fastener.strength_class is None:
        return None
    size, grade = cards.screw_sizes[fastener.size], cards.screw_classes[fastener.strength_class]
    return derive(
        screw_breaking_force,
        tensile_strength_Pa=given(grade.tensile_strength_Pa, "Pa", "published", grade.source, grade.id),
        stress_area_m2=given(size.stress_area_m2, "m2", "published", size.source, size.id),
    )
