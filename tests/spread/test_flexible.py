"""A bending item on its mounts: the rigid limit, balance, and the free item's flexibility against one whole solve."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from staydown.spread.flexible import Flexibility, free_flexibility, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness, assemble, twist_bars
from staydown.spread.pressure_field import field
from staydown.spread.rigid import reactions

Array = NDArray[np.float64]
SIDES_m = (1.4, 0.66)
GRID = Grid(along=Line(side_m=SIDES_m[0], cells=8), across=Line(side_m=SIDES_m[1], cells=5))
PANE = Stiffness(laminate_Nm=200.0, poisson=0.25, frame_N_m2=1400.0, frame_twist_N_m2=70.0)
FOOT_m = (0.08, 0.05)
MIDDLE_m = 0.05  # where loads in the plane act
FIELDS = ((0.0, 0.0), (0.25, 0.0), (0.2, -0.1))


def layout(seed: int, mounts: int, clamped: bool) -> tuple[Array, Array]:
    """Return points and springs of unequal feet under the panel, some near a side, some under the laminate."""
    generator = np.random.default_rng(seed)
    flat = generator.uniform(-0.5, 0.5, (mounts, 2)) * SIDES_m
    flat[: mounts // 2, 1] = 0.3 * np.sign(flat[: mounts // 2, 1])
    height = np.zeros((mounts, 1)) if clamped else generator.uniform(0.0, 0.06, (mounts, 1))
    pull = generator.uniform(1e6, 6e6, mounts)
    springs = np.stack([0.35 * pull, 0.35 * pull, pull, pull * 2e-4, pull * 5e-4, pull * 3e-4], axis=-1)
    springs[:, 3:] *= clamped
    return np.concatenate([flat, height], axis=-1), springs


def flexibility_of(stiffness: Stiffness, position: Array, framed: bool = True) -> Flexibility:
    """Return the panel's flexibility at these points."""
    feet = grips(GRID, position[:, :2], np.tile(FOOT_m, (len(position), 1)), framed)
    loads = np.stack([field(GRID, *centre) for centre in FIELDS], axis=-1)
    points = np.array([(0.0, 0.0), (0.7, 0.33)])
    return free_flexibility(GRID, stiffness, feet, loads, np.zeros((GRID.unknowns, 0)), points)


def load_of(seed: int) -> tuple[Array, Array]:
    """Return sizes of the fields, and of the resultant with a push in the plane at 50 mm. [N, N m]"""
    generator = np.random.default_rng(seed)
    sizes = generator.normal(size=len(FIELDS)) * 1000.0
    along, across, turn = generator.normal(size=3) * (50.0, 50.0, 10.0)
    forward, left = (np.array(FIELDS) * SIDES_m).T
    about = (left @ sizes - 0.05 * across, -forward @ sizes + 0.05 * along, turn)
    return sizes, np.array([along, across, sizes.sum(), *about])


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.integers(3, 8), st.booleans())
def test_an_item_that_does_not_bend_is_the_rigid_one(seed: int, mounts: int, clamped: bool) -> None:
    """With no flexibility at all every reaction is that of the rigid item, clamped or hinged."""
    position, springs = layout(seed, mounts, clamped)
    stiff = flexibility_of(PANE, position)
    stiff = replace(stiff, among=stiff.among * 0.0, by_loads=stiff.by_loads * 0.0)
    sizes, load = load_of(seed)
    force, moment = reactions(position, springs, load[:3], load[3:])

    on = hold(stiff, np.arange(mounts), position, springs, MIDDLE_m).on_mounts @ np.concatenate([sizes, load])

    largest = np.abs(np.concatenate([force, moment])).max()
    assert on[:, :3] == pytest.approx(force, abs=1e-6 * largest)
    assert on[:, 3:] == pytest.approx(moment, abs=1e-6 * largest)


@pytest.mark.independent
@pytest.mark.parametrize("clamped", [True, False])
def test_a_very_stiff_item_comes_near_the_rigid_one(clamped: bool) -> None:
    """A thousand times as stiff, a thousandth of the difference: bending goes out in proportion."""
    position, springs = layout(8, 6, clamped)
    sizes, load = load_of(8)
    force, _ = reactions(position, springs, load[:3], load[3:])
    away = []
    for times in (1e3, 1e6):
        pane = Stiffness(
            laminate_Nm=200.0 * times,
            poisson=0.25,
            frame_N_m2=1400.0 * times,
            frame_twist_N_m2=70.0 * times,
        )
        held = hold(flexibility_of(pane, position), np.arange(6), position, springs, MIDDLE_m)
        away.append(np.abs((held.on_mounts @ np.concatenate([sizes, load]))[:, :3] - force).max())

    assert away[1] < 2e-3 * away[0]
    assert away[1] < 1e-4 * np.abs(force).max()


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.integers(3, 8), st.booleans(), st.booleans())
def test_every_load_is_balanced(seed: int, mounts: int, clamped: bool, framed: bool) -> None:
    """Forces and moments on the mounts sum to the load, however the item bends."""
    position, springs = layout(seed, mounts, clamped)
    pane = PANE if framed else replace(PANE, frame_N_m2=0.0, frame_twist_N_m2=0.0)
    sizes, load = load_of(seed)

    held = hold(flexibility_of(pane, position, framed), np.arange(mounts), position, springs, MIDDLE_m)
    on = held.on_mounts @ np.concatenate([sizes, load])

    about = np.cross(position, on[:, :3]) + on[:, 3:]
    total = np.concatenate([on[:, :3].sum(axis=0), about.sum(axis=0)])
    assert total == pytest.approx(load, abs=1e-7 * max(np.abs(on).max(), np.abs(load).max()))


