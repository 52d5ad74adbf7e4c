"""Escobar, Meeker, Kugler & Kramer (2003), ch. 21 of Mathematical and Statistical Methods in Reliability.

Ageing of an adhesive bond, set B: breaking force in N after storage. The 82 exact rows were found in a public
copy of the data; the published estimates 4.471, 0.6364, 0.1580 are from memory.
"""

from __future__ import annotations

import math

import pytest

from staydown.strength.ageing import AgedResult, AgeingFit, fit_ageing

WEEK_s = 7 * 86400.0
BOLTZMANN_RATIO_K = 11605.0  # kelvin per electronvolt, as the authors write it
GAS_J_per_mol_K = 8.314462618
ROWS = {  # °C -> hours -> N
    50: {
        0: [70.1, 76.7, 84.5, 88.0, 88.9, 90.4, 91.9, 98.1],
        336: [77.8, 78.4, 78.8, 80.5, 81.7, 83.3, 84.2, 89.2],
        1008: [62.7, 65.7, 66.3, 67.7, 67.8, 68.8, 72.6, 74.1],
        2016: [45.5, 54.3, 54.6, 61.4, 62.5, 73.8, 75.9],
        2688: [39.2, 49.0, 51.1, 61.4, 62.0, 70.9, 73.6],
    },
    60: {
        336: [51.7, 61.5, 69.9, 73.7, 76.8, 87.1],
        1008: [43.2, 54.4, 56.7, 59.2, 77.1],
        2016: [34.3, 38.4, 39.2, 48.4, 64.2],
        2688: [28.5, 33.1, 37.1, 44.3],
    },
    70: {
        336: [35.8, 44.1, 45.2, 45.7, 59.6],
        672: [32.3, 35.3, 37.9, 38.6, 39.4, 46.9],
        1008: [28.0, 29.2, 32.5, 32.7],
        2016: [20.6, 21.0, 22.6, 23.3, 23.4, 23.5, 25.1, 31.6, 33.0],
    },
}


def fitted() -> AgeingFit:
    """Return the fit of all rows."""
    fit = fit_ageing(
        [
            AgedResult(stress_Pa=force, aged_s=hours * 3600.0, temperature_K=warm_C + 273.15)
            for warm_C, by_hours in ROWS.items()
            for hours, forces in by_hours.items()
            for force in forces
        ]
    )
    assert fit is not None
    return fit


@pytest.mark.published
def test_estimates() -> None:
    """Intercept 4.471, 0.6364 eV, sigma 0.1580; log likelihood 34.966 recomputed."""
    fit = fitted()

    assert math.log(fit.fresh_Pa) == pytest.approx(4.471, abs=1e-3)
    assert fit.energy_J_per_mol / GAS_J_per_mol_K / BOLTZMANN_RATIO_K == pytest.approx(0.6364, abs=5e-4)
    assert fit.ln_scatter == pytest.approx(0.1580, abs=1e-4)
    assert fit.log_likelihood == pytest.approx(34.966, abs=2e-3)


@pytest.mark.published
def test_rate_and_share_after_five_years() -> None:
    """0.10248 per root of a week at 50 °C; 3.2e-4 of bonds below 40 N after 260 weeks at 25 °C, recomputed."""
    fit = fitted()

    assert -math.log(fit.kept(WEEK_s, 323.15)) == pytest.approx(0.10248, rel=1e-3)
    assert fit.share_below(40.0, 260 * WEEK_s, 298.15) == pytest.approx(3.2e-4, rel=0.01)
