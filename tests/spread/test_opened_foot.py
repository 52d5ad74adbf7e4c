"""A foot that opens: softer springs, load handed on, closed forms of plates on springs and of strips on a bed."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sample_jobs import PANEL, cards, job_of, row_of, table_of
from staydown.spread import opening_laws, pad_laws
from staydown.spread.lost_mounts import build_lost_mounts, on_rest
from staydown.spread.opened_foot import OpenedFoot, build_opened_foot, opened_peak
from staydown.spread.rigid import reactions
from staydown.spread.spring_group import SpringGroup, build_spring_group

STIFF = {"item.0.kind": "other", "item.0.material": None}  # no usual stiffness: the rigid item alone
WIDTHS_m = (0.0, 0.005, 0.010, 0.020, 0.035)
SIDE_m, EDGE_m, THICK_m = 0.05, 0.08, 1.1e-3  # across, along, tape of 1.0 and 0.35 MPa


def corners() -> dict[str, Any]:
    """Return four square feet at the panel's corners, pulled in their middle at the roof's height; a stiff item."""
    feet = [
        {
            "name": f"{along} {across}",
            "behind_m": behind,
            "left_m": left,
            "pad": {"length_m": 0.05, "width_m": 0.05},
            "lever_m": 0.0,
            "lever_direction": "across",
            "connection_height_m": 0.0,
            "foot_thickness_m": 0.012,
        }
        for along, behind in (("front", 0.0), ("rear", 1.48))
        for across, left in (("left", 0.31), ("right", -0.31))
    ]
    return STIFF | {"item.0.mount": feet}


def group_of(changes: dict[str, Any]) -> SpringGroup:
    """Return the springs of the panel in gust and crosswind."""
    job, table = job_of(PANEL, changes), table_of(PANEL, changes)
    rows = [row_of(table, name, "cold") for name in ("gust", "crosswind left")]
    return build_spring_group(job.item[0], "item.1", job.tape[0], cards(), table, rows)


def pulls(opened: OpenedFoot) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return the pull on every mount, (step, solution, mount, case). [N]"""
    return opened.pads[2]


@pytest.mark.by_hand
def test_diagonals_of_a_plate_are_two_springs_side_by_side() -> None:
    """Feet on k k k and r k: diagonals of 4 k/(1 + 1/r) and 2 k share as k1/(k1 + k2); hinged without a lever."""
    group = group_of(corners())
    opened = build_opened_foot(group, 0, WIDTHS_m)
    hinged = np.flatnonzero(~group.clamped)

    assert len(hinged) > 0
    for row in hinged:
        for case in range(2):
            whole = pulls(opened)[0, row, 0, case]
            ratio = opened.spring_N_per_m[:, row, case] / group.layout.springs[row, 0, 2]
            first, second = 4.0 / (1.0 + 1.0 / ratio), 2.0
            assert pulls(opened)[:, row, 0, case] / whole == pytest.approx(
                2.0 * first / (first + second), rel=1e-9
            )
            assert ratio[0] == pytest.approx(1.0)
            assert np.all(np.diff(ratio) < 0.0)


@pytest.mark.by_hand
@pytest.mark.parametrize("changes", [STIFF, {}], ids=["rigid", "bending"])
def test_the_load_stays_whole_at_every_width(changes: dict[str, Any]) -> None:
    """Pulls sum to the load, and with their moments to its moment about the item's centre, in every solution."""
    group = group_of(changes)
    opened = build_opened_foot(group, 1, WIDTHS_m)
    load = (group.wind + group.weight)[:, :, :3].sum(axis=1)
    point = group.layout.point - np.stack(
        [group.layout.lever_along, group.layout.lever_across, group.layout.height], axis=-1
    )  # centres of the pads, whole
    about = np.cross(point[..., None], np.moveaxis(opened.pads[:3], 0, 3), axisa=2, axisb=3, axisc=3)
    moment = about.sum(axis=2) + np.moveaxis(opened.pads[3:], 0, 3).sum(axis=2)

    assert np.moveaxis(opened.pads[:3].sum(axis=3), 0, 2) == pytest.approx(
        np.broadcast_to(load, (len(WIDTHS_m), *load.shape)), rel=1e-6, abs=1e-3
    )
    assert moment == pytest.approx(np.broadcast_to(moment[0], moment.shape), rel=1e-6, abs=1e-3)
    assert np.abs(moment[0]).max() > 100.0


