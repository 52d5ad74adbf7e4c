"""Builds what each mount carries: the item on its pads, clamped and hinged, the worse of them by name."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.law import Law
from staydown.foundation.numbers import Derived, Given, Number, Source, derive, given, typed
from staydown.job.records import Item, Tape
from staydown.library.cards import Band, Cards, TapeClassCard
from staydown.loads.load_case import BANDS, CaseTable
from staydown.spread import foot_laws
from staydown.spread import pad_laws as laws
from staydown.spread.bending_laws import spring_in_series
from staydown.spread.build_bending import Bending, build_bending, combined
from staydown.spread.build_bow import bow_by_case, free_bow, over_cases
from staydown.spread.build_flexible import build_flexible, stiffness_inputs
from staydown.spread.build_foot import build_feet, edge_stress, peak_on_foot
from staydown.spread.build_lap import build_lap
from staydown.spread.build_pads import Pads, build_pads
from staydown.spread.build_solutions import Solutions, Solved, build_solutions, solve
from staydown.spread.build_stiffness import build_stiffness, unusual_stiffness
from staydown.spread.demands import Demands, Ways
from staydown.spread.doubts import doubts
from staydown.spread.feet import Feet
from staydown.spread.rigid import balance_error

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
Triple = tuple[Number, Number, Number]
Depth = Literal["all", "decides", "rigid"]

_SAME_PEAK = 1.0 - 1e-9  # peaks this close are one peak: round-off must not name the worse solution
_METHOD = "item on springs, rigid or bending, whichever is worse: one linear solve with its six balances"
_SOURCE = "statics of a body on elastic supports; a bending one by the flexibility method"
_COMPONENTS = (
    ("force_along", "N"),
    ("force_across", "N"),
    ("pull", "N"),
    ("spring_moment_about_x", "Nm"),
    ("spring_moment_about_y", "Nm"),
    ("spring_moment_about_z", "Nm"),
)
_SOLVE = tuple(
    Law(name=name, unit=unit, equation="", symbols={}, source=_SOURCE, method=_METHOD)
    for name, unit in _COMPONENTS
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Joint:
    """How the governing solution joins item and foot; Numbers over (case, band, mount). [1, Pa, m]"""

    clamped: Number
    tension_modulus: Number
    shear_modulus: Number
    lever_along: Number
    lever_across: Number
    height: Number
    holds: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """Solved rows, rigid and bending: row n is solution[n] in band[n].

    levers: along, across and height of the pull, (3, n, M) [m]. on: on the springs, (n, M, 6, case) [N, N m].
    """

    solution: Indices
    band: Indices
    levers: Array
    on: Array


def build_demands(
    item: Item,
    item_place: str,
    tape: Tape,
    tape_place: str,
    cards: Cards,
    table: CaseTable,
    lost: Sequence[int] = (),
    depth: Depth = "all",
) -> Demands:
    """Return what the item puts on each mount in every case, from the solution with the largest peak there.

    Parameters
    ----------
    item : Item
        With at least one mount.
    item_place, tape_place : str
        Dotted keys, such as `item.1` and `tape.1`.
    tape : Tape
        The item's tape.
    cards : Cards
        Class card of the tape, planning values `lever` and `pad_rotation_share`.
    table : CaseTable
        The item's cases.
    lost : sequence of int
        Mounts that have let go: they carry nothing, and no warnings are given.
    depth : str
        "decides" leaves out what is only shown: bending in the other bands, and that of an item which bends by its
        kind alone. "rigid" leaves all bending out: no use comes out larger than it is.

    Raises
    ------
    ValueError
        The item has no mounts, or all are lost.
    """
    if len(set(lost)) >= len(item.mount):
        raise ValueError(f"{item_place}: an item without mounts has no spread")
    card = cards.tapes[tape.kind]
    pads = build_pads(item, item_place, cards.planning["lever"], cards.planning["skin_stiffness"])
    feet = build_feet(item, item_place, tape, tape_place, cards, pads)
    rigid = build_solutions(item, tape, card, pads)
    solved = solve(rigid, pads, tape.thickness_m, lost)
    # what is left of a group that lost mounts is judged by the rigid item alone
    stiffness = None if lost else build_stiffness(item, item_place, cards)
    if stiffness is not None and (depth == "rigid" or (depth == "decides" and not stiffness.own)):
        stiffness = None
    bending = (
        None
        if stiffness is None
        else build_bending(item, tape, card, table, pads, rigid, stiffness, only_high=depth != "all")
    )
    # bending joins the decision where it rests on the item's own stiffness; by its kind alone it is shown
    counted = bending if stiffness is not None and stiffness.own else None
    solutions = rigid if counted is None else combined(rigid, counted.solutions)
    if counted is not None and counted.touches is not None:
        solutions = combined(solutions, counted.touches.solutions)
    free = None if stiffness is None else free_bow(item, item_place, cards)
    bow = None if free is None else bow_by_case(free, table)
    rows = _rows(solved, counted, len(rigid.names), table, bow)
    solution, on_springs, ways = _worst(rows, pads, feet, len(solutions.names))
    joint = _joint(pads, solutions, solution, tape, tape_place, card)
    residual = max(balance_error(solved.point, solved.matrix), counted.residual if counted else 0.0)
    inputs = _solve_inputs(pads, joint, typed(tape.thickness_m, "m", f"{tape_place}.thickness"), table)
    flexible = None
    if stiffness is not None and bending is not None:
        if counted is not None and bow is not None:
            inputs |= stiffness_inputs(stiffness) | {"bow_one_per_m": bow}
        if depth == "all" and free is not None and bow is not None:
            flexible = build_flexible(
                item, item_place, tape, tape_place, cards, table, stiffness, bending, solved, (free, bow)
            )
    inputs["balance_error"] = given(
        residual, "1", "calculation", "largest error of any balance, over the load"
    )
    along, across, pull, *turns = (
        Derived(value=on_springs[..., number], unit=law.unit, law=law, inputs=inputs)
        for number, law in enumerate(_SOLVE)
    )
    moment = _moments(along, across, pull, turns, joint)
    peak, edge = _peaks(pads, feet, pull, moment)
    line_load = derive(laws.line_load, pull_N=pull, pad_side_m=pads.edge)
    shear = derive(
        laws.pad_shear,
        force_along_N=along,
        force_across_N=across,
        moment_about_z_Nm=moment[2],
        pad_length_m=pads.length,
        pad_width_m=pads.width,
    )
    return Demands(
        mounts=pads.names,
        solutions=solutions.names,
        solution=solution,
        force=(along, across, pull),
        moment=moment,
        mean_tension=derive(laws.mean_tension, pull_N=pull, bond_area_m2=pads.area),
        peak_tension=peak,
        shear=shear,
        line_load=line_load,
        edge_stress=edge,
        foot_moment=derive(foot_laws.foot_bending_moment, pull_N=pull, rate_one_per_m=feet.rate),
        peel=derive(foot_laws.peeling_line_load, rate_one_per_m=feet.counted, line_load_N_per_m=line_load),
        feet=feet,
        lap=build_lap(item, item_place, tape, tape_place, cards, feet, shear),
        residual=residual,
        flexible=flexible,
        bow=bow if counted is not None else None,
        ways=ways,
        findings=()
        if lost
        else (
            *doubts(item_place, pads, rigid, solved, cards.planning["pad_rotation_share"]),
            *unusual_stiffness(item, item_place, cards),
            *(flexible.findings if flexible else ()),
        ),
    )


def _peaks(pads: Pads, feet: Feet, pull: Number, moment: Triple) -> tuple[Number, Number]:
    """Return the peak tension that counts and the edge stress of feet that bend."""
    peak: Number = derive(
        laws.peak_tension,
        pull_N=pull,
        moment_about_x_Nm=moment[0],
        moment_about_y_Nm=moment[1],
        pad_length_m=pads.length,
        pad_width_m=pads.width,
    )
    edge = edge_stress(feet, pull, moment[0], moment[1])
    if feet.bends:
        peak = derive(foot_laws.larger_stress, first_Pa=peak, second_Pa=edge)
    return peak, edge


def worst_over_average(demands: Demands, case: int, band: int) -> float:
    """Return the largest mount tension over the mean of all mounts in one case and band.

    0 where no mount is pulled, infinite where some are pulled though on the mean the mounts are pressed.
    """
    pulls = np.asarray(demands.force[2].value)[case, band]
    largest, mean = float(pulls.max()), float(pulls.mean())
    if largest <= 0.0:
        return 0.0
    return largest / mean if mean > 0.0 else math.inf


def _rows(solved: Solved, bending: Bending | None, rigid: int, table: CaseTable, bow: Number | None) -> _Rows:
    """Return what every solved row puts on the springs, rigid rows first; `rigid` counts the rigid solutions."""
    mounts = solved.point.shape[1]
    loads = np.concatenate([table.force_N, table.moment_Nm], axis=-1).transpose(1, 2, 0)[solved.band]
    on = (solved.matrix.reshape(-1, 6 * mounts, 6) @ loads).reshape(-1, mounts, 6, len(table.cases))
    levers = np.stack([solved.lever_along, solved.lever_across, solved.height])
    if bending is None or bow is None:
        return _Rows(solution=solved.solution, band=solved.band, levers=levers, on=on)
    layout = bending.layout
    bowed = bending.bowed[..., None] * over_cases(bow, table)[:, bending.band].T[:, None, None, :]
    more = np.stack([layout.lever_along, layout.lever_across, layout.height])
    found = _Rows(
        solution=np.concatenate([solved.solution, rigid + bending.solution]),
        band=np.concatenate([solved.band, bending.band]),
        levers=np.concatenate([levers, more], axis=1),
        on=np.concatenate([on, bending.on + bowed]),
    )
    touches = bending.touches
    if touches is None:
        return found
    # how hard the roof is nobody knows: without it, and on a roof that does not give, whichever is worse
    past = rigid + len(bending.solutions.names)
    return _Rows(
        solution=np.concatenate([found.solution, past + touches.solution]),
        band=np.concatenate([found.band, bending.band[touches.rows]]),
        levers=np.concatenate([found.levers, more[:, touches.rows]], axis=1),
        on=np.concatenate([found.on, touches.on]),
    )


def _worst(rows: _Rows, pads: Pads, feet: Feet, solutions: int) -> tuple[Indices, Array, Ways]:
    """Return solution (case, band, mount), what it puts on the springs there (case, band, mount, 6), and all ways."""
    on, (mounts, _, cases) = rows.on, rows.on.shape[1:]
    along, across, pull = on[:, :, 0], on[:, :, 1], on[:, :, 2]
    ex, ey, h = rows.levers[..., None]
    length, width = (pads.over_bands(n)[rows.band][..., None] for n in (pads.length, pads.width))
    about_x = laws.pad_moment_about_x(on[:, :, 3], pull, ey, h, across)
    about_y = laws.pad_moment_about_y(on[:, :, 4], pull, ex, h, along)
    about_z = laws.pad_moment_about_z(on[:, :, 5], ex, ey, along, across)
    peak = np.full((solutions, len(BANDS), mounts, cases), -1.0)  # no peak is below 0: -1 never governs
    shear = np.full_like(peak, -1.0)
    place = (rows.solution, rows.band)
    peak[place] = peak_on_foot(pull, about_x, about_y, (length, width), feet.springs(rows.band))
    shear[place] = laws.pad_shear(along, across, about_z, length, width)
    solution = np.argmax(np.where(peak >= _SAME_PEAK * peak.max(axis=0), shear, -1.0), axis=0)
    row = np.zeros((solutions, len(BANDS)), dtype=np.int64)
    row[place] = np.arange(len(rows.solution))
    bands, places, columns = np.ogrid[: len(BANDS), :mounts, :cases]
    chosen = on.transpose(0, 1, 3, 2)[row[solution, bands], places, columns]
    ways = Ways(peak_Pa=peak.transpose(0, 3, 1, 2), shear_Pa=shear.transpose(0, 3, 1, 2))
    return solution.transpose(2, 0, 1), chosen.transpose(2, 0, 1, 3), ways


def _joint(
    pads: Pads, solutions: Solutions, solution: Indices, tape: Tape, tape_place: str, card: TapeClassCard
) -> _Joint:
    """Return how the governing solution of each (case, band, mount) joins item and foot."""

    def of_solution(value: Array, what: str) -> Given:
        return given(value, "1", "calculation", f"{what}, in the solution with the largest peak")

    def modulus(typed_Pa: float | None, used_Pa: Array, band: Band, name: str) -> Given:
        if typed_Pa is not None:
            return typed(typed_Pa, "Pa", f"{tape_place}.{name}")
        ends = (band.low, band.likely, band.high)
        source = Source(basis=band.basis, title=band.source, place=f"{card.id}.{name}", band=ends)
        return Given(value=used_Pa[solution], unit="Pa", source=source)

    mount = np.arange(len(pads.names))
    clamped = of_solution(solutions.clamped[solution], "1 clamped, 0 hinged")
    along = of_solution(solutions.side_along[solution, mount], "lever's side, +1 forward, -1 rearward")
    across = of_solution(solutions.side_across[solution, mount], "lever's side, +1 left, -1 right")
    return _Joint(
        clamped=clamped,
        tension_modulus=modulus(
            tape.tension_modulus_Pa, solutions.tension_modulus_Pa, card.tension_modulus, "tension_modulus"
        ),
        shear_modulus=modulus(
            tape.shear_modulus_Pa, solutions.shear_modulus_Pa, card.shear_modulus, "shear_modulus"
        ),
        lever_along=derive(laws.lever_to_side, side=along, lever_m=pads.lever_along),
        lever_across=derive(laws.lever_to_side, side=across, lever_m=pads.lever_across),
        height=derive(laws.height_of_pull, clamped=clamped, connection_height_m=pads.height),
        holds=of_solution(
            solutions.holds[solution, mount], "1 holds in the plane, near 0 slides in its slot"
        ),
    )


def _solve_inputs(pads: Pads, joint: _Joint, thickness: Number, table: CaseTable) -> dict[str, Number]:
    """Return what goes into the solve for one mount: the load, and the mount's place and springs."""
    pull: Number = derive(
        laws.pad_spring,
        modulus_Pa=joint.tension_modulus,
        bond_area_m2=pads.area,
        tape_thickness_m=thickness,
    )
    if pads.skin is not None:
        pull = derive(spring_in_series, pad_spring_N_per_m=pull, skin_spring_N_per_m=pads.skin)
    shear = derive(
        laws.sliding_spring,
        share=joint.holds,
        shear_spring_N_per_m=derive(
            laws.pad_spring,
            modulus_Pa=joint.shear_modulus,
            bond_area_m2=pads.area,
            tape_thickness_m=thickness,
        ),
    )
    load = zip(("x", "y", "z"), table.force, table.moment, strict=True)
    parts: dict[str, Number] = {}
    for axis, force, moment in load:
        parts |= {f"load_{axis}_N": force, f"load_about_{axis}_Nm": moment}
    return parts | {
        "pad_forward_m": pads.forward,
        "pad_left_m": pads.left,
        "lever_along_m": joint.lever_along,
        "lever_across_m": joint.lever_across,
        "height_of_pull_m": joint.height,
        "pull_spring_N_per_m": pull,
        "shear_spring_N_per_m": shear,
        "tilt_spring_about_x_Nm_per_rad": derive(
            laws.tilt_spring, clamped=joint.clamped, pull_spring_N_per_m=pull, pad_side_m=pads.width
        ),
        "tilt_spring_about_y_Nm_per_rad": derive(
            laws.tilt_spring, clamped=joint.clamped, pull_spring_N_per_m=pull, pad_side_m=pads.length
        ),
        "twist_spring_Nm_per_rad": derive(
            laws.twist_spring,
            clamped=joint.clamped,
            shear_spring_N_per_m=shear,
            pad_length_m=pads.length,
            pad_width_m=pads.width,
        ),
    }


def _moments(along: Number, across: Number, pull: Number, turns: Sequence[Number], joint: _Joint) -> Triple:
    """Return the moment about the pad's centre: what the foot passes on, and the pull beside and above it."""
    about_x, about_y, about_z = turns
    return (
        derive(
            laws.pad_moment_about_x,
            spring_moment_Nm=about_x,
            pull_N=pull,
            lever_across_m=joint.lever_across,
            height_of_pull_m=joint.height,
            force_across_N=across,
        ),
        derive(
            laws.pad_moment_about_y,
            spring_moment_Nm=about_y,
            pull_N=pull,
            lever_along_m=joint.lever_along,
            height_of_pull_m=joint.height,
            force_along_N=along,
        ),
        derive(
            laws.pad_moment_about_z,
            spring_moment_Nm=about_z,
            lever_along_m=joint.lever_along,
            lever_across_m=joint.lever_across,
            force_along_N=along,
            force_across_N=across,
        ),
    )
