"""What holds of every table of cases: sums, squares of speeds, mirror images, a worked example."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sample_jobs import PANEL, over, part_of, row_of, table_of
from staydown.foundation.numbers import Number
from staydown.loads.load_case import CaseTable

Array = NDArray[np.float64]
JOBS = st.fixed_dictionaries(
    {
        "travel.cruise_speed_m_per_s": st.floats(5.0, 40.0),
        "travel.top_speed_m_per_s": st.floats(5.0, 45.0),
        "travel.headwind_m_per_s": st.floats(0.5, 25.0),
        "travel.crosswind_m_per_s": st.floats(0.5, 25.0),
        "travel.altitude_m": st.floats(0.0, 3000.0),
        "travel.pass_pressure_Pa": st.sampled_from([None, 700.0]),
        "climate.storm_gust_m_per_s": st.floats(5.0, 50.0),
        "climate.snow_Pa": st.sampled_from([None, 900.0]),
        "item.0.length_m": st.floats(0.1, 2.0),
        "item.0.width_m": st.floats(0.1, 1.2),
        "item.0.thickness_m": st.floats(0.01, 0.2),
        "item.0.mass_kg": st.floats(0.1, 30.0),
        "item.0.gap_m": st.floats(0.0, 0.1),
        "item.0.left_of_centre_m": st.floats(-0.2, 0.2),
        "item.0.nose_up_rad": st.floats(-0.05, 0.2),
        "item.0.front_edge": st.sampled_from(["open", "deflected", "sealed"]),
        "vehicle.local_wind": st.sampled_from(
            [
                [],
                [{"behind_front_m": 0.9, "speed_ratio": 0.7, "covers": ["drag"]}],
                [{"behind_front_m": 0.9, "speed_ratio": 1.3, "covers": ["drag"]}],
            ]
        ),
    }
)
SPEEDS = (
    "travel.cruise_speed_m_per_s",
    "travel.top_speed_m_per_s",
    "travel.headwind_m_per_s",
    "travel.crosswind_m_per_s",
    "climate.storm_gust_m_per_s",
)
WIND = ("uplift", "edge drag", "side drag")
SIDES = {"left": "right", "right": "left"}


def stacked(numbers: tuple[Number, Number, Number], table: CaseTable) -> Array:
    """Return three components over (case, band, 3)."""
    return np.stack([over(number, table)[..., 0] for number in numbers], axis=-1)


def mirrored_name(name: str) -> str:
    """Return the name of the case with left and right exchanged."""
    return " ".join(SIDES.get(word, word) for word in name.split())


@pytest.mark.by_hand
@settings(max_examples=40, deadline=None)
@given(job=JOBS)
def test_parts_times_factors_are_the_sums(job: dict[str, Any]) -> None:
    """Force is the sum of factor x part, moment the sum of r x factor x part, by cross products here."""
    table = table_of(PANEL, job)
    force, moment = np.zeros_like(table.force_N), np.zeros_like(table.moment_Nm)
    for part in table.parts:
        own = over(part.factor, table) * stacked(part.force, table)
        force += own
        moment += np.cross(stacked(part.at, table), own)
        assert np.all(own[~part.acts] == 0.0), f"{part.name} acts where it says it does not"

    assert table.force_N == pytest.approx(force, rel=1e-12, abs=1e-9)
    assert table.moment_Nm == pytest.approx(moment, rel=1e-12, abs=1e-9)


@pytest.mark.independent
@settings(max_examples=30, deadline=None)
@given(job=JOBS, times=st.sampled_from([2.0, 0.5]))
def test_twice_the_speed_is_four_times_the_wind(job: dict[str, Any], times: float) -> None:
    """Every speed and wind doubled: each wind part, in every case and band, is four times what it was."""
    slow = table_of(PANEL, job)
    fast = table_of(PANEL, job | {name: times * job[name] for name in SPEEDS})
    for name in WIND:
        before, after = stacked(part_of(slow, name).force, slow), stacked(part_of(fast, name).force, fast)

        assert after == pytest.approx(times**2 * before, rel=1e-9, abs=1e-12)
        assert stacked(part_of(fast, name).at, fast) == pytest.approx(
            stacked(part_of(slow, name).at, slow), abs=1e-12
        )
    for part in slow.parts:
        if part.name == "weight":
            same = stacked(part_of(fast, "weight").force, fast)
            assert np.array_equal(stacked(part.force, slow), same)


@pytest.mark.independent
@settings(max_examples=30, deadline=None)
@given(job=JOBS)
def test_mirror_image(job: dict[str, Any]) -> None:
    """The item moved to the other side: left cases become right ones, forces across and two moments change sign."""
    one = table_of(PANEL, job)
    other = table_of(PANEL, job | {"item.0.left_of_centre_m": -job["item.0.left_of_centre_m"]})
    rows = [row_of(other, mirrored_name(case.name), case.exposure.season) for case in one.cases]
    hands = np.array(
        ["handling sideways" in case.name for case in one.cases]
    )  # pushed to the left both times

    assert other.force_N[rows][~hands] == pytest.approx(one.force_N[~hands] * [1, -1, 1], rel=1e-9, abs=1e-9)
    assert other.moment_Nm[rows][~hands] == pytest.approx(
        one.moment_Nm[~hands] * [-1, 1, -1], rel=1e-9, abs=1e-9
    )


@settings(max_examples=30, deadline=None)
@given(job=JOBS)
def test_bands_are_in_order(job: dict[str, Any]) -> None:
    """Low, likely and high differ by the uplift alone, and high lifts most."""
    table = table_of(PANEL, job)

    assert np.all(np.diff(table.force_N[:, :, 2], axis=1) >= 0)
    assert np.all(np.ptp(table.force_N[:, :, :2], axis=1) == 0)


@pytest.mark.independent
def test_worked_example() -> None:
    """The invented panel in a cold gust; the figures were computed apart from this code.

    V 42.361 m/s, rho 1.36736 kg/m3, q 1226.84 Pa; uplift 1459.84 N at 0.37 m; Cd 1.4874, r 0.7, drag -20.967 N at
    0.0625 m; with factors F = (-31.451, 0, 2090.908) N, M = (0, -812.176, 0) N m.
    """
    wind = {"behind_front_m": 1.1, "speed_ratio": 0.7, "covers": ["drag"]}
    table = table_of(PANEL, {"vehicle.local_wind": [wind]})
    row = row_of(table, "gust")
    case, uplift, drag = table.cases[row], part_of(table, "uplift"), part_of(table, "edge drag")

    assert case.air_speed.value == pytest.approx(42.361, abs=1e-3)
    assert case.air_density.value == pytest.approx(1.36736, abs=1e-5)
    assert stacked(uplift.force, table)[row, 2] == pytest.approx([0.0, 0.0, 1459.84], abs=0.01)
    assert stacked(uplift.at, table)[row, 2] == pytest.approx([0.37, 0.0, 0.0], abs=1e-6)
    assert stacked(drag.force, table)[row, 2] == pytest.approx([-20.967, 0.0, 0.0], abs=1e-3)
    assert stacked(drag.at, table)[row, 2] == pytest.approx([0.0, 0.0, 0.0625], abs=1e-9)
    assert table.force_N[row, 2] == pytest.approx([-31.451, 0.0, 2090.908], abs=1e-3)
    assert table.moment_Nm[row, 2] == pytest.approx([0.0, -812.176, 0.0], abs=1e-3)
