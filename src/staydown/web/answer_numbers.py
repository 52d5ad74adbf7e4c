"""The numbers behind the answer's pictures and sentences, each as a button that opens its trail."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import isfinite

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.chain import PARTS
from staydown.foundation.numbers import Number, at
from staydown.foundation.quantities import lasting
from staydown.outputs import dossier_pictures
from staydown.outputs.amounts import amount, case_name, length, percent
from staydown.outputs.demand_causes import demand_falls
from staydown.outputs.held_trail import held_numbers
from staydown.outputs.most_used import Pick, heat_case
from staydown.verdict.checks import HIGH
from staydown.web.sheet import Node, el, stacked, why

LEAST_SHOWN_N = 0.5
DIRECTIONS = (("forward", "rearward"), ("to the left", "to the right"), ("up", "down"))


def said(value: float, unit: str, system: str) -> str:
    """Return a number as a person reads it: a share in per cent, a time in its own unit, all else in both systems."""
    if not isfinite(value):
        return "not known" if value != value else "without end"
    if unit == "1":
        return percent(value)
    if unit == "s":
        return lasting(value)
    return length(value, system) if unit == "m" else amount(value, unit, system)


def acting(assessed: ItemAssessment, mounted: Mounted, case: int, system: str) -> Node:
    """Return what acts on the item in a case, before its load factor, and the air that it comes from."""
    row = mounted.table.cases[case]
    head = f"{assessed.item.name}/{row.name}/{row.exposure.season}/all/"
    rows = []
    for part in mounted.table.parts:
        if not part.acts[case]:
            continue
        for axis, number, words in zip("xyz", part.force, DIRECTIONS, strict=True):
            force = at(number, (case, HIGH, 0))
            if abs(force) < LEAST_SHOWN_N:
                continue
            name = f"{part.name}, {words[force < 0.0]}"
            rows.append((name, amount(abs(force), "N", system), f"{head}{part.name} F{axis}"))
    details = (
        ("air past it", row.air_speed),
        ("air density", row.air_density),
        ("air temperature", row.air_temperature),
        ("it lasts", row.lasts),
    )
    paths = ("air speed", "air density", "air temperature", "lasts")
    for (name, number), path in zip(details, paths, strict=True):
        value = at(number, (case, HIGH, 0))
        if path != "air speed" or value > 0.0:
            rows.append((name, said(value, number.unit, system), head + path))
    return _folded(f"What acts on {assessed.item.name} in {case_name(row)}", [_pairs(rows)])


def step_numbers(assessment: Assessment, assessed: ItemAssessment, mounted: Mounted, found: Pick) -> Node:
    """Return the steps of both falls in words, each with the number that it is read off: for who cannot point."""
    system, case = assessment.job.job.show, mounted.table.cases[found.case]
    head = f"{assessed.item.name}/{case.name}/{case.exposure.season}/"
    index = (found.case, HIGH, found.mount)
    demand = demand_falls(assessment, assessed, mounted, found)
    strength = dossier_pictures.strength_falls(assessment, mounted, found)
    rows = []
    for side, steps in (("demand", demand), ("strength", strength)):
        for step in steps:
            value = amount(abs(step.high_Pa), "Pa", system)
            part = "" if step.whole else "+" if step.high_Pa >= 0.0 else "\u2212"
            read_off: Node | str = "\u2013"
            if step.number is not None:
                who, _, quantity = step.trail.rpartition("/")
                place = (*index[:2], 0) if who == "all" else index
                label = f"{quantity}, for {step.what}"
                read_off = _asked(step.number, place, head + step.trail, label, system)
            rows.append((f"{side}: {step.what}", [part + value, read_off]))
    return _folded("The steps in numbers", [_table(("step", "adds or leaves", "read off"), rows)])


def chain_numbers(assessed: ItemAssessment, mounted: Mounted, system: str) -> Node | None:
    """Return what each part of the chain is asked for and holds, at the mount where it is used most or not known."""
    rows = []
    worst = [dossier_pictures.worst_link(mounted.chain, part) for part in PARTS]
    for link in (one for one in worst if one is not None):
        head = f"{assessed.item.name}/chain/all/{link.link.mount}/{link.link.part} "
        asked, holds = amount(link.demand_N, "N", system), "not known"
        if link.strength_N is not None:
            holds = amount(link.strength_N, "N", system)
        known = link.link.strength is not None
        label = f"{link.link.part} at {link.link.mount}"
        cells = [
            why(asked, head + "demand", label=f"asked of {label}") if known else asked,
            why(holds, head + "strength", label=f"held by {label}") if known else holds,
            percent(link.use) if link.use is not None else "not known",
        ]
        rows.append((f"{link.link.part}, {link.link.mount}", cells))
    if not rows:
        return None
    return _folded(
        "What each link is asked for, where it is used most",
        [_table(("link", "is asked for", "holds", "use"), rows)],
    )


def held_table(
    assessed: ItemAssessment,
    mounted: Mounted,
    wanted: Callable[[str], bool],
    head: str,
    title: str,
    system: str,
) -> Node | None:
    """Return the numbers of lost mounts, tethers, opened edges or shared pulls as a table; None where there are none.

    wanted: which groups, by their name in a trail's path. head: what a row is.
    """
    rows: dict[str, dict[str, Node | str]] = {}
    columns: dict[str, None] = {}
    for (name, season, who, quantity), number, index in held_numbers(mounted):
        if not wanted(name):
            continue
        row = name if name.endswith("opened") else "for all" if who == "all" else who
        path = "/".join([assessed.item.name, name, season, who, quantity])
        columns[quantity] = None
        rows.setdefault(row, {})[quantity] = _asked(number, index, path, f"{quantity}, {row}", system)
    if not rows:
        return None
    cells = [(row, [found.get(column, "–") for column in columns]) for row, found in rows.items()]
    return _folded(title, [_table((head, *columns), cells)])


def heat_cell(assessed: ItemAssessment, mounted: Mounted, mount: int) -> Node | str:
    """Return what heat and cold alone use of a mount, with its trail."""
    case = heat_case(mounted, mount)
    if case is None:
        return "–"
    row, name = mounted.table.cases[case.case], mounted.demands.mounts[mount]
    path = f"{assessed.item.name}/{row.name}/{row.exposure.season}/{name}/use"
    return why(percent(case.use), path, label=f"heat and cold alone at {name}")


def _asked(number: Number, index: tuple[int, int, int], path: str, label: str, system: str) -> Node | str:
    return why(said(at(number, index), number.unit, system), path, label=label)


def _pairs(rows: Iterable[tuple[str, str, str]]) -> Node:
    told = [
        el("div", el("dt", words), el("dd", why(value, path, label=words))) for words, value, path in rows
    ]
    return el("dl", told, class_="numbers narrow")


def _table(heads: tuple[str, ...], rows: Iterable[tuple[str, list[Node | str]]]) -> Node:
    body = [
        el("tr", el("th", name, scope="row"), [el("td", cell, class_="n") for cell in cells], key=name)
        for name, cells in rows
    ]
    return stacked(heads, body, class_="many")


def _folded(title: str, inside: list[Node]) -> Node:
    """Return numbers folded away under their title."""
    return el("details", el("summary", title), inside, key=title, class_="numbers-of")
