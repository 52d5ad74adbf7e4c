"""An item that comes down on the roof: the roof's forces by hand, against a search of all sets, and in balance."""

from __future__ import annotations

from itertools import chain, combinations
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from bent_strips import LENGTH_m, PAD_m, WIDTH_m, bending_of, demands_of
from bent_strips import strip as bare_strip
from sample_jobs import PANEL, changed, row_of, table_of
from staydown.job.records import Job
from staydown.spread.build_bending import grid_of, points_of
from staydown.spread.contact import roof_forces

Array = NDArray[np.float64]
LIKELY, HIGH = 1, 2
LAMINATE_Nm = 4000.0
BEND_N_m2 = LAMINATE_Nm * WIDTH_m  # a strip without Poisson's ratio bends as a beam
ROW_N_per_m = 2 * 1.0e6 * PAD_m**2 / 1.1e-3  # springs of the two pads of a row
SOFT_SIX = {
    "item.0.kind": None,
    "item.0.laminate_bending_stiffness_Nm": 40.0,
    "item.0.gap_m": 0.01,
    "item.0.mount": [
        {
            "name": f"{row} {side}",
            "behind_m": behind,
            "left_m": left,
            "pad": {"length_m": 0.08, "width_m": 0.05},
            "lever_m": 0.0,
            "connection_height_m": 0.01,
        }
        for row, behind in (("front", 0.30), ("middle", 0.74), ("rear", 1.18))
        for side, left in (("left", 0.31), ("right", -0.31))
    ],
}


def strip(rows_m: tuple[float, ...], gap_m: float) -> dict[str, Any]:
    """Return changes that make a strip over a gap."""
    return bare_strip(rows_m, LAMINATE_Nm) | {"item.0.gap_m": gap_m}


def in_snow(changes: dict[str, Any]) -> tuple[float, Array, Array]:
    """Return load per length, pull of each row of feet, force of the roof at each point: hinged, in snow."""
    bending, table = bending_of(changes), table_of(PANEL, changes)
    touches = bending.touches
    assert touches is not None
    snow = row_of(table, "snow")
    hinged = bending.solutions.clamped[bending.solution[touches.rows]] == 0.0
    row = np.flatnonzero(hinged & (bending.band[touches.rows] == LIKELY))[0]
    pulls = touches.on[row, :, 2, snow].reshape(-1, 2).sum(axis=1)
    return -float(table.force_N[snow, LIKELY, 2]) / LENGTH_m, pulls, touches.roof[row, :, snow]


def along(changes: dict[str, Any]) -> Array:
    """Return how far forward of the middle each point stands. [m]"""
    return points_of(grid_of(Job.model_validate(changed(PANEL, changes)).item[0]))[:, 0]


@pytest.mark.by_hand
def test_a_beam_on_its_ends_comes_down_on_a_stop_in_the_middle() -> None:
    """R = (5 w l4/(384 EI) + w l/(2 k) - gap)/(l3/(48 EI) + 1/(2 k)); the ends carry the rest, half each."""
    span_m = LENGTH_m - PAD_m
    changes = strip((span_m / 2, -span_m / 2), gap_m=0.018)
    load, pulls, roof = in_snow(changes)
    free = 5 * load * span_m**4 / (384 * BEND_N_m2) + load * LENGTH_m / (2 * ROW_N_per_m)
    expected = (free - 0.018) / (span_m**3 / (48 * BEND_N_m2) + 1 / (2 * ROW_N_per_m))

    assert free > 0.018
    assert roof.sum() == pytest.approx(expected, rel=2e-2)
    assert np.all(roof[np.abs(along(changes)) > 1e-9] == 0.0)
    assert pulls == pytest.approx([-(load * LENGTH_m - roof.sum()) / 2] * 2)


@pytest.mark.by_hand
def test_ends_that_hang_over_come_down_on_the_roof() -> None:
    """R = (w a (6 a2 l + 3 a3 - l3)/(24 EI) + w L/(2 k) - gap)/(a2 (3 l + 2 a)/(6 EI) + 1/k).

    Feet l apart, ends a over. Deflection tables of beams: overhanging at both ends, even load, and a load at each end.
    """
    span_m, over_m = 0.7, 0.35
    load, pulls, roof = in_snow(strip((span_m / 2, -span_m / 2), gap_m=0.001))
    down = over_m * (6 * over_m**2 * span_m + 3 * over_m**3 - span_m**3) / (24 * BEND_N_m2)
    free = load * (down + LENGTH_m / (2 * ROW_N_per_m))
    give = over_m**2 * (3 * span_m + 2 * over_m) / (6 * BEND_N_m2) + 1 / ROW_N_per_m
    expected = (free - 0.001) / give

    assert free > 0.001
    assert roof.sum() == pytest.approx(2 * expected, rel=2e-2)
    assert pulls == pytest.approx([-(load * LENGTH_m / 2 - roof.sum() / 2)] * 2)


