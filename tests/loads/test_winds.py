"""What the builders choose for the wind: coefficients by edge, measured winds, the person's own coefficients."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sample_jobs import PANEL, changed, over, part_of, row_of, table_of
from staydown.loads.load_case import CaseTable

# behind_roof_front and left_of_centre of a panel of 0.6 x 0.6 m in the middle of a roof that is large on all sides
MIDDLE: dict[str, Any] = {
    "vehicle.roof_length_m": 6.0,
    "vehicle.roof_width_m": 4.0,
    "item.0.length_m": 0.6,
    "item.0.width_m": 0.6,
    "item.0.behind_roof_front_m": 2.7,
}
OPEN, INNER_OPEN = (0.6, 0.9, 1.2), (0.3, 0.6, 0.9)
DEFLECTED, INNER_DEFLECTED = (0.4, 0.6, 0.9), (0.2, 0.4, 0.6)
FLUSH, INNER_FLUSH = (0.6, 0.8, 1.0), (0.3, 0.5, 0.7)
FLAT = {"item.0.gap_m": 0.0, "item.0.front_edge": "sealed"}


def coefficient(table: CaseTable, case: str) -> tuple[float, ...]:
    """Return C_up low, likely, high of a case."""
    number = part_of(table, "uplift").coefficient
    assert number is not None
    return tuple(float(value) for value in over(number, table)[row_of(table, case), :, 0])


def lift(table: CaseTable, case: str) -> float:
    """Return the uplift of a case at the high band, before its factor. [N]"""
    return float(over(part_of(table, "uplift").force[2], table)[row_of(table, case), 2, 0])


def drag(table: CaseTable, case: str, axis: int = 0) -> float:
    """Return the drag of a case along an axis, before its factor. [N]"""
    part = part_of(table, ("edge drag", "side drag")[axis])
    return float(over(part.force[axis], table)[row_of(table, case), 2, 0])


def wind_at(behind_m: float, ratio: float, *covers: str) -> dict[str, Any]:
    """Return one measured local wind."""
    return {"behind_front_m": behind_m, "speed_ratio": ratio, "covers": list(covers)}


def measured(*places: dict[str, Any], **changes: Any) -> CaseTable:
    """Return the cases of the panel with measured winds; its front edge stands 0.9 m behind the roof's."""
    return table_of(PANEL, {"vehicle.local_wind": list(places), **changes})


# -- uplift by edge


@pytest.mark.parametrize(
    ("place", "near"),
    [
        ({"item.0.behind_roof_front_m": 0.99}, "front"),
        ({"item.0.behind_roof_front_m": 6.0 - 0.6 - 0.99}, "rear"),
        ({"item.0.left_of_centre_m": 2.0 - 0.3 - 0.99}, "left"),
        ({"item.0.left_of_centre_m": -(2.0 - 0.3 - 0.99)}, "right"),
        ({}, None),
    ],
)
def test_each_edge_is_near_or_inside_by_its_own_distance(place: dict[str, Any], near: str | None) -> None:
    """Wind straight on an edge less than 1 m from the roof's edge on that side takes the higher coefficients."""
    table = table_of(PANEL, MIDDLE | place)
    for edge in ("front", "rear", "left", "right"):
        assert coefficient(table, f"storm {edge}") == (OPEN if edge == near else INNER_OPEN), edge
    if near in ("left", "right"):  # under yaw the larger of the windward edges
        assert coefficient(table, f"storm front {near}") == OPEN
        assert coefficient(table, f"crosswind {near}") == OPEN
        other = "left" if near == "right" else "right"
        assert coefficient(table, f"crosswind {other}") == INNER_OPEN


def test_one_metre_is_no_longer_near() -> None:
    """Less than a metre is near, a metre is not."""
    assert coefficient(table_of(PANEL, MIDDLE | {"item.0.behind_roof_front_m": 1.0}), "gust") == INNER_OPEN
    assert coefficient(table_of(PANEL, MIDDLE | {"item.0.behind_roof_front_m": 0.999}), "gust") == OPEN


@pytest.mark.parametrize("treated", ["deflected", "sealed"])
def test_only_the_front_edge_is_deflected(treated: str) -> None:
    """From the front the lower coefficients hold; sides and rear count as open, also under yaw."""
    table = table_of(PANEL, MIDDLE | {"item.0.front_edge": treated})
    near = table_of(PANEL, MIDDLE | {"item.0.front_edge": treated, "item.0.behind_roof_front_m": 0.5})

    assert coefficient(table, "gust") == coefficient(table, "storm front") == INNER_DEFLECTED
    assert coefficient(near, "gust") == DEFLECTED
    for case in ("storm rear", "storm left", "storm front left", "crosswind right"):
        assert coefficient(table, case) == INNER_OPEN


