"""The bow of an item in the sun: against beams that are held straight, by hand, and as a load of the hot soak."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from bent_strips import PAD_m, WIDTH_m, bending_of, demands_of
from bent_strips import strip as bare_strip
from sample_jobs import PANEL, cards, own, row_of, table_of
from staydown.spread.demands import Demands

Array = NDArray[np.float64]
LIKELY, HIGH = 1, 2
TAPE_m, MODULUS_Pa, LAMINATE_Nm = 1.1e-3, 1.0e6, 200.0
BEND_N_m2 = LAMINATE_Nm * WIDTH_m  # a strip without Poisson's ratio bends as a beam
SPRING_N_per_m = MODULUS_Pa * PAD_m**2 / TAPE_m  # of one pad


def strip(rows_m: tuple[float, ...], **more: Any) -> dict[str, Any]:
    """Return changes that make a strip whose top is 10 K hotter than its underside."""
    return bare_strip(rows_m, LAMINATE_Nm) | {"planning.hotter_top": own(10.0)} | more


def bowed(changes: dict[str, Any], *, clamped: bool) -> Array:
    """Return what a bow of curvature 1 puts on the mounts at the likely band: (mount, 6)."""
    bending = bending_of(changes)
    joint = bending.solutions.clamped[bending.solution] > 0.0
    (row,) = np.flatnonzero((joint == clamped) & (bending.band == LIKELY))[:1]
    on: Array = bending.bowed[row]
    return on


def over(number: Any, demands: Demands) -> Array:
    """Return a Number at the high band over (case, mount)."""
    shape = (*demands.solution.shape[:1], 3, len(demands.mounts))
    return np.broadcast_to(np.asarray(number.value, dtype=float), shape)[:, HIGH]


@pytest.mark.by_hand
@pytest.mark.parametrize("span_m", [0.6, 1.2])
def test_a_strip_on_three_rows_pulls_at_the_middle_one(span_m: float) -> None:
    """Hinged: free, its middle stands s2/8 above the ends; R = (s2/8)/(s3/(48 EI) + 3/(2 k)), half of it at each end.

    Flexibility method: a force R at the middle bends the beam back by s3/(48 EI) and at the springs by 3/(2 k).
    """
    row_N_per_m = 2 * SPRING_N_per_m
    expected = span_m**2 / 8 / (span_m**3 / (48 * BEND_N_m2) + 3 / (2 * row_N_per_m))

    pull = bowed(strip((span_m / 2, 0.0, -span_m / 2)), clamped=False)[:, 2].reshape(3, 2).sum(axis=1)

    assert pull == pytest.approx([-expected / 2, expected, -expected / 2], rel=5e-3)


@pytest.mark.by_hand
@pytest.mark.parametrize("span_m", [0.6, 1.2])
def test_a_strip_between_two_clamped_feet_tips_them(span_m: float) -> None:
    """No pull, a moment: M = (s/2)/(1/k_t + s/(2 EI)), the beam's end slope against its own and the pads' give.

    1.5 %: the moment enters over the pad's length, in cells of 0.15 m.
    """
    tilt = 2 * SPRING_N_per_m * PAD_m**2 / 12
    expected = span_m / 2 / (1 / tilt + span_m / (2 * BEND_N_m2))

    on = bowed(strip((span_m / 2, -span_m / 2)), clamped=True)

    assert on[:, 2] == pytest.approx(np.zeros(4), abs=1e-6 * expected)
    assert np.abs(on[:, 4].reshape(2, 2).sum(axis=1)) == pytest.approx([expected] * 2, rel=1.5e-2)
    # both are tipped toward the middle, which rises
    assert np.sign(on[:2, 4]) == pytest.approx(-np.sign(on[2:, 4]))


@pytest.mark.independent
def test_a_bow_balances_itself() -> None:
    """No load from outside: over the mounts its forces and their moments sum to nothing, in every way of joining."""
    bending = bending_of(strip((0.6, 0.1, -0.5)))
    force, moment = bending.bowed[..., :3], bending.bowed[..., 3:]
    about = np.cross(bending.layout.point, force) + moment

    assert np.abs(bending.bowed).max() > 1.0
    assert np.abs(force.sum(axis=1)).max() < 1e-6 * np.abs(force).max()
    assert np.abs(about.sum(axis=1)).max() < 1e-6 * np.abs(force).max()


@pytest.mark.by_hand
def test_the_hot_soak_carries_the_bow_and_no_other_case_does() -> None:
    """kappa = a D/t of the item; clamped peak 6 M/(W L2), hinged peak N/A with no lever, the worse of both."""
    changes = strip((0.6, 0.0, -0.6))
    demands, table = demands_of(changes), table_of(PANEL, changes)
    row = row_of(table, "hot soak", "hot")
    kappa = 24e-6 * 10.0 / 0.035
    hinged = np.maximum(0.0, kappa * bowed(changes, clamped=False)[:, 2] / PAD_m**2)
    on = kappa * bowed(changes, clamped=True)
    tips = 6 * (np.abs(on[:, 3]) + np.abs(on[:, 4])) / PAD_m**3
    clamped = np.maximum(0.0, on[:, 2] / PAD_m**2 + tips)

    assert over(demands.peak_tension, demands)[row] == pytest.approx(np.maximum(hinged, clamped), rel=1e-6)
    assert over(demands.bow, demands)[row] == pytest.approx([kappa] * 6)
    cold = row_of(table, "cold soak", "cold")
    assert np.all(over(demands.peak_tension, demands)[cold] == 0.0)
    straight = demands_of(changes | {"planning.hotter_top": own(1e-9)})
    rest = [n for n in range(len(table.cases)) if n != row]
    assert over(straight.peak_tension, straight)[rest] == pytest.approx(
        over(demands.peak_tension, demands)[rest]
    )


def test_by_kind_alone_no_bond_is_asked_to_hold_a_bow() -> None:
    """A usual item of its kind shows its bow and does not count it, as all of its bending."""
    demands, table = demands_of({}), table_of(PANEL)

    assert demands.flexible is not None
    assert demands.flexible.bow_pull.value is not None
    assert demands.bow is None
    assert np.all(over(demands.peak_tension, demands)[row_of(table, "hot soak", "hot")] == 0.0)


@pytest.mark.independent
def test_a_tape_that_is_stiff_when_cold_does_not_hold_a_bow_stiffly() -> None:
    """An untyped modulus: its stiff end, which counts under the wind, is left out for the bow; pulls stay balanced."""
    typed = demands_of(strip((0.6, 0.0, -0.6)))
    untyped = demands_of(strip((0.6, 0.0, -0.6)) | {"tape.0.tension_modulus_Pa": None})
    row = row_of(table_of(PANEL), "hot soak", "hot")

    assert over(untyped.peak_tension, untyped)[row] == pytest.approx(over(typed.peak_tension, typed)[row])
    gust = row_of(table_of(PANEL), "gust")
    assert over(untyped.peak_tension, untyped)[gust].max() > over(typed.peak_tension, typed)[gust].max()
    assert untyped.flexible is not None
    assert typed.flexible is not None
    assert np.asarray(untyped.flexible.bow_pull.value) == pytest.approx(
        np.asarray(typed.flexible.bow_pull.value)
    )


@pytest.mark.independent
def test_a_stiffness_by_kind_bows_at_its_stiff_end() -> None:
    """An imposed shape pulls with stiffness: a frame by kind pulls as the stiffest one of its kind that is typed."""
    laminate = {"item.0.laminate_bending_stiffness_Nm": 200.0}
    kind = cards().kinds["solar panel"].frame_bending_stiffness
    assert kind is not None

    def pulls(changes: dict[str, Any]) -> float:
        twist = {"item.0.frame_torsion_stiffness_N_m2": 30.0}
        bending = bending_of({"item.0.kind": "solar panel"} | laminate | twist | changes)
        return float(np.abs(bending.bowed[bending.band == HIGH]).max())

    typed = {
        end: pulls({"item.0.frame_bending_stiffness_N_m2": value})
        for end, value in (("low", kind.low), ("high", kind.high))
    }

    assert typed["high"] > 1.5 * typed["low"]
    assert pulls({}) == pytest.approx(typed["high"], rel=1e-9)
