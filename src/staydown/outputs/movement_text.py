"""How an item bends, bows, shakes and comes near the roof, in sentences."""

from __future__ import annotations

import numpy as np

from staydown.assess import Mounted
from staydown.foundation.numbers import at
from staydown.foundation.quantities import both, lasting, shown
from staydown.outputs.amounts import amount, case_name, percent
from staydown.outputs.columns import listed
from staydown.outputs.movement_trail import LIKELY, bowing_case, hardest_shaken
from staydown.spread.demands import FlexibleAnswer
from staydown.verdict.checks import HIGH

SMALL_m = 0.01  # shorter lengths are told to a tenth of a millimetre


def movement_text(mounted: Mounted, system: str, width: int) -> list[str]:
    """Return how an item moves, as a block of the answer."""
    return ["  How it moves and shakes", *listed(movement_sentences(mounted, system), width)]


def movement_sentences(mounted: Mounted, system: str) -> list[str]:
    """Return how an item bends, how far it moves, how it bows and how it shakes, one sentence each."""
    flexible = mounted.demands.flexible
    told = (
        ["it is taken as rigid: neither its stiffness nor that of its kind is known"]
        if flexible is None
        else _bending(mounted, flexible, system)
    )
    return [*told, *_shaking(mounted, system)]


def fine(length_m: float, system: str) -> str:
    """Return a short length in both systems, to a tenth of a millimetre where that means something."""
    if abs(length_m) >= SMALL_m:
        return both(length_m, "m", system)
    metric, us = shown(length_m, "m", "metric", 1), shown(length_m, "m", "us", 3)
    return f"{us} ({metric})" if system == "us" else f"{metric} ({us})"


def _bending(mounted: Mounted, flexible: FlexibleAnswer, system: str) -> list[str]:
    cases = mounted.table.cases
    ground = "its own stiffness, counted" if flexible.counted else "usual for its kind, shown and not counted"
    pulls = np.asarray(flexible.pull.value)[:, HIGH].max(axis=1)
    pulled = int(pulls.argmax())
    change = at(flexible.change, (pulled, HIGH, 0))
    told = [
        f"it bends ({ground}): in {case_name(cases[pulled])} its worst mount carries "
        f"{percent(abs(change))} {'more' if change > 0.0 else 'less'} than under a rigid item"
    ]
    lift = np.asarray(flexible.lift.value)[:, HIGH]
    row, place = (int(n) for n in np.unravel_index(lift.argmax(), lift.shape))
    told.append(
        f"it lifts most at its {flexible.places[place]}, by {fine(float(lift[row, place]), system)} in "
        f"{case_name(cases[row])}"
    )
    sag = np.asarray(flexible.sag.value)[:, HIGH, 0]
    row = int(sag.argmax())
    roof_N = at(flexible.roof, (row, HIGH, 0))
    gap = "" if flexible.gap_closed is None else _gap(at(flexible.gap_closed, (row, HIGH, 0)), roof_N, system)
    told.append(f"it comes down most in {case_name(cases[row])}, by {fine(float(sag[row]), system)}{gap}")
    row = bowing_case(mounted)
    pull = np.asarray(flexible.bow_pull.value)[0, HIGH]
    mount = int(pull.argmax())
    told.append(
        f"in the sun its longer side would bow by {fine(at(flexible.bow, (row, HIGH, 0)), system)}; held down that "
        f"pulls {amount(float(pull[mount]), 'N', system)} at {mounted.demands.mounts[mount]}"
        f"{_bow_use(mounted, row, system)}"
    )
    return told


def _bow_use(mounted: Mounted, row: int, system: str) -> str:
    """Return what the bow uses of the most used bond, or that it is not counted."""
    if mounted.demands.bow is None:
        return "; not counted, it would want the item's own stiffness"
    checks, case = mounted.checks, mounted.table.cases[row]
    use = checks.bond_use_at_high()[row]
    peak = np.broadcast_to(np.asarray(mounted.demands.peak_tension.value), checks.evidence.shape)[row, HIGH]
    mount = int((peak if np.isnan(use).any() else use).argmax())
    share = (
        "nothing of yours proves that"
        if np.isnan(use[mount])
        else f"{percent(float(use[mount]))} of its bond"
    )
    level = "" if np.isnan(use[mount]) else f", {checks.level(row, mount)}"
    return (
        f", at most {amount(float(peak[mount]), 'Pa', system)} at a pad's edge, under {mounted.demands.mounts[mount]}, "
        f"for {lasting(case.exposure.lasts_s)}: {share}{level}; "
        "together with a gust or a hand in the first minutes it is not judged"
    )


def _gap(closed: float, roof_N: float, system: str) -> str:
    touches = f": it touches the roof, which then carries up to {amount(roof_N, 'N', system)}"
    return f", {percent(closed)} of its gap" + (touches if closed >= 1.0 else "")


def _shaking(mounted: Mounted, system: str) -> list[str]:
    vibration, index = mounted.vibration, (0, HIGH, 0)

    def value(number: object) -> float:
        return at(number, index)  # type: ignore[arg-type]

    lowest = shown(value(vibration.lowest), "Hz")
    likely = shown(at(vibration.lowest, (0, LIKELY, 0)), "Hz")
    body = "" if vibration.bends else " as a rigid body"
    roads = ", ".join(
        f"{road.road} {shown(at(road.peak, hardest_shaken(road)), 'm/s2', system)}"
        for road in vibration.roads
    )
    return [
        f"it swings up and down{body} at {lowest} or faster, likely {likely}; a bump counts "
        f"{value(vibration.bump_factor):.2f} times what it does at rest",
        f"peaks by class of road (ISO 8608) at cruise: {roads}",
        f"vortices leave its edge at {shown(value(vibration.vortices), 'Hz')} at cruise, the bubble behind it flaps at "
        f"{shown(value(vibration.flapping), 'Hz')}; they meet the item at "
        f"{both(value(vibration.meeting_speed), 'm/s', system)} of air",
    ]
