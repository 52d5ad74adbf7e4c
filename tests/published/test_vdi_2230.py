"""VDI 2230 Part 1, highly stressed bolted joints, 5.5.5: stripping of the nut thread."""

from __future__ import annotations

from math import pi, radians, tan

import pytest

from staydown.storage.read_cards import read_cards
from staydown.strength.screw_laws import thread_strip_force


@pytest.mark.published
@pytest.mark.parametrize("size", ["M4", "M5", "M6", "M8", "M10"])
def test_shear_area_of_the_nut_thread(size: str) -> None:
    """A = pi d (m/P) (P/2 + (d - D2) tan 30), D2 = d - 0.6495 P (ISO 724), m less 0.8 P; from memory, to 0.1 %."""
    card = read_cards().screw_sizes[size]
    d, pitch = card.diameter_m, card.pitch_m
    engaged = 1.5 * d
    area = pi * d * (engaged - 0.8 * pitch) / pitch * (pitch / 2 + 0.6495 * pitch * tan(radians(30)))

    assert thread_strip_force(200e6, d, engaged, pitch) == pytest.approx(0.6 * 200e6 * area, rel=1e-3)


@pytest.mark.published
def test_steel_needs_about_a_diameter_and_aluminium_half_as_much_again() -> None:
    """Usual lengths for class 5.6, handbooks, from memory: 1.0 d in steel of 400, 1.5 d in aluminium of 260 MPa."""
    size, screws = read_cards().screw_sizes["M8"], read_cards().screw_classes
    breaking_N = size.stress_area_m2 * screws["5.6"].tensile_strength_Pa

    assert thread_strip_force(400e6, 8e-3, 8e-3, size.pitch_m) >= breaking_N
    assert thread_strip_force(260e6, 8e-3, 12e-3, size.pitch_m) >= breaking_N
    assert thread_strip_force(260e6, 8e-3, 5e-3, size.pitch_m) < breaking_N
