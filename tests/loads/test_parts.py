"""Parts of the cases: what acts where, its factor, and how parts add up."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sample_jobs import PANEL, PUCK, over, part_of, row_of, table_of
from staydown.loads.load_case import CaseTable, LoadPart

GRAVITY_m_per_s2 = 9.80665


def acting(table: CaseTable, part: LoadPart) -> set[str]:
    """Return the names of the cases in which a part acts."""
    return {case.name for case, acts in zip(table.cases, part.acts, strict=True) if acts}


def force(table: CaseTable, part: LoadPart, case: str) -> list[float]:
    """Return a part's force before its factor, at the high band. [N]"""
    row = row_of(table, case)
    return [float(over(component, table)[row, 2, 0]) for component in part.force]


def factor(table: CaseTable, part: LoadPart, case: str) -> float:
    """Return a part's factor in a case."""
    return float(over(part.factor, table)[row_of(table, case), 0, 0])


@pytest.mark.parametrize(
    ("consequence", "expected"), [("medium", 1.25), ("high", 1.5), (None, 1.5), ("low", 1.25)]
)
def test_load_factor_by_consequence(consequence: str | None, expected: float) -> None:
    """1.25 and 1.5; left out is high; low is refused for 11 kg and becomes medium."""
    table = table_of(PANEL, {"job.consequence": consequence})
    for part in table.parts:
        if part.name != "weight":
            assert np.all(np.asarray(part.factor.value) == expected)


def test_load_factor_of_a_light_thing() -> None:
    """60 g of low consequence: 1.0; an item may have its own consequence."""
    assert part_of(table_of(PUCK), "uplift").factor.value == 1.0
    assert part_of(table_of(PUCK, {"item.0.consequence": "high"}), "uplift").factor.value == 1.5


def test_weight_helps_with_nine_tenths_and_drives_under_snow() -> None:
    """0.9 and no load factor where it helps; in snow it is multiplied as a load; none in the soaks."""
    table = table_of(PANEL)
    weight = part_of(table, "weight")

    assert force(table, weight, "gust") == pytest.approx([0.0, 0.0, -11.2 * GRAVITY_m_per_s2])
    assert factor(table, weight, "gust") == factor(table, weight, "handling up left") == 0.9
    assert factor(table, weight, "snow") == 1.5
    assert {case.name for case in table.cases} - acting(table, weight) == {"hot soak", "cold soak"}


def test_parts_are_told_before_their_factor_and_sums_after() -> None:
    """The gust's uplift as listed times 1.5, less 0.9 of the weight, is the sum along z."""
    table = table_of(PANEL)
    lift = force(table, part_of(table, "uplift"), "gust")[2]
    row = row_of(table, "gust")

    assert lift == pytest.approx(
        0.5 * table.cases[row].air_density.value * table.cases[row].air_speed.value ** 2 * 1.2 * 1.48 * 0.67
    )
    assert table.force_N[row, 2, 2] == pytest.approx(1.5 * lift - 0.9 * 11.2 * GRAVITY_m_per_s2)


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("name", "cases", "direction", "size_g"),
    [
        ("bump", {"rough road"}, (0, 0, 1), 2.0),
        ("braking", {"braking"}, (1, 0, 0), 0.8),
        ("speeding up", {"speeding up"}, (-1, 0, 0), 0.5),
        ("cornering left", {"cornering left"}, (0, -1, 0), 0.5),
        ("cornering right", {"cornering right"}, (0, 1, 0), 0.5),
    ],
)
def test_inertia(name: str, cases: set[str], direction: tuple[int, ...], size_g: float) -> None:
    """Mass times 2, 0.8 or 0.5 g at the centre of mass; cornering left pushes right; with cruise wind beside it."""
    table = table_of(PANEL)
    part = part_of(table, name)
    (case,) = cases

    assert acting(table, part) == cases
    assert force(table, part, case) == pytest.approx(
        [11.2 * size_g * GRAVITY_m_per_s2 * d for d in direction]
    )
    assert over(part.at[2], table)[0, 0, 0] == pytest.approx(0.0625)
    assert force(table, part_of(table, "uplift"), case) == force(table, part_of(table, "uplift"), "cruise")


@pytest.mark.by_hand
def test_hands() -> None:
    """250 N at the middle of each edge: up, or sideways along the edge that the hand holds."""
    table = table_of(PANEL)
    edges = {"front": (0.74, 0.0), "rear": (-0.74, 0.0), "left": (0.0, 0.335), "right": (0.0, -0.335)}
    hands = {name: part for part in table.parts if part.name == "hand" for name in acting(table, part)}

    assert set(hands) == {f"handling {way} {edge}" for way in ("up", "sideways") for edge in edges}
    for edge, (x, y) in edges.items():
        up, sideways = hands[f"handling up {edge}"], hands[f"handling sideways {edge}"]
        at = [float(over(arm, table)[0, 0, 0]) for arm in up.at]

        assert at == pytest.approx([x, y, 0.0625])
        assert force(table, up, f"handling up {edge}") == [0.0, 0.0, 250.0]
        pushed = force(table, sideways, f"handling sideways {edge}")
        assert np.linalg.norm(pushed) == 250.0
        assert np.dot(pushed[:2], (x, y)) == 0.0  # along the edge, which twists the item as well
        assert force(table, part_of(table, "uplift"), f"handling up {edge}") == [0.0, 0.0, 0.0]


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("name", "change", "case", "total_N"),
    [
        ("passing pressure", {"travel.pass_pressure_Pa": 500.0}, "passing truck", 500.0 * 1.48 * 0.67),
        ("snow", {"climate.snow_Pa": 600.0}, "snow", -600.0 * 1.48 * 0.67),
    ],
)
def test_pressed_areas(name: str, change: dict[str, Any], case: str, total_N: float) -> None:
    """Pressure times plan area at its middle: a passing truck pulls up, snow presses down."""
    table = table_of(PANEL, change)
    part = part_of(table, name)

    assert acting(table, part) == {case}
    assert force(table, part, case) == pytest.approx([0.0, 0.0, total_N])
    assert [float(np.asarray(arm.value)) for arm in part.at] == [0.0, 0.0, 0.0]


def test_nothing_acts_in_the_soaks() -> None:
    """A soak is movement only: no force, no moment."""
    table = table_of(PANEL)
    for name, season in (("hot soak", "hot"), ("cold soak", "cold")):
        row = row_of(table, name, season)

        assert np.all(table.force_N[row] == 0.0)
        assert np.all(table.moment_Nm[row] == 0.0)
