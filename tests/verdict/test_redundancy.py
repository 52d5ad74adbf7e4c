"""One mount lost, two mounts lost: does the rest hold, up to what speed, what goes next, what becomes of the word."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from answers import assessed, first, laws_of
from known_jobs import known_panel, panel_coupons
from sample_jobs import PUCK, cards, puck_coupons, row_of
from staydown.assess import Assessment
from staydown.evidence.coupon import Coupon
from staydown.foundation.numbers import Number, at
from staydown.spread.lost_mounts import build_lost_mounts, on_rest
from staydown.spread.spring_group import build_spring_group
from staydown.verdict import redundancy_laws
from staydown.verdict.redundancy import judged
from staydown.verdict.rest import Redundancy
from staydown.verdict.rest_strength import LARGEST_SHARE, rest_strength, uses, wind_share

TEN_FEET: dict[str, Any] = {
    "item.0.mount": [
        {
            "name": f"{row} {side}",
            "behind_m": behind,
            "left_m": left,
            "pad": {"length_m": 0.09, "width_m": 0.08},
            "foot_thickness_m": 0.012,
            "lever_m": 0.0,
            "lever_direction": "across",
        }
        for row, behind in zip("abcde", (0.10, 0.42, 0.74, 1.06, 1.38), strict=True)
        for side, left in (("left", 0.30), ("right", -0.30))
    ]
}


def coupons_of(factor: float) -> list[Coupon]:
    """Return the panel's coupons with every load times a factor."""
    return [replace(coupon, load_N=factor * coupon.load_N) for coupon in panel_coupons()]


def value(number: Number | None) -> float:
    """Return the value of a number that is known."""
    assert number is not None
    return float(np.asarray(number.value))


def redundancy_of(assessment: Assessment) -> Redundancy:
    """Return what lost mounts do to the first item."""
    return first(assessment).redundancy


# -- laws


@pytest.mark.published
@pytest.mark.parametrize(
    ("mounts", "slope", "share"), [(4, 5.0, 0.2373), (4, 10.0, 0.0563), (6, 5.0, 0.4019), (6, 10.0, 0.1615)]
)
def test_life_left_under_equal_load_sharing(mounts: int, slope: float, share: float) -> None:
    """One of n alike lost: n/(n - 1) of the load on each, ((n - 1)/n)^m of the life (equal sharing)."""
    left = redundancy_laws.life_left_share(float(mounts - 1), float(mounts), slope)

    assert left == pytest.approx(share, rel=1e-3)


@pytest.mark.by_hand
def test_half_the_load_margin_is_left_at_the_root_of_half_the_wind() -> None:
    """A mount that doubles its share stands 85 mph / sqrt(2) = 60 mph, and 60 / sqrt(2) = 42 with half that margin."""
    mph = 0.44704
    limit = redundancy_laws.air_speed_at_share(85 * mph, 0.5)

    assert limit / mph == pytest.approx(60.1, abs=0.05)
    assert redundancy_laws.air_speed_at_share(limit, 0.5) / mph == pytest.approx(42.5, abs=0.05)


# -- the answer


def test_ten_feet_may_lose_one() -> None:
    """With feet enough any one may go; then 90 % content stays, and no doubt is raised at high consequence."""
    assessment = assessed(known_panel(), TEN_FEET | {"job.consequence": "high"}, panel_coupons())
    redundancy = redundancy_of(assessment)

    assert redundancy.redundant is True
    assert assessment.word == "GO WITH CONDITIONS"
    assert first(assessment).content.value == 0.90
    assert redundancy.sentences[0].startswith("any one mount may be lost")
    assert all(rest.holds and rest.use is not None and rest.use <= 1.0 for rest in redundancy.singles)


@pytest.mark.parametrize(("consequence", "word"), [("medium", "GO WITH CONDITIONS"), ("high", "NOT PROVEN")])
def test_not_redundant_costs_content_and_word(consequence: str, word: str) -> None:
    """An item that may not lose one mount is bounded at 99 % of bonds, and at high consequence is not proven."""
    assessment = assessed(known_panel(), {"job.consequence": consequence}, panel_coupons())
    verdict = assessment.items[0].verdict
    said = " | ".join((*verdict.because, *verdict.conditions))

    assert redundancy_of(assessment).redundant is False
    assert first(assessment).content.value == 0.99
    assert assessment.word == word
    assert "not redundant: with" in said
    assert "the bounds must cover 99 % of bonds" in said
    assert ("At high consequence that is not proven" in said) == (consequence == "high")


