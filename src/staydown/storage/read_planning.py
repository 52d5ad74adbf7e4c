"""The [planning] table: planning values that a job replaces, by the id of their card, in the card's unit."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from staydown.foundation.errors import UnreadableValue
from staydown.foundation.nearest import nearest
from staydown.foundation.quantities import QUANTITIES
from staydown.foundation.refusals import bare_number, need_of
from staydown.foundation.units import parse_load, parse_quantity
from staydown.job.records import PlanningOverride
from staydown.library.cards import Cards, PlanningValue
from staydown.storage.mend_toml import unread
from staydown.storage.read_value import LARGEST_INTEGER, UNKNOWN, plain_number
from staydown.storage.toml_lines import Path

ENDS = ("low", "likely", "high")
_KEYS = (*ENDS, "source")
_SUFFIX_OF_UNIT = {quantity.unit: suffix for suffix, quantity in QUANTITIES.items()} | {"1": ""}

Find = Callable[[Path, str, str, Any], None]  # path, rule, hint, value
Keep = Callable[[Path, Any], None]  # path, value as typed


def read_planning(
    value: Any, path: Path, cards: Cards, find: Find, keep: Keep
) -> dict[str, PlanningOverride]:
    """Return the overrides of a [planning] table by id; ids with dots may stand quoted or as dotted keys."""
    if not isinstance(value, dict):
        find(path, "is not a table", "write [planning] and below it id = value", value)
        return {}
    return _overrides(value, path, "", cards, find, keep)


def _overrides(
    table: Mapping[str, Any], path: Path, before: str, cards: Cards, find: Find, keep: Keep
) -> dict[str, PlanningOverride]:
    overrides: dict[str, PlanningOverride] = {}
    for key, value in table.items():
        at, name = (*path, key), f"{before}{key}"
        longer = any(known.startswith(f"{name}.") for known in cards.planning)
        if longer and isinstance(value, dict) and (name not in cards.planning or not set(value) & set(_KEYS)):
            overrides |= _overrides(value, at, f"{name}.", cards, find, keep)
        elif name not in cards.planning:
            near = nearest(name, cards.planning)
            hint = f"did you mean {near}?" if near else "`staydown cards` lists the ids"
            find(at, "is no planning value", hint, value)
        elif value != UNKNOWN and not unread(value):
            override = _override(cards.planning[name], value, at, find, keep)
            if override is not None:
                overrides[name] = override
    return overrides


def place_of(table: Mapping[str, Any], name: str) -> Path | None:
    """Return where the override of a planning value stands in a [planning] table, None where there is none.

    Examples
    --------
    >>> place_of({"uplift": {"open.inner": 0.5}}, "uplift.open.inner")
    ('uplift', 'open.inner')
    """
    for key, value in table.items():
        if key == name:
            return (key,)
        if name.startswith(f"{key}.") and isinstance(value, dict):
            below = place_of(value, name.removeprefix(f"{key}."))
            if below is not None:
                return (key, *below)
    return None


def _override(card: PlanningValue, value: Any, path: Path, find: Find, keep: Keep) -> PlanningOverride | None:
    """Return one override, a number for all three ends or a table of them, or None where it has a mistake."""
    if not isinstance(value, dict):
        number = _end(card, value, path, find, keep)
        return None if number is None else PlanningOverride(low=number, likely=number, high=number)
    sound = True
    for key, inner in value.items():
        if key not in _KEYS:
            sound = False
            near = nearest(key, [one for one in _KEYS if one not in value])
            hint = f"did you mean {near}?" if near else f"its keys are {', '.join(_KEYS)}"
            find((*path, key), "is no key of a planning value", hint, inner)
            if near in ENDS:
                _end(card, inner, (*path, key), find, keep)
    missing = [end for end in ENDS if end not in value]
    if missing and sound:
        find(
            path,
            f"lacks {' and '.join(missing)}",
            "write { low = ..., likely = ..., high = ... } or one value",
            value,
        )
    ends = [
        None if unread(value[end]) else _end(card, value[end], (*path, end), find, keep)
        for end in ENDS
        if end in value
    ]
    source = value.get("source")
    if source is not None and (not isinstance(source, str) or not source.strip()):
        sound = False
        find((*path, "source"), "is not a text", "a text of your own in quotes", source)
    elif source is not None:
        keep((*path, "source"), source)
    read = [end for end in ends if end is not None]
    if read != sorted(read):
        find(path, "low, likely and high are not in rising order", "low <= likely <= high", value)
        return None
    if missing or not sound or None in ends:
        return None
    low, likely, high = read
    keep(path, value)
    return PlanningOverride(low=low, likely=likely, high=high, source=source)


def _end(card: PlanningValue, value: Any, path: Path, find: Find, keep: Keep) -> float | None:
    try:
        number = planning_number(card, value)
    except UnreadableValue as error:
        find(path, error.rule, error.hint, value)
        return None
    keep(path, value)
    return number


def planning_number(card: PlanningValue, value: Any) -> float:
    """Return a number in the card's unit.

    Kelvin only where the card is in kelvin: most of these are differences, which have no other zero.

    Raises
    ------
    UnreadableValue
        It is no number, of another unit, or outside what a job may put in its place.
    """
    suffix = _SUFFIX_OF_UNIT[card.band.unit]
    example = f"such as {card.band.likely:g} K" if suffix == "K" else ""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise UnreadableValue(f"is not a value; {need_of(suffix)} is needed", example)
    if isinstance(value, str):
        number = parse_load(value) if suffix == "N" else parse_quantity(value, suffix)
        if suffix == "K" and not value.rstrip().endswith(("K", "kelvin")):
            raise UnreadableValue("is in degrees; this value is read in kelvin only", example)
    elif (isinstance(value, int) and abs(value) > LARGEST_INTEGER) or not math.isfinite(value):
        raise UnreadableValue("is not a finite number", example)
    elif suffix == "K":
        raise UnreadableValue("has no unit; kelvin are needed", example)
    elif suffix:
        raise bare_number(plain_number(value), suffix)
    else:
        number = float(value)
    if number < 0 <= card.band.low:
        raise UnreadableValue("must not be below 0", "")
    if card.least is not None and number < card.least:
        raise UnreadableValue(f"must not be below {card.least:g}", f"the card has {card.band.likely:g}")
    if card.most is not None and number > card.most:
        raise UnreadableValue(f"must not be above {card.most:g}", f"the card has {card.band.likely:g}")
    return number
