"""The guide while it is worked through."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from staydown.foundation.errors import BadInput
from staydown.workbench.guide_steps import begin_run, end_run, runs_of, start_timer, step_done

NOW = datetime(2026, 6, 1, 8, 30, tzinfo=UTC)


def test_steps_and_timers_are_in_the_logbook(tmp_path: Path) -> None:
    """What is done, what runs and why a stop was passed are there for whoever opens the page next."""
    begin_run(tmp_path, "panel", {"air": "20 degC", "humidity": ""}, NOW)
    step_done(tmp_path, runs_of(tmp_path)["panel"], "wash", False, "", NOW)
    start_timer(tmp_path, runs_of(tmp_path)["panel"], "hold", 30.0, NOW)
    step_done(tmp_path, runs_of(tmp_path)["panel"], "water", True, "wiped again", NOW)
    run = runs_of(tmp_path)["panel"]

    assert set(run.done) == {"wash", "water"}
    assert run.notes == {"water": "wiped again"}
    assert run.timers == {"hold": NOW + timedelta(seconds=30)}
    assert run.weather == {"air": "20 degC"}

    end_run(tmp_path, run, NOW)

    assert runs_of(tmp_path) == {}


def test_a_stop_is_not_passed_without_a_reason(tmp_path: Path) -> None:
    """Going on past a stop point wants a typed note."""
    begin_run(tmp_path, "panel", {}, NOW)
    with pytest.raises(BadInput, match="reason"):
        step_done(tmp_path, runs_of(tmp_path)["panel"], "water", True, "  ", NOW)

    assert runs_of(tmp_path)["panel"].done == {}
