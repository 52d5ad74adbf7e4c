"""Builds what a bending item puts on its mounts, beside the rigid solutions: clamped, and hinged by every lever set.

Laminate and frame lie on the pads' springs, wind and weight act as fields. The high band has the softest item
on the stiffest tape, which is where bending tells most; the rigid item, which is solved anyway, is the other end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

import numpy as np
from numpy.typing import NDArray

from staydown.job.records import Item, Tape
from staydown.library.cards import TapeClassCard
from staydown.loads.load_case import BANDS, CaseTable
from staydown.spread.build_pads import Pads
from staydown.spread.build_solutions import HIGH, HINGED_CONDITION, Layout, Solutions, lay_out
from staydown.spread.build_stiffness import ItemStiffness
from staydown.spread.contact import stop
from staydown.spread.flexible import Flexibility, at_points, free_flexibility, gap_response, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness
from staydown.spread.pressure_field import build_fields, field
from staydown.spread.rigid import condition_number

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

# With cells of 0.15 m reactions are within 0.2 % of those with cells of 0.03 m; see the tests
CELL_m = 0.15
FEWEST_CELLS, MOST_CELLS = 4, 40
PLACES = (
    *("rear right corner", "right middle", "front right corner", "rear middle", "middle", "front middle"),
    *("rear left corner", "left middle", "front left corner"),
)
ROUND_OFF = 1e-9  # of the largest force [N] or moment [N m] of a bow
_EVEN = 5  # points looked at along and across, the nine of PLACES among them
_STIFF_TAPE = ", stiff tape"
_ON_THE_ROOF = ", on the roof"


@dataclass(frozen=True, slots=True, kw_only=True)
class OnTheRoof:
    """Those ways of joining in which the item comes down on the roof in some case, the roof taking its share.

    Row n belongs to solutions[solution[n]] and is rows[n] of the bending item. on: (n, M, 6, case) [N, N m].
    roof: force of the roof, (n, points, case) [N].
    """

    solutions: Solutions
    solution: Indices
    rows: Indices
    on: Array
    roof: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Bending:
    """What a bending item puts on its mounts; row n belongs to solutions[solution[n]] in band[n].

    layout: springs and levers of each row. on: (n, M, 6, case) [N, N m]. lift: (n, point, case) [m], the nine of
    PLACES first. bowed: (n, M, 6) what a bow of curvature 1 puts on them, nothing where the tape is taken at its
    stiff end; bowed_lift: (n, point) how it lifts
    the points [m²]. touches: None where it stays above the roof. residual: largest relative error of
    balance. grid_cells: cells along and across.
    """

    solutions: Solutions
    solution: Indices
    band: Indices
    layout: Layout
    on: Array
    lift: Array
    bowed: Array
    bowed_lift: Array
    touches: OnTheRoof | None
    residual: float
    grid_cells: tuple[int, int]


def build_bending(
    item: Item,
    tape: Tape,
    card: TapeClassCard,
    table: CaseTable,
    pads: Pads,
    rigid: Solutions,
    stiffness: ItemStiffness,
    *,
    only_high: bool = False,
) -> Bending:
    """Return what a bending item puts on its mounts in every case.

    Parameters
    ----------
    rigid : Solutions
        Ways of joining that are solved for the rigid item; those that count in every band are solved again,
        and where the tape's modulus was not typed, once more with the stiffest tape in the high band.
    stiffness : ItemStiffness
        How stiff the item is.
    only_high : bool
        The high band, which decides, and no other.
    """
    solutions = _solutions(rigid, tape, card)
    everywhere = solutions.everywhere & (not only_high)
    solution, band = np.nonzero(everywhere[:, None] | (np.arange(len(BANDS)) == HIGH))
    layout = lay_out(solutions, pads, tape.thickness_m, solution, band)
    held = (solutions.clamped[solution] > 0) | (
        condition_number(layout.point, layout.springs) <= HINGED_CONDITION
    )
    solution, band, layout = solution[held], band[held], _rows(layout, held)
    grid = grid_of(item)
    fields = build_fields((item.length_m, item.width_m), table.parts, len(table.cases))
    load = np.concatenate([table.force_N, table.moment_Nm], axis=-1).transpose(1, 2, 0)
    pads_m = np.stack([pads.over_bands(pads.length)[HIGH], pads.over_bands(pads.width)[HIGH]], axis=-1)
    count = len(fields.centre)
    on = np.zeros((len(band), len(pads.names), 6, len(table.cases)))
    lift = np.zeros((len(band), _EVEN**2, len(table.cases)))
    bowed = np.zeros(on.shape[:-1])
    bowed_lift = np.zeros(lift.shape[:-1])
    stopped: list[tuple[Indices, Array, Array]] = []
    for number in np.unique(band):
        rows = np.flatnonzero(band == number)
        places, pick = _distinct(layout.point[rows, :, :2], pads_m)
        flexibility = _flexibility(
            grid,
            stiffness.at_band(number),
            stiffness.framed,
            tuple(map(tuple, places)),
            tuple(map(tuple, fields.centre)),
        )
        solved = hold(flexibility, pick, layout.point[rows], layout.springs[rows], _middle(item))
        loads = np.concatenate([fields.force_N[:, :, number], load[number]], axis=0)
        acts = np.r_[:count, count + 1 : count + 7]
        on[rows] = solved.on_mounts[..., acts] @ loads
        lift[rows] = solved.lift[..., acts] @ loads
        # a shape that is imposed pulls in proportion to stiffness against bending: its unfavourable end is the other
        # one; a twist that gives lets the feet tip more
        other = stiffness.at_band(len(BANDS) - 1 - number)
        stiff = replace(stiffness.at_band(number), laminate_Nm=other.laminate_Nm, frame_N_m2=other.frame_N_m2)
        bent = solved
        if stiff != stiffness.at_band(number):
            flexibility = _flexibility(
                grid,
                stiff,
                stiffness.framed,
                tuple(map(tuple, places)),
                tuple(map(tuple, fields.centre)),
            )
            bent = hold(flexibility, pick, layout.point[rows], layout.springs[rows], _middle(item))
        # the stiff end of a tape's band is that of a cool one; a bow acts for hours at the hottest
        warm = solutions.everywhere[solution[rows]]
        bowed[rows] = warm[:, None, None] * _without_round_off(bent.on_mounts[..., count])
        bowed_lift[rows] = bent.lift[..., count]
        down = (lift[rows] < -item.gap_m).any(axis=(1, 2)) & (item.gap_m > 0.0)
        if down.any():
            mine = rows[down]
            told = stop(
                _stops(grid, stiffness.at_band(number), stiffness.framed, tuple(map(tuple, places))),
                (pick[down], layout.point[mine], layout.springs[mine], _middle(item)),
                (on[mine], lift[mine]),
                item.gap_m,
            )
            stopped.append((mine, told.on, told.roof))
    touches = _on_the_roof(solutions, solution, stopped)
    return Bending(
        solutions=solutions,
        solution=solution,
        band=band,
        layout=layout,
        on=on,
        lift=lift,
        bowed=bowed,
        bowed_lift=bowed_lift,
        touches=touches,
        residual=max(
            _residual(on, layout.point, load[band]),
            0.0 if touches is None else _residual_on_roof(touches, grid, layout.point, load[band]),
        ),
        grid_cells=(grid.along.cells, grid.across.cells),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeBending:
    """A bending item with all its mounts, at the high band; row n is a way of joining.

    twin: which rigid way of joining has the same points of pull. layout: springs and levers. on: what the loads
    asked for put on the springs, (n, M, 6, load) [N, N m]. gaps: force on each spring for a unit gap at each,
    (n, 6 M, 6 M).
    """

    twin: Indices
    clamped: NDArray[np.bool_]
    layout: Layout
    on: Array
    gaps: Array


def bending_at_high(
    item: Item,
    tape: Tape,
    card: TapeClassCard,
    tables: Sequence[CaseTable],
    cases: Sequence[int],
    pads: Pads,
    rigid: Solutions,
    stiffness: ItemStiffness,
) -> WholeBending:
    """Return a bending item at the high band for some cases of each table, in the order of the tables.

    tables: of the same cases, the first with every part that acts in the others.
    """
    solutions = _solutions(rigid, tape, card)
    twin = np.array([_twin(rigid, solutions, n) for n in range(len(solutions.names))])
    rows = np.arange(len(solutions.names))
    layout = lay_out(solutions, pads, tape.thickness_m, rows, np.full(len(rows), HIGH))
    grid, wanted = grid_of(item), list(cases)
    sides = (item.length_m, item.width_m)
    every = [build_fields(sides, table.parts, len(table.cases)) for table in tables]
    centres = [tuple(centre) for centre in every[0].centre]
    lifting = np.zeros((len(centres), len(tables), len(wanted)))
    resultant = np.zeros((6, len(tables), len(wanted)))
    for number, (table, fields) in enumerate(zip(tables, every, strict=True)):
        at = [centres.index(tuple(centre)) for centre in fields.centre]
        lifting[at, number] = fields.force_N[:, wanted, HIGH]
        resultant[:3, number] = table.force_N[wanted, HIGH].T
        resultant[3:, number] = table.moment_Nm[wanted, HIGH].T
    pads_m = np.stack([pads.over_bands(pads.length)[HIGH], pads.over_bands(pads.width)[HIGH]], axis=-1)
    places, pick = _distinct(layout.point[..., :2], pads_m)
    flexibility = _flexibility(
        grid, stiffness.at_band(HIGH), stiffness.framed, tuple(map(tuple, places)), tuple(centres)
    )
    solved = hold(flexibility, pick, layout.point, layout.springs, _middle(item))
    count = len(centres)
    acts = np.r_[:count, count + 1 : count + 7]
    loads = np.concatenate([lifting, resultant]).reshape(count + 6, -1)
    return WholeBending(
        twin=twin,
        clamped=solutions.clamped > 0.0,
        layout=layout,
        on=solved.on_mounts[..., acts] @ loads,
        gaps=gap_response(flexibility, pick, layout.point, layout.springs, _middle(item)),
    )


def _twin(rigid: Solutions, solutions: Solutions, number: int) -> int:
    """Return the rigid way of joining with the same joint, levers and slots."""
    alike = (
        (rigid.clamped == solutions.clamped[number])
        & (rigid.side_along == solutions.side_along[number]).all(axis=1)
        & (rigid.side_across == solutions.side_across[number]).all(axis=1)
        & (rigid.holds == solutions.holds[number]).all(axis=1)
    )
    return int(np.argmax(alike))


def grid_of(item: Item) -> Grid:
    """Return the item's outline in cells of about CELL_m."""
    along, across = (
        Line(side_m=side, cells=min(MOST_CELLS, max(FEWEST_CELLS, ceil(side / CELL_m))))
        for side in (item.length_m, item.width_m)
    )
    return Grid(along=along, across=across)


