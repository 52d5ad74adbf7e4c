"""Builds the record of what is left after each loss: the use of the rest, the speed it stands, the warning it gives."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Number, derive, given
from staydown.loads.load_case import CaseTable, LoadCase
from staydown.spread.lost_mounts import Loss, LostMounts, OnRest, on_rest
from staydown.spread.spring_group import SpringGroup
from staydown.verdict import redundancy_laws as laws
from staydown.verdict import use_laws
from staydown.verdict.checks import HIGH, Checks
from staydown.verdict.rest import Rest
from staydown.verdict.rest_strength import RestStrength, uses, wind_share

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What all losses share. cruise: which of the judged rows are cruise. road: speed on the road by case name."""

    group: SpringGroup
    table: CaseTable
    checks: Checks
    rows: tuple[int, ...]
    cruise: NDArray[np.bool_]
    strength: RestStrength
    road: dict[str, Number]
    slope: Number

    def case(self, column: int) -> LoadCase:
        """Return the case of one column of the judged rows."""
        return self.table.cases[self.rows[column]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Carried:
    """What each mount carries after one loss, over (mount, case). [Pa, N/m, N]"""

    peak_Pa: Array
    shear_Pa: Array
    peel_N_per_m: Array
    force_N: Array

    @staticmethod
    def of(on: OnRest, loss: int) -> _Carried:
        return _Carried(
            peak_Pa=on.peak_Pa[loss],
            shear_Pa=on.shear_Pa[loss],
            peel_N_per_m=on.peel_N_per_m[loss],
            force_N=on.force_N[loss],
        )


def most_at_cruise(work: Work, on: OnRest) -> list[float | None]:
    """Return for each loss the use of the most used mount at cruise; None where it is not known."""
    most = np.maximum(*uses(work.strength, on))[:, :, work.cruise].max(axis=(1, 2))
    return [None if math.isnan(value) else float(value) for value in most]


def rests(work: Work, lost: LostMounts, whole: float | None) -> tuple[Rest, ...]:
    """Return one record for each loss. whole: use at cruise while no mount is lost."""
    on = on_rest(lost, 1.0, work.strength.shear_counts)
    bond, link = uses(work.strength, on)
    at_cruise = most_at_cruise(work, on)
    share = wind_share(work.strength, lost)
    return tuple(
        _rest(work, loss, (bond[n], link[n]), _Carried.of(on, n), share[n], (whole, at_cruise[n]))
        for n, loss in enumerate(lost.losses)
    )


def _rest(
    work: Work,
    loss: Loss,
    found: tuple[Array, Array],
    carried: _Carried,
    share: Array,
    at_cruise: tuple[float | None, float | None],
) -> Rest:
    mounts = work.group.mounts
    lost = tuple(mounts[mount] for mount in loss)
    if len(loss) == len(mounts):
        return Rest(
            lost=lost, use=None, trail=None, index=(work.rows[0], HIGH, 0), case=work.rows[0],
            mount=None, part="", holds=False,
            air_speed=None, road_speed=None, warning=None, life_left=None,
        )  # fmt: skip
    use = np.maximum(*found)
    unknown = np.isnan(use)
    over = bool(np.nanmax(use, initial=0.0) > 1.0)
    # where some use is not known and none is over, the largest stress without proof is named
    ranked = (
        np.where(unknown, carried.peak_Pa, -1.0)
        if unknown.any() and not over
        else np.nan_to_num(use, nan=-1.0)
    )
    mount, column = (int(n) for n in np.unravel_index(ranked.argmax(), ranked.shape))
    known = not unknown[mount, column]
    bonded = not known or bool(found[1][mount, column] <= found[0][mount, column])
    air, road = _speeds(work, share)
    before, after = at_cruise
    return Rest(
        lost=lost,
        use=float(use[mount, column]) if known else None,
        trail=_trail(work, carried, mount, column, lost, bonded=bonded) if known else None,
        index=(work.rows[column], HIGH, mount),
        case=work.rows[column],
        mount=mounts[mount],
        part="bond" if bonded else work.strength.parts[mount],
        holds=False if over else None if unknown.any() else True,
        air_speed=air,
        road_speed=road,
        warning=None if not after else warning_at(work, after),
        life_left=None
        if not before or not after
        else derive(
            laws.life_left_share,
            use_before=given(before, "1", "calculation", "most used mount at cruise, none lost"),
            use_after=given(after, "1", "calculation", f"most used mount at cruise, {_named(lost)} lost"),
            slope=work.slope,
        ),
    )


def _trail(
    work: Work, carried: _Carried, mount: int, column: int, lost: Sequence[str], *, bonded: bool
) -> Number:
    """Return the use of one mount of the rest as a number that explains itself."""
    case = work.case(column)
    where = f"{work.group.mounts[mount]} in {case.name}, {case.exposure.season}, {_named(lost)} lost; no load factor"

    def solved(value: Array, unit: str, what: str) -> Number:
        return given(float(value[mount, column]), unit, "calculation", f"{what} on {where}")

    if not bonded:
        strength = given(
            float(work.strength.link_N[mount]), "N", "calculation", "weakest link with a strength of its own"
        )
        return derive(
            use_laws.link_use, demand_N=solved(carried.force_N, "N", "pull and shear"), strength_N=strength
        )
    bond = derive(
        use_laws.combined_use,
        tension_use=derive(
            use_laws.stress_use,
            demand_Pa=solved(carried.peak_Pa, "Pa", "peak tension"),
            proven_Pa=work.checks.tension_proven,
        ),
        shear_use=derive(
            use_laws.stress_use,
            demand_Pa=solved(carried.shear_Pa, "Pa", "shear"),
            proven_Pa=work.checks.shear_proven,
        ),
    )
    if carried.peel_N_per_m[mount, column] == 0.0:
        return bond
    peel = derive(
        use_laws.peel_use,
        line_load_N_per_m=solved(carried.peel_N_per_m, "N/m", "line load at the edge"),
        proven_N_per_m=work.checks.peel_proven,
    )
    return derive(use_laws.larger_use, first_use=bond, second_use=peel)


def _speeds(work: Work, share: Array) -> tuple[Number | None, Number | None]:
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
    return min(air, key=value_of), min(road, key=value_of)


def warning_at(work: Work, use: float) -> Number:
    """Return how long the most used mount holds at cruise. [s]"""
    lasts = next(case.lasts for case in work.table.cases if case.name == "cruise")
    return derive(
        laws.life_at_use,
        lasts_s=lasts,
        use=given(use, "1", "calculation", "most used mount that is left, at cruise"),
        slope=work.slope,
    )


def value_of(number: Number) -> float:
    """Return the value of a number that stands alone."""
    return float(np.asarray(number.value))


def _named(names: Sequence[str]) -> str:
    return " and ".join(names)
