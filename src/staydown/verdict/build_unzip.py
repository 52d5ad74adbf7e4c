"""Builds how a pad would unzip: its pulled edge lets go strip by strip, and at each width the group is solved anew.

What is left of the pad is pried harder, and gives more, so that the other mounts take over some of its pull. Either
the edge comes to rest, or it runs through and the mount is lost. Loads and bounds as for lost mounts: cruise and gusts,
no factor on them. A model: it never lifts a verdict.
"""

from __future__ import annotations

import math

import numpy as np

from staydown.foundation.numbers import Number, at
from staydown.spread import foot_laws, opening_laws
from staydown.spread.lost_mounts import build_lost_mounts, on_rest
from staydown.spread.opened_foot import build_opened_foot
from staydown.verdict import redundancy_laws
from staydown.verdict.build_rest import Work
from staydown.verdict.checks import HIGH
from staydown.verdict.rest import Redundancy
from staydown.verdict.rest_strength import uses
from staydown.verdict.unzip import Opening, OtherMount, Unzip, UnzipStep
from staydown.verdict.unzip_text import unzip_sentence

STRIP_m = 5e-3  # width that lets go at a time; common practice, no source
FIRST_STRIPS = 2  # followed under any pad: 10 mm is what people find with a card; common practice, no source
MOST_STRIPS = 20  # wide pads let go in wider strips
_SAME = 1e-9


def widths_m(side_m: float) -> tuple[float, ...]:
    """Return the opened widths that are followed under a pad: none, the first strips, then on to its far edge.

    Examples
    --------
    >>> [round(1e3 * width) for width in widths_m(0.03)], [round(1e3 * width) for width in widths_m(0.3)][:5]
    ([0, 5, 10, 15, 20, 25], [0, 5, 10, 15, 30])
    """
    strip = STRIP_m * math.ceil(side_m / (MOST_STRIPS * STRIP_m) - _SAME)
    every = (
        *(STRIP_m * n for n in range(FIRST_STRIPS + 1)),
        *(strip * n for n in range(1, MOST_STRIPS + 1)),
    )
    return tuple(sorted({round(width, 9) for width in every if width < side_m - _SAME}))


def build_unzip(work: Work, redundancy: Redundancy, system: str) -> Unzip | None:
    """Return how the most used mount would unzip; None where none is pulled or its pad is too short to be followed.

    Parameters
    ----------
    work : Work
        Springs, cases and what is proven, as for lost mounts.
    redundancy : Redundancy
        What is left after each single loss; the slope of life over stress.
    system : str
        "metric" or "us".
    """
    group = work.group
    whole = on_rest(build_lost_mounts(group, [()]), 1.0, work.strength.shear_counts)
    use = uses(work.strength, whole)[0][0]
    ranked = whole.peak_Pa[0] if np.isnan(use).any() else use
    mount, column = (int(n) for n in np.unravel_index(ranked.argmax(), ranked.shape))
    widths = widths_m(float(group.bend.side_m[0, mount]))
    if whole.peak_Pa[0, mount, column] <= 0.0 or len(widths) < 2:
        return None
    opened = build_opened_foot(group, mount, widths, work.strength.shear_counts)
    bond, link = uses(work.strength, opened.worst)
    opening = Opening(work=work, opened=opened, bond=bond, use=np.maximum(bond, link), slope=redundancy.slope)
    steps = tuple(_step(opening, number, column) for number in range(len(widths)))
    used = [(step.opened_m, step.use) for step in steps if step.use is not None]
    runs_away_m = next((width for width, share in used if share > 1.0), None)
    rests_m = (
        None
        if runs_away_m is None
        else next((width for width, share in used if width > runs_away_m and share <= 1.0), None)
    )
    lost = redundancy.singles[mount] if runs_away_m is not None and rests_m is None else None
    return Unzip(
        mount=group.mounts[mount],
        index=(work.rows[column], HIGH, mount),
        steps=steps,
        runs_away_m=runs_away_m,
        rests_m=rests_m,
        lost=lost,
        known=bool(used),
        sentence=unzip_sentence(steps, (runs_away_m, rests_m), group.mounts[mount], lost, work.table, system),
        opening=opening,
    )


def _step(opening: Opening, number: int, first: int) -> UnzipStep:
    """Return one opened width, in the case and way of joining that use the foot most there."""
    work, opened, mount = opening.work, opening.opened, opening.opened.mount
    worst, bond = opened.worst, opening.bond[number, mount]
    known = not np.isnan(opening.bond[:, mount]).any()
    column = int((bond if known else worst.peak_Pa[number, mount]).argmax())
    row = int(worst.solution[number, mount, column])
    width, side = float(opened.opened_m[number]), float(work.group.bend.side_m[0, mount])
    pulls = opened.pads[2, :, row, :, column]
    cruise = float(bond[work.cruise].max()) if known else 0.0
    return UnzipStep(
        opened_m=width,
        case=work.rows[column],
        at=(number, row, column),
        bonded=float(opening_laws.share_bonded(foot_laws.side_left(side, width), side)),
        section=float(foot_laws.section_left(side, width)),
        stiffness_N_per_m=float(opened.spring_N_per_m[number, row, column]),
        pull_N=float(pulls[number, mount]),
        handed_on_N=float(opening_laws.pull_handed_on(pulls[0, mount], pulls[number, mount])),
        pulls_N=tuple(float(force) for force in pulls[number]),
        peak_Pa=float(worst.peak_Pa[number, mount, column]),
        growth=float(worst.peak_Pa[number, mount, first] / worst.peak_Pa[0, mount, first]),
        use=float(bond[column]) if known else None,
        holds_s=float(redundancy_laws.life_at_use(_lasts_s(work), cruise, _plain(opening.slope)))
        if cruise > 0.0
        else None,
        other=_other(opening, number),
    )


def _lasts_s(work: Work) -> float:
    return _plain(next(case.lasts for case in work.table.cases if case.name == "cruise"))


def _plain(number: Number) -> float:
    return at(number, (0, 0, 0))


def _other(opening: Opening, number: int) -> OtherMount | None:
    """Return the most used mount beside the one that opens, by stress where something of it is not proven."""
    work, mount, worst = opening.work, opening.opened.mount, opening.opened.worst
    if len(work.group.mounts) == 1:
        return None
    use = np.delete(opening.use[number], mount, axis=0)
    known = not np.isnan(use).any()
    ranked = use if known else np.delete(worst.peak_Pa[number], mount, axis=0)
    other, column = (int(n) for n in np.unravel_index(ranked.argmax(), ranked.shape))
    place = other + (other >= mount)
    return OtherMount(
        mount=work.group.mounts[place],
        case=work.rows[column],
        use=float(use[other, column]) if known else None,
        force_N=float(worst.force_N[number, place, column]),
    )
