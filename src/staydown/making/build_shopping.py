"""Builds the shopping list: what the bond itself needs, what the wipes need, tools; each with its reserve."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from staydown.foundation.numbers import Number, add, derive
from staydown.library.cards import PlanningValue, ProductCard, SurfaceCard
from staydown.making import press_laws
from staydown.making.guide import Blend, Bought, FootGuide

CLOTHS_EACH_WIPE = 2  # one wet, one dry
FACES = 2  # of the roof and of the foot
WIPED = ("dewax", "alcohol")
DUSTY = ("bare_grp", "gelcoat", "old_coating")


def build_shopping(
    feet: Sequence[FootGuide],
    blend: Blend,
    surface: SurfaceCard,
    product: ProductCard,
    name: str,
    planning: Mapping[str, PlanningValue],
) -> tuple[Bought, ...]:
    """Return what to buy.

    Parameters
    ----------
    feet : sequence of FootGuide
        All feet of the item.
    blend : Blend
        The wipe.
    surface, product : SurfaceCard, ProductCard
        What is bonded to, and the class of what it is bonded with.
    name : str
        The bonding product as the job calls it.
    planning : mapping
        Planning values by id.
    """
    reserve = planning["stock_reserve"].decided
    steps = surface.prep_steps
    bought = [_bond(feet, name, reserve)]
    if "primer" in steps:
        bought.append(
            _piece("primer for this surface and this product", "its label gives both times", lot=True)
        )
    if "dewax" in steps:
        bought.append(_piece("wax and grease remover", f"not one of: {'; '.join(surface.denies)}", lot=True))
    seal = add({foot.name: foot.bead for foot in feet})
    bought += [
        Bought(
            what="alcohol for the wipe, stock",
            amount=derive(press_laws.volume_with_reserve, volume_m3=blend.stock, reserve=reserve),
            note="isopropyl, no methylated spirit",
            lot=True,
        ),
        Bought(
            what="clean or distilled water for the wipe",
            amount=derive(press_laws.volume_with_reserve, volume_m3=blend.water, reserve=reserve),
            note="",
        ),
        Bought(
            what="sealant for the edges",
            amount=derive(press_laws.volume_with_reserve, volume_m3=seal, reserve=reserve),
            note="one that this surface and this product stand; no silicone near the job while it is made",
            lot=True,
        ),
    ]
    wipes = sum(step in WIPED for step in steps)
    cloths = CLOTHS_EACH_WIPE * FACES * wipes * len(feet)
    bought.append(
        _piece(
            f"{math.ceil(cloths * (1.0 + float(reserve.value)))} lint-free cloths", "new ones for every wipe"
        )
    )
    bought.append(_piece("gloves without powder", "a new pair for every wipe"))
    if "abrade" in steps:
        grit = surface.prep[steps.index("abrade")]
        bought.append(_piece("abrasive", grit))
        mask = "respirator for fine dust" if surface.id in DUSTY else "dust mask"
        bought.append(_piece(f"{mask}, eye protection, vacuum cleaner", ""))
    bought.append(_piece("thermometer for the surface, thermometer and hygrometer for the air", ""))
    bought += [_piece(tool, "") for tool in product.buy]
    return tuple(bought)


def _piece(what: str, note: str, *, lot: bool = False) -> Bought:
    return Bought(what=what, amount=None, note=note, lot=lot)


def _bond(feet: Sequence[FootGuide], name: str, reserve: Number) -> Bought:
    """Return the bonding product: by length where its width is known, else by area; a paste by volume."""
    lengths = {foot.name: foot.tape for foot in feet if foot.tape is not None}
    layers = {foot.name: foot.layer for foot in feet if foot.layer is not None}
    if lengths:
        amount = derive(press_laws.length_with_reserve, length_m=add(lengths), reserve=reserve)
        note = "cut to the pads without gaps; what is left at the end of a strip is lost"
    elif layers:
        amount = derive(press_laws.volume_with_reserve, volume_m3=add(layers), reserve=reserve)
        note = "for pads covered whole; beads need less"
    else:
        areas = add({foot.name: foot.area for foot in feet})
        amount = derive(press_laws.area_with_reserve, area_m2=areas, reserve=reserve)
        note = "the tape's width is not in the job: area instead of length"
    return Bought(what=name, amount=amount, note=note, lot=True)
