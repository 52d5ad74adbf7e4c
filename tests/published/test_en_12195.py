"""EN 12195-1:2010, securing of cargo on road vehicles: acceleration coefficients. A cross-check."""

from __future__ import annotations

import pytest

from staydown.storage.read_cards import read_cards

GRAVITY_m_per_s2 = 9.80665


@pytest.mark.published
@pytest.mark.parametrize(
    ("card", "coefficient"), [("braking", 0.8), ("speeding_up", 0.5), ("cornering", 0.5)]
)
def test_acceleration_coefficients(card: str, coefficient: float) -> None:
    """Table 2: cx 0.8 forward and 0.5 rearward, cy 0.5 sideways; read in a public guide on load assumptions."""
    assert read_cards().planning[card].decided.value == pytest.approx(coefficient * GRAVITY_m_per_s2)
