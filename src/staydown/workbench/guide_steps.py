"""The bonding guide while it is worked through: which step is open, what runs, what keeps it from being done.

Each step is an entry of the logbook, so that a page that is closed, and a phone that is dropped, lose nothing. What is
written is decided with the logbook in hand: a tab that shows an older step writes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, build_history
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.foundation.quantities import lasting
from staydown.job.records import Item
from staydown.making.build_guide import PHASES, PLACE, WIPE
from staydown.making.guide import Guide, Step
from staydown.storage.logbook import Entry, Logbook, moment_of
from staydown.verdict.bonding_told import feet_not_told
from staydown.workbench.bonding import Bonded, ByGuide, record_bonding, weather_stops
from staydown.workbench.bonding_words import read_weather
from staydown.workbench.happened import LONGEST_NOTE, Stop, Told, finding
from staydown.workbench.open_job import JobFolder

BEGUN, DONE, TIMER, ENDED = "guide begun", "guide step", "guide timer", "guide ended"
MEASURED, BACK = "guide measured", "guide back"
# clocks, and what a reason for going on is about
DRIES, WITHIN, HOLD, STOP_POINT = "primer dries", "bond within", "hold", "stop point"
OF_A_STEP = frozenset((DRIES, WITHIN, HOLD, STOP_POINT))  # done anew, they want their reason anew
NOT_MEASURED = "not measured: "


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideStep:
    """A step of the guide in its place. key: its id, with a number from the second of that id on."""

    key: str
    step: Step
    phase: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Passed:
    """What was to keep a step from being done, and why somebody went on.

    about: what it was; stands: the reason still counts for what comes, no newer measurement took its place.
    """

    step: str
    about: str
    rule: str
    why: str
    stands: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One time that an item is bonded. done: step -> when; timers: what -> end; touched: when it was written to last.

    weather: texts as typed when they were measured last.
    """

    seq: int
    item: str
    begun: datetime
    touched: datetime
    weather: Mapping[str, str]
    done: Mapping[str, datetime]
    passed: tuple[Passed, ...]
    timers: Mapping[str, datetime]

    @property
    def settled(self) -> frozenset[str]:
        """Return what somebody gave a reason for that still counts."""
        return frozenset(one.about for one in self.passed if one.stands)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """What keeps the open step from being done. about: what it is; rule: as it goes into the record; hint: what to do.

    ends: when it is over by itself, None where it is not.
    """

    about: str
    rule: str
    hint: str
    ends: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a page showed when somebody pressed its button: the item, the row of the run's beginning, the step's key."""

    item: str
    run: int
    step: str


# the steps ------------------------------------------------------------------------------------------------------------


def steps_of(guide: Guide) -> tuple[GuideStep, ...]:
    """Return the steps that are done one after the other.

    The dwell is none of them: it begins with what is written down at the end, and only its clock ends it.
    """
    seen: dict[str, int] = {}
    steps = []
    for phase in guide.phases:
        for step in phase.steps:
            seen[step.id] = seen.get(step.id, 0) + 1
            key = step.id if seen[step.id] == 1 else f"{step.id} {seen[step.id]}"
            if step.id != "dwell":
                steps.append(GuideStep(key=key, step=step, phase=phase.title))
    return tuple(steps)


def open_step(guide: Guide, run: Run) -> GuideStep | None:
    """Return the first step that is not done, None where all are."""
    return next((one for one in steps_of(guide) if one.key not in run.done), None)


def pressed_at(guide: Guide, run: Run) -> datetime | None:
    """Return when the last foot was in its place, since when the clock of the bond runs; None before that."""
    moments = [
        run.done[one.key] for one in steps_of(guide) if one.phase == PHASES[PLACE] and one.key in run.done
    ]
    return max(moments, default=None)


def clocks_at(guide: Guide, step: GuideStep) -> tuple[tuple[str, float], ...]:
    """Return the clocks that a step wants started, and how long each runs. [s]"""
    if step.key == "press":
        return tuple(
            (f"{HOLD} {foot.name}", float(guide.hold.value)) for foot in guide.feet if foot.press is not None
        )
    if step.key == "primer" and guide.primer is not None:
        dry, window = guide.primer
        within = ((WITHIN, float(window.value)),) if _window_counts(guide) else ()
        return ((DRIES, float(dry.value)), *within)
    return ()


def held_all(guide: Guide, run: Run) -> bool:
    """Return whether each foot was held for its time by the clock."""
    steps = [one for one in steps_of(guide) if one.key == "press"]
    wanted = [what for one in steps for what, _ in clocks_at(guide, one)]
    return bool(wanted) and HOLD not in run.settled and all(what in run.timers for what in wanted)


def _window_counts(guide: Guide) -> bool:
    """Return whether the bond must be made within the primer's time: not where it is dulled or wiped again before."""
    ids = [one.step.id for one in steps_of(guide)]
    if "primer" not in ids or "press" not in ids:
        return False
    return not {"abrade", "alcohol", "wash", "dewax"} & set(ids[ids.index("primer") : ids.index("press")])


