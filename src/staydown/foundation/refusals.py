"""What is said of a text that is not a value: which rule it breaks and what would be right."""

from __future__ import annotations

import re

from staydown.foundation.errors import UnreadableValue
from staydown.foundation.nearest import nearest
from staydown.foundation.quantities import QUANTITIES
from staydown.foundation.unit_names import KNOWN, TRAPS

UNIT_CUTOFF = 0.7  # short words: at 0.6 a stone would be an ounce
LOAD_EXAMPLE = "1.8 kN, 25 lb or 12 L water"

_TYPED = str.maketrans({"°": "deg", "²": "^2", "³": "^3", "⁴": "^4"})  # of labels, as they can be typed


def need_of(suffix: str) -> str:
    """Return a quantity with its article: `a speed`, `an area`; `a pure number` without a suffix."""
    name = QUANTITIES[suffix].name if suffix else "pure number"
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def example_of(suffix: str) -> str:
    """Return values as they would be typed: `95 km/h or 60 mph`."""
    return QUANTITIES[suffix].example if suffix else "0.6"


# a bare number may be any of these: one pair would be of the wrong size for a roof, or for a foot
_LENGTHS, _LOADS = ("mm", "in", "m", "ft"), ("kg", "lb", "N")
SIDES = ("mm", "in")  # of a foot


def bare_number(number: str, suffix: str, need: str = "", units: tuple[str, ...] = ()) -> UnreadableValue:
    """Return the refusal of a number without its unit; it asks which unit was meant, of `units` or the likely ones."""
    pair = both_units(suffix)
    asked = units or (_LOADS if need == "a load" else _LENGTHS if suffix == "m" else pair)
    quoted = [f'"{number} {unit}"' for unit in asked]
    same = f"such as {example_of(suffix)}"
    hint = same if pair[0] == pair[1] else f"which: {', '.join(quoted[:-1])} or {quoted[-1]}?"
    return UnreadableValue(f"has no unit; {need or need_of(suffix)} is needed", hint)


def both_units(suffix: str) -> tuple[str, str]:
    """Return the metric and the US unit of a quantity as they can be typed.

    Examples
    --------
    >>> both_units("m_per_s"), both_units("K")
    (('km/h', 'mph'), ('degC', 'degF'))
    """
    quantity = QUANTITIES[suffix]
    return quantity.metric[0].translate(_TYPED), quantity.us[0].translate(_TYPED)


def refuse_comma(words: str) -> None:
    """Refuse a decimal comma, and a comma that might part thousands."""
    if not re.search(r"[0-9],[0-9]", words):
        return
    if re.search(r"[0-9]\.[0-9]*,|,[0-9]+[.,]", words):
        hint = "write the number with one point and without commas"
    elif re.search(r"(?<![0-9])[1-9][0-9]{0,2},[0-9]{3}(?![0-9])", words):
        hint = f"write {words.replace(',', '')} or {words.replace(',', '.')}, whichever you mean"
    else:
        hint = f"write {words.replace(',', '.')}"
    raise UnreadableValue("has a comma between digits; the decimal sign is a point", hint)


def other_quantity(suffix: str, need: str, example: str) -> UnreadableValue:
    """Return the refusal of a value of another quantity than the one needed."""
    return UnreadableValue(f"is {need_of(suffix)}; {need} is needed", f"such as {example}")


def other_unit(unit: str, accepted: tuple[str, ...], need: str, example: str) -> UnreadableValue:
    """Return the refusal of a unit that is not one of the accepted quantities'."""
    if unit.endswith(" water"):
        return UnreadableValue(f"is an amount of water; {need} is needed", f"such as {example}")
    if unit in KNOWN:
        suffix = next(iter(KNOWN[unit]))
        if suffix == "m3" and need == "a load":
            hint = f"a volume of what? such as {LOAD_EXAMPLE}"
            return UnreadableValue("is a volume; a load is needed", hint)
        return other_quantity(suffix, need, example)
    if unit in TRAPS:
        return UnreadableValue(f'unit "{unit}" is not read', TRAPS[unit])
    mine = [spelling for spelling, groups in KNOWN.items() if any(suffix in groups for suffix in accepted)]
    near = nearest(unit, mine, UNIT_CUTOFF) or next(
        (one for one in KNOWN if one.casefold() == unit.casefold()), None
    )
    hint = f'did you mean "{near}"?' if near else f"such as {example}"
    return UnreadableValue(f'unit "{unit}" is not known', hint)
