"""An edge that opens: at each width the mounts share anew, until it rests or the mount is lost."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from answers import assessed, first
from known_jobs import known_panel, panel_coupons
from staydown.assess import Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.numbers import at
from staydown.loads.build_cases import unfactored
from staydown.verdict.build_unzip import widths_m
from staydown.verdict.checks import HIGH
from staydown.verdict.redundancy import JUDGED
from staydown.verdict.unzip import Unzip
from staydown.verdict.unzip_trail import unzip_numbers

SIDE_m = 0.08
TEN_FEET = {
    "item.0.mount": [
        {
            "name": f"{row} {side}",
            "behind_m": behind,
            "left_m": left,
            "pad": {"length_m": 0.09, "width_m": SIDE_m},
            "lever_m": 0.012,
            "lever_direction": "across",
            "foot_thickness_m": 0.012,
        }
        for row, behind in zip("abcde", (0.10, 0.42, 0.74, 1.06, 1.38), strict=True)
        for side, left in (("left", 0.31), ("right", -0.31))
    ]
}
THIN = {f"item.0.mount.{n}.foot_thickness_m": 0.005 for n in range(10)}


def coupons(times: float) -> list[Coupon]:
    """Return evidence for every case, all loads times a factor."""
    return [replace(one, load_N=times * one.load_N) for one in panel_coupons()]


def peeled() -> list[Coupon]:
    """Return the coupons in tension as strips of 25 mm, peeled at 0.1 N/m for each Pa."""
    return [
        replace(one, name=f"peel {one.name}", mode="peel", area_m2=None, width_m=0.025, load_N=0.0025 * load)
        for one in panel_coupons()
        if one.mode == "tension" and one.area_m2
        for load in (one.load_N / one.area_m2,)
    ]


@cache
def ten_feet(times: float = 1.0) -> Mounted:
    """Return the panel on ten feet, as strong as coupons times a factor say."""
    return first(assessed(known_panel(**TEN_FEET), {}, coupons(times)))


def opened(mounted: Mounted) -> Unzip:
    """Return how it unzips."""
    assert mounted.unzip is not None
    return mounted.unzip


@pytest.mark.by_hand
def test_the_load_is_handed_on_and_stays_whole() -> None:
    """At each width the pulls sum to uplift less weight, no factor on them; what one loses the others gain."""
    mounted = ten_feet()
    unzip, table = opened(mounted), unfactored(mounted.table)
    for step in unzip.steps:
        lift = table.force_N[step.case, HIGH, 2]

        assert sum(step.pulls_N) == pytest.approx(lift, rel=1e-6)
        assert table.cases[step.case].name in JUDGED
        assert step.section == pytest.approx((1.0 - step.opened_m / SIDE_m) ** 2, rel=1e-9)
        assert step.bonded == pytest.approx(1.0 - step.opened_m / SIDE_m, rel=1e-9)
    assert unzip.steps[0].handed_on_N == 0.0
    assert unzip.steps[-1].handed_on_N > unzip.steps[2].handed_on_N > 0.0
    assert [step.opened_m for step in unzip.steps[:3]] == pytest.approx([0.0, 0.005, 0.010])


@pytest.mark.by_hand
@pytest.mark.parametrize("changes", [{}, THIN], ids=["stiff feet", "bending feet"])
def test_the_trail_makes_the_same_numbers(changes: dict[str, Any]) -> None:
    """The laws that `explain` walks give edge stress, stiffness, pull and use of each width again."""
    unzip = opened(first(assessed(known_panel(**TEN_FEET), changes, [*panel_coupons(), *peeled()])))
    for step in unzip.steps:
        numbers = unzip_numbers(unzip.opening, step)
        made = {name: None if one is None else at(one, (0, 0, 0)) for name, one in numbers.items()}

        assert made["edge stress"] == pytest.approx(step.peak_Pa, rel=1e-9)
        assert made["stiffness"] == pytest.approx(step.stiffness_N_per_m, rel=1e-9)
        assert made["handed on"] == pytest.approx(step.handed_on_N, rel=1e-9)
        assert made["use"] == pytest.approx(step.use, rel=1e-9)
        assert made["holds"] == pytest.approx(step.holds_s, rel=1e-9)


@pytest.mark.by_hand
def test_edge_stress_from_what_is_on_the_foot() -> None:
    """N/(W l) + 6 (M + N s/2)/(W l^2) + 6 C/(l W^2), from pull and moments of the solution that governs each width."""
    unzip = opened(ten_feet())
    foot = unzip.opening.opened
    for step in unzip.steps:
        number, row, column = step.at
        _, _, pull, about_x, about_y, _ = foot.pads[:, number, row, foot.mount, column]
        left, edge = SIDE_m - step.opened_m, 0.09
        pried = foot.toward[row, column] * about_x + pull * step.opened_m / 2
        by_hand = (
            pull / (edge * left) + 6 * abs(pried) / (edge * left**2) + 6 * abs(about_y) / (left * edge**2)
        )

        assert step.peak_Pa == pytest.approx(by_hand, rel=1e-9)


def test_an_edge_that_comes_to_rest() -> None:
    """Ten feet take over: it tears from the first width over 100 % and rests at the next one below."""
    mounted = ten_feet(1.1)
    unzip = opened(mounted)
    used = [(step.opened_m, step.use) for step in unzip.steps if step.use is not None]
    (begins, *_) = [width for width, use in used if use > 1.0]
    (rests, *_) = [width for width, use in used if width > begins and use <= 1.0]
    step = unzip.at(rests)

    assert (unzip.runs_away_m, unzip.rests_m, unzip.lost) == (begins, rests, None)
    assert step.other is not None
    assert step.other.use is not None
    assert f"({100 * step.bonded:.0f} %) still bonded" in unzip.sentence
    assert f"while {step.other.mount} carries" in unzip.sentence
    assert f"{100 * step.other.use:.0f} % of what is proven" in unzip.sentence


def test_an_edge_that_runs_through_is_a_lost_mount() -> None:
    """Weaker, it never comes below again: what is left is what the loss of that mount leaves."""
    mounted = ten_feet(0.7)
    unzip = opened(mounted)
    (single,) = [rest for rest in mounted.redundancy.singles if rest.lost == (unzip.mount,)]
    assert single.use is not None

    assert unzip.runs_away_m is not None
    assert unzip.runs_away_m > 0.0
    assert unzip.rests_m is None
    assert unzip.lost is single
    assert f"{unzip.mount} is then lost" in unzip.sentence
    assert f"{single.mount} needs {100 * single.use:.0f} %" in unzip.sentence


def test_an_edge_that_is_over_as_it_is() -> None:
    """Weaker still the whole pad is over what is proven, and slow enough it never is."""
    slow = {"travel.cruise_speed_m_per_s": 15.0, "travel.top_speed_m_per_s": 20.0}
    weak = opened(ten_feet(0.2))
    strong = opened(first(assessed(known_panel(**TEN_FEET), slow, panel_coupons())))

    assert weak.runs_away_m == 0.0
    assert "over what is proven as it is" in weak.sentence
    assert strong.runs_away_m is None
    assert "stays below what is proven" in strong.sentence


def test_nothing_proven_is_not_called_rest() -> None:
    """Without coupons the sharing is shown, and no word falls on whether it holds."""
    unzip = opened(first(assessed(known_panel(), {}, [])))

    assert not unzip.known
    assert (unzip.runs_away_m, unzip.rests_m, unzip.lost) == (None, None, None)
    assert {step.use for step in unzip.steps} == {None}
    assert "rest" not in unzip.sentence.replace("rises", "")
    assert unzip.steps[2].handed_on_N > 0.0


def test_the_time_that_is_left_falls_with_what_is_used() -> None:
    """How long the rest of the pad holds at cruise follows its use there: the more of it, the shorter."""
    unzip = opened(ten_feet())
    cruise = unzip.opening.bond[:, unzip.opening.opened.mount, unzip.opening.work.cruise].max(axis=1)
    held = np.array([step.holds_s for step in unzip.steps], dtype=float)

    assert np.array_equal(np.argsort(-cruise, kind="stable"), np.argsort(held, kind="stable"))


@pytest.mark.by_hand
def test_widths_that_are_followed() -> None:
    """Strips of 5 mm under a pad of 80 mm; under one of 300 mm the first two, then strips of 15 mm; all short of it."""
    assert [round(1e3 * width) for width in widths_m(0.08)] == [5 * n for n in range(16)]
    assert [round(1e3 * width) for width in widths_m(0.3)] == [0, 5, 10, *range(15, 300, 15)]
    assert widths_m(0.004) == (0.0,)


def test_one_mount_has_nobody_to_hand_its_load_to() -> None:
    """A panel on one foot in its middle: no other mount is named, and lost means nothing holds."""
    foot = {
        "name": "middle",
        "behind_m": 0.74,
        "left_m": 0.0,
        "pad": {"length_m": 0.4, "width_m": 0.4},
        "foot_thickness_m": 0.04,
    }
    mounted = first(assessed(known_panel(), {"item.0.mount": [foot]}, coupons(0.5)))
    unzip = opened(mounted)

    assert {step.other for step in unzip.steps} == {None}
    assert "the others" not in unzip.sentence
    if unzip.lost is not None:
        assert "nothing holds the item" in unzip.sentence