def test_glued_flat_and_sealed_all_round() -> None:
    """No gap and a sealed front edge: its own coefficients on all sides; a gap or an open edge undoes that."""
    table = table_of(PANEL, MIDDLE | FLAT)
    near = table_of(PANEL, MIDDLE | FLAT | {"item.0.behind_roof_front_m": 0.5})

    for case in ("gust", "storm rear", "storm left", "crosswind right"):
        assert coefficient(table, case) == INNER_FLUSH
    assert coefficient(near, "gust") == FLUSH
    assert coefficient(table_of(PANEL, MIDDLE | FLAT | {"item.0.gap_m": 0.002}), "storm left") == INNER_OPEN
    assert coefficient(table_of(PANEL, MIDDLE | FLAT | {"item.0.front_edge": "open"}), "gust") == INNER_OPEN


@pytest.mark.by_hand
def test_a_raised_front_edge() -> None:
    """Adds 2 pi sin a AR/(AR + 2) from the front; resolved along a crosswind; nothing from behind or nose down."""
    angle, ratio = 0.03, 0.67 / 1.48
    flat, raised = table_of(PANEL), table_of(PANEL, {"item.0.nose_up_rad": angle})
    added = 2 * np.pi * np.sin(angle) * ratio / (ratio + 2)
    x, y = raised.cases[row_of(raised, "crosswind left")].air_velocity_m_per_s
    yawed = 2 * np.pi * np.sin(angle * x / np.hypot(x, y)) * ratio / (ratio + 2)

    def more(case: str, table: CaseTable = raised) -> float:
        return coefficient(table, case)[2] - coefficient(flat, case)[2]

    assert more("gust") == pytest.approx(added)
    assert more("crosswind left") == pytest.approx(yawed)
    assert more("storm rear") == more("storm left") == 0.0
    assert more("gust", table_of(PANEL, {"item.0.nose_up_rad": -angle})) == 0.0


def test_a_measured_coefficient_counts_only_straight_from_the_front_while_driving() -> None:
    """It replaces the band in cruise and gust; in a crosswind, a storm or from behind nobody measured it."""
    own = {"low": 0.3, "likely": 0.5, "high": 0.7, "source": "own pressure taps, 12 runs"}
    table, plain = table_of(PANEL, {"item.0.uplift_coefficient": own}), table_of(PANEL)
    for case in ("cruise", "gust", "braking", "rough road"):
        assert coefficient(table, case) == (0.3, 0.5, 0.7)
    for case in ("crosswind left", "storm front", "storm rear", "storm left"):
        assert coefficient(table, case) == coefficient(plain, case)


@pytest.mark.by_hand
def test_where_the_uplift_acts() -> None:
    """A quarter of the sides upwind of the middle, shared by the wind's direction; at the middle where it is across."""
    table = table_of(PANEL)
    uplift = part_of(table, "uplift")

    def at(case: str) -> tuple[float, ...]:
        row = row_of(table, case)
        return tuple(float(over(arm, table)[row, 0, 0]) for arm in uplift.at)

    assert at("gust") == pytest.approx((1.48 / 4, 0.0, 0.0))
    assert at("storm rear") == pytest.approx((-1.48 / 4, 0.0, 0.0))
    assert at("storm right") == pytest.approx((0.0, -0.67 / 4, 0.0), abs=1e-12)
    assert at("storm front left") == pytest.approx((1.48 / 4 / np.sqrt(2), 0.67 / 4 / np.sqrt(2), 0.0))


# -- drag


def test_drag_coefficient_by_edge_or_as_typed() -> None:
    """The plate's coefficient by the edge's own shape: 670/35 in front, 1480/35 at the side; a typed one for both."""
    table, typed = table_of(PANEL), table_of(PANEL, {"item.0.drag_coefficient": 1.45})
    row = row_of(table, "crosswind left")

    def of(table: CaseTable, name: str) -> float:
        number = part_of(table, name).coefficient
        assert number is not None
        return float(over(number, table)[row, 0, 0])

    assert of(table, "edge drag") == pytest.approx(1.4874, abs=1e-4)
    assert of(table, "side drag") == pytest.approx(1.11 + 0.018 * 1480 / 35)
    assert of(typed, "edge drag") == of(typed, "side drag") == 1.45


@pytest.mark.by_hand
def test_drag_acts_with_the_wind_at_half_the_thickness() -> None:
    """F_x = -1/2 rho |V| V_x Cd W t at gap + t/2: rearward from the front, forward from behind, and so sideways."""
    table = table_of(PANEL)
    for case in ("gust", "storm rear", "crosswind left", "storm right"):
        row = row_of(table, case)
        x, y = table.cases[row].air_velocity_m_per_s
        pressure = 0.5 * table.cases[row].air_density.value * np.hypot(x, y)

        assert drag(table, case) == pytest.approx(-pressure * x * 1.4874 * 0.67 * 0.035, rel=1e-4)
        assert drag(table, case, 1) == pytest.approx(-pressure * y * 1.87114 * 1.48 * 0.035, rel=1e-4)
    for name in ("edge drag", "side drag"):
        assert over(part_of(table, name).at[2], table)[0, 0, 0] == pytest.approx(0.045 + 0.035 / 2)


