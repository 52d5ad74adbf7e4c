"""Opens a job's folder: what was typed, the coupons of its logbook, the claims that stand beside."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from staydown.assess import Facts
from staydown.evidence.build_coupons import build_coupons
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.evidence.history import KINDS, PASSPORT
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.job.records import Claim, Job
from staydown.job.written import Written
from staydown.library.cards import Cards
from staydown.storage.logbook import Logbook
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import read_job


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFolder:
    """A job that was read without errors, with its facts and what was typed where."""

    folder: Path
    job: Job
    claims: tuple[Claim, ...]
    coupons: tuple[Coupon, ...]
    written: Written
    warnings: tuple[Finding, ...]
    cards: Cards
    events: tuple[Event, ...] = ()
    file: Path = Path()

    @property
    def facts(self) -> Facts:
        """Return what an assessment of this job rests on."""
        return Facts(cards=self.cards, coupons=self.coupons, claims=self.claims, events=self.events)


def events_and_coupons(folder: Path) -> tuple[tuple[Event, ...], tuple[Coupon, ...]]:
    """Return what a folder's logbook tells of bonding, inspections and happenings, and its coupons as they stand.

    Raises
    ------
    LogbookError
        The logbook is damaged or was written by a newer version.
    """
    events = Logbook.read(folder).events()
    told = tuple(event for event in events if event.kind in (*KINDS, PASSPORT))
    return told, tuple(one.coupon for one in build_coupons(events) if one.coupon is not None)


def open_job(path: str | Path) -> JobFolder:
    """Return the job in a folder (or its job.toml), with the coupons of its logbook; nothing is written.

    Raises
    ------
    BadInput
        The job has mistakes: all of them at once.
    LogbookError
        The logbook is damaged or was written by a newer version.
    """
    place = Path(path)
    cards = read_cards()
    reading = read_job(place, cards)
    if reading.job is None:
        raise BadInput([finding for finding in reading.findings if finding.grade == "error"])
    folder = place if place.is_dir() else place.parent
    events, coupons = events_and_coupons(folder)
    return JobFolder(
        folder=folder,
        job=reading.job,
        claims=reading.job.claim,
        coupons=coupons,
        written=reading.written,
        warnings=tuple(finding for finding in reading.findings if finding.grade == "warning"),
        cards=cards,
        events=events,
        file=place,
    )
