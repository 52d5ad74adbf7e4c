"""The trail of a number: down from a result to what somebody typed or published."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.errors import UnknownTrail
from staydown.foundation.numbers import Chosen, Derived, Given, Number, at
from staydown.foundation.quantities import shown
from staydown.job.written import Written
from staydown.outputs.held_trail import held_numbers
from staydown.outputs.movement_trail import movement_numbers
from staydown.spread.build_bow import BOWS_IN
from staydown.verdict.checks import HIGH

Index = tuple[int, int, int]
SEPARATOR = "/"
ONLY_SOAK = (
    *("thermal strain", "longest foot", "thermal shear stress", "stress of a gap pressed shut"),
    *("use of the strain", "use of the bond"),
)
BOTH = ("bond temperature", "use")
COLDEST_K = 173.15  # no temperature of a job lies below; less than that is a difference of two


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail:
    """One number that can be asked for: its path and where in the arrays it stands."""

    path: str
    number: Number
    index: Index


def trails(assessment: Assessment) -> Iterator[Trail]:
    """Yield every number that can be asked for, as item/case/season/mount/quantity."""
    for item in assessment.items:
        if item.mounted is not None:
            yield from _of_item(item, item.mounted)


def _of_item(item: ItemAssessment, mounted: Mounted) -> Iterator[Trail]:
    whole = _whole_case(mounted)
    each = _each_mount(mounted)
    for case_number, case in enumerate(mounted.table.cases):
        head = [item.item.name, case.name, case.exposure.season]
        parts = {
            f"{part.name} F{axis}": component
            for part in mounted.table.parts
            if part.acts[case_number]
            for axis, component in zip("xyz", part.force, strict=True)
        }
        details: dict[str, Number] = {
            "lasts": case.lasts,
            "air temperature": case.air_temperature,
            "bond temperature": case.bond_temperature,
            "air density": case.air_density,
            "air speed": case.air_speed,
        }
        beside = [one for one in mounted.table.beside if case_number in one.cases]
        details |= {one.name: one.number for one in beside if not one.each_mount}
        for name, number in (details | parts | whole).items():
            if case.family != "soak" or name in details:
                yield Trail(
                    path=SEPARATOR.join([*head, "all", name]), number=number, index=(case_number, HIGH, 0)
                )
        for mount, mount_name in enumerate(mounted.demands.mounts):
            own = {one.name: one.number for one in beside if one.each_mount}
            for name, number in (each | own).items():
                heat = case.family == "soak"
                bows = mounted.demands.bow is not None and case.name == BOWS_IN
                if heat == (name in ONLY_SOAK) or bows or name in BOTH or name in own:
                    yield Trail(
                        path=SEPARATOR.join([*head, mount_name, name]),
                        number=number,
                        index=(case_number, HIGH, mount),
                    )
    for link in mounted.chain:
        if link.link.strength is not None:
            index = (link.case, HIGH, mounted.demands.mounts.index(link.link.mount))
            head = [item.item.name, "chain", "all", link.link.mount]
            yield Trail(
                path=SEPARATOR.join([*head, f"{link.link.part} strength"]),
                number=link.link.strength,
                index=index,
            )
            yield Trail(
                path=SEPARATOR.join([*head, f"{link.link.part} demand"]), number=link.demand, index=index
            )
    for names, number, index in (*held_numbers(mounted), *movement_numbers(mounted)):
        yield Trail(path=SEPARATOR.join([item.item.name, *names]), number=number, index=index)


def _whole_case(mounted: Mounted) -> dict[str, Number]:
    table = mounted.table
    return {
        **{f"force F{axis}": number for axis, number in zip("xyz", table.force, strict=True)},
        **{f"moment M{axis}": number for axis, number in zip("xyz", table.moment, strict=True)},
    }


def _each_mount(mounted: Mounted) -> dict[str, Number]:
    demands, checks = mounted.demands, mounted.checks
    return {
        **{f"force F{axis}": number for axis, number in zip("xyz", demands.force, strict=True)},
        **{f"moment M{axis}": number for axis, number in zip("xyz", demands.moment, strict=True)},
        "mean tension": demands.mean_tension,
        "peak tension": demands.peak_tension,
        "shear": demands.shear,
        "line load": demands.line_load,
        "edge stress of a bending foot": demands.edge_stress,
        "line load that peels": demands.peel,
        "lambda L of the foot": demands.feet.number,
        "length pulled under the foot": demands.feet.pulled,
        "thickness of a rigid foot": demands.feet.rigid_from,
        "moment in the foot": demands.foot_moment,
        "shear peak over mean": demands.lap.factor,
        "shear at the worse end": checks.sheared,
        "shear at the other end": checks.relieved,
        "proven peel": checks.peel_proven,
        "use in peel": checks.peel_use,
        "proven tension": checks.tension_proven,
        "proven shear": checks.shear_proven,
        "bond temperature": mounted.table.temperatures,
        "thermal strain": mounted.thermal.strain,
        "longest foot": mounted.thermal.longest_foot,
        "thermal shear stress": mounted.thermal.stress,
        "stress of a gap pressed shut": mounted.thermal.fit_stress,
        "use of the strain": checks.strain_use,
        "use of the bond": checks.bond_use,
        "use": checks.use,
    }


def find_trail(assessment: Assessment, what: str) -> Trail:
    """Return the one number that WHAT names; each part may be shortened as long as it stays single.

    Raises
    ------
    UnknownTrail
        No number has that path, or several have.
    """
    wanted = [part.strip().lower() for part in what.split(SEPARATOR)]
    if len(wanted) != 5:
        raise UnknownTrail(
            f"WHAT is item/case/season/mount/quantity, each part shortenable; {what!r} has {len(wanted)} of 5 parts"
        )
    found = [(trail, trail.path.lower().split(SEPARATOR)) for trail in trails(assessment)]
    for number, word in enumerate(wanted):
        exact = [pair for pair in found if pair[1][number] == word]
        kept = exact or [pair for pair in found if pair[1][number].startswith(word)]
        kept = kept or [pair for pair in found if _initials(pair[1][number], word)]
        names = list(dict.fromkeys(pair[1][number] for pair in found))
        if not kept:
            raise UnknownTrail(f"nothing is called {word!r} in {what!r}; there are: {', '.join(names)}")
        left = list(dict.fromkeys(pair[1][number] for pair in kept))
        if len(left) > 1:
            raise UnknownTrail(f"{word!r} in {what!r} could be: {', '.join(left)}")
        found = kept
    return found[0][0]


def _initials(name: str, word: str) -> bool:
    """Return whether the words of a name start with the words asked for: `fr le` for `front left`."""
    names, words = name.split(), word.split()
    return len(words) == len(names) > 1 and all(n.startswith(w) for n, w in zip(names, words, strict=True))


def trail_text(trail: Trail, written: Written, width: int = 80) -> str:
    """Return the trail as indented lines, each number with its law or its source, repeated branches named once."""
    lines = [trail.path]
    seen: dict[tuple[int, Index], str] = {}
    for depth, text in _lines(trail.number, trail.index, written, 1, "", seen):
        pad = "  " * min(depth, 12)
        lines += textwrap.wrap(
            text, width, initial_indent=pad, subsequent_indent=pad + "      ", break_long_words=False
        ) or [pad]
    return "\n".join(lines)


def _lines(
    number: Number, index: Index, written: Written, depth: int, name: str, seen: dict[tuple[int, Index], str]
) -> Iterator[tuple[int, str]]:
    if isinstance(number, Chosen):
        which = min(index[number.axis], len(number.items) - 1)
        yield from _lines(number.items[which], index, written, depth, name, seen)
        return
    value = value_text(number, index)
    label = f"{name} = " if name else ""
    if isinstance(number, Given):
        yield depth, f"{label}{value} <- {source_text(number, written)}"
        return
    law = number.law
    key = (id(number), index)
    if key in seen:
        yield depth, f"{label}{value} = {law.name} (as above)"
        return
    seen[key] = law.name
    yield depth, f"{label}{value} = {law.name}: {law.equation or law.method} [{law.source}]"
    letters = {parameter: letter for letter, parameter in law.symbols.items()}
    for parameter, child in number.inputs.items():
        yield from _lines(child, index, written, depth + 1, letters.get(parameter, parameter), seen)


def value_text(number: Number, index: Index) -> str:
    """Return one number in SI and as people read it."""
    values = np.asarray(number.value, dtype=float)
    value = at(number, index)
    if np.isnan(value):
        return "not known"
    plain = f"{value:.6g}" + ("" if number.unit == "1" else f" {number.unit}")
    difference = number.unit == "K" and value < COLDEST_K
    if number.unit in ("1", "Nm/rad", "s") or values.size == 0 or difference:
        return plain
    return f"{plain} ({shown(value, number.unit)}, {shown(value, number.unit, 'us')})"


def source_text(number: Given, written: Written) -> str:
    """Return where a number that nobody derived comes from: what was typed and where, or what was published."""
    source = number.source
    typed = written.of(source.place) if source.place else None
    if source.basis == "typed" and typed is not None:
        line = "" if typed.line is None else f":{typed.line}"
        return f"typed {typed.text!r}, {typed.file}{line}, {source.place}"
    band = ""
    if source.band is not None and source.band[0] != source.band[2]:
        low, likely, high = source.band
        band = f", band {low:g} / {likely:g} / {high:g}"
    place = f" {source.place}" if source.place else ""
    return f"{source.basis}{place}{band}: {source.title}"


def trail_json(trail: Trail, written: Written) -> dict[str, Any]:
    """Return the trail as nested dictionaries in SI units."""
    return {
        "format": "staydown-explain-1",
        "what": trail.path,
        "number": _node(trail.number, trail.index, written),
    }


def _node(number: Number, index: Index, written: Written) -> dict[str, Any]:
    if isinstance(number, Chosen):
        which = min(index[number.axis], len(number.items) - 1)
        return _node(number.items[which], index, written)
    value = at(number, index)
    node: dict[str, Any] = {"value": None if np.isnan(value) else value, "unit": number.unit}
    if isinstance(number, Derived):
        law = number.law
        node["law"] = {"name": law.name, "equation": law.equation or None, "method": law.method or None}
        node["law"] |= {"source": law.source}
        node["inputs"] = {key: _node(child, index, written) for key, child in number.inputs.items()}
        return node
    node["source"] = {
        "basis": number.source.basis,
        "title": number.source.title,
        "place": number.source.place,
    }
    typed = written.of(number.source.place) if number.source.place else None
    if typed is not None:
        node["source"] |= {"written": typed.text, "file": typed.file, "line": typed.line}
    return node


def trail_list(assessment: Assessment) -> Mapping[str, list[str]]:
    """Return what can be asked for: items, cases, seasons, mounts and quantities, each once."""
    parts: dict[str, dict[str, None]] = {name: {} for name in ("item", "case", "season", "mount", "quantity")}
    for trail in trails(assessment):
        for name, word in zip(parts, trail.path.split(SEPARATOR), strict=True):
            parts[name][word] = None
    return {name: list(words) for name, words in parts.items()}


def list_text(names: Mapping[str, list[str]], width: int = 80) -> str:
    """Return what can be asked for as wrapped lines, one block a part of the path."""
    lines = ["Ask for item/case/season/mount/quantity; each part may be shortened.", ""]
    for part, words in names.items():
        lines += textwrap.wrap(
            "; ".join(words), width, initial_indent=f"{part:<10}", subsequent_indent=" " * 10
        )
    first = [words[0] for words in names.values()] if all(names.values()) else []
    if first:
        lines += ["", f'For example: staydown explain JOB "{SEPARATOR.join(first)}"']
    return "\n".join(lines)
