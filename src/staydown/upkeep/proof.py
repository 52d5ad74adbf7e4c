"""Builds the proof pull of each foot: strong enough to say something, weak enough to do no harm."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from staydown.assess import Assessment, ItemAssessment, kept_ratios
from staydown.foundation.exposure import Exposure
from staydown.foundation.numbers import Number, at, choose, derive, given
from staydown.job.records import Mount
from staydown.loads.load_case import BANDS
from staydown.spread.build_pads import Pads, build_pads
from staydown.spread.lost_mounts import build_lost_mounts, on_rest
from staydown.spread.spring_group import build_spring_group
from staydown.strength.capacity import Answer, build_capacity
from staydown.upkeep import proof_laws as laws
from staydown.verdict.redundancy import judged

HIGH = BANDS.index("high")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofPull:
    """The proof pull of one foot. [N]

    allowed_N: pull with this, None where no pull both says something and does no harm. most_N: above it a good bond
    may be harmed. why: what it rests on. wanted, limit, bound, cruise: with their trail, over mounts, None where
    nothing is proven. lasts_s: how long it is held. [s]
    """

    foot: str
    allowed_N: float | None
    most_N: float
    lasts_s: float
    why: str
    cruise: Number
    wanted: Number
    bound: Number | None
    limit: Number | None


def proof_pulls(
    assessment: Assessment, assessed: ItemAssessment, roof_K: float | None
) -> tuple[ProofPull, ...]:
    """Return the proof pull of every foot of an item.

    Parameters
    ----------
    assessment, assessed : Assessment, ItemAssessment
        The job, and its item with mounts.
    roof_K : float or None
        The roof's temperature when it is pulled; None takes the hottest it gets. [K]

    Raises
    ------
    ValueError
        The item has no mounts.
    """
    mounted, item = assessed.mounted, assessed.item
    if mounted is None:
        raise ValueError(f"{assessed.place}: an item without mounts has nothing to pull")
    planning = assessment.cards.planning
    lasts = planning["proof_pull_duration"].decided
    warm_K = float(np.asarray(mounted.table.soak.roof_hot.value).max()) if roof_K is None else roof_K
    answer = _proven(assessment, assessed, float(lasts.value), warm_K)
    pads = build_pads(item, assessed.place, planning["lever"], planning["skin_stiffness"])
    cruise = _cruise(assessment, assessed)
    wanted = derive(
        laws.proof_pull,
        factor=planning["proof_pull_factor"].decided,
        cruise_N=cruise,
        least_N=planning["proof_pull_least"].decided,
    )
    bound = limit = None
    if answer is not None and answer.level != "none":
        bound = derive(
            laws.foot_bound,
            proven_Pa=answer.proven,
            area_m2=pads.area,
            lever_factor=_levers(item.mount, pads),
        )
        limit = derive(laws.proof_pull_limit, share=planning["proof_pull_most"].decided, bound_N=bound)
    feet = mounted.demands.feet
    bends = feet.over_bands(feet.counted)[HIGH] > 0.0
    told = [
        _of_foot(mount.name, (0, HIGH, number), wanted, cruise, bound, limit, float(lasts.value), answer)
        for number, mount in enumerate(item.mount)
    ]
    return tuple(_peeled(pull) if bent else pull for pull, bent in zip(told, bends, strict=True))


def _peeled(pull: ProofPull) -> ProofPull:
    """Return that a foot which bends is not pulled: its edge would peel, and the bound is one of straight pulls."""
    why = "the foot bends, so a pull peels its edge, and no straight pull proves that"
    return replace(pull, allowed_N=None, most_N=0.0, bound=None, limit=None, why=why)


def _of_foot(
    foot: str,
    index: tuple[int, int, int],
    wanted: Number,
    cruise: Number,
    bound: Number | None,
    limit: Number | None,
    lasts_s: float,
    answer: Answer | None,
) -> ProofPull:
    asked_N = at(wanted, index)
    most_N = 0.0 if limit is None else at(limit, index)
    if limit is None:
        why = "nothing is proven in tension for a pull of this length at this temperature"
        why += f": {answer.because}" if answer is not None and answer.because else ""
    elif asked_N > most_N:
        why = "what says something is more than does no harm: back to coupons"
    else:
        why = "enough to say something, at most half of what is proven"
    return ProofPull(
        foot=foot,
        allowed_N=asked_N if limit is not None and asked_N <= most_N else None,
        most_N=most_N,
        lasts_s=lasts_s,
        why=why,
        cruise=cruise,
        wanted=wanted,
        bound=bound,
        limit=limit,
    )


def _proven(assessment: Assessment, assessed: ItemAssessment, lasts_s: float, warm_K: float) -> Answer | None:
    """Return what is proven in tension for the pull; None where no coupon was pulled."""
    assert assessed.mounted is not None
    job = assessment.job
    capacity = build_capacity(
        assessed.mounted.groups,
        [[Exposure(lasts_s=lasts_s, temperature_K=warm_K, season="hot")]],
        kept_ratios(job, assessed.item.tape),
        assessed.standing.tape,
        assessment.cards.planning,
        content=assessed.mounted.content,
        coldest_K=job.climate.coldest_K,
    ).get("tension")
    return None if capacity is None else capacity.answer(0, 0)


def _cruise(assessment: Assessment, assessed: ItemAssessment) -> Number:
    """Return the largest force of each foot at cruise, no factor on the loads. [N], over (1, 1, mount)"""
    assert assessed.mounted is not None
    job, table = assessment.job, assessed.mounted.table
    tape = next(one for one in job.tape if one.name == assessed.item.tape)
    rows = [row for row in judged(table) if table.cases[row].name == "cruise"]
    group = build_spring_group(assessed.item, assessed.place, tape, assessment.cards, table, rows)
    force_N = on_rest(build_lost_mounts(group, [()]), 1.0).force_N[0].max(axis=1)
    return (
        choose(
            [
                given(float(one), "N", "calculation", f"{mount} at cruise, no factor on the loads")
                for mount, one in zip(group.mounts, force_N, strict=True)
            ],
            axis=2,
            why="one foot each",
        )
        if len(group.mounts) > 1
        else given(
            float(force_N[0]), "N", "calculation", f"{group.mounts[0]} at cruise, no factor on the loads"
        )
    )


def _levers(mounts: tuple[Mount, ...], pads: Pads) -> Number:
    """Return the peak over the mean of each foot's pad; where the lever's way is not known, the worse one."""
    along = derive(laws.lever_factor, lever_m=pads.lever_along, pad_side_m=pads.length)
    across = derive(laws.lever_factor, lever_m=pads.lever_across, pad_side_m=pads.width)
    ways = []
    for number, mount in enumerate(mounts):
        factors = {"along": at(along, (0, HIGH, number)), "across": at(across, (0, HIGH, number))}
        way: str = mount.lever_direction or ("along" if factors["along"] >= factors["across"] else "across")
        ways.append(given(factors[way], "1", "calculation", f"lever {way} the vehicle at {mount.name}"))
    return choose(ways, axis=2, why="one foot each") if len(ways) > 1 else ways[0]
