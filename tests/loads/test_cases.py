"""Which cases an item meets: names, seasons, how long, how warm, from where the air comes."""

from __future__ import annotations

import numpy as np
import pytest

from sample_jobs import PANEL, HOUR_s, KMH_m_per_s, row_of, table_of

STORMS = ("front", "front left", "left", "rear left", "rear", "rear right", "right", "front right")
TWICE = {
    "cruise": 2.5 * HOUR_s,
    "gust": 3.0,
    "crosswind left": 3.0,
    "crosswind right": 3.0,
    "rough road": 1.0,
    "braking": 3.0,
    "speeding up": 3.0,
    "cornering left": 3.0,
    "cornering right": 3.0,
    **{f"storm {name}": 120.0 for name in STORMS},
    **{
        f"handling {way} {edge}": 1.0
        for way in ("up", "sideways")
        for edge in ("front", "rear", "left", "right")
    },
}
ONCE = {
    ("departure", "hot"): 600.0,
    ("snow", "cold"): 7 * 86400.0,
    ("hot soak", "hot"): 12 * HOUR_s,
    ("cold soak", "cold"): 12 * HOUR_s,
}


def test_every_case_is_there_by_name_season_and_duration() -> None:
    """All moving, parked and handling cases stand hot and cold; departure, snow and soaks in their own season."""
    table = table_of(PANEL)
    found = {(case.name, case.exposure.season): case.exposure.lasts_s for case in table.cases}
    wanted = {(name, season): lasts for name, lasts in TWICE.items() for season in ("hot", "cold")} | ONCE

    assert found == wanted
    assert len(table.cases) == len(wanted)


def test_a_passing_truck_is_a_case_only_where_its_pressure_is_given() -> None:
    """0.5 s, hot and cold, and nothing without a pressure; no snow is no case."""
    with_truck = {case.name for case in table_of(PANEL, {"travel.pass_pressure_Pa": 500.0}).cases}
    without = {case.name for case in table_of(PANEL, {"climate.snow_Pa": None}).cases}

    assert "passing truck" in with_truck
    assert "passing truck" not in without
    assert "snow" not in without


def test_how_warm_the_bond_is() -> None:
    """Cold cases at the coldest air, snow at 0 degC, departure as parked, a storm with less sun cooler than parked."""
    table = table_of(PANEL)

    def bond(name: str, season: str) -> float:
        return table.cases[row_of(table, name, season)].exposure.temperature_K

    assert bond("snow", "cold") == 273.15
    assert bond("gust", "cold") == bond("cruise", "cold") == bond("handling up front", "cold") == 258.15
    assert bond("departure", "hot") == bond("gust", "hot") == bond("handling up front", "hot")
    assert bond("departure", "hot") >= 311.15 + 0.044 * 1000.0
    assert 311.15 < bond("storm left", "hot") < bond("gust", "hot")
    assert 311.15 <= bond("cruise", "hot") <= bond("departure", "hot")
    assert bond("hot soak", "hot") >= bond("departure", "hot")


@pytest.mark.by_hand
def test_air_speed_of_each_state() -> None:
    """Cruise V = 95 + 25; gust 115 + 1.5 x 25; crosswind (115 + 25, 1.5 x 35); storm 110 km/h, each from its side."""
    table = table_of(PANEL)

    def velocity(name: str, season: str = "cold") -> tuple[float, float]:
        x, y = table.cases[row_of(table, name, season)].air_velocity_m_per_s
        return x / KMH_m_per_s, y / KMH_m_per_s

    assert velocity("cruise") == pytest.approx((120.0, 0.0))
    assert velocity("gust") == pytest.approx((152.5, 0.0))
    assert velocity("crosswind left") == pytest.approx((140.0, 52.5))
    assert velocity("crosswind right") == pytest.approx((140.0, -52.5))
    assert velocity("departure", "hot") == velocity("cruise")
    assert velocity("rough road") == velocity("cornering left") == velocity("cruise")
    assert velocity("storm rear") == pytest.approx((-110.0, 0.0))
    assert velocity("storm front left") == pytest.approx((110 / np.sqrt(2), 110 / np.sqrt(2)))
    assert velocity("handling up front") == velocity("snow") == velocity("hot soak", "hot") == (0.0, 0.0)
    for name in STORMS:
        assert np.hypot(*velocity(f"storm {name}")) == pytest.approx(110.0)


@pytest.mark.by_hand
def test_resultant_of_a_crosswind() -> None:
    """30 m/s and 10 m/s from the side: 31.623 m/s at 18.435 degrees; q = 613 Pa in air of 1.225 kg/m3 (15 degC)."""
    changes = {
        "travel.top_speed_m_per_s": 30.0,
        "travel.headwind_m_per_s": 0.0,
        "travel.crosswind_m_per_s": 10.0 / 1.5,
        "climate.coldest_K": 288.15,
    }
    table = table_of(PANEL, changes)
    case = table.cases[row_of(table, "crosswind left")]
    x, y = case.air_velocity_m_per_s

    assert case.air_speed.value == pytest.approx(31.623, abs=1e-3)
    assert np.degrees(np.arctan2(y, x)) == pytest.approx(18.435, abs=1e-3)
    assert 0.5 * case.air_density.value * case.air_speed.value**2 == pytest.approx(613.0, rel=1e-3)


def test_a_headwind_given_as_a_gust_is_not_raised_again() -> None:
    """`headwind_is = gust`: factor 1 for headwind and crosswind; as a mean, or left out, 1.5."""
    speeds = {
        told: table.cases[row_of(table, "gust")].air_speed.value
        for told in ("gust", "mean", None)
        for table in [table_of(PANEL, {"travel.headwind_is": told})]
    }
    gust = table_of(PANEL, {"travel.headwind_is": "gust"})

    assert speeds["gust"] == pytest.approx(140 * KMH_m_per_s)
    assert speeds["mean"] == speeds[None] == pytest.approx(152.5 * KMH_m_per_s)
    assert gust.cases[row_of(gust, "crosswind left")].air_velocity_m_per_s[1] == pytest.approx(
        35 * KMH_m_per_s
    )


def test_a_crosswind_left_out_is_as_strong_as_the_headwind() -> None:
    """It is taken from the headwind, and says so."""
    table = table_of(PANEL, {"travel.crosswind_m_per_s": None})
    velocity = table.cases[row_of(table, "crosswind left")].air_velocity_m_per_s

    assert velocity[1] == pytest.approx(1.5 * 25 * KMH_m_per_s)


@pytest.mark.by_hand
def test_density_by_altitude_and_season() -> None:
    """Dry air by the ideal gas at 101 325 Pa, and 84 556/101 325 of it at 1500 m; cold air is denser."""
    sea, high = table_of(PANEL), table_of(PANEL, {"travel.altitude_m": 1500.0})
    for season, air_K in (("hot", 311.15), ("cold", 258.15)):
        low = sea.cases[row_of(sea, "gust", season)].air_density.value

        assert low == pytest.approx(101325 / (287.05287 * air_K), rel=1e-6)
        assert high.cases[row_of(high, "gust", season)].air_density.value == pytest.approx(
            low * 84556 / 101325,
            rel=1e-4,
        )
