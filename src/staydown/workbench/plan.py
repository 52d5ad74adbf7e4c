"""The use case behind `plan`: the tests worth making next for a job."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from staydown.advice.plan_tests import ItemPlan, plan_tests
from staydown.assess import Assessment
from staydown.workbench.check import open_and_assess
from staydown.workbench.open_job import JobFolder

SEED = 20260411  # the same job gives the same plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanAnswer:
    """An opened job, its assessment and the plan of each item."""

    folder: JobFolder
    assessment: Assessment
    plans: tuple[ItemPlan, ...]


def plan_of(path: str | Path) -> PlanAnswer:
    """Return the tests worth making next for a job.

    Raises
    ------
    BadInput
        The job has mistakes.
    """
    folder, assessment = open_and_assess(path)
    plans = plan_tests(assessment, folder.facts, np.random.default_rng(SEED))
    return PlanAnswer(folder=folder, assessment=assessment, plans=plans)
