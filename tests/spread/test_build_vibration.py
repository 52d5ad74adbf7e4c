"""How an item shakes: frequencies by hand and from a handbook, roads, vortices."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sample_jobs import PANEL, cards, changed, own
from staydown.assess import with_overrides
from staydown.job.records import Job
from staydown.spread.build_vibration import build_vibration
from staydown.spread.frequency import MOTIONS, lowest_bending_frequency, rigid_frequencies
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness
from staydown.spread.vibration import VibrationAnswer

Array = NDArray[np.float64]
TYPED = {
    "item.0.laminate_bending_stiffness_Nm": 200.0,
    "item.0.frame_bending_stiffness_N_m2": 1400.0,
    "item.0.frame_torsion_stiffness_N_m2": 70.0,
}


def shaken(changes: dict[str, Any]) -> VibrationAnswer:
    """Return how the sample panel shakes."""
    job = Job.model_validate(changed(PANEL, changes))
    return build_vibration(job, job.item[0], "item.1", job.tape[0], "tape.1", with_overrides(cards(), job))


def likely(number: Any) -> float:
    """Return a number at the likely band."""
    return float(np.broadcast_to(np.asarray(number.value), (1, 3, 1))[0, 1, 0])


@pytest.mark.by_hand
def test_a_rigid_item_heaves_as_one_mass_on_its_springs() -> None:
    """f = sqrt(sum k/m)/2 pi for heaving; pitching and turning from their own springs and inertias."""
    position = np.array([(x, y, 0.0) for x in (0.6, -0.6) for y in (0.3, -0.3)])
    springs = np.tile([1e6, 1e6, 3e6, 0.0, 0.0, 0.0], (4, 1))
    inertia = np.array([0.4, 2.0, 2.3])

    found = dict(zip(MOTIONS, rigid_frequencies(position, springs, 11.0, inertia, 0.0), strict=True))

    assert found["heaving"] == pytest.approx(np.sqrt(12e6 / 11.0) / (2 * np.pi))
    assert found["pitching"] == pytest.approx(np.sqrt(12e6 * 0.36 / 2.0) / (2 * np.pi))
    assert found["rolling"] == pytest.approx(np.sqrt(12e6 * 0.09 / 0.4) / (2 * np.pi))
    assert found["turning"] == pytest.approx(np.sqrt(4e6 * 0.45 / 2.3) / (2 * np.pi))
    assert found["sliding along"] == pytest.approx(np.sqrt(4e6 / 11.0) / (2 * np.pi))


@pytest.mark.by_hand
def test_a_high_mass_slides_and_pitches_together() -> None:
    """Above its springs by h: the two roots of (k - m w2)(k_r + k h2 - J w2) = (k h)2, sliding and pitching."""
    height, k, k_r, m, inertia = 0.1, 4e6, 12e6 * 0.36, 11.0, 2.0
    position = np.array([(x, y, 0.0) for x in (0.6, -0.6) for y in (0.3, -0.3)])
    springs = np.tile([1e6, 1e6, 3e6, 0.0, 0.0, 0.0], (4, 1))
    matrix = np.array([[k / m, -k * height / m], [-k * height / inertia, (k_r + k * height**2) / inertia]])
    roots = np.sqrt(np.sort(np.linalg.eigvals(matrix).real)) / (2 * np.pi)

    found = dict(
        zip(
            MOTIONS,
            rigid_frequencies(position, springs, m, np.array([0.4, inertia, 2.3]), height),
            strict=True,
        )
    )

    assert sorted([found["sliding along"], found["pitching"]]) == pytest.approx(roots)


@pytest.mark.published
def test_square_plate_on_its_corners_swings() -> None:
    """Leissa, Vibration of Plates (NASA SP-160), held at four corners: w a2 sqrt(m/D) = 7.12; from memory, 1 %."""
    grid = Grid(along=Line(side_m=1.0, cells=6), across=Line(side_m=1.0, cells=6))
    corners = np.array([(x, y) for x in (0.5, -0.5) for y in (0.5, -0.5)])
    springs = np.tile([1e6, 1e-9, 1e-9], (4, 1))
    plate = Stiffness(laminate_Nm=1.0, poisson=0.3, frame_N_m2=0.0, frame_twist_N_m2=0.0)

    frequency = lowest_bending_frequency(
        grid, plate, False, (corners, np.full((4, 2), 1e-6)), springs, mass_kg=1.0
    )

    assert 2 * np.pi * frequency == pytest.approx(7.12, rel=1e-2)


@pytest.mark.independent
def test_a_stiff_item_swings_as_the_rigid_one() -> None:
    """The rigid limit: lowest up-and-down frequency of a very stiff item is the lowest of heave, roll and pitch."""
    stiff = {
        "item.0.laminate_bending_stiffness_Nm": 1e7,
        "item.0.frame_bending_stiffness_N_m2": 1e7,
        "item.0.frame_torsion_stiffness_N_m2": 1e6,
        "item.0.thickness_m": 0.001,
        "item.0.gap_m": 0.0,
    }
    answer = shaken(stiff)
    motions = dict(answer.motions)

    assert answer.bends
    assert likely(answer.lowest) == pytest.approx(
        min(likely(motions[name]) for name in ("heaving", "rolling", "pitching")), rel=5e-3
    )


@pytest.mark.independent
@pytest.mark.parametrize(("framed", "within"), [(True, 0.01), (False, 0.05)])
def test_few_cells_are_enough_for_the_lowest_frequency(framed: bool, within: float) -> None:
    """Six by three cells give the frequency of sixteen by eight, from above; a softer pane swings slower."""
    feet = np.array([(x, y) for x in (0.6, -0.6) for y in (0.3, -0.3)]), np.tile([0.08, 0.05], (4, 1))
    springs = np.tile([4e6, 800.0, 2000.0], (4, 1))
    pane = Stiffness(
        laminate_Nm=200.0,
        poisson=0.25,
        frame_N_m2=1400.0 * framed,
        frame_twist_N_m2=70.0 * framed,
    )

    def frequency(cells: tuple[int, int], stiffness: Stiffness) -> float:
        grid = Grid(along=Line(side_m=1.48, cells=cells[0]), across=Line(side_m=0.67, cells=cells[1]))
        return lowest_bending_frequency(grid, stiffness, framed, feet, springs, 11.2)

    few, many = frequency((6, 3), pane), frequency((16, 8), pane)

    assert many <= few <= (1 + within) * many
    assert frequency((6, 3), replace(pane, laminate_Nm=50.0)) < 0.8 * few


@pytest.mark.independent
def test_a_rougher_road_and_more_speed_shake_more() -> None:
    """Four times the spectrum is twice the shaking from class to class, and it goes with the root of speed."""
    slow, fast = (
        shaken(TYPED | {"travel.cruise_speed_m_per_s": 10.0}),
        shaken(TYPED | {"travel.cruise_speed_m_per_s": 20.0}),
    )
    rms = [likely(road.rms) for road in slow.roads]

    assert [road.road for road in slow.roads] == ["A", "B", "C", "D", "E", "F"]
    assert np.array(rms[1:]) / rms[:-1] == pytest.approx(2.0)
    assert likely(fast.roads[2].rms) == pytest.approx(np.sqrt(2) * rms[2])
    assert likely(slow.roads[2].peak) == pytest.approx(3 * rms[2])


@pytest.mark.independent
def test_a_road_that_shakes_more_than_the_bump_is_named() -> None:
    """The first class whose peak passes the bump stands in the warning, with both figures; a huge bump silences it."""
    answer = shaken(TYPED)
    bump = 2 * 9.80665
    first = next(road.road for road in answer.roads if np.max(np.asarray(road.peak.value)) > bump)

    assert any(f"class {first} " in finding.rule for finding in answer.findings)
    silent = shaken(TYPED | {"planning.bump": own(1e4)})
    assert not any("ISO 8608" in finding.rule for finding in silent.findings)


@pytest.mark.by_hand
def test_vortices_at_the_items_own_frequency_are_noted() -> None:
    """At the speed f x 5 t/0.6 they meet, and a note says so; at three times that speed there is none."""
    lowest = likely(shaken(TYPED).lowest)
    meeting = lowest * 5 * 0.035 / 0.6

    meets = shaken(TYPED | {"travel.cruise_speed_m_per_s": meeting})
    passes = shaken(TYPED | {"travel.cruise_speed_m_per_s": 3 * meeting})

    assert likely(meets.meeting_speed) == pytest.approx(meeting)
    assert likely(meets.vortices) == pytest.approx(lowest)
    assert likely(meets.flapping) == pytest.approx(lowest / 3)
    assert any("vortices" in finding.rule for finding in meets.findings)
    assert not any("vortices" in finding.rule for finding in passes.findings)


@pytest.mark.independent
def test_an_item_of_unknown_stiffness_swings_rigid() -> None:
    """Without a stiffness the lowest up-and-down motion is a rigid one, and the answer says so."""
    answer = shaken({"item.0.kind": None})
    motions = dict(answer.motions)

    assert not answer.bends
    assert likely(answer.lowest) == min(likely(motions[name]) for name in ("heaving", "rolling", "pitching"))


@pytest.mark.by_hand
def test_what_swings_slower_than_is_likely_is_asked_about() -> None:
    """Below 4 Hz the answer asks for stiffness, mass and mounts, and names what was typed; a usual panel passes."""
    pane = {"item.0.kind": None, "item.0.laminate_bending_stiffness_Nm": 2.0}
    soft, usual = shaken(pane), shaken(TYPED)

    assert likely(soft.lowest) < 4.0 < likely(usual.lowest)
    (asked,) = [finding for finding in soft.findings if "swing up and down at" in finding.rule]
    assert asked.key == "item.1.laminate_bending_stiffness"
    assert f"{likely(soft.lowest):.1f} Hz" in asked.rule
    assert not any("likely to be" in finding.rule for finding in usual.findings)


@pytest.mark.independent
def test_what_swings_as_if_it_were_rigid_is_asked_about() -> None:
    """A long item of which only the tape gives is asked about; one on its kind's band, or a short one, is not."""
    stiff = {
        "item.0.laminate_bending_stiffness_Nm": 4e5,
        "item.0.frame_bending_stiffness_N_m2": 4e5,
        "item.0.frame_torsion_stiffness_N_m2": 4e4,
    }
    told = shaken(stiff)
    rigid = min(likely(dict(told.motions)[name]) for name in ("heaving", "rolling", "pitching"))

    assert likely(told.lowest) > 0.9 * rigid
    assert any("as a rigid item would on its tape" in finding.rule for finding in told.findings)
    assert not any("as a rigid" in finding.rule for finding in shaken({}).findings)
    short = {"item.0.length_m": 0.7, "item.0.mount": PANEL["item"][0]["mount"][:2]}
    assert not any("as a rigid" in finding.rule for finding in shaken(stiff | short).findings)


def test_an_item_without_mounts_does_not_swing() -> None:
    """No mounts, no frequency."""
    with pytest.raises(ValueError, match="without mounts"):
        shaken({"item.0.mount": []})
