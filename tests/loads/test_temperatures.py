"""How warm the bond is: parked, driving, in a storm, by night, under the item and beside it, and as measured."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from roof_heat import (
    AIR_K,
    COLD_K,
    DIRT,
    EMITTANCE,
    NIGHT_EMITTANCE,
    SIGMA,
    SUN_W_per_m2,
    balance,
    bond_K,
    measured,
    wind_W_per_m2_K,
)
from sample_jobs import PANEL, cards, changed, job_of, row_of, table_of
from staydown.foundation.numbers import at
from staydown.loads import balance_laws, heat_laws
from staydown.loads.build_temperatures import spot_of
from staydown.loads.load_case import CaseTable, exposures

GAS_CONSTANT = 8.314462618


def outside(changes: Mapping[str, Any] | None = None) -> CaseTable:
    """Return the cases of the sample panel with its second mount on an outrigger beside the panel."""
    return table_of(PANEL, {"item.0.mount.1.left_m": -0.36, **(changes or {})})


# -- the balance itself


@pytest.mark.independent
def test_the_balance_agrees_with_bisection_for_many_surfaces_at_once() -> None:
    """A thousand random surfaces, day and night, calm and storm, solved in one call and by scipy one by one."""
    generator = np.random.default_rng(7)
    air = generator.uniform(230.0, 325.0, 1000)
    sky = air - generator.uniform(0.0, 40.0, 1000)
    absorptance, emittance = generator.uniform(0.0, 1.0, 1000), generator.uniform(0.02, 1.0, 1000)
    sun, convection = generator.uniform(0.0, 1200.0, 1000), generator.uniform(0.0, 150.0, 1000)

    found = balance_laws.balance_temperature(air, sky, absorptance, sun, emittance, convection)
    expected = [
        balance(a, s, x * g, e, h)
        for a, s, x, g, e, h in zip(air, sky, absorptance, sun, emittance, convection, strict=True)
        if x * g / (e * SIGMA) + s**4 < 900.0**4
    ]
    kept = absorptance * sun / (emittance * SIGMA) + sky**4 < 900.0**4

    assert kept.sum() > 900
    np.testing.assert_allclose(np.asarray(found)[kept], expected, atol=1e-6)


@pytest.mark.independent
def test_limits_of_the_balance() -> None:
    """No sun and a sky as warm as the air: air temperature; no air: Stefan's law alone; a gale: the air again."""
    assert balance_laws.balance_temperature(300.0, 300.0, 0.9, 0.0, 0.9, 5.0) == pytest.approx(300.0)
    still = balance_laws.balance_temperature(300.0, 290.0, 0.9, 1000.0, 0.9, 0.0)
    assert still == pytest.approx((1000.0 / SIGMA + 290.0**4) ** 0.25)
    assert balance_laws.balance_temperature(300.0, 290.0, 0.9, 1000.0, 0.9, 1e6) == pytest.approx(
        300.0, abs=2e-3
    )


# -- parked


@pytest.mark.by_hand
def test_a_pale_roof_is_as_warm_as_the_measured_calm_says() -> None:
    """38 degC + 0.055 x 1000 W/m2 = 93 degC under the item, + 0.040 beside it: 78 degC; the balance lies below."""
    table = outside()

    assert bond_K(table, "gust", mount=0) == pytest.approx(AIR_K + 55.0)
    assert bond_K(table, "gust", mount=1) == pytest.approx(AIR_K + 40.0)


@pytest.mark.by_hand
def test_the_trade_estimate_of_a_hot_day() -> None:
    """40 degC of air and full sun on white: 72 degC bare, 84 degC under a panel, by the likely factors."""
    planning = cards().planning
    found = [
        heat_laws.parked_temperature(313.15, planning[card].band.likely, 1000.0) - 273.15
        for card in ("sun.bare_roof", "sun.under_item")
    ]

    assert found == pytest.approx([72.0, 84.0])


@pytest.mark.independent
def test_a_black_roof_is_as_warm_as_its_balance() -> None:
    """Absorptance 0.98, with dirt at most 1: the balance in still air decides, under the item and beside it."""
    table = outside({"vehicle.absorptance": None, "vehicle.roof_colour": "black"})
    expected = balance(AIR_K, AIR_K - 10, 1.0 * SUN_W_per_m2, EMITTANCE, 5.0)

    assert expected > AIR_K + 55.0
    assert bond_K(table, "gust", mount=0) == pytest.approx(expected, abs=1e-6)
    assert bond_K(table, "gust", mount=1) == pytest.approx(expected, abs=1e-6)


