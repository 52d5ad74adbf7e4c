"""Mean kinetic temperature: Haynes, J. Pharm. Sci. 60 (1971) 927; USP <1079.2>; ICH Q1A. Formula from memory."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.loads.heat_laws import mean_kinetic_temperature

ENERGY_J_per_mol = 83.144e3  # USP's default: over the gas constant it is 10 000 K


@pytest.mark.published
@pytest.mark.parametrize(
    ("celsius", "mean"),
    [
        ((20.0, 40.0), 34.36),
        ((20.0, 20.0, 20.0, 60.0), 45.79),
        ((4.0, 4.0, 4.0, 4.0, 16.0), 8.11),
        ((25.0,), 25.00),
    ],
)
def test_spells_of_equal_length(celsius: tuple[float, ...], mean: float) -> None:
    """Two spells, one hot of four, one warm of five, and a constant; recomputed from the formula."""
    found = mean_kinetic_temperature(np.array(celsius) + 273.15, ENERGY_J_per_mol)

    assert float(found) - 273.15 == pytest.approx(mean, abs=0.01)
