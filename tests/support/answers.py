"""Whole answers for tests: a job assessed, and which laws stand behind its numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sample_jobs import cards, job_of
from staydown.assess import Assessment, Facts, Mounted, assess
from staydown.evidence.coupon import Coupon
from staydown.foundation.law import LAWS, Law
from staydown.foundation.numbers import Chosen, Derived, Number


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


def answers(mounted: Mounted) -> dict[str, list[Number]]:
    """Return the numbers that an item's answer shows, by what they are."""
    table, demands, checks = mounted.table, mounted.demands, mounted.checks
    return {
        "cases": [
            number
            for case in table.cases
            for number in (case.lasts, case.air_temperature, case.bond_temperature, case.air_density)
        ],
        "loads": [*table.force, *table.moment],
        "parts": [
            number
            for part in table.parts
            for number in (
                *part.force,
                *part.at,
                part.factor,
                *([part.coefficient] if part.coefficient else []),
            )
        ],
        "demands": [demands.peak_tension, demands.mean_tension, demands.shear, demands.line_load],
        "use": [checks.use],
        "proven": [checks.tension_proven, checks.shear_proven],
        "chain": [
            number
            for link in mounted.chain
            for number in ((link.demand, link.link.strength) if link.link.strength else (link.demand,))
        ],
    }


def laws_of(assessment: Assessment) -> dict[str, set[str]]:
    """Return the laws behind the first item's answer, by what they lead to."""
    mounted = assessment.items[0].mounted
    assert mounted is not None
    return {what: laws_behind(numbers) for what, numbers in answers(mounted).items()}