# what keeps a step from being done ------------------------------------------------------------------------------------


def bars_at(guide: Guide, run: Run, now: datetime) -> tuple[Bar, ...]:
    """Return what keeps the open step from being done and nobody gave a reason for yet; none without an open step.

    What is known to be wrong with the weather stops every step; what was not measured stops from the wipe on, since
    that is where a cold or damp surface spoils the bond.
    """
    step = open_step(guide, run)
    if step is None:
        return ()
    stops = weather_stops(read_weather(run.weather), guide.window)
    bars = [Bar(about=stop.about, rule=stop.rule, hint=stop.hint) for stop in stops]
    if step.phase in (PHASES[WIPE], PHASES[PLACE]):
        bars += [_not_measured(what) for what in guide.window.missing]
    bars += [*_waits(guide, run, step, now), *_late(guide, run, step, now)]
    return tuple(bar for bar in bars if bar.about not in run.settled)


def next_turn(run: Run, now: datetime) -> datetime | None:
    """Return when a clock will be over next: what may be done changes then."""
    return min((ends for ends in run.timers.values() if ends > now), default=None)


def _not_measured(what: str) -> Bar:
    why = "a film of water is not seen" if what != "surface temperature" else "in the cold it does not wet"
    return Bar(about=f"{NOT_MEASURED}{what}", rule=f"{what} was not measured", hint=f"measure it: {why}")


def _waits(guide: Guide, run: Run, step: GuideStep, now: datetime) -> list[Bar]:
    clocks = [one for one in clocks_at(guide, step) if one[0] != WITHIN]
    still = [one for one in clocks if one[0] not in run.timers or run.timers[one[0]] > now]
    if not still:
        return []
    about = HOLD if step.key == "press" else DRIES
    places = {what: f" at {what.removeprefix(HOLD).strip()}" if about == HOLD else "" for what, _ in still}
    told = [
        f"{lasting(_left_s(run.timers[what], now))} left{place}"
        for what, place in places.items()
        if what in run.timers
    ]
    silent = [place for what, place in places.items() if what not in run.timers]
    if silent:
        told.append(f"no clock was started{','.join(silent)}")
    started = [run.timers[what] for what, _ in still if what in run.timers]
    ends = None if silent else max(started)
    hint = "start its clock" if silent else "wait until it is over"
    rule = f"{about}, {lasting(still[0][1])}, was not waited for: {'; '.join(told)}"
    return [Bar(about=about, rule=rule, hint=hint, ends=ends)]


def _late(guide: Guide, run: Run, step: GuideStep, now: datetime) -> list[Bar]:
    keys = [one.key for one in steps_of(guide)]
    if WITHIN not in run.timers or "primer" not in keys or "press" not in keys or not _window_counts(guide):
        return []
    between = keys[keys.index("primer") + 1 : keys.index("press")]
    ends = run.timers[WITHIN]
    if step.key not in between or ends > now:
        return []
    rule = f"the time to bond within was over {lasting(_left_s(now, ends))} ago"
    return [Bar(about=WITHIN, rule=rule, hint="clean the primer off, wipe and prime again")]