def test_without_evidence_it_is_not_known() -> None:
    """Nothing proven: no use, no speed, no warning; and what is not known is not taken for redundant."""
    redundancy = redundancy_of(assessed(known_panel()))
    worst = redundancy.worst

    assert redundancy.redundant is None
    assert (worst.use, worst.holds, worst.air_speed, worst.road_speed, worst.warning) == (None,) * 5
    assert "not known" in redundancy.sentences[0]
    assert len(redundancy.order) == 4


def test_one_mount_gives_no_warning() -> None:
    """The last foot lost: nothing holds it, and that is said."""
    assessment = assessed(PUCK, {}, puck_coupons())
    (only,) = redundancy_of(assessment).singles

    assert (only.mount, only.holds, only.use) == (None, False, None)
    assert redundancy_of(assessment).redundant is False
    assert "nothing holds the item, and there is no warning" in redundancy_of(assessment).sentences[0]


@pytest.mark.independent
def test_at_its_speed_the_rest_is_just_used_up() -> None:
    """A job driven so fast that its air is the limit uses the rest to 100 %: the answer solves its own equation."""
    plain = {
        "planning": {"gust_factor": {"low": 1.0, "likely": 1.0, "high": 1.0, "source": "scenario"}},
        "travel.headwind_m_per_s": 0.0,
        "climate.sun_W_per_m2": 1.0,  # so that the bond is as warm at any speed
    }
    told = redundancy_of(assessed(known_panel(), plain, panel_coupons())).singles[0]
    limit = value(told.air_speed)
    again = {"travel.top_speed_m_per_s": limit, "travel.cruise_speed_m_per_s": limit}
    rest = redundancy_of(assessed(known_panel(), plain | again, panel_coupons())).singles[0]

    assert told.use is not None
    assert told.use > 1.0
    assert value(told.road_speed) == pytest.approx(limit, rel=1e-6)  # no wind: road and air are one
    assert rest.use == pytest.approx(1.0, abs=1e-3)


def test_speed_and_holding_say_the_same() -> None:
    """Where the rest holds its limits lie above the speeds of the job, where it does not below those of the gust."""
    seen = set()
    for changes in ({}, TEN_FEET):
        assessment = assessed(known_panel(), changes, panel_coupons())
        mounted, travel = first(assessment), assessment.job.travel
        gust = max(value(mounted.table.cases[row].air_speed) for row in judged(mounted.table))
        for rest in (*mounted.redundancy.singles, *mounted.redundancy.pairs):
            seen.add(rest.holds)
            if rest.holds:
                assert value(rest.road_speed) >= travel.cruise_speed_m_per_s
            else:
                assert value(rest.road_speed) < travel.top_speed_m_per_s
                assert value(rest.air_speed) < gust
    assert seen == {True, False}


def test_two_lost_are_worse_than_one() -> None:
    """The worst pairs, at most three, worst first, each with more use than the worst single."""
    redundancy = redundancy_of(assessed(known_panel(), {}, panel_coupons()))
    uses_of_pairs = [rest.use for rest in redundancy.pairs]

    assert 1 <= len(redundancy.pairs) <= 3
    assert all(len(rest.lost) == 2 for rest in redundancy.pairs)
    assert uses_of_pairs == sorted(uses_of_pairs, key=lambda use: -(use or math.inf))
    assert uses_of_pairs[0] is not None
    assert redundancy.worst.use is not None
    assert uses_of_pairs[0] > redundancy.worst.use


@pytest.mark.by_hand
def test_warning_time_is_the_power_law() -> None:
    """What holds T at a use of 1 holds T/u^m at u: use, time and slope of the order agree."""
    assessment = assessed(known_panel(), {}, panel_coupons())
    redundancy, travel = redundancy_of(assessment), assessment.job.travel
    slope = value(redundancy.slope)

    assert len(redundancy.order) >= 2
    for step in redundancy.order:
        assert step.use is not None
        assert value(step.warning) == pytest.approx(travel.longest_leg_s / step.use**slope, rel=1e-9)
    assert redundancy.whole_cruise_use == pytest.approx(redundancy.order[0].use)
    for rest in redundancy.singles:
        before = travel.longest_leg_s / (redundancy.whole_cruise_use or math.nan) ** slope
        assert value(rest.warning) == pytest.approx(before * value(rest.life_left), rel=1e-9)


