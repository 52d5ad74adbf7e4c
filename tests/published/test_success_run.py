"""Zero-failure plans: MIL-HDBK-781, CMH-17-1G, Lipson & Sheth 1973; Clopper & Pearson 1934."""

from __future__ import annotations

import math

import pytest

from staydown.strength import success_run_laws as laws


@pytest.mark.published
@pytest.mark.parametrize(
    ("reliability", "confidence", "count"),
    [
        (0.90, 0.90, 22),
        (0.90, 0.95, 29),
        (0.95, 0.90, 45),
        (0.95, 0.95, 59),
        (0.99, 0.90, 230),
        (0.99, 0.95, 299),
        (0.999, 0.95, 2995),
    ],
)
def test_coupons_that_must_all_hold(reliability: float, confidence: float, count: int) -> None:
    """Counts of the success run; 29 and 299 are the least sample of CMH-17's first order statistic."""
    assert math.ceil(laws.success_run_count(reliability, confidence)) == count
    assert laws.success_run_reliability(count, confidence) >= reliability
    assert laws.success_run_reliability(count - 1, confidence) < reliability


@pytest.mark.published
@pytest.mark.parametrize(
    ("reliability", "confidence", "falls", "count"),
    [
        (0.90, 0.90, 1, 38),
        (0.90, 0.90, 2, 52),
        (0.90, 0.95, 1, 46),
        (0.95, 0.95, 1, 93),
        (0.99, 0.95, 1, 473),
    ],
)
def test_coupons_with_a_few_falls(reliability: float, confidence: float, falls: int, count: int) -> None:
    """Smallest binomial samples with one or two failures allowed; MIL-HDBK-781 plans, from memory."""
    assert laws.demonstrated_reliability(count, falls, confidence) >= reliability
    assert laws.demonstrated_reliability(count - 1, falls, confidence) < reliability


@pytest.mark.published
@pytest.mark.parametrize(("falls", "upper"), [(0, 0.1391), (1, 0.2161)])
def test_clopper_pearson_of_twenty(falls: int, upper: float) -> None:
    """Upper 95 % limits for 0 and 1 of 20; Clopper & Pearson 1934, recomputed."""
    assert 1 - laws.demonstrated_reliability(20, falls, 0.95) == pytest.approx(upper, abs=1e-4)


@pytest.mark.published
@pytest.mark.parametrize(
    ("shape", "count", "ratio"),
    [(1.0, 10.93, 3.642), (1.5, 7.73, 2.367), (2.0, 5.46, 1.909), (3.0, 2.73, 1.539)],
)
def test_longer_tests_need_fewer_coupons(shape: float, count: float, ratio: float) -> None:
    """Weibull extension for twice the time, and the multiple of time for six coupons; from memory."""
    assert laws.success_run_count_longer(0.9, 0.9, 2.0, shape) == pytest.approx(count, rel=1e-3)
    assert laws.success_run_time_ratio(6, 0.9, 0.9, shape) == pytest.approx(ratio, rel=1e-3)


@pytest.mark.by_hand
@pytest.mark.parametrize(("shape", "reliability"), [(1.5, 0.873), (2.0, 0.909)])
def test_six_survivors_at_twice_the_time(shape: float, reliability: float) -> None:
    """R = exp(ln 0.1 / (6 * 2^shape))."""
    expected = math.exp(math.log(0.1) / (6 * 2**shape))

    assert expected == pytest.approx(reliability, abs=5e-4)
    assert laws.success_run_reliability_longer(6, 0.9, 2.0, shape) == pytest.approx(expected, rel=1e-9)
