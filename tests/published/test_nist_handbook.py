"""NIST/SEMATECH e-Handbook of Statistical Methods: acceleration, tolerance factors, censored fits."""

from __future__ import annotations

import pytest

from staydown.strength.rupture_laws import GAS_CONSTANT_J_per_mol_K, arrhenius_shift
from staydown.strength.tolerance_laws import tolerance_factor, tolerance_factor_natrella

NIST_EV_J_per_mol = GAS_CONSTANT_J_per_mol_K / 8.617e-5  # the handbook's k = 8.617e-5 eV/K
NIST_ZERO_K = 273.16  # the handbook's zero of the Celsius scale


@pytest.mark.published
@pytest.mark.parametrize(
    ("energy_eV", "cool_C", "hot_C", "factor"),
    [(0.5, 25, 125, 132.65), (1.0, 25, 125, 17596), (0.7, 25, 85, 96.0), (0.63, 25, 60, 13.15)],
)
def test_arrhenius_acceleration(energy_eV: float, cool_C: float, hot_C: float, factor: float) -> None:
    """Section 8.1.5.1 prints 133 and 17,597 for 25 to 125 °C (from memory); the others are common practice."""
    shift = arrhenius_shift(hot_C + NIST_ZERO_K, cool_C + NIST_ZERO_K, energy_eV * NIST_EV_J_per_mol)

    assert 1 / shift == pytest.approx(factor, rel=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(("count", "natrella", "exact"), [(43, 1.8752, 1.8740), (40, 1.9034, 1.9017)])
def test_tolerance_factor_and_its_approximation(count: int, natrella: float, exact: float) -> None:
    """Section 7.2.6.3: Natrella's approximation and the exact factor, content 0.90, confidence 0.99."""
    assert tolerance_factor_natrella(count, 0.90, 0.99) == pytest.approx(natrella, abs=1e-4)
    assert tolerance_factor(count, 0.90, 0.99) == pytest.approx(exact, abs=1e-4)