# -- measured local winds


@pytest.mark.by_hand
def test_shelter_lowers_only_drag_from_straight_ahead() -> None:
    """r = 0.7 measured for drag: r^2 of the front edge's drag in cruise and gust; nothing else changes."""
    sheltered, plain = measured(wind_at(0.9, 0.7, "drag")), table_of(PANEL)
    for case in ("cruise", "gust", "braking"):
        assert drag(sheltered, case) == pytest.approx(0.49 * drag(plain, case))
        assert lift(sheltered, case) == lift(plain, case)
    for case in ("crosswind left", "crosswind right", "storm front", "storm rear", "storm left"):
        assert drag(sheltered, case) == drag(plain, case)
        assert drag(sheltered, case, 1) == drag(plain, case, 1)
        assert lift(sheltered, case) == lift(plain, case)


@pytest.mark.by_hand
def test_shelter_lowers_uplift_only_where_it_was_measured_for_it() -> None:
    """covers = ["uplift"]: r^2 of the uplift straight from the front, drag as it was."""
    sheltered, plain = measured(wind_at(0.9, 0.7, "uplift")), table_of(PANEL)

    assert lift(sheltered, "gust") == pytest.approx(0.49 * lift(plain, "gust"))
    assert drag(sheltered, "gust") == drag(plain, "gust")
    assert lift(sheltered, "crosswind left") == lift(plain, "crosswind left")
    assert lift(sheltered, "storm front") == lift(plain, "storm front")


@pytest.mark.by_hand
def test_a_faster_place_raises_uplift_too() -> None:
    """r = 1.2 measured for drag alone: 1.44 of drag and of uplift while driving, also in a crosswind; not parked."""
    faster, plain = measured(wind_at(0.9, 1.2, "drag")), table_of(PANEL)
    for case in ("cruise", "gust", "crosswind left"):
        assert lift(faster, case) == pytest.approx(1.44 * lift(plain, case))
        assert drag(faster, case) == pytest.approx(1.44 * drag(plain, case))
    assert lift(faster, "storm front") == lift(plain, "storm front")
    assert drag(faster, "crosswind left", 1) == drag(plain, "crosswind left", 1)


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("places", "ratio"),
    [
        ([(0.5, 0.6), (1.5, 0.8)], 0.68),  # linear between two places, the edge at 0.9 m
        ([(1.1, 0.7)], 0.7),  # the nearest within 0.3 m beyond
        ([(0.6, 0.7)], 0.7),
        ([(1.25, 0.7)], 1.0),  # too far
        ([(0.55, 0.7)], 1.0),
        ([(0.2, 0.5), (0.5, 0.6)], 1.0),
        ([(0.2, 0.5), (0.7, 0.6)], 0.6),
        ([(0.9, 0.5), (0.2, 0.9), (2.0, 0.9)], 0.5),  # order of typing does not matter
    ],
)
def test_ratio_at_the_front_edge(places: list[tuple[float, float]], ratio: float) -> None:
    """Linear between measured places, the nearest up to 0.3 m beyond them, else 1."""
    table = measured(*(wind_at(place, value, "drag") for place, value in places))

    assert drag(table, "gust") == pytest.approx(ratio**2 * drag(table_of(PANEL), "gust"))


@settings(max_examples=30, deadline=None)
@given(
    places=st.lists(
        st.tuples(st.floats(0.0, 3.0), st.floats(0.3, 1.0), st.sampled_from(["drag", "uplift"])),
        max_size=3,
        unique_by=lambda place: place[0],
    )
)
def test_no_measurement_of_shelter_lowers_what_it_does_not_cover(
    places: list[tuple[float, float, str]],
) -> None:
    """With ratios of at most 1, uplift falls only if some place covers uplift, and never in a storm or a crosswind."""
    plain = table_of(PANEL)
    table = measured(*(wind_at(place, ratio, covers) for place, ratio, covers in places))
    covered = {covers for _, _, covers in places}

    if "uplift" not in covered:
        assert lift(table, "gust") == lift(plain, "gust")
    if "drag" not in covered:
        assert drag(table, "gust") == drag(plain, "gust")
    for case in ("crosswind left", "storm front", "storm rear left"):
        assert lift(table, case) == lift(plain, case)
        assert drag(table, case) == drag(plain, case)


def test_panels_in_a_row_are_each_judged_open() -> None:
    """A second item in front changes nothing: no shelter is taken from it."""
    both = changed(PANEL, {})
    both["item"].insert(0, changed(PANEL["item"][0], {"name": "in front", "behind_roof_front_m": 0.0}))
    alone = changed(PANEL, {"item.0.behind_roof_front_m": 1.6})
    behind = changed(both, {"item.1.behind_roof_front_m": 1.6})
    behind["item"] = behind["item"][::-1]  # the first item is looked at

    assert np.array_equal(table_of(behind).force_N, table_of(alone).force_N)
