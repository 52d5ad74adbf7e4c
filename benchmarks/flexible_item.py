"""A bending item on its mounts: 40 x 24 cells, frame, eight mounts, all cases; then thousands of layouts of it.

Run: `python benchmarks/flexible_item.py`. It prints our time for all cases beside the whole process of CalculiX on the
same mesh (where `ccx` is installed; there the plate alone, with one case), and beside scikit-fem with the same element
(where that is installed), with the largest difference; then the layouts a second, and their difference from a solve of
plate and springs together. On a busy machine set OPENBLAS_NUM_THREADS=1, or the threads of the small solves wait for
each other.
"""

from __future__ import annotations

import importlib
import importlib.util
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from staydown.spread.flexible import Flexibility, free_flexibility, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Columns, Grid, Stiffness, assemble, twist_bars
from staydown.spread.pressure_field import field

Array = NDArray[np.float64]

GRID = Grid(along=Line(side_m=1.2, cells=40), across=Line(side_m=0.6, cells=24))
PANE = Stiffness(laminate_Nm=203.9, poisson=0.25, frame_N_m2=1400.0, frame_twist_N_m2=70.0)
PULL, SHEAR = 4.4e6, 1.5e6  # a pad of 80 x 60 mm on 1.1 mm of foam [N/m]
FOOT_m = (0.08, 0.06)
CENTRES = ((0.0, 0.0), (0.25, 0.0), (0.24, 0.07), (0.24, -0.07), (0.0, 0.25), (0.0, -0.25), (-0.25, 0.0))
CASES = 120  # some forty cases in three bands


def places(count: int) -> Array:
    """Return places along both long sides, 30 mm inside them."""
    along = np.linspace(-0.54, 0.54, count)
    return np.array([(x, y) for x in along for y in (0.27, -0.27)])


def prepare(place_m: Array) -> Flexibility:
    """Return the free item's flexibility at places, for all fields of the wind."""
    held = grips(GRID, place_m, np.tile(FOOT_m, (len(place_m), 1)), framed=True)
    loads = np.stack([field(GRID, *centre) for centre in CENTRES], axis=-1)
    return free_flexibility(GRID, PANE, held, loads, GRID.bowl(), np.array([[0.0, 0.0]]))


def springs_of(shape: tuple[int, ...]) -> Array:
    """Return hinged springs of one kind for layouts of this shape."""
    springs = np.zeros((*shape, 6))
    springs[..., :2], springs[..., 2] = SHEAR, PULL
    return springs


def all_cases() -> Array:
    """Return the pull of eight mounts in all cases, from nothing."""
    place_m = places(4)
    flexibility = prepare(place_m)
    position = np.concatenate([place_m, np.zeros((8, 1))], axis=-1)
    held = hold(flexibility, np.arange(8), position, springs_of((8,)), 0.05)
    loads = np.random.default_rng(1).normal(size=(len(CENTRES) + 7, CASES))
    return held.on_mounts[:, 2] @ loads


def layouts_at_once(flexibility: Flexibility, place_m: Array, pick: NDArray[np.int64]) -> Array:
    """Return the pull of the mounts of every layout for every unit load: (layout, mount, loads)."""
    position = np.concatenate([place_m[pick], np.zeros((*pick.shape, 1))], axis=-1)
    pulls = [
        hold(flexibility, some, points, springs_of(some.shape), 0.0).on_mounts[:, :, 2]
        for some, points in zip(np.array_split(pick, 20), np.array_split(position, 20), strict=True)
    ]
    return np.concatenate(pulls)


