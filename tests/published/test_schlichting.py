"""Schlichting, Boundary-Layer Theory, ch. 21: turbulent layer on a flat plate, 1/7-power profile. From memory."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from staydown.loads.convection_laws import (
    boundary_layer_thickness,
    profile_pressure_share,
    reynolds_number,
)

KINEMATIC_m2_per_s = 1.46e-5


@pytest.mark.published
@pytest.mark.parametrize(
    ("speed_m_per_s", "behind_m", "thickness_mm"),
    [(30.0, 3.0, 48.68), (30.0, 1.0, 20.21), (30.0, 5.0, 73.25), (20.0, 2.0, 38.17)],
)
def test_turbulent_thickness(speed_m_per_s: float, behind_m: float, thickness_mm: float) -> None:
    """delta = 0.37 x Re^-0.2, air of 1.46e-5 m²/s."""
    reynolds = reynolds_number(speed_m_per_s, behind_m, KINEMATIC_m2_per_s)

    assert 1e3 * float(boundary_layer_thickness(behind_m, reynolds)) == pytest.approx(thickness_mm, rel=1e-3)


@pytest.mark.published
def test_laminar_thickness_near_the_front() -> None:
    """delta = 5.0 x Re^-0.5 below Re 5e5: 0.1 m behind the edge at 20 m/s it is 1.35 mm."""
    reynolds = reynolds_number(20.0, 0.1, KINEMATIC_m2_per_s)

    assert 1e3 * float(boundary_layer_thickness(0.1, reynolds)) == pytest.approx(1.351, rel=1e-3)


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("height_over_layer", "share"), [(0.25, 0.5234), (0.5, 0.6380), (0.75, 0.7164), (1.0, 0.7778)]
)
def test_mean_pressure_on_a_step(height_over_layer: float, share: float) -> None:
    """A step that stands on the roof within the layer meets (7/9)(h/delta)^(2/7) of the free stream's pressure."""
    found = float(profile_pressure_share(0.0, 0.05 * height_over_layer, 0.05))

    assert found == pytest.approx(7 / 9 * height_over_layer ** (2 / 7), rel=1e-12)
    assert found == pytest.approx(share, abs=1e-4)


@pytest.mark.independent
@pytest.mark.parametrize(("bottom_m", "thickness_m"), [(0.02, 0.02), (0.03, 0.06), (0.08, 0.04), (0.0, 0.2)])
def test_mean_pressure_on_an_edge_above_a_gap(bottom_m: float, thickness_m: float) -> None:
    """The squared profile integrated numerically by scipy, within, across and above a layer of 50 mm."""
    layer = 0.05
    top = bottom_m + thickness_m
    points = [layer] if bottom_m < layer < top else None
    area, _ = quad(lambda z: np.minimum(z / layer, 1.0) ** (2 / 7), bottom_m, top, points=points)

    found = float(profile_pressure_share(bottom_m, thickness_m, layer))

    assert found == pytest.approx(area / thickness_m, rel=1e-6)
