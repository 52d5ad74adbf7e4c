"""What is kept when wet and aged: own conditioned coupons, typed ratios, or a planning value."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import CouponGroup
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.numbers import Number, definition, derive, given
from staydown.library.cards import PlanningValue
from staydown.strength import classical_laws
from staydown.strength.ageing import spell_of
from staydown.strength.belief import Belief
from staydown.strength.evidence_level import static_life_s

Planning = Mapping[str, PlanningValue]

WHOLE = definition(1.0, "1", "definition: nothing lost")
LEAST_CONDITIONED = 3  # as for a tolerance bound
SAME_TEMPERATURE_K = 5.0  # coupons within this are one condition; common practice, no source


def wet_and_age(
    group: CouponGroup | None, ratios: Sequence[KeptRatio], planning: Planning, belief: Belief | None = None
) -> tuple[Number, bool]:
    """Return the share kept when wet and aged, and whether it is only a planning value.

    Own conditioned coupons first, then typed ratios, else the planning value; and never more than what any
    conditioned coupon shows against the middle of the dry belief, where that is worse.
    """
    worst = None if group is None or belief is None else _worst_seen(group, belief)
    measured = None if group is None else _measured_kept(group, planning, belief)
    typed_ratios = [r.kept for r in ratios if r.condition in ("wet", "aged")]
    planned = measured is None and not typed_ratios
    kept: Number = _told(measured, typed_ratios, planning)
    if worst is not None and float(worst.value) < float(kept.value):
        return worst, False
    return kept, planned


def _told(measured: Number | None, typed_ratios: Sequence[Number], planning: Planning) -> Number:
    if measured is not None:
        return measured
    if not typed_ratios:
        return planning["wet_and_age"].decided
    kept: Number = typed_ratios[0]
    for ratio in typed_ratios[1:]:
        kept = derive(classical_laws.kept_share, first=kept, second=ratio)
    return kept


@lru_cache(maxsize=64)
def _worst_seen(group: CouponGroup, belief: Belief) -> Number | None:
    """Return the middle of what conditioned coupons kept that fell or broke, against the dry belief's middle. [1]"""
    slope = belief.parameters()["slope"]["median"]
    seen = [c for c in group.conditioned if c.result in ("broke", "fell") and c.stress_Pa]
    if not seen:
        return None
    pairs = [(static_life_s(c, slope), c.temperature_K) for c in seen]
    dry = belief.strength_quantile(pairs, 0.5, 0.5)
    shares = [(c.stress_Pa or 0.0) / float(strength) for c, strength in zip(seen, dry, strict=True)]
    what = (
        f"middle of {len(seen)} conditioned coupons against the dry belief at their own time and temperature"
    )
    return given(float(np.median(shares)), "1", "coupons", what)


def _measured_kept(group: CouponGroup, planning: Planning, belief: Belief | None) -> Number | None:
    """Return the lower limit of what long enough conditioned pulls kept against plain ones of one temperature. [1]

    Pulls of unlike speed are brought to one by the slope: at one bond, breaking stress goes with time to -1/m.
    """
    from scipy.special import stdtrit

    slope = np.inf if belief is None else belief.parameters()["slope"]["median"]
    least_s = float(planning["conditioned_least"].decided.value)
    broke = [
        c
        for c in group.conditioned
        if c.result == "broke" and c.stress_Pa and (spell_of(c.conditioned or "") or (0.0,))[0] >= least_s
    ]
    if len(broke) < LEAST_CONDITIONED:
        return None
    temperature = float(np.median([c.temperature_K for c in broke]))
    usual_s = float(np.median([c.lasted_s for c in broke]))

    def logs(coupons: Sequence[Coupon]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.array(
            [
                np.log(c.stress_Pa) + np.log(c.lasted_s / usual_s) / slope
                for c in coupons
                if c.result == "broke"
                and c.stress_Pa
                and abs(c.temperature_K - temperature) <= SAME_TEMPERATURE_K
            ]
        )

    after, before = logs(broke), logs(group.valid)
    if len(after) < LEAST_CONDITIONED or len(before) < LEAST_CONDITIONED:
        return None
    freedom = len(after) + len(before) - 2
    pooled = float(np.sqrt((after.var() * len(after) + before.var() * len(before)) / freedom))
    what = f"{len(after)} conditioned pulls against {len(before)} plain ones"
    confidence = float(planning["confidence"].decided.value)
    kept = derive(
        classical_laws.ratio_kept_bound,
        mean_log_after=given(float(after.mean()), "1", "coupons", what),
        mean_log_before=given(float(before.mean()), "1", "coupons", what),
        student_factor=given(
            float(stdtrit(freedom, confidence)),
            "1",
            "calculation",
            f"Student's t, {freedom} degrees of freedom",
        ),
        sd_log=given(pooled, "1", "coupons", what),
        count_after=given(float(len(after)), "1", "coupons", what),
        count_before=given(float(len(before)), "1", "coupons", what),
    )
    return kept if float(kept.value) < 1.0 else WHOLE
