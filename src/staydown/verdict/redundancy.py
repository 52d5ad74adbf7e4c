"""Builds what one lost mount, or two, does to the item: does the rest hold, up to what speed, what goes next, and when.

Loads are those of cruise and gust as they are, no factor on them and the whole weight; strengths are lower bounds.
Order and warning time are a model: they never lift a verdict.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from staydown.evidence.chain import ChainLink
from staydown.foundation.exposure import Exposure, Mode
from staydown.foundation.numbers import Number, derive, given, typed
from staydown.job.records import Travel
from staydown.library.cards import TapeClassCard
from staydown.loads.load_case import CaseTable, LoadCase
from staydown.spread.lost_mounts import (
    Group,
    Loss,
    LostMounts,
    OnRest,
    build_lost_mounts,
    on_rest,
    plain_loads,
    singles_and_pairs,
)
from staydown.strength.capacity import ModeCapacity
from staydown.strength.prior_laws import REFERENCE_K
from staydown.strength.quantiles import weighted_quantiles
from staydown.strength.rupture_laws import HOUR_s
from staydown.verdict import redundancy_laws as laws
from staydown.verdict.checks import Checks
from staydown.verdict.redundancy_text import redundancy_sentences
from staydown.verdict.rest import Redundancy, Rest, Step
from staydown.verdict.rest_strength import RestStrength, rest_strength, uses, wind_share

Array = NDArray[np.float64]

JUDGED = ("cruise", "gust")
PAIRS_SHOWN = 3
MOST_STEPS = 4  # of the order in which mounts go; common practice, no source
AT_ONCE_s = 1.0  # a mount that holds no longer than this gives no warning; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """What all losses share. cruise: which of the judged rows are cruise. road: speed on the road by case name."""

    group: Group
    table: CaseTable
    rows: tuple[int, ...]
    cruise: NDArray[np.bool_]
    strength: RestStrength
    road: dict[str, Number]
    slope: Number

    def case(self, column: int) -> LoadCase:
        return self.table.cases[self.rows[column]]


def build_redundancy(
    group: Group,
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
    group : Group
        The item's mounts as springs.
    table : CaseTable
        Its cases.
    checks : Checks
        What is proven in tension and shear for each case (and mount).
    links : sequence of ChainLink
        The chain; links with a strength of their own are judged beside the bond.
    travel : Travel
        Speeds on the road in cruise and gust.
    slope : Number
        Slope of life over stress. [1]
    system : str
        "metric" or "us": how the sentences show numbers first.
    """
    rows = tuple(n for n, case in enumerate(table.cases) if case.name in JUDGED)
    loads = plain_loads(table, rows)
    work = _Work(
        group=group,
        table=table,
        rows=rows,
        cruise=np.array([table.cases[row].name == "cruise" for row in rows]),
        strength=rest_strength(table, group.mounts, checks, links, rows),
        road={
            "cruise": typed(travel.cruise_speed_m_per_s, "m/s", "travel.cruise_speed"),
            "gust": typed(travel.top_speed_m_per_s, "m/s", "travel.top_speed"),
        },
        slope=slope,
    )
    losses = singles_and_pairs(len(group.mounts))
    alone = build_lost_mounts(group, loads, [(), *(loss for loss in losses if len(loss) == 1)])
    on = on_rest(alone, 1.0)
    whole = _most_at_cruise(work, on)[0]
    # solutions that govern no mount while one or none is lost are left out from here on
    counts = sorted({int(n) for n in np.unique(on.solution)} | {int(np.argmax(group.clamped))})
    fewer = group.only(counts)
    singles = _rests(work, alone.of(range(1, len(alone.losses))).only(counts), whole)
    two = [loss for loss in losses if len(loss) == 2]
    pairs: tuple[Rest, ...] = ()
    if two:
        both = build_lost_mounts(fewer, loads, two)
        pairs = _rests(work, both.of(_worst(work, both)), whole)

    def reload(loss: Loss) -> OnRest:
        return on_rest(build_lost_mounts(fewer, loads, [loss]), 1.0)

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
    return given(slope, "1", "coupons", f"median of belief from {len(belief.coupons)} coupons in tension")


def _worst(work: _Work, lost: LostMounts) -> list[int]:
    """Return the losses after which the rest is used most, by index; by stress where nothing is proven."""
    on = on_rest(lost, 1.0)
    most = np.maximum(*uses(work.strength, on)).max(axis=(1, 2))
    peak = on.peak_Pa.max(axis=(1, 2))
    order = np.lexsort((-peak, -np.nan_to_num(most, nan=np.inf)))
    return [int(n) for n in order[:PAIRS_SHOWN]]


