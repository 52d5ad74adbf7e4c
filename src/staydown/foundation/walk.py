"""Walks the numbers behind a number."""

from __future__ import annotations

from collections.abc import Iterator

from staydown.foundation.numbers import Chosen, Derived, Given, Number


def givens(*numbers: Number) -> Iterator[Given]:
    """Yield every number that somebody wrote, once each, behind the numbers given."""
    seen: set[int] = set()
    waiting = list(numbers)
    while waiting:
        number = waiting.pop()
        if id(number) in seen:
            continue
        seen.add(id(number))
        if isinstance(number, Given):
            yield number
        elif isinstance(number, Chosen):
            waiting.extend(number.items)
        else:
            waiting.extend(number.inputs.values())


def laws_behind(*numbers: Number) -> set[str]:
    """Return the names of all laws that the numbers given went through."""
    seen: set[int] = set()
    names: set[str] = set()
    waiting = list(numbers)
    while waiting:
        number = waiting.pop()
        if id(number) in seen:
            continue
        seen.add(id(number))
        if isinstance(number, Derived):
            names.add(number.law.name)
            waiting.extend(number.inputs.values())
        elif isinstance(number, Chosen):
            waiting.extend(number.items)
    return names
