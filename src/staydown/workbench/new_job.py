"""A new job from answers: the questions, their checks, and a job.toml with a comment on every line."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.foundation.findings import Finding
from staydown.job.shape import FieldShape, fields_of, tables
from staydown.library.cards import Cards
from staydown.storage.draft import drop_draft
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import read_job_text
from staydown.storage.read_value import read_value
from staydown.storage.write_job import refuse_taken, write_new_job
from staydown.workbench.job_words import words_of

COMMENT_COLUMN = 34
ANSWERS = "answers"  # the file that findings name: none is written yet
_ONE_EACH = (("job",), ("vehicle",), ("travel",), ("climate",), ("tape",), ("item",))
_ON_DEMAND = (("item", "link"), ("item", "tether"))
# what may be left out, but moves the answer much and is easily seen: heat, bending, movement
_ALSO_ASKED = {("vehicle", "roof_colour"), ("item", "kind"), ("item", "material")}
UNKNOWN = "unknown"
_TAPE_OF_ITEM = "item.1.tape"  # answered by the tape's name
_TABLES = ("record", "records", "planning")
_BARE_NUMBER = re.compile(r"(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")

Answers = Mapping[str, str]  # dotted key of the job -> text as typed


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One value: its dotted key in the job, how it is asked for, an example as typed."""

    key: str
    home: tuple[str, ...]
    field: FieldShape
    words: str
    example: str

    @property
    def may_be_unknown(self) -> bool:
        """Return whether the value may be left out."""
        return self.field.may_be_unknown


@dataclass(frozen=True, slots=True, kw_only=True)
class NewJob:
    """A job that was written: its file, its name, and what is doubtful in it."""

    file: Path
    name: str
    warnings: tuple[Finding, ...]


def questions() -> tuple[Question, ...]:
    """Return a question for every required value of a job with one tape and one item, without its mounts."""
    return tuple(question for question in all_questions() if question.field.required)


def all_questions() -> tuple[Question, ...]:
    """Return the same with what may be unknown but is worth asking for, in the order of the job."""
    asked = (question for home in _ONE_EACH for question in _asked(home, ".".join((*home, *_number(home)))))
    return tuple(question for question in asked if question.key != _TAPE_OF_ITEM)


def mount_questions(number: int) -> tuple[Question, ...]:
    """Return a question for every required value of one mount, counted from 1."""
    return tuple(_asked(("item", "mount"), f"item.1.mount.{number}"))


def question_at(key: str) -> Question | None:
    """Return the question that a dotted key answers, or None where it is not asked."""
    mount = re.match(r"item\.1\.mount\.(\d+)\.", key)
    asked = mount_questions(int(mount[1])) if mount else all_questions()
    return next((question for question in asked if question.key == key), None)


def offers(question: Question, cards: Cards) -> tuple[str, ...]:
    """Return the words that a question offers: ids of cards, or its choices; empty where any value will do."""
    if question.field.shelf:
        return tuple(getattr(cards, question.field.shelf))
    return tuple(str(choice) for choice in question.field.choices)


def refusal_of(question: Question, text: str, cards: Cards) -> str:
    """Return what is wrong with an answer, empty where it will do."""
    if question.may_be_unknown and text.strip().lower() == UNKNOWN:
        return ""
    try:
        read_value(question.field, text, cards)
    except UnreadableValue as error:
        return str(error)
    return ""


def check_answers(answers: Answers, cards: Cards) -> tuple[Finding, ...]:
    """Return what the reader finds in the job that these answers give, by key and without lines."""
    reading = read_job_text(job_text(answers), ANSWERS, cards)
    findings = [replace(finding, line=None) for finding in reading.findings if finding.key != _TAPE_OF_ITEM]
    if "item.1.mount.1.name" not in answers:
        hint = "at least one: its name, how far behind the item's front edge, how far left of its middle"
        findings.append(
            Finding(file=ANSWERS, line=None, key="item.1.mount", value="", rule="is missing", hint=hint)
        )
    return tuple(findings)


def write_job(folder: Path, answers: Answers) -> NewJob:
    """Write the job that these answers give into a new job.toml.

    Raises
    ------
    BadInput
        An answer is missing or wrong, the answers contradict one another, or the folder holds a job already.
    OSError
        The file cannot be written.
    """
    refuse_taken(folder)
    findings = check_answers(answers, read_cards())
    if any(finding.grade == "error" for finding in findings):
        raise BadInput([finding for finding in findings if finding.grade == "error"])
    file = write_new_job(folder, job_text(answers))
    drop_draft(folder)
    return NewJob(file=file, name=answers["job.name"], warnings=findings)


def job_text(answers: Answers) -> str:
    """Return the text of a job.toml: answers as given, and every key that may be left out as a comment."""
    top = (
        "# What is on the roof and how does it travel? A line behind a # is an example: take the # away to use it.\n"
        "# Values have their unit; what you do not know is left out. `staydown check` reads this file.\n"
        "format = 1\n"
    )
    parts = [top]
    if "tape.1.name" in answers:
        answers = {_TAPE_OF_ITEM: answers["tape.1.name"]} | dict(answers)
    parts.extend(_table(home, ".".join((*home, *_number(home))), answers) for home in _ONE_EACH)
    parts.extend(_table(home, "", None) for home in _ON_DEMAND)
    number = 1
    while any(key.startswith(f"item.1.mount.{number}.") for key in answers):
        parts.append(_table(("item", "mount"), f"item.1.mount.{number}", answers, examples=number == 1))
        number += 1
    return "\n".join(parts)


def _number(home: tuple[str, ...]) -> tuple[str, ...]:
    return ("1",) if home in (("tape",), ("item",)) else ()


def _asked(home: tuple[str, ...], place: str) -> Iterator[Question]:
    for field in fields_of(tables()[home][0]):
        if field.kind not in _TABLES and (field.required or (*home, field.key) in _ALSO_ASKED):
            words, example = words_of(home, field)
            yield Question(key=f"{place}.{field.key}", home=home, field=field, words=words, example=example)


def _table(home: tuple[str, ...], place: str, answers: Answers | None, *, examples: bool = True) -> str:
    """Return a table with its answers, and what may be left out behind a #; without answers all of it is."""
    record, heading = tables()[home]
    lines = [heading if answers is not None else f"# {heading}"]
    for field in fields_of(record):
        if field.kind in _TABLES or field.kind == "choices":
            continue
        words, example = words_of(home, field)
        typed = (answers or {}).get(f"{place}.{field.key}")
        if typed is not None:
            lines.append(_line(f"{field.key} = {_as_toml(field, typed)}", words))
        elif examples and (answers is None or not field.required):
            lines.append(_line(f"# {field.key} = {_as_toml(field, example)}", words))
    return "\n".join(lines) + "\n"


def _line(text: str, words: str) -> str:
    return f"{text:<{COMMENT_COLUMN}} # {words}"


def _as_toml(field: FieldShape, text: str) -> str:
    """Return an answer as TOML writes it: pure numbers and true bare, the rest in quotes."""
    bare = field.kind in ("number", "hours") and not (field.suffix and field.kind == "number")
    if (bare and _BARE_NUMBER.fullmatch(text)) or (field.kind == "flag" and text in ("true", "false")):
        return text
    if '"' in text and "'" not in text and text.isprintable():
        return f"'{text}'"
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
