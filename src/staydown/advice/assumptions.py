"""What was assumed, and what each assumption does to the use when it turns out at either end of its band."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from staydown.advice.reworked import Reworked
from staydown.assess import Assessment, Facts, ItemAssessment, Mounted
from staydown.foundation.numbers import Given, Number, Source
from staydown.foundation.walk import givens
from staydown.library.cards import Band, Cards, PlanningValue, TapeClassCard

ASSUMED = ("planning value", "class card", "default", "published")
OWN = "planning."  # before the id of a planning value that the job replaces
SHELVES = {
    "material": "thermal expansion of {}",
    "surface": "thermal expansion of {}",
    "colour": "solar absorptance of a {} roof",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """One value of an item that nobody typed, or typed as a band: the one that decided, and the use at both ends.

    use_at_low, use_at_high: the largest use of the item with this value at that end, everything else as it is;
    None where nothing is proven, where the value has no band, or where its band is a published one: those are
    narrow, and are listed so that they can be seen.
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
    again = Reworked(assessment, facts, item, mounted)
    found: dict[str, list[Given]] = {}
    for number in givens(*_numbers_of(mounted)):
        source = number.source
        if (source.basis in ASSUMED or _own_band(source)) and source.place:
            found.setdefault(source.place, []).append(number)
    for place, numbers in found.items():
        source, value = numbers[0].source, _at_high(numbers[0])
        low, likely, high = source.band or (value, value, value)
        if source.basis == "published" and low == high:
            continue
        uses: list[float | None] = [None, None]
        if low < high and source.basis != "published":
            uses = [_use_at(end, numbers, assessment, item, again) for end in (low, high)]
        yield Assumption(
            id=place,
            item=item.item.name,
            what=_what(assessment.cards, place),
            low=low,
            likely=likely,
            high=high,
            value=value,
            unit=numbers[0].unit,
            basis=source.basis,
            source=source.title,
            use_at_low=uses[0],
            use_at_high=uses[1],
        )


def _own_band(source: Source) -> bool:
    """Return whether a planning value was typed as a band: whoever does not know one value leaves it open too."""
    return source.basis == "typed" and source.band is not None and source.band[0] < source.band[2]


def _at_high(number: Given) -> float:
    """Return the value that decides: that of the high band where there is one for each."""
    return float(np.asarray(number.value).reshape(-1)[-1])


def _use_at(
    end: float,
    numbers: Sequence[Given],
    assessment: Assessment,
    item: ItemAssessment,
    again: Reworked,
) -> float | None:
    """Return the use of an item with one assumption at one end; the bounds cover the same share of bonds as now."""
    place = numbers[0].source.place.removeprefix(OWN)
    if place in assessment.cards.planning:
        # the end that decided everywhere is the answer as it is
        if all(_at_high(number) == end for number in numbers):
            return again.use_now
        return again.use(place, at_value(assessment.cards.planning[place], end))
    varied = with_end(assessment.cards, item, place, end)
    return None if varied is None else again.use_with(varied)


def _numbers_of(mounted: Mounted) -> list[Number]:
    parts = [number for part in mounted.table.parts for number in (*part.force, *part.at, part.factor)]
    cases = [number for case in mounted.table.cases for number in (case.lasts, case.bond_temperature)]
    return [mounted.checks.use, mounted.demands.line_load, *parts, *cases]


def _what(cards: Cards, place: str) -> str:
    place = place.removeprefix(OWN)
    if place in cards.planning:
        return cards.planning[place].what
    shelf, _, name = place.partition(" ")
    if shelf in SHELVES:
        return SHELVES[shelf].format(name)
    return place.rsplit(".", 1)[-1].replace("_", " ")


def at_value(card: PlanningValue, value: float) -> PlanningValue:
    """Return a planning value with its whole band at one value."""
    return replace(card, band=replace(card.band, low=value, likely=value, high=value))


def with_end(cards: Cards, item: ItemAssessment, place: str, value: float) -> Cards | None:
    """Return the cards with one assumption at one value, or None where no card holds it."""

    def single(band: Band) -> Band:
        return replace(band, low=value, likely=value, high=value)

    if place in cards.planning:
        return replace(cards, planning={**cards.planning, place: at_value(cards.planning[place], value)})
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
    if shelf == "kind":
        name, _, part = name.rpartition(".")
        kind = cards.kinds[name]
        frame, laminate = kind.frame_bending_stiffness, kind.laminate_bending_stiffness
        if part == "frame_bending_stiffness" and frame is not None:
            kind = replace(kind, frame_bending_stiffness=single(frame))
        elif laminate is not None:
            kind = replace(kind, laminate_bending_stiffness=single(laminate))
        return replace(cards, kinds={**cards.kinds, name: kind})
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
