"""The dossier of a job as a model: titles, texts, tables, figures, formulas, in the order in which they are read.

Plain dictionaries and lists, so that a page and a sheet of paper set the same. First the answer, then what decides,
then everything that stands behind it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from staydown.advice.assumptions import Assumption
from staydown.assess import Assessment, ItemAssessment
from staydown.foundation.findings import Finding
from staydown.foundation.quantities import lasting
from staydown.outputs import dossier_pictures as pictures
from staydown.outputs.amounts import amount, case_name, length, percent_pair
from staydown.outputs.blocks import Block, beside, facts, figure, heading, table
from staydown.outputs.columns import clean
from staydown.outputs.dossier_end import ask_pages, assumption_pages, caution_pages, claim_pages
from staydown.outputs.dossier_evidence import evidence_pages
from staydown.outputs.dossier_formulas import formula_pages
from staydown.outputs.dossier_item import answers, brief_pages, full_pages
from staydown.outputs.most_used import by_mount
from staydown.outputs.roof_text import item_rank
from staydown.outputs.sentences import LEADS, lead_sentences

FORMAT = "staydown-dossier-1"
MOST_TOLD = 3  # items with pages of their own; the others stand in the table of items


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What a dossier was made from, so that anybody can tell whether two are of the same job.

    job_hash: SHA-256 over the job file and the coupons, in hexadecimal. coupons: how many.
    """

    job_hash: str
    coupons: int

    @property
    def short(self) -> str:
        """Return the first letters of the hash, in groups."""
        return " ".join(self.job_hash[start : start + 4] for start in range(0, 12, 4))


def dossier(
    assessment: Assessment,
    weights: Sequence[Assumption],
    cautions: Sequence[str],
    warnings: Sequence[Finding],
    stamp: Stamp,
) -> dict[str, Any]:
    """Return the whole dossier.

    Parameters
    ----------
    assessment : Assessment
        The assessed job.
    weights : sequence of Assumption
        What was assumed, with its effect.
    cautions : sequence of str
        In the library's words.
    warnings : sequence of Finding
        Doubts about what was typed.
    stamp : Stamp
        What it was made from.
    """
    items = sorted(assessment.items, key=item_rank)
    blocks = _first_page(assessment, items)
    if items:
        blocks += full_pages(assessment, items[0])
    for assessed in items[1:MOST_TOLD]:
        blocks += brief_pages(assessment, assessed)
    blocks += [
        *evidence_pages(assessment, items),
        *assumption_pages(assessment, weights),
        *claim_pages(assessment.claims, assessment.job.job.show),
        *caution_pages(cautions, warnings),
        *ask_pages(assessment),
        *formula_pages(items, assessment.job.job.show),
    ]
    name = clean(assessment.job.job.name)
    return {
        "format": FORMAT,
        "title": f"{name}: will it stay on the roof?",
        "job": name,
        "word": assessment.word,
        "hash": stamp.job_hash,
        "short_hash": stamp.short,
        "version": assessment.version,
        "language": "en",
        "blocks": blocks,
    }


def _first_page(assessment: Assessment, items: Sequence[ItemAssessment]) -> list[Block]:
    """Return the answer: the word, what it means, the roof, why, and what to do."""
    system = assessment.job.job.show
    if len(items) == 1:
        lead, *rest = lead_sentences(items[0], system)
        name = f"{assessment.job.job.name} / {items[0].item.name}"
    else:
        lead = LEADS[assessment.word] if items else "The job lists no items: there is nothing to assess."
        rest = (
            [f"{items[0].item.name}: {text}" for text in lead_sentences(items[0], system)[1:]]
            if items
            else []
        )
        name = assessment.job.job.name
    blocks: list[Block] = [
        {"kind": "verdict", "name": clean(name), "word": assessment.word, "lead": lead, "texts": rest},
        figure(
            pictures.roof(assessment),
            "The roof to scale. A foot is filled as far as what is proven of it is used, in its worst case; the number "
            "is that use in per cent, ? inferred, - a case without any proof, ! over 100 %.",
        ),
    ]
    if len(items) > 1:
        blocks.append(_items_table(items))
    if items:
        blocks += answers(items[0])
    return [*blocks, *_typed(assessment)]


def _items_table(items: Sequence[ItemAssessment]) -> Block:
    rows = []
    for assessed in items:
        told = ("-", "-", "-", "-")
        if assessed.mounted is not None:
            found = by_mount(assessed.mounted)[0]
            told = (
                assessed.mounted.demands.mounts[found.mount],
                case_name(assessed.mounted.table.cases[found.case]),
                percent_pair(found.likely_use, found.use),
                found.level,
            )
        rows.append((assessed.item.name, assessed.verdict.word, *told))
    columns = (
        ("item", "left", 1.0),
        ("answer", "left", 0.0),
        ("worst mount", "left", 1.0),
        ("case", "left", 1.0),
        ("use %, likely / high", "right", 0.0),
        ("evidence", "left", 0.0),
    )
    note = "The worst word is the word of the whole."
    if len(items) > MOST_TOLD:
        note += f" The worst {MOST_TOLD} have pages of their own; `staydown check --json` has the others' numbers."
    return table("The items, worst first", columns, rows, note=note)


def _typed(assessment: Assessment) -> list[Block]:
    """Return what the job says of vehicle, travel and climate."""
    job, system = assessment.job, assessment.job.job.show
    vehicle, travel, climate = job.vehicle, job.travel, job.climate
    surface = assessment.cards.surfaces[vehicle.surface].name

    def speed(value_m_per_s: float | None) -> str:
        return "not known" if value_m_per_s is None else amount(value_m_per_s, "m/s", system)

    tapes = [
        f"{tape.name}, {assessment.cards.tapes[tape.kind].name}, {length(tape.thickness_m, system)}"
        for tape in job.tape
    ]
    size = f"{length(vehicle.roof_length_m, system)} x {length(vehicle.roof_width_m, system)}"
    left = [
        ("vehicle", f"roof {size}, {surface}"),
        ("cruise / top speed", f"{speed(travel.cruise_speed_m_per_s)} / {speed(travel.top_speed_m_per_s)}"),
        ("longest leg", lasting(travel.longest_leg_s)),
        ("bonded with", "; ".join(tapes)),
    ]
    air = [amount(end, "K", system) for end in (climate.coldest_K, climate.hottest_K)]
    right = [
        ("headwind / crosswind", f"{speed(travel.headwind_m_per_s)} / {speed(travel.crosswind_m_per_s)}"),
        ("storm, parked", speed(climate.storm_gust_m_per_s)),
        ("air, coldest / hottest", " / ".join(air)),
        ("snow", "none" if not climate.snow_Pa else amount(climate.snow_Pa, "Pa", system)),
    ]
    return [heading("What was asked", 2), beside([facts(left)], [facts(right)])]
