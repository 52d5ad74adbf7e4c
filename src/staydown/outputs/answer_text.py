"""The answer of `check` for a terminal: will it stay on, what decides, what to do next; everything else below."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.advice.assumptions import Assumption
from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.findings import Finding
from staydown.outputs.assumption_text import assumptions_text
from staydown.outputs.cautions import cautions_for
from staydown.outputs.columns import WIDTH, clean, cut, headline, listed, wrap
from staydown.outputs.evidence_text import chain_text, claims_text, coupons_text, some
from staydown.outputs.movement_text import movement_text
from staydown.outputs.roof_text import item_rank, roof_text
from staydown.outputs.sentences import lead_sentences
from staydown.outputs.tables_text import case_table, mount_table
from staydown.outputs.waterfall import waterfall_text

MOST_REASONS = 6  # the others stand after the tables
MOST_IN_FULL = 3  # items with all their tables; of the others the mounts
Conditions = tuple[str, ...]


def answer_text(
    assessment: Assessment, weights: Sequence[Assumption] | None, width: int = WIDTH, *, verbose: bool = False
) -> str:
    """Return the whole answer as text, both systems of units, the person's own first.

    Parameters
    ----------
    assessment : Assessment
        The assessed job.
    weights : sequence of Assumption or None
        What was assumed with its effect on the use; None where it was not weighed.
    width : int
        Cells of a line, 80 or more.
    verbose : bool
        Every item in full, every case and direction by itself, every assumption.
    """
    job, system = assessment.job, assessment.job.job.show
    items = sorted(assessment.items, key=item_rank)
    if len(items) == 1:
        title = f"{job.job.name} / {items[0].item.name}"
        blocks = [*_first_page(items[0], title, {}, system, width), roof_text(assessment, width)]
        blocks += _numbers(assessment, items[0], width, verbose=verbose)
    else:
        blocks = [*_several(assessment, items, width, verbose=verbose), ["-" * width]]
    blocks.append(assumptions_text(weights or (), system, width, several=len(items) > 1, verbose=verbose))
    blocks.append(claims_text(assessment, width))
    blocks.append(_doubts(assessment.findings, width))
    blocks.append(["Cautions", "", *listed(cautions_for(assessment), width)])
    return "\n\n".join("\n".join(block) for block in blocks if block)


def first_page_text(assessment: Assessment, width: int = 80) -> str:
    """Return what one reads first of a job: word, roof, and of each item why, what next, on which conditions."""
    job, system = assessment.job.job, assessment.job.job.show
    items = sorted(assessment.items, key=item_rank)
    blocks = [headline(job.name, assessment.word, width), roof_text(assessment, width)]
    told: dict[Conditions, str] = {}
    for item in items:
        blocks.append(["-" * width])
        blocks += _first_page(item, item.item.name, told, system, width)
        told.setdefault(item.verdict.conditions, item.item.name)
    return "\n\n".join("\n".join(block) for block in blocks if block)


def quiet_text(assessment: Assessment) -> str:
    """Return one line an item: its name and its word."""
    return "\n".join(f"{clean(item.item.name)}: {item.verdict.word}" for item in assessment.items)


def _doubts(findings: Sequence[Finding], width: int) -> list[str]:
    """Return the warnings of the calculation, those of one wording once with all their places."""
    places: dict[str, list[str]] = {}
    for finding in findings:
        said = f"{finding.rule} ({finding.hint})" if finding.hint else finding.rule
        places.setdefault(said, []).append(finding.key)
    doubts = [f"{some(keys)}: {said}" for said, keys in places.items()]
    return ["Doubts", "", *listed(doubts, width)] if doubts else []


def _several(
    assessment: Assessment, items: Sequence[ItemAssessment], width: int, *, verbose: bool
) -> list[list[str]]:
    """Return the answer of a job with several items, or with none: the roof first, then item by item."""
    job, system = assessment.job.job, assessment.job.job.show
    blocks = [headline(job.name, assessment.word, width), wrap(_count(items), width, first="  ")]
    if items:
        blocks.append(roof_text(assessment, width))
    told: dict[Conditions, str] = {}
    for place, item in enumerate(items):
        blocks.append(["-" * width])
        blocks += _first_page(item, item.item.name, told, system, width)
        if place < MOST_IN_FULL or verbose:
            blocks += _numbers(assessment, item, width, verbose=verbose)
        elif item.mounted is not None:
            more = "Its cases, chain and tests: `staydown check --json`; any number: `staydown explain`."
            blocks += [mount_table(item.mounted, system, width), wrap(more, width, first="  ")]
        told.setdefault(item.verdict.conditions, item.item.name)
    return blocks


def _count(items: Sequence[ItemAssessment]) -> str:
    if not items:
        return "The job lists no items: there is nothing to assess."
    words = [item.verdict.word for item in items]
    told = ", ".join(f"{words.count(word)} {word}" for word in dict.fromkeys(words))
    return f"{len(items)} items: {told}. The worst word is the word of the whole; worst first below."


def _path(assessed: ItemAssessment, mounted: Mounted) -> str:
    """Return the path of the use that governs, as `explain` takes it."""
    top = mounted.governing
    case = mounted.table.cases[top.case]
    words = (assessed.item.name, case.name, case.exposure.season, mounted.demands.mounts[top.mount], "use")
    return "/".join(clean(word) for word in words)


def _first_page(
    assessed: ItemAssessment, title: str, told: dict[Conditions, str], system: str, width: int
) -> list[list[str]]:
    """Return what one reads first about an item: word, sentences, why, next, conditions."""
    verdict = assessed.verdict
    blocks = [headline(title, verdict.word, width)]
    blocks += [wrap(text, width, first="  ") for text in lead_sentences(assessed, system)]
    reasons = listed(verdict.because[:MOST_REASONS], width, indent=4)
    left = len(verdict.because) - MOST_REASONS
    if left > 0:
        reasons += wrap(f"and {left} more, after the tables", width, first="    ")
    blocks.append(["  Why", *reasons])
    if assessed.mounted is not None:
        path = cut(f"'{_path(assessed, assessed.mounted)}'", width - 4)
        blocks.append(
            ["  How that was worked out, down to what you typed: staydown explain JOB \\", f"    {path}"]
        )
    for head, texts in (("Do next", verdict.find_out), ("What would change the answer", verdict.changes)):
        if texts:
            blocks.append([f"  {head}", *listed(texts, width, indent=4, numbered=True)])
    if verdict.conditions:
        same = told.get(verdict.conditions)
        shown = [f"the same as for {same}"] if same else verdict.conditions
        head = "Conditions, once it is proven" if verdict.word == "NOT PROVEN" else "Conditions"
        blocks.append([f"  {head}", *listed(shown, width, indent=4)])
    return blocks


def _numbers(
    assessment: Assessment, assessed: ItemAssessment, width: int, *, verbose: bool
) -> list[list[str]]:
    """Return what stands behind the word: mounts, cases, both falls, movement, chain, tests, the reasons left over."""
    mounted, system = assessed.mounted, assessment.job.job.show
    if mounted is None:
        return []
    rest = assessed.verdict.because[MOST_REASONS:]
    return [
        mount_table(mounted, system, width),
        case_table(mounted, system, width, verbose=verbose),
        waterfall_text(assessment.job, assessed, width),
        movement_text(mounted, system, width),
        chain_text(mounted, system, width),
        coupons_text(assessed, mounted, system, width),
        ["  The other reasons", *listed(rest, width, indent=4)] if rest else [],
    ]
