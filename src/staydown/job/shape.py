"""The shape of a record's fields, read off its declaration: what reader, JSON Schema and forms work from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin

from staydown.foundation.quantities import key_of, suffix_of
from staydown.job.fields import CardId, Limits, MayBeUnknown, Reads
from staydown.job.records import Job, Record

Kind = Literal[
    "number", "load", "area", "rectangle", "fastener", "hours",
    "text", "choice", "choices", "flag", "record", "records", "planning",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldShape:
    """One field: its key in the job file, how its value is read, and what it may be.

    suffix: of the SI unit, empty for a pure number. choices: the allowed words (or whole numbers).
    shelf: the cards whose ids are allowed. record: the record of a table, an array of tables or a rectangle.
    """

    name: str
    key: str
    kind: Kind
    suffix: str
    required: bool
    may_be_unknown: bool
    choices: tuple[str | int, ...]
    shelf: str
    limits: Limits
    record: type[Record] | None


@cache
def fields_of(record: type[Record]) -> tuple[FieldShape, ...]:
    """Return the shape of every field of a record, in the order of its declaration."""
    return tuple(_shape(name, info) for name, info in record.model_fields.items())


@cache
def tables() -> dict[tuple[str, ...], tuple[type[Record], str]]:
    """Return every table of a job by its keys: its record and its heading, such as `[[item.mount]]`."""
    found: dict[tuple[str, ...], tuple[type[Record], str]] = {}

    def walk(record: type[Record], keys: tuple[str, ...], heading: str) -> None:
        found[keys] = (record, heading)
        for field in fields_of(record):
            if field.kind in ("record", "records") and field.record is not None:
                below = (*keys, field.key)
                name = ".".join(below)
                walk(field.record, below, f"[[{name}]]" if field.kind == "records" else f"[{name}]")

    walk(Job, (), "the top of the file")
    return found


def _shape(name: str, info: Any) -> FieldShape:
    notes: dict[type, Any] = {type(note): note for note in info.metadata}
    kind, choices, record = _kind(info.annotation)
    required = info.is_required()
    return FieldShape(
        name=name,
        key=key_of(name),
        kind=notes[Reads].form if Reads in notes else kind,
        suffix=suffix_of(name),
        required=required,
        may_be_unknown=not required or MayBeUnknown in notes,
        choices=choices,
        shelf=notes[CardId].shelf if CardId in notes else "",
        limits=notes.get(Limits, Limits()),
        record=record,
    )


def _kind(annotation: Any) -> tuple[Kind, tuple[str | int, ...], type[Record] | None]:
    """Return the kind of a field, its allowed words, and the record in it."""
    origin = get_origin(annotation)
    if origin in (Union, UnionType):
        (annotation,) = (one for one in get_args(annotation) if one is not NoneType)
        origin = get_origin(annotation)
    if origin is Literal:
        return "choice", get_args(annotation), None
    if origin is dict:
        return "planning", (), None
    if origin is tuple:
        element = get_args(annotation)[0]
        if get_origin(element) is Literal:
            return "choices", get_args(element), None
        return "records", (), element
    if issubclass(annotation, Record):
        return "record", (), annotation
    simple: dict[type, Kind] = {float: "number", str: "text", bool: "flag"}
    return simple[annotation], (), None
