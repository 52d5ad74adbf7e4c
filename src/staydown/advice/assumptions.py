"""What was assumed, and what each assumption does to the use when it turns out at either end of its band."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from staydown.assess import Assessment, Facts, ItemAssessment, Mounted, assess_item
from staydown.foundation.numbers import Number
from staydown.foundation.walk import givens
from staydown.library.cards import Band, Cards, TapeClassCard

End = Literal["low", "high"]
ASSUMED = ("planning value", "class card", "default", "published")
SHELVES = {
    "material": "thermal expansion of {}",
    "surface": "thermal expansion of {}",
    "colour": "solar absorptance of a {} roof",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """One value that nobody typed, of one item: its band, the value that decided, and the use at both ends.

    use_at_low, use_at_high: the largest use of the item with this value at that end, everything else as it is;
    None where nothing is proven, or where the value has no band.
    """

    id: str
    item: str
    what: str
    low: float
    likely: float
    high: float
    value: float
    unit: str
    basis: str
    source: str
    use_at_low: float | None
    use_at_high: float | None

    @property
    def swing(self) -> float:
        """Return how far the use moves over the band, 0 where that is not known."""
        if self.use_at_low is None or self.use_at_high is None:
            return 0.0
        return abs(self.use_at_high - self.use_at_low)


def weigh_assumptions(assessment: Assessment, facts: Facts) -> tuple[Assumption, ...]:
    """Return every assumption of every item, the one that moves the use most first.

    Parameters
    ----------
    assessment : Assessment
        What `assess` returned.
    facts : Facts
        The same facts; each banded assumption is assessed again at both ends.
    """
    weighed = [
        assumption
        for item in assessment.items
        if item.mounted is not None
        for assumption in _of_item(assessment, facts, item, item.mounted)
    ]
    return tuple(sorted(weighed, key=lambda assumption: -assumption.swing))


def _of_item(
    assessment: Assessment, facts: Facts, item: ItemAssessment, mounted: Mounted
) -> Iterator[Assumption]:
    seen: set[str] = set()
    for number in givens(*_numbers_of(mounted)):
        source = number.source
        if source.basis not in ASSUMED or not source.place or source.place in seen:
            continue
        band = source.band
        if source.basis == "published" and (band is None or band[0] == band[2]):
            continue
        seen.add(source.place)
        value = (
            float(number.value) if isinstance(number.value, float) else float(number.value.reshape(-1)[-1])
        )
        low, likely, high = band or (value, value, value)
        uses: dict[End, float | None] = {"low": None, "high": None}
        if low < high:
            for end, at_end in (("low", low), ("high", high)):
                varied = with_end(assessment.cards, item, source.place, at_end)
                uses[end] = None if varied is None else _use(assessment, facts, item, varied)  # type: ignore[index]
        yield Assumption(
            id=source.place,
            item=item.item.name,
            what=_what(assessment.cards, source.place),
            low=low,
            likely=likely,
            high=high,
            value=value,
            unit=number.unit,
            basis=source.basis,
            source=source.title,
            use_at_low=uses["low"],
            use_at_high=uses["high"],
        )


def _numbers_of(mounted: Mounted) -> list[Number]:
    parts = [number for part in mounted.table.parts for number in (*part.force, *part.at, part.factor)]
    cases = [number for case in mounted.table.cases for number in (case.lasts, case.bond_temperature)]
    return [mounted.checks.use, mounted.demands.line_load, *parts, *cases]


def _what(cards: Cards, place: str) -> str:
    if place in cards.planning:
        return cards.planning[place].what
    shelf, _, name = place.partition(" ")
    if shelf in SHELVES:
        return SHELVES[shelf].format(name)
    return place.rsplit(".", 1)[-1].replace("_", " ")


def with_end(cards: Cards, item: ItemAssessment, place: str, value: float) -> Cards | None:
    """Return the cards with one assumption at one value, or None where no card holds it."""

    def single(band: Band) -> Band:
        return replace(band, low=value, likely=value, high=value)

    if place in cards.planning:
        card = cards.planning[place]
        return replace(cards, planning={**cards.planning, place: replace(card, band=single(card.band))})
    shelf, _, name = place.partition(" ")
    if shelf == "material":
        material = cards.materials[name]
        changed = replace(material, expansion=single(material.expansion))
        return replace(cards, materials={**cards.materials, name: changed})
    if shelf == "surface":
        surface = cards.surfaces[name]
        return replace(
            cards, surfaces={**cards.surfaces, name: replace(surface, expansion=single(surface.expansion))}
        )
    if shelf == "colour":
        colour = replace(cards.colours[name], absorptance=single(cards.colours[name].absorptance))
        return replace(cards, colours={**cards.colours, name: colour})
    tape: TapeClassCard = item.standing.tape
    modulus = place.rsplit(".", 1)[-1]
    if modulus == "tension_modulus":
        changed_tape = replace(tape, tension_modulus=single(tape.tension_modulus))
    elif modulus == "shear_modulus":
        changed_tape = replace(tape, shear_modulus=single(tape.shear_modulus))
    else:
        return None
    return replace(cards, tapes={**cards.tapes, tape.id: changed_tape})


def _use(assessment: Assessment, facts: Facts, item: ItemAssessment, cards: Cards) -> float | None:
    again = assess_item(assessment.job, item.item, item.place, cards, facts.coupons)
    return again.mounted.governing.use if again.mounted else None
