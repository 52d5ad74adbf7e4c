"""A job as a form, and a form's answers as changes of the file: every field with its words, its text, its echo."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.foundation.findings import Finding
from staydown.foundation.quantities import QUANTITIES, STANDARD_GRAVITY_m_per_s2, lasting
from staydown.foundation.unit_names import WATER_DENSITY_kg_per_m3
from staydown.foundation.units import reads_as
from staydown.job.records import Rectangle
from staydown.job.shape import FieldShape, fields_of, tables
from staydown.library.cards import Cards
from staydown.storage.edit_toml import AddTable, Change, DropKey, Path, Plain, SetKey
from staydown.storage.read_value import UNKNOWN, read_value
from staydown.workbench.job_words import words_of

_TABLES = ("record", "records", "planning")
_ONLY_WITH = {"lever": ("lever_side",)}  # keys that say nothing where another is not known
_BARE_NUMBER = re.compile(r"[+-]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_OWN_NAMES = {"tape": "tape"}  # a key whose value is the name of one of the job's own tables
LONG_m = 2.0  # above it millimetres and inches are hard to read
FOOT_m = 0.3048  # exact
LITRES_PER_m3 = 1000.0
US_GALLON_m3 = 3.785411784e-3  # exact: 231 cubic inches


@dataclass(frozen=True, slots=True, kw_only=True)
class FormField:
    """One field of a form.

    place: dotted key. words: what it asks for. typed: as it stands in the file, empty where nothing stands there.
    echo: what was read, in both systems. choices: value and label, empty where any text will do. may_be_unknown: the
    person may not know it. unknown: nobody knows it now.
    """

    place: str
    label: str
    words: str
    example: str
    typed: str
    echo: str
    choices: tuple[tuple[str, str], ...]
    may_be_unknown: bool
    unknown: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FormTable:
    """One table of a form with its fields; removable: it is one of an array."""

    place: str
    title: str
    fields: tuple[FormField, ...]
    removable: bool


def path_of(place: str) -> Path:
    """Return a dotted key as a path of the file.

    Examples
    --------
    >>> path_of("item.2.mount.1.pad")
    ('item', 1, 'mount', 0, 'pad')
    """
    return tuple(int(part) - 1 if part.isdigit() else part for part in place.split("."))


def home_of(place: str) -> tuple[str, ...]:
    """Return the table of a job that a dotted key of a table names: `item.2.mount.1` is of `item`, `mount`."""
    return tuple(part for part in place.split(".") if not part.isdigit())


def field_at(place: str) -> FieldShape:
    """Return the shape of the field that a dotted key names.

    Raises
    ------
    BadInput
        A job has no such key.
    """
    table, _, key = place.rpartition(".")
    record = tables().get(home_of(table))
    found = None if record is None else next((one for one in fields_of(record[0]) if one.key == key), None)
    if found is None or found.kind in _TABLES:
        raise BadInput([_finding(place, "", "is no key of a job", "open the page again")])
    return found


def change_for(place: str, text: str | None, content: str, cards: Cards) -> Change | None:
    """Return the change that gives a key the text of a form; None where nothing changes.

    Parameters
    ----------
    text : str or None
        As typed; None is "don't know".
    content : str
        The job file as it is.

    Raises
    ------
    BadInput
        The text breaks a rule of its field.
    """
    field = field_at(place)
    there = value_at(content, place)
    if text is None or not text.strip():
        if not field.may_be_unknown:
            raise BadInput(
                [_finding(place, text or "", "must be given", f"such as {_example(place, field)}")]
            )
        # kept as a word where it stood: a comment on its line stays, and the page can say that somebody chose it
        return None if there in (None, UNKNOWN) else SetKey(path=path_of(place), value=UNKNOWN)
    value = as_toml(field, text.strip())
    try:
        read_value(field, value, cards)
    except UnreadableValue as error:
        raise BadInput([_finding(place, text, error.rule, error.hint)]) from None
    return None if there == value else SetKey(path=path_of(place), value=value)


def changes_for(place: str, text: str | None, content: str, cards: Cards) -> tuple[Change, ...]:
    """Return the changes that give a key the text of a form; what says nothing without it becomes unknown with it.

    Raises
    ------
    BadInput
        The text breaks a rule of its field.
    """
    table, _, key = place.rpartition(".")
    unknown = text is None or not text.strip()
    places = [place, *(f"{table}.{other}" for other in _ONLY_WITH.get(key, ()) if unknown)]
    found = [change_for(one, text, content, cards) for one in places]
    return tuple(change for change in found if change is not None)


def added_table(place: str, answers: Mapping[str, str], cards: Cards) -> AddTable:
    """Return the change that adds a table to an array: `item.2.mount` with its answers by key.

    Raises
    ------
    BadInput
        Answers are missing or wrong: all of them at once.
    """
    record = tables().get(home_of(place))
    if record is None:
        raise BadInput([_finding(place, "", "is no table of a job", "open the page again")])
    values: dict[str, Plain] = {}
    findings = []
    for field in fields_of(record[0]):
        if field.kind in _TABLES:
            continue
        text = answers.get(field.key, "").strip()
        if not text:
            if field.required and not field.may_be_unknown:
                findings.append(
                    _finding(
                        field.key, "", "must be given", f"such as {_example(f'{place}.{field.key}', field)}"
                    )
                )
            elif field.required:
                values[field.key] = UNKNOWN
            continue
        value = as_toml(field, text)
        try:
            read_value(field, value, cards)
        except UnreadableValue as error:
            findings.append(_finding(field.key, text, error.rule, error.hint))
        values[field.key] = value
    if findings:
        raise BadInput(findings)
    return AddTable(path=path_of(place), values=values)


def advised_changes(content: str, typed: Sequence[Sequence[str | bool]]) -> tuple[Change, ...]:
    """Return advice, dotted keys with texts, as changes of the file; keys of a table that is not there begin it."""
    changes: list[Change] = []
    new: dict[str, dict[str, Plain]] = {}
    for key, value in typed:
        table, _, name = str(key).rpartition(".")
        if table and table[-1].isdigit() and value_at(content, table) is None:
            new.setdefault(table, {})[name] = value
        else:
            changes.append(SetKey(path=path_of(str(key)), value=value))
    changes += [
        AddTable(path=path_of(table.rpartition(".")[0]), values=values) for table, values in new.items()
    ]
    return tuple(changes)


def typed_by(content: str, changes: Sequence[Change]) -> tuple[str, ...]:
    """Return in words what changes type into a job file: `item 2 mount 1 lever: 14 mm instead of 38 mm`."""
    found = []
    for change in changes:
        parts = [str(part + 1) if isinstance(part, int) else part.replace("_", " ") for part in change.path]
        match change:
            case SetKey():
                old = value_at(content, ".".join(part.replace(" ", "_") for part in parts))
                was = "" if old is None else f" instead of {_as_text(old)}"
                found.append(f"{' '.join(parts)}: {_as_text(change.value)}{was}")
            case AddTable():
                values = ", ".join(
                    f"{key.replace('_', ' ')} {_as_text(value)}" for key, value in change.values.items()
                )
                found.append(f"one more {' '.join(parts)}: {values}")
            case DropKey():
                found.append(f"{' '.join(parts)}: taken away")
    return tuple(found)


def dropped(place: str) -> DropKey:
    """Return the change that takes a table of an array away."""
    return DropKey(path=path_of(place))


def as_toml(field: FieldShape, text: str) -> Plain:
    """Return a form's text as the file holds it: numbers without a unit and flags bare, all else as text."""
    if field.kind == "flag" and text.lower() in ("true", "false", "yes", "no"):
        return text.lower() in ("true", "yes")
    if field.kind == "choices":
        return [part.strip() for part in text.split(",")]
    bare = field.kind == "hours" or (field.kind == "number" and not field.suffix)
    if bare and _BARE_NUMBER.fullmatch(text):
        return float(text) if "." in text else int(text)
    return text


