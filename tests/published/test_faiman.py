"""Solar modules on open racks: IEC 61215 nominal operating temperature, Faiman 2008; both from memory."""

from __future__ import annotations

import pytest

from sample_jobs import PANEL, cards, job_of
from staydown.foundation.numbers import at
from staydown.loads.balance_laws import nominal_module_temperature, windy_module_temperature
from staydown.loads.build_cases import build_cases


@pytest.mark.published
def test_nominal_operating_temperature() -> None:
    """45 degC nominal, 35 degC, 1000 W/m2: 66.25 degC; at its own 800 W/m2 and 20 degC it is the nominal one."""
    assert nominal_module_temperature(308.15, 318.15, 1000.0) - 273.15 == pytest.approx(66.25, abs=0.01)
    assert nominal_module_temperature(293.15, 318.15, 800.0) == pytest.approx(318.15)


@pytest.mark.published
def test_module_in_a_wind() -> None:
    """20 degC, 1000 W/m2, 1 m/s: 20 + 1000/(25 + 6.84) = 51.41 degC."""
    assert windy_module_temperature(293.15, 1000.0, 1.0) - 273.15 == pytest.approx(51.41, abs=0.01)


@pytest.mark.independent
def test_a_parked_panel_is_no_cooler_than_on_an_open_rack() -> None:
    """What decides for a panel over a roof is at least what Faiman's modules have in a calm and the nominal one."""
    job = job_of(PANEL)
    table = build_cases(job, job.item[0], "item.1", "high", cards())
    hot = [n for n, case in enumerate(table.cases) if case.name == "hot soak"]
    beside = {one.name: at(one.number, (0, 0, 0)) for one in table.beside if set(one.cases) == set(hot)}

    assert beside["module on an open rack"] < beside["item temperature"]
    assert beside["module on an open rack in a calm"] < beside["item temperature"]
