"""Hoerner, Fluid-Dynamic Drag and Fluid-Dynamic Lift: inclined flat plate, fully separated."""

from __future__ import annotations

from math import radians

import numpy as np
import pytest

from staydown.loads.wind_laws import incidence_coefficient, separated_plate_coefficient, uplift_coefficient

NORMAL_FORCE = {
    5.0: 0.2883,
    10.0: 0.5400,
    15.0: 0.7602,
    20.0: 0.9529,
    30.0: 1.2690,
    45.0: 1.6071,
    60.0: 1.8222,
    90.0: 1.9802,
}


@pytest.mark.published
@pytest.mark.parametrize(("angle_deg", "coefficient"), NORMAL_FORCE.items())
def test_inclined_plate(angle_deg: float, coefficient: float) -> None:
    """C_N = 1/(0.222 + 0.283/sin a): three public sources quote the formula; its values are computed."""
    assert separated_plate_coefficient(radians(angle_deg)) == pytest.approx(coefficient, abs=2e-4)


@pytest.mark.published
def test_uplift_of_a_raised_front_is_never_below_the_separated_plate() -> None:
    """A long narrow item (AR 0.2) with no flat uplift at all still gets the separated plate's force at its angle."""
    for angle_deg, coefficient in NORMAL_FORCE.items():
        attached = incidence_coefficient(radians(angle_deg), 0.2)

        assert uplift_coefficient(0.0, attached, coefficient) == pytest.approx(max(coefficient, attached))
        assert attached < coefficient


@pytest.mark.by_hand
def test_attached_lift_of_a_wide_plate_is_larger_at_small_angles() -> None:
    """Below stall 2 pi sin a carries more than the separated plate, which is why the larger of both counts."""
    small = np.radians([1.0, 3.0, 5.0])

    assert np.all(incidence_coefficient(small, 1e6) > separated_plate_coefficient(small))
