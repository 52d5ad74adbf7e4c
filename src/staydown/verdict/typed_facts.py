"""What the person typed beside the library and the logbook: own planning values, ratios, strengths of links."""

from __future__ import annotations

from dataclasses import replace

from staydown.evidence.chain import Part
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.numbers import Number, given
from staydown.job.records import Item, Job
from staydown.library.cards import Band, Cards, PlanningValue
from staydown.verdict.fastener import fastener_strength


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


def pad_areas(item: Item) -> tuple[float, ...]:
    """Return the area of each pad of an item. [m²]"""
    return tuple(mount.pad.area_m2 for mount in item.mount)


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
