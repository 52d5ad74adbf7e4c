"""One value of a job, from TOML or from a form: text, number, word or list into what the record holds."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from staydown.foundation.errors import UnreadableValue
from staydown.foundation.nearest import nearest
from staydown.foundation.quantities import QUANTITIES
from staydown.foundation.refusals import LOAD_EXAMPLE, bare_number, example_of, need_of
from staydown.foundation.units import (
    FASTENER_EXAMPLE,
    RECTANGLE_EXAMPLE,
    parse_area,
    parse_fastener,
    parse_load,
    parse_quantity,
    parse_rectangle,
    reads_as,
)
from staydown.job.fields import Limits
from staydown.job.records import Fastener, Rectangle
from staydown.job.shape import FieldShape
from staydown.library.cards import Cards

UNKNOWN = "unknown"
MOST_IDS_SHOWN = 12
LARGEST_INTEGER = 10**15

_NOUN_OF_SHELF = {
    "surfaces": "surface card",
    "tapes": "tape class",
    "kinds": "kind of item",
    "materials": "material",
    "colours": "roof colour",
}


def read_value(field: FieldShape, value: Any, cards: Cards) -> Any:
    """Return what a record holds for a value as TOML gives it; None is "unknown".

    Raises
    ------
    UnreadableValue
        The value breaks a rule of its field, with what would be right.
    """
    if value == UNKNOWN:
        if field.may_be_unknown:
            return None
        raise UnreadableValue("may not be unknown", such_as(field))
    if isinstance(value, str) and not value.strip():
        raise UnreadableValue(
            "is empty", such_as(field) if field.required else 'leave it out or write "unknown"'
        )
    match field.kind:
        case "number" | "hours" | "load" | "area":
            number = _number(field, value)
            refuse_outside(number, field.limits, field.suffix)
            return number
        case "rectangle":
            length_m, width_m = parse_rectangle(_text(field, value))
            return Rectangle(length_m=length_m, width_m=width_m)
        case "fastener":
            return _fastener(_text(field, value), cards)
        case "text":
            return _words(field, value, cards)
        case "choice":
            return _choice(field, value)
        case "choices":
            return _choices(field, value)
        case "flag":
            if not isinstance(value, bool):
                raise UnreadableValue(
                    "is neither true nor false", 'write true, false or "unknown", true without quotes'
                )
            return value
        case _:
            raise TypeError(f"{field.key} is a table, not a value")


def such_as(field: FieldShape) -> str:
    """Return a hint with values that the field would take."""
    match field.kind:
        case "load":
            return f"such as {LOAD_EXAMPLE}"
        case "rectangle":
            return f"such as {RECTANGLE_EXAMPLE}, along the vehicle x across it"
        case "fastener":
            return f"such as {FASTENER_EXAMPLE}"
        case "number" | "hours" | "area":
            return f"such as {example_of(field.suffix)}"
        case "choice" | "choices":
            unknown = [UNKNOWN] if field.may_be_unknown else []
            return f"one of {listed([*field.choices, *unknown])}"
        case "flag":
            return "true or false"
        case "text" if field.shelf:
            return "`staydown cards` lists the ids"
        case "text":
            return "a text of your own in quotes"
        case _:
            return ""


def listed(words: Sequence[str | int]) -> str:
    """Return words as a list for reading: `open, deflected or sealed`."""
    texts = [str(word) for word in words]
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} or {texts[-1]}"


def refuse_outside(number: float, limits: Limits, suffix: str) -> None:
    """Refuse a number that is impossible.

    Raises
    ------
    UnreadableValue
        It is outside the limits.
    """
    least, most = limits.least, limits.most
    unit = QUANTITIES[suffix].unit if suffix else "1"
    said = "" if unit == "1" or number == 0 else f"reads as {reads_as(number, unit)}"
    if least is not None and (number < least or (limits.open_below and number == least)):
        word = "must be above" if limits.open_below else "must not be below"
        raise UnreadableValue(f"{word} {_bound(least, unit)}", said)
    if most is not None and number > most:
        raise UnreadableValue(f"must not be above {_bound(most, unit)}", said)


def _bound(value: float, unit: str) -> str:
    return f"{value:g}" if unit == "1" or (value == 0 and unit != "K") else reads_as(value, unit)


def _number(field: FieldShape, value: Any) -> float:
    """Return a number in SI; one without a unit only where the field has none, or its key names it."""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise UnreadableValue(f"is not a value; {_need(field)} is needed", such_as(field))
    if isinstance(value, str):
        if field.kind == "load":
            return parse_load(value)
        return parse_area(value) if field.kind == "area" else parse_quantity(value, field.suffix)
    if isinstance(value, int) and abs(value) > LARGEST_INTEGER:
        raise UnreadableValue("is too large for a number", such_as(field))
    if not math.isfinite(value):
        raise UnreadableValue("is not a finite number", such_as(field))
    if field.kind == "hours":
        return parse_quantity(f"{plain_number(value)} h", field.suffix)
    if field.suffix:
        raise bare_number(plain_number(value), field.suffix, _need(field))
    return float(value)


def plain_number(value: float) -> str:
    """Return a number of TOML as a person would type it: 120, 0.5."""
    return str(value) if isinstance(value, int) else f"{value:.15g}"


def _need(field: FieldShape) -> str:
    return "a load" if field.kind == "load" else need_of(field.suffix)


def _text(field: FieldShape, value: Any) -> str:
    if isinstance(value, str):
        return value
    if field.kind == "text":
        hint = (
            f'write "{value}"'
            if isinstance(value, (int, float)) and not isinstance(value, bool)
            else such_as(field)
        )
        raise UnreadableValue("is not a text", hint)
    raise UnreadableValue(
        f"is not a text with {'units' if field.kind == 'rectangle' else 'a value'}", such_as(field)
    )


def _words(field: FieldShape, value: Any, cards: Cards) -> str:
    text = _text(field, value)
    if any(ord(sign) < 32 for sign in text):
        raise UnreadableValue("has a line break or another control character in it", "write it on one line")
    if field.shelf:
        _known_id(text, getattr(cards, field.shelf), _NOUN_OF_SHELF[field.shelf])
    return text


def _known_id(text: str, shelf: Mapping[str, Any], noun: str) -> None:
    if text in shelf:
        return
    near = nearest(text, shelf)
    if near:
        hint = f'did you mean "{near}"?'
    elif len(shelf) <= MOST_IDS_SHOWN:
        hint = f"one of {listed(list(shelf))}"
    else:
        hint = "`staydown cards` lists the ids"
    raise UnreadableValue(f"is no {noun}", hint)


def _fastener(text: str, cards: Cards) -> Fastener:
    size, strength_class, strength_N = parse_fastener(text)
    if size is not None:
        _known_id(size, cards.screw_sizes, "screw size")
    if strength_class is not None:
        _known_id(strength_class, cards.screw_classes, "strength class of screws")
    if strength_N is not None:
        refuse_outside(strength_N, Limits(least=0.0, open_below=True), "N")
    return Fastener(text=text, size=size, strength_class=strength_class, strength_N=strength_N)


def _choice(field: FieldShape, value: Any) -> str | int:
    for choice in field.choices:
        if value == choice and type(value) is type(choice):
            return choice
    words = [word for word in field.choices if isinstance(word, str)]
    if not words:
        raise UnreadableValue(f"is not {listed(field.choices)}", f"write {field.key} = {field.choices[0]}")
    near = nearest(value, words) if isinstance(value, str) else None
    raise UnreadableValue(f"is not {listed(field.choices)}", f'did you mean "{near}"?' if near else "")


def _choices(field: FieldShape, value: Any) -> tuple[str | int, ...]:
    if not isinstance(value, list) or not value:
        hint = f'such as ["{field.choices[0]}"]; the words are {listed(field.choices)}'
        raise UnreadableValue("is not a list of words", hint)
    return tuple(_choice(field, word) for word in value)