def test_the_most_used_goes_first() -> None:
    """The order starts with the mount most used at cruise and never names one twice."""
    assessment = assessed(known_panel(), {}, panel_coupons())
    mounted = first(assessment)
    order = [step.mount for step in mounted.redundancy.order]

    assert len(set(order)) == len(order)
    assert order[0].startswith("front")  # the wind's pull lies forward of the middle


def test_a_weak_bracket_counts_too() -> None:
    """A link with a strength of its own that the rest overloads makes the item not redundant, and is named."""
    links = [
        {"part": part, "strength_N": strength, "source": "pulled two on the bench"}
        for part, strength in (("item frame", 6000.0), ("fastener", 6000.0), ("bracket", 350.0))
    ]
    changes = TEN_FEET | {"item.0.link": links}
    worst = redundancy_of(assessed(known_panel(), changes, panel_coupons())).worst

    assert worst.part == "bracket"
    assert worst.holds is False
    assert worst.use is not None
    assert worst.use > 1.0


def test_its_numbers_explain_themselves() -> None:
    """The use of the rest leads down to what is proven; speeds and times to their laws."""
    mounted = first(assessed(known_panel(), {}, panel_coupons()))
    worst = mounted.redundancy.worst
    assert worst.trail is not None

    assert at(worst.trail, worst.index) == pytest.approx(worst.use, rel=1e-9)
    assert {
        "verdict.redundancy_laws.life_at_use",
        "verdict.redundancy_laws.life_left_share",
        "verdict.redundancy_laws.air_speed_at_share",
        "verdict.redundancy_laws.road_speed_at_limit",
        "verdict.use_laws.combined_use",
    } <= laws_of(mounted)["redundancy"]


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(6))
def test_wind_share_against_bisection(seed: int) -> None:
    """For feet and strengths at random the share of the wind found is where plain bisection finds it."""
    generator = np.random.default_rng(seed)
    places = {f"item.0.mount.{n}.behind_m": float(generator.uniform(0.05, 1.4)) for n in range(4)}
    assessment = assessed(known_panel(), places, coupons_of(float(generator.uniform(0.5, 2.0))))
    mounted, item, job = first(assessment), assessment.items[0].item, assessment.job
    rows = judged(mounted.table)
    group = build_spring_group(item, "item.1", job.tape[0], cards(), mounted.table, rows)
    links = [checked.link for checked in mounted.chain]
    proven = rest_strength(mounted.table, group.mounts, mounted.checks, links, rows)
    lost = build_lost_mounts(group, [(0,)])

    def most(share: float) -> Any:
        return np.maximum(*uses(proven, on_rest(lost, share))).max(axis=1)[0]

    answer = wind_share(proven, lost)[0]
    assert not np.isnan(answer).any()
    for case in range(len(rows)):
        low, high = 0.0, LARGEST_SHARE
        for _ in range(50):
            middle = (low + high) / 2
            low, high = (middle, high) if most(middle)[case] < 1.0 else (low, middle)
        assert answer[case] == pytest.approx(low, rel=1e-3, abs=1e-4)


def test_more_strength_never_takes_redundancy_away() -> None:
    """Stronger coupons: no use of the rest grows, no speed falls."""
    weak = redundancy_of(assessed(known_panel(), {}, panel_coupons()))
    strong = redundancy_of(assessed(known_panel(), {}, coupons_of(1.3)))
    for one, two in zip(weak.singles, strong.singles, strict=True):
        assert one.use is not None
        assert two.use is not None
        assert two.use <= one.use
        assert value(two.air_speed) >= value(one.air_speed)


def test_only_cruise_and_gusts_are_judged() -> None:
    """Storms, handling and heat belong to the whole item: the rows are cruise and gusts, hot and cold."""
    table = first(assessed(known_panel())).table

    assert set(judged(table)) == {
        row_of(table, name, season)
        for name in ("cruise", "gust", "crosswind left", "crosswind right")
        for season in ("hot", "cold")
    }
