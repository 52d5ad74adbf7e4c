"""How an edge that opens is told: what it does to the edge stress, from where on it tears, where it ends."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.foundation.quantities import both, lasting
from staydown.loads.load_case import CaseTable
from staydown.verdict.rest import Rest
from staydown.verdict.unzip import OtherMount, UnzipStep

TOLD_m = 10e-3  # a card that slides this far under is what people find; common practice, no source
_SAME_m = 1e-9


def unzip_sentence(
    steps: Sequence[UnzipStep],
    turns_m: tuple[float | None, float | None],
    mount: str,
    lost: Rest | None,
    table: CaseTable,
    system: str,
) -> str:
    """Return the whole story of one foot in a sentence; turns_m: where it begins to tear, where it comes to rest."""
    runs_away_m, rests_m = turns_m
    told = next((step for step in steps if abs(step.opened_m - TOLD_m) < _SAME_m), steps[-1])
    section, pull = told.section, told.pull_N
    handed = told.handed_on_N
    of_pull = 100.0 * handed / (pull + handed) if pull + handed > 0.0 else 0.0
    told_m = both(told.opened_m, "m", system)
    text = (
        f"an opened edge of {told_m} under {mount} leaves {100 * section:.0f} % of its section: the edge stress rises "
        f"by {100 * (1.0 / section - 1.0):.0f} % for that alone, by {100 * (told.growth - 1.0):.0f} % with the mounts "
        f"solved anew, since {'its lever grows' if told.growth * section > 1.0 else 'it gives way'}"
    )
    if told.other is not None:
        text += f" and {of_pull:.0f} % of its pull goes to the others"
    if told.use is None:
        return text
    if runs_away_m is None:
        beyond = [step.other for step in steps if step.other and (step.other.use or 0.0) > 1.0]
        beside = _carries(max(beyond, key=lambda other: other.use or 0.0), table, system) if beyond else ""
        return (
            f"{text}; in cruise and gusts it stays below what is proven up to "
            f"{both(steps[-1].opened_m, 'm', system)}{beside}"
        )
    first = _at(steps, runs_away_m)
    case = f"{table.cases[first.case].name}, {table.cases[first.case].exposure.season}"
    left = (
        ""
        if first.holds_s is None
        else f", and at cruise the rest of it holds about {lasting(first.holds_s)}"
    )
    begins = (
        f"the edge is over what is proven as it is in {case}"
        if runs_away_m == 0.0
        else f"from {both(runs_away_m, 'm', system)} on {case} tears it open strip by strip{left}"
    )
    if rests_m is None:
        return f"{text}; {begins}; {_runs_through(mount, lost, table)}"
    step = _at(steps, rests_m)
    return f"{text}; {begins}; {_rests(step, table, system)}"


def _at(steps: Sequence[UnzipStep], opened_m: float) -> UnzipStep:
    return next(step for step in steps if abs(step.opened_m - opened_m) < _SAME_m)


def _rests(step: UnzipStep, table: CaseTable, system: str) -> str:
    bonded = step.bonded
    still = both(step.opened_m * bonded / (1.0 - bonded), "m", system)
    told = f"it comes to rest with {still} ({100 * bonded:.0f} %) still bonded"
    return f"{told}{_carries(step.other, table, system)}"


def _carries(other: OtherMount | None, table: CaseTable, system: str) -> str:
    if other is None:
        return ""
    case = f"{table.cases[other.case].name}, {table.cases[other.case].exposure.season}"
    used = "nothing is proven for it" if other.use is None else f"{100 * other.use:.0f} % of what is proven"
    return f", while {other.mount} carries {both(other.force_N, 'N', system)} in {case}, {used}"


def _runs_through(mount: str, lost: Rest | None, table: CaseTable) -> str:
    """Return what is left once the foot is gone, as the lost mount's own answer says it."""
    through = f"it does not come to rest: {mount} is then lost"
    if lost is None or lost.mount is None:
        return f"{through} and nothing holds the item"
    if lost.use is None or lost.holds is None:
        return f"{through}, and whether the rest holds is not known"
    case = f"{table.cases[lost.case].name}, {table.cases[lost.case].exposure.season}"
    held = "the rest holds" if lost.holds else "the rest does not hold"
    return f"{through}, {held}, and {lost.mount} needs {100 * lost.use:.0f} % in {case}"