def test_an_unknown_colour_is_taken_as_the_darkest() -> None:
    """No colour typed: no cooler than any colour on the shelf."""
    shelf = {
        name: bond_K(table_of(PANEL, {"vehicle.absorptance": None, "vehicle.roof_colour": name}), "gust")
        for name in cards().colours
    }
    unknown = bond_K(table_of(PANEL, {"vehicle.absorptance": None}), "gust")

    assert unknown == max(shelf.values())
    assert shelf["white"] < shelf["red"] < shelf["dark grey"] <= shelf["black"]


def test_which_cases_find_the_bond_as_it_was_parked() -> None:
    """Departure, handling, the soak and every moving case but cruise; cruise and storms are cooler, snow is 0 degC."""
    table = table_of(PANEL)
    parked = bond_K(table, "hot soak")
    for row, case in enumerate(table.cases):
        warm = exposures(table)[row][0].temperature_K
        if case.exposure.season != "hot":
            continue
        if case.name == "cruise" or case.family == "parked":
            assert AIR_K < warm < parked - 20.0, case.name
        else:
            assert warm == parked, case.name
    assert bond_K(table, "snow", "cold") == 273.15


# -- driving and storms


@pytest.mark.independent
def test_cruise_is_the_cooled_balance_with_forced_convection() -> None:
    """95 km/h over 4.2 m of roof; ten minutes of cooling with 15 kJ/m2K; the item, 0.95 with dirt 1, is the darker."""
    table = outside()
    speed = 95 / 3.6
    for mount, absorptance, parked in ((0, 1.0, AIR_K + 55.0), (1, 0.30 + DIRT, AIR_K + 40.0)):
        wind = wind_W_per_m2_K(speed, AIR_K)
        driving = balance(AIR_K, AIR_K - 10, absorptance * SUN_W_per_m2, EMITTANCE, wind)
        constant = 15e3 / (wind + 4 * EMITTANCE * SIGMA * driving**3)
        expected = driving + (parked - driving) * np.exp(-600.0 / constant)

        assert bond_K(table, "cruise", mount=mount) == pytest.approx(expected, abs=1e-6)


