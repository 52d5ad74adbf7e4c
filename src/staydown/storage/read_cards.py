"""Read the card library that is shipped with the program; refuse it where a card is incomplete."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import fields
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, TypeVar, get_args

from staydown.foundation.errors import CardsIncomplete
from staydown.foundation.numbers import Basis
from staydown.foundation.quantities import quantity_with_unit
from staydown.library.cards import (
    Band,
    Cards,
    ColourCard,
    JigCard,
    KindCard,
    MaterialCard,
    PlanningValue,
    ProductCard,
    RemovalCard,
    ScrewClass,
    ScrewSize,
    SurfaceCard,
    TapeClassCard,
)

_Card = TypeVar("_Card")
_Table = dict[str, Any]

_BAND_KEYS = {"low", "likely", "high", "unit", "basis", "source"}
_UNIT_OF_FIELD = {
    "expansion": "1/K",
    "modulus": "Pa",
    "tensile_strength": "Pa",
    "tension_modulus": "Pa",
    "shear_modulus": "Pa",
    "bulk_modulus": "Pa",
    "strength_1h_23C": "Pa",
    "absorptance": "1",
    "slope": "1",
    "activation_energy": "J/mol",
    "scatter": "1",
    "frame_bending_stiffness": "Nm2",
    "laminate_bending_stiffness": "Nm",
}
_KIND_OF_VALUE: dict[str, type] = {
    "str": str,
    "float": float,
    "bool": bool,
    "tuple[str, ...]": tuple,
    "Band": Band,
}
_MAY_BE_EMPTY = {"why_not", "way_out"}  # and are, where the card does not forbid: `_check_across`
_ENDS = ("low", "likely", "high")
_OR_NONE = " | None"  # a field that a card may leave out


SHELVES = (
    *(
        "surfaces",
        "steps",
        "tapes",
        "kinds",
        "materials",
        "colours",
        "screws",
        "planning",
        "cautions",
        "jigs",
    ),
    *("products", "removal", "stops"),
)


@cache
def read_cards() -> Cards:
    """Return the whole card library that was shipped, read once.

    Raises
    ------
    CardsIncomplete
        See `cards_from`.
    """
    return cards_from({shelf: _read(shelf) for shelf in SHELVES})


def cards_from(tables: Mapping[str, _Table]) -> Cards:
    """Return the card library that stands in the tables of its files, by SHELVES.

    Raises
    ------
    CardsIncomplete
        A card lacks a field, has one too many, an unknown unit, an empty source, a band out of order, or
        names a card that is not there.
    """
    materials = _shelf("materials", tables["materials"], MaterialCard)
    screws = tables["screws"]
    cards = Cards(
        surfaces=_shelf(
            "surfaces", tables["surfaces"], SurfaceCard, _surface_table(materials, tables["steps"])
        ),
        tapes=_shelf("tapes", tables["tapes"], TapeClassCard),
        kinds=_shelf("kinds", tables["kinds"], KindCard),
        materials=materials,
        colours=_shelf("colours", tables["colours"], ColourCard),
        screw_sizes=_shelf("screws", screws.get("size", {}), ScrewSize),
        screw_classes=_shelf("screws", screws.get("class", {}), ScrewClass),
        planning=_shelf("planning", tables["planning"], PlanningValue, _with_band),
        cautions=_texts("cautions", tables["cautions"]),
        jigs=_shelf("jigs", tables["jigs"], JigCard),
        products=_shelf("products", tables["products"], ProductCard),
        removal=_shelf("removal", tables["removal"], RemovalCard),
        stops=_texts("stops", tables["stops"]),
    )
    _check_across(cards)
    return cards


def _read(shelf: str) -> _Table:
    return tomllib.loads(files("staydown.library").joinpath(f"{shelf}.toml").read_text(encoding="utf-8"))


def _shelf(
    shelf: str, tables: _Table, kind: type[_Card], prepare: Callable[[_Table], _Table] = dict
) -> Mapping[str, _Card]:
    """Return the cards of one file; a `source` at its head stands for every card that names none."""
    head = {key: value for key, value in tables.items() if key == "source"}
    cards = {
        key: _card(f"{shelf}.toml [{key}]", key, head | prepare(table), kind)
        for key, table in tables.items()
        if key not in head
    }
    if not cards:
        raise CardsIncomplete(f"library/{shelf}.toml: no cards")
    return MappingProxyType(cards)


def _card(place: str, key: str, table: _Table, kind: type[_Card]) -> _Card:
    wanted = {field.name: str(field.type) for field in fields(kind) if field.name != "id"}  # type: ignore[arg-type]
    may_lack = {name for name, form in wanted.items() if form.endswith(_OR_NONE)}
    _same_keys(place, set(table), set(wanted) - (may_lack - set(table)))
    values = {
        name: _value(place, name, wanted[name].removesuffix(_OR_NONE), table[name])
        for name in wanted
        if name in table
    }
    make: Callable[..., _Card] = kind
    return make(id=key, **values)


def _value(place: str, name: str, kind: str, value: Any) -> Any:
    if kind == "Band" and isinstance(value, dict):
        value = _band(f"{place} {name}", value)
    if isinstance(value, list):
        value = tuple(value)
    if kind.startswith("Literal"):
        options = [
            option.strip(" \"'") for option in kind.removeprefix("Literal[").removesuffix("]").split(",")
        ]
        if value not in options:
            raise CardsIncomplete(f"library/{place}: {name} = {value!r} is none of {', '.join(options)}")
        return value
    if not isinstance(value, _KIND_OF_VALUE[kind]):
        raise CardsIncomplete(f"library/{place}: {name} = {value!r} is not a {kind}")
    texts = value if isinstance(value, tuple) else (value,)
    if name not in _MAY_BE_EMPTY and any(isinstance(text, str) and not text.strip() for text in texts):
        raise CardsIncomplete(f"library/{place}: {name} is empty")
    if isinstance(value, Band) and value.unit != _UNIT_OF_FIELD.get(name, value.unit):
        raise CardsIncomplete(f"library/{place}: {name} is in {value.unit}, not in {_UNIT_OF_FIELD[name]}")
    return value


def _band(place: str, table: _Table) -> Band:
    _same_keys(place, set(table), _BAND_KEYS)
    low, likely, high = (float(table[end]) for end in _ENDS)
    if not (math.isfinite(low) and math.isfinite(high) and low <= likely <= high):
        raise CardsIncomplete(f"library/{place}: low {low}, likely {likely}, high {high} are not in order")
    try:
        quantity_with_unit(table["unit"])
    except KeyError:
        raise CardsIncomplete(f"library/{place}: unit {table['unit']!r} is not known") from None
    if table["basis"] not in get_args(Basis):
        raise CardsIncomplete(f"library/{place}: basis {table['basis']!r} is not known")
    source = _text(place, "source", table["source"])
    return Band(low=low, likely=likely, high=high, unit=table["unit"], basis=table["basis"], source=source)


def _text(place: str, name: str, text: Any) -> str:
    if not isinstance(text, str) or not text.strip():
        raise CardsIncomplete(f"library/{place}: {name} is empty")
    return text


def _texts(shelf: str, table: _Table) -> Mapping[str, str]:
    return MappingProxyType({key: _text(shelf, key, text) for key, text in table.items()})


def _same_keys(place: str, has: set[str], wanted: set[str]) -> None:
    for problem, keys in (("lacks", wanted - has), ("has an unknown", has - wanted)):
        if keys:
            raise CardsIncomplete(f"library/{place}: {problem} {', '.join(sorted(keys))}")


def _with_band(table: _Table) -> _Table:
    """Return a planning table with its band gathered; `value` stands for all three ends."""
    ends = dict.fromkeys(_ENDS, table["value"]) if "value" in table else {}
    band = ends | {key: value for key, value in table.items() if key in _BAND_KEYS}
    rest = {key: value for key, value in table.items() if key not in _BAND_KEYS and key != "value"}
    return {"decided_on": "likely"} | rest | {"band": band}


def _surface_table(materials: Mapping[str, MaterialCard], steps: _Table) -> Callable[[_Table], _Table]:
    """Return what puts the shared steps and the expansion of the material below into a surface's table."""

    def prepare(table: _Table) -> _Table:
        rest = {key: value for key, value in table.items() if key != "expansion_of"}
        try:
            named = [step.removeprefix("@").partition("|") for step in table["prep"]]
            prep = [own or steps[name] for name, _, own in named]
            ids = [name for name, _, _ in named if steps[name]]
            material = table["expansion_of"]
            own = {"prep": prep, "prep_steps": ids, "material": material}
            return rest | own | {"expansion": materials[material].expansion}
        except KeyError as missing:
            raise CardsIncomplete(f"library/surfaces.toml: {table.get('name')}: no {missing}") from None

    return prepare