def _middle(item: Item) -> float:
    """Return the height of the item's middle above the plane of the pads: drag and inertia act there. [m]"""
    return item.gap_m + item.thickness_m / 2


def points_of(grid: Grid) -> Array:
    """Return the points whose lift is looked at: the nine of PLACES, then the rest of an even set. [m], (points, 2)"""
    share = np.linspace(-0.5, 0.5, _EVEN)
    left, forward = np.meshgrid(share, share, indexing="ij")
    points = np.stack([forward * grid.along.side_m, left * grid.across.side_m], axis=-1)
    named = np.zeros((_EVEN, _EVEN), dtype=bool)
    named[::2, ::2] = True
    return np.concatenate([points[named], points[~named]])


def _solutions(rigid: Solutions, tape: Tape, card: TapeClassCard) -> Solutions:
    every = np.flatnonzero(rigid.everywhere)
    names = [f"bending item, {rigid.names[number]}" for number in every]
    tension, shear = rigid.tension_modulus_Pa[every], rigid.shear_modulus_Pa[every]
    counts = np.ones(len(every), dtype=bool)
    if tape.tension_modulus_Pa is None:
        names += [name + _STIFF_TAPE for name in names]
        tension = np.concatenate([tension, np.full(len(every), card.tension_modulus.high)])
        stiff_shear = tape.shear_modulus_Pa or card.shear_modulus.high
        shear = np.concatenate([shear, np.full(len(every), stiff_shear)])
        counts = np.concatenate([counts, ~counts])
        every = np.tile(every, 2)
    return replace(
        _picked(rigid, every, names), tension_modulus_Pa=tension, shear_modulus_Pa=shear, everywhere=counts
    )


