"""A bending item through the whole spread: what it changes, what it says, when it is counted."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sample_jobs import PANEL, cards, changed, own, row_of, table_of
from staydown.assess import with_overrides
from staydown.foundation.walk import givens
from staydown.job.records import Job
from staydown.library.cards import Cards
from staydown.spread.build_demands import build_demands
from staydown.spread.demands import Demands, FlexibleAnswer

Array = NDArray[np.float64]
HIGH = 2
STIFF = {
    "item.0.laminate_bending_stiffness_Nm": 1e8,
    "item.0.frame_bending_stiffness_N_m2": 1e9,
    "item.0.frame_torsion_stiffness_N_m2": 1e9,
}
USUAL = {
    "item.0.laminate_bending_stiffness_Nm": 200.0,
    "item.0.frame_bending_stiffness_N_m2": 1400.0,
    "item.0.frame_torsion_stiffness_N_m2": 70.0,
}
SOFT = {"item.0.kind": None, "item.0.laminate_bending_stiffness_Nm": 40.0}


def mount(name: str, behind_m: float, left_m: float, **more: Any) -> dict[str, Any]:
    """Return a mount's table."""
    pad = {"length_m": 0.08, "width_m": 0.05}
    return {"name": name, "behind_m": behind_m, "left_m": left_m, "pad": pad, "lever_m": 0.0} | more


SIX = [
    mount(f"{row} {side}", behind, left)
    for row, behind in (("front", 0.12), ("middle", 0.74), ("rear", 1.36))
    for side, left in (("left", 0.31), ("right", -0.31))
]


def demands(changes: dict[str, Any]) -> Demands:
    """Return what the mounts of the sample panel carry."""
    job = Job.model_validate(changed(PANEL, changes))
    with_own: Cards = with_overrides(cards(), job)
    table = table_of(PANEL, changes)
    return build_demands(job.item[0], "item.1", job.tape[0], "tape.1", with_own, table)


def answer(changes: dict[str, Any]) -> FlexibleAnswer:
    """Return what bending changes."""
    flexible = demands(changes).flexible
    assert flexible is not None
    return flexible


def asks(changes: dict[str, Any]) -> list[str]:
    """Return the rules of all findings on the spread."""
    return [finding.rule for finding in demands(changes).findings]


def array(number: Any) -> Array:
    """Return a Number's array."""
    return np.asarray(number.value, dtype=float)


@pytest.mark.independent
def test_a_stiff_item_of_ones_own_changes_nothing() -> None:
    """The rigid limit: with a typed stiffness far beyond any item's all demands are those of the rigid item.

    But for its bow, which is set to nothing here: the stiffer an item, the harder it is to hold straight.
    """
    rigid = demands({"item.0.kind": None})
    stiff = demands(STIFF | {"planning.hotter_top": own(1e-9)})

    assert rigid.flexible is None
    assert stiff.flexible is not None
    assert array(stiff.flexible.change)[row_of(table_of(PANEL), "gust"), HIGH, 0] == pytest.approx(
        0.0, abs=1e-4
    )
    assert array(stiff.peak_tension) == pytest.approx(
        array(rigid.peak_tension), abs=1e-4 * array(rigid.peak_tension).max()
    )
    assert stiff.residual < 1e-6


@pytest.mark.independent
def test_bending_counts_where_the_stiffness_is_the_items_own() -> None:
    """Typed, its solutions join and no peak falls; by kind alone it is shown beside the rigid demands."""
    rigid, by_kind, typed = demands({"item.0.kind": None}), demands({}), demands(USUAL)

    assert by_kind.flexible is not None
    assert not by_kind.flexible.counted
    assert by_kind.solutions == rigid.solutions
    assert array(by_kind.peak_tension) == pytest.approx(array(rigid.peak_tension))
    assert typed.flexible is not None
    assert typed.flexible.counted
    assert "bending item, clamped" in typed.solutions
    assert typed.solutions[: len(rigid.solutions)] == rigid.solutions
    assert np.all(array(typed.peak_tension) >= array(rigid.peak_tension) * (1 - 1e-9))
    assert array(typed.peak_tension).max() > 1.02 * array(rigid.peak_tension).max()


