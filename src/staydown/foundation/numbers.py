"""Numbers that can explain themselves: Given (somebody wrote it), Derived (a law made it), Chosen (one of several).

Values are floats or arrays over (case, band, mount); every array broadcasts against the others, an axis of
length one meaning "the same for all". `explain` walks down one index of it to what somebody wrote.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from inspect import signature
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.errors import UnitMismatch
from staydown.foundation.law import Law, law_facts
from staydown.foundation.quantities import quantity_of

Value = float | NDArray[np.float64]
Basis = Literal[
    "typed", "published", "planning value", "class card", "coupons", "calculation", "definition", "default"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a number comes from.

    basis: what kind of ground it stands on. title: the publication, or what the person typed into.
    place: the dotted key in the job, or the id of the card. band: (low, likely, high) where there is one.
    """

    basis: Basis
    title: str
    place: str = ""
    band: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A number that somebody wrote."""

    value: Value
    unit: str
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """A number that a law made from other numbers."""

    value: Value
    unit: str
    law: Law
    inputs: Mapping[str, Number] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """Numbers side by side along one axis (0 case, 1 band, 2 mount), each with its own source."""

    value: Value
    unit: str
    axis: int
    items: tuple[Number, ...]
    why: str = ""


Number = Given | Derived | Chosen


def _as_value(result: Any) -> Value:
    return result if isinstance(result, np.ndarray) else float(result)


@cache
def _asks(law: Any) -> tuple[Law, dict[str, str]]:
    """Return the facts of a law and the unit that each of its parameters carries in its name."""
    facts = law_facts(law)
    return facts, {name: quantity_of(name).unit for name in signature(law).parameters}


def derive(law: Any, /, **inputs: Number) -> Derived:
    """Return what a law makes of numbers, with the trail; each unit is checked against the parameter's suffix.

    Parameters
    ----------
    law : function
        A function decorated with `@law`.
    **inputs : Number
        One number for each parameter, by name.

    Raises
    ------
    UnitMismatch
        A number's unit is not the one that the parameter's name carries.
    """
    facts, wanted = _asks(law)
    for name, number in inputs.items():
        if number.unit != wanted.get(name, number.unit):
            told = f"{facts.name}({name}) wants {wanted[name]}, got {number.value} {number.unit}"
            raise UnitMismatch(told)
    value = _as_value(law(**{name: number.value for name, number in inputs.items()}))
    return Derived(value=value, unit=facts.unit, law=facts, inputs=inputs)


SUM = Law(
    name="sum",
    unit="",
    equation="",
    symbols={},
    source="definition: the parts added",
    method="sum of the parts",
)


def add(parts: Mapping[str, Number]) -> Number:
    """Return the sum of numbers of one unit, each by its name; one part stands for itself.

    Raises
    ------
    UnitMismatch
        The parts do not share a unit.
    """
    numbers = list(parts.values())
    if len(numbers) == 1:
        return numbers[0]
    units = {number.unit for number in numbers}
    if len(units) != 1:
        raise UnitMismatch(f"cannot add {', '.join(sorted(units))}: {', '.join(parts)}")
    total = _as_value(sum(number.value for number in numbers))
    return Derived(value=total, unit=numbers[0].unit, law=SUM, inputs=dict(parts))


def choose(items: Sequence[Number], axis: int, why: str = "") -> Number:
    """Return numbers set side by side along an axis: 0 case, 1 band, 2 mount; one number stands for itself.

    Every item must be single along that axis.
    """
    if len(set(map(id, items))) == 1:
        return items[0]
    values = [item.value for item in items]
    if set(map(type, values)) == {float}:
        shape = [1, 1, 1]
        shape[axis] = len(items)
        flat = np.array(values).reshape(shape)
        return Chosen(value=flat, unit=items[0].unit, axis=axis, items=tuple(items), why=why)
    arrays = [np.asarray(item.value, dtype=float) for item in items]
    arrays = [a.reshape((1,) * (3 - a.ndim) + a.shape) for a in arrays]
    shapes = np.broadcast_shapes(*(a.shape for a in arrays))
    arrays = [np.broadcast_to(a, shapes) for a in arrays]
    return Chosen(
        value=np.concatenate(arrays, axis=axis), unit=items[0].unit, axis=axis, items=tuple(items), why=why
    )


def at(number: Number, index: tuple[int, int, int]) -> float:
    """Return the number's value at one (case, band, mount), axes of length one standing for all."""
    value = number.value
    if isinstance(value, float) or value.ndim == 0:
        return float(value)
    places = zip(index[3 - value.ndim :], value.shape, strict=True)
    return float(value[tuple(min(i, n - 1) for i, n in places)])


def given(value: Value, unit: str, basis: Basis, title: str, place: str = "") -> Given:
    """Return a number with its source."""
    return Given(value=value, unit=unit, source=Source(basis=basis, title=title, place=place))


@lru_cache(maxsize=4096)  # one job is assessed again and again while its assumptions are weighed
def typed(value: float, unit: str, place: str) -> Given:
    """Return a number that the person typed at that place of the job."""
    return given(value, unit, "typed", "typed in the job", place)


def definition(value: Value, unit: str, title: str) -> Given:
    """Return a number that is exact by definition."""
    return given(value, unit, "definition", title)