def _picked(solutions: Solutions, which: Indices, names: Sequence[str]) -> Solutions:
    """Return some of the solutions by other names."""
    return Solutions(
        names=tuple(names),
        clamped=solutions.clamped[which],
        tension_modulus_Pa=solutions.tension_modulus_Pa[which],
        shear_modulus_Pa=solutions.shear_modulus_Pa[which],
        holds=solutions.holds[which],
        side_along=solutions.side_along[which],
        side_across=solutions.side_across[which],
        everywhere=solutions.everywhere[which],
    )


def _rows(layout: Layout, rows: NDArray[np.bool_]) -> Layout:
    return Layout(
        point=layout.point[rows],
        springs=layout.springs[rows],
        lever_along=layout.lever_along[rows],
        lever_across=layout.lever_across[rows],
        height=layout.height[rows],
    )


def _distinct(point_m: Array, pads_m: Array) -> tuple[Array, Indices]:
    """Return the distinct (forward, left, foot's length, foot's width), and which of them each mount of a row has."""
    feet = np.broadcast_to(pads_m, point_m.shape)
    both = np.round(np.concatenate([point_m, feet], axis=-1), 9)
    places, pick = np.unique(both.reshape(-1, 4), axis=0, return_inverse=True)
    return places, pick.reshape(point_m.shape[:2])


