"""EN 1999-1-1:2007, aluminium structures: material constants for design."""

from __future__ import annotations

import pytest

from staydown.storage.read_cards import read_cards


@pytest.mark.published
def test_aluminium() -> None:
    """3.2.5: expansion 23e-6 per K, Young's modulus 70 000 N/mm2; values from memory."""
    aluminium = read_cards().materials["aluminium"]

    assert aluminium.expansion.likely == 23e-6
    assert aluminium.modulus.likely == 70e9