def _left_s(later: datetime, earlier: datetime) -> float:
    return max(1.0, float(round((later - earlier).total_seconds())))


# what is written down -------------------------------------------------------------------------------------------------


def begin_run(folder: Path, item: str, weather: Mapping[str, str], now: datetime) -> None:
    """Write down that an item is being bonded from now on.

    Raises
    ------
    BadInput
        A measurement cannot be, or the item is being bonded already.
    """
    read_weather(weather)
    body = {"item": item, "weather": _typed(weather)}

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        if item in build_runs(events):
            raise _no(
                "item", item, f"{item} is being bonded already: nothing was begun anew", "go on with it"
            )
        return [(BEGUN, body)]

    Logbook.open(folder).append_decided(decide, now)


def step_done(
    folder: Path, guide: Guide, shown: Shown, now: datetime, *, reason: str = "", kept: bool = True
) -> None:
    """Write down that the open step is done.

    Parameters
    ----------
    folder : Path
        Of the job.
    guide : Guide
        Of the item, with the weather of its run.
    shown : Shown
        What the page showed.
    now : datetime
        The present moment.
    reason : str
        Why somebody goes on past what keeps the step from being done, or past its stop point.
    kept : bool
        Whether its stop point was kept.

    Raises
    ------
    BadInput
        It is not the open step, or something keeps it from being done and nobody says why it goes on; nothing is
        written.
    """
    why = reason.strip()

    def entries(run: Run, step: GuideStep) -> list[Entry]:
        bars = bars_at(guide, run, now)
        passed = [{"about": bar.about, "rule": bar.rule} for bar in bars]
        if not kept:
            passed.append({"about": STOP_POINT, "rule": f"stop point not kept: {step.step.stop}"})
        if passed and not why:
            hint = "write why you go on, or stop here and mend it"
            raise BadInput(
                [
                    *(finding(bar.about, "", f"STOP: {bar.rule}", bar.hint) for bar in bars),
                    finding("note", "", "needs its reason", hint),
                ]
            )
        if len(why) > LONGEST_NOTE:
            raise _no("note", why[:20], f"is longer than {LONGEST_NOTE} letters", "put it shorter")
        body: dict[str, Any] = {"run": run.seq, "item": run.item, "step": step.key}
        return [(DONE, body | ({"going_on": why, "passed": passed} if passed else {}))]

    _write(folder, guide, shown, now, entries)


def start_clocks(
    folder: Path, guide: Guide, shown: Shown, what: str, now: datetime, *, again: bool = False
) -> None:
    """Write down that clocks of the open step run from now: one of them, or all where `what` is empty.

    Raises
    ------
    BadInput
        It is not the open step, it has no such clock, or the clock was started and is not to be started again.
    """

    def entries(run: Run, step: GuideStep) -> list[Entry]:
        clocks = [one for one in clocks_at(guide, step) if what in ("", one[0])]
        if not clocks:
            raise _no("clock", what, "is no clock of this step", "open the page again")
        if not again and any(name in run.timers for name, _ in clocks):
            raise _no("clock", what, "This clock was started already", "it runs on as it did")
        return [
            (TIMER, {"run": run.seq, "item": run.item, "what": name, "lasts_s": lasts_s})
            for name, lasts_s in clocks
        ]

    _write(folder, guide, shown, now, entries)