@pytest.mark.independent
@pytest.mark.parametrize("mount", [0, 3])
def test_softened_springs_are_a_new_solve(mount: int) -> None:
    """Gaps give what the whole solve gives with the opened pad's own springs, standing where it still holds."""
    group = group_of(STIFF)
    opened = build_opened_foot(group, mount, WIDTHS_m)
    seen = set()
    for step, width in enumerate(WIDTHS_m):
        left = SIDE_m - width
        for row in range(len(group.clamped)):
            for case in range(2):
                clamped = float(group.clamped[row])
                toward = opened.toward[row, case]
                lever = max(0.0, toward * group.layout.lever_across[row, mount])
                arm = 0.0 if clamped else lever + width / 2
                give = SIDE_m / left * (1 + 12 * (arm / left) ** 2)
                give -= 1 + (0.0 if clamped else 12 * (lever / SIDE_m) ** 2)
                pull = 1.0e6 * EDGE_m * SIDE_m / THICK_m / (1.0 + give)
                shear = 0.35e6 * EDGE_m * left / THICK_m
                springs, point = group.layout.springs[row].copy(), group.layout.point[row].copy()
                springs[mount] = [
                    shear,
                    shear,
                    pull,
                    float(pad_laws.tilt_spring(clamped, pull, left)),
                    float(pad_laws.tilt_spring(clamped, pull, EDGE_m)),
                    float(pad_laws.twist_spring(clamped, shear, EDGE_m, left)),
                ]
                moved = -toward * width / 2 * clamped
                point[mount, 1] += moved
                whole = (group.wind + group.weight)[row, :, :, case]
                force = whole[:, :3].sum(axis=0)
                moment = (np.cross(group.layout.point[row], whole[:, :3]) + whole[:, 3:]).sum(axis=0)
                on, _ = reactions(point, springs, force, moment)
                assert pulls(opened)[step, row, :, case] == pytest.approx(on[:, 2], rel=1e-9, abs=1e-6)
                assert opened.pads[0, step, row, :, case] == pytest.approx(on[:, 0], rel=1e-9, abs=1e-6)
                seen.add((clamped, toward))

    assert {(0.0, -1.0), (0.0, 1.0)} < seen  # hinged to either edge, and clamped


@pytest.mark.independent
@pytest.mark.parametrize("changes", [STIFF, {}], ids=["rigid", "bending"])
def test_an_edge_opened_to_the_end_is_a_lost_mount(changes: dict[str, Any]) -> None:
    """With a millionth of the foot left the others carry what they carry without it."""
    group = group_of(changes)
    opened = build_opened_foot(group, 0, [SIDE_m * (1.0 - 1e-6)])
    gone = build_lost_mounts(group, [(0,)])
    rest = on_rest(gone, 1.0)
    without = (gone.wind + gone.weight)[2, 0]

    assert pulls(opened)[0][gone.sound[0]] == pytest.approx(without[gone.sound[0]], abs=1.0)
    assert opened.worst.force_N[0, 1:] == pytest.approx(rest.force_N[0, 1:], rel=5e-3)


@pytest.mark.by_hand
def test_a_stiffer_neighbour_relieves_the_foot_that_opens() -> None:
    """With the other feet twice as long, and so twice as stiff, the opening foot keeps less of its pull."""
    stiffer = {f"item.0.mount.{n}.pad": {"length_m": 0.10, "width_m": 0.05} for n in (1, 2, 3)}
    kept = []
    for changes in (corners(), corners() | stiffer):
        group = group_of(changes)
        opened = build_opened_foot(group, 0, WIDTHS_m)
        hinged = int(np.argmax(~group.clamped))
        kept.append(pulls(opened)[:, hinged, 0, 0] / pulls(opened)[0, hinged, 0, 0])

    assert np.all(np.diff(kept[0]) < 0.0)
    assert np.all(kept[1][1:] < kept[0][1:])


