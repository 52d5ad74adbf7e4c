"""R. Simmons, Miles' Equation, NASA Goddard FEMCI (2001); GSFC-STD-7000: 200 Hz, Q = 20, 0.01 g2/Hz."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2 as g
from staydown.spread import road_laws


@pytest.mark.published
@pytest.mark.parametrize(
    ("frequency", "amplification", "spectrum", "expected"),
    [(200.0, 20.0, 0.01, 7.927), (15.0, 10.0, 0.01, 1.535), (30.0, 5.0, 0.005, 1.085)],
)
def test_root_mean_square(frequency: float, amplification: float, spectrum: float, expected: float) -> None:
    """G_rms = sqrt(pi/2 f Q ASD): the page's example, and two more computed from its formula, within 0.1 %."""
    rms = road_laws.miles_acceleration(frequency, amplification, spectrum * g**2)

    assert float(rms) / g == pytest.approx(expected, rel=1e-3)


@pytest.mark.published
def test_three_deviations_and_movement() -> None:
    """3 sigma 23.78 g and Y_rms = sqrt(Q ASD/(32 pi^3 f^3)) = 0.04923 mm."""
    rms = road_laws.miles_acceleration(200.0, 20.0, 0.01 * g**2)

    assert float(road_laws.peak_of_random(3.0, rms)) / g == pytest.approx(23.78, rel=1e-3)
    assert float(road_laws.miles_movement(200.0, 20.0, 0.01 * g**2)) == pytest.approx(0.04923e-3, rel=1e-3)


@pytest.mark.independent
@pytest.mark.parametrize("amplification", [5.0, 20.0])
def test_against_the_whole_integral(amplification: float) -> None:
    """One mass shaken at its base, integrated over all frequencies: sqrt(1 + 1/Q^2) above Miles, 7.9366 g there."""
    frequency, damping = 200.0, 1 / (2 * amplification)
    ratio = np.concatenate([np.linspace(1e-4, 5.0, 400_001), np.geomspace(5.0, 2000.0, 100_001)[1:]])
    response = (1 + (2 * damping * ratio) ** 2) / ((1 - ratio**2) ** 2 + (2 * damping * ratio) ** 2)
    whole = np.sqrt(np.trapezoid(response, ratio) * frequency * 0.01)

    miles = float(road_laws.miles_acceleration(frequency, amplification, 0.01))

    assert whole == pytest.approx(miles * np.sqrt(1 + 1 / amplification**2), rel=1e-3)