@pytest.mark.independent
def test_four_corners_share_by_statics_whatever_bends() -> None:
    """Hinged at four points alike on both sides, pulls follow from balance: bending cannot move them in a gust."""
    changes = USUAL | {"tape.0.tension_modulus_Pa": 1e6}
    row = row_of(table_of(PANEL, changes), "gust")

    change = array(answer(changes).change)[row, HIGH, 0]

    assert change == pytest.approx(0.0, abs=0.01)


@pytest.mark.by_hand
def test_middle_mounts_of_a_soft_item_carry_the_middle() -> None:
    """Three rows under even snow: a stiff item gives each a third, a soft one up to 5/8 to the middle row."""
    row = row_of(table_of(PANEL), "snow")
    rows = {}
    for name, stiffness in (("stiff", STIFF), ("soft", SOFT)):
        pull = array(answer({"item.0.mount": SIX} | stiffness).pull)[row, HIGH]
        rows[name] = pull.reshape(3, 2).sum(axis=1) / pull.sum()

    assert rows["stiff"] == pytest.approx([1 / 3, 1 / 3, 1 / 3], abs=1e-3)
    assert rows["soft"][0] == pytest.approx(rows["soft"][2])
    assert 0.4 < rows["soft"][1] < 0.7


@pytest.mark.independent
def test_a_change_over_ten_percent_is_told() -> None:
    """A soft item on six mounts is warned of with its case; a stiff one is not, nor a small change."""
    told = {
        name: [finding.rule for finding in demands(changes).findings if "bends" in finding.rule]
        for name, changes in (
            ("soft", {"item.0.mount": SIX} | SOFT),
            ("stiff", {"item.0.mount": SIX} | STIFF),
        )
    }

    assert told["stiff"] == []
    assert len(told["soft"]) == 1
    flexible = answer({"item.0.mount": SIX} | SOFT)
    hard = array(flexible.pull)[:, HIGH].max(axis=1)
    changes = array(flexible.change)[hard >= hard.max() / 3, HIGH, 0]
    assert np.nanmax(changes) > 0.10
    assert f"carries {100 * np.nanmax(changes):.0f} % more" in told["soft"][0]


@pytest.mark.independent
def test_snow_on_a_soft_item_meets_the_roof() -> None:
    """A soft pane over a low gap touches the roof in snow, and says by how much it comes down; a stiff one does not."""
    low = {"item.0.gap_m": 0.01, "item.0.mount": [one | {"connection_height_m": 0.01} for one in SIX]}
    soft, stiff = answer(low | SOFT), answer(low | STIFF)
    row = row_of(table_of(PANEL, low), "snow")

    assert soft.gap_closed is not None
    assert array(soft.gap_closed)[row, HIGH, 0] > 1.0
    assert array(soft.sag)[row, HIGH, 0] == pytest.approx(0.01 * array(soft.gap_closed)[row, HIGH, 0])
    assert array(soft.lift)[row, HIGH, soft.places.index("middle")] < 0.0
    assert any("touches the roof" in finding.rule for finding in soft.findings)
    assert not any("touches the roof" in finding.rule for finding in stiff.findings)


def test_without_a_gap_nothing_closes() -> None:
    """An item glued flat has no gap to close: the answer says so with None."""
    assert answer(USUAL | {"item.0.gap_m": 0.0}).gap_closed is None


@pytest.mark.independent
def test_the_middle_lifts_most_in_a_front_wind() -> None:
    """Left and right move alike in a wind from the front, the middle of the pane more than that of a side."""
    flexible = answer(USUAL)
    lift = dict(
        zip(flexible.places, array(flexible.lift)[row_of(table_of(PANEL), "gust"), HIGH], strict=True)
    )

    assert lift["front left corner"] == pytest.approx(lift["front right corner"], rel=1e-6)
    assert lift["middle"] > lift["left middle"] > 0.0


def test_far_from_usual_is_asked_about() -> None:
    """A frame a tenth as stiff as any of its kind is asked about, with the usual band; a usual one is not."""
    asked = asks(USUAL | {"item.0.frame_bending_stiffness_N_m2": 60.0})

    assert any("softer than a solar panel is likely to be" in rule for rule in asked)
    assert not any("likely to be" in rule for rule in asks(USUAL))


