"""Mounts that have let go: taking springs away gives what a new solve gives, loads still balance, nothing is left."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sample_jobs import PANEL, cards, changed, job_of, row_of, table_of
from staydown.loads.build_cases import unfactored
from staydown.loads.load_case import CaseTable
from staydown.spread import build_bending
from staydown.spread.build_demands import build_demands
from staydown.spread.build_solutions import lay_out
from staydown.spread.lost_mounts import build_lost_mounts, on_rest, singles_and_pairs
from staydown.spread.rigid import reactions
from staydown.spread.spring_group import SpringGroup, build_spring_group

STIFF = {"item.0.kind": "other", "item.0.material": None}  # no usual stiffness: the rigid item alone
TEN_FEET = {
    "item.0.mount": [
        {
            "name": f"{row} {side}",
            "behind_m": behind,
            "left_m": left,
            "pad": {"length_m": 0.08, "width_m": 0.05},
            "lever_m": 0.012,
            "lever_direction": "across",
        }
        for row, behind in zip("abcde", (0.10, 0.42, 0.74, 1.06, 1.38), strict=True)
        for side, left in (("left", 0.31), ("right", -0.31))
    ]
}


def group_of(changes: dict[str, Any]) -> tuple[SpringGroup, CaseTable, Any]:
    """Return the springs of the panel for the gust, its cases without factors and its job."""
    job, table = job_of(PANEL, changes), table_of(PANEL, changes)
    rows = [row_of(table, "gust", "cold"), row_of(table, "gust", "hot")]
    return (
        build_spring_group(job.item[0], "item.1", job.tape[0], cards(), table, rows),
        unfactored(table),
        job,
    )


@pytest.mark.independent
@pytest.mark.parametrize("lost", [(0,), (2,), (9,)])
def test_taking_springs_away_is_a_new_solve(lost: tuple[int, ...]) -> None:
    """For a rigid item the rest carries what the whole solve without those springs gives, to round-off."""
    group, table, job = group_of(TEN_FEET | STIFF)
    demands = build_demands(job.item[0], "item.1", job.tape[0], "tape.1", cards(), table, lost=lost)
    rest = on_rest(build_lost_mounts(group, [lost]), 1.0)
    shape = (len(table.cases), 3, 10)
    peak = np.broadcast_to(np.asarray(demands.peak_tension.value), shape)[list(group.cases), 2].T
    shear = np.broadcast_to(np.asarray(demands.shear.value), shape)[list(group.cases), 2].T

    assert group.rigid == len(group.clamped)
    assert rest.peak_Pa[0] == pytest.approx(peak, rel=1e-9, abs=1e-3)
    assert rest.shear_Pa[0] == pytest.approx(shear, rel=1e-9, abs=1e-3)


@pytest.mark.independent
@pytest.mark.parametrize("lost", [(0,), (4,), (0, 1), (3, 8)])
def test_the_same_for_a_bending_item(lost: tuple[int, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """For a bending item too: the springs set to zero before its solve give the same forces."""
    group, table, job = group_of(TEN_FEET)

    def without(*given: Any) -> Any:
        layout = lay_out(*given)
        layout.springs[:, list(lost)] = 0.0
        return layout

    monkeypatch.setattr(build_bending, "lay_out", without)
    solved = build_spring_group(job.item[0], "item.1", job.tape[0], cards(), table, group.cases)
    bending = slice(group.rigid, None)
    rest = build_lost_mounts(group, [lost])
    direct = build_lost_mounts(solved, [()])  # already solved without them
    sound = rest.sound[0, bending]

    assert len(group.clamped) > group.rigid
    assert sound.all()
    for part in ("wind", "weight"):
        taken, new = getattr(rest, part)[:, 0, bending], getattr(direct, part)[:, 0, bending]
        assert taken == pytest.approx(new, rel=1e-6, abs=1e-6 * np.abs(new).max())


@pytest.mark.by_hand
def test_what_is_left_carries_the_whole_load() -> None:
    """After each loss, rigid or bending, pulls of all mounts still sum to uplift less weight in every solution."""
    group, table, _ = group_of(TEN_FEET)
    lost = build_lost_mounts(group, [loss for loss in singles_and_pairs(10) if len(loss) == 2])
    pull = (lost.wind + lost.weight)[2].sum(axis=-2)
    lift = table.force_N[list(group.cases), 2, 2]

    assert lost.sound.all()
    assert pull == pytest.approx(np.broadcast_to(lift, pull.shape), rel=1e-6)
    for number, loss in enumerate(lost.losses):
        assert np.all(lost.wind[:, number][:, :, list(loss)] == 0.0)


@pytest.mark.by_hand
def test_three_feet_are_statics_alone() -> None:
    """Three hinged feet of four: FR + RL + RR = F, RL + RR = F/4, FR - RL + RR = 0 give 0.75, 0.50 and -0.25 F."""
    corners = {
        "item.0.mount": [
            {
                "name": f"{along} {across}",
                "behind_m": behind,
                "left_m": left,
                "pad": {"length_m": 0.05, "width_m": 0.05},
                "lever_m": 0.0,
                "lever_direction": "across",
                "connection_height_m": 0.0,
            }
            for along, behind in (("front", 0.0), ("rear", 1.48))
            for across, left in (("left", 0.31), ("right", -0.31))
        ],
        "item.0.mass_kg": 1e-6,
        "item.0.drag_coefficient": 0.0,
    }
    group, table, _ = group_of(corners)
    lost = build_lost_mounts(group, [(0,)])
    hinged = np.flatnonzero(~group.clamped)
    lift = table.force_N[group.cases[0], 2, 2]

    assert len(hinged) >= 2  # a rigid and a bending one: statics knows no stiffness
    for row in hinged:
        assert lost.wind[2, 0, row, :, 0] / lift == pytest.approx([0.0, 0.75, 0.50, -0.25], abs=1e-6)


@pytest.mark.independent
def test_gaps_are_forces_of_the_springs_moved() -> None:
    """A gap at one spring is that spring drawn out: the rigid group answers as to the force it makes, pulled back."""
    group, _, _ = group_of(STIFF)
    row, mount, axis, gap = 0, 1, 2, 1e-3
    springs, point = group.layout.springs[row], group.layout.point[row]
    force = np.zeros(3)
    force[axis] = -springs[mount, axis] * gap
    on, turn = reactions(point, springs, force, np.cross(point[mount], force))
    on[mount] -= force

    answered = gap * group.gaps[row][:, 6 * mount + axis].reshape(4, 6)
    assert answered[:, :3] == pytest.approx(on, rel=1e-9, abs=1e-9)
    assert answered[:, 3:] == pytest.approx(turn, rel=1e-9, abs=1e-9)


def test_a_hinged_rest_in_one_line_is_not_counted() -> None:
    """Two of four feet left in one line cannot be hinged: only clamped solutions stand."""
    group, _, _ = group_of({})
    lost = build_lost_mounts(group, [(0, 1), (2, 3), (0, 2)])

    assert np.array_equal(lost.sound, np.tile(group.clamped, (3, 1)))


def test_nothing_left_carries_nothing() -> None:
    """All mounts lost: zeros, no crash; and losses of different sizes are not mixed."""
    group, _, _ = group_of({})
    nothing = on_rest(build_lost_mounts(group, [(0, 1, 2, 3)]), 1.0)

    assert not np.any(nothing.peak_Pa)
    assert not np.any(nothing.force_N)
    with pytest.raises(ValueError, match="one size"):
        build_lost_mounts(group, [(0,), (0, 1)])


@pytest.mark.by_hand
def test_only_the_wind_grows() -> None:
    """With the wind's loads doubled, forces are twice the wind's and once the weight's."""
    group, _, _ = group_of(STIFF)
    lost = build_lost_mounts(group, [(0,)])
    rigid = on_rest(lost.only([0]), 2.0)
    pull = 2.0 * lost.wind[2, 0, 0] + lost.weight[2, 0, 0]
    across = np.hypot(*(2.0 * lost.wind[axis, 0, 0] + lost.weight[axis, 0, 0] for axis in (0, 1)))

    assert rigid.force_N[0] == pytest.approx(np.hypot(np.maximum(pull, 0.0), across))


def test_an_item_without_mounts_has_none_to_lose() -> None:
    """Asking is a mistake of the caller."""
    job, table = job_of(changed(PANEL, {"item.0.mount": []})), table_of(PANEL)

    with pytest.raises(ValueError, match="none to lose"):
        build_spring_group(job.item[0], "item.1", job.tape[0], cards(), table, [0])
