"""ISO 898-1:2013, mechanical properties of bolts and screws: stress areas, strength classes."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from staydown.storage.read_cards import read_cards

COARSE_PITCH_mm = {"M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75}  # ISO 261
CARDS = read_cards()


@pytest.mark.published
@pytest.mark.parametrize("size", sorted(COARSE_PITCH_mm))
def test_stress_area_follows_from_the_thread(size: str) -> None:
    """Clause 9.1.6.1: As = pi/4 ((d2 + d3)/2)^2, d2 and d3 by ISO 724 and ISO 68-1 from d and pitch.

    H = sqrt(3)/2 P, d2 = d - 3/4 H, d1 = d - 5/4 H, d3 = d1 - H/6; geometry from memory.
    The card holds the standard's rounded figure, three digits.
    """
    diameter_mm, height_mm = float(size[1:]), sqrt(3.0) / 2.0 * COARSE_PITCH_mm[size]
    d2_mm = diameter_mm - 0.75 * height_mm
    d3_mm = diameter_mm - 1.25 * height_mm - height_mm / 6.0
    area_m2 = pi / 4.0 * ((d2_mm + d3_mm) / 2.0) ** 2 * 1e-6

    assert CARDS.screw_sizes[size].stress_area_m2 == pytest.approx(area_m2, rel=3e-3)


@pytest.mark.published
@pytest.mark.parametrize("name", ["4.6", "4.8", "5.6", "5.8", "8.8", "10.9", "12.9"])
def test_strength_class_says_its_own_strength(name: str) -> None:
    """Clause 5: the first figure is 1/100 of the nominal strength in MPa; the least one is 0 to 5 % above.

    Table 3, up to M16: 400, 420, 500, 520, 800, 1040, 1220 MPa; values from memory.
    """
    table_MPa = {"4.6": 400, "4.8": 420, "5.6": 500, "5.8": 520, "8.8": 800, "10.9": 1040, "12.9": 1220}
    nominal_Pa = float(name.split(".")[0]) * 100e6
    least_Pa = CARDS.screw_classes[name].tensile_strength_Pa

    assert nominal_Pa <= least_Pa <= 1.05 * nominal_Pa
    assert least_Pa == pytest.approx(table_MPa[name] * 1e6)


@pytest.mark.published
def test_least_breaking_load_of_an_m6_of_class_8_8() -> None:
    """Table 4: least ultimate load of M6, class 8.8, is 16 100 N; value from memory, rounded to 100 N."""
    load_N = CARDS.screw_sizes["M6"].stress_area_m2 * CARDS.screw_classes["8.8"].tensile_strength_Pa

    assert load_N == pytest.approx(16100.0, abs=50.0)
