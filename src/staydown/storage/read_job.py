"""A job file into a job, or into all that is wrong with it at once; nothing half-read leaves this page."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from staydown.foundation.findings import Finding
from staydown.job.check_job import check_job
from staydown.job.records import Job
from staydown.job.written import Written
from staydown.library.cards import Cards
from staydown.storage.mend_toml import Slip, mend_toml
from staydown.storage.read_tables import TableReader
from staydown.storage.toml_lines import places_of

FORMAT = 1
JOB_FILE = "job.toml"
LARGEST_FILE = 1_000_000  # bytes; a job of a hundred items is a tenth of it

_SURROGATE = re.compile("[\ud800-\udfff]")
# tomllib needs time and memory with the square of the parts of one key; a job has four at most
_ENDLESS_KEY = re.compile(
    r"""(?:^|[\[{,])\s*(?:(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')\s*\.\s*){30}""", re.MULTILINE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class JobReading:
    """What came of reading: a job where no finding is an error, what was typed, all findings by line."""

    job: Job | None
    written: Written
    findings: tuple[Finding, ...]


def read_job(path: Path, cards: Cards) -> JobReading:
    """Return what came of reading a job folder or its job.toml; trouble with the file is a finding too."""
    file = path / JOB_FILE if path.is_dir() else path
    name = str(file)
    if not file.exists():
        hint = f"`staydown new {path}` writes one" if path.is_dir() else "give a folder with a job.toml in it"
        return _only(name, None, "job", "", "is not there", hint)
    if not file.is_file():
        return _only(name, None, "job", "", "is not a file", "give a folder with a job.toml in it")
    try:
        with file.open("rb") as stream:
            content = stream.read(LARGEST_FILE + 1)
    except OSError as error:
        return _only(name, None, "job", "", "cannot be read", error.strerror or str(error))
    if len(content) > LARGEST_FILE:
        return _only(
            name, None, "job", "", f"is larger than {LARGEST_FILE // 1_000_000} MB", "is it a job file?"
        )
    try:
        return read_job_text(content.decode("utf-8-sig"), name, cards)
    except UnicodeDecodeError as error:
        if b"\0" in content:  # of two bytes a sign, or no text at all
            line = content[: error.start].count(b"\n") + 1
            return _only(name, line, "job", "", "is not UTF-8 text", "save the file as UTF-8")
    return _read_undecoded(content.decode("utf-8-sig", errors="surrogateescape"), name, cards)


def _read_undecoded(text: str, file: str, cards: Cards) -> JobReading:
    """Return all that is wrong with a text in which a lone surrogate stands for a byte that is no UTF-8."""
    lines = [number for number, line in enumerate(text.split("\n"), 1) if _SURROGATE.search(line)]
    hint = "save the file as UTF-8"
    undecoded = [
        Finding(file=file, line=line, key="job", value="", rule="is not UTF-8 text", hint=hint)
        for line in lines
    ]
    found = [
        replace(
            one, key=_shown(one.key), value=_shown(one.value), rule=_shown(one.rule), hint=_shown(one.hint)
        )
        for one in read_job_text(text, file, cards).findings
    ]
    return JobReading(job=None, written=Written(), findings=_by_line([*undecoded, *found]))


def _shown(text: str) -> str:
    return _SURROGATE.sub("\ufffd", text)


def _by_line(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda one: (one.line is None, one.line or 0)))


def read_job_text(text: str, file: str, cards: Cards) -> JobReading:
    """Return what came of reading the text of a job file.

    All mistakes and contradictions come together, by line, slips of TOML among them. Alone stand a format of another
    version, and slips after which nothing more can be told apart: an open list, a broken heading.

    Parameters
    ----------
    text : str
        The content of job.toml.
    file : str
        Its name, for the findings.
    cards : Cards
        The library whose ids the job may use.
    """
    text = text.removeprefix("\ufeff")
    endless = _ENDLESS_KEY.search(text)
    if endless is not None:
        line = text.count("\n", 0, endless.end()) + 1
        return _only(
            file, line, "toml", "", "is a key of too many parts", "item.uplift_coefficient.low has three"
        )
    mended = mend_toml(text)
    slips = [_slip(slip, file) for slip in mended.slips]
    tables = mended.tables
    if tables is None:
        return JobReading(job=None, written=Written(), findings=_by_line(slips))
    reader = TableReader(file, places_of(mended.text), cards)
    number = tables.get("format", FORMAT)
    if type(number) is int and number > FORMAT:
        hint = "a newer staydown wrote it; update, or take the job of the older one"
        reader.find(("format",), f"this version reads format {FORMAT}", hint, number)
        return JobReading(job=None, written=Written(), findings=tuple(reader.findings))
    job = cast(Job, reader.record((), tables, ()))
    written = Written(keys=reader.typed)
    contradictions = check_job(job, Written(keys=reader.refused | reader.typed))
    found = _by_line([*slips, *reader.findings, *contradictions])
    sound = all(finding.grade == "warning" for finding in found)
    return JobReading(job=job if sound else None, written=written, findings=found)


def _slip(slip: Slip, file: str) -> Finding:
    value = slip.content[:60]
    return Finding(file=file, line=slip.line, key="toml", value=value, rule=slip.rule, hint=slip.hint)


def _only(file: str, line: int | None, key: str, value: str, rule: str, hint: str) -> JobReading:
    finding = Finding(file=file, line=line, key=key, value=value, rule=rule, hint=hint)
    return JobReading(job=None, written=Written(), findings=(finding,))
