"""The use cases behind `sheet`: the bonding guide of each item, the bench sheet of the chosen tests, as PDF."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from staydown.advice.plan_tests import ItemPlan
from staydown.assess import Assessment, ItemAssessment
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.foundation.nearest import nearest
from staydown.making.build_guide import build_guide
from staydown.making.dwell_clock import Needed, share_for_first_drive
from staydown.making.guide import Guide, Mix, Weather
from staydown.outputs.bench_sheet import bench_sheet
from staydown.outputs.guide import guide_sheet
from staydown.storage.write_whole import write_whole
from staydown.workbench.check import open_and_assess
from staydown.workbench.open_job import JobFolder
from staydown.workbench.plan import plan_of
from staydown.workbench.render import Paper, sheet_pdf

OUT = "out"
GUIDE_CAUTIONS = ("chemicals", "dust", "ladder", "hidden", "dwell")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet that was written: of which item, where. guide: where it is one."""

    item: str
    file: Path
    guide: Guide | None = None


def guide_of(assessment: Assessment, item: ItemAssessment, weather: Weather, mix: Mix) -> Guide:
    """Return the bonding guide of one item of an assessed job.

    Raises
    ------
    BadInput
        Its surface or its product may not be bonded with, or it has no mounts.
    """
    standing, job = item.standing, assessment.job
    if item.mounted is None:
        raise _no(item, "mount", "has no mounts: there is nothing to bond", "give it mounts in the job")
    if standing.surface.start == "no":
        raise _no(item, "surface", f"is {standing.surface.name}: not bonded to", standing.surface.way_out)
    if not standing.tape.structural:
        raise _no(item, "tape", f"is {standing.tape.name}: no structure", standing.tape.why_not)
    planning = assessment.cards.planning
    share, stock = mix.share, mix.stock_share
    share = float(planning["alcohol_share"].decided.value) if share is None else share
    stock = float(planning["alcohol_stock"].decided.value) if stock is None else stock
    if stock < share:
        raise _no(
            item,
            "wipe",
            f"of {100 * share:.0f} % cannot be mixed from {100 * stock:.0f} % stock",
            "a stronger stock",
        )
    number, tape = next((n, one) for n, one in enumerate(job.tape, 1) if one.name == item.item.tape)
    return build_guide(
        item.item,
        item.place,
        (tape, f"tape.{number}"),
        standing.surface,
        assessment.cards,
        needed_of(assessment, item),
        weather,
        mix,
    )


def needed_of(assessment: Assessment, item: ItemAssessment) -> Needed:
    """Return what a first careful drive asks of an item's bond."""
    if item.mounted is None:
        return Needed(share=None, case="")
    return share_for_first_drive(
        item.mounted.table, item.mounted.checks, assessment.job.travel, assessment.cards.planning
    )


def write_guides(
    job: str | Path, wanted: str | None, weather: Weather, mix: Mix, out: str | Path | None, paper: Paper
) -> tuple[JobFolder, tuple[Sheet, ...]]:
    """Write the bonding guide of one item, or of all of them.

    Parameters
    ----------
    job : str or Path
        A folder with a job.toml, or the file itself.
    wanted : str or None
        Name of an item; None is all.
    weather, mix : Weather, Mix
        What a person typed.
    out : str, Path or None
        Folder to write into; None is `out` in the job's folder.
    paper : "a4" or "letter"
        Of the PDF.

    Raises
    ------
    BadInput
        The job has mistakes, there is no such item, or it may not be bonded.
    """
    folder, assessment = open_and_assess(job)
    items = items_named(assessment, wanted)
    guides = [(item, guide_of(assessment, item, weather, mix)) for item in items]
    cautions = [assessment.cards.cautions[name] for name in GUIDE_CAUTIONS]
    show, version = assessment.job.job.show, assessment.version
    made = []
    for item, guide in guides:
        model = guide_sheet(guide, assessment.job.job.name, item.verdict.word, cautions, show, version)
        made.append((guide, sheet_pdf(model, paper)))
    sheets = []
    for guide, content in made:
        file = place_of(folder, out, "bonding", guide.item.name, ".pdf")
        write_whole(file, content)
        sheets.append(Sheet(item=guide.item.name, file=file, guide=guide))
    return folder, tuple(sheets)


def write_tests(
    job: str | Path, wanted: str | None, out: str | Path | None, paper: Paper
) -> tuple[tuple[ItemPlan, Path | None], ...]:
    """Write the bench sheet of the tests worth making, for one item or for all; None where no test is.

    Raises
    ------
    BadInput
        The job has mistakes, or there is no such item.
    """
    answer = plan_of(job)
    names = [item.item.name for item in items_named(answer.assessment, wanted)]
    made: list[tuple[ItemPlan, Path | None, bytes]] = []
    for plan in answer.plans:
        if plan.item not in names:
            continue
        file = None
        if plan.steps:
            (item,) = items_named(answer.assessment, plan.item)
            model = bench_sheet(
                plan,
                answer.assessment,
                item.item.tape,
                item.standing.surface.id,
                answer.assessment.job.job.show,
            )
            file = place_of(answer.folder, out, "tests", plan.item, ".pdf")
            made.append((plan, file, sheet_pdf(model, paper)))
        else:
            made.append((plan, None, b""))
    for _, file, content in made:
        if file is not None:
            write_whole(file, content)
    return tuple((plan, file) for plan, file, _ in made)


def items_named(assessment: Assessment, wanted: str | None) -> tuple[ItemAssessment, ...]:
    """Return the item of that name, or all.

    Raises
    ------
    BadInput
        There is none.
    """
    if wanted is None:
        return assessment.items
    found = tuple(item for item in assessment.items if item.item.name == wanted)
    if not found:
        names = [item.item.name for item in assessment.items]
        near = nearest(wanted, names)
        hint = f'did you mean "{near}"?' if near else f"the job has {', '.join(names) or 'no items'}"
        finding = Finding(
            file="job.toml", line=None, key="item", value=wanted, rule="is no item of the job", hint=hint
        )
        raise BadInput([finding])
    return found


def place_of(folder: JobFolder, out: str | Path | None, kind: str, item: str, end: str) -> Path:
    """Return where a sheet of an item is written: by its name, and its number where that names no file of its own."""
    names = [one.name for one in folder.job.item]
    alike = sum(plain_name(f"{kind} {name}") == plain_name(f"{kind} {item}") for name in names) > 1
    told = f"{kind} {names.index(item) + 1} {item}" if alike or not plain_name(item, "") else f"{kind} {item}"
    return (folder.folder / OUT if out is None else Path(out)) / f"{plain_name(told)}{end}"


def plain_name(name: str, otherwise: str = "sheet") -> str:
    """Return a file's name of letters and digits, whatever the item is called.

    Examples
    --------
    >>> plain_name("bonding 2 front/panel")
    'bonding-2-front-panel'
    """
    return re.sub(r"[^\w]+", "-", name, flags=re.ASCII).strip("-").lower()[:80] or otherwise


def _no(item: ItemAssessment, key: str, rule: str, hint: str) -> BadInput:
    place = f"{item.place}.{key}"
    return BadInput(
        [Finding(file="job.toml", line=None, key=place, value=item.item.name, rule=rule, hint=hint)]
    )
