"""What is common to the records of bonding, looking and happenings: the item, its feet, the moment, photos, stops."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from staydown.evidence.event import Event
from staydown.evidence.history import KINDS, History, build_history
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.foundation.nearest import nearest
from staydown.job.records import Item
from staydown.storage.logbook import Entry, Logbook, stamp_of
from staydown.storage.save_photo import photo_file, save_photo, taken_at
from staydown.workbench.bonding_words import WHERE, Reader
from staydown.workbench.open_job import JobFolder
from staydown.workbench.record import CLOCKS_AGREE_s

LONGEST_NOTE = 2000
MOST_PHOTOS = 60
STAGES = (
    "surface",
    "clean",
    "water-break",
    "primed",
    "dry",
    "placed",
    "sealed",
    "edge",
    "face",
    "mark",
    "other",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenPhoto:
    """A photo as it was handed in: of what, and its content."""

    of: str
    content: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What every record is told: who, when (None: now), a note, photos, why somebody goes on past a stop point.

    corrects: the row of the logbook that this entry stands for instead. clock_corrected: as for `record`.
    """

    now: datetime
    by: str = ""
    at: datetime | None = None
    note: str = ""
    going_on: str = ""
    photos: tuple[GivenPhoto, ...] = ()
    keep_location: bool = False
    corrects: int | None = None
    clock_corrected: bool = False

    @property
    def when(self) -> datetime:
        """Return the moment that is written down."""
        return self.at or self.now


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A stop point that was not kept: what it is about, the value, why, and what to do instead.

    about: a word by which it is known again. why: the reason for going on that was typed for it already.
    """

    key: str
    value: str
    rule: str
    hint: str
    about: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written down: its entry, the doubts about it, the stop points that were passed."""

    event: Event
    doubts: tuple[str, ...] = ()
    against: tuple[str, ...] = field(default=())


def read_photos(words: Sequence[str], feet: Sequence[str]) -> tuple[GivenPhoto, ...]:
    """Return photos named on the command line: `FILE`, or `front left=FILE`, or `front left/placed=FILE`.

    Raises
    ------
    BadInput
        A file cannot be read, or there are too many.
    """
    if len(words) > MOST_PHOTOS:
        raise BadInput(
            [finding("photo", "", f"more than {MOST_PHOTOS} in one entry", "make several entries")]
        )
    found = []
    for word in words:
        before, sign, after = word.partition("=")
        foot, _, stage = before.partition("/")
        labelled = sign and (foot in feet or before in STAGES) and (not stage or stage in STAGES)
        file = after if labelled else word
        found.append(GivenPhoto(of=before if labelled else "", content=photo_file(Path(file))))
    return tuple(found)


def item_of(folder: JobFolder, name: str) -> Item:
    """Return an item of the job by its name; an item alone needs none.

    Raises
    ------
    BadInput
        There is no such item.
    """
    reader = Reader()
    item = item_told(reader, folder, name)
    if item is None:
        raise BadInput(reader.findings)
    return item


def item_told(reader: Reader, folder: JobFolder, name: str) -> Item | None:
    """Return an item of the job by its name, None and a finding where there is no such item."""
    items = folder.job.item
    if not name and len(items) == 1:
        return items[0]
    for item in items:
        if item.name == name:
            return item
    names = [item.name for item in items]
    near = nearest(name, names)
    hint = f'did you mean "{near}"?' if near else f"the job has {', '.join(names) or 'no items'}"
    reader.wrong("ITEM", name, "is no item of the job", hint)
    return None


def done(reader: Reader, folder: JobFolder, kind: str, told: Told, stops: Sequence[Stop]) -> None:
    """Raise what was wrong with the values, and with it what else keeps the entry from being written.

    Raises
    ------
    BadInput
        A value cannot be; then the moment, the note, the row to correct and the stops are told too.
    """
    if not reader.findings:
        return
    row = [] if told.corrects is None else _no_such_row(folder.events, kind, told.corrects)
    raise BadInput([*reader.findings, *_wrong(told, stops), *row])


def feet_of(reader: Reader, item: Item, named: Sequence[str], key: str) -> tuple[str, ...]:
    """Return the feet that were named, all where none was."""
    feet = tuple(mount.name for mount in item.mount)
    return tuple(dict.fromkeys(reader.one_of(key, name, feet) for name in named)) if named else feet


