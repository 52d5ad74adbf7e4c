"""The wind as a field: the table's resultant and centre exactly, most of it at the windward edge."""

from __future__ import annotations

import numpy as np
import pytest

from sample_jobs import PANEL, table_of
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid
from staydown.spread.pressure_field import build_fields, field, pressure_over_mean

SIDES_m = (1.48, 0.67)
GRID = Grid(along=Line(side_m=SIDES_m[0], cells=9), across=Line(side_m=SIDES_m[1], cells=4))


@pytest.mark.independent
def test_fields_have_the_resultant_and_centre_of_the_table() -> None:
    """In every case and band lift and both moments of the fields are those of the table's parts, to 1e-8."""
    cases = table_of(PANEL)
    fields = build_fields(SIDES_m, cases.parts, len(cases.cases))
    columns = np.stack([field(GRID, *centre) for centre in fields.centre], axis=-1)

    found = np.tensordot(GRID.rigid().T @ columns, fields.force_N, axes=1)

    lift, about_x, about_y = np.zeros((3, len(cases.cases), 3))
    for part in cases.parts:
        shape = (len(cases.cases), 3, 1)
        force = np.broadcast_to(np.asarray(part.force[2].value) * np.asarray(part.factor.value), shape)
        x, y = (np.broadcast_to(np.asarray(number.value), shape)[..., 0] for number in part.at[:2])
        lift += force[..., 0]
        about_x += y * force[..., 0]
        about_y -= x * force[..., 0]
    scale = np.abs(lift).max()
    assert found == pytest.approx(np.stack([lift, about_x, about_y]), abs=1e-8 * scale)
    assert lift == pytest.approx(cases.force_N[..., 2])


@pytest.mark.by_hand
def test_a_front_wind_is_three_times_the_mean_at_the_edge() -> None:
    """Centre at the quarter of the side, even across: 3 (1 - s)^2 from the front edge, none at the rear."""
    along = np.linspace(0.5, -0.5, 5)
    place = np.stack([along, np.zeros(5)], axis=-1)

    assert pressure_over_mean(0.25, 0.0, place) == pytest.approx(3 * np.array([1, 9 / 16, 1 / 4, 1 / 16, 0]))


@pytest.mark.independent
@pytest.mark.parametrize("centre", [(0.0, 0.0), (0.25, 0.0), (-0.177, 0.177), (0.24, -0.069)])
def test_pressure_is_the_field(centre: tuple[float, float]) -> None:
    """The pressure shown, summed over a fine mesh, has mean 1 and the centre; it falls from windward to lee."""
    share = (np.arange(400) + 0.5) / 400 - 0.5
    place = np.stack(np.meshgrid(share, share, indexing="ij"), axis=-1)

    pressure = pressure_over_mean(*centre, place)

    assert pressure.mean() == pytest.approx(1.0, abs=1e-4)
    assert (pressure[..., None] * place).mean(axis=(0, 1)) == pytest.approx(centre, abs=1e-4)
    for axis, sign in enumerate(np.sign(centre)):
        assert np.all(sign * np.diff(pressure, axis=axis) >= 0)


@pytest.mark.by_hand
def test_a_hand_pushes_at_the_edge() -> None:
    """A push in the middle of the left edge has its whole force there, not spread along the edge."""
    push = field(GRID, 0.0, 0.5)
    beside = np.abs(GRID.along.nodes_m) > GRID.along.cell_m + 0.06
    of_nodes = push.reshape(GRID.along.unknowns, GRID.across.unknowns)[::2]

    assert GRID.rigid().T @ push == pytest.approx([1.0, SIDES_m[1] / 2, 0.0], abs=1e-12)
    assert np.abs(of_nodes[beside]).max() == 0.0
