"""Builds the removal card of a foot: what may go wrong on this surface, in which order, how warm, what never."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.foundation.numbers import Number, given
from staydown.library.cards import Cards, SurfaceCard

SECURE = "Take the load off first: straps or a second person hold the item, wires are off and covered."
LAST = "Write down what the faces look like, with photos: adhesive, cohesive, coating or substrate."


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalCard:
    """How a foot comes off. hottest: of the surface while it is warmed. [K]"""

    surface: SurfaceCard
    risk: str
    steps: tuple[str, ...]
    never: tuple[str, ...]
    hottest: Number


def removal_card(surface: SurfaceCard, kind: str, cards: Cards) -> RemovalCard:
    """Return how a foot of a class of product comes off a surface.

    Parameters
    ----------
    surface : SurfaceCard
        What it stands on.
    kind : str
        Id of the class of product.
    cards : Cards
        Removal and product cards.
    """
    card, product = cards.removal[surface.id], cards.products[kind]
    return RemovalCard(
        surface=surface,
        risk=card.risk,
        steps=(SECURE, *card.before, *product.take_off, *card.steps, LAST),
        never=tuple(dict.fromkeys((*card.never, *surface.denies))),
        hottest=given(
            card.hottest.low, card.hottest.unit, "planning value", card.hottest.source, f"removal.{card.id}"
        ),
    )
