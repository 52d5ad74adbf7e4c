"""Planning values as a person sees them: what each is, what it does to the use, one's own in its place."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from staydown.advice.assumptions import Assumption, at_value, weigh_assumptions
from staydown.advice.reworked import Reworked
from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.foundation.findings import Finding
from staydown.foundation.quantities import lasting, quantity_with_unit, suffix_with_unit
from staydown.foundation.refusals import both_units
from staydown.foundation.units import reads_as
from staydown.job.records import PlanningOverride
from staydown.library.cards import Band, Cards, PlanningValue
from staydown.outputs.card_text import band_text
from staydown.storage.edit_toml import Change, DropKey, Path, SetKey
from staydown.storage.read_planning import ENDS, Find, place_of, planning_number, read_planning
from staydown.verdict.typed_facts import with_overrides
from staydown.workbench.desk import Answer

PLANNING = "planning"
SOURCE = "source"
LONGEST_SOURCE = 300
_BARE_NUMBER = re.compile(r"[+-]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_DIGITS = 6  # of an example that can be typed as it stands


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What a planning value does to one item: the largest use at its low end, as it is, and at its high end. [1]

    use_with_library: with the library's value in place of the person's own; None where there is no own one, or where
    nothing is proven.
    """

    item: str
    use_at_low: float | None
    use_now: float | None
    use_at_high: float | None
    use_with_library: float | None = None

    @property
    def swing(self) -> float:
        """Return how far the use moves, 0 where that is not known."""
        ends = [one for one in (self.use_at_low, self.use_at_high, self.use_with_library) if one is not None]
        if self.use_now is not None and self.use_with_library is not None:
            ends.append(self.use_now)
        return max(ends) - min(ends) if len(ends) > 1 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What was weighed: every assumption of every item, and the effects of planning values by id."""

    assumptions: tuple[Assumption, ...]
    effects: Mapping[str, tuple[Effect, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanningLine:
    """One planning value as it stands.

    ends, library: low, likely and high as text, of now and of the library. decided_on: which of them counts. own: the
    job replaces it. typed: what stands in the job by low, likely, high and source. examples: the library's ends as they
    can be typed. source: of what counts now.
    """

    id: str
    what: str
    ends: tuple[str, str, str]
    library: tuple[str, str, str]
    decided_on: str
    basis: str
    source: str
    own: bool
    typed: Mapping[str, str]
    examples: tuple[str, str, str]
    effects: tuple[Effect, ...] = ()

    @property
    def swing(self) -> float:
        """Return how far it moves the use of the item that it moves most."""
        return max((one.swing for one in self.effects), default=0.0)


def weigh(answer: Answer, library: Cards) -> Weights:
    """Return what every assumption does to the use of every item; a value of one's own is weighed as well.

    Parameters
    ----------
    answer : Answer
        The job as it stands.
    library : Cards
        The library without the job's own values.
    """
    assessment = answer.assessment
    weights = weigh_assumptions(assessment, answer.facts)
    effects: dict[str, list[Effect]] = {}
    now = {one.item.name: one.mounted.governing.use for one in assessment.items if one.mounted is not None}
    for one in weights:
        if one.id in library.planning:
            effect = Effect(
                item=one.item,
                use_at_low=one.use_at_low,
                use_now=now.get(one.item),
                use_at_high=one.use_at_high,
            )
            effects.setdefault(one.id, []).append(effect)
    own = with_overrides(library, answer.job).planning
    for item in assessment.items:
        if item.mounted is None or not answer.job.planning:
            continue
        again = Reworked(assessment, answer.facts, item, item.mounted)
        for name in answer.job.planning:
            card = own[name]
            low, high = (again.use(name, at_value(card, end)) for end in (card.band.low, card.band.high))
            effect = Effect(
                item=item.item.name,
                use_at_low=low,
                use_now=again.use_now,
                use_at_high=high,
                use_with_library=again.use(name, library.planning[name]),
            )
            effects.setdefault(name, []).append(effect)
    return Weights(assumptions=weights, effects={key: tuple(held) for key, held in effects.items()})


def planning_lines(
    answer: Answer, library: Cards, text: str, weights: Weights | None
) -> tuple[PlanningLine, ...]:
    """Return every planning value of the library as the job has it, in the library's order.

    Parameters
    ----------
    text : str
        The job file.
    weights : Weights or None
        What each does; None where nobody has weighed yet.
    """
    system = answer.job.job.show
    effects = {} if weights is None else weights.effects
    table = _table(text)
    return tuple(
        _line(card, answer.job.planning.get(name), table, system, effects.get(name, ()))
        for name, card in library.planning.items()
    )


def override_changes(text: str, library: Cards, name: str, typed: Mapping[str, str]) -> tuple[Change, ...]:
    """Return the changes that put a person's own value in place of the library's.

    Parameters
    ----------
    text : str
        The job file.
    name : str
        Id of a planning value.
    typed : mapping
        low, likely, high, source as typed; the likely one alone counts for all three.

    Raises
    ------
    BadInput
        With everything that is wrong: place, value, rule.
    """
    card = library.planning.get(name)
    if card is None:
        raise BadInput([_wrong(name, "", "is no planning value", "open the page again")])
    wanted = _wanted(card, library, {key: typed.get(key, "").strip() for key in (*ENDS, SOURCE)})
    table = _table(text)
    there = place_of(table, name)
    path: Path = (PLANNING, *(there or (name,)))
    old = None if there is None else _at(table, there)
    if not (isinstance(old, dict) and isinstance(wanted, dict)):
        return (SetKey(path=path, value=wanted),)
    # key by key: comments and the form in which the table was written stay
    changes: list[Change] = [DropKey(path=(*path, key)) for key in old if key not in wanted]
    changes += [
        SetKey(path=(*path, key), value=value) for key, value in wanted.items() if old.get(key) != value
    ]
    return tuple(changes)


def library_changes(text: str, name: str) -> tuple[Change, ...]:
    """Return the changes that bring the library's value back; none where the job does not replace it."""
    there = place_of(_table(text), name)
    return () if there is None else (DropKey(path=(PLANNING, *there)),)


