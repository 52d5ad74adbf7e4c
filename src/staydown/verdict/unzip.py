"""Builds how a pad would unzip: its pulled edge lets go strip by strip, and what is left is pried harder each time.

A model on the cruise loads with their factors, strips of one width, the pull staying where it is. It never lifts a
verdict: it says what a card under an edge means.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from staydown.foundation.numbers import Number, at, derive, given
from staydown.foundation.quantities import both, lasting
from staydown.loads.load_case import CaseTable
from staydown.spread import foot_laws as laws
from staydown.spread import pad_laws
from staydown.spread.demands import Demands
from staydown.verdict import redundancy_laws, use_laws
from staydown.verdict.checks import HIGH, Checks

STRIP_m = 5e-3  # width that lets go at a time; common practice, no source
MOST_STRIPS = 8
TOLD_m = 10e-3  # a card that slides this far under is what people find; common practice, no source
_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class UnzipStep:
    """One width of opened edge. [m]

    section: share of the section against prying that is left; growth: edge stress over that of the whole pad, the
    lever that grows counted [1]. peak: edge stress [Pa]. use: None where nothing is proven. holds: how long what is
    left holds at that, None where not known [s].
    """

    opened_m: float
    section: Number
    growth: float
    peak: Number
    use: Number | None
    holds: Number | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unzip:
    """The most used mount at cruise opening from its pulled edge.

    index: (case, band, mount). runs_away_m: from this opened width on it is over what is proven and each strip makes
    the next worse; None where nothing is proven or it stays below.
    """

    mount: str
    index: tuple[int, int, int]
    steps: tuple[UnzipStep, ...]
    runs_away_m: float | None
    known: bool
    sentence: str


def build_unzip(
    table: CaseTable, demands: Demands, checks: Checks, slope: Number, system: str
) -> Unzip | None:
    """Return how the most used mount at cruise would unzip; None where none is pulled or pads are too short.

    Parameters
    ----------
    table, demands, checks : CaseTable, Demands, Checks
        Cases, what each mount carries, what is proven.
    slope : Number
        Slope of life over stress. [1]
    system : str
        "metric" or "us".
    """
    rows = [number for number, case in enumerate(table.cases) if case.name == "cruise"]
    if not rows:
        return None
    shape = checks.evidence.shape
    peak = np.broadcast_to(np.asarray(demands.peak_tension.value, dtype=float), shape)[rows, HIGH]
    use = np.broadcast_to(np.asarray(checks.tension_use.value, dtype=float), shape)[rows, HIGH]
    ranked = peak if np.isnan(use).any() else use
    row, mount = (int(n) for n in np.unravel_index(ranked.argmax(), ranked.shape))
    index = (rows[row], HIGH, mount)
    strips = min(MOST_STRIPS, math.ceil(at(demands.feet.side, index) / STRIP_m - 1.0 - _SAME))
    if peak[row, mount] <= 0.0 or strips < 1:
        return None
    proven = at(checks.tension_proven, index)
    steps = [_step(demands, index, 0.0, None, proven, table, slope)]
    steps += [
        _step(demands, index, STRIP_m * (n + 1), steps[0].peak, proven, table, slope) for n in range(strips)
    ]
    over = [step.opened_m for step in steps if step.use is not None and float(step.use.value) > 1.0]
    known = not math.isnan(proven)
    return Unzip(
        mount=demands.mounts[mount],
        index=index,
        steps=tuple(steps),
        runs_away_m=min(over) if over else None,
        known=known,
        sentence=_sentence(demands.mounts[mount], steps, min(over) if over else None, known, system),
    )


def _step(
    demands: Demands,
    index: tuple[int, int, int],
    opened_m: float,
    whole: Number | None,
    proven_Pa: float,
    table: CaseTable,
    slope: Number,
) -> UnzipStep:
    where = f"{demands.mounts[index[2]]} at cruise"

    def here(number: Number, what: str) -> Number:
        return given(at(number, index), number.unit, "calculation", f"{what} of {where}")

    feet = demands.feet
    pull, rate = here(demands.force[2], "pull"), here(feet.counted, "lambda that counts")
    side, edge = here(feet.side, "side along the lever"), here(feet.edge, "side across the lever")
    turns = {"moment_about_x_Nm": demands.moment[0], "moment_about_y_Nm": demands.moment[1]}
    along = here(
        derive(laws.moment_along_lever, lever_lies_along=feet.along, **turns), "moment along the lever"
    )
    across = here(derive(laws.moment_across_lever, lever_lies_along=feet.along, **turns), "moment across it")
    opened = given(opened_m, "m", "calculation", f"opened edge under {where}")
    left = derive(laws.side_left, side_m=side, opened_m=opened)
    moment = derive(laws.moment_about_rest, moment_Nm=along, pull_N=pull, opened_m=opened)
    # a foot that bends is taken as pulled at its edge, wherever its lever says
    edge_pull = derive(laws.moment_of_edge_pull, pull_N=pull, side_m=side)
    bent = derive(
        laws.moment_about_rest,
        moment_Nm=along if at(along, index) >= at(edge_pull, index) else edge_pull,
        pull_N=pull,
        opened_m=opened,
    )
    peak = derive(
        laws.larger_stress,
        first_Pa=derive(
            pad_laws.peak_tension,
            pull_N=pull,
            moment_about_x_Nm=across,
            moment_about_y_Nm=moment,
            pad_length_m=left,
            pad_width_m=edge,
        ),
        second_Pa=derive(
            laws.foot_edge_stress,
            rate_one_per_m=rate,
            pull_N=pull,
            along_lever_Nm=bent,
            across_lever_Nm=across,
            side_m=left,
            edge_m=edge,
        ),
    )
    use: Number | None = None
    holds: Number | None = None
    if not math.isnan(proven_Pa):
        proven = given(proven_Pa, "Pa", "calculation", f"proven in tension for {where}")
        use = derive(use_laws.stress_use, demand_Pa=peak, proven_Pa=proven)
        if float(use.value) > 0.0:
            holds = derive(
                redundancy_laws.life_at_use, lasts_s=table.cases[index[0]].lasts, use=use, slope=slope
            )
    before = peak if whole is None else whole
    return UnzipStep(
        opened_m=opened_m,
        section=derive(laws.section_left, side_m=side, opened_m=opened),
        growth=float(peak.value) / float(before.value),
        peak=peak,
        use=use,
        holds=holds,
    )


def _sentence(mount: str, steps: list[UnzipStep], runs_away_m: float | None, known: bool, system: str) -> str:
    told = next((step for step in steps if abs(step.opened_m - TOLD_m) < _SAME), steps[-1])
    section = float(told.section.value)
    text = (
        f"an opened edge of {both(told.opened_m, 'm', system)} under {mount} leaves {100 * section:.0f} % of its "
        f"section: the edge stress rises by {100 * (1.0 / section - 1.0):.0f} % for that alone, by "
        f"{100 * (told.growth - 1.0):.0f} % with the lever that grows"
    )
    if not known:
        return text
    if runs_away_m is None:
        return (
            f"{text}; at cruise it stays below what is proven up to {both(steps[-1].opened_m, 'm', system)}"
        )
    if runs_away_m == 0.0:
        return f"{text}; at cruise the edge is over what is proven as it is"
    first = next(step for step in steps if step.opened_m == runs_away_m)
    left = "" if first.holds is None else f", and the rest holds about {lasting(float(first.holds.value))}"
    return f"{text}; from {both(runs_away_m, 'm', system)} on cruise tears it open strip by strip{left}"