@pytest.mark.independent
def test_a_storm_is_the_balance_in_its_mean_wind() -> None:
    """300 W/m2 and 110 km/h over 1.5, hot; no sun and the night sky, cold, where the bare roof lies open to it."""
    table = outside()
    mean = 110 / 3.6 / 1.5
    hot = balance(AIR_K, AIR_K - 10, (0.30 + DIRT) * 300.0, EMITTANCE, wind_W_per_m2_K(mean, AIR_K))
    cold = balance(COLD_K, COLD_K - 20, 0.0, NIGHT_EMITTANCE, wind_W_per_m2_K(mean, COLD_K))

    assert bond_K(table, "storm rear left", mount=1) == pytest.approx(hot, abs=1e-6)
    assert bond_K(table, "storm rear left", "cold", mount=1) == pytest.approx(cold, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(speed=st.floats(1.0, 60.0), factor=st.floats(1.05, 1.5))
def test_faster_is_cooler_and_never_colder_than_the_air(speed: float, factor: float) -> None:
    """More wind brings the bond nearer to the air; at a walking pace it is no hotter than it was parked."""

    def cruise(v: float) -> float:
        return bond_K(
            table_of(PANEL, {"travel.cruise_speed_m_per_s": v, "travel.top_speed_m_per_s": 100.0}), "cruise"
        )

    slow, fast = cruise(speed), cruise(speed * factor)

    assert AIR_K < fast <= slow <= AIR_K + 55.0


# -- cold


@pytest.mark.independent
def test_the_bare_roof_is_colder_than_the_night_air_and_the_shaded_one_is_not() -> None:
    """Under the item the coldest air; beside it the balance against a sky 20 K colder, emittance 0.95, calm 5 W/m2K."""
    table = outside()
    night = balance(COLD_K, COLD_K - 20, 0.0, NIGHT_EMITTANCE, 5.0)

    assert bond_K(table, "gust", "cold", mount=0) == COLD_K
    assert bond_K(table, "gust", "cold", mount=1) == pytest.approx(night, abs=1e-6)
    assert COLD_K - 12.0 < night < COLD_K - 4.0
    assert night < bond_K(table, "cruise", "cold", mount=1) < COLD_K


# -- which mount, and what the case is judged at


@pytest.mark.parametrize(
    ("behind_m", "left_m", "spot"),
    [
        (0.12, 0.31, "under item"),
        (0.0, 0.335, "under item"),
        (1.48, -0.335, "under item"),
        (-0.02, 0.0, "bare roof"),
        (1.50, 0.0, "bare roof"),
        (0.7, 0.36, "bare roof"),
    ],
)
def test_under_the_item_is_where_the_pads_centre_lies_in_its_outline(
    behind_m: float, left_m: float, spot: str
) -> None:
    """A panel of 1480 x 670 mm; its own edge counts as under it."""
    item = job_of(PANEL, {"item.0.mount.0.behind_m": behind_m, "item.0.mount.0.left_m": left_m}).item[0]

    assert spot_of(item.mount[0], item) == spot


def test_each_mount_has_its_own_exposure_and_the_case_that_of_the_worst() -> None:
    """Exposures share lasting and season; the case stands at its hottest mount, in the cold at its coldest."""
    table = outside()
    rows = exposures(table)

    assert np.asarray(table.temperatures.value).shape == (len(table.cases), 1, 4)
    for case, row in zip(table.cases, rows, strict=True):
        worst = max if case.exposure.season == "hot" else min
        assert len(row) == 4
        assert {(one.lasts_s, one.season) for one in row} == {(case.exposure.lasts_s, case.exposure.season)}
        assert case.exposure.temperature_K == worst(one.temperature_K for one in row)
        assert case.exposure.temperature_K == case.bond_temperature.value


# -- what a person measured


@pytest.mark.by_hand
@pytest.mark.parametrize("wind_m_per_s", [0.0, 2.0, 4.0])
def test_a_measured_temperature_takes_the_place_of_the_planning_value(wind_m_per_s: float) -> None:
    """c = 35 K/790 W/m2, times (5.7 + 3.8 v + h_r)/(5 + h_r) for the wind of that hour; h_r at 58 degC."""
    radiation = 4 * EMITTANCE * SIGMA * 331.15**3
    factor = 35.0 / 790.0 * (5.7 + 3.8 * wind_m_per_s + radiation) / (5.0 + radiation)
    table = outside({"vehicle.measured_temperature": [measured(wind_m_per_s=wind_m_per_s)]})

    assert bond_K(table, "gust", mount=0) == pytest.approx(AIR_K + 1000.0 * factor)
    assert bond_K(table, "gust", mount=1) == pytest.approx(AIR_K + 40.0), "the bare roof was not measured"


def test_the_hottest_of_several_measurements_counts() -> None:
    """Two calm days, in either order."""
    warm, cool = measured(), measured(temperature_K=326.15)
    found = {
        bond_K(table_of(PANEL, {"vehicle.measured_temperature": pair}), "gust")
        for pair in ([warm, cool], [cool, warm], [warm])
    }

    assert len(found) == 1


@pytest.mark.parametrize(
    "weather", [{"sun_W_per_m2": 350.0}, {"wind_m_per_s": 6.0}, {"temperature_K": 290.0}]
)
def test_a_measurement_that_teaches_nothing_changes_nothing(weather: dict[str, float]) -> None:
    """Too little sun, too much wind, colder than the air: the planning value stays."""
    table = table_of(PANEL, {"vehicle.measured_temperature": [measured(**weather)]})

    assert bond_K(table, "gust") == pytest.approx(AIR_K + 55.0)


def test_a_measurement_never_undercuts_the_balance() -> None:
    """A black roof measured cool: the balance of its colour still stands, and a warning says it was no calm day."""
    black = {"vehicle.absorptance": 0.96, "vehicle.measured_temperature": [measured(temperature_K=306.15)]}
    table = table_of(PANEL, black)

    assert bond_K(table, "gust") == pytest.approx(
        balance(AIR_K, AIR_K - 10, SUN_W_per_m2, EMITTANCE, 5.0), abs=1e-6
    )
    (finding,) = table.findings
    assert finding.grade == "warning"
    assert finding.key == "vehicle.measured_temperature.1.temperature"


# -- what stands beside


def beside(table: CaseTable, name: str, case: str, season: str = "hot", mount: int = 0) -> float:
    """Return a number that explains a case."""
    row = row_of(table, case, season)
    (number,) = [one.number for one in table.beside if one.name == name and row in one.cases]
    return at(number, (0, 2, mount))


def test_the_cooling_curve_runs_from_the_soak_to_the_drive() -> None:
    """Points at 1, 2, 5 and 10 minutes fall from the parked temperature toward cruise, which is the last of them."""
    table = table_of(PANEL)
    curve = [beside(table, f"cooled after {minutes} min", "departure") for minutes in (1, 2, 5, 10)]

    assert bond_K(table, "departure") > curve[0] > curve[1] > curve[2] > curve[3]
    assert curve[3] == pytest.approx(bond_K(table, "cruise"))
    assert 120.0 < beside(table, "time constant", "departure") < 600.0


@pytest.mark.by_hand
def test_after_one_time_constant_a_difference_is_at_37_percent() -> None:
    """T = T_e + (T_0 - T_e)/e."""
    assert heat_laws.cooled_temperature(320.0, 360.0, 250.0, 250.0) == pytest.approx(320.0 + 40.0 / np.e)
    assert heat_laws.time_constant(15e3, 60.0) == 250.0


@pytest.mark.independent
def test_the_equivalent_temperature_of_a_day() -> None:
    """Against numerical integration of exp(-E/RT) over the day; between night and noon, nearer noon for a larger E."""

    def day(energy: float) -> float:
        def rate(share_of_day: float) -> float:
            warm = AIR_K + 55.0 * max(0.0, np.sin(2 * np.pi * share_of_day))
            return float(np.exp(-energy / (GAS_CONSTANT * warm)))

        mean, _ = quad(rate, 0.0, 1.0, points=[0.25, 0.5], epsrel=1e-10, epsabs=0.0)
        return float(-energy / (GAS_CONSTANT * np.log(mean)))

    for energy in (60e3, 90e3, 150e3):
        found = float(heat_laws.equivalent_day_temperature(AIR_K, AIR_K + 55.0, energy))

        assert found == pytest.approx(day(energy), abs=0.05)
    assert day(60e3) < day(150e3) < AIR_K + 55.0
    table = table_of(PANEL)
    assert AIR_K < beside(table, "equivalent temperature of the day", "hot soak") < bond_K(table, "hot soak")


@pytest.mark.independent
def test_the_sol_air_temperature_is_near_the_balance() -> None:
    """Radiation made linear at the air's temperature overstates the balance a little: 0 to 8 K for a dark roof."""
    table = table_of(PANEL, {"vehicle.absorptance": 0.85})
    exact = balance(AIR_K, AIR_K - 10, (0.85 + DIRT) * SUN_W_per_m2, EMITTANCE, 5.0)

    assert 0.0 < beside(table, "sol-air temperature", "hot soak") - exact < 25.0


def test_the_boundary_layer_stands_beside_wind_from_the_front_only() -> None:
    """Thicker further back; no number for side wind, storms, or an item at the roof's very front."""
    near, far = table_of(PANEL), table_of(PANEL, {"item.0.behind_roof_front_m": 2.5})
    name = "boundary layer at the front edge"
    front = {far.cases[row].name for one in far.beside if one.name == name for row in one.cases}
    none = table_of(PANEL, {"item.0.behind_roof_front_m": 0.0})

    assert beside(far, name, "gust") > beside(near, name, "gust") > 0.0
    low = table_of(PANEL, {"item.0.behind_roof_front_m": 2.5, "item.0.gap_m": 0.01})
    share = "pressure share in the boundary layer"
    assert 0.0 < beside(low, share, "gust") < beside(far, share, "gust") <= 1.0
    assert {"cruise", "gust", "departure", "braking"} <= front
    assert not any(case.startswith(("storm", "crosswind", "handling")) for case in front)
    assert all(one.name != name for one in none.beside)


def test_a_job_keeps_its_own_planning_value() -> None:
    """A factor of one's own in [planning] replaces the library's, as every other planning value."""
    own = changed(PANEL, {"planning": {"sun.under_item": {"low": 0.05, "likely": 0.06, "high": 0.07}}})
    from staydown.assess import with_overrides
    from staydown.loads.build_cases import build_cases

    job = job_of(own)
    table = build_cases(job, job.item[0], "item.1", "high", with_overrides(cards(), job))

    assert bond_K(table, "gust") == pytest.approx(AIR_K + 70.0)