def echo_of_end(library: Cards, name: str, text: str) -> str:
    """Return what was read of one end, in both systems; empty for a pure number as it was typed.

    Raises
    ------
    UnreadableValue
        It cannot be.
    """
    card = library.planning[name]
    value = planning_number(card, _as_toml(card, text.strip()))
    if card.band.unit == "s":
        return lasting(value)
    if card.band.unit == "1":
        return "" if _BARE_NUMBER.fullmatch(text.strip()) else f"{value:.6g}"
    return f"{value:.4g} K" if card.band.unit == "K" else reads_as(value, card.band.unit)


def _wanted(card: PlanningValue, library: Cards, given: Mapping[str, str]) -> Any:
    """Return what the job is to hold: one value, or a table of the ends and the source.

    Raises
    ------
    BadInput
        With everything that is wrong.
    """
    filled = [key for key in ENDS if given[key]]
    found = []
    if not filled:
        example = _typed(card.band.likely, card.band.unit, "metric")
        hint = f"such as {example}; one value alone counts for all three"
        found.append(_wrong(f"{card.id}.likely", "", "must be given", hint))
    elif filled != ["likely"]:
        hint = "give all three, or the likely one alone"
        found += [_wrong(f"{card.id}.{key}", "", "is missing", hint) for key in ENDS if not given[key]]
    if len(given[SOURCE]) > LONGEST_SOURCE:
        rule = f"is longer than {LONGEST_SOURCE} letters"
        found.append(_wrong(f"{card.id}.{SOURCE}", "", rule, "put it shorter"))
    ends = {key: _as_toml(card, given[key]) for key in filled}
    wanted: Any = dict.fromkeys(ENDS, ends["likely"]) if filled == ["likely"] else dict(ends)

    def find(path: Path, rule: str, hint: str, value: Any) -> None:
        ends_shown = " / ".join(given[key] for key in ENDS) if isinstance(value, Mapping) else str(value)
        key = ".".join(str(part) for part in path[1:])
        one = _wrong(key, ends_shown, rule, hint)
        if one not in found:
            found.append(one)

    if not found or filled == list(ENDS):
        read_planning({card.id: wanted}, (PLANNING,), library, find, lambda *_: None)
    else:
        _read_alone(card, ends, find)
    if filled == ["likely"]:  # it was read as each of the three
        found = [one for one in found if not one.key.endswith((".low", ".high"))]
    if found:
        raise BadInput(found)
    if filled == ["likely"] and not given[SOURCE]:
        return ends["likely"]
    return wanted | ({SOURCE: given[SOURCE]} if given[SOURCE] else {})


