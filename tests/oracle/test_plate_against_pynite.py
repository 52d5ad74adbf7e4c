"""Plate and frame on springs against the rectangular plates and members of PyNiteFEA."""

from __future__ import annotations

import numpy as np
import pytest

import own_panel
from calculix import PANEL

SPRINGS = len(PANEL.springs)


@pytest.mark.oracle
@pytest.mark.independent
@pytest.mark.parametrize("frame_N_m2", [300.0, 1400.0])
def test_plate_and_frame_agree_with_pynite(frame_N_m2: float) -> None:
    """Pulls within 0.1 %, movements within 0.5 %: 24 x 12 plates of PyNiteFEA with members along the sides."""
    pynite_panel = pytest.importorskip("pynite_panel")
    theirs, ours = pynite_panel.lifts(frame_N_m2), own_panel.lifts((12, 6), frame_N_m2)

    assert ours[:SPRINGS] == pytest.approx(theirs[:SPRINGS], rel=1e-3)
    assert ours[SPRINGS:] == pytest.approx(theirs[SPRINGS:], rel=5e-3)


@pytest.mark.oracle
@pytest.mark.independent
@pytest.mark.parametrize(("gap_m", "touching", "within"), [(0.004, 5, 0.01), (0.001, 15, 0.04)])
def test_a_plate_that_comes_down_on_stops_agrees_with_pynite(
    gap_m: float, touching: int, within: float
) -> None:
    """The same points touch, and share alike: PyNiteFEA's compression-only springs under its 24 x 12 plates.

    Of the largest force 1 % where a line touches, 4 % where three do: stops on a coarse mesh are shared unevenly.
    """
    pynite_panel = pytest.importorskip("pynite_panel")
    pulls, stops = own_panel.stopped((12, 6), gap_m)
    their_pulls, their_stops = pynite_panel.stopped(gap_m)

    assert int((stops > 0.0).sum()) == int((their_stops > 0.0).sum()) == touching
    assert stops == pytest.approx(their_stops, abs=within * their_stops.max())
    assert pulls == pytest.approx(their_pulls, abs=within * np.abs(their_pulls).max())
    assert pulls.sum() - stops.sum() == pytest.approx(-1000.0 * 1.2 * 0.6)


@pytest.mark.oracle
@pytest.mark.independent
def test_a_forgotten_frame_is_seen() -> None:
    """The comparison can fail: without the frame the middle of a side moves ten times as far."""
    pytest.importorskip("pynite_panel")
    bare, framed = own_panel.lifts((12, 6), 0.0), own_panel.lifts((12, 6), 1400.0)

    assert np.max(bare[SPRINGS:] / framed[SPRINGS:]) > 10.0
