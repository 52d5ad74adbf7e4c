"""The trail of a number: down from a result to what somebody typed or published."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.numbers import Chosen, Derived, Given, Number, at
from staydown.foundation.quantities import shown
from staydown.job.written import Written
from staydown.outputs.held_trail import held_numbers
from staydown.outputs.movement_trail import movement_numbers
from staydown.outputs.trail_path import PARTS, SEPARATOR, Names, find_path
from staydown.spread.build_bow import BOWS_IN
from staydown.verdict.checks import HIGH

Index = tuple[int, int, int]
ONLY_SOAK = (
    *("thermal strain", "longest foot", "thermal shear stress", "stress of a gap pressed shut"),
    *("use of the strain", "use of the bond"),
)
BOTH = ("bond temperature", "use")
FOOT_m = 0.3048  # exact by definition
LONG_m = 10.0  # no longer told in millimetres and inches
LONG_TRAIL = 60  # lines; a longer one is told how to be shortened
COLDEST_K = 173.15  # no temperature of a job lies below; less than that is a difference of two


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail:
    """One number that can be asked for: its path and where in the arrays it stands."""

    names: Names
    number: Number
    index: Index

    @property
    def path(self) -> str:
        """Return the path as a person types it."""
        return SEPARATOR.join(self.names)


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
                yield Trail(names=(*head, "all", name), number=number, index=(case_number, HIGH, 0))
        for mount, mount_name in enumerate(mounted.demands.mounts):
            own = {one.name: one.number for one in beside if one.each_mount}
            for name, number in (each | own).items():
                heat = case.family == "soak"
                bows = mounted.demands.bow is not None and case.name == BOWS_IN
                if heat == (name in ONLY_SOAK) or bows or name in BOTH or name in own:
                    yield Trail(
                        names=(*head, mount_name, name),
                        number=number,
                        index=(case_number, HIGH, mount),
                    )
    for link in mounted.chain:
        if link.link.strength is not None:
            index = (link.case, HIGH, mounted.demands.mounts.index(link.link.mount))
            head = [item.item.name, "chain", "all", link.link.mount]
            yield Trail(
                names=(*head, f"{link.link.part} strength"),
                number=link.link.strength,
                index=index,
            )
            yield Trail(names=(*head, f"{link.link.part} demand"), number=link.demand, index=index)
    for names, number, index in (*held_numbers(mounted), *movement_numbers(mounted)):
        yield Trail(names=(item.item.name, *names), number=number, index=index)


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
    """Return the one number that WHAT names; each part may be shortened or left out as long as it stays single.

    Raises
    ------
    UnknownTrail
        No number has that path, or several have.
    """
    found = list(trails(assessment))
    deciding = [_deciding(item, item.mounted) for item in assessment.items if item.mounted is not None]
    return found[find_path([trail.names for trail in found], what, deciding)]


def _deciding(item: ItemAssessment, mounted: Mounted) -> Names:
    """Return the names of the use that governs an item."""
    top = mounted.governing
    case = mounted.table.cases[top.case]
    return (item.item.name, case.name, case.exposure.season, mounted.demands.mounts[top.mount], "use")


def trail_text(trail: Trail, written: Written, width: int = 80, depth: int | None = None) -> str:
    """Return the trail as indented lines, each number with its law or its source, repeated branches named once.

    depth: levels that are shown, the number itself the first; None shows all. What is left out is counted.
    """
    lines = [trail.path]
    walk = _Walk(written=written, deepest=depth)
    for level, text in walk.lines(trail.number, trail.index, 1, ""):
        pad = "  " * min(level, 12)
        lines += textwrap.wrap(
            text, width, initial_indent=pad, subsequent_indent=pad + "      ", break_long_words=False
        ) or [pad]
    left = len(walk.below - walk.seen.keys())
    if depth is not None and left:
        told = (
            f"Left out below: {left} number{'s' if left > 1 else ''} that lines with ... are made of. "
            f"--depth {depth + 1} shows one level more; without --depth all are shown."
        )
        lines += ["", *textwrap.wrap(told, width)]
    elif len(lines) > LONG_TRAIL:
        lines += ["", *textwrap.wrap(f"{len(lines)} lines. --depth 3 shows the first levels alone.", width)]
    return "\n".join(lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Walk:
    """One way down a trail. seen: what stands in a line; below: what lies deeper than is shown."""

    written: Written
    deepest: int | None
    seen: dict[tuple[int, Index], str] = field(default_factory=dict)
    below: set[tuple[int, Index]] = field(default_factory=set)

    def lines(self, number: Number, index: Index, level: int, name: str) -> Iterator[tuple[int, str]]:
        number = _chosen(number, index)
        value = value_text(number, index)
        label = f"{name} = " if name else ""
        if isinstance(number, Given):
            self.seen[id(number), index] = ""
            yield level, f"{label}{value} <- {source_text(number, self.written)}"
            return
        law = number.law
        if (id(number), index) in self.seen:
            yield level, f"{label}{value} = {law.name} (as above)"
            return
        self.seen[id(number), index] = law.name
        cut = level == self.deepest and bool(number.inputs)
        yield (
            level,
            f"{label}{value} = {law.name}: {law.equation or law.method} [{law.source}]{' ...' if cut else ''}",
        )
        letters = {parameter: letter for letter, parameter in law.symbols.items()}
        for parameter, child in number.inputs.items():
            if cut:
                self.leave_out(child, index)
            else:
                yield from self.lines(child, index, level + 1, letters.get(parameter, parameter))

    def leave_out(self, number: Number, index: Index) -> None:
        """Count a number that is not shown, and all that it is made of."""
        waiting = [number]
        while waiting:
            one = _chosen(waiting.pop(), index)
            if (id(one), index) not in self.below:
                self.below.add((id(one), index))
                waiting += one.inputs.values() if isinstance(one, Derived) else ()


def _chosen(number: Number, index: Index) -> Given | Derived:
    """Return a number itself, or which of several stands at that place."""
    while isinstance(number, Chosen):
        number = number.items[min(index[number.axis], len(number.items) - 1)]
    return number


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
    if number.unit == "m" and abs(value) >= LONG_m:
        return f"{plain} ({value / FOOT_m:.6g} ft)"
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


def trail_json(trail: Trail, written: Written, depth: int | None = None) -> dict[str, Any]:
    """Return the trail as nested dictionaries in SI units; what lies below a depth has its names in `left_out`."""
    return {
        "format": "staydown-explain-1",
        "what": trail.path,
        "number": _node(trail.number, trail.index, written, depth),
    }


def _node(number: Number, index: Index, written: Written, levels: int | None) -> dict[str, Any]:
    number = _chosen(number, index)
    value = at(number, index)
    node: dict[str, Any] = {"value": None if np.isnan(value) else value, "unit": number.unit}
    if isinstance(number, Derived):
        law = number.law
        node["law"] = {"name": law.name, "equation": law.equation or None, "method": law.method or None}
        node["law"] |= {"source": law.source}
        if levels == 1 and number.inputs:
            return node | {"inputs": {}, "left_out": list(number.inputs)}
        less = None if levels is None else levels - 1
        node["inputs"] = {key: _node(child, index, written, less) for key, child in number.inputs.items()}
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
    parts: dict[str, dict[str, None]] = {name: {} for name in PARTS}
    for trail in trails(assessment):
        for name, word in zip(parts, trail.names, strict=True):
            parts[name][word] = None
    return {name: list(words) for name, words in parts.items()}


def list_text(names: Mapping[str, list[str]], width: int = 80) -> str:
    """Return what can be asked for as wrapped lines, one block a part of the path."""
    lines = ["Ask for item/case/season/mount/quantity; each part may be shortened or left out.", ""]
    for part, words in names.items():
        lines += textwrap.wrap(
            "; ".join(words), width, initial_indent=f"{part:<10}", subsequent_indent=" " * 10
        )
    first = [words[0] for words in names.values()] if all(names.values()) else []
    if first:
        lines += ["", f'For example: staydown explain JOB "{SEPARATOR.join(first)}"']
    return "\n".join(lines)
