"""Fills the stress-time chart of one item: one panel for its hottest and one for its coldest deciding case."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Mode, Season
from staydown.foundation.quantities import lasting, quantity_with_unit
from staydown.outputs.amounts import amount, case_name, one
from staydown.outputs.columns import clean
from staydown.outputs.most_used import Pick, pulling_cases, worst_pick
from staydown.pictures.picture import Picture
from staydown.pictures.stress_time import CouponPoint, Curve, DemandPoint, Panel, stress_time
from staydown.strength.bound_at import bounds_at
from staydown.strength.capacity import ModeCapacity, reach_of
from staydown.strength.evidence_level import static_life_s
from staydown.strength.trials import tested_stress
from staydown.verdict.checks import HIGH

POINTS = 33  # of a curve
FIRST_s, LAST_s = 0.5, 1.0e8
MOST_NAMED = 3
FAINT = 1e-3  # of the largest demand; a smaller one is not drawn, so that it does not stretch the scale
APART = 1.35  # names of demands stand at least this factor apart


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    assessment: Assessment
    mounted: Mounted
    capacity: ModeCapacity
    mode: Mode
    slope: float

    @property
    def system(self) -> str:
        return self.assessment.job.job.show

    def shown(self, stress_Pa: float) -> float:
        """Return a stress in the unit of the chart."""
        quantity = quantity_with_unit("Pa")
        return stress_Pa * (quantity.metric[1] if self.system == "metric" else quantity.us[1])


def stress_time_of(assessment: Assessment, assessed: ItemAssessment, mode: Mode) -> Picture | None:
    """Return the chart of one item in one mode, None where no coupon of that mode counts."""
    made = stress_panels(assessment, assessed, mode)
    if made is None:
        return None
    panels, alt = made
    quantity = quantity_with_unit("Pa")
    unit = quantity.metric[0] if assessment.job.job.show == "metric" else quantity.us[0]
    name = f"{clean(assessed.item.tape)} on {assessed.standing.surface.name}, {mode}"
    return stress_time(name, panels, unit, alt)


def stress_panels(
    assessment: Assessment, assessed: ItemAssessment, mode: Mode
) -> tuple[tuple[Panel, ...], str] | None:
    """Return the panels of that chart, stresses in the person's unit, and what they show in words."""
    mounted = assessed.mounted
    if mounted is None or mode not in mounted.capacity:
        return None
    work = _Work(
        assessment=assessment,
        mounted=mounted,
        capacity=mounted.capacity[mode],
        mode=mode,
        slope=assessed.standing.tape.slope.likely,
    )
    panels, told = [], []
    for season in ("hot", "cold"):
        found = _deciding(work, season)
        if found is not None:
            panel = _panel(work, found)
            panels.append(panel)
            told.append(_told(panel, work, found))
    return (tuple(panels), " ".join(told)) if panels else None


def _deciding(work: _Work, season: Season) -> Pick | None:
    rows = [
        number
        for number in pulling_cases(work.mounted)
        if work.mounted.table.cases[number].exposure.season == season
    ]
    return worst_pick(work.mounted, cases=rows) if rows else None


def _panel(work: _Work, decides: Pick) -> Panel:
    temperature_K = decides.temperature_K
    planning = work.assessment.cards.planning
    reach = reach_of(planning)
    times = np.geomspace(FIRST_s, LAST_s, POINTS)
    pairs = tuple((float(t), float(temperature_K)) for t in times)
    belief = work.capacity.belief
    bounds = bounds_at(
        belief,
        pairs,
        float(work.mounted.content.value),
        float(planning["confidence"].decided.value),
        slope=work.slope,
        coldest_K=work.assessment.job.climate.coldest_K,
        reach=reach,
    )
    low, high = (belief.strength_quantile(pairs, 0.5, share) for share in (0.05, 0.95))
    wet = float(work.capacity.wet.value)
    curve = tuple(
        Curve(
            lasts_s=float(t),
            low=work.shown(float(one_low)),
            high=work.shown(float(one_high)),
            bound=_known(work.shown(bound.stress_Pa)),
            proven=None if bound.level == "none" else _known(work.shown(bound.stress_Pa * wet)),
        )
        for t, one_low, one_high, bound in zip(times, low, high, bounds, strict=True)
    )
    levels = [bound.level for bound in bounds]
    return Panel(
        title=f"{decides_season(work, decides)}, belief at {amount(temperature_K, 'K', work.system)}",
        coupons=_coupons(work, temperature_K, reach.cooler_K, cold=decides_season(work, decides) == "cold"),
        curve=curve,
        demands=_demands(work, decides),
        covered_s=max(
            (float(t) for t, level in zip(times, levels, strict=True) if level == "covered"), default=0.0
        ),
        inferred_s=max(
            (float(t) for t, level in zip(times, levels, strict=True) if level != "none"), default=0.0
        ),
    )


