"""EN 572-1, basic soda lime silicate glass: general physical properties."""

from __future__ import annotations

import pytest

from staydown.storage.read_cards import read_cards


@pytest.mark.published
def test_float_glass() -> None:
    """Expansion 9e-6 per K between 20 and 300 degC, Young's modulus 7e10 Pa; values from memory."""
    glass = read_cards().materials["glass"]

    assert glass.expansion.likely == 9e-6
    assert glass.modulus.likely == 70e9
