"""The use cases behind `passport` and `new --from-passport`: one PDF and one archive an item, and taking one over."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from staydown.assess import ItemAssessment
from staydown.evidence.build_coupons import RecordedCoupon, build_coupons
from staydown.evidence.event import Event
from staydown.evidence.history import HAPPENING, KINDS, PASSPORT, build_history
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.outputs.answer_json import answer_json
from staydown.outputs.passport import FORMAT, Told, passport_json, passport_sheet, photo_files
from staydown.storage import write_archive as archives
from staydown.storage.edit_toml import DropKey, edit_toml
from staydown.storage.logbook import Logbook, stamp_of
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import JOB_FILE, read_job_text
from staydown.storage.save_photo import check_photo, read_photo, small_picture, take_photo
from staydown.storage.write_export import coupons_csv
from staydown.storage.write_job import refuse_taken, write_new_job
from staydown.storage.write_whole import write_whole
from staydown.upkeep.removal import removal_card
from staydown.workbench.check import Checked, check_folder
from staydown.workbench.render import Paper, sheet_pdf
from staydown.workbench.sheets import items_named, place_of
from staydown.workbench.upkeep import upkeep_of

SHOWN_PIXELS = 900
MOST_SHOWN = 24
TAKEN_OVER = "taken over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Passport:
    """A passport that was written: its item, its two files, what it lacks."""

    item: str
    pdf: Path
    archive: Path
    missing: tuple[str, ...]
    photos: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenOver:
    """A job that was made from a passport: its file, item, how many records and photos came along.

    coupons: where the coupons lie that nobody has vouched for yet, None where there are none.
    """

    file: Path
    item: str
    records: int
    photos: int
    coupons: Path | None


def write_passports(
    job: str | Path, wanted: str | None, out: str | Path | None, paper: Paper, now: datetime
) -> tuple[Passport, ...]:
    """Write the passport of one item, or of all: a PDF, and an archive with it, its JSON, coupons and photos.

    Raises
    ------
    BadInput
        The job has mistakes, there is no such item, or a photo was changed.
    LogbookError
        The logbook cannot be trusted.
    OSError
        A file cannot be written.
    """
    checked = check_folder(job)
    folder = checked.folder
    items = items_named(checked.assessment, wanted)
    book = Logbook.read(folder.folder)
    events, head = book.events(), book.head()
    answer = answer_json(checked.assessment, checked.assumptions, checked.cautions, checked.warnings)
    text = _text_of(job)
    made = []
    for assessed in items:
        told = _told(checked, assessed, events, (head.rows, head.hash), now)
        alone = job_of_one(text, [one.name for one in folder.job.item], assessed.item.name)
        data = passport_json(told, alone, answer)
        pictures = {file: read_photo(folder.folder, file) for file in data["photos"]}
        small = {file: small_picture(one, SHOWN_PIXELS) for file, one in list(pictures.items())[:MOST_SHOWN]}
        page = sheet_pdf(passport_sheet(told, small), paper, small)
        files = {
            archives.PASSPORT: json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False).encode(),
            archives.SHEET: page,
            archives.COUPONS: coupons_csv(_coupons_of(assessed, events)).encode(),
            **pictures,
        }
        made.append((assessed, data, page, files))
    return tuple(_write(folder, out, *one) for one in made)


def _write(
    folder: Any,
    out: str | Path | None,
    assessed: ItemAssessment,
    data: Mapping[str, Any],
    page: bytes,
    files: Mapping[str, bytes],
) -> Passport:
    pdf, archive = (place_of(folder, out, "passport", assessed.item.name, end) for end in (".pdf", ".zip"))
    write_whole(pdf, page)
    archives.write_archive(archive, files)
    return Passport(
        item=assessed.item.name,
        pdf=pdf,
        archive=archive,
        missing=tuple(data["missing"]),
        photos=len(data["photos"]),
    )


def take_over(file: Path, folder: Path, now: datetime) -> TakenOver:
    """Make a job of a passport: its job file, what its records tell (marked as told), its photos.

    Nothing counts until the new owner has looked: the take-over is an event. Coupons are laid beside the job, to be
    recorded by whoever trusts them.

    Raises
    ------
    BadInput
        The file is no passport, is damaged, or the folder holds a job already.
    OSError
        The folder cannot be written to.
    """
    refuse_taken(folder)
    found = archives.read_archive(file)
    content = found[archives.PASSPORT]
    data = _understood(file, content)
    reading = read_job_text(data["job_toml"], f"{file.name}: {JOB_FILE}", read_cards())
    if reading.job is None:
        raise BadInput([one for one in reading.findings if one.grade == "error"])
    if data["item"] not in [item.name for item in reading.job.item]:
        raise BadInput([_wrong(file, "its job does not have its item", "it was put together by hand")])
    photos = {name: one for name, one in found.items() if name in data["photos"]}
    for name, one in photos.items():
        check_photo(name, one)
    target = write_new_job(folder, data["job_toml"])
    for name, one in photos.items():
        take_photo(folder, name, one)
    body = {
        "item": data["item"],
        "file": file.name,
        "sha256": hashlib.sha256(content).hexdigest(),
        "made": data["made"],
        "logbook": data["logbook"],
        "entries": data["records"],
    }
    happened = {
        "what": TAKEN_OVER,
        "item": data["item"],
        "when": stamp_of(now),
        "note": f"passport {file.name}",
    }
    Logbook.open(folder).append_many([(PASSPORT, body), (HAPPENING, happened)], now)
    coupons = None
    if data["coupons"] and archives.COUPONS in found:
        coupons = folder / archives.COUPONS
        write_whole(coupons, found[archives.COUPONS])
    return TakenOver(
        file=target, item=data["item"], records=len(data["records"]), photos=len(photos), coupons=coupons
    )


def job_of_one(text: str, names: list[str], item: str) -> str:
    """Return the text of a job file with one of its items alone."""
    # from the end, so that what is still to go keeps its place
    gone = [number for number, name in enumerate(names) if name != item]
    for number in reversed(gone):
        text = edit_toml(text, [DropKey(path=("item", number))])
    return text


def _text_of(job: str | Path) -> str:
    place = Path(job)
    file = place / JOB_FILE if place.is_dir() else place
    return file.read_text(encoding="utf-8-sig")


def _coupons_of(assessed: ItemAssessment, events: tuple[Event, ...]) -> tuple[RecordedCoupon, ...]:
    """Return the coupons of an item's product on its surface."""
    return tuple(
        record
        for record in build_coupons(events)
        if record.coupon is not None
        and record.coupon.tape == assessed.item.tape
        and record.coupon.surface == assessed.standing.surface.id
    )


