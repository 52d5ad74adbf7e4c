"""The card library as text of 80 columns and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import asdict, fields
from typing import Any

from staydown.foundation.quantities import both, key_of, lasting, quantity_of, quantity_with_unit
from staydown.foundation.version import VERSION
from staydown.library.cards import Band, Cards, PlanningValue

WIDTH = 80
FORMAT = "staydown-cards-1"

_LABELS = {
    "strength_1h_23C": "holds 1 h at 23 °C",
    "slope": "slope of life",
    "scatter": "scatter of log10 life",
    "activation_energy": "activation energy",
    "start": "starts from",
    "denies": "never",
    "prep": "preparation",
    "way_out": "instead",
}
_WORDS = {"test": "tests of your own", "no": "NO", True: "yes", False: "no"}
_PRESSURES = (("GPa", 1e9, 1e9), ("MPa", 1e6, 1e6), ("kPa", 1e3, 0.0))  # label, size, from where on
_IN_THE_LIST = {"start", "bondability", "structural", "why_not", "material", "source"}  # beside numbers


def shelves(cards: Cards) -> dict[str, Mapping[str, Any]]:
    """Return the shelves as a person names them, each with its cards by id."""
    return {
        "surfaces": cards.surfaces,
        "tapes": cards.tapes,
        "kinds": cards.kinds,
        "materials": cards.materials,
        "colours": cards.colours,
        "fasteners": {**cards.screw_sizes, **cards.screw_classes},
        "planning": cards.planning,
        "cautions": cards.cautions,
    }


def cards_as_json(shown: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """Return shelves as one object of plain values, SI units."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "shelves": {
            shelf: [
                {"id": key, "text": card} if isinstance(card, str) else asdict(card)
                for key, card in held.items()
            ]
            for shelf, held in shown.items()
        },
    }


def list_text(shown: Mapping[str, Mapping[str, Any]]) -> str:
    """Return every card with its id, numbers, basis and source; the long texts only by `card_text`."""
    lines: list[str] = []
    for shelf, held in shown.items():
        lines += [f"{shelf.upper()}  (low / likely / high)" if shelf != "cautions" else "CAUTIONS", ""]
        for key, card in held.items():
            lines += [*_card_lines(key, card, whole=False), ""]
    return "\n".join(lines).rstrip()


def card_text(key: str, card: Any) -> str:
    """Return one card with everything that it says, numbers in both systems."""
    return "\n".join(_card_lines(key, card, whole=True))


def band_text(band: Band, system: str = "metric") -> str:
    """Return a band as `low / likely / high unit`, or one number where all three are the same.

    Examples
    --------
    >>> fixed = Band(low=3.0, likely=3.0, high=3.0, unit="s", basis="published", source="...")
    >>> band_text(fixed)
    '3 s'
    """
    ends = (band.low, band.likely, band.high)
    if band.unit == "s" and band.low == band.high:
        return lasting(band.low)
    label, factor = _scale(band.unit, band.high, system)
    numbers = [_digits(end * factor) for end in ends]
    return f"{' / '.join(dict.fromkeys(numbers) if band.low == band.high else numbers)} {label}".rstrip()


def _scale(unit: str, largest: float, system: str) -> tuple[str, float]:
    """Return label and factor; kelvins stay kelvins, since a card's may be a difference."""
    if unit == "K":
        return ("K", 1.0)
    if unit == "m2" and system == "metric":
        return ("mm²", 1e6)
    if unit == "Pa" and system == "metric":
        return next((name, 1 / size) for name, size, least in _PRESSURES if largest >= least)
    quantity = quantity_with_unit(unit)
    label, factor, _ = quantity.metric if system == "metric" else quantity.us
    return label, factor


def _digits(value: float) -> str:
    """Return a number with four digits that count, never as a power of ten."""
    if abs(value) >= 1000:
        return f"{float(f'{value:.4g}'):,.0f}"
    return f"{value:.4g}"


def _both(band: Band) -> str:
    metric, us = band_text(band), band_text(band, "us")
    return metric if metric == us else f"{metric}  ({us})"


def _wrapped(text: str, indent: int, first: str = "", hang: int = 0) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=" " * (indent - len(first)) + first,
        subsequent_indent=" " * (indent + hang),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _card_lines(key: str, card: Any, *, whole: bool) -> list[str]:
    if isinstance(card, str):
        return [key, *_wrapped(card, 4)]
    if isinstance(card, PlanningValue):
        return _planning_lines(card, whole=whole)
    title = getattr(card, "name", "")
    lines = _wrapped(f"{key}: {title}" if title and title != key else key, 0)
    for name, value in _values(card):
        if whole or isinstance(value, (Band, float)) or name in _IN_THE_LIST:
            lines += list(_value_lines(name, value, whole=whole))
    return lines


def _planning_lines(card: PlanningValue, *, whole: bool) -> list[str]:
    value = _both(card.band) if whole else band_text(card.band)
    decides = f", {card.decided_on} decides" if card.band.low != card.band.high else ""
    head = _wrapped(f"{card.id}  {value}{decides}", 0, hang=8)
    return [*head, *_wrapped(card.what, 4), *_wrapped(f"{card.band.basis}: {card.band.source}", 4)]


def _values(card: Any) -> Iterator[tuple[str, Any]]:
    """Yield a card's fields that say something, its source last."""
    names = [field.name for field in fields(card) if field.name not in {"id", "name", "source"}]
    for name in [*names, "source"]:
        value = getattr(card, name, "")
        if value != "" and value != ():
            yield name, value


def _value_lines(name: str, value: Any, *, whole: bool) -> Iterator[str]:
    label = _LABELS.get(name, key_of(name).replace("_", " "))
    if isinstance(value, Band):
        yield from _wrapped(f"{label}: {_both(value) if whole else band_text(value)}", 4)
        yield from _wrapped(f"{value.basis}: {value.source}", 8)
    elif isinstance(value, tuple):
        yield f"    {label}"
        for number, text in enumerate(value, start=1):
            yield from _wrapped(text, 9, first=f"{number}. " if name == "prep" else "- ")
    elif name.endswith("_K"):
        yield from _wrapped(f"{label}: {both(value, 'K')}", 4)
    elif isinstance(value, float):
        unit = quantity_of(name).unit
        band = Band(low=value, likely=value, high=value, unit=unit, basis="published", source="")
        yield from _wrapped(f"{label}: {_both(band) if whole else band_text(band)}", 4)
    else:
        word = _WORDS[value] if name in {"start", "structural", "rigid"} else value
        yield from _wrapped(f"{label}: {word}", 4, hang=4)
