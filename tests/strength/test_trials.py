"""Coupons as arrays: which face each is exact for, what a late find says, which stress counts."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coupon_samples import HOUR_s, coupon
from staydown.strength import trials
from staydown.strength.trials import BETWEEN, EXACT, HOLDING, faces_of, trials_of


@pytest.mark.by_hand
def test_stress_of_each_mode() -> None:
    """Load over area; with a lever the peak F/A (1 + 6 e/a) of a square coupon; peel load over width."""
    pulled = coupon("broke", 100e3, 5.0, area_m2=0.0025)
    lever = replace(pulled, mode="cleavage", lever_m=0.01)
    peel = coupon("broke", 80.0, 5.0, mode="peel", area_m2=None, width_m=0.025)

    assert trials.tested_stress(pulled) == pytest.approx(100e3)
    assert trials.tested_stress(lever) == pytest.approx(100e3 * (1 + 6 * 0.01 / 0.05))
    assert trials.tested_stress(peel) == pytest.approx(80.0 / 0.025)


def test_missing_sizes_are_told() -> None:
    """A peel coupon without width, any other without area."""
    with pytest.raises(ValueError, match="needs a width"):
        trials.tested_stress(coupon("broke", 80.0, 5.0, mode="peel"))
    with pytest.raises(ValueError, match="needs an area"):
        trials.tested_stress(coupon("broke", 80.0, 5.0, area_m2=None))


def test_faces_from_the_foot_downward() -> None:
    """Named faces in the order of the stack; none named gives one nameless face; holding coupons name none."""
    told = [coupon("fell", 1e5, 60.0, failure_pattern=face) for face in ("coating", "cohesive", None)]

    assert faces_of(told) == ("cohesive", "coating")
    assert faces_of(told[2:]) == ("not named",)
    assert faces_of([coupon("holding", 1e5, 60.0, failure_pattern="coating")]) == ("not named",)
    assert faces_of([coupon("fell", 1e5, 60.0, failure_pattern="mixed")]) == ("not named",)


def test_each_face_sees_the_others_as_held() -> None:
    """A coating failure is exact for the coating and right-censored for the adhesive; unnamed counts for all."""
    told = [coupon("broke", 5e5, 5.0, failure_pattern="coating"), coupon("broke", 6e5, 6.0)]
    coating, adhesive = trials_of(told, "coating"), trials_of(told, "adhesive")

    assert coating.kind.tolist() == [EXACT, EXACT]
    assert adhesive.kind.tolist() == [HOLDING, EXACT]
    assert adhesive.ramp.all()
    assert adhesive.failures == 1


@pytest.mark.by_hand
def test_a_late_find_lies_between() -> None:
    """Seen holding at 8 h, found fallen at 20 h; for another face it held 8 h; seen at 0 counts from one second."""
    late = coupon("fell", 1e5, 20 * HOUR_s, found_s=8 * HOUR_s, failure_pattern="coating")
    own, other = trials_of([late], "coating"), trials_of([late], "adhesive")
    never = trials_of([replace(late, found_s=0.0)], "coating")

    assert own.kind.tolist() == [BETWEEN]
    assert own.log_seen[0] == pytest.approx(math.log10(8))
    assert own.log_time[0] == pytest.approx(math.log10(20))
    assert other.kind.tolist() == [HOLDING]
    assert other.log_time[0] == pytest.approx(math.log10(8))
    assert never.log_seen[0] == pytest.approx(math.log10(1 / 3600))


def test_equal_results_are_counted_once_with_their_number() -> None:
    """Five equal hangs are one row of count five, spoiled ones none, days are batches."""
    held = [coupon("holding", 1e5, 8 * HOUR_s, name=str(i)) for i in range(5)]
    other_day = coupon("holding", 1e5, 8 * HOUR_s, made_on="1 May")
    found = trials_of([*held, other_day, coupon("spoiled", 1e5, 60.0)], "not named")

    assert found.count.tolist() == [5.0, 1.0]
    assert found.coupons == 6
    assert found.batches == ("", "1 May")
