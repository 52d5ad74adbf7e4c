"""What a lost mount means, in sentences: does the rest hold, how fast one may still go, what goes next and when."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staydown.foundation.numbers import Number
from staydown.foundation.quantities import both, lasting
from staydown.loads.load_case import CaseTable
from staydown.verdict.rest import Redundancy, Rest

LONGEST_s = (
    10 * 365.25 * 86400.0
)  # beyond this a model of a few hours' tests says nothing; common practice, no source
CALM_m_per_s = 1.0  # Beaufort 0 ends at 0.2 m/s, 1 at 1.5; a speed below says nothing more than a calm


def redundancy_sentences(redundancy: Redundancy, table: CaseTable, system: str) -> tuple[str, ...]:
    """Return the statement on losing one mount first, then speed, order with warning time, and the worst pair."""
    if len(redundancy.singles) == 1:
        return ("one mount: when it lets go nothing holds the item, and there is no warning",)
    worst = redundancy.worst
    told = [_statement(redundancy.redundant, worst, table)]
    if worst.holds is False:
        told.append(_speed(worst, system))
    order = _order(redundancy)
    if order:
        told.append(order)
    if redundancy.pairs:
        told.append(_pair(redundancy.pairs[0], table, system))
    return tuple(told)


def _statement(redundant: bool | None, worst: Rest, table: CaseTable) -> str:
    lost, where = _named(worst.lost), _case(table, worst.case)
    if worst.use is None:
        return (
            f"whether the rest holds when one mount is lost is not known: nothing is proven for {worst.mount} in "
            f"{where} (with {lost} lost)"
        )
    what = "" if worst.part == "bond" else f" of the {worst.part}"
    share = f"{worst.mount} then needs {100 * worst.use:.0f} % of what is proven{what} in {where}"
    if redundant:
        return f"any one mount may be lost: the worst to lose is {lost}, {share}"
    return f"not redundant: with {lost} lost the rest does not hold, {share}"


def _speed(worst: Rest, system: str) -> str:
    if worst.air_speed is None or worst.road_speed is None:
        return f"up to what speed the rest would hold with {_named(worst.lost)} lost is not known"
    air, road = _value(worst.air_speed), _value(worst.road_speed)
    if air < CALM_m_per_s:
        return f"with {_named(worst.lost)} lost the rest does not hold even in a calm"
    if road <= 0.0:
        return (
            f"with {_named(worst.lost)} lost the rest holds {both(air, 'm/s', system)} of air, wind included: "
            "do not drive with it"
        )
    return (
        f"with {_named(worst.lost)} lost the rest would hold up to {both(road, 'm/s', system)} on the road, "
        f"{both(air, 'm/s', system)} of air with the wind"
    )


def _order(redundancy: Redundancy) -> str:
    """Return which mounts go one after another at cruise, with how long the next one holds each time."""
    steps = redundancy.order
    if len(steps) < 2 or any(step.warning is None for step in steps[1:]):
        return ""
    parts = [f"{steps[0].mount} would go first"]
    parts += [f"then {step.mount} {_after(step.warning)}" for step in steps[1:] if step.warning is not None]
    tail = ", the rest at once" if redundancy.follow and len(steps) < len(redundancy.singles) else ""
    slope = _value(redundancy.slope)
    model = f"a model: life falls with stress to the power {slope:.3g}, on lower bounds"
    return f"at cruise {', '.join(parts)}{tail} ({model})"


def _after(warning: Number) -> str:
    seconds = _value(warning)
    if seconds < 1.0:
        return "at once"
    return "after years" if seconds > LONGEST_s else f"after {lasting(seconds)}"


def _pair(pair: Rest, table: CaseTable, system: str) -> str:
    lost = _named(pair.lost)
    if pair.mount is None:
        return f"with {lost} lost nothing is left"
    if pair.use is None:
        return f"the worst pair to lose is {lost}; whether the rest then holds is not known"
    held = "the rest holds" if pair.holds else "the rest does not hold"
    share = f"{pair.mount} needs {100 * pair.use:.0f} % in {_case(table, pair.case)}"
    text = f"the worst pair to lose is {lost}: {held}, {share}"
    if pair.holds is False and pair.air_speed is not None:
        air = _value(pair.air_speed)
        text += (
            f"; it would hold {both(air, 'm/s', system)} of air"
            if air >= CALM_m_per_s
            else ", not even in a calm"
        )
    return text


def _case(table: CaseTable, row: int) -> str:
    case = table.cases[row]
    return f"{case.name}, {case.exposure.season}"


def _named(names: Sequence[str]) -> str:
    return " and ".join(names)


def _value(number: Number) -> float:
    return float(np.asarray(number.value))
