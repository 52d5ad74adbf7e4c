"""Every paper of a job by the name it is fetched under: dossier, exports, dates, the whole job as an archive."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from staydown.outputs.answer_json import answer_json
from staydown.outputs.answer_text import answer_text
from staydown.storage.job_archive import pack_job
from staydown.storage.write_calendar import calendar
from staydown.workbench.check import check_folder
from staydown.workbench.item_papers import make_item_paper
from staydown.workbench.record import export_records
from staydown.workbench.report import HTML, PDF, write_report
from staydown.workbench.upkeep import dates_of, upkeep_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One paper: what it is for, its media type, how it is made from a folder and its job file, at a moment."""

    words: str
    media: str
    make: Callable[[Path, Path, datetime], bytes]


def make_paper(
    folder: Path, file: Path, name: str, now: datetime, measured: Mapping[str, str] | None = None
) -> tuple[bytes, str] | None:
    """Return a paper of a job, or of one of its items, and its media type; None where there is no such paper.

    Parameters
    ----------
    folder, file : Path
        The job's folder and file.
    name : str
        One of PAPERS, or of the papers of an item.
    now : datetime
        The present moment.
    measured : mapping or None
        What a bonding guide is told, by the names of `item_papers.MEASURED`.

    Raises
    ------
    BadInput
        The job has mistakes, or the paper cannot be made.
    LogbookError
        The logbook cannot be trusted.
    """
    if name in PAPERS:
        return PAPERS[name].make(folder, file, now), PAPERS[name].media
    return make_item_paper(file, name, measured or {}, now)


def _dossier(paper: str, name: str) -> Callable[[Path, Path, datetime], bytes]:
    def make(_: Path, file: Path, now: datetime) -> bytes:  # noqa: ARG001, every paper is made alike
        with tempfile.TemporaryDirectory() as out:
            write_report(file, out, paper)  # type: ignore[arg-type]
            return (Path(out) / name).read_bytes()

    return make


def _export(name: str) -> Callable[[Path, Path, datetime], bytes]:
    def make(folder: Path, _: Path, now: datetime) -> bytes:  # noqa: ARG001
        with tempfile.TemporaryDirectory() as out:
            export_records(folder, Path(out))
            return (Path(out) / name).read_bytes()

    return make


def _answer_json(_: Path, file: Path, now: datetime) -> bytes:  # noqa: ARG001
    checked = check_folder(file)
    answer = answer_json(checked.assessment, checked.assumptions, checked.cautions, checked.warnings)
    return json.dumps(answer, ensure_ascii=False, allow_nan=False).encode()


def _answer_text(_: Path, file: Path, now: datetime) -> bytes:  # noqa: ARG001
    checked = check_folder(file)
    return answer_text(checked.assessment, checked.assumptions).encode()


def _calendar(_: Path, file: Path, now: datetime) -> bytes:
    upkeep = upkeep_of(file, now)
    return calendar(upkeep.assessment.job.job.name, dates_of(upkeep), now)


PAPERS: Mapping[str, Paper] = {
    "dossier-a4.pdf": Paper(
        words="Dossier on A4: loads, weakest link, tests, assumptions, every source",
        media="application/pdf",
        make=_dossier("a4", PDF),
    ),
    "dossier-letter.pdf": Paper(
        words="The same dossier on US Letter", media="application/pdf", make=_dossier("letter", PDF)
    ),
    "dossier.html": Paper(
        words="The same dossier as one page for a browser",
        media="text/html; charset=utf-8",
        make=_dossier("a4", HTML),
    ),
    "answer.txt": Paper(
        words="The whole answer as plain text", media="text/plain; charset=utf-8", make=_answer_text
    ),
    "answer.json": Paper(
        words="The whole answer for a program, in SI", media="application/json", make=_answer_json
    ),
    "coupons.csv": Paper(
        words="Every test as a table", media="text/csv; charset=utf-8", make=_export("coupons.csv")
    ),
    "logbook.json": Paper(
        words="Every entry of the logbook", media="application/json", make=_export("logbook.json")
    ),
    "due.ics": Paper(
        words="Every date that something is due, for the calendar of a phone or computer, with a reminder",
        media="text/calendar; charset=utf-8",
        make=_calendar,
    ),
    "job.toml": Paper(
        words="The job file", media="application/toml", make=lambda _, file, __: file.read_bytes()
    ),
    "job.zip": Paper(
        words="The whole job with logbook and photos, to be opened on another machine",
        media="application/zip",
        make=lambda folder, _, __: pack_job(folder),
    ),
}
