"""What happened on the road and since: a form into the logbook, what that asks for, and the list of all of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from staydown.assess import Assessment
from staydown.evidence.event import Event
from staydown.evidence.history import HAPPENING, Bonding, Happening, Inspection, build_history
from staydown.foundation.errors import BadInput
from staydown.outputs.passport import happened_words
from staydown.storage.logbook import Logbook
from staydown.upkeep.inspection_plan import Due
from staydown.workbench.bonding_words import Reader
from staydown.workbench.happened import Told, Written, finding
from staydown.workbench.happenings import record_happening
from staydown.workbench.open_job import JobFolder
from staydown.workbench.upkeep import upkeep_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One entry of what was bonded, looked at, gone through or driven.

    row: of the logbook. words: what it says. against: stop points that were passed, and why. corrected_by: the row that
    stands for it now, 0 where it stands. told: it came with the passport of an earlier owner. correctable: a happening
    of one's own that stands.
    """

    row: int
    when: datetime
    item: str
    words: str
    by: str
    note: str
    against: str
    corrected_by: int
    told: bool
    correctable: bool
    photos: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What an item asks for: the answer on it, and what is due now."""

    item: str
    word: str
    dues: tuple[Due, ...]


def record_road(
    folder: JobFolder, what: str, item: str, feet: Sequence[str], typed: Mapping[str, str], now: datetime
) -> Written:
    """Write down what happened, as a form gives it.

    Parameters
    ----------
    folder : JobFolder
        The opened job.
    what, item, feet : str, str, sequence of str
        As for `record_happening`.
    typed : mapping
        Texts: gust, failure_pattern, careful ("true"), at, by, note, going_on, corrects (a row).
    now : datetime
        The present moment.

    Raises
    ------
    BadInput
        A value cannot be, or a stop point was passed and nobody said why.
    """
    reader = Reader(where="form")
    at = reader.moment("at", typed.get("at"))
    reader.done()
    corrects = typed.get("corrects", "")
    told = Told(
        now=now,
        at=at,
        by=typed.get("by", ""),
        note=typed.get("note", ""),
        going_on=typed.get("going_on", ""),
        corrects=int(corrects) if corrects.isdecimal() else None,
    )
    values = {key: typed.get(key) for key in ("gust", "failure_pattern")}
    return record_happening(folder, what, item, feet, values, told, careful=typed.get("careful") == "true")


def asked_of(folder: JobFolder, assessment: Assessment, item: str, now: datetime) -> tuple[Asked, ...]:
    """Return what items ask for now: one of them, or all where `item` is empty."""
    found = upkeep_in(folder, assessment, now, item or None)
    return tuple(
        Asked(
            item=one.item,
            word=one.word,
            dues=tuple(due for due in one.plan.dues if due.state in ("now", "due")),
        )
        for one in found.items
    )


def worst_off(asked: Sequence[Asked]) -> str:
    """Return the item to look at first: what must be done now counts before the word, then the order of the job."""
    grave = {"NO": 0, "NOT PROVEN": 1}
    return min(
        asked, key=lambda one: (not any(due.state == "now" for due in one.dues), grave.get(one.word, 2))
    ).item


def lines_of(folder: Path, system: str) -> tuple[Line, ...]:
    """Return every entry about bonding, looking and happenings, the newest first; corrected ones too.

    Raises
    ------
    LogbookError
        The logbook cannot be trusted.
    """
    events = Logbook.read(folder).events()
    gone = {event.body["supersedes"]: event.seq for event in events if "supersedes" in event.body}
    lines: list[Line] = []
    for event in events:
        lines += _lines(event, gone.get(event.seq, 0), system)
    return tuple(sorted(lines, key=lambda one: (one.when, one.row), reverse=True))


def typed_again(folder: Path, row: int) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return what a happening says, as the form has it, and its feet: to be corrected.

    Raises
    ------
    BadInput
        The row is no happening.
    """
    found = [one for one in Logbook.read(folder).events() if one.seq == row and one.kind == HAPPENING]
    if not found:
        rule = "is no row of something that happened"
        raise BadInput([finding("corrects", str(row), rule, "open the page again")])
    body = found[0].body
    when = datetime.fromisoformat(body["when"]).astimezone()
    gust = body.get("gust_m_per_s")
    typed = {
        "what": body["what"],
        "item": body.get("item", ""),
        "gust": "" if gust is None else f"{gust:.4g} m/s",
        "failure_pattern": body.get("failure_pattern", ""),
        "careful": "true" if body.get("careful") else "",
        "at": f"{when:%Y-%m-%d %H:%M}",
        "by": body.get("by", ""),
        "note": body.get("note", ""),
        "corrects": str(row),
    }
    return typed, tuple(body.get("feet", ()))


def _lines(event: Event, corrected_by: int, system: str) -> list[Line]:
    # one entry at a time, so that a corrected one is told too; a passport tells the entries that came with it
    alone = {key: value for key, value in event.body.items() if key != "supersedes"}
    history = build_history([Event(seq=event.seq, at=event.at, kind=event.kind, body=alone)])
    records: tuple[Bonding | Inspection | Happening, ...] = (
        *history.bondings,
        *history.inspections,
        *history.happenings,
    )
    return [
        Line(
            row=event.seq,
            when=record.entry.when,
            item=record.item,
            words=f"bonded: {', '.join(record.feet)}"
            if isinstance(record, Bonding)
            else happened_words(record, system),
            by=record.entry.by,
            note=record.entry.note,
            against="; ".join((*record.entry.against, record.entry.going_on)) if record.entry.against else "",
            corrected_by=corrected_by,
            told=record.entry.told,
            correctable=event.kind == HAPPENING and not corrected_by,
            photos=tuple(photo.file for photo in record.entry.photos),
        )
        for record in records
    ]
