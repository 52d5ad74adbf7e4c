"""The use case behind `upkeep`: what is due, how hard a foot may be pulled, what to do with an open one, a calendar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from staydown.assess import Assessment, ItemAssessment, assess
from staydown.evidence.history import History, build_history
from staydown.making.dwell_clock import Clock
from staydown.storage.write_calendar import Date, calendar
from staydown.storage.write_whole import write_whole
from staydown.upkeep.inspection_plan import Due, InspectionPlan, inspection_plan
from staydown.upkeep.proof import ProofPull, proof_pulls
from staydown.upkeep.removal import RemovalCard, removal_card
from staydown.upkeep.roadside import Roadside, roadside
from staydown.workbench.bonding import clock_of, last_pressed
from staydown.workbench.bonding_words import Reader
from staydown.workbench.happened import feet_of, item_of
from staydown.workbench.open_job import JobFolder, open_job
from staydown.workbench.sheets import items_named, needed_of

LOOK_MINUTES = 30
MARK = "must be looked at first: "


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemUpkeep:
    """One item: what is due, its proof pulls, its clock where a bonding was written down.

    first_drive, full: when its bond may be driven carefully, and loaded.
    """

    item: str
    word: str
    plan: InspectionPlan
    pulls: tuple[ProofPull, ...]
    clock: Clock | None
    first_drive: datetime | None
    full: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """What is due at a job on a day, item by item."""

    folder: JobFolder
    assessment: Assessment
    history: History
    items: tuple[ItemUpkeep, ...]
    now: datetime


def upkeep_of(
    job: str | Path | JobFolder, now: datetime, wanted: str | None = None, roof: str | None = None
) -> Upkeep:
    """Return what is due at a job.

    Parameters
    ----------
    job : str, Path or JobFolder
        A folder with a job.toml, the file itself, or a job that is open.
    now : datetime
        The present moment.
    wanted : str or None
        Name of an item; None is all.
    roof : str or None
        The roof's temperature when feet are pulled, such as "20 degC"; None takes the hottest it gets.

    Raises
    ------
    BadInput
        The job has mistakes, there is no such item, or the temperature cannot be.
    LogbookError
        The logbook cannot be trusted.
    """
    reader = Reader()
    roof_K = reader.temperature("--roof", roof)
    reader.done()
    folder = job if isinstance(job, JobFolder) else open_job(job)
    return upkeep_in(folder, assess(folder.job, folder.facts), now, wanted, roof_K)


def upkeep_in(
    folder: JobFolder,
    assessment: Assessment,
    now: datetime,
    wanted: str | None = None,
    roof_K: float | None = None,
) -> Upkeep:
    """Return what is due at an opened job that is assessed already. roof_K: None takes the hottest it gets. [K]

    Raises
    ------
    BadInput
        There is no such item.
    """
    history = build_history(folder.events)
    items = tuple(
        _item(folder, assessment, assessed, history, roof_K, now)
        for assessed in items_named(assessment, wanted)
    )
    return Upkeep(folder=folder, assessment=assessment, history=history, items=items, now=now)


def roadside_of(job: str | Path | JobFolder, item_name: str, feet: Sequence[str]) -> Roadside:
    """Return whether an item may be driven to a safe place with feet that have opened or gone.

    Raises
    ------
    BadInput
        The job has mistakes, there is no such item, or no such foot.
    """
    folder = job if isinstance(job, JobFolder) else open_job(job)
    item = item_of(folder, item_name)
    reader = Reader()
    lost = feet_of(reader, item, feet, "--opened")
    reader.done()
    return roadside_in(assess(folder.job, folder.facts), item.name, lost)


def roadside_in(assessment: Assessment, item_name: str, lost: Sequence[str]) -> Roadside:
    """Return the same of a job that is assessed already.

    Raises
    ------
    BadInput
        There is no such item.
    ValueError
        No foot is named, or one that the item has not.
    """
    (assessed,) = items_named(assessment, item_name)
    return roadside(assessment, assessed, lost)


def removal_of(job: str | Path | JobFolder, item_name: str) -> RemovalCard:
    """Return how the feet of an item come off again.

    Raises
    ------
    BadInput
        The job has mistakes, or there is no such item.
    """
    folder = job if isinstance(job, JobFolder) else open_job(job)
    item = item_of(folder, item_name)
    tape = next(one for one in folder.job.tape if one.name == item.tape)
    surface = folder.cards.surfaces[item.surface or folder.job.vehicle.surface]
    return removal_card(surface, tape.kind, folder.cards)


def write_ics(upkeep: Upkeep, file: Path) -> Path:
    """Write dwell ends and due dates as a calendar file.

    Raises
    ------
    OSError
        It cannot be written.
    """
    write_whole(file, calendar(upkeep.assessment.job.job.name, dates_of(upkeep), upkeep.now))
    return file


def dates_of(upkeep: Upkeep) -> tuple[Date, ...]:
    """Return what has a date: dwell ends that are still to come, and every look that is owed."""
    dates = []
    for item in upkeep.items:
        why = "" if item.clock is None else item.clock.why
        ends = ((item.first_drive, "first careful drive possible"), (item.full, "bond full: may be loaded"))
        for moment, what in ends:
            if moment is not None and moment > upkeep.now:
                told = f"{item.item}: {what}"
                dates.append(
                    Date(what=told, key=f"{told} {moment}", at=moment, minutes=LOOK_MINUTES, note=why)
                )
        dates += [_date(due, upkeep.now) for due in item.plan.dues if due.at is not None]
    return tuple(dates)


def _date(due: Due, now: datetime) -> Date:
    at = now if due.at is None or due.at < now else due.at
    told = f"{due.item}: {due.what}"
    key = told if due.state == "now" else f"{told} {due.at}"
    return Date(what=told, key=key, at=at, minutes=LOOK_MINUTES, note=due.why)


def _item(
    folder: JobFolder,
    assessment: Assessment,
    assessed: ItemAssessment,
    history: History,
    roof_K: float | None,
    now: datetime,
) -> ItemUpkeep:
    item = assessed.item
    bonding = last_pressed(history, item.name, [mount.name for mount in item.mount])
    clock = None if bonding is None else clock_of(folder, bonding, needed_of(assessment, assessed))
    ends = None
    if bonding is not None and clock is not None:
        ends = (
            bonding.entry.when + timedelta(seconds=clock.first_drive_s),
            bonding.entry.when + timedelta(seconds=clock.full_s),
        )
    tape = next(one for one in folder.job.tape if one.name == item.tape)
    unsettled = [text.removeprefix(MARK) for text in assessed.verdict.because if text.startswith(MARK)]
    plan = inspection_plan(
        assessed, tape.thickness_m, history, unsettled, ends, assessment.cards.planning, now
    )
    return ItemUpkeep(
        item=item.name,
        word=assessed.verdict.word,
        plan=plan,
        pulls=() if assessed.mounted is None else proof_pulls(assessment, assessed, roof_K),
        clock=clock,
        first_drive=None if ends is None else ends[0],
        full=None if ends is None else ends[1],
    )