@pytest.mark.independent
def test_the_roofs_forces_are_those_that_a_search_of_all_sets_finds() -> None:
    """Random gives and clearances of six points: the one set that pushes where it touches and touches nowhere else."""
    generator = np.random.default_rng(3)
    touched = set()
    for _ in range(200):
        root = generator.standard_normal((6, 6))
        give, clearance = root @ root.T + 0.1 * np.eye(6), generator.standard_normal(6) + 0.3
        sets = chain.from_iterable(combinations(range(6), size) for size in range(7))
        found = []
        for one in sets:
            force, held = np.zeros(6), list(one)
            if held:
                force[held] = np.linalg.solve(give[np.ix_(held, held)], -clearance[held])
            if force.min() >= 0.0 and (clearance + give @ force).min() >= -1e-9:
                found.append(force)
        touched.add(int((found[0] > 0.0).sum()))

        assert roof_forces(give, clearance) == pytest.approx(found[0], abs=1e-6)
    assert touched >= {0, 1, 2, 3}


@pytest.mark.independent
def test_with_the_roof_every_way_of_joining_balances_and_nothing_passes_it() -> None:
    """Mounts and roof together carry load and moments; forces push up; in cases that stay above nothing changes."""
    bending, table = bending_of(SOFT_SIX), table_of(PANEL, SOFT_SIX)
    touches = bending.touches
    assert touches is not None
    snow, gust = row_of(table, "snow"), row_of(table, "gust")
    load = table.force_N[snow, bending.band[touches.rows], 2]

    assert bending.residual < 1e-6
    assert touches.on[..., 2, snow].sum(axis=1) == pytest.approx(load + touches.roof[..., snow].sum(axis=1))
    assert np.all(touches.roof >= 0.0)
    assert touches.roof[..., snow].sum(axis=1).min() > 0.0
    above = bending.lift[touches.rows][..., gust].min(axis=1) > -0.01
    assert above.any()
    assert np.all(touches.on[above][..., gust] == bending.on[touches.rows][above][..., gust])


@pytest.mark.independent
def test_no_mount_is_judged_milder_for_touching_the_roof() -> None:
    """With and without the roof, the worse counts: an edge that comes down pries at the mounts inside of it."""
    pane = SOFT_SIX | {"item.0.laminate_bending_stiffness_Nm": 300.0}
    low, high = demands_of(pane | {"item.0.gap_m": 0.005}), demands_of(pane | {"item.0.gap_m": 2.0})
    snow = row_of(table_of(PANEL, pane), "snow")
    shape = (*low.solution.shape[:2], 6)
    peaks = [
        np.broadcast_to(np.asarray(one.peak_tension.value), shape)[snow, HIGH].reshape(3, 2)
        for one in (low, high)
    ]

    assert np.all(peaks[0] >= peaks[1] * (1 - 1e-9))
    assert peaks[0][1].min() > 1.02 * peaks[1][1].max()
    for mount in (2, 3):
        assert low.solutions[low.solution[snow, HIGH, mount]] == "bending item, clamped, on the roof"


def test_touching_is_told_with_its_numbers_and_what_to_do() -> None:
    """How far it would come down over which gap, when, what the roof carries, how much higher the feet must be."""
    demands, table = demands_of(SOFT_SIX), table_of(PANEL, SOFT_SIX)
    flexible = demands.flexible
    assert flexible is not None
    snow = row_of(table, "snow")
    carried, sag = (
        float(np.asarray(number.value)[snow, HIGH, 0]) for number in (flexible.roof, flexible.sag)
    )
    (told,) = [finding for finding in demands.findings if "touches the roof" in finding.rule]

    assert carried > 0.0
    assert f"come down by {1e3 * sag:.1f} mm" in told.rule
    assert "over a gap of 10.0 mm" in told.rule
    assert "(snow, cold" in told.rule
    assert f"up to {carried:.0f} N, its mounts are judged with and without the roof" in told.rule
    assert f"feet higher by {1e3 * (sag - 0.01):.1f} mm" in told.hint


def test_what_stays_above_the_roof_has_no_force_of_it() -> None:
    """A high gap: no way of joining by the roof, and a force of 0 in every case."""
    high = demands_of(SOFT_SIX | {"item.0.gap_m": 2.0})

    assert high.flexible is not None
    assert np.all(np.asarray(high.flexible.roof.value) == 0.0)
    assert not any("on the roof" in name for name in high.solutions)
