"""The use of an item with one card changed: only what looks that card up is worked out again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from staydown.assess import (
    Assessment,
    Carried,
    Facts,
    ItemAssessment,
    Mounted,
    Subject,
    believe,
    compare,
    heat_of,
    pull,
    session_of,
    spread,
    subject_of,
    warm,
)
from staydown.evidence.history import build_history
from staydown.foundation.numbers import Number
from staydown.library.cards import Cards, PlanningValue
from staydown.loads.build_cases import with_heat
from staydown.loads.load_case import CaseTable, SoakTemperatures
from staydown.verdict.brief import most_used


class _Noted(Mapping[str, PlanningValue]):
    """Planning values that note which of them were looked up; whoever goes over all of them has seen all."""

    def __init__(self, planning: Mapping[str, PlanningValue]) -> None:
        self._planning = planning
        self.seen: set[str] = set()

    def __getitem__(self, name: str) -> PlanningValue:
        self.seen.add(name)
        return self._planning[name]

    def __iter__(self) -> Iterator[str]:
        self.seen.update(self._planning)
        return iter(self._planning)

    def __len__(self) -> int:
        return len(self._planning)


class Reworked:
    """One assessed item that is asked for its use again and again, with one planning value changed each time."""

    def __init__(
        self, assessment: Assessment, facts: Facts, assessed: ItemAssessment, mounted: Mounted
    ) -> None:
        self._assessment, self._facts = assessment, facts
        self._assessed, self._mounted = assessed, mounted
        self._session = session_of(assessed.item, build_history(facts.events))
        self._seen: dict[str, set[str]] = {}
        noted = _Noted(assessment.cards.planning)
        self._proving = self._subject(assessment.cards)
        subject, table = self._subject(replace(assessment.cards, planning=noted)), mounted.table
        heat = heat_of(self._proving)
        for step, made in (
            ("heat", lambda: heat_of(subject)),
            ("loads", lambda: pull(subject, heat)),
            ("spread", lambda: spread(subject, table, "decides")),
            ("warm", lambda: warm(subject, table)),
            ("believe", lambda: believe(subject, table, mounted.content, light=True)),
        ):
            noted.seen = set()
            made()
            self._seen[step] = noted.seen

    @property
    def use_now(self) -> float | None:
        """Return the use as it is."""
        return self._mounted.governing.use

    def use(self, name: str, card: PlanningValue) -> float | None:
        """Return the largest use with another card for one planning value; the bounds cover the same share."""
        cards = self._assessment.cards
        subject = self._subject(replace(cards, planning={**cards.planning, name: card}))
        table = self._mounted.table
        if name in self._seen["loads"]:
            table = pull(subject)
        elif name in self._seen["heat"]:
            table = with_heat(table, heat_of(subject))
        return self._use(subject, subject, table, name)

    def use_with(self, cards: Cards) -> float | None:
        """Return the largest use with another card of a tape, material, surface or colour.

        What is proven stays: no belief knows of stiffness, expansion or colour but through temperatures.
        """
        subject, table = self._subject(cards), self._mounted.table
        if cards.colours is not self._assessment.cards.colours:
            table = with_heat(table, heat_of(subject))
        return self._use(subject, self._proving, table, None)

    def _use(self, subject: Subject, proving: Subject, table: CaseTable, name: str | None) -> float | None:
        """Return the largest use; name: of the planning value that is another, None where it is another card."""
        now = self._mounted
        loads = name is None or name in self._seen["spread"] or not _same_loads(table, now.table)
        heat = name is None or name in self._seen["warm"] or not _same_soak(table.soak, now.table.soak)
        carried = Carried(
            table=table,
            demands=spread(subject, table, "decides") if loads else now.demands,
            thermal=warm(subject, table) if heat else now.thermal,
        )
        known = name not in self._seen["believe"] and _same_exposures(table, now.table)
        capacity = now.capacity if known else believe(proving, table, now.content, light=True)
        return most_used(compare(proving, carried, now.content, capacity).checks, carried.demands).use

    def _subject(self, cards: Cards) -> Subject:
        one = self._assessed
        return subject_of(
            self._assessment.job,
            one.item,
            one.place,
            cards,
            self._facts.coupons,
            session=self._session,
        )


def _same_loads(one: CaseTable, other: CaseTable) -> bool:
    """Return whether two tables of the same cases pull alike: in sum, and part by part where each acts."""

    def numbers(table: CaseTable) -> Iterator[Number]:
        yield from (*table.force, *table.moment)
        for part in table.parts:
            yield from (*part.force, *part.at, part.factor)

    return all(_equal(a, b) for a, b in zip(numbers(one), numbers(other), strict=True))


def _same_exposures(one: CaseTable, other: CaseTable) -> bool:
    """Return whether every bond is as warm for as long."""
    return _equal(one.temperatures, other.temperatures) and all(
        a.exposure.lasts_s == b.exposure.lasts_s for a, b in zip(one.cases, other.cases, strict=True)
    )


def _same_soak(one: SoakTemperatures, other: SoakTemperatures) -> bool:
    pairs = (
        (one.item_hot, other.item_hot),
        (one.item_cold, other.item_cold),
        (one.roof_hot, other.roof_hot),
        (one.roof_cold, other.roof_cold),
    )
    return all(_equal(a, b) for a, b in pairs)


def _equal(one: Number, other: Number) -> bool:
    return one is other or np.array_equal(one.value, other.value)
