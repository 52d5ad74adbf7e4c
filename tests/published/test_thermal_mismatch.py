"""Thermal movement of a bond as ASTM C1401 computes sealant movement: gamma = dL/t, dL = (a1 - a2) dT L/2."""

from __future__ import annotations

import pytest

from staydown.loads.heat_laws import mismatch_strain, thermal_shear_strain

THICKNESS_m = 1.1e-3


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("first", "second", "change_K", "length_m", "movement_mm", "strain"),
    [
        pytest.param(23.1e-6, 12e-6, 60.0, 1.0, 0.333, 0.303, id="aluminium on steel"),
        pytest.param(23.1e-6, 9e-6, 60.0, 1.0, 0.423, 0.385, id="aluminium on glass"),
        pytest.param(30e-6, 23e-6, 60.0, 1.5, 0.315, 0.286, id="glass-reinforced polyester on aluminium"),
        pytest.param(80e-6, 12e-6, 50.0, 0.2, 0.340, 0.309, id="ABS on steel"),
    ],
)
def test_shear_strain_of_a_bond(
    first: float, second: float, change_K: float, length_m: float, movement_mm: float, strain: float
) -> None:
    """Half of the length moves from the fixed centre; tape of 1.1 mm. The standard's clause is from memory."""
    mismatch = mismatch_strain(first, change_K, second, change_K)

    assert 1e3 * mismatch * length_m / 2 == pytest.approx(movement_mm, rel=5e-3)
    assert thermal_shear_strain(mismatch, length_m / 2, THICKNESS_m) == pytest.approx(strain, rel=5e-3)
