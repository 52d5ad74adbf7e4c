"""Whole answers for tests: a job assessed, and which laws stand behind its numbers."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from types import FrameType
from typing import Any

from sample_jobs import cards, job_of
from staydown.assess import Assessment, Facts, Mounted, assess
from staydown.evidence.coupon import Coupon
from staydown.foundation.law import LAWS, Law
from staydown.foundation.numbers import Chosen, Derived, Given, Number


def assessed(
    base: Mapping[str, Any], changes: Mapping[str, Any] | None = None, coupons: Sequence[Coupon] = ()
) -> Assessment:
    """Return the assessment of a job."""
    return assess(job_of(base, changes), Facts(cards=cards(), coupons=tuple(coupons)))


def first(assessment: Assessment) -> Mounted:
    """Return the numbers of the first item, which has mounts."""
    mounted = assessment.items[0].mounted
    assert mounted is not None
    return mounted


def behind(numbers: Iterable[Number]) -> Iterator[Number]:
    """Yield every number that some numbers were made from, themselves first, each once."""
    waiting, seen = list(numbers), set()
    while waiting:
        number = waiting.pop()
        if id(number) in seen:
            continue
        seen.add(id(number))
        yield number
        if isinstance(number, Derived):
            waiting.extend(number.inputs.values())
        elif isinstance(number, Chosen):
            waiting.extend(number.items)


def laws_behind(numbers: Iterable[Number]) -> set[str]:
    """Return the names of all laws behind some numbers, with their module: `loads.wind_laws.uplift`."""
    names = {id(facts): name.removeprefix("staydown.") for name, (facts, _) in LAWS.items()}

    def name_of(law: Law) -> str:
        return names.get(id(law), law.name)

    return {name_of(number.law) for number in behind(numbers) if isinstance(number, Derived)}


def numbers_in(thing: Any) -> Iterator[Number]:
    """Yield every number that a record holds, at any depth; what lies behind a number is not looked at."""
    if isinstance(thing, Given | Derived | Chosen):
        yield thing
    elif isinstance(thing, Mapping):
        for part in thing.values():
            yield from numbers_in(part)
    elif isinstance(thing, tuple | list):
        for part in thing:
            yield from numbers_in(part)
    elif is_dataclass(thing) and not isinstance(thing, type):
        for part in fields(thing):
            yield from numbers_in(getattr(thing, part.name))


def laws_of(mounted: Mounted) -> dict[str, set[str]]:
    """Return the laws behind an item's answer, by the part of it that they lead to: table, demands, checks, ..."""
    return {part.name: laws_behind(numbers_in(getattr(mounted, part.name))) for part in fields(mounted)}


@contextmanager
def calls_of_laws() -> Iterator[set[str]]:
    """Collect the names of the laws that are called meanwhile, also inside procedures that keep no trail."""
    codes = {function.__code__: name.removeprefix("staydown.") for name, (_, function) in LAWS.items()}
    called: set[str] = set()

    def note(frame: FrameType, event: str, _: Any) -> None:
        if event == "call" and frame.f_code in codes:
            called.add(codes[frame.f_code])

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        yield called
    finally:
        sys.setprofile(before)