def by_foot(reader: Reader, item: Item, words: Sequence[str], key: str) -> dict[str, str]:
    """Return texts by foot: `front left=0.4 mm`."""
    feet = tuple(mount.name for mount in item.mount)
    found: dict[str, str] = {}
    for word in words:
        foot, sign, text = word.rpartition("=")
        if not sign or not foot.strip():
            reader.wrong(key, word, "names no foot", f"such as '{feet[0] if feet else 'front left'}=0.4 mm'")
            continue
        name = reader.one_of(key, foot, feet)
        if name in found:
            reader.wrong(key, word, "a foot is there twice", "one value each")
        if name:
            found[name] = text.strip()
    return found


def write_entry(
    folder: JobFolder,
    kind: str,
    body: Mapping[str, Any],
    told: Told,
    stops: Sequence[Stop],
    doubts: Sequence[str] = (),
) -> Written:
    """Write one entry, its photos first; a stop point that was not kept needs a note that says why.

    Raises
    ------
    BadInput
        A stop point was not kept and nobody said why; or the moment, the note or a photo cannot be.
    LogbookError
        The logbook cannot be written.
    """
    row = [] if told.corrects is None else _no_such_row(folder.events, kind, told.corrects)
    wrong = [*_wrong(told, stops), *row]
    if wrong:
        raise BadInput(wrong)
    photos = []
    for photo in told.photos:
        file = save_photo(folder.folder, photo.content, keep_location=told.keep_location)
        photos.append({"file": file, "of": photo.of, "taken": taken_at(photo.content)})
    against = tuple(f"{stop.key}: {stop.rule}" for stop in stops)
    whole: dict[str, Any] = {"when": stamp_of(told.when), "by": told.by.strip(), "note": told.note.strip()}
    whole |= {"photos": photos, "against": list(against), "going_on": _reasons(told, stops)}
    whole = {key: value for key, value in {**whole, **body}.items() if value not in (None, "", [], (), {})}

    def decide(events: tuple[Event, ...]) -> list[Entry]:
        if told.corrects is None:
            return [(kind, whole)]
        gone = _no_such_row(events, kind, told.corrects)
        if gone:
            raise BadInput(gone)
        return [(kind, {**whole, "supersedes": told.corrects})]

    book = Logbook.open(folder.folder)
    events = book.append_decided(decide, told.now, clock_corrected=told.clock_corrected)
    return Written(event=events[-1], doubts=tuple(doubts), against=against)


def history_of(folder: JobFolder) -> History:
    """Return what the logbook of an opened job tells."""
    return build_history(folder.events)


def rows_of(events: Sequence[Event]) -> tuple[Event, ...]:
    """Return the entries about bonding, looking and happenings."""
    return tuple(event for event in events if event.kind in KINDS)


def finding(key: str, value: str, rule: str, hint: str) -> Finding:
    """Return a mistake on the command line or in a form."""
    return Finding(file=WHERE, line=None, key=key, value=value, rule=rule, hint=hint)


def _no_such_row(events: Sequence[Event], kind: str, row: int) -> list[Finding]:
    if any(event.seq == row and event.kind == kind for event in events):
        return []
    rule = f"row {row} of the logbook is no {kind} entry"
    return [finding("--corrects", str(row), rule, "`record list` shows the rows")]


def _reasons(told: Told, stops: Sequence[Stop]) -> str:
    """Return why somebody went on: what was typed now for stops without a reason, then the reasons typed before."""
    now = [told.going_on.strip()] if any(not stop.why for stop in stops) else []
    return "; ".join([*now, *(f"{stop.key}: {stop.why}" for stop in stops if stop.why)])


def stops_told(told: Told, stops: Sequence[Stop]) -> list[Finding]:
    """Return the stops that nobody gave a reason for, as findings, with what is wanted."""
    open_stops = [stop for stop in stops if not stop.why]
    if not open_stops or told.going_on.strip():
        return []
    return [
        *(finding(stop.key, stop.value, f"STOP: {stop.rule}", stop.hint) for stop in open_stops),
        finding("--going-on", "", "is missing", "who goes on past a STOP says why; it stays in the record"),
    ]


def _wrong(told: Told, stops: Sequence[Stop]) -> list[Finding]:
    wrong = []
    if (told.when - told.now).total_seconds() > CLOCKS_AGREE_s:
        wrong.append(
            finding("--at", stamp_of(told.when), "lies in the future", f"now it is {stamp_of(told.now)}")
        )
    if len(told.note) > LONGEST_NOTE or len(told.going_on) > LONGEST_NOTE:
        wrong.append(finding("--note", "", f"is longer than {LONGEST_NOTE} letters", "put it shorter"))
    wrong += stops_told(told, stops)
    return wrong