def measured(folder: Path, shown: Shown, weather: Mapping[str, str], now: datetime) -> None:
    """Write down the weather as it was measured anew; what was measured before and is left empty stays.

    A reason for going on past the weather holds for the weather it was given for: it stays in the record only.

    Raises
    ------
    BadInput
        A value cannot be, nothing was typed, or the work was ended meanwhile.
    """
    read_weather(weather)
    typed = _typed(weather)
    if not typed:
        raise _no("surface_temperature", "", "nothing was typed", "type what you measured")

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        run = _run_of(events, shown)
        return [(MEASURED, {"run": run.seq, "item": run.item, "weather": {**run.weather, **typed}})]

    Logbook.open(folder).append_decided(decide, now)


def back_to_wipe(folder: Path, guide: Guide, shown: Shown, now: datetime) -> None:
    """Write down that the surface is made anew, from the first wipe on; clocks from there on are forgotten.

    Raises
    ------
    BadInput
        It is not the open step.
    """
    keys = [one.key for one in steps_of(guide) if one.phase in (PHASES[WIPE], PHASES[PLACE])]
    _write(folder, guide, shown, now, lambda run, _: [_back(run, keys, (DRIES, WITHIN, HOLD))])


def back_one(folder: Path, guide: Guide, shown: Shown, now: datetime) -> None:
    """Write down that the step before the open one is not done after all; its clocks run on.

    Raises
    ------
    BadInput
        It is not the open step, or the first.
    """

    def entries(run: Run, step: GuideStep) -> list[Entry]:
        keys = [one.key for one in steps_of(guide)]
        place = keys.index(step.key)
        if not place:
            raise _no("step", step.key, "This is the first step", "")
        return [_back(run, keys[place - 1 : place], ())]

    _write(folder, guide, shown, now, entries)


def end_run(folder: Path, shown: Shown, now: datetime) -> None:
    """Write down that the work is given up.

    Raises
    ------
    BadInput
        It was ended meanwhile.
    """

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        run = _run_of(events, shown)
        return [(ENDED, {"run": run.seq, "item": run.item})]

    Logbook.open(folder).append_decided(decide, now)


def write_bond(
    folder: JobFolder, guide: Guide, shown: Shown, typed: Mapping[str, str], now: datetime
) -> Bonded:
    """Write down that all feet of an item are bonded since they were pressed, which ends the work.

    Parameters
    ----------
    folder, guide : JobFolder, Guide
        The opened job, and the guide of the item.
    shown : Shown
        What the page showed; its step is not looked at.
    typed : mapping
        Texts: as for `record_bonding`, and by, note, going_on.
    now : datetime
        The present moment.

    Raises
    ------
    BadInput
        A value is missing or cannot be, a stop was passed without a reason, or the work was ended meanwhile.
    """
    run = _run_of(Logbook.read(folder.folder).events(), shown)
    step = open_step(guide, run)
    if step is not None:
        raise _no("step", step.key, "Not all steps are done", f"now comes: {step.step.text}")
    told = Told(
        now=now,
        at=pressed_at(guide, run),
        by=typed.get("by", ""),
        note=typed.get("note", ""),
        going_on=typed.get("going_on", ""),
    )
    passed = tuple(
        Stop(key=f"step {one.step}", value="", rule=one.rule, hint="", about=one.about, why=one.why)
        for one in run.passed
    )
    by_guide = ByGuide(run=run.seq, passed=passed, settled=run.settled)
    return record_bonding(folder, run.item, (), {**run.weather, **typed}, told, by_guide)


def _write(
    folder: Path,
    guide: Guide,
    shown: Shown,
    now: datetime,
    entries: Callable[[Run, GuideStep], list[Entry]],
) -> None:
    """Write entries for the open step, if it is the one that the page showed."""

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        run = _run_of(events, shown)
        step = open_step(guide, run)
        if step is None or step.key != shown.step:
            now_comes = "all steps are done" if step is None else f"now comes: {step.step.text}"
            rule = "Nothing was written: this step was not the open one any more"
            raise _no("step", shown.step, rule, now_comes)
        return entries(run, step)

    Logbook.open(folder).append_decided(decide, now)


