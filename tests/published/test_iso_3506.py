"""ISO 3506-1:2020, stainless steel screws: strength classes."""

from __future__ import annotations

import pytest

from staydown.storage.read_cards import read_cards


@pytest.mark.published
@pytest.mark.parametrize("name", ["A2-50", "A2-70", "A2-80", "A4-50", "A4-70", "A4-80"])
def test_property_class_says_its_own_strength(name: str) -> None:
    """The figure after the steel group is 1/10 of the least tensile strength in MPa; from memory."""
    assert read_cards().screw_classes[name].tensile_strength_Pa == float(name.split("-")[1]) * 10e6
