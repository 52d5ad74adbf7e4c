"""What happened to the items of a job, as the logbook tells it: bonded, looked at, gone through, driven."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal

from staydown.evidence.event import Event
from staydown.evidence.session import Session

BONDING, INSPECTION, HAPPENING, PASSPORT = "bonding", "inspection", "happening", "passport"
KINDS = (BONDING, INSPECTION, HAPPENING)

What = Literal[
    "storm", "hail", "branch", "hard braking", "crash", "heat wave", "repaint", "brush wash", "roof work", "noise",
    "opened", "slipped", "let go", "taken over", "drive", "long drive", "other",
]  # fmt: skip
# what moves no foot by itself but may have: nothing counts until somebody has looked
RESETS = frozenset(
    ("storm", "hail", "branch", "hard braking", "crash", "heat wave", "repaint", "brush wash", "roof work", "noise",
     "taken over", "other")
)  # fmt: skip
# what a foot does not recover from: nothing counts until it is bonded anew
BREAKS = frozenset(("opened", "slipped", "let go"))
DRIVES = frozenset(("drive", "long drive"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture in the job's folder, named by its content: `photos/...`, of what, when its camera says it was taken."""

    file: str
    of: str = ""
    taken: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What every record says: who, when, the stop points that were passed all the same and why.

    seq: its row in the logbook. told: it came with the passport of an earlier owner.
    """

    seq: int
    when: datetime
    by: str
    note: str = ""
    against: tuple[str, ...] = ()
    going_on: str = ""
    photos: tuple[Photo, ...] = ()
    told: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bonding:
    """Feet of an item that were bonded. [K, 1, s, N]; None or empty where nobody wrote it down.

    not_known: keys of what somebody was asked for and said that nobody knows.
    """

    entry: Entry
    item: str
    feet: tuple[str, ...]
    lot: str = ""
    expires: str = ""
    surface_K: float | None = None
    air_K: float | None = None
    dwell_K: float | None = None
    humidity: float | None = None
    press_N: float | None = None
    held_s: float | None = None
    cleaner: str = ""
    abrasive: str = ""
    primer: str = ""
    primer_lot: str = ""
    not_known: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """A proof pull: force, the most that was allowed then (None where none was worked out), did the foot hold? [N]"""

    force_N: float
    allowed_N: float | None
    held: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """What somebody saw: slip and open edge by foot, proof pulls, the roof's temperature. [m, K]"""

    entry: Entry
    item: str
    roof_K: float | None
    slips: Mapping[str, float] = field(default_factory=dict)
    gaps: Mapping[str, float] = field(default_factory=dict)
    pulls: Mapping[str, Pull] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening:
    """Something the roof went through; item and feet are empty where it was the whole roof. [m/s]"""

    entry: Entry
    what: What
    item: str
    feet: tuple[str, ...]
    gust_m_per_s: float | None = None
    careful: bool = False
    failure_pattern: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All that happened, each list in the order of its moments."""

    bondings: tuple[Bonding, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    happenings: tuple[Happening, ...] = ()

    def of(self, item: str) -> History:
        """Return what concerns one item; what happened to the whole roof concerns every item."""
        return History(
            bondings=tuple(one for one in self.bondings if one.item == item),
            inspections=tuple(one for one in self.inspections if one.item == item),
            happenings=tuple(one for one in self.happenings if one.item in ("", item)),
        )

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Return what every record says, in the order of their moments."""
        found = (
            *(one.entry for one in self.bondings),
            *(one.entry for one in self.inspections),
            *(one.entry for one in self.happenings),
        )
        return tuple(sorted(found, key=lambda one: (one.when, one.seq)))

    def bonded(self, item: str, foot: str) -> Bonding | None:
        """Return how a foot was bonded last, or None where nobody wrote it down."""
        found = [one for one in self.bondings if one.item == item and foot in one.feet]
        return found[-1] if found else None

    def session(self, item: str, feet: Sequence[str]) -> Session | None:
        """Return the day on which all feet of an item were bonded last, with the lots and primers noted then.

        None where they were bonded on several days or nobody wrote it down, and where an earlier owner told it.
        """
        bonded = [self.bonded(item, foot) for foot in feet]
        days = {
            None if one is None or one.entry.told else one.entry.when.date().isoformat() for one in bonded
        }
        day = days.pop() if len(days) == 1 else None
        if day is None:
            return None
        lots = frozenset(one.lot for one in bonded if one is not None and one.lot)
        primers = frozenset(one.primer for one in bonded if one is not None and one.primer)
        return Session(day=day, lots=lots, primers=primers)


def build_history(events: Sequence[Event]) -> History:
    """Return the history that the entries of a logbook tell; an entry that another one corrects is left out."""
    told = [*_told_before(events), *((event, False) for event in events if event.kind in KINDS)]
    corrected = {event.body["supersedes"] for event, _ in told if "supersedes" in event.body}
    kept = [(event, before) for event, before in told if before or event.seq not in corrected]
    return History(
        bondings=_sorted(_bonding(event, before) for event, before in kept if event.kind == BONDING),
        inspections=_sorted(_inspection(event, before) for event, before in kept if event.kind == INSPECTION),
        happenings=_sorted(_happening(event, before) for event, before in kept if event.kind == HAPPENING),
    )


def _told_before(events: Sequence[Event]) -> list[tuple[Event, bool]]:
    """Return the entries that came with a passport, each under the row of the passport."""
    return [
        (Event(seq=event.seq, at=entry["at"], kind=entry["kind"], body=entry["body"]), True)
        for event in events
        if event.kind == PASSPORT
        for entry in event.body["entries"]
    ]


def _sorted(records: Any) -> Any:
    return tuple(sorted(records, key=lambda one: (one.entry.when, one.entry.seq)))


def _entry(event: Event, told: bool) -> Entry:
    body = event.body
    return Entry(
        seq=event.seq,
        when=datetime.fromisoformat(body["when"]),
        by=body.get("by", ""),
        note=body.get("note", ""),
        against=tuple(body.get("against", ())),
        going_on=body.get("going_on", ""),
        photos=tuple(Photo(**photo) for photo in body.get("photos", ())),
        told=told,
    )


_OF_BONDING = (
    *("lot", "expires", "surface_K", "air_K", "dwell_K", "humidity", "press_N", "held_s"),
    *("cleaner", "abrasive", "primer", "primer_lot"),
)


def _bonding(event: Event, told: bool) -> Bonding:
    body = event.body
    given = {key: body[key] for key in _OF_BONDING if key in body}
    return Bonding(
        entry=_entry(event, told),
        item=body["item"],
        feet=tuple(body["feet"]),
        not_known=tuple(body.get("not_known", ())),
        **given,
    )


def _inspection(event: Event, told: bool) -> Inspection:
    body = event.body
    return Inspection(
        entry=_entry(event, told),
        item=body["item"],
        roof_K=body.get("roof_K"),
        slips=body.get("slips", {}),
        gaps=body.get("gaps", {}),
        pulls={foot: Pull(**pull) for foot, pull in body.get("pulls", {}).items()},
    )


def _happening(event: Event, told: bool) -> Happening:
    body = event.body
    return Happening(
        entry=_entry(event, told),
        what=body["what"],
        item=body.get("item", ""),
        feet=tuple(body.get("feet", ())),
        gust_m_per_s=body.get("gust_m_per_s"),
        careful=body.get("careful", False),
        failure_pattern=body.get("failure_pattern", ""),
    )