@pytest.mark.by_hand
def test_three_feet_cannot_relieve_each_other() -> None:
    """Three hinged feet are statics alone: whatever opens, each keeps its pull."""
    three = {"item.0.mount": corners()["item.0.mount"][:3]}
    group = group_of(corners() | three)
    opened = build_opened_foot(group, 0, WIDTHS_m)
    hinged = int(np.argmax(~group.clamped))

    assert pulls(opened)[:, hinged] == pytest.approx(
        np.broadcast_to(pulls(opened)[0, hinged], pulls(opened)[:, hinged].shape), rel=1e-6, abs=1e-4
    )


@pytest.mark.by_hand
def test_left_and_right_are_alike() -> None:
    """The pulled edge is found on either side: a mirrored foot opens as its twin does."""
    group = group_of(corners())
    left, right = (build_opened_foot(group, mount, WIDTHS_m).worst for mount in (0, 1))

    assert left.peak_Pa[:, 0, 0] == pytest.approx(right.peak_Pa[:, 1, 0], rel=1e-6)
    assert left.peak_Pa[:, 1, 0] == pytest.approx(right.peak_Pa[:, 0, 0], rel=1e-6)


@pytest.mark.by_hand
def test_peak_of_a_stiff_foot_that_opened() -> None:
    """N/(W l) + 6 (M + N s/2)/(W l^2) + 6 C/(l W^2): 200 N, 2 N m, 0.5 N m on 50 x 80 mm less 10 mm."""
    peak = opened_peak(np.array(200.0), np.array(2.0), np.array(0.5), np.array(0.010), (SIDE_m, EDGE_m, 0.0))
    by_hand = 200 / (0.08 * 0.04) + 6 * (2 + 200 * 0.005) / (0.08 * 0.04**2) + 6 * 0.5 / (0.04 * 0.08**2)

    assert float(peak) == pytest.approx(by_hand, rel=1e-12)


@pytest.mark.published
def test_peak_of_a_bending_foot_that_opened() -> None:
    """Hetenyi, from memory: a load P at an arm s from the end of a long strip lifts it by 2 P b (1 + b s)/k there."""
    rate, pull = 34.66, 100.0
    for opened_m in (0.0, 0.010, 0.020):
        peak = opened_peak(
            np.array(pull), np.array(0.0), np.array(0.0), np.array(opened_m), (SIDE_m, EDGE_m, rate)
        )

        assert float(peak) == pytest.approx(2 * pull * rate * (1 + rate * opened_m) / EDGE_m, rel=1e-12)


@pytest.mark.independent
def test_give_of_a_stiff_foot_against_many_springs() -> None:
    """A stiff plate on 4000 strips of tape, pulled at its old line, gives at that line as the law says."""
    lever, opened_m, bed = 0.006, 0.020, 1.0e6 / THICK_m * EDGE_m  # N/m per m of side
    gives = []
    for left, arm in ((SIDE_m, lever), (SIDE_m - opened_m, lever + opened_m / 2)):
        x = (np.arange(4000) + 0.5) / 4000 * left - left / 2
        spring = bed * left / 4000
        matrix = spring * np.array([[len(x), x.sum()], [x.sum(), (x**2).sum()]])
        lift, turn = np.linalg.solve(matrix, [1.0, arm])
        gives.append(lift + turn * arm)
    more = opening_laws.more_give_stiff(SIDE_m, SIDE_m - opened_m, lever + opened_m / 2, lever)

    assert (gives[1] - gives[0]) * bed * SIDE_m == pytest.approx(float(more), rel=1e-5)


def test_the_skin_under_a_foot_does_not_soften_with_it() -> None:
    """On skin the same opening takes away a smaller share of the foot's stiffness than on a rib."""
    on_rib = build_opened_foot(group_of(STIFF), 0, WIDTHS_m)
    skin = STIFF | {f"item.0.mount.{n}.under": "skin" for n in range(4)}
    on_skin = build_opened_foot(group_of(skin), 0, WIDTHS_m)
    kept = [one.spring_N_per_m[:, 0, 0] / one.spring_N_per_m[0, 0, 0] for one in (on_rib, on_skin)]

    assert np.all(kept[1][1:] > kept[0][1:])


def test_a_foot_opens_by_less_than_its_side() -> None:
    """Asking for more is a mistake of the caller."""
    with pytest.raises(ValueError, match="less than that"):
        build_opened_foot(group_of(STIFF), 0, [SIDE_m])