def _most_at_cruise(work: _Work, on: OnRest) -> list[float | None]:
    """Return for each loss the use of the most used mount at cruise; None where it is not known."""
    most = np.maximum(*uses(work.strength, on))[:, :, work.cruise].max(axis=(1, 2))
    return [None if math.isnan(value) else float(value) for value in most]


def _rests(work: _Work, lost: LostMounts, whole: float | None) -> tuple[Rest, ...]:
    """Return one record for each loss. whole: use at cruise while no mount is lost."""
    on = on_rest(lost, 1.0)
    bond, link = uses(work.strength, on)
    at_cruise = _most_at_cruise(work, on)
    share = wind_share(work.strength, lost)
    return tuple(
        _rest(work, loss, (bond[n], link[n]), on.peak_Pa[n], share[n], (whole, at_cruise[n]))
        for n, loss in enumerate(lost.losses)
    )


def _rest(
    work: _Work,
    loss: Loss,
    found: tuple[Array, Array],
    peak_Pa: Array,
    share: Array,
    at_cruise: tuple[float | None, float | None],
) -> Rest:
    mounts = work.group.mounts
    lost = tuple(mounts[mount] for mount in loss)
    if len(loss) == len(mounts):
        return Rest(
            lost=lost, use=None, case=work.rows[0], mount=None, part="", holds=False,
            air_speed=None, road_speed=None, warning=None, life_left=None,
        )  # fmt: skip
    use = np.maximum(*found)
    unknown = np.isnan(use)
    over = bool(np.nanmax(use, initial=0.0) > 1.0)
    # where some use is not known and none is over, the largest stress without proof is named
    ranked = np.where(unknown, peak_Pa, -1.0) if unknown.any() and not over else np.nan_to_num(use, nan=-1.0)
    mount, column = (int(n) for n in np.unravel_index(ranked.argmax(), ranked.shape))
    known = not unknown[mount, column]
    air, road = _speeds(work, share)
    before, after = at_cruise
    return Rest(
        lost=lost,
        use=float(use[mount, column]) if known else None,
        case=work.rows[column],
        mount=mounts[mount],
        part=work.strength.parts[mount]
        if known and found[1][mount, column] > found[0][mount, column]
        else "bond",
        holds=False if over else None if unknown.any() else True,
        air_speed=air,
        road_speed=road,
        warning=None if not after else _warning(work, after),
        life_left=None
        if not before or not after
        else derive(
            laws.life_left_share,
            use_before=given(before, "1", "calculation", "most used mount at cruise, none lost"),
            use_after=given(after, "1", "calculation", f"most used mount at cruise, {_named(lost)} lost"),
            slope=work.slope,
        ),
    )


def _speeds(work: _Work, share: Array) -> tuple[Number | None, Number | None]:
    """Return the speeds of air and of the road at which the rest is used to 100 %, in the case that allows least."""
    if np.isnan(share).any():
        return None, None
    air: list[Number] = []
    road: list[Number] = []
    for column, value in enumerate(share):
        case = work.case(column)
        wind = given(
            float(value), "1", "calculation", f"wind loads of {case.name} at which the rest is used up"
        )
        limit = derive(laws.air_speed_at_share, air_speed_m_per_s=case.air_speed, wind_share=wind)
        air.append(limit)
        road.append(
            derive(
                laws.road_speed_at_limit,
                limit_m_per_s=limit,
                air_speed_m_per_s=case.air_speed,
                road_speed_m_per_s=work.road[case.name],
            )
        )
    return min(air, key=_value), min(road, key=_value)


def _order(work: _Work, reload: Callable[[Loss], OnRest]) -> tuple[tuple[Step, ...], bool]:
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
        warning = _warning(work, float(use[next_one])) if known and use[next_one] > 0.0 else None
        steps.append(
            Step(mount=mounts[next_one], use=float(use[next_one]) if known else None, warning=warning)
        )
        lost.append(next_one)
        if warning is not None and _value(warning) < AT_ONCE_s:
            return tuple(steps), True
    return tuple(steps), False


def _warning(work: _Work, use: float) -> Number:
    lasts = next(case.lasts for case in work.table.cases if case.name == "cruise")
    return derive(
        laws.life_at_use,
        lasts_s=lasts,
        use=given(use, "1", "calculation", "most used mount that is left, at cruise"),
        slope=work.slope,
    )


def _value(number: Number) -> float:
    return float(np.asarray(number.value))


def _named(names: Sequence[str]) -> str:
    return " and ".join(names)
