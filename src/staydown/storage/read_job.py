"""A job file into a job, or into all that is wrong with it at once; nothing half-read leaves this page."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from staydown.foundation.findings import Finding
from staydown.job.check_job import check_job
from staydown.job.records import Job
from staydown.job.written import Written
from staydown.library.cards import Cards
from staydown.storage.read_tables import TableReader
from staydown.storage.toml_lines import places_of

FORMAT = 1
JOB_FILE = "job.toml"
LARGEST_FILE = 1_000_000  # bytes; a job of a hundred items is a tenth of it

_PLACE_IN_MESSAGE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_UNQUOTED = re.compile(r"\s*([A-Za-z0-9_.-]+)\s*=\s*([^\s\"'\[{#][^\"'#]*?)\s*(?:#.*)?$")
_INCH_SIGN = re.compile(r"\s*([A-Za-z0-9_.-]+)\s*=\s*\"([^\"]*)\"\"\s*(?:#.*)?$")
_KEYS_OF_TOMLLIB = re.compile(r"\('([^)]*?)',?\)")
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
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        return _only(name, line, "job", "", "is not UTF-8 text", "save the file as UTF-8")
    return read_job_text(text, name, cards)


def read_job_text(text: str, file: str, cards: Cards) -> JobReading:
    """Return what came of reading the text of a job file.

    A syntax error of TOML stands alone, and so does a format of another version; all other mistakes and
    contradictions come together, by line.

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
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return _syntax(str(error), text, file)
    except RecursionError:
        return _only(
            file, None, "toml", "", "is nested too deeply", "a job has tables in tables twice at most"
        )
    except ValueError as error:  # a whole number of thousands of digits, a date that is none
        return _only(file, None, "toml", "", "has a value that cannot be read", str(error))
    reader = TableReader(file, places_of(text), cards)
    number = tables.get("format", FORMAT)
    if type(number) is int and number > FORMAT:
        hint = "a newer staydown wrote it; update, or take the job of the older one"
        reader.find(("format",), f"this version reads format {FORMAT}", hint, number)
        return JobReading(job=None, written=Written(), findings=tuple(reader.findings))
    job = cast(Job, reader.record((), tables, ()))
    written = Written(keys=reader.typed)
    contradictions = check_job(job, written)
    found = sorted([*reader.findings, *contradictions], key=lambda one: (one.line is None, one.line or 0))
    sound = all(finding.grade == "warning" for finding in found)
    return JobReading(job=job if sound else None, written=written, findings=tuple(found))


def _only(file: str, line: int | None, key: str, value: str, rule: str, hint: str) -> JobReading:
    finding = Finding(file=file, line=line, key=key, value=value, rule=rule, hint=hint)
    return JobReading(job=None, written=Written(), findings=(finding,))


def _syntax(message: str, text: str, file: str) -> JobReading:
    """Return the finding of a TOML syntax error, with the line and, where it is the usual slip, the cure."""
    place = _PLACE_IN_MESSAGE.search(message)
    lines = text.split("\n")
    line = int(place[1]) if place and place[1] else len(text.rstrip("\n").split("\n"))
    content = lines[line - 1].strip()
    hint = f"column {place[2]}" if place and place[2] else "at the end of the file"
    rule = _KEYS_OF_TOMLLIB.sub(lambda keys: keys[1].replace("', '", "."), _PLACE_IN_MESSAGE.sub("", message))
    unquoted, inches = _UNQUOTED.match(content), _INCH_SIGN.match(content)
    if inches:
        hint = f'write {inches[1]} = "{inches[2]} in"'
    elif unquoted and not message.startswith("Cannot overwrite"):
        hint = f'write {unquoted[1]} = "{unquoted[2]}"'
    if rule == r"Illegal character '\n'":
        rule = "a text in quotes must end on its line"
    if rule == "Cannot overwrite a value":
        rule = "a key is given twice"
    return _only(file, line, "toml", content[:60], f"is not TOML: {rule[:1].lower()}{rule[1:]}", hint)