def _told(
    checked: Checked,
    assessed: ItemAssessment,
    events: tuple[Event, ...],
    logbook: tuple[int, str],
    now: datetime,
) -> Told:
    name = assessed.item.name
    care = next(one for one in upkeep_of(checked.folder, now, name).items)
    tape = next(one for one in checked.assessment.job.tape if one.name == assessed.item.tape)
    coupons = tuple(one.coupon for one in _coupons_of(assessed, events) if one.coupon is not None)
    ends = None
    if care.first_drive is not None and care.full is not None:
        ends = (care.first_drive.astimezone(), care.full.astimezone())
    return Told(
        assessment=checked.assessment,
        assessed=assessed,
        history=build_history(events).of(name),
        coupons=coupons,
        plan=care.plan,
        pulls=care.pulls,
        removal=removal_card(assessed.standing.surface, tape.kind, checked.assessment.cards),
        records=records_of(events, name),
        rows=logbook[0],
        head=logbook[1],
        ends=ends,
        made=now.astimezone(),
    )


def records_of(events: tuple[Event, ...], item: str) -> tuple[Event, ...]:
    """Return the entries about an item, those that came with an earlier passport first, in the order of the logbook."""
    told = [
        Event(seq=event.seq, at=entry["at"], kind=entry["kind"], body=entry["body"])
        for event in events
        if event.kind == PASSPORT
        for entry in event.body["entries"]
    ]
    own = [event for event in events if event.kind in KINDS]
    gone = {event.body["supersedes"] for event in own if "supersedes" in event.body}
    kept = [event for event in own if event.seq not in gone]
    return tuple(event for event in (*told, *kept) if event.body.get("item", "") in ("", item))


def _understood(file: Path, content: bytes) -> dict[str, Any]:
    """Return what a passport says, or refuse it: whatever is not as a passport has it."""
    try:
        data = json.loads(content)
    except (ValueError, RecursionError) as error:
        raise BadInput([_wrong(file, "is no JSON", "a passport's .zip or passport.json")]) from error
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        said = data.get("format") if isinstance(data, dict) else None
        rule = f"has format {said!r}, not {FORMAT!r}"
        raise BadInput([_wrong(file, rule, "a newer staydown wrote it, or it is no passport")])
    kinds = {"item": str, "job_toml": str, "made": str, "records": list, "photos": list, "coupons": list}
    wrong = [key for key, kind in {**kinds, "logbook": dict}.items() if not isinstance(data.get(key), kind)]
    if not wrong:
        try:
            told = [Event(seq=0, at=one["at"], kind=one["kind"], body=one["body"]) for one in data["records"]]
            history = build_history(told)
            photo_files(history)
            if any(event.kind not in KINDS for event in told):
                wrong.append("records")
        except (KeyError, TypeError, ValueError, AttributeError):
            wrong.append("records")
    if wrong:
        raise BadInput([_wrong(file, f"cannot be understood: {', '.join(wrong)}", "it was edited or cut")])
    return data


def _wrong(file: Path, rule: str, hint: str) -> Finding:
    return Finding(file=str(file), line=None, key="passport", value="", rule=rule, hint=hint)
