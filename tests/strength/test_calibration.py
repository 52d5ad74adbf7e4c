"""Is the stated confidence kept? Forty rigs a scenario here; five hundred are stored and stand on the method page."""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path
from types import ModuleType

import pytest

TOP = Path(__file__).parents[2]
RIGS = 40
# Where the truth is outside what is believed possible, or the owner knew more than was told: named and explained
# on the method page. Everything else reaches the aim wherever evidence counts as covered.
EXPLAINED = (
    "bent",
    "twice the planning value",
    "faster in heat",
    "knowing the truth",
)
# Its bound is exact by construction, so it lies at 0.95 and not above; 500 rigs scatter by 0.01 about that.
EXACT = "reference prior"


@pytest.fixture(scope="module")
def study() -> ModuleType:
    """Return the script of the study."""
    path = TOP / "benchmarks" / "calibration.py"
    spec = importlib.util.spec_from_file_location("calibration", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["calibration"] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.independent
@pytest.mark.parametrize(
    "name",
    [
        "3 hangs, 40% held, prior off by 1 sd",
        "5 hangs, 80% held, prior right",
        "5 pulls, prior off by 1 sd",
        "10 hangs, 40% held, Weibull life",
        "5 hangs for 8 h, as it comes, prior off by 1 sd",
    ],
)
def test_bound_is_right_as_often_as_it_says(study: ModuleType, name: str) -> None:
    """Of 40 rigs at least 34 are right at and near the tests; at 0.95 fewer happen once in 70 times, at 0.75 always."""
    scenario = next(one for one in study.scenarios() if one.name == name)
    found = study.run(scenario, RIGS)

    assert found["refused"] == 0
    assert found["right"]["at the test"] * RIGS >= 34
    assert found["right"]["covered edge"] * RIGS >= 34
    assert 0.4 < found["bound_over_truth"]["at the test"] < 1.0


def test_stored_study_reaches_the_aim_but_where_explained(study: ModuleType) -> None:
    """Five hundred rigs a scenario: 0.93 wherever covered, in all scenarios that the page does not explain."""
    stored = json.loads(study.STORED.read_text(encoding="utf-8"))
    plain = [one for one in stored["scenarios"] if not any(word in one["name"] for word in EXPLAINED)]
    chance = 3.0 * (0.95 * 0.05 / 500) ** 0.5
    short = {
        one["name"]: one["right"]
        for one in plain
        if min(one["right"]["at the test"], one["right"]["covered edge"])
        < (0.95 - chance if EXACT in one["name"] else study.AIM)
    }

    assert {one["name"] for one in stored["scenarios"]} == {one.name for one in study.scenarios()}
    assert min(one["rigs"] for one in stored["scenarios"]) >= 500
    assert len(plain) >= 30
    assert short == {}


def test_page_shows_the_stored_study(study: ModuleType) -> None:
    """The table on the method page is the stored one, and each exception is explained below it."""
    page = (TOP / "docs" / "method" / "strength.md").read_text(encoding="utf-8")

    assert study.table() in page
    assert all(word in page.split("<!-- /calibration -->")[1] for word in EXPLAINED)
