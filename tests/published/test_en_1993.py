"""EN 1993-1-1:2005 and EN 1993-1-4, steel structures: material constants for design."""

from __future__ import annotations

import pytest

from staydown.storage.read_cards import read_cards


@pytest.mark.published
def test_carbon_steel() -> None:
    """EN 1993-1-1 3.2.6: expansion 12e-6 per K, Young's modulus 210 000 N/mm2; values from memory."""
    steel = read_cards().materials["steel"]

    assert steel.expansion.likely == 12e-6
    assert steel.modulus.likely == 210e9


@pytest.mark.published
def test_austenitic_stainless_steel() -> None:
    """EN 1993-1-4 2.1.3 and EN 10088-1: 200 000 N/mm2, 16e-6 per K up to 100 degC; values from memory."""
    stainless = read_cards().materials["stainless steel"]

    assert stainless.expansion.likely == 16e-6
    assert stainless.modulus.likely == 200e9
