"""The driver's rule to park nowhere but in the shade: how much cooler the bond is, and where it is not."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roof_heat import (
    AIR_K,
    DIRT,
    EMITTANCE,
    SIGMA,
    SUN_W_per_m2,
    balance,
    bond_K,
    measured,
    wind_W_per_m2_K,
)
from sample_jobs import PANEL, cards, changed, job_of, own, row_of
from staydown.assess import with_overrides
from staydown.foundation.walk import givens
from staydown.loads.build_cases import build_cases
from staydown.loads.load_case import CaseTable

SHADE, STOP_s = 0.40, 120.0  # the ends that decide
SKIN_J_per_m2_K, CALM_W_per_m2_K = 3e3, 5.0
CRUISE_W_per_m2_K = wind_W_per_m2_K(95 / 3.6, AIR_K)
OUTRIGGER = {"item.0.mount.1.left_m": -0.36}
RULE = {"travel.parked": "shade"}


def tables(changes: Mapping[str, Any] | None = None) -> tuple[CaseTable, CaseTable]:
    """Return the cases of the sample panel parked anywhere and parked in the shade, a job's own planning values in."""
    found = []
    for rule in ({}, RULE):
        job = job_of(changed(PANEL, {**OUTRIGGER, **(changes or {}), **rule}))
        found.append(build_cases(job, job.item[0], "item.1", "high", with_overrides(cards(), job)))
    return found[0], found[1]


def in_town(absorptance: float, sunny_K: float, speed_m_per_s: float = 30 / 3.6) -> float:
    """Return the balance of slow driving in full sun, no hotter than standing in it."""
    wind = wind_W_per_m2_K(speed_m_per_s, AIR_K)
    return min(sunny_K, balance(AIR_K, AIR_K - 10, absorptance * SUN_W_per_m2, EMITTANCE, wind))


def after_a_stop(start_K: float, sunny_K: float, stop_s: float = STOP_s) -> float:
    """Return where a stop in the sun brings the lightest skin: its own heat transfer written out."""
    constant = SKIN_J_per_m2_K / (CALM_W_per_m2_K + 4 * EMITTANCE * SIGMA * sunny_K**3)
    return float(sunny_K + (start_K - sunny_K) * np.exp(-stop_s / constant))


@pytest.mark.independent
@pytest.mark.parametrize(("mount", "absorptance", "factor"), [(0, 1.0, 0.055), (1, 0.30 + DIRT, 0.040)])
def test_the_parked_bond_of_a_driver_who_keeps_to_the_shade(
    mount: int, absorptance: float, factor: float
) -> None:
    """The warmer of 0.4 of the sun in a calm and of driving at 95 km/h in all of it, then two minutes of full sun.

    Never less than driving at 30 km/h in full sun.
    """
    _, table = tables()
    shade = max(
        AIR_K + factor * SHADE * SUN_W_per_m2,
        balance(AIR_K, AIR_K - 10, (0.30 + DIRT) * SHADE * SUN_W_per_m2, EMITTANCE, CALM_W_per_m2_K),
    )
    driving = balance(AIR_K, AIR_K - 10, absorptance * SUN_W_per_m2, EMITTANCE, CRUISE_W_per_m2_K)
    sunny = AIR_K + factor * SUN_W_per_m2
    expected = max(after_a_stop(max(shade, driving), sunny), in_town(absorptance, sunny))

    for case in ("departure", "gust", "rough road", "handling up front", "hot soak"):
        assert bond_K(table, case, mount=mount) == pytest.approx(expected, abs=1e-6)


def test_what_the_rule_leaves_as_it_is() -> None:
    """Storms in their sun, all of the cold season and snow: the same to the last digit."""
    anywhere, shade = tables()
    other = [case.exposure.season == "cold" or case.family in ("parked", "snow") for case in anywhere.cases]
    before, after = (
        np.asarray(anywhere.temperatures.value)[other],
        np.asarray(shade.temperatures.value)[other],
    )

    assert sum(other) > 20
    np.testing.assert_array_equal(before, after)
    np.testing.assert_array_equal(anywhere.force_N, shade.force_N)


def test_anywhere_is_the_same_as_left_out() -> None:
    """Typed or not, a vehicle that may stand anywhere soaks in full sun."""
    left_out, _ = tables()
    typed, _ = tables({"travel.parked": "anywhere"})

    np.testing.assert_array_equal(left_out.temperatures.value, typed.temperatures.value)


