"""The level of evidence: each rule, and that more evidence never lowers it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coupon_samples import ROOM_K, HOUR_s, coupon
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Exposure
from staydown.strength.evidence_level import EvidenceLevel, coolest_test_K, evidence_level

COLDEST_K = 258.15
ORDER = {"none": 0, "inferred": 1, "covered": 2}
PULLS = [coupon("broke", 500e3 + i, 8.0, 295.15) for i in range(3)]
FREEZER = [coupon("broke", 620e3 + i, 8.0, 255.15) for i in range(3)]
HANGS = [coupon("holding", 100e3 + i, 8 * HOUR_s, 333.15) for i in range(3)]


def level(coupons: list[Coupon], lasts_s: float, temperature_K: float) -> EvidenceLevel:
    """Return the level at a point with slope 9."""
    exposure = Exposure(lasts_s=lasts_s, temperature_K=temperature_K, season="hot")
    return evidence_level(coupons, exposure, slope=9.0, coldest_K=COLDEST_K)


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("lasts_s", "temperature_K", "expected"),
    [
        (8 * HOUR_s, 333.15, "covered"),
        (80 * HOUR_s, 343.15, "covered"),  # ten times as long, 10 K hotter: the edge of the box
        (81 * HOUR_s, 343.15, "inferred"),
        (80 * HOUR_s, 343.65, "inferred"),
        (80 * HOUR_s, 368.15, "inferred"),  # 25 K beyond the box
        (80 * HOUR_s, 368.65, "none"),
        (8000 * HOUR_s, 343.15, "inferred"),  # a hundred times beyond the box
        (8001 * HOUR_s, 343.15, "none"),
        (81 * HOUR_s, 343.65, "none"),  # beyond in both
        (3.0, 333.15, "covered"),  # longer always covers
    ],
)
def test_box_of_hot_hangs(lasts_s: float, temperature_K: float, expected: str) -> None:
    """Three hangs of 8 h at 60 °C cover 10 K and a decade more, and infer 25 K or two decades beyond that."""
    assert level(HANGS, lasts_s, temperature_K).level == expected


@pytest.mark.by_hand
def test_a_pull_counts_its_static_life() -> None:
    """8 s of pull at slope 9 are 0.8 s of holding, which cover 8 s."""
    assert level(PULLS, 8.0, 295.15).level == "covered"
    assert level(PULLS, 8.1, 295.15).level == "inferred"


def test_cold_needs_pulls_in_the_cold_that_show_no_drop() -> None:
    """Below the coolest test, three freezer pulls no weaker than the weakest warm one cover; weaker ones do not."""
    brittle = [coupon("broke", 300e3 + i, 8.0, 255.15) for i in range(3)]

    assert level(PULLS, 3.0, COLDEST_K).level == "none"  # 37 K below the coolest test
    assert level(PULLS, 3.0, 275.15).level == "inferred"  # 20 K below
    assert level([*PULLS, *FREEZER], 3.0, COLDEST_K).level == "covered"
    assert level([*PULLS, *FREEZER[:2]], 3.0, COLDEST_K).level == "none"
    cool = [*PULLS, *(coupon("broke", 300e3 + i, 8.0, 266.15) for i in range(3))]
    assert level(cool, 3.0, 260.15).level == "inferred"
    assert level([*PULLS, *brittle[:2], FREEZER[0]], 3.0, 250.15).level == "inferred"  # 5 K below, and a drop


def test_few_coupons_and_spoiled_ones_are_no_evidence() -> None:
    """Two coupons, or three of which one is spoiled, are none."""
    spoiled = coupon("spoiled", 100e3, 8 * HOUR_s, 333.15)

    assert level(HANGS[:2], 3600.0, 333.15).level == "none"
    assert level([*HANGS[:2], spoiled], 3600.0, 333.15).level == "none"
    assert "2 valid" in level([*HANGS[:2], spoiled], 3600.0, 333.15).why


@pytest.mark.by_hand
def test_how_far_beyond() -> None:
    """81 h at 85 °C against hangs of 8 h at 60 °C: 15 K and a factor 1.0125 beyond; which coupons cover."""
    found = level(HANGS, 81 * HOUR_s, 358.15)

    assert found.beyond_K == pytest.approx(15.0)
    assert found.beyond_time == pytest.approx(81 / 80)
    assert found.covering == ()
    assert level(HANGS, HOUR_s, 333.15).covering == tuple(c.name for c in HANGS)


def test_a_fall_found_later_counts_what_was_seen() -> None:
    """Fallen between 8 h and 20 h stands for 8 h."""
    late = [coupon("fell", 100e3 + i, 20 * HOUR_s, 333.15, found_s=8 * HOUR_s) for i in range(3)]

    assert level(late, 80 * HOUR_s, 333.15).level == "covered"
    assert level(late, 81 * HOUR_s, 333.15).level == "inferred"


COUPONS = st.builds(
    coupon,
    st.sampled_from(["broke", "fell", "holding", "spoiled"]),
    st.floats(50e3, 800e3),
    st.floats(1.0, 1e6),
    st.sampled_from([250.15, 255.15, 266.15, ROOM_K, 313.15, 333.15, 350.15]),
)
POINTS = st.tuples(st.floats(0.5, 1e7), st.floats(245.0, 370.0))


@settings(max_examples=300, deadline=None)
@given(st.lists(COUPONS, max_size=9), COUPONS, POINTS)
def test_one_more_coupon_never_lowers_the_level(
    coupons: list[Coupon], more: Coupon, point: tuple[float, float]
) -> None:
    """Whatever is added, the level stays or rises; so taking one away never raises it."""
    before, after = level(coupons, *point), level([*coupons, more], *point)

    assert ORDER[after.level] >= ORDER[before.level]


@settings(max_examples=200, deadline=None)
@given(st.lists(COUPONS, min_size=3, max_size=9), st.integers(0, 8), st.floats(1.0, 100.0), POINTS)
def test_a_longer_test_never_lowers_the_level(
    coupons: list[Coupon], place: int, factor: float, point: tuple[float, float]
) -> None:
    """A coupon that held longer speaks for at least as much."""
    one = coupons[place % len(coupons)]
    longer = coupon(one.result, one.stress_Pa or 0.0, one.lasted_s * factor, one.temperature_K)
    others = [c for c in coupons if c is not one]

    assert ORDER[level([*others, longer], *point).level] >= ORDER[level(coupons, *point).level]


@settings(max_examples=200, deadline=None)
@given(st.lists(COUPONS, min_size=3, max_size=9), POINTS, st.floats(0.0, 1.0), st.floats(0.0, 60.0))
def test_a_longer_or_hotter_case_is_never_better_covered(
    coupons: list[Coupon], point: tuple[float, float], share: float, hotter_K: float
) -> None:
    """Above the coolest test, more time or more heat never raises the level."""
    valid = [c for c in coupons if c.result != "spoiled"]
    if len(valid) < 3:
        return
    warm_K = max(point[1], coolest_test_K(coupons))
    easier, harder = (
        level(coupons, point[0] * share + 0.1, warm_K),
        level(coupons, point[0] + 0.1, warm_K + hotter_K),
    )

    assert ORDER[harder.level] <= ORDER[easier.level]
