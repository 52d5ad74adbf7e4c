"""What single change turns NO or NOT PROVEN: found by assessing the item with each change made, smallest first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from staydown.advice.change import GOOD, LOOKS_OF_A_WHOLE, Change
from staydown.advice.may_hold import may_hold, within
from staydown.advice.pairs import pairs_that_turn
from staydown.advice.variants import Bench, Family, Variant, families
from staydown.assess import (
    Assessment,
    Carried,
    Facts,
    ItemAssessment,
    Mounted,
    Subject,
    carry,
    judge,
    look_first,
    session_of,
    spread,
    subject_of,
    warm,
)
from staydown.evidence.history import build_history
from staydown.loads.load_case import CaseTable
from staydown.verdict.brief import governing
from staydown.verdict.decide import decide, refusals

MOST = 3
MOST_LOOKS = 24  # assessments by the short way that are spent on one kind of change


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """The changes for one item, the least effort first, and the sentences of them.

    none: why there is none. pairs: then, two changes that turn the word together; no_pair: that none of those tried
    does.
    """

    item: str
    changes: tuple[Change, ...]
    none: str = ""
    pairs: tuple[Change, ...] = ()
    no_pair: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """Return what is printed: each change with its word and use, or that none is enough and which pairs are."""
        told = tuple(_sentence(change) for change in self.changes)
        pairs = tuple(_sentence(pair) for pair in self.pairs)
        return told or tuple(text for text in (self.none, *pairs, self.no_pair) if text)


def advise(assessment: Assessment, facts: Facts) -> tuple[Advice, ...]:
    """Return for every item that may not go which changes turn its word: single ones, else pairs of them.

    Parameters
    ----------
    assessment : Assessment
        What `assess` returned.
    facts : Facts
        The same facts; real variants of the job are assessed with them.
    """
    return tuple(
        _Search(assessment, facts, number, item).advice()
        for number, item in enumerate(assessment.items, start=1)
    )


def with_changes(assessment: Assessment, advice: tuple[Advice, ...]) -> Assessment:
    """Return the assessment with the advice among its verdicts."""
    items = tuple(
        replace(item, verdict=replace(item.verdict, changes=one.sentences))
        for item, one in zip(assessment.items, advice, strict=True)
    )
    return replace(assessment, items=items)


def _sentence(change: Change) -> str:
    use = "" if change.use is None else f", {100.0 * change.use:.0f} % of what is proven"
    meanwhile = "meanwhile " if change.rule else ""
    return f"{meanwhile}{change.what}: {change.word}{use}"


class _Search:
    """The search for one item, with the assessments that it may still make."""

    def __init__(self, assessment: Assessment, facts: Facts, number: int, now: ItemAssessment) -> None:
        self.assessment, self.facts, self.number, self.now = assessment, facts, number, now
        self.history = build_history(facts.events)
        self.left = 0

    def advice(self) -> Advice:
        name, mounted = self.now.item.name, self.now.mounted
        if self.now.verdict.word in GOOD:
            return Advice(item=name, changes=())
        if mounted is None or refusals(self.now.standing, self.assessment.cards.planning):
            return Advice(item=name, changes=())  # the reasons say the way out
        stuck = self._stuck(mounted)
        if stuck:
            return Advice(item=name, changes=(), none=f"no single change is enough: {stuck}")
        bench = Bench(job=self.assessment.job, number=self.number, most_used=mounted.governing.mount)
        found: list[Change] = []
        for family in families(bench):
            if len(found) >= MOST and not family.rule:
                continue
            change = self._of_family(family, mounted)
            if change is not None:
                found.append(change)
        if found:
            return Advice(item=name, changes=tuple(found))
        pairs = pairs_that_turn(self.assessment, self.facts, self.number, mounted)
        return Advice(
            item=name,
            changes=(),
            none="no single change is enough, of those that were tried",
            pairs=pairs,
            no_pair="" if pairs else "no pair of those tried either",
        )

    def _stuck(self, mounted: Mounted) -> str:
        """Return what no change of the job cures: links that nobody knows, a bond without tests, an open look."""
        loose = dict.fromkeys(link.link.part for link in mounted.chain if not link.link.known)
        if "tension" not in mounted.capacity:
            return "nothing is proven of this tape on this surface; make the tests first"
        if loose:
            return f"the {', '.join(loose)} must be known first"
        judged = replace(self.now, verdict=replace(self.now.verdict, word="GO", because=()))
        looked = look_first(judged, self.assessment.job, self.assessment.cards, self.history)
        if looked.verdict.word not in GOOD:
            return looked.verdict.because[0]
        return ""

    def _of_family(self, family: Family, mounted: Mounted) -> Change | None:
        """Return the smallest step of a family that turns the word."""
        self.left = MOST_LOOKS
        tries = [_Try(step) for step in family.steps]

        def light(number: int) -> bool:
            """Whether what pulls is within what is proven: needed, not enough, and quick to tell."""
            one = tries[number]
            if one.holds is None:
                one.holds = self._holds(one, family, mounted)
            return one.holds

        def whole(number: int) -> bool:
            one = tries[number]
            if one.change is None and light(number):
                one.change = self._turned(one, family)
            return one.change is not None

        last = len(tries) - 1
        if not family.rising:
            return next((tries[n].change for n in range(last + 1) if whole(n)), None)
        if not light(last):
            return None
        first = _first(0, last, light)
        if not whole(first):
            if first == last or not whole(last):
                return None
            first = _near(first + 1, last, whole)
        return tries[first].change or tries[last].change

    def _holds(self, one: _Try, family: Family, mounted: Mounted) -> bool:
        one.variant = one.step() if self.left > 0 else None
        if one.variant is None:
            return False
        self.left -= 1
        job = one.variant.job
        item = job.item[self.number - 1]
        # what is built anew is bonded anew, on another day
        session = session_of(item, self.history) if item == self.now.item else None
        cards, coupons = self.assessment.cards, self.facts.coupons
        one.subject = subject_of(job, item, self.now.place, cards, coupons, session=session)
        one.carried = (
            carry(one.subject, "rigid") if family.loads else _shared_anew(one.subject, mounted.table)
        )
        return may_hold(one.subject, one.carried)

    def _turned(self, one: _Try, family: Family) -> Change | None:
        """Return the change where it turns the word."""
        if one.variant is None or one.subject is None or one.carried is None or self.left <= 0:
            return None
        self.left -= LOOKS_OF_A_WHOLE
        content = self.assessment.cards.planning["content"].decided
        demands = spread(one.subject, one.carried.table, "decides")
        carried = replace(one.carried, demands=demands)
        if not within(one.subject, carried, content):
            return None
        brief = judge(one.subject, carried)
        word = decide(brief).word
        if word not in GOOD:
            return None
        return Change(
            what=one.variant.what,
            typed=one.variant.typed,
            word=word,
            use=governing(brief).use,
            effort=family.effort,
            rule=family.rule,
        )


class _Try:
    """One step of a change on its way: made, carried, found to hold, found to turn the word."""

    def __init__(self, step: Callable[[], Variant | None]) -> None:
        self.step = step
        self.variant: Variant | None = None
        self.subject: Subject | None = None
        self.carried: Carried | None = None
        self.holds: bool | None = None
        self.change: Change | None = None


def _shared_anew(subject: Subject, table: CaseTable) -> Carried:
    """Return the same loads and temperatures, shared and strained anew."""
    return Carried(table=table, demands=spread(subject, table, "rigid"), thermal=warm(subject, table))


def _first(low: int, high: int, good: Callable[[int], bool]) -> int:
    """Return the first good step, given that the last is good and what is good stays good."""
    while low < high:
        middle = (low + high) // 2
        if good(middle):
            high = middle
        else:
            low = middle + 1
    return low


def _near(low: int, high: int, good: Callable[[int], bool]) -> int:
    """Return the same where the first good step is likely a near one: ever longer strides, then the last of them."""
    stride = 1
    while low + stride - 1 < high and not good(low + stride - 1):
        low, stride = low + stride, 2 * stride
    return _first(low, min(low + stride - 1, high), good)