@settings(max_examples=40, deadline=None)
@given(
    sun=st.floats(0.0, 1200.0),
    absorptance=st.floats(0.05, 1.0),
    item=st.floats(0.05, 1.0),
    air=st.floats(283.15, 323.15),
    speed=st.floats(3.0, 45.0),
    share=st.floats(0.0, 1.0),
    stop=st.floats(0.0, 3600.0),
    town=st.floats(3.0, 30.0),
    reading=st.sampled_from([None, 303.0, 335.0, 350.0]),
)
def test_the_rule_never_heats_and_never_cools_below_driving_in_the_sun(
    sun: float,
    absorptance: float,
    item: float,
    air: float,
    speed: float,
    share: float,
    stop: float,
    town: float,
    reading: float | None,
) -> None:
    """In every case and at every mount, whatever was measured or planned; the item's own temperature too."""
    anywhere, shade = tables(
        {
            "climate.sun_W_per_m2": sun,
            "climate.hottest_K": air,
            "vehicle.absorptance": absorptance,
            "item.0.absorptance": item,
            "travel.cruise_speed_m_per_s": speed,
            "travel.top_speed_m_per_s": 45.0,
            "planning": {"shade_sun": own(share), "sun_stop": own(stop), "slow_driving": own(town)},
            "vehicle.measured_temperature": [] if reading is None else [measured(temperature_K=reading)],
        }
    )
    before, after = (np.asarray(table.temperatures.value) for table in (anywhere, shade))
    still = before[row_of(shade, "gust", "hot"), 0, 1]

    def driving(speed_m_per_s: float) -> float:
        # a slow wind takes no less than still air
        convection = max(CALM_W_per_m2_K, wind_W_per_m2_K(speed_m_per_s, air))
        gain = min(1.0, absorptance + DIRT) * sun
        return min(still, balance(air, air - 10, gain, EMITTANCE, convection))

    assert np.all(after <= before + 1e-9)
    assert np.all(np.asarray(shade.soak.item_hot.value) <= np.asarray(anywhere.soak.item_hot.value) + 1e-9)
    for row, case in enumerate(shade.cases):
        if case.exposure.season == "hot" and case.family in ("moving", "handling", "soak"):
            slowest = speed if case.name == "cruise" else min(speed, town)
            assert after[row, 0, 1] >= driving(slowest) - 1e-6, case.name


def test_a_stop_without_end_is_parked_in_the_sun() -> None:
    """An hour in the sun undoes the rule, and so does crawling; neither leaves the warmer of shade and driving."""
    anywhere, hour = tables({"planning": {"sun_stop": own(3600.0)}})
    _, crawl = tables({"planning": {"slow_driving": own(0.5)}})
    _, none = tables({"planning": {"sun_stop": own(0.0), "shade_sun": own(0.9)}})

    assert bond_K(hour, "gust") == pytest.approx(bond_K(anywhere, "gust"), abs=0.01)
    assert bond_K(crawl, "gust") == pytest.approx(bond_K(anywhere, "gust"), abs=0.01)
    assert bond_K(none, "gust") == pytest.approx(AIR_K + 0.055 * 0.9 * SUN_W_per_m2)


@pytest.mark.by_hand
def test_a_measured_roof_counts_in_the_shade_too() -> None:
    """58 degC at 23 degC and 790 W/m2, no wind: c times 0.9 of the sun is what the shade gives, without a stop."""
    radiation = 4 * EMITTANCE * SIGMA * 331.15**3
    factor = 35.0 / 790.0 * (5.7 + radiation) / (5.0 + radiation)
    _, table = tables(
        {
            "planning": {"sun_stop": own(0.0), "shade_sun": own(0.9)},
            "vehicle.measured_temperature": [measured()],
        }
    )

    assert bond_K(table, "gust") == pytest.approx(AIR_K + factor * 0.9 * SUN_W_per_m2)


def test_cruise_starts_from_what_the_rule_allows() -> None:
    """Ten minutes on the way it is cooler than from a soak, and still no cooler than the drive's own balance."""
    anywhere, shade = tables()
    driving = balance(AIR_K, AIR_K - 10, SUN_W_per_m2, EMITTANCE, CRUISE_W_per_m2_K)

    assert driving < bond_K(shade, "cruise") < bond_K(anywhere, "cruise")


def test_the_trail_names_what_the_rule_rests_on() -> None:
    """The parked bond walks down to the share of the sun and the stop only where the rule is kept."""
    names = []
    for table in tables():
        found = givens(table.cases[row_of(table, "gust", "hot")].bond_temperature)
        names.append({number.source.place for number in found})

    assert {"shade_sun", "sun_stop", "slow_driving", "roof_heat_capacity"} <= names[1]
    assert not {"shade_sun", "sun_stop", "slow_driving"} & names[0]


@pytest.mark.published
def test_the_band_of_the_shade_holds_the_clear_sky() -> None:
    """Erbs, Klein and Duffie 1982 (from memory): diffuse share 0.165 above a clearness of 0.8, their quartic at 0.7."""
    band = cards().planning["shade_sun"].band
    clear = 0.9511 - 0.1604 * 0.7 + 4.388 * 0.7**2 - 16.638 * 0.7**3 + 12.336 * 0.7**4

    assert band.low == 0.165
    assert band.low < clear <= band.likely < band.high
    assert clear == pytest.approx(0.244, abs=0.001)
