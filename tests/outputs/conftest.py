"""The sample jobs as fixtures."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sample_assessments import JOBS, assessed_job
from staydown.assess import Assessment


@pytest.fixture
def assessed() -> Callable[[str], Assessment]:
    """Return the maker of assessed jobs by name."""
    return assessed_job


@pytest.fixture
def job_names() -> tuple[str, ...]:
    """Return the names of all jobs."""
    return tuple(JOBS)
