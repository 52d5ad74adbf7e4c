"""Builds how an item bows in the sun: curved while its top is hotter than its underside, held down by its mounts.

It is what the hot soak puts on them beside shear: for hours they hold down the shape that the free item takes. As all
that heat moves it has no load factor; creep of the tape, which relieves it, is not counted.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Given, Number, Source, choose, definition, derive, typed
from staydown.job.records import Item
from staydown.library.cards import Cards, MaterialCard
from staydown.loads.load_case import BANDS, CaseTable
from staydown.spread import bending_laws as laws

BOWS_IN = "hot soak"
STRAIGHT = definition(0.0, "1/m", "it bows in the hot soak alone")


def free_bow(item: Item, place: str, cards: Cards) -> Number:
    """Return the curvature of an item in the sun while nothing holds it, over (1, band, 1). [1/m]

    Parameters
    ----------
    item, place : Item, str
        The item and its dotted key.
    cards : Cards
        Expansions, planning value `hotter_top`.
    """
    material = item_material(item, cards)
    band = material.expansion
    source = Source(
        basis=band.basis,
        title=band.source,
        place=f"material {material.id}",
        band=(band.low, band.likely, band.high),
    )
    return derive(
        laws.free_curvature,
        expansion_one_per_K=choose(
            [Given(value=getattr(band, end), unit=band.unit, source=source) for end in BANDS], axis=1
        ),
        hotter_top_K=choose([cards.planning["hotter_top"].end(end) for end in BANDS], axis=1),  # type: ignore[arg-type]
        thickness_m=typed(item.thickness_m, "m", f"{place}.thickness"),
    )


def bow_by_case(bow: Number, table: CaseTable) -> Number:
    """Return the curvature that the mounts hold down, over (case, band, 1): that of the free item in the hot soak.

    Parameters
    ----------
    bow : Number
        Of the free item, from `free_bow`.
    table : CaseTable
        The item's cases.
    """
    return choose([bow if case.name == BOWS_IN else STRAIGHT for case in table.cases], axis=0)


def over_cases(bow: Number, table: CaseTable) -> NDArray[np.float64]:
    """Return the curvature held down as an array. [1/m], shape (case, band)"""
    shape = (len(table.cases), len(BANDS), 1)
    return np.broadcast_to(np.asarray(bow.value, dtype=float), shape)[..., 0]


def item_material(item: Item, cards: Cards) -> MaterialCard:
    """Return the material of an item, that of its kind where none was typed."""
    kinds: Mapping[str, object] = cards.kinds
    kind = cards.kinds[item.kind if item.kind in kinds else "other"]  # type: ignore[index]
    return cards.materials[item.material or kind.material]
