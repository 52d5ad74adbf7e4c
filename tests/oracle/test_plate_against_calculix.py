"""The plate on springs against CalculiX: its recorded deck and numbers, and a live run where `ccx` is installed."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

import own_panel
from calculix import PANEL, deck, installed, run

DATA = Path(__file__).parents[1] / "data"
DECK = (DATA / "calculix_panel.inp").read_text(encoding="ascii")
RECORDED = np.array(json.loads((DATA / "calculix_panel.json").read_text(encoding="utf-8"))["lift_m"])
SPRINGS = len(PANEL.springs)


@pytest.mark.oracle
@pytest.mark.independent
def test_the_plate_agrees_with_what_calculix_gave() -> None:
    """Pulls within 0.1 %, movements within 0.5 % of the largest: quadratic shells (S8R) of CalculiX 2.20, recorded."""
    ours = own_panel.lifts((24, 12), 0.0)

    assert ours[:SPRINGS] == pytest.approx(RECORDED[:SPRINGS], rel=1e-3)
    assert ours[SPRINGS:] == pytest.approx(RECORDED[SPRINGS:], rel=0.0, abs=5e-3 * np.abs(RECORDED).max())


@pytest.mark.oracle
@pytest.mark.independent
def test_a_plate_a_tenth_stiffer_is_seen() -> None:
    """The comparison can fail: with another modulus the movements differ by far more than is allowed."""
    ours = own_panel.lifts((24, 12), 0.0)

    assert np.abs(1.1 * ours[SPRINGS:] - RECORDED[SPRINGS:]).max() > 5e-2 * np.abs(RECORDED).max()


@pytest.mark.oracle
@pytest.mark.independent
def test_the_recorded_deck_is_the_panel() -> None:
    """The recorded deck is what the writer writes of this panel."""
    assert deck(PANEL) == DECK


@pytest.mark.oracle
@pytest.mark.independent
@pytest.mark.skipif(not installed(), reason="CalculiX (ccx) is not installed")
def test_calculix_still_gives_what_was_recorded(tmp_path: Path) -> None:
    """A live run of the recorded deck gives the recorded movements to five digits."""
    lift = run(DECK, PANEL, tmp_path)

    assert lift == pytest.approx(RECORDED, rel=1e-5)