@pytest.mark.parametrize(
    ("key", "value", "word"),
    [
        ("laminate_bending_stiffness_Nm", 5.0, "softer than a solar panel"),
        ("laminate_bending_stiffness_Nm", 90e3, "stiffer than a solar panel"),
        ("frame_bending_stiffness_N_m2", 60.0, "softer than a solar panel"),
        ("frame_bending_stiffness_N_m2", 15e3, "stiffer than a solar panel"),
        ("frame_torsion_stiffness_N_m2", 0.9, "softer in twist than a profile"),
        ("frame_torsion_stiffness_N_m2", 900.0, "stiffer in twist than a profile"),
    ],
)
def test_each_typed_stiffness_out_of_the_usual_is_asked_about(key: str, value: float, word: str) -> None:
    """Laminate and frame against the band of the kind, twist against the bending of the same profile: one question."""
    changes = {"item.0.frame_bending_stiffness_N_m2": 1400.0} | {f"item.0.{key}": value}
    rules = [rule for rule in asks(changes) if "likely to be" in rule]

    assert len(rules) == 1
    assert word in rules[0]


def test_a_stiffness_that_counts_for_nothing_is_told() -> None:
    """A frame whose laminate nobody knows stays rigid, a twist without a frame too: both are said, not dropped."""
    frame = asks({"item.0.kind": None, "item.0.frame_bending_stiffness_N_m2": 1400.0})
    twist = asks(SOFT | {"item.0.frame_torsion_stiffness_N_m2": 70.0})

    assert any("counts for nothing without laminate_bending_stiffness" in rule for rule in frame)
    assert any("counts for nothing without frame_bending_stiffness" in rule for rule in twist)
    assert not any("counts for nothing" in rule for rule in asks(USUAL))


def test_what_nobody_knows_stays_rigid() -> None:
    """A kind without a usual stiffness, and none typed, is a rigid item; a frame alone bends no pane."""
    assert demands({"item.0.kind": "antenna dome"}).flexible is None
    assert demands({"item.0.kind": None, "item.0.frame_bending_stiffness_N_m2": 1400.0}).flexible is None


def test_the_stiffness_stands_in_the_trail() -> None:
    """What the reaction was made of names the typed stiffness and the planning value of the laminate."""
    places = {number.source.place for number in givens(demands(USUAL).force[2])}

    assert {"item.1.laminate_bending_stiffness", "item.1.frame_bending_stiffness"} <= places
    assert "laminate_poisson" in {place.removeprefix("planning.") for place in places}


@pytest.mark.by_hand
def test_a_bow_pulls_the_middle_and_presses_the_ends() -> None:
    """Hot on top the free item rises a D/t s^2/8 in the middle; held down, pulls and presses sum to nothing."""
    flexible = answer({"item.0.mount": SIX, "planning.hotter_top": own(10.0)} | USUAL)
    pull = array(flexible.bow_pull)[0, 1].reshape(3, 2)

    assert array(flexible.bow)[0, 1, 0] == pytest.approx(22e-6 * 10.0 / 0.035 * 1.48**2 / 8)
    assert np.all(pull[1] > 0)
    assert np.all(pull[[0, 2]] < 0.5 * pull[1])


@pytest.mark.by_hand
def test_feet_on_skin_leave_the_load_to_those_on_ribs() -> None:
    """Six feet under even snow, the middle pair on skin: shares go as springs, 1/k = 1/k_pad + 1/k_skin there."""
    under = ["rib", "rib", "skin", "skin", "rib", "rib"]
    mounts = [one | {"under": what} for one, what in zip(SIX, under, strict=True)]
    changes = {"item.0.mount": mounts, "item.0.kind": None, "planning.skin_stiffness": own(2e5)}
    on_rib = 1e6 * 0.08 * 0.05 / 1.1e-3
    on_skin = 1 / (1 / on_rib + 1 / 2e5)
    row = row_of(table_of(PANEL, changes), "snow")

    pull = array(demands(changes).force[2])[row, HIGH]

    assert pull[2] / pull[0] == pytest.approx(on_skin / on_rib)
    assert pull[2] / pull.sum() == pytest.approx(on_skin / (4 * on_rib + 2 * on_skin))


@pytest.mark.independent
def test_one_kind_of_ground_under_all_feet_changes_no_share() -> None:
    """All feet on skin, or all on ribs, share a load alike: one factor on all springs changes nothing."""
    all_skin = [one | {"under": "skin"} for one in SIX]
    row = row_of(table_of(PANEL), "snow")
    pulls = [
        array(demands({"item.0.kind": None, "item.0.mount": mounts}).force[2])[row, HIGH]
        for mounts in (SIX, all_skin)
    ]

    assert pulls[0] == pytest.approx(pulls[1])
