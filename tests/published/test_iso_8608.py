"""ISO 8608:2016, road surface profiles: spectra of the classes at 0.1 cycle per metre; values from memory."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread import road_laws
from staydown.storage.read_cards import read_cards

MEANS = {"A": 16e-6, "B": 64e-6, "C": 256e-6, "D": 1024e-6, "E": 4096e-6, "F": 16384e-6}
CARDS = read_cards()


@pytest.mark.published
@pytest.mark.parametrize(("road", "mean"), MEANS.items())
def test_classes(road: str, mean: float) -> None:
    """Table C.1: geometric means 16, 64, 256 ... x 1e-6 m3; limits are half and twice that."""
    band = CARDS.planning[f"road.{road}"].band

    assert (band.low, band.likely, band.high) == pytest.approx((mean / 2, mean, 2 * mean))


@pytest.mark.published
def test_class_c_at_25_m_per_s() -> None:
    """Displacement spectrum 6.40e-5 m2/Hz at 1 Hz; velocity spectrum (2 pi n0)^2 G v = 2.527e-3 (m/s)^2/Hz at any."""
    frequency = np.array([1.0, 3.0, 20.0])

    spectrum = road_laws.road_spectrum(256e-6, 0.1, 25.0, frequency)

    assert spectrum[0] == pytest.approx(6.40e-5, rel=1e-3)
    assert (2 * np.pi * frequency) ** 2 * spectrum == pytest.approx(2.527e-3, rel=1e-3)
    assert road_laws.acceleration_spectrum(frequency, spectrum) == pytest.approx(
        (2 * np.pi * frequency) ** 2 * 2.527e-3, rel=1e-3
    )


@pytest.mark.independent
def test_the_quarter_car_is_its_two_equations_of_motion() -> None:
    """The printed response equals a complex solve of the two equations of motion, body and wheel, at each frequency."""
    body, wheel, spring, tyre, damper = 1.0, 0.12, (2 * np.pi * 1.3) ** 2, 8 * (2 * np.pi * 1.3) ** 2, 0.6
    for frequency in (0.3, 1.3, 5.0, 11.0, 40.0):
        w = 2 * np.pi * frequency
        link = spring + 1j * w * damper * np.sqrt(spring)
        matrix = np.array([[link - body * w**2, -link], [-link, link + tyre - wheel * w**2]])
        moved = np.linalg.solve(matrix, np.array([0.0, tyre]))

        assert road_laws.passed_on(frequency, 1.3, 0.3, 8.0, 0.12) == pytest.approx(
            abs(moved[0]) ** 2, rel=1e-9
        )
