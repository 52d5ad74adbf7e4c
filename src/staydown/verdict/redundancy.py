"""Builds what one lost mount, or two, does to the item: does the rest hold, up to what speed, what goes next, when.

Loads are those of cruise and of gusts, from ahead and from the sides, as they are: no factor on them, the whole
weight. Strengths are lower bounds.
Order and warning time are a model: they never lift a verdict.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from staydown.evidence.chain import ChainLink
from staydown.foundation.counted import counted
from staydown.foundation.exposure import Exposure, Mode
from staydown.foundation.numbers import Number, given, typed
from staydown.job.records import Travel
from staydown.library.cards import TapeClassCard
from staydown.loads.load_case import CaseTable
from staydown.spread.lost_mounts import (
    Loss,
    LostMounts,
    OnRest,
    build_lost_mounts,
    on_rest,
    singles_and_pairs,
)
from staydown.spread.spring_group import SpringGroup
from staydown.strength.capacity import ModeCapacity
from staydown.strength.prior_laws import REFERENCE_K
from staydown.strength.quantiles import weighted_quantiles
from staydown.strength.rupture_laws import HOUR_s
from staydown.verdict.build_rest import Work, most_at_cruise, rests, value_of, warning_at
from staydown.verdict.checks import Checks
from staydown.verdict.redundancy_text import redundancy_sentences
from staydown.verdict.rest import Redundancy, Rest, Step
from staydown.verdict.rest_strength import rest_strength, uses

GUSTS = ("gust", "crosswind left", "crosswind right")  # a gust from the side is a gust too
JUDGED = ("cruise", *GUSTS)
PAIRS_SHOWN = 3
MOST_STEPS = 4  # of the order in which mounts go; common practice, no source
AT_ONCE_s = 1.0  # a mount that holds no longer than this gives no warning; common practice, no source


def judged(table: CaseTable) -> tuple[int, ...]:
    """Return the rows of cruise and of gusts from ahead and from the sides, hot and cold."""
    return tuple(n for n, case in enumerate(table.cases) if case.name in JUDGED)


def build_redundancy(
    group: SpringGroup,
    table: CaseTable,
    checks: Checks,
    links: Sequence[ChainLink],
    travel: Travel,
    slope: Number,
    system: str,
) -> Redundancy:
    """Return what every single loss and the worst pairs do to an item.

    Parameters
    ----------
    group : SpringGroup
        The item's mounts as springs, in the cases of `judged`.
    table : CaseTable
        Its cases.
    checks : Checks
        What is proven in tension and shear for each case (and mount).
    links : sequence of ChainLink
        The chain; links with a strength of their own are judged beside the bond.
    travel : Travel
        Speeds on the road in cruise and in gusts.
    slope : Number
        Slope of life over stress. [1]
    system : str
        "metric" or "us": how the sentences show numbers first.
    """
    work = lay_out_work(group, table, checks, links, travel, slope)
    losses, counts = singles_and_pairs(len(group.mounts)), work.strength.shear_counts
    whole = most_at_cruise(work, on_rest(build_lost_mounts(group, [()]), 1.0, counts))[0]
    alone = build_lost_mounts(group, [loss for loss in losses if len(loss) == 1])
    on = on_rest(alone, 1.0, counts)
    singles = rests(work, alone.only([int(n) for n in np.unique(on.solution)]), whole)
    # for pairs and order only the solutions that govern a most stressed mount while one is lost, and the clamped
    # ones: a hinged item may be free to turn on what a pair leaves, and a free item holds nothing
    most = on.peak_Pa.argmax(axis=1)[:, None]
    governing = np.unique(np.take_along_axis(on.solution, most, axis=1))
    fewer = group.only([int(n) for n in np.union1d(governing, np.flatnonzero(group.clamped > 0))])
    two = [loss for loss in losses if len(loss) == 2]
    pairs: tuple[Rest, ...] = ()
    if two:
        both = build_lost_mounts(fewer, two)
        pairs = rests(work, both.of(_worst(work, both)), whole)

    def reload(loss: Loss) -> OnRest:
        return on_rest(build_lost_mounts(fewer, [loss]), 1.0, counts)

    order, follow = _order(work, reload)
    holds = {rest.holds for rest in singles}
    redundancy = Redundancy(
        redundant=False if False in holds else None if None in holds else True,
        whole_cruise_use=whole,
        singles=singles,
        pairs=pairs,
        order=order,
        follow=follow,
        slope=slope,
    )
    return replace(redundancy, sentences=redundancy_sentences(redundancy, table, system))


def stands_one_lost(
    group: SpringGroup, table: CaseTable, checks: Checks, links: Sequence[ChainLink]
) -> bool | None:
    """Return whether the rest holds whichever one mount is lost, None where that is not known: the short way.

    The same as `build_redundancy` says, without what each loss leaves; parameters as there.
    """
    if len(group.mounts) < 2:
        return False
    strength = rest_strength(table, group.mounts, checks, links, group.cases)
    alone = build_lost_mounts(group, [(mount,) for mount in range(len(group.mounts))])
    most = np.maximum(*uses(strength, on_rest(alone, 1.0, strength.shear_counts)))
    if np.nanmax(most, initial=0.0) > 1.0:
        return False
    return None if np.isnan(most).any() else True


def lay_out_work(
    group: SpringGroup,
    table: CaseTable,
    checks: Checks,
    links: Sequence[ChainLink],
    travel: Travel,
    slope: Number,
) -> Work:
    """Return what all losses of an item share; parameters as of `build_redundancy`."""
    rows = group.cases
    return Work(
        group=group,
        table=table,
        checks=checks,
        rows=rows,
        cruise=np.array([table.cases[row].name == "cruise" for row in rows]),
        strength=rest_strength(table, group.mounts, checks, links, rows),
        road={
            "cruise": typed(travel.cruise_speed_m_per_s, "m/s", "travel.cruise_speed"),
            **{name: typed(travel.top_speed_m_per_s, "m/s", "travel.top_speed") for name in GUSTS},
        },
        slope=slope,
    )


def life_slope(capacity: Mapping[Mode, ModeCapacity], tape: TapeClassCard) -> Number:
    """Return the slope of life over stress: the middle of belief in tension, of the class without coupons. [1]"""
    tension = capacity.get("tension")
    if tension is None:
        return given(tape.slope.likely, "1", "class card", tape.slope.source, f"{tape.id}.slope")
    belief = tension.belief
    face = belief.faces[0]
    if len(belief.faces) > 1:
        hour = Exposure(lasts_s=HOUR_s, temperature_K=REFERENCE_K, season="hot")
        name = belief.deciding_face(hour, 0.9, 0.95)
        face = next(one for one in belief.faces if one.face == name)
    (slope,) = weighted_quantiles(face.part.nodes.slope, face.sample.weight, (0.5,))
    return given(
        slope, "1", "coupons", f"median of belief from {counted(len(belief.coupons), 'coupon')} in tension"
    )


def _worst(work: Work, lost: LostMounts) -> list[int]:
    """Return the losses after which the rest is used most, by index; by stress where nothing is proven."""
    on = on_rest(lost, 1.0, work.strength.shear_counts)
    most = np.maximum(*uses(work.strength, on)).max(axis=(1, 2))
    peak = on.peak_Pa.max(axis=(1, 2))
    order = np.lexsort((-peak, -np.nan_to_num(most, nan=np.inf)))
    return [int(n) for n in order[:PAIRS_SHOWN]]


def _order(work: Work, reload: Callable[[Loss], OnRest]) -> tuple[tuple[Step, ...], bool]:
    """Return the order in which mounts go at cruise, and whether those after the last listed go at once."""
    mounts = work.group.mounts
    steps: list[Step] = []
    lost: list[int] = []
    while len(lost) < len(mounts) and len(steps) < MOST_STEPS:
        on = reload(tuple(lost))
        use = np.maximum(*uses(work.strength, on))[0][:, work.cruise].max(axis=1)
        known = not np.isnan(use).any()
        ranked = use if known else on.peak_Pa[0][:, work.cruise].max(axis=1)
        ranked[lost] = -1.0
        next_one = int(ranked.argmax())
        warning = warning_at(work, float(use[next_one])) if known and use[next_one] > 0.0 else None
        steps.append(
            Step(mount=mounts[next_one], use=float(use[next_one]) if known else None, warning=warning)
        )
        lost.append(next_one)
        if warning is not None and value_of(warning) < AT_ONCE_s:
            return tuple(steps), True
    return tuple(steps), False
