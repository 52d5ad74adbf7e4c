"""Values in both systems, no finer than they mean something, and never rounded to the dangerous side."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staydown.foundation.quantities import Way, quantity_with_unit, rounded


@pytest.mark.by_hand("1 lbf = 4.4482216 N, 1 in = 25.4 mm, exact by definition")
@pytest.mark.parametrize(
    ("value", "unit", "first", "way", "digits", "text"),
    [
        (7151.2, "N", "metric", "up", 3, "7160 N (1610 lb)"),  # 1607.65 lb
        (1336.0, "N", "us", "up", 3, "301 lb (1340 N)"),  # 300.34 lb
        (60.0e3, "N/m", "metric", "down", 3, "60 N/mm (342 lb/in)"),  # 342.6 lb/in
        (0.030, "m", "us", "down", 2, "1.1 in (30 mm)"),  # 1.181 in
        (0.0053, "m", "metric", "up", 2, "6 mm (0.21 in)"),  # 0.2087 in
        (1.0, "m", "metric", "nearest", 3, "1000 mm (39.4 in)"),  # 39.37 in
        (0.0, "N", "metric", "up", 3, "0 N (0 lb)"),
        (5.0, "s", "metric", "nearest", 3, "5 s"),
    ],
)
def test_rounded_by_hand(value: float, unit: str, first: str, way: Way, digits: int, text: str) -> None:
    """Three digits that count, or two, in each system by itself."""
    assert rounded(value, unit, first, way, digits) == text


@given(
    st.floats(min_value=1e-4, max_value=1e6),
    st.sampled_from(["N", "m", "N/m"]),
    st.sampled_from(["metric", "us"]),
    st.integers(min_value=1, max_value=4),
)
def test_no_figure_is_on_the_dangerous_side(value: float, unit: str, first: str, digits: int) -> None:
    """Read back, a figure that was rounded up is no less in either system, one that was rounded down no more."""
    quantity = quantity_with_unit(unit)
    factors = [quantity.metric[1], quantity.us[1]][:: 1 if first == "metric" else -1]

    def read(text: str) -> list[float]:
        parts = text.rstrip(")").split(" (")
        return [float(part.split(" ")[0]) / factor for part, factor in zip(parts, factors, strict=True)]

    for one in read(rounded(value, unit, first, "up", digits)):
        assert one >= value * (1.0 - 1e-8)
    for one in read(rounded(value, unit, first, "down", digits)):
        assert one <= value * (1.0 + 1e-8)
    for one in read(rounded(value, unit, first, "nearest", digits)):
        finest = 0.5 * 10.0 ** -min(quantity.metric[2], quantity.us[2]) / min(factors)

        assert math.isclose(one, value, rel_tol=0.51 * 10.0 ** (1 - digits), abs_tol=finest)
