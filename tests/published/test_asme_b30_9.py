"""ASME B30.9, slings: the design factor of wire rope, and what ends keep."""

from __future__ import annotations

import pytest

from staydown.retention.tether_laws import line_strength_needed
from staydown.storage.read_cards import read_cards

POUND_FORCE_N = 4.4482216152605


@pytest.mark.published
def test_design_factor_of_five() -> None:
    """2000 lbf of 1/8 in 7x19 cable (MIL-DTL-83420) may carry 8896/5 = 1779 N; both from memory."""
    factor = float(read_cards().planning["tether_steady_factor"].decided.value)
    breaking_N = 2000 * POUND_FORCE_N

    assert factor == 5.0
    assert line_strength_needed(factor, 1779.3, 2.0, 0.0, 1.0) == pytest.approx(breaking_N, rel=1e-3)


@pytest.mark.published
def test_ends_keep_part_of_the_rope() -> None:
    """Swaged ends keep 0.9 to 1, clips about 0.8 (manuals of wire rope; from memory): the low end decides."""
    kept = read_cards().planning["tether_termination"]

    assert (kept.band.low, kept.band.high) == (0.8, 1.0)
    assert kept.decided.value == 0.8
    assert line_strength_needed(5.0, 1000.0, 2.0, 2000.0, 0.8) == pytest.approx(6250.0)
