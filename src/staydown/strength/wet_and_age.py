"""What is kept when wet and aged: own conditioned coupons, typed ratios, or a planning value."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import CouponGroup
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.numbers import Number, definition, derive, given
from staydown.library.cards import PlanningValue
from staydown.strength import classical_laws

Planning = Mapping[str, PlanningValue]

WHOLE = definition(1.0, "1", "definition: nothing lost")
LEAST_CONDITIONED = 3  # as for a tolerance bound
SAME_TEMPERATURE_K = 5.0  # coupons within this are one condition; common practice, no source


def wet_and_age(
    group: CouponGroup | None, ratios: Sequence[KeptRatio], planning: Planning
) -> tuple[Number, bool]:
    """Return the share kept when wet and aged, and whether it is only a planning value.

    Own conditioned coupons first, then typed ratios, else the planning value.
    """
    measured = None if group is None else _measured_kept(group, planning)
    if measured is not None:
        return measured, False
    typed_ratios = [r.kept for r in ratios if r.condition in ("wet", "aged")]
    if not typed_ratios:
        return planning["wet_and_age"].decided, True
    kept: Number = typed_ratios[0]
    for ratio in typed_ratios[1:]:
        kept = derive(classical_laws.kept_share, first=kept, second=ratio)
    return kept, False


def _measured_kept(group: CouponGroup, planning: Planning) -> Number | None:
    from scipy.special import stdtrit

    def logs(
        coupons: Sequence[Coupon], temperature_K: float | None
    ) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.log(
            [
                c.stress_Pa
                for c in coupons
                if c.result == "broke"
                and c.stress_Pa
                and (temperature_K is None or abs(c.temperature_K - temperature_K) <= SAME_TEMPERATURE_K)
            ]
        )

    broke = [c for c in group.conditioned if c.result == "broke"]
    if len(broke) < LEAST_CONDITIONED:
        return None
    temperature = float(np.median([c.temperature_K for c in broke]))
    after, before = logs(broke, temperature), logs(group.valid, temperature)
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
