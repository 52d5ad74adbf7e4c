"""What a person typed, into SI: a strict reader of a number and its unit.

What takes each unit to SI was worked out by the unit library (pint) with our own definitions and stands in
`unit_scales`; a test compares both. Numbers stay exact until the one rounding at the end: "35 mm" is 0.035.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache

from staydown.foundation.errors import UnreadableValue
from staydown.foundation.nearest import nearest
from staydown.foundation.quantities import (
    ZERO_CELSIUS_K,
    STANDARD_GRAVITY_m_per_s2,
    quantity_with_unit,
    shown,
)
from staydown.foundation.refusals import (
    LOAD_EXAMPLE,
    SIDES,
    bare_number,
    example_of,
    need_of,
    other_quantity,
    other_unit,
    refuse_comma,
)
from staydown.foundation.unit_names import (
    COMPOUNDS,
    KNOWN,
    SPELLINGS,
    WATER_DENSITY_kg_per_m3,
    canonical,
    plain,
)
from staydown.foundation.unit_scales import SCALES

LONGEST_TEXT = 80

RECTANGLE_EXAMPLE = "80 mm x 50 mm"
FASTENER_EXAMPLE = '"M6 A2-70", "1.8 kN" or "unknown"'

_FORM = (
    r"(?:[0-9]+(?:\s+|-)[0-9]+/[0-9]+|[0-9]+/[0-9]+|(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?)"
)
_NUMBER = re.compile(rf"[+-]?{_FORM}(?![0-9])")
_UNIT_THEN_DIGIT = re.compile(r"[0-9]\s*[A-Za-z'\"][^0-9]*[0-9]")
_NOT_FINITE = re.compile(r"[+-]?(?:nan|inf)", re.IGNORECASE)
_SEPARATOR = re.compile(r"\s*[xX×]\s*")
_SCREW = re.compile(r"[Mm][0-9]\S*(?:\s+\S+)?$")


def parse_quantity(text: str, suffix: str) -> float:
    """Return what a text says, in the SI unit of a suffix; no suffix is a pure number.

    Parameters
    ----------
    text : str
        A number and its unit: `95 km/h`, `58 1/4 in`, `4 ft 10 in`, `-10 degC`; without suffix `0.7`, `70 %`.
    suffix : str
        A key of QUANTITIES, or empty.

    Raises
    ------
    UnreadableValue
        The text is no number with a unit of that quantity, with what would be right.

    Examples
    --------
    >>> parse_quantity("95 km/h", "m_per_s"), parse_quantity("58 1/4 in", "m"), parse_quantity("14 °F", "K")
    (26.3888888888888889, 1.47955, 263.15)
    """
    if not suffix:
        return _pure(text)
    value = _measure(text, (suffix,), need_of(suffix), example_of(suffix))[1]
    if suffix == "K" and value < 0:
        raise UnreadableValue("is below absolute zero", f"such as {example_of(suffix)}")
    return _rounded(value, text)


def parse_load(text: str) -> float:
    """Return a load in newtons: a force, or the weight of a mass or of a volume of water at standard gravity.

    Raises
    ------
    UnreadableValue
        The text is none of these.

    Examples
    --------
    >>> parse_load("1.8 kN"), parse_load("25 lb"), parse_load("12 L water")
    (1800.0, 111.2055403815, 117.6798)
    """
    gravity = Fraction(str(STANDARD_GRAVITY_m_per_s2))
    words = plain(text)
    if words.endswith(" water"):
        volume = words.removesuffix(" water").removesuffix(" of")
        cubic_metres = _measure(volume, ("m3",), "a volume of water", "12 L water")[1]
        return _rounded(cubic_metres * WATER_DENSITY_kg_per_m3 * gravity, text)
    suffix, value = _measure(text, ("N", "kg"), "a load", LOAD_EXAMPLE)
    return _rounded(value * gravity if suffix == "kg" else value, text)


def parse_rectangle(text: str) -> tuple[float, float]:
    """Return the two sides of a rectangle in metres, along the vehicle x across it, each with its unit.

    Raises
    ------
    UnreadableValue
        The text is not two lengths above 0 with an x between them.

    Examples
    --------
    >>> parse_rectangle("80 mm x 2 in")
    (0.08, 0.0508)
    """
    length, width = _sides(text)
    return _rounded(length, text), _rounded(width, text)


def parse_area(text: str) -> float:
    """Return an area in square metres, written as an area or as a rectangle.

    Raises
    ------
    UnreadableValue
        The text is neither.

    Examples
    --------
    >>> parse_area("25 mm x 25 mm"), parse_area("6 cm^2")
    (0.000625, 0.0006)
    """
    if _SEPARATOR.search(text):
        length, width = _sides(text)
        return _rounded(length * width, text)
    return parse_quantity(text, "m2")


def parse_fastener(text: str) -> tuple[str | None, str | None, float | None]:
    """Return size and strength class of a screw, or its strength in newtons: (size, class, strength).

    Whether size and class exist is for the cards to say.

    Raises
    ------
    UnreadableValue
        The text is neither a screw nor a load.

    Examples
    --------
    >>> parse_fastener("M6 A2-70"), parse_fastener("1.8 kN")
    (('M6', 'A2-70', None), (None, None, 1800.0))
    """
    words = plain(_short(text))
    if _SCREW.match(words):
        size, _, strength_class = words.partition(" ")
        return size, strength_class or None, None
    if not _NUMBER.match(words):
        raise UnreadableValue("is neither a screw nor a strength", f"such as {FASTENER_EXAMPLE}")
    return None, None, parse_load(text)


def reads_as(value: float, unit: str) -> str:
    """Return an SI value in both systems with at least three digits that count: `1.2 mm (0.047 in)`.

    Examples
    --------
    >>> reads_as(0.00005, "m"), reads_as(26.39, "m/s")
    ('0.0500 mm (0.00197 in)', '95.0 km/h (59.0 mph)')
    """
    quantity = quantity_with_unit(unit)
    texts = []
    for system, (_, factor, offset) in {
        "metric": (*quantity.metric[:2], -ZERO_CELSIUS_K),
        "us": (*quantity.us[:2], -459.67),
    }.items():
        number = float(f"{abs(value * factor + (offset if unit == 'K' else 0.0)):.3g}")
        decimals = 1 if unit == "K" or number == 0 else min(12, max(0, 2 - math.floor(math.log10(number))))
        texts.append(shown(value, unit, system, decimals))
    return texts[0] if texts[0] == texts[1] else f"{texts[0]} ({texts[1]})"


def _short(text: str) -> str:
    """Return the text, refused where no value can be in it."""
    if not text.strip():
        raise UnreadableValue("is empty", 'leave the key out or write "unknown"')
    if len(text) > LONGEST_TEXT:
        raise UnreadableValue("is too long for a value", f"at most {LONGEST_TEXT} characters")
    return text


def _sides(text: str) -> tuple[Fraction, Fraction]:
    """Return the two sides of a rectangle exactly. [m]"""
    words = plain(_short(text))
    refuse_comma(words)
    sides = _SEPARATOR.split(words)
    if len(sides) != 2:
        rule = "is not two lengths; a rectangle is needed"
        raise UnreadableValue(rule, f"such as {RECTANGLE_EXAMPLE}, along the vehicle x across it")
    first, second = _NUMBER.fullmatch(sides[0]), _NUMBER.match(sides[1])
    if first and second:
        unit = sides[1][second.end() :].strip()
        ways = [f'"{first[0]} {u} x {second[0]} {u}"' for u in ([unit] if unit else SIDES)]
        hint = f"write {ways[0]}" if unit else f"which: {' or '.join(ways)}?"
        raise UnreadableValue("the first length has no unit", hint)
    if second and second.end() == len(sides[1]):
        raise bare_number(second[0], "m", "a length", SIDES)
    lengths = [_measure(side, ("m",), "a length", RECTANGLE_EXAMPLE)[1] for side in sides]
    if min(lengths) <= 0:
        raise UnreadableValue("a side must be above 0", f"such as {RECTANGLE_EXAMPLE}")
    return lengths[0], lengths[1]


def _measure(text: str, accepted: tuple[str, ...], need: str, example: str) -> tuple[str, Fraction]:
    """Return the suffix whose quantity the text is in, and its exact value in SI."""
    words = plain(_short(text))
    compound = _compound(words)
    if compound is not None:
        suffix, value = compound
        if suffix not in accepted:
            raise other_quantity(suffix, need, example)
        return suffix, value
    number, unit = _split(words, accepted, need, example)
    for suffix in accepted:
        if suffix in KNOWN.get(unit, ()):
            return suffix, _in_si(number, KNOWN[unit][suffix])
    raise other_unit(unit, accepted, need, example)


def _split(words: str, accepted: tuple[str, ...], need: str, example: str) -> tuple[Fraction, str]:
    """Return number and unit of a text whose signs are plain already."""
    refuse_comma(words)
    if _NOT_FINITE.match(words):
        raise UnreadableValue("is not a finite number", f"such as {example}")
    match = _NUMBER.match(words)
    if match is None:
        unknown = nearest(words, ["unknown"])
        raise UnreadableValue(
            "does not begin with a number", f'did you mean "{unknown}"?' if unknown else f"such as {example}"
        )
    unit = canonical(words[match.end() :])
    if not unit:
        raise bare_number(match[0], accepted[0], need)
    if unit not in KNOWN and re.search(r"[0-9]", re.sub(r"[A-Za-z]\^[234]|^1(?=/)", "", unit)):
        raise UnreadableValue("is more than one number with its unit", f"write one value, such as {example}")
    return _exact(match[0]), unit


def _exact(number: str) -> Fraction:
    """Return a number that fits _NUMBER exactly; 58 1/4 and 58-1/4 are sums."""
    sign = -1 if number.startswith("-") else 1
    body = number.lstrip("+-")
    whole, _, part = re.sub(r"[\s-]+", " ", body).rpartition(" ") if "/" in body else ("", "", body)
    if re.search(r"/0+$", part):
        raise UnreadableValue("divides by zero", "such as 58 1/4 in")
    value = Fraction(part)
    if whole and value >= 1:
        raise UnreadableValue("a fraction beside a whole number must be below one", "such as 58 1/4 in")
    return sign * (value + int(whole or 0))


def _compound(words: str) -> tuple[str, Fraction] | None:
    """Return suffix and value of a text in two units, such as `4 ft 10 in`, or None where it is not one."""
    if not _UNIT_THEN_DIGIT.search(words):  # nearly all texts; a file of coupons has tens of thousands
        return None
    for first, second, most in COMPOUNDS:
        ((suffix, firsts),) = ((s, units[first]) for s, units in SPELLINGS.items() if first in units)
        seconds = SPELLINGS[suffix][second]
        match = re.fullmatch(
            rf"(?P<sign>[+-]?)(?P<a>[0-9]+)\s*(?P<u>{_any_of(firsts)})\s*-?\s*(?P<b>{_FORM})\s*(?P<v>{_any_of(seconds)})?",
            words,
        )
        if match is None:
            continue
        if match["v"] is None:
            names = f"{match['a']} {firsts.split(', ')[0]} {match['b']} {seconds.split(', ')[0]}"
            raise UnreadableValue("the last number has no unit", f"write {match['sign']}{names}")
        rest = _exact(match["b"])
        if rest >= most:
            raise UnreadableValue(
                f"{match['b']} {match['v']} beside {match['u']} must be below {most}", "write it in one unit"
            )
        value = _in_si(Fraction(match["a"]), first) + _in_si(rest, second)
        return suffix, -value if match["sign"] == "-" else value
    return None


@cache
def _any_of(spellings: str) -> str:
    return "|".join(re.escape(one) for one in sorted(spellings.split(", "), key=len, reverse=True))


def _pure(text: str) -> float:
    words = plain(_short(text))
    refuse_comma(words)
    percent = words.endswith("%")
    match = _NUMBER.fullmatch(words.removesuffix("%").rstrip())
    if match:
        return _rounded(_exact(match[0]) / (100 if percent else 1), text)
    start = _NUMBER.match(words)
    if _NOT_FINITE.match(words):
        raise UnreadableValue("is not a finite number", "such as 0.6")
    raise UnreadableValue(
        "is not a number; this key takes no unit", f"write {start[0]}" if start else "such as 0.6"
    )


def _rounded(value: Fraction, text: str) -> float:
    try:
        return float(value)
    except OverflowError:
        raise UnreadableValue("is too large for a number", f"{text[:20]!r} has too many digits") from None


@cache
def _scale(expression: str) -> tuple[Fraction, Fraction]:
    """Return factor and offset that take a number of a unit to SI, exactly."""
    factor, offset = SCALES[expression]
    return Fraction(factor), Fraction(offset)


def _in_si(number: Fraction, expression: str) -> Fraction:
    factor, offset = _scale(expression)
    return number * factor + offset