def _check_across(cards: Cards) -> None:
    """Refuse cards that point at nothing, or that forbid without saying what to do instead."""
    for kind in cards.kinds.values():
        if kind.material not in cards.materials:
            raise CardsIncomplete(
                f"library/kinds.toml [{kind.id}]: material {kind.material!r} is no material"
            )
    for surface in cards.surfaces.values():
        if (surface.start == "no") != bool(surface.way_out):
            raise CardsIncomplete(
                f"library/surfaces.toml [{surface.id}]: way_out is for surfaces that are forbidden"
            )
    for shelf, keys, wanted in (
        ("products", cards.products, cards.tapes),
        ("removal", cards.removal, cards.surfaces),
    ):
        if set(keys) != set(wanted):
            raise CardsIncomplete(f"library/{shelf}.toml: {', '.join(sorted(set(keys) ^ set(wanted)))}")
    for product in cards.products.values():
        _check_clock(product)
    for tape in cards.tapes.values():
        if tape.structural == bool(tape.why_not):
            raise CardsIncomplete(
                f"library/tapes.toml [{tape.id}]: why_not is for classes that are not structural"
            )


def _check_clock(product: ProductCard) -> None:
    """Refuse a product whose clock lacks its numbers, or has the other's."""
    built = (
        product.first_time,
        product.first_share,
        product.most_time,
        product.most_share,
        product.full_time,
    )
    cured = (product.front_time, product.front_depth, product.bead_width)
    ours, others = (built, cured) if product.clock == "builds up" else (cured, built)
    if None in ours or any(other is not None for other in others):
        raise CardsIncomplete(f"library/products.toml [{product.id}]: numbers of its clock")