def decides_season(work: _Work, decides: Pick) -> str:
    """Return the season of a case, as the panel's title says it."""
    return work.mounted.table.cases[decides.case].exposure.season


def _known(value: float) -> float | None:
    return value if math.isfinite(value) and value > 0.0 else None


def _coupons(work: _Work, temperature_K: float, reach_K: float, *, cold: bool) -> tuple[CouponPoint, ...]:
    """Return the coupons of the mode; those as warm as the panel (in the cold, any as cold as the climate) speak."""
    group = work.mounted.groups[work.mode]

    def speaks(coupon: Coupon) -> bool:
        if coupon.result == "spoiled":
            return False
        if cold:
            return coupon.temperature_K <= work.assessment.job.climate.coldest_K + reach_K
        return coupon.temperature_K >= temperature_K - reach_K

    return tuple(
        CouponPoint(
            name=clean(coupon.name),
            lasts_s=max(static_life_s(coupon, work.slope), 0.05),
            stress=work.shown(tested_stress(coupon)),
            result=coupon.result,
            speaks=speaks(coupon),
        )
        for coupon in (*group.valid, *group.conditioned, *group.spoiled)
    )


def _demands(work: _Work, decides: Pick) -> tuple[DemandPoint, ...]:
    """Return the largest stress of every case of the season, the most used named as far as names stay apart.

    A case that hardly stresses the bond in this mode is left out: on a scale of powers it would rule the picture.
    """
    mounted = work.mounted
    number = mounted.demands.peak_tension if work.mode == "tension" else mounted.demands.shear
    shape = mounted.checks.evidence.shape
    stress = np.broadcast_to(np.asarray(number.value, dtype=float), shape)[:, HIGH, :].max(axis=1)
    use = np.nan_to_num(mounted.checks.use_at_high(), nan=9e9).max(axis=1)
    season = decides_season(work, decides)
    rows = [r for r in pulling_cases(mounted) if mounted.table.cases[r].exposure.season == season]
    most = max((float(stress[row]) for row in rows), default=0.0)
    rows = [row for row in rows if stress[row] <= 0.0 or stress[row] >= FAINT * most]
    points, named = [], list[tuple[float, float]]()
    for row in sorted(rows, key=lambda r: -use[r]):
        case, value = mounted.table.cases[row], work.shown(float(stress[row]))
        place = (math.log(case.exposure.lasts_s), math.log(max(value, 1e-9)))
        free = all(abs(place[1] - y) > math.log(APART) or abs(place[0] - x) > 6.0 for x, y in named)
        words = ""
        if free and len(named) < MOST_NAMED and value > 0.0:
            named.append(place)
            words = case.name
        points.append(DemandPoint(lasts_s=case.exposure.lasts_s, stress=value, words=words))
    return tuple(points)


def _told(panel: Panel, work: _Work, decides: Pick) -> str:
    case = work.mounted.table.cases[decides.case]
    answer = work.capacity.answer(decides.case, decides.mount)
    proven = float(answer.proven.value)
    shown = "nothing proven" if math.isnan(proven) else f"{amount(proven, 'Pa', work.system)} proven"
    stress = decides.peak_Pa if work.mode == "tension" else decides.shear_Pa
    covered = "nothing" if panel.covered_s == 0.0 else f"up to {lasting(panel.covered_s)}"
    return (
        f"{panel.title}: {sum(point.speaks for point in panel.coupons)} of {len(panel.coupons)} coupons are as "
        f"{'cold' if case.exposure.season == 'cold' else 'warm'}; tests cover {covered}; {case_name(case)} asks "
        f"{one(stress, 'Pa', work.system)} for {lasting(case.exposure.lasts_s)}, {shown}."
    )
