"""Which two changes together turn NO or NOT PROVEN where no single one does: those that came nearest, paired."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from math import ceil, inf

import numpy as np

from staydown.advice.change import GOOD, LOOKS_OF_A_WHOLE, Change
from staydown.advice.may_hold import may_hold
from staydown.advice.variants import STEPS, Bench, Family, Variant, families
from staydown.assess import Assessment, Facts, Mounted, Subject, carry, judge, prove, session_of, subject_of
from staydown.evidence.history import build_history
from staydown.verdict.brief import governing, most_used
from staydown.verdict.checks import HIGH, INFERRED, Checks
from staydown.verdict.decide import decide
from staydown.verdict.verdict import Governing

NEAREST = 4  # kinds of change that are paired, which makes six pairs; common practice, no source
MOST_PAIRS = 2
MOST_LOOKS = 80  # assessments by the short way that are spent on the pairs of one item


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of change by itself. last: its largest step, or the one of its ways that comes nearest.

    away: how far that step is from a word, as `_away`. mount: the most used one with it.
    """

    family: Family
    last: int
    away: float
    mount: int

    def step(self, share: float) -> int:
        """Return the step that goes a share of the way to the last."""
        return max(0, ceil(share * (self.last + 1)) - 1) if self.family.rising else self.last


def pairs_that_turn(
    assessment: Assessment, facts: Facts, number: int, mounted: Mounted
) -> tuple[Change, ...]:
    """Return at most two pairs of changes that turn the word of an item, the least effort first.

    Parameters
    ----------
    assessment, facts : Assessment, Facts
        What `assess` returned, and the facts it was given.
    number, mounted : int, Mounted
        The item, counted from 1, and its numbers.
    """
    return _Search(assessment, facts, number).pairs(mounted)


class _Search:
    """The search for one item, with the assessments that it may still make."""

    def __init__(self, assessment: Assessment, facts: Facts, number: int) -> None:
        self.assessment, self.facts, self.number = assessment, facts, number
        self.history = build_history(facts.events)
        self.left = MOST_LOOKS

    def pairs(self, mounted: Mounted) -> tuple[Change, ...]:
        bench = Bench(job=self.assessment.job, number=self.number, most_used=mounted.governing.mount)
        kinds = sorted(self._alone(bench), key=lambda kind: kind.away)[:NEAREST]
        pairs = combinations(sorted(kinds, key=lambda kind: kind.family.effort), 2)
        found: list[Change] = []
        for first, second in sorted(pairs, key=lambda pair: pair[0].family.effort + pair[1].family.effort):
            change = self._smallest(first, second)
            if change is not None:
                found.append(change)
            if len(found) == MOST_PAIRS:
                break
        return tuple(found)

    def _alone(self, bench: Bench) -> Iterator[Kind]:
        """Yield each kind of change with how near it comes when nothing else is changed."""
        for family in families(bench):
            made = [(number, variant) for number, step in enumerate(family.steps) if (variant := step())]
            tried = made[-1:] if family.rising else made
            looks = [(number, *self._look(variant)) for number, variant in tried]
            if looks:
                last, checks, top = min(looks, key=lambda look: self._away(look[1]))
                yield Kind(family=family, last=last, away=self._away(checks), mount=top.mount)

    def _away(self, checks: Checks) -> float:
        """Return the largest use, measured by what it may be: that of a case which no test covers may be less."""
        use, level = checks.use_at_high(), checks.evidence[:, HIGH, :]
        limit = float(self.assessment.cards.planning["inferred_use_limit"].decided.value)
        return inf if np.isnan(use).any() else float(np.where(level == INFERRED, use / limit, use).max())

    def _smallest(self, first: Kind, second: Kind) -> Change | None:
        """Return two kinds of change together where they turn the word: both grown alike, then each taken back."""
        tried: dict[tuple[int, int], Change | None] = {}

        def turned(one: int, other: int) -> bool:
            if (one, other) not in tried:
                tried[one, other] = self._turned(first, second, one, other)
            return tried[one, other] is not None

        def steps(count: int) -> tuple[int, int]:
            return first.step(count / STEPS), second.step(count / STEPS)

        most = next(
            (count for count in range(STEPS, 0, -1) if self._made(first, second, *steps(count))), None
        )
        if most is None or not turned(*steps(most)):
            return None
        one, other = steps(1 + _least(most - 1, lambda count: turned(*steps(count + 1))))
        if second.family.rising:
            other = _least(other, lambda number: turned(one, number))
        if first.family.rising:
            one = _least(one, lambda number: turned(number, other))
        return tried[one, other]

    def _made(self, first: Kind, second: Kind, one: int, other: int) -> Variant | None:
        """Return a step of one kind made on what a step of another gives, None where they contradict each other."""
        base = first.family.steps[one]()
        if base is None:
            return None
        bench = Bench(job=base.job, number=self.number, most_used=first.mount)
        again = next((family for family in families(bench) if family.name == second.family.name), None)
        above = None if again is None else again.steps[min(other, len(again.steps) - 1)]()
        if above is None:
            return None
        meanwhile = "meanwhile " if second.family.rule and not first.family.rule else ""
        return Variant(
            what=f"together: {base.what}, and {meanwhile}{above.what}",
            typed=tuple((dict(base.typed) | dict(above.typed)).items()),
            job=above.job,
        )

    def _turned(self, first: Kind, second: Kind, one: int, other: int) -> Change | None:
        """Return the two steps together where they turn the word: by the short way first, then by the whole one."""
        variant = self._made(first, second, one, other)
        if variant is None or self.left <= 0:
            return None
        self.left -= 1
        subject = self._subject(variant)
        carried = carry(subject, "decides")
        if not may_hold(subject, carried) or self.left <= 0:
            return None
        self.left -= LOOKS_OF_A_WHOLE
        brief = judge(subject, carried)
        word = decide(brief).word
        if word not in GOOD:
            return None
        return Change(
            what=variant.what,
            typed=variant.typed,
            word=word,
            use=governing(brief).use,
            effort=first.family.effort + second.family.effort,
            rule=first.family.rule and second.family.rule,
        )

    def _look(self, variant: Variant) -> tuple[Checks, Governing]:
        """Return uses and what governs by the short way: lost mounts, chain and words left out."""
        self.left -= 1
        subject = self._subject(variant)
        carried = carry(subject, "decides")
        content = self.assessment.cards.planning["content"].decided
        checks = prove(subject, carried, content, light=True).checks
        return checks, most_used(checks, carried.demands)

    def _subject(self, variant: Variant) -> Subject:
        item, place = variant.job.item[self.number - 1], f"item.{self.number}"
        # what is built anew is bonded anew, on another day
        same = item == self.assessment.job.item[self.number - 1]
        session = session_of(item, self.history) if same else None
        cards, coupons = self.assessment.cards, self.facts.coupons
        return subject_of(variant.job, item, place, cards, coupons, session=session)


def _least(last: int, good: Callable[[int], bool]) -> int:
    """Return the first good number up to the last, which is good; what is good is taken to stay good."""
    return bisect_left(range(last), True, key=good)
