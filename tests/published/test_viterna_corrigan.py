"""Viterna & Corrigan, NASA, 1982: largest drag of a plate, 1.11 + 0.018 AR up to 50; read in an open solver's notes."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.loads.wind_laws import plate_drag_coefficient


def viterna_corrigan(ratio: float) -> float:
    """Return the paper's C_Dmax. [1]"""
    return 1.11 + 0.018 * ratio


@pytest.mark.published
@pytest.mark.parametrize("ratio", [22.0, 25.0, 30.0, 40.0, 49.0])
def test_slender_edges_follow_the_line(ratio: float) -> None:
    """Above 20 the coefficient is the paper's, where that lies between the table's last value and the endless plate."""
    assert plate_drag_coefficient(ratio) == pytest.approx(viterna_corrigan(ratio), abs=1e-12)


@pytest.mark.published
def test_stout_plates_agree_with_the_line() -> None:
    """Cross-check to 20: the table agrees within 0.05 from a ratio of 1.3 on; the square is 0.052 above the line."""
    ratios = np.geomspace(1.3, 20.0, 60)

    assert np.asarray(plate_drag_coefficient(ratios)) == pytest.approx(viterna_corrigan(ratios), abs=0.05)
    assert plate_drag_coefficient(1.0) - viterna_corrigan(1.0) == pytest.approx(0.052, abs=1e-9)


@pytest.mark.by_hand
def test_no_step_where_the_rules_meet() -> None:
    """Just below and above 20 there is one value, and the coefficient never falls as the plate grows longer."""
    ratios = np.linspace(1.0, 60.0, 600)

    assert plate_drag_coefficient(20.001) == pytest.approx(plate_drag_coefficient(19.999), abs=1e-3)
    assert np.all(np.diff(np.asarray(plate_drag_coefficient(ratios))) >= 0)
