"""Laws: one equation each, with unit, printed form, symbols and source pinned to a plain function."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

_F = TypeVar("_F", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True, kw_only=True)
class Law:
    """The facts of a law: what the report prints and a test evaluates against the code.

    equation: the printed form, evaluated by a test; empty where `method` names a procedure instead.
    symbols: letter -> parameter. source: publication, definition, or "common practice, no source".
    """

    name: str
    unit: str
    equation: str
    symbols: Mapping[str, str]
    source: str
    method: str = ""


LAWS: dict[str, tuple[Law, Callable[..., Any]]] = {}


def law(
    *,
    unit: str,
    source: str,
    equation: str = "",
    symbols: Mapping[str, str] | None = None,
    method: str = "",
) -> Callable[[_F], _F]:
    """Return a decorator that pins facts to a law and leaves the function as it is.

    Parameters
    ----------
    unit : str
        SI unit of the result; "1" for a pure number.
    equation : str
        Printed form, such as `q = 0.5 * rho * v**2`; or give `method` for a table or a procedure.
    symbols : mapping
        Letter of the equation to parameter of the function.
    source : str
        Where the law is written.
    method : str
        Name of the procedure where no closed equation can be printed.

    Raises
    ------
    ValueError
        Neither or both of equation and method are given, or a symbol names no parameter.
    """

    def pin(function: _F) -> _F:
        letters = dict(symbols or {})
        parameters = set(inspect.signature(function).parameters)
        if bool(equation) == bool(method) or not set(letters.values()) <= parameters:
            raise ValueError(
                f"{function.__name__}: give an equation with symbols of its parameters, or a method"
            )
        facts = Law(
            name=function.__name__,
            unit=unit,
            equation=equation,
            symbols=letters,
            source=source,
            method=method,
        )
        LAWS[f"{function.__module__}.{function.__name__}"] = (facts, function)
        function.__law__ = facts  # type: ignore[attr-defined]
        return function

    return pin


def law_facts(function: Any) -> Law:
    """Return the facts pinned to a law.

    Raises
    ------
    TypeError
        The function is not a law.
    """
    facts = getattr(function, "__law__", None)
    if not isinstance(facts, Law):
        raise TypeError(f"{function!r} is not a law")
    return facts
