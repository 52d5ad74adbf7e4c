"""The guide while it is worked through: what keeps a step from being done, what a reason does, what the record says."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from bonded_jobs import START, lay_out
from staydown.evidence.history import build_history
from staydown.foundation.errors import BadInput
from staydown.making.guide import Guide
from staydown.storage.logbook import Logbook
from staydown.workbench import guide_steps as steps
from staydown.workbench.bonding_words import read_mix, read_weather
from staydown.workbench.desk import Desk
from staydown.workbench.guide_steps import Run, Shown, runs_of
from staydown.workbench.sheets import guide_of

WEATHER = {"surface_temperature": "22 degC", "air": "23 degC", "humidity": "50 %"}
SECOND = timedelta(seconds=1)
END = {"lot": "K7", "expires": "2027-03-31", "held": "20 s", "press": "unknown", "by": "Ann"}


class Work:
    """The bonding of the demo's panel, step by step, with a clock of its own."""

    def __init__(self, folder: Path, weather: dict[str, str]) -> None:
        self.desk = Desk(lay_out(folder).folder)
        self.now: datetime = START
        steps.begin_run(self.desk.folder, "panel", weather, self.now)

    @property
    def run(self) -> Run:
        """The run as it is now."""
        return runs_of(self.desk.folder)["panel"]

    @property
    def guide(self) -> Guide:
        """The guide with what was measured."""
        answer = self.desk.answer()
        (panel,) = (one for one in answer.assessment.items if one.item.name == "panel")
        run = runs_of(self.desk.folder).get("panel")
        return guide_of(answer.assessment, panel, read_weather(run.weather if run else {}), read_mix({}))

    @property
    def shown(self) -> Shown:
        """What an up-to-date page shows."""
        step = steps.open_step(self.guide, self.run)
        return Shown(item="panel", run=self.run.seq, step=step.key if step else "")

    @property
    def bars(self) -> dict[str, str]:
        """What keeps the open step from being done, and what is said of it."""
        return {bar.about: bar.rule for bar in steps.bars_at(self.guide, self.run, self.now)}

    def done(self, **more: Any) -> None:
        """The open step is done."""
        steps.step_done(self.desk.folder, self.guide, self.shown, self.now, **more)

    def clocks(self, what: str = "", **more: Any) -> None:
        """Clocks of the open step are started."""
        steps.start_clocks(self.desk.folder, self.guide, self.shown, what, self.now, **more)

    def wait(self, seconds: float) -> None:
        """Time goes by."""
        self.now += SECOND * seconds

    def until(self, key: str) -> None:
        """Work up to a step, waiting where it asks for it."""
        while self.shown.step != key:
            if steps.clocks_at(self.guide, steps.open_step(self.guide, self.run)):  # type: ignore[arg-type]
                self.clocks()
                self.wait(301)
            self.done()


@pytest.fixture
def work(tmp_path: Path) -> Work:
    """The work in good weather."""
    return Work(tmp_path / "job", WEATHER)


def rows(work: Work) -> int:
    """Return how many entries the logbook has."""
    return Logbook.read(work.desk.folder).head().rows


def test_every_step_comes_once(work: Work) -> None:
    """Steps that say several things under one name are shown one by one; the dwell is no step to be called done."""
    keys = [one.key for one in steps.steps_of(work.guide)]

    assert len(set(keys)) == len(keys)
    assert {"place", "place 2", "hold", "hold 2"} <= set(keys)
    assert "dwell" not in keys
    work.until("")
    assert list(work.run.done) == keys


@pytest.mark.by_hand
def test_a_time_is_waited_for(work: Work) -> None:
    """The primer's 300 s are neither over before they began nor after 299; the bond is made within an hour of it."""
    work.until("primer")

    assert "no clock was started" in work.bars["primer dries"]
    with pytest.raises(BadInput, match="reason"):
        work.done()
    work.clocks()
    work.wait(299)
    assert "1 s left" in work.bars["primer dries"]
    before = rows(work)
    with pytest.raises(BadInput, match="reason"):
        work.done()
    assert rows(work) == before
    with pytest.raises(BadInput, match="started already"):
        work.clocks()
    work.wait(1)
    assert work.bars == {}
    work.done()

    work.wait(3299)
    assert work.bars == {}
    work.wait(1)
    assert set(work.bars) == {"bond within"}
    with pytest.raises(BadInput, match="reason"):
        work.done()
    steps.back_to_wipe(work.desk.folder, work.guide, work.shown, work.now)
    assert (work.shown.step, work.run.timers, work.bars) == ("alcohol", {}, {})


def test_each_foot_is_held(work: Work) -> None:
    """Every pad has a clock of its own; one that was not held keeps the step."""
    work.until("press")
    feet = [foot.name for foot in work.guide.feet]
    for foot in feet[:-1]:
        work.clocks(f"hold {foot}")
    work.wait(20)

    assert work.bars["hold"].endswith(f"no clock was started at {feet[-1]}")
    work.clocks(f"hold {feet[-1]}")
    work.wait(12)
    assert work.bars["hold"].endswith(f"8 s left at {feet[-1]}")
    work.clocks(f"hold {feet[-1]}", again=True)
    work.wait(20)
    work.done()
    assert steps.held_all(work.guide, work.run)
    with pytest.raises(BadInput, match="no clock of this step"):
        work.clocks("hold nobody")


