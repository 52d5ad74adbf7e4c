"""One belief told in numbers: parameters, curve with levels of evidence, what the prior alone and likelihood say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from staydown.evidence.group_coupons import CouponGroup
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.exposure import Exposure, Mode, SECONDS_END_s
from staydown.library.cards import TapeClassCard
from staydown.strength.ageing import AgeingFit, aged_results, fit_ageing
from staydown.strength.belief import Belief, BeliefSettings
from staydown.strength.bound_at import BoundAt, Pair, bounds_at
from staydown.strength.build_belief import believe, believe_modes
from staydown.strength.evidence_level import Reach
from staydown.strength.fits import (
    LEAST_FAILURES,
    LifeFit,
    RatioTest,
    fit_life,
    law_test,
    sharing_test,
    stress_bound,
)
from staydown.strength.priors import SheetLine

MIDDLE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked of a belief: points (lasting [s], temperature [K]), content and confidence, how it is formed.

    own: those of the points that the bond is exposed to; the one of them at which least is believed leads. Without
    any it is one of all points.
    """

    pairs: tuple[Pair, ...]
    content: float
    confidence: float
    settings: BeliefSettings
    coldest_K: float
    reach: Reach
    own: tuple[Pair, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """One point of the curve. [s, K, Pa]

    prior_only_Pa, reference_Pa: the bound of the class prior without a coupon, and under the reference prior (NaN
    where it is refused). likelihood_Pa: the bound by likelihood ratio, NaN where there is none.
    with_spoiled_Pa: the bound if the spoiled coupons counted as they ended, NaN where there are none.
    """

    lasts_s: float
    temperature_K: float
    bound: BoundAt
    prior_only_Pa: float
    reference_Pa: float
    likelihood_Pa: float
    with_spoiled_Pa: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ToldBelief:
    """A belief about one tape, surface and mode, with everything that is shown of it.

    fit: the most likely law of the face with most failures, None with fewer than two; test: that law against one
    strength for each condition. ageing: what conditioned coupons say of time and temperature, or None.
    lead: the point that is told first, chosen by its bound alone; deciding_face: the face whose own bound is lowest
    there. sharing: the test of modes sharing slope
    and temperature law, where that was asked for and can be tested.
    """

    group: CouponGroup
    belief: Belief
    curve: tuple[CurvePoint, ...]
    fit: LifeFit | None
    test: RatioTest | None
    ageing: AgeingFit | None
    lead: CurvePoint
    deciding_face: str
    sharing: RatioTest | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What else may enter a belief: typed hot ratios, lines of a data sheet by mode, whether modes share a law."""

    hot_ratios: tuple[KeptRatio, ...] = ()
    sheet: Mapping[Mode, Sequence[SheetLine]] = field(default_factory=dict)
    shared: bool = False


def tell_beliefs(
    groups: Mapping[Mode, CouponGroup], card: TapeClassCard, asked: Asked, beside: Beside
) -> tuple[ToldBelief, ...]:
    """Return what is believed of the coupons of one tape on one surface, mode by mode.

    With `shared`, the modes have slope and activation energy in common, and the assumption is tested.
    """
    counted = {mode: group for mode, group in groups.items() if group.valid}
    if not beside.shared or len(counted) < 2:
        return tuple(_tell(group, card, asked, beside, None) for group in counted.values())
    together = believe_modes(
        {mode: group.valid for mode, group in counted.items()},
        card,
        shared=True,
        settings=_in_sessions(asked.settings, tuple(counted.values())),
        sheet=beside.sheet,
    )
    trials = [max(belief.faces, key=lambda f: f.trials.failures).trials for belief in together.values()]
    test = sharing_test(trials, asked.settings.family, card.slope.likely, card.activation_energy.likely)
    return tuple(
        replace(_tell(group, card, asked, beside, together[mode]), sharing=test)
        for mode, group in counted.items()
    )


def _in_sessions(settings: BeliefSettings, groups: Sequence[CouponGroup]) -> BeliefSettings:
    """Return the settings with the batch of the feet; none where one of the groups has coupons that are not of it."""
    apart = [one for one in groups if one.bonded_in is None and one.session_told]
    of_it = [one for one in groups if one.bonded_in is not None]
    for one in (*apart, *of_it):
        return replace(settings, bonded_in_batch=one.bonded_in, session_told=one.session_told)
    return settings


def _tell(
    group: CouponGroup, card: TapeClassCard, asked: Asked, beside: Beside, belief: Belief | None
) -> ToldBelief:
    hot = tuple(r for r in beside.hot_ratios if r.condition == "hot" and r.mode == group.mode)
    settings = _in_sessions(asked.settings, (group,))
    if belief is None:
        belief = believe(
            group.valid,
            card,
            mode=group.mode,
            settings=settings,
            sheet=beside.sheet.get(group.mode, ()),
            hot_ratios=hot,
        )
    prior = believe((), card, mode=group.mode, settings=replace(settings, prior="class"))
    reference = believe(group.valid, card, mode=group.mode, settings=replace(settings, prior="reference"))
    slope = card.slope.likely
    bounds = bounds_at(
        belief,
        asked.pairs,
        asked.content,
        asked.confidence,
        slope=slope,
        coldest_K=asked.coldest_K,
        reach=asked.reach,
    )
    prior_bounds = prior.strength_quantile(asked.pairs, asked.content, 1.0 - asked.confidence)
    reference_bounds = (
        np.full(len(asked.pairs), np.nan)
        if reference.refusals
        else reference.strength_quantile(asked.pairs, asked.content, 1.0 - asked.confidence)
    )
    face = max(belief.faces, key=lambda face: face.trials.failures)
    fit = None
    if face.trials.failures >= LEAST_FAILURES:
        fit = fit_life(face.trials, asked.settings.family, slope, card.activation_energy.likely)
    likelihood = [
        float("nan")
        if fit is None
        else stress_bound(face.trials, fit, *pair, asked.content, asked.confidence)
        for pair in asked.pairs
    ]
    spoiled = _with_spoiled(group, card, asked, hot)
    curve = tuple(
        CurvePoint(
            lasts_s=pair[0],
            temperature_K=pair[1],
            bound=bound,
            prior_only_Pa=float(alone),
            reference_Pa=float(plain),
            likelihood_Pa=likely,
            with_spoiled_Pa=float(counted),
        )
        for pair, bound, alone, plain, likely, counted in zip(
            asked.pairs, bounds, prior_bounds, reference_bounds, likelihood, spoiled, strict=True
        )
    )
    lead = _lead(curve, asked)
    return ToldBelief(
        group=group,
        belief=belief,
        curve=curve,
        lead=lead,
        fit=fit,
        test=None if fit is None else law_test(face.trials, fit.family, fit.slope, fit.energy_J_per_mol),
        ageing=fit_ageing(aged_results((*group.valid, *group.conditioned))),
        deciding_face=_deciding(belief, lead, asked),
    )


def _with_spoiled(
    group: CouponGroup, card: TapeClassCard, asked: Asked, hot: tuple[KeptRatio, ...]
) -> NDArray[np.float64]:
    """Return the bounds if spoiled coupons counted: a short one as a pull that broke, a long one as a fall. [Pa]"""
    if not group.spoiled:
        return np.full(len(asked.pairs), np.nan)
    counted = [
        replace(coupon, result="broke" if coupon.lasted_s < SECONDS_END_s else "fell")
        for coupon in group.spoiled
        if coupon.stress_Pa is not None or coupon.line_load_N_per_m is not None
    ]
    belief = believe((*group.valid, *counted), card, mode=group.mode, settings=asked.settings, hot_ratios=hot)
    return belief.strength_quantile(asked.pairs, asked.content, 1.0 - asked.confidence)


def _lead(curve: Sequence[CurvePoint], asked: Asked) -> CurvePoint:
    """Return the point at which least is believed, of those that the bond is exposed to; no bound is less than any."""
    own = [point for point in curve if (point.lasts_s, point.temperature_K) in asked.own] or list(curve)
    bounds = [point.bound.stress_Pa for point in own]
    return own[int(np.argmin(np.nan_to_num(bounds, nan=-np.inf)))]


def _deciding(belief: Belief, lead: CurvePoint, asked: Asked) -> str:
    one = Exposure(lasts_s=lead.lasts_s, temperature_K=lead.temperature_K, season="hot")
    return belief.deciding_face(one, asked.content, asked.confidence)
