"""The formulas of a dossier: printed form, the value of each letter, the result; a test works each out again."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

from staydown.assess import ItemAssessment
from staydown.foundation.law import LAWS
from staydown.foundation.quantities import shown
from staydown.outputs.amounts import NOT_KNOWN, case_name
from staydown.outputs.blocks import Block, heading, paragraph
from staydown.outputs.dossier_sources import sources
from staydown.outputs.most_used import worst_in_tension
from staydown.outputs.printed_math import letter, typeset
from staydown.outputs.used_formulas import Used, used_formulas
from staydown.verdict.checks import HIGH

DIGITS = 6  # of a printed value: enough to come to the printed result with a pocket calculator
SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
UNITS = {
    "1": "",
    "m2": "m²",
    "m3": "m³",
    "m4": "m⁴",
    "Nm": "N m",
    "kg/m3": "kg/m³",
    "m/s2": "m/s²",
    "W/m2": "W/m²",
}
UNITS |= {"W/m2K": "W/(m² K)", "W/mK": "W/(m K)", "J/m2K": "J/(m² K)", "Nm/rad": "N m/rad", "m2/s": "m²/s"}
UNITS |= {"K m2/W": "K m²/W", "N/m3": "N/m³", "Nm2": "N m²", "kgm2": "kg m²"}
ROOMS = {
    "loads": "What pulls on it, and how warm it is",
    "spread": "Which foot carries how much",
    "strength": "What the bond is proven to carry",
    "evidence": "What the bond is proven to carry",
    "verdict": "Does it stay on",
    "retention": "What catches it",
}
HOMES = {"belief_lower_bound": "strength"}
IN_PEOPLE = ("N", "Pa", "m/s", "K")  # units that people read in another size


def formula_pages(items: Sequence[ItemAssessment], system: str) -> list[Block]:
    """Return every formula that the items' answers went through, once, with the numbers of the first item's worst foot.

    items: worst first; a law that only a later item uses is shown with that item's numbers.
    """
    found: dict[str, Used] = {}
    told = ""
    for assessed in items:
        if assessed.mounted is None:
            continue
        worst = worst_in_tension(assessed.mounted)
        if not told:
            mount, case = (
                assessed.mounted.demands.mounts[worst.mount],
                assessed.mounted.table.cases[worst.case],
            )
            told = (
                f"Where a formula is used there, with the numbers of {assessed.item.name}, {mount}, {case_name(case)}, "
                "at the high band. "
            )
        for used in used_formulas(assessed.mounted, (worst.case, HIGH, worst.mount)):
            found.setdefault(used.law.name, used)
    if not found:
        return []
    homes = {facts.name: name.split(".")[1] for name, (facts, _) in LAWS.items()}
    groups: dict[str, list[Used]] = {title: [] for title in ROOMS.values()}
    for used in found.values():
        home = homes.get(used.law.name, HOMES.get(used.law.name, "spread"))
        groups[ROOMS[home]].append(used)
    words = (
        f"{told}SI units, six digits. What is printed is what the program computes: a test works each out again. "
        "Any other number: `staydown explain`."
    )
    return [
        heading("Every formula used, with its numbers", 1),
        paragraph(words, "note"),
        {
            "kind": "formulas",
            "groups": [
                {"title": title, "formulas": formulas(mine, system)} for title, mine in groups.items() if mine
            ],
            "after": sources(items),
        },
    ]


def formulas(used: Iterable[Used], system: str) -> list[dict[str, Any]]:
    """Return formulas as plain values; procedures that share one method are one entry."""
    told: list[dict[str, Any]] = []
    by_method: dict[str, dict[str, Any]] = {}
    for one in used:
        result = _result(one, system)
        if not one.law.equation:
            entry = by_method.get(one.law.method)
            if entry is None:
                entry = {
                    "name": _words(one.law.name),
                    "method": one.law.method,
                    "source": one.law.source,
                    "results": [],
                }
                by_method[one.law.method] = entry
                told.append(entry)
            else:
                entry["name"] += f", {_words(one.law.name)}"
            entry["results"].append(result)
            continue
        told.append(
            {
                "name": _words(one.law.name),
                "equation": one.law.equation,
                "typeset": typeset(one.law.equation),
                "values": [
                    {
                        "letter": name,
                        "symbol": letter(name),
                        "shown": digits(value),
                        "unit": unit(one.units[name]),
                    }
                    for name, value in one.values.items()
                ],
                "result": result,
                "source": _source(one.law.source),
            }
        )
    return told


def _source(source: str) -> str:
    """Return where a formula is written; what is so by definition needs no more words than that."""
    return "definition" if source.startswith("definition") else source


def _result(one: Used, system: str) -> dict[str, str]:
    name = one.law.equation.partition(" = ")[0]
    people = ""
    if (
        math.isfinite(one.result)
        and one.law.unit in IN_PEOPLE
        and not (one.law.unit == "K" and name.startswith("d"))
    ):  # a difference stays in K
        people = shown(one.result, one.law.unit, system)
    return {
        "letter": name,
        "symbol": letter(name) if name else _words(one.law.name),
        "shown": digits(one.result),
        "unit": unit(one.law.unit),
        "people": people,
    }


def _words(name: str) -> str:
    return name.replace("_", " ")


def unit(si: str) -> str:
    """Return an SI unit as it is printed."""
    return UNITS.get(si, si)


def digits(value: float) -> str:
    """Return a value with six digits that count, its power of ten written out.

    Examples
    --------
    >>> digits(771.3782345), digits(-2.4e-05), digits(7e8), digits(0.0)
    ('771.378', '−2.4×10⁻⁵', '7×10⁸', '0')
    """
    if not math.isfinite(value):
        return NOT_KNOWN
    text = f"{value:.{DIGITS}g}"
    number, _, exponent = text.partition("e")
    number = number.replace("-", "−")
    return f"{number}×10{str(int(exponent)).translate(SUPERSCRIPT)}" if exponent else number
