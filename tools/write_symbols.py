"""Write docs/symbols.md: every letter of every printed equation, its meaning, its unit, where it stands."""

from __future__ import annotations

import importlib
import pkgutil
import sys
from pathlib import Path

import staydown
from staydown.foundation.law import LAWS, Law
from staydown.foundation.quantities import key_of, quantity_of

PAGE = Path(__file__).parents[1] / "docs" / "symbols.md"
INTRODUCTION = """# Symbols

Letters stand only inside printed equations; everywhere else a thing has its whole name. Axes are those of
ISO 8855: x forward, y left, z up, from the item's centre on the plane of the pads; a force on a mount is what
the item puts on it, +z pulling away from the roof. A quantity without a unit is a pure number.

A letter may mean different things in different laws; the last column says in which it means what. This page
is written by `make docs` from the laws themselves, and a test fails when it is stale.

| letter | meaning | unit | in |
|---|---|---|---|
"""


def shown(unit: str) -> str:
    """Return an SI unit as a page prints it, nothing for a pure number."""
    return "" if unit == "1" else unit.translate(str.maketrans("234", "²³⁴"))


def laws() -> list[tuple[str, Law]]:
    """Return the full name and the facts of every law of the package."""
    for module in pkgutil.walk_packages(staydown.__path__, "staydown."):
        if module.name.endswith("_laws"):
            importlib.import_module(module.name)
    return [(name, facts) for name, (facts, _) in sorted(LAWS.items()) if name.startswith("staydown.")]


def meanings(facts: Law) -> list[tuple[str, str, str]]:
    """Return (letter, meaning, unit) of everything that a law's equation shows, its result first."""
    if not facts.equation:
        return []
    result = (facts.equation.partition(" = ")[0], facts.name.replace("_", " "), facts.unit)
    return [
        result,
        *(
            (letter, key_of(parameter).replace("_", " "), quantity_of(parameter).unit)
            for letter, parameter in facts.symbols.items()
        ),
    ]


def page() -> str:
    """Return the whole page."""
    used: dict[tuple[str, str, str], list[str]] = {}
    for name, facts in laws():
        for meaning in meanings(facts):
            used.setdefault(meaning, []).append(f"{name.split('.')[1]}.{facts.name}")
    rows = [
        f"| `{letter}` | {words} | {shown(unit)} | {', '.join(sorted(set(places)))} |"
        for (letter, words, unit), places in sorted(used.items(), key=lambda row: (row[0][0].lower(), row[0]))
    ]
    return INTRODUCTION + "\n".join(rows) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stderr.write(f"wrote {PAGE}\n")
