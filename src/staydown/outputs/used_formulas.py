"""Every formula that an item's answer went through, each with the numbers of the deciding mount where it has one.

What is printed can be checked with a pocket calculator: letters, values in SI, result.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from staydown.assess import Mounted
from staydown.foundation.law import Law
from staydown.foundation.numbers import SUM, Chosen, Derived, Number, at

Index = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """One law as used: its facts, the value of each letter (of each parameter for a procedure), and the result. [SI]

    A law all of whose uses want for a number is told with what is known of it.
    """

    law: Law
    values: Mapping[str, float]
    units: Mapping[str, str]
    result: float
    index: Index

    @property
    def known(self) -> bool:
        """Return whether every number in it is known."""
        return all(math.isfinite(value) for value in (*self.values.values(), self.result))


def used_formulas(mounted: Mounted, index: Index) -> tuple[Used, ...]:
    """Return every law behind the item's numbers once, in the order in which they build on each other.

    Parameters
    ----------
    mounted : Mounted
        The item's numbers.
    index : tuple of int
        (case, band, mount) that decides: a law that is used there is shown with the numbers of there.
    """
    found: dict[str, Used] = {}
    unknown: dict[str, Used] = {}
    for follow in (False, True):
        seen: set[int] = set()
        for number in _results(mounted):
            for derived, place in _walk(number, index, follow, seen):
                if derived.law is not SUM and derived.law.name not in found:
                    used = _used(derived, place)
                    (found if used.known else unknown).setdefault(derived.law.name, used)
    return (*found.values(), *(used for name, used in unknown.items() if name not in found))


def _results(mounted: Mounted) -> Iterator[Number]:
    """Yield what the dossier shows of an item: use, forces, temperatures, bounds by hand, links, what is left of it."""
    yield mounted.checks.use
    yield from (mounted.demands.line_load, *mounted.demands.force, *mounted.demands.moment)
    for part in mounted.table.parts:
        yield from part.force
    yield from (mounted.table.temperatures, mounted.thermal.strain)
    for capacity in mounted.capacity.values():
        for bound in capacity.classical:
            yield bound.stress
            if bound.reliability is not None:
                yield bound.reliability
    for link in mounted.chain:
        yield link.demand
        if link.link.strength is not None:
            yield link.link.strength
    for rest in (*mounted.redundancy.singles, *mounted.redundancy.pairs):
        yield from (
            number for number in (rest.air_speed, rest.road_speed, rest.warning) if number is not None
        )
    proposal = mounted.retention.proposal
    yield from (proposal.line_needed, proposal.anchor_needed)
    for tether in mounted.retention.tethers:
        numbers = (tether.line_use, tether.anchor_use, tether.most_slack)
        yield from (number for number in numbers if number is not None)


def _walk(number: Number, index: Index, follow: bool, seen: set[int]) -> Iterator[tuple[Derived, Index]]:
    """Yield the laws behind a number, what a law builds on before it; `follow` goes down every branch of a choice."""
    if id(number) in seen:
        return
    seen.add(id(number))
    if isinstance(number, Chosen):
        here = min(index[number.axis], len(number.items) - 1)
        for place, item in enumerate(number.items):
            if place == here or follow:
                there = list(index)
                there[number.axis] = place
                yield from _walk(item, (there[0], there[1], there[2]), follow, seen)
    elif isinstance(number, Derived):
        for child in number.inputs.values():
            yield from _walk(child, index, follow, seen)
        yield number, index


def _used(derived: Derived, index: Index) -> Used:
    letters = {parameter: name for name, parameter in derived.law.symbols.items()}
    return Used(
        law=derived.law,
        values={letters.get(key, key): at(child, index) for key, child in derived.inputs.items()},
        units={letters.get(key, key): child.unit for key, child in derived.inputs.items()},
        result=at(derived, index),
        index=index,
    )
