"""White, Fluid Mechanics, Table 7.3: drag of three-dimensional bodies, plate normal to the flow."""

from __future__ import annotations

import pytest

from staydown.loads.wind_laws import edge_drag, plate_drag_coefficient


@pytest.mark.published
@pytest.mark.parametrize(("ratio", "coefficient"), [(1.0, 1.18), (5.0, 1.20), (10.0, 1.30), (20.0, 1.50)])
def test_table_of_plates(ratio: float, coefficient: float) -> None:
    """Breadth over height 1, 5, 10, 20 (Re above 1e4); values from memory, the square seen as 1.17 elsewhere."""
    assert plate_drag_coefficient(ratio) == pytest.approx(coefficient, abs=1e-12)
    assert plate_drag_coefficient(1 / ratio) == pytest.approx(coefficient, abs=1e-12)  # the same plate turned


@pytest.mark.by_hand
def test_between_the_values_of_the_table() -> None:
    """At 7, in the logarithm of the ratio: 1.20 + 0.10 ln(7/5)/ln(10/5) = 1.2485; in the ratio it would be 1.24."""
    assert plate_drag_coefficient(7.0) == pytest.approx(1.2485, abs=5e-5)


@pytest.mark.published
def test_an_endless_plate_is_the_limit() -> None:
    """The table's last row, infinite breadth, is 2.0 (from memory): it is reached and never passed."""
    assert plate_drag_coefficient(1e4) == 2.0
    assert plate_drag_coefficient(45.0) < 2.0


@pytest.mark.by_hand
def test_drag_of_a_panel_edge() -> None:
    """0.5 x 1.225 x 30^2 x 1.6 x 1.0 x 0.05 = 44.1 N against the travel; 1.6 is common practice at 20 to 40."""
    assert edge_drag(1.225, 30.0, 30.0, 1.6, 1.0, 0.05, 1.0) == pytest.approx(-44.1, abs=1e-9)
    assert 1.5 <= plate_drag_coefficient(27.0) == pytest.approx(1.6, abs=0.01)
