"""Kiya and Sasaki, Structure of a turbulent separation bubble, J. Fluid Mech. 137 (1983) 83-113."""

from __future__ import annotations

import pytest

from staydown.spread import frequency_laws
from staydown.storage.read_cards import read_cards

PLANNING = read_cards().planning


@pytest.mark.published
def test_vortices_and_flapping() -> None:
    """0.6 and 0.2 times U/x_R (abstract): 30 m/s over 35 mm, x_R = 5 t, gives 102.9 and 34.3 Hz."""
    bubble = frequency_laws.bubble_length(PLANNING["bubble_length"].band.likely, 0.035)

    shed, flap = (
        frequency_laws.vortex_frequency(PLANNING[name].band.likely, 30.0, bubble)
        for name in ("vortex_number", "flapping_number")
    )

    assert bubble == pytest.approx(0.175)
    assert shed == pytest.approx(102.9, abs=0.05)
    assert flap == pytest.approx(34.3, abs=0.05)


@pytest.mark.published
def test_length_of_the_bubble() -> None:
    """Blunt plates reattach 4.5 to 5.5 thicknesses behind the edge: 4.9, 5.05 and 4.7 in three papers; from memory."""
    band = PLANNING["bubble_length"].band

    assert band.low <= min(4.9, 5.05, 4.7)
    assert band.high >= max(4.9, 5.05, 4.7)


@pytest.mark.by_hand
def test_where_they_meet() -> None:
    """The speed at which vortices come at the item's own frequency turns the law round."""
    speed = frequency_laws.meeting_speed(83.1, 0.175, 0.6)

    assert frequency_laws.vortex_frequency(0.6, speed, 0.175) == pytest.approx(83.1)
