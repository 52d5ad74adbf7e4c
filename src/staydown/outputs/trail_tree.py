"""The trail of a number as a tree for a page: each node a value, what it is, its equation and source."""

from __future__ import annotations

from typing import Any

from staydown.foundation.numbers import Chosen, Given, Number
from staydown.job.written import Written
from staydown.outputs.trail import Index, Trail, source_text, value_text


def trail_tree(trail: Trail, written: Written) -> dict[str, Any]:
    """Return the trail as nested nodes: name, value, what, equation, source, inputs; a repeated branch stands once."""
    return _node("", trail.number, trail.index, written, set())


def _node(
    name: str, number: Number, index: Index, written: Written, seen: set[tuple[int, Index]]
) -> dict[str, Any]:
    if isinstance(number, Chosen):
        which = min(index[number.axis], len(number.items) - 1)
        return _node(name, number.items[which], index, written, seen)
    node: dict[str, Any] = {"name": name, "value": value_text(number, index)}
    if isinstance(number, Given):
        return node | {"what": source_text(number, written)}
    law = number.law
    node |= {"what": law.name.replace("_", " ")}
    if (id(number), index) in seen:
        return node | {"source": "as above"}
    seen.add((id(number), index))
    letters = {parameter: letter for letter, parameter in law.symbols.items()}
    return node | {
        "equation": law.equation or law.method,
        "source": law.source,
        "inputs": [
            _node(letters.get(parameter, parameter.replace("_", " ")), child, index, written, seen)
            for parameter, child in number.inputs.items()
        ],
    }
