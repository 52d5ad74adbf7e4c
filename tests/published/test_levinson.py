"""Levinson et al., Applied Energy 88 (2011) 4343: parked cars in the sun, silver against black. From memory."""

from __future__ import annotations

import pytest

from staydown.loads.balance_laws import balance_temperature
from staydown.storage.read_cards import read_cards

AIR_K, SUN_W_per_m2, CALM_W_per_m2_K, EMITTANCE = 312.0, 1000.0, 5.0, 0.9


@pytest.mark.published
def test_a_silver_roof_stays_cooler_than_a_black_one() -> None:
    """Measured: up to 25 K in the same soak. A plate that loses nothing downward shows more, but not twice as much."""
    colours = read_cards().colours
    silver, black = (
        float(
            balance_temperature(
                AIR_K,
                AIR_K - 10.0,
                colours[name].absorptance.likely,
                SUN_W_per_m2,
                EMITTANCE,
                CALM_W_per_m2_K,
            )
        )
        for name in ("silver", "black")
    )

    assert 25.0 <= black - silver <= 50.0