@lru_cache(maxsize=4)
def _loaded(content: str) -> Mapping[str, Any]:
    """Return the tables of a text; nobody changes them."""
    return tomllib.loads(content)


def value_at(content: str, place: str) -> Any:
    """Return what stands at a dotted key of a job file, None where nothing does."""
    here: Any = _loaded(content)
    for part in path_of(place):
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def echo_of(field: FieldShape, value: Plain, cards: Cards) -> str:
    """Return what was read, in both systems; empty for words, and for a value that cannot be read."""
    try:
        read = read_value(field, value, cards)
    except UnreadableValue:
        return ""
    if read is None:
        return ""
    match field.kind:
        case "rectangle" if isinstance(read, Rectangle):
            along, across = reads_as(read.length_m, "m"), reads_as(read.width_m, "m")
            return f"{along} × {across}"
        case "load":
            return load_echo(read)
        case "area":
            return reads_as(read, "m2")
        case "number" if field.suffix == "s":
            return lasting(read)
        case "number" if field.suffix == "m" and abs(read) >= LONG_m:
            return f"{read:.2f} m ({read / FOOT_m:.1f} ft)"
        case "number" if field.suffix:
            return reads_as(read, QUANTITIES[field.suffix].unit)
    return ""


def load_echo(load_N: float) -> str:
    """Return a load as people weigh it: newtons and pounds, kilograms, litres and US gallons of water.

    Examples
    --------
    >>> load_echo(98.0665)
    '98.1 N (22.0 lb) = 10.0 kg = 10.0 L or 2.6 US gal of water'
    """
    mass_kg = load_N / float(STANDARD_GRAVITY_m_per_s2)
    volume_m3 = mass_kg / float(WATER_DENSITY_kg_per_m3)
    litres, gallons = volume_m3 * LITRES_PER_m3, volume_m3 / US_GALLON_m3
    return f"{reads_as(load_N, 'N')} = {mass_kg:.1f} kg = {litres:.1f} L or {gallons:.1f} US gal of water"


