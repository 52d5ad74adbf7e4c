"""Slotted feet pull but do not hold along the roof: solved stuck and free, the fixed ones carry the rest."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sample_jobs import PANEL, cards, job_of, row_of
from staydown.job.records import Item
from staydown.loads.build_cases import build_cases
from staydown.loads.load_case import CaseTable
from staydown.spread.build_demands import build_demands
from staydown.spread.build_pads import build_pads
from staydown.spread.build_solutions import SLOT_SHARE, build_solutions, solve
from staydown.spread.demands import Demands

Array = NDArray[np.float64]


def demands_of(*slotted: int) -> tuple[CaseTable, Demands, Item]:
    """Return the sample panel's demands with some of its four mounts slotted."""
    job = job_of(PANEL, {f"item.0.mount.{number}.slotted": True for number in slotted})
    item = job.item[0]
    table = build_cases(job, item, "item.1", "high", cards())
    return table, build_demands(item, "item.1", job.tape[0], "tape.1", cards(), table), item


def solved_forces(item: Item, table: CaseTable, name: str) -> dict[str, Array]:
    """Return the force on each mount in one hot case and the high band, by solution: (mount, 3)."""
    planning = cards().planning
    pads = build_pads(item, "item.1", planning["lever"], planning["skin_stiffness"])
    tape = job_of(PANEL).tape[0]
    solutions = build_solutions(item, tape, cards().tapes[tape.kind], pads)
    solved = solve(solutions, pads, tape.thickness_m)
    row = row_of(table, name, "hot")
    load = np.concatenate([table.force_N[row, 2], table.moment_Nm[row, 2]])
    return {
        solutions.names[number]: (matrix @ load)[:, :3]
        for number, band, matrix in zip(solved.solution, solved.band, solved.matrix, strict=True)
        if band == 2
    }


@pytest.mark.independent
def test_free_slots_leave_the_plane_to_the_fixed_feet() -> None:
    """Braking, front mounts slotted: each solution sums to the load; with free slots the rear ones take it all."""
    table, _, item = demands_of(0, 1)
    along = table.force_N[row_of(table, "braking", "hot"), 2, 0]
    forces = solved_forces(item, table, "braking")
    free = [force for name, force in forces.items() if name.endswith("slots free")]
    stuck = [force for name, force in forces.items() if not name.endswith("slots free")]

    assert len(free) == len(stuck) > 0
    for force in (*free, *stuck):
        assert force[:, 0].sum() == pytest.approx(along)
    for force in free:
        assert force[2:, 0].sum() == pytest.approx(along, rel=2 * SLOT_SHARE)
    for force in stuck:
        assert abs(force[:2, 0].sum()) > 0.2 * abs(along)


def test_slots_never_lighten_what_a_mount_is_judged_by() -> None:
    """Stuck solutions stay among the candidates: no peak falls, and fixed feet slide harder than before."""
    table, plain, _ = demands_of()
    _, slots, _ = demands_of(0, 1)
    row = row_of(table, "braking", "hot")
    peak_of = [np.asarray(demands.peak_tension.value) for demands in (plain, slots)]
    shear_of = [np.asarray(demands.shear.value)[row, 2, 2:] for demands in (plain, slots)]

    assert np.all(peak_of[1] >= peak_of[0] * (1 - 1e-9))
    assert np.all(shear_of[1] > shear_of[0])


@pytest.mark.parametrize("slotted", [(0,), (0, 1, 2), (0, 1, 2, 3)])
def test_any_number_of_slots_has_a_solution(slotted: tuple[int, ...]) -> None:
    """One fixed foot, or none: slots run out and carry after all; every number is finite and sums are kept."""
    _, demands, _ = demands_of(*slotted)
    numbers: list[Any] = [*demands.force, *demands.moment, demands.peak_tension, demands.shear]

    assert all(np.all(np.isfinite(np.asarray(number.value))) for number in numbers)
    assert demands.residual < 1e-9


def test_without_slots_nothing_is_added() -> None:
    """An item on fixed feet has the solutions it always had."""
    _, demands, _ = demands_of()

    assert not any("slots" in name for name in demands.solutions)