def _read_alone(card: PlanningValue, ends: Mapping[str, str | int | float], find: Find) -> None:
    """Find what is wrong with ends of which some are missing."""
    for key, value in ends.items():
        try:
            planning_number(card, value)
        except UnreadableValue as error:
            find((PLANNING, card.id, key), error.rule, error.hint, value)


def _line(
    card: PlanningValue,
    own: PlanningOverride | None,
    table: Mapping[str, Any],
    system: str,
    effects: Iterable[Effect],
) -> PlanningLine:
    band = card.band
    if own is not None:
        told = own.source or "no source given"
        band = replace(band, low=own.low, likely=own.likely, high=own.high, basis="typed", source=told)
    there = place_of(table, card.id)
    return PlanningLine(
        id=card.id,
        what=card.what,
        ends=_ends(band, system),
        library=_ends(card.band, system),
        decided_on=card.decided_on,
        basis=band.basis,
        source=band.source,
        own=own is not None,
        typed={} if there is None else _typed_now(_at(table, there)),
        examples=(
            _typed(card.band.low, card.band.unit, system),
            _typed(card.band.likely, card.band.unit, system),
            _typed(card.band.high, card.band.unit, system),
        ),
        effects=tuple(effects),
    )


def _ends(band: Band, system: str) -> tuple[str, str, str]:
    low, likely, high = (
        band_text(replace(band, low=end, likely=end, high=end), system)
        for end in (band.low, band.likely, band.high)
    )
    return low, likely, high


def _typed_now(value: Any) -> dict[str, str]:
    if isinstance(value, dict):
        return {key: str(held) for key, held in value.items() if key in (*ENDS, SOURCE)}
    return {"likely": str(value)}


def _typed(value: float, unit: str, system: str) -> str:
    """Return a value as it can be typed; kelvins as kelvins, since most of these are differences."""
    if unit == "1":
        return f"{value:.{_DIGITS}g}"
    if unit == "K":
        return f"{value:.{_DIGITS}g} K"
    metric, us = both_units(suffix_with_unit(unit))
    quantity = quantity_with_unit(unit)
    _, factor, _ = quantity.metric if system == "metric" else quantity.us
    return f"{value * factor:.{_DIGITS}g} {metric if system == 'metric' else us}"


def _as_toml(card: PlanningValue, text: str) -> str | int | float:
    """Return a text as the file holds it: a pure number bare, all else with its unit."""
    if card.band.unit == "1" and _BARE_NUMBER.fullmatch(text):
        return float(text) if "." in text else int(text)
    return text


def _table(text: str) -> Mapping[str, Any]:
    found = tomllib.loads(text).get(PLANNING)
    return found if isinstance(found, dict) else {}


def _at(table: Any, path: Path) -> Any:
    for part in path:
        table = table[part]
    return table


def _wrong(key: str, value: str, rule: str, hint: str) -> Finding:
    return Finding(file="job.toml", line=None, key=f"{PLANNING}.{key}", value=value, rule=rule, hint=hint)