def forms(content: str, cards: Cards) -> tuple[FormTable, ...]:
    """Return every table of a job as a form, in the order of the records."""
    content_tables = _loaded(content)
    return tuple(_forms_in(content_tables, (), "", content_tables, cards))


def form_at(content: str, place: str, cards: Cards) -> FormTable | None:
    """Return one table of a job as a form, None where it is not there."""
    home, tables_now = home_of(place), _loaded(content)
    table = value_at(content, place)
    if home not in tables() or not isinstance(table, Mapping):
        return None
    return _form(table, home, place, tables_now, cards, removable=place[-1].isdigit())


def empty_form(content: str, place: str, cards: Cards) -> FormTable:
    """Return the form of a table that is not there yet: `item.2.mount`."""
    return _form({}, home_of(place), place, _loaded(content), cards, removable=False)


def _forms_in(
    table: Mapping[str, Any], home: tuple[str, ...], place: str, content: Mapping[str, Any], cards: Cards
) -> Iterator[FormTable]:
    record = tables()[home][0]
    for field in fields_of(record):
        below = (*home, field.key)
        if field.kind == "record" and field.record is not Rectangle and below in tables():
            inside = table.get(field.key)
            if isinstance(inside, Mapping) or not home:
                there = f"{place}.{field.key}".lstrip(".")
                yield _form(inside or {}, below, there, content, cards, removable=False)
                yield from _forms_in(inside or {}, below, there, content, cards)
        elif field.kind == "records":
            for number, one in enumerate(table.get(field.key) or (), 1):
                there = f"{place}.{field.key}.{number}".lstrip(".")
                yield _form(one, below, there, content, cards, removable=True)
                yield from _forms_in(one, below, there, content, cards)


def _form(
    table: Mapping[str, Any],
    home: tuple[str, ...],
    place: str,
    content: Mapping[str, Any],
    cards: Cards,
    *,
    removable: bool,
) -> FormTable:
    fields = tuple(
        _field(field, home, f"{place}.{field.key}", table.get(field.key), content, cards)
        for field in fields_of(tables()[home][0])
        if field.kind not in _TABLES
    )
    name = table.get("name") or table.get("part") or table.get("material") or ""
    kind = home[-1].replace("_", " ")
    return FormTable(
        place=place, title=f"{kind}: {name}" if name else kind, fields=fields, removable=removable
    )


def _field(
    field: FieldShape, home: tuple[str, ...], place: str, value: Any, content: Mapping[str, Any], cards: Cards
) -> FormField:
    words, example = words_of(home, field)
    unknown = value is None or value == UNKNOWN
    return FormField(
        place=place,
        label=field.key.replace("_", " "),
        words=words.replace("`staydown cards", "`cards")
        .split(", an id of")[0]
        .split("an id of `cards")[0]
        .strip(),
        example=example,
        typed="" if unknown else _as_text(value),
        echo="" if unknown else echo_of(field, value, cards),
        choices=_choices(field, content, cards),
        may_be_unknown=field.may_be_unknown,
        unknown=unknown,
    )


def _choices(field: FieldShape, content: Mapping[str, Any], cards: Cards) -> tuple[tuple[str, str], ...]:
    if field.shelf:
        shelf: Mapping[str, Any] = getattr(cards, field.shelf)
        return tuple((key, getattr(card, "name", key)) for key, card in shelf.items())
    if field.key in _OWN_NAMES and field.kind == "text":
        names = [str(one.get("name", "")) for one in content.get(_OWN_NAMES[field.key], ())]
        return tuple((name, name) for name in names)
    if field.kind == "flag":
        return (("true", "yes"), ("false", "no"))
    if field.kind == "choices":
        return ()
    return tuple((str(choice), str(choice)) for choice in field.choices)


def _as_text(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return ", ".join(str(one) for one in value)
    return str(value)


def _example(place: str, field: FieldShape) -> str:
    return words_of(home_of(place.rpartition(".")[0]), field)[1]


def _finding(key: str, value: str, rule: str, hint: str) -> Finding:
    return Finding(file="job.toml", line=None, key=key, value=value, rule=rule, hint=hint)