@lru_cache(maxsize=32)
def _flexibility(
    grid: Grid,
    stiffness: Stiffness,
    framed: bool,
    places: tuple[tuple[float, ...], ...],
    centres: tuple[tuple[float, ...], ...],
) -> Flexibility:
    """Return the free item's flexibility; it does not know the size of any load, so it is kept."""
    place = np.array(places)
    held = grips(grid, place[:, :2], place[:, 2:], framed)
    return free_flexibility(grid, stiffness, held, _loads(grid, centres), grid.bowl(), points_of(grid))


@lru_cache(maxsize=16)
def _stops(
    grid: Grid, stiffness: Stiffness, framed: bool, places: tuple[tuple[float, ...], ...]
) -> Flexibility:
    """Return the free item's flexibility under unit forces of the roof at its points."""
    place, points = np.array(places), points_of(grid)
    held = grips(grid, place[:, :2], place[:, 2:], framed)
    return free_flexibility(
        grid, stiffness, held, at_points(grid, points).T, np.zeros((grid.unknowns, 0)), points
    )


@lru_cache(maxsize=16)
def _loads(grid: Grid, centres: tuple[tuple[float, ...], ...]) -> Array:
    """Return the pressure of every centre on the plate's unknowns, of unit size; they do not know the feet."""
    return np.stack([field(grid, *centre) for centre in centres], axis=1)


def _on_the_roof(
    solutions: Solutions, solution: Indices, stopped: Sequence[tuple[Indices, Array, Array]]
) -> OnTheRoof | None:
    """Return the rows that come down on the roof, each way of joining once by a name of its own."""
    if not stopped:
        return None
    rows, on, roof = (np.concatenate(parts) for parts in zip(*stopped, strict=True))
    each, number = np.unique(solution[rows], return_inverse=True)
    return OnTheRoof(
        solutions=_picked(solutions, each, [f"{solutions.names[one]}{_ON_THE_ROOF}" for one in each]),
        solution=number,
        rows=rows,
        on=on,
        roof=roof,
    )


def _residual_on_roof(touches: OnTheRoof, grid: Grid, point_m: Array, load: Array) -> float:
    """Return the largest error of a balance with the forces of the roof among the loads."""
    x, y = points_of(grid).T
    up = np.stack([np.ones_like(x), y, -x])
    lifted = load[touches.rows].copy()
    lifted[:, 2:5] += up @ touches.roof
    return _residual(touches.on, point_m[touches.rows], lifted)


def _without_round_off(on: Array) -> Array:
    """Return what a bow puts on the mounts; round-off must not count as a pull or a push that wants a test."""
    return np.where(np.abs(on) < ROUND_OFF * np.abs(on).max(), 0.0, on)


def _residual(on: Array, point_m: Array, load: Array) -> float:
    """Return the largest error of a balance, forces over the largest force, moments over force times reach."""
    force, moment = on[:, :, :3], on[:, :, 3:]
    about = np.cross(point_m[..., None], force, axisa=2, axisb=2, axisc=2) + moment
    error = np.concatenate([force.sum(axis=1), about.sum(axis=1)], axis=1) - load
    reach = float(np.abs(point_m).max()) or 1.0
    error[:, 3:] /= reach
    scale = max(float(np.abs(load[:, :3]).max()), float(np.abs(load[:, 3:]).max()) / reach)
    return float(np.abs(error).max()) / scale if scale > 0 else 0.0


def combined(rigid: Solutions, bending: Solutions) -> Solutions:
    """Return both lists of solutions as one, the rigid ones first."""

    def both(one: Array, two: Array) -> Array:
        return np.concatenate([one, two])

    return Solutions(
        names=(*rigid.names, *bending.names),
        clamped=both(rigid.clamped, bending.clamped),
        tension_modulus_Pa=both(rigid.tension_modulus_Pa, bending.tension_modulus_Pa),
        shear_modulus_Pa=both(rigid.shear_modulus_Pa, bending.shear_modulus_Pa),
        holds=both(rigid.holds, bending.holds),
        side_along=both(rigid.side_along, bending.side_along),
        side_across=both(rigid.side_across, bending.side_across),
        everywhere=np.concatenate([rigid.everywhere, bending.everywhere]),
    )
