"""The sources of values that an answer rests on, each with what it gives."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from staydown.assess import ItemAssessment
from staydown.foundation.counted import counted
from staydown.foundation.numbers import Basis, Number
from staydown.foundation.walk import givens

BASES: tuple[Basis, ...] = ("published", "typed")  # of what was assumed the sources stand in its own table


def sources(items: Sequence[ItemAssessment]) -> list[dict[str, Any]]:
    """Return the sources that values rest on, each with what it gives."""
    found: dict[Basis, dict[str, dict[str, None]]] = {basis: {} for basis in BASES}
    typed: set[str] = set()
    for assessed in items:
        for number in givens(*_numbers(assessed)):
            source = number.source
            if source.basis == "typed":
                typed.add(source.place)
            if source.basis in BASES and not (
                source.basis == "typed" and source.title.startswith("typed in")
            ):
                name = source.place.rsplit(".", 1)[-1].replace("_", " ") or "a constant"
                found[source.basis].setdefault(source.title, {})[name] = None
    told = [
        f"{source}: {', '.join(sorted(names))}"
        for basis in BASES
        for source, names in sorted(found[basis].items())
    ]
    count = counted(len(typed), "value was", "values were")
    note = f"{count} typed in the job; sources of assumptions and formulas stand beside them"
    return [{"title": "Sources of values", "items": [*told, note]}]


def _numbers(assessed: ItemAssessment) -> list[Number]:
    mounted = assessed.mounted
    if mounted is None:
        return []
    parts = [number for part in mounted.table.parts for number in (*part.force, *part.at, part.factor)]
    cases = [number for case in mounted.table.cases for number in (case.lasts, case.bond_temperature)]
    links = [link.link.strength for link in mounted.chain if link.link.strength is not None]
    held = [mounted.retention.proposal.line_needed, mounted.retention.proposal.anchor_needed]
    return [mounted.checks.use, mounted.demands.line_load, mounted.content, *parts, *cases, *links, *held]