def _run_of(events: Sequence[Event], shown: Shown) -> Run:
    run = build_runs(events).get(shown.item)
    if run is None or run.seq != shown.run:
        rule = f"Nothing was written: this work on {shown.item} was ended or begun anew meanwhile"
        raise _no("run", "", rule, "the page shows what is so now")
    return run


def _back(run: Run, keys: Sequence[str], clocks: Sequence[str]) -> Entry:
    steps = [key for key in keys if key in run.done]
    timers = [what for what in run.timers if any(what == one or what.startswith(f"{one} ") for one in clocks)]
    return (BACK, {"run": run.seq, "item": run.item, "steps": steps, "timers": timers})


def _typed(weather: Mapping[str, str]) -> dict[str, str]:
    return {key: text.strip() for key, text in weather.items() if text.strip()}


def _no(key: str, value: str, rule: str, hint: str) -> BadInput:
    return BadInput([Finding(file="guide", line=None, key=key, value=value, rule=rule, hint=hint)])


# what the logbook tells -----------------------------------------------------------------------------------------------


def runs_of(folder: Path) -> dict[str, Run]:
    """Return the work that goes on, by item."""
    return build_runs(Logbook.read(folder).events())


def not_bonded(events: Sequence[Event], items: Sequence[Item]) -> tuple[str, ...]:
    """Return the items with a foot of whose bonding the logbook says nothing, in their order."""
    history = build_history(events)
    return tuple(
        item.name for item in items if feet_not_told(history, item.name, [mount.name for mount in item.mount])
    )


def build_runs(events: Sequence[Event]) -> dict[str, Run]:
    """Return the work that goes on, by item, from the entries of a logbook."""
    runs: dict[str, Run] = {}
    for event in events:
        body = event.body
        if event.kind == BEGUN:
            at = moment_of(event.at)
            runs[body["item"]] = Run(
                seq=event.seq, item=body["item"], begun=at, touched=at, weather=dict(body.get("weather", {})),
                done={}, passed=(), timers={},
            )  # fmt: skip
            continue
        run = runs.get(str(body.get("item", "")))
        if run is None or body.get("run") != run.seq:
            continue
        if event.kind in (ENDED, BONDING):
            del runs[run.item]
        elif event.kind in _READ:
            at = moment_of(event.at)
            runs[run.item] = replace(_READ[event.kind](run, body, at), touched=at)
    return runs


def _with_done(run: Run, body: Mapping[str, Any], at: datetime) -> Run:
    why = body.get("going_on", "")
    # entries of earlier versions say why, not what was passed
    what = body.get("passed", [{"about": STOP_POINT, "rule": "a stop point was not kept"}] if why else [])
    passed = tuple(Passed(step=body["step"], why=why, **one) for one in what)
    return replace(run, done={**run.done, body["step"]: at}, passed=(*run.passed, *passed))


def _with_timer(run: Run, body: Mapping[str, Any], at: datetime) -> Run:
    return replace(run, timers={**run.timers, body["what"]: at + timedelta(seconds=body["lasts_s"])})


def _with_weather(run: Run, body: Mapping[str, Any], at: datetime) -> Run:  # noqa: ARG001, as the others
    passed = tuple(one if one.about in OF_A_STEP else replace(one, stands=False) for one in run.passed)
    return replace(run, weather=dict(body["weather"]), passed=passed)


def _without(run: Run, body: Mapping[str, Any], at: datetime) -> Run:  # noqa: ARG001, as the others
    steps, timers = set(body["steps"]), set(body["timers"])
    return replace(
        run,
        done={key: when for key, when in run.done.items() if key not in steps},
        timers={what: ends for what, ends in run.timers.items() if what not in timers},
        passed=tuple(one for one in run.passed if one.step not in steps or one.about not in OF_A_STEP),
    )


_READ: dict[str, Callable[[Run, Mapping[str, Any], datetime], Run]] = {
    DONE: _with_done,
    TIMER: _with_timer,
    MEASURED: _with_weather,
    BACK: _without,
}
