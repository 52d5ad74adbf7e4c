"""The bonding guide while it is worked through: which step is done, what runs, why somebody went on past a stop.

Each step is an entry of the logbook, so that a page that is closed, and a phone that is dropped, lose nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from staydown.evidence.event import Event
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.logbook import Logbook, moment_of

BEGUN, DONE, TIMER, ENDED = "guide begun", "guide step", "guide timer", "guide ended"


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One time that an item is bonded. done: step -> when; notes: step -> why its stop was passed; timers: what -> end.

    weather: texts as typed when it was begun.
    """

    seq: int
    item: str
    begun: datetime
    weather: Mapping[str, str]
    done: Mapping[str, datetime]
    notes: Mapping[str, str]
    timers: Mapping[str, datetime]


def begin_run(folder: Path, item: str, weather: Mapping[str, str], now: datetime) -> None:
    """Write down that an item is being bonded from now on."""
    body = {"item": item, "weather": {key: text for key, text in weather.items() if text}}
    Logbook.open(folder).append_decided(lambda _: [(BEGUN, body)], now)


def step_done(folder: Path, run: Run, step: str, stopped: bool, note: str, now: datetime) -> None:
    """Write down that a step is done.

    stopped: its stop point was not kept; then a note must say why it goes on.

    Raises
    ------
    BadInput
        It goes on past a stop and nobody says why.
    """
    if stopped and not note.strip():
        hint = "write why you go on, or stop here and mend it"
        raise BadInput(
            [Finding(file="guide", line=None, key="note", value="", rule="needs its reason", hint=hint)]
        )
    body = {"run": run.seq, "item": run.item, "step": step} | (
        {"going_on": note.strip()} if note.strip() else {}
    )
    Logbook.open(folder).append_decided(lambda _: [(DONE, body)], now)


def start_timer(folder: Path, run: Run, what: str, lasts_s: float, now: datetime) -> None:
    """Write down that a time runs from now."""
    body = {"run": run.seq, "item": run.item, "what": what, "lasts_s": lasts_s}
    Logbook.open(folder).append_decided(lambda _: [(TIMER, body)], now)


def end_run(folder: Path, run: Run, now: datetime) -> None:
    """Write down that the work is finished, or given up."""
    Logbook.open(folder).append_decided(lambda _: [(ENDED, {"run": run.seq, "item": run.item})], now)


def runs_of(folder: Path) -> dict[str, Run]:
    """Return the work that goes on, by item."""
    return build_runs(Logbook.read(folder).events())


def build_runs(events: Sequence[Event]) -> dict[str, Run]:
    """Return the work that goes on, by item, from the entries of a logbook."""
    runs: dict[str, Run] = {}
    for event in events:
        body = event.body
        if event.kind == BEGUN:
            runs[body["item"]] = Run(
                seq=event.seq, item=body["item"], begun=moment_of(event.at), weather=dict(body.get("weather", {})),
                done={}, notes={}, timers={},
            )  # fmt: skip
            continue
        run = runs.get(str(body.get("item", "")))
        if run is None or body.get("run") != run.seq:
            continue
        if event.kind == ENDED:
            del runs[run.item]
        elif event.kind in (DONE, TIMER):
            runs[run.item] = _with(run, event)
    return runs


def _with(run: Run, event: Event) -> Run:
    at, body = moment_of(event.at), event.body
    done, notes, timers = dict(run.done), dict(run.notes), dict(run.timers)
    if event.kind == DONE:
        done[body["step"]] = at
        if body.get("going_on"):
            notes[body["step"]] = body["going_on"]
    else:
        timers[body["what"]] = datetime.fromtimestamp(at.timestamp() + body["lasts_s"], at.tzinfo)
    return Run(
        seq=run.seq,
        item=run.item,
        begun=run.begun,
        weather=run.weather,
        done=done,
        notes=notes,
        timers=timers,
    )