def test_reasons_reach_the_record(work: Work) -> None:
    """What was passed on the way stands in the entry with each reason, and the clock runs since pressing."""
    work.until("primer")
    work.done(reason="the tape asks for none")
    work.until("press")
    work.done(reason="clamped for an hour")
    pressed = work.now
    work.until("edges")
    work.wait(3600)
    work.done(reason="a gap at a seam, sealed twice", kept=False)
    with pytest.raises(BadInput) as error:
        steps.write_bond(work.desk.opened(), work.guide, work.shown, {"press": "hard"}, work.now)

    assert {one.key for one in error.value.findings} == {"--lot", "--expires", "--held", "--press", "--by"}
    assert set(runs_of(work.desk.folder)) == {"panel"}

    bonded = steps.write_bond(work.desk.opened(), work.guide, work.shown, END, work.now)
    (bonding,) = build_history(work.desk.opened().events).bondings

    assert runs_of(work.desk.folder) == {}
    assert bonding.entry.when == pressed
    assert bonded.first_drive == pressed + timedelta(seconds=bonded.clock.first_drive_s)
    told = list(zip(bonding.entry.against, bonding.entry.going_on.split("; "), strict=True))
    assert [("primer" in rule, why) for rule, why in told] == [
        (True, "step primer: the tape asks for none"),
        (False, "step press: clamped for an hour"),
        (False, "step edges: a gap at a seam, sealed twice"),
    ]
    assert (bonding.lot, bonding.not_known, bonding.press_N) == ("K7", ("press",), None)
    with pytest.raises(BadInput, match="ended or begun anew"):
        steps.write_bond(work.desk.opened(), work.guide, Shown(item="panel", run=1, step=""), END, work.now)


def test_nothing_measured_stops_at_the_wipe(tmp_path: Path) -> None:
    """Washing may begin; where cold and damp spoil the bond it is measured, or a reason is typed for each of it."""
    work = Work(tmp_path / "job", {"surface_temperature": "", "humidity": "unknown"})

    assert work.bars == {}
    work.until("alcohol")
    assert set(work.bars) == {
        f"not measured: {one}" for one in ("surface temperature", "air temperature", "humidity")
    }
    with pytest.raises(BadInput, match="was not measured"):
        work.done()
    steps.measured(work.desk.folder, work.shown, {"surface_temperature": "2 degC"}, work.now)
    assert set(work.bars) == {"too cold", "not measured: air temperature", "not measured: humidity"}
    work.done(reason="a lamp is on it, no hygrometer here")
    assert work.bars == {}

    # measured anew: the reason was for what was measured before
    steps.measured(work.desk.folder, work.shown, {"surface_temperature": "3 degC", "air": "5 degC"}, work.now)
    assert set(work.bars) == {"too cold", "not measured: humidity"}
    with pytest.raises(BadInput, match="nothing was typed"):
        steps.measured(work.desk.folder, work.shown, {"air": " "}, work.now)
    work.done(reason="still cold")
    work.until("primer")
    work.done(reason="none asked for")
    work.until("press")
    work.done(reason="by hand")
    work.until("")
    steps.write_bond(work.desk.opened(), work.guide, work.shown, END, work.now)
    (bonding,) = build_history(work.desk.opened().events).bondings
    cold = [rule for rule in bonding.entry.against if "too cold" in rule]

    assert [("2 " in cold[0], "3 " in cold[1])] == [(True, True)]
    assert "a lamp is on it" in bonding.entry.going_on


def test_a_page_that_is_behind_writes_nothing(work: Work) -> None:
    """A step that is not open any more, a work that was ended, an item that is at work already."""
    old, before = work.shown, None
    work.done()
    before = rows(work)
    for write in (
        lambda: steps.step_done(work.desk.folder, work.guide, old, work.now, reason="x", kept=False),
        lambda: steps.start_clocks(work.desk.folder, work.guide, old, "", work.now),
        lambda: steps.back_one(work.desk.folder, work.guide, old, work.now),
        lambda: steps.begin_run(work.desk.folder, "panel", {}, work.now),
        lambda: steps.end_run(work.desk.folder, Shown(item="panel", run=old.run + 1, step=""), work.now),
    ):
        with pytest.raises(BadInput, match=r"Nothing was written|nothing was begun"):
            write()
    with pytest.raises(BadInput, match="Not all steps"):
        steps.write_bond(work.desk.opened(), work.guide, work.shown, END, work.now)

    assert rows(work) == before
    steps.back_one(work.desk.folder, work.guide, work.shown, work.now)
    assert work.shown == old
    steps.end_run(work.desk.folder, work.shown, work.now)
    assert runs_of(work.desk.folder) == {}


def test_a_stop_point_wants_its_reason(work: Work) -> None:
    """A stop that was not kept is not passed without one; what an earlier version wrote of it is read."""
    with pytest.raises(BadInput, match="reason"):
        work.done(kept=False, reason="  ")
    with pytest.raises(BadInput, match="longer"):
        work.done(kept=False, reason="x" * 3000)

    assert work.run.done == {}
    body = {"run": work.run.seq, "item": "panel", "step": work.shown.step, "going_on": "mended"}
    Logbook.open(work.desk.folder).append_decided(lambda _: [(steps.DONE, body)], work.now)
    assert [(one.about, one.why) for one in work.run.passed] == [("stop point", "mended")]


def test_what_is_not_bonded_comes_first(work: Work) -> None:
    """An item of whose bonding nothing is written is named, until it is."""
    items = work.desk.answer().job.item

    assert "panel" in steps.not_bonded(work.desk.opened().events, items)
    work.until("")
    steps.write_bond(work.desk.opened(), work.guide, work.shown, END, work.now)
    assert "panel" not in steps.not_bonded(work.desk.opened().events, items)