@pytest.mark.independent
@pytest.mark.parametrize("framed", [True, False])
def test_flexibility_equals_one_solve_of_everything(framed: bool) -> None:
    """Plate, frame and springs in one matrix give the same pulls, tilts and movements: 1e-6 of the largest."""
    position, springs = layout(11, 7, clamped=True)
    pane = PANE if framed else replace(PANE, frame_N_m2=0.0, frame_twist_N_m2=0.0)
    feet = grips(GRID, position[:, :2], np.tile(FOOT_m, (7, 1)), framed)
    give = np.diag(1 / springs[:, 2:5].ravel())
    matrix = assemble(GRID, pane).dense()
    if framed:
        give = give + feet.twist / pane.frame_twist_N_m2
        bars = twist_bars(GRID)
        matrix += bars @ np.diag(pane.frame_twist_N_m2 / np.repeat(SIDES_m, 2)) @ bars.T
    held = np.linalg.inv(give)
    matrix += feet.columns @ held @ feet.columns.T
    moved = np.linalg.solve(matrix, field(GRID, *FIELDS[1]))
    expected = (held @ feet.columns.T @ moved).reshape(7, 3)
    load = np.array([0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 0.0, -0.25 * SIDES_m[0], 0.0])

    solved = hold(flexibility_of(pane, position, framed), np.arange(7), position, springs, MIDDLE_m)

    assert (solved.on_mounts @ load)[:, 2:5] == pytest.approx(expected, abs=1e-6 * np.abs(expected).max())
    middle = np.kron(GRID.along.value(np.array(0.0)), GRID.across.value(np.array(0.0)))
    assert (solved.lift @ load)[0] == pytest.approx(middle @ moved, rel=1e-6)


@pytest.mark.independent
def test_a_batch_equals_its_layouts_one_by_one() -> None:
    """Many layouts picked from one flexibility give what each gives alone."""
    position, springs = layout(2, 8, clamped=True)
    flexibility = flexibility_of(PANE, position)
    picks = np.array([[0, 3, 4, 7], [1, 2, 5, 6], [0, 1, 6, 7]])

    together = hold(flexibility, picks, position[picks], springs[picks], MIDDLE_m)
    alone = [hold(flexibility, pick, position[pick], springs[pick], MIDDLE_m) for pick in picks]

    assert together.on_mounts == pytest.approx(np.stack([one.on_mounts for one in alone]), rel=1e-9, abs=1e-9)
    assert together.lift == pytest.approx(np.stack([one.lift for one in alone]), rel=1e-9, abs=1e-15)


@pytest.mark.independent
def test_coarse_cells_are_fine_enough() -> None:
    """Cells of 0.17 m give pulls within 0.2 % of the largest that cells of 0.035 m give."""
    position = np.array([(x, y, 0.0) for x in (0.6, 0.2, -0.2, -0.6) for y in (0.3, -0.3)])
    springs = np.tile([2e6, 2e6, 5e6, 2e3, 4e3, 2e3], (8, 1))
    load = np.array([1.0, 1.0, 0.0, 0.0, 0.0, 2.0, 0.0, -0.25 * SIDES_m[0], 0.0])
    pulls = []
    for cells in ((8, 5), (40, 20)):
        grid = Grid(
            along=Line(side_m=SIDES_m[0], cells=cells[0]), across=Line(side_m=SIDES_m[1], cells=cells[1])
        )
        loads = np.stack([field(grid, *centre) for centre in FIELDS], axis=-1)
        feet = grips(grid, position[:, :2], np.tile(FOOT_m, (8, 1)), framed=True)
        free = free_flexibility(grid, PANE, feet, loads, np.zeros((grid.unknowns, 0)), np.array([(0.0, 0.0)]))
        pulls.append((hold(free, np.arange(8), position, springs, MIDDLE_m).on_mounts @ load)[:, 2])

    assert pulls[0] == pytest.approx(pulls[1], abs=2e-3 * np.abs(pulls[1]).max())
