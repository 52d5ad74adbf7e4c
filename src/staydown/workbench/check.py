"""The use case behind `check` and `explain`: open, assess, weigh what was assumed, pick the cautions."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from staydown.advice.assumptions import Assumption, weigh_assumptions
from staydown.advice.changes import Advice, advise, with_changes
from staydown.assess import Assessment, assess
from staydown.foundation.findings import Finding
from staydown.outputs.cautions import cautions_for
from staydown.workbench.at_once import at_once
from staydown.workbench.open_job import JobFolder, open_job


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """An opened job with its assessment, the weight of its assumptions, its cautions and warnings.

    changes: for each item what would turn its word; their sentences stand in its verdict too.
    """

    folder: JobFolder
    assessment: Assessment
    assumptions: tuple[Assumption, ...]
    changes: tuple[Advice, ...]
    cautions: tuple[str, ...]
    warnings: tuple[Finding, ...]


def check_folder(path: str | Path) -> Checked:
    """Return all that `check` shows of a job; nothing is written.

    Raises
    ------
    BadInput
        The job has mistakes.
    LogbookError
        The logbook cannot be trusted.
    """
    folder, assessment = open_and_assess(path)
    changes, assumptions = at_once(
        partial(advise, assessment, folder.facts), partial(weigh_assumptions, assessment, folder.facts)
    )
    return Checked(
        folder=folder,
        assessment=with_changes(assessment, changes),
        changes=changes,
        assumptions=assumptions,
        cautions=cautions_for(assessment),
        warnings=(*folder.warnings, *assessment.findings),
    )


def open_and_assess(path: str | Path) -> tuple[JobFolder, Assessment]:
    """Return an opened job and its assessment, without weighing what was assumed.

    Raises
    ------
    BadInput
        The job has mistakes.
    LogbookError
        The logbook cannot be trusted.
    """
    folder = open_job(path)
    return folder, assess(folder.job, folder.facts)
