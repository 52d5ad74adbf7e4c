"""EN 1990:2002, basis of structural design: partial factors."""

from __future__ import annotations

import pytest

from staydown.loads.force_laws import factored
from staydown.storage.read_cards import read_cards

PLANNING = read_cards().planning


@pytest.mark.published
def test_variable_action_at_high_consequence() -> None:
    """Table A1.2(B): 1.5 on an unfavourable variable action such as wind; from memory. 6.3.1: Fd = gamma F."""
    factor = PLANNING["load_factor.high"].decided.value

    assert factor == 1.5
    assert factored(factor, 100.0) == 150.0


@pytest.mark.published
def test_weight_that_helps() -> None:
    """Table A1.2(A): 0.9 on a favourable permanent action where balance decides; from memory."""
    assert PLANNING["weight_factor"].decided.value == 0.9


@pytest.mark.published
def test_lower_consequences_lie_between_the_standard_and_none() -> None:
    """Cross-check: the factors for medium and low consequence do not exceed 1.5, and none is below 1."""
    low, medium, high = (PLANNING[f"load_factor.{name}"].decided.value for name in ("low", "medium", "high"))

    assert 1.0 <= low <= medium <= high == 1.5