def together(columns: Columns, place_m: Array, loads: Array) -> Array:
    """Return the pull of mounts from one sparse solve of plate, frame and springs together: (mount, loads)."""
    import scipy.sparse
    import scipy.sparse.linalg

    held = grips(GRID, place_m, np.tile(FOOT_m, (len(place_m), 1)), framed=True).columns[:, ::3]
    bars = twist_bars(GRID) * np.sqrt(PANE.frame_twist_N_m2 / np.repeat([1.2, 0.6], 2))
    rows: list[list[Any]] = [[None] * columns.count for _ in range(columns.count)]
    for column in range(columns.count):
        rows[column][column] = columns.block(column)
        if column + 1 < columns.count:
            rows[column][column + 1], rows[column + 1][column] = columns.tie, columns.tie.T
    springs = scipy.sparse.csr_matrix(np.concatenate([held * np.sqrt(PULL), bars], axis=1))
    matrix = scipy.sparse.bmat(rows).tocsc() + springs @ springs.T
    moved = scipy.sparse.linalg.splu(matrix.tocsc()).solve(loads)
    pull: Array = PULL * (held.T @ moved)
    return pull


def timed(work: Callable[[], Any], times: int = 5) -> tuple[float, Any]:
    """Return the shortest of some runs, in seconds, and what the last one gave."""
    best, result = np.inf, None
    for _ in range(times):
        start = time.perf_counter()
        result = work()
        best = min(best, time.perf_counter() - start)
    return float(best), result


def support(name: str) -> Any:
    """Return a module of the tests that writes the same panel for another program."""
    folder = str(Path(__file__).parents[1] / "tests" / "support")
    if folder not in sys.path:
        sys.path.insert(0, folder)
    return importlib.import_module(name)


def in_calculix() -> float | None:
    """Return the seconds of CalculiX's whole process on 40 x 24 elements and one case, None where it is missing."""
    calculix = support("calculix")
    if not calculix.installed():
        return None
    panel = calculix.FINE
    with tempfile.TemporaryDirectory() as folder:
        return timed(lambda: calculix.run(calculix.deck(panel), panel, Path(folder)), 3)[0]


def in_scikit_fem() -> float | None:
    """Return the seconds of scikit-fem for the same element, frame and springs, one case, None where it is missing."""
    if importlib.util.find_spec("skfem") is None:
        return None
    panel = support("scikit_fem_panel")
    return timed(lambda: panel.lifts((40, 24), PANE.frame_N_m2), 3)[0]


def main() -> None:
    """Print all figures."""
    ours, _ = timed(all_cases)
    print(f"40 x 24 cells, frame, 8 mounts, {CASES} cases: {ours * 1e3:.0f} ms (aim 150)")
    for name, theirs in (
        ("CalculiX, whole process", in_calculix()),
        ("scikit-fem, same element", in_scikit_fem()),
    ):
        print(
            f"{name}: "
            + ("not installed" if theirs is None else f"{theirs:.2f} s, ratio {theirs / ours:.0f}")
        )
    place_m = places(40)
    flexibility = prepare(place_m)
    count = 2000
    generator = np.random.default_rng(2)
    pick = np.argsort(generator.random((count, len(place_m))), axis=1)[:, :8]
    seconds, pulls = timed(lambda: layouts_at_once(flexibility, place_m, pick), 3)
    print(f"{count} layouts of the item: {seconds:.2f} s, {count / seconds:.0f} a second (aim 2000)")
    columns = assemble(GRID, PANE)
    loads = np.stack([field(GRID, *centre) for centre in CENTRES], axis=-1)
    worst = 0.0
    for number in range(0, count, count // 10):
        direct = together(columns, place_m[pick[number]], loads)
        shares = np.array([[1.0, 0.6 * left, -1.2 * forward] for forward, left in CENTRES]).T
        fields = len(CENTRES)
        mine = pulls[number, :, :fields] + pulls[number, :, fields + 3 : fields + 6] @ shares
        worst = max(worst, float(np.abs(mine - direct).max() / np.abs(direct).max()))
    print(
        f"largest difference from one solve of plate and springs: {worst:.1e} of the largest pull (aim 1e-6)"
    )


if __name__ == "__main__":
    main()
