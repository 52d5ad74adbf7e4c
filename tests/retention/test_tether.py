"""A tether for an item that has come loose: loads, slack window, independence, and what is said of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from answers import assessed, first, laws_of
from known_jobs import known_panel, panel_coupons
from sample_jobs import PANEL, PUCK, cards, own, puck_coupons
from staydown.foundation.numbers import Number, at
from staydown.retention import tether_laws as laws
from staydown.retention.build_tether import MATERIALS
from staydown.retention.retention import Retention
from staydown.storage.read_job import read_job

MPH_m_per_s = 0.44704
LOADS = st.floats(1.0, 5e3)
STIFF = st.floats(1e3, 5e6)
SLACKS = st.floats(0.0, 0.5)

TETHER: dict[str, Any] = {
    "material": "polyester webbing",
    "stiffness_N_per_m": 30e3,
    "slack_m": 0.03,
    "breaking_strength_N": 12e3,
    "anchor": "bolt through the roof rail",
    "anchor_kind": "mechanical",
    "anchor_strength_N": 9e3,
}


def retention_of(*tethers: dict[str, Any], **changes: Any) -> Retention:
    """Return the second retention of the panel with these tethers."""
    return first(assessed(PANEL, {"item.0.tether": list(tethers)} | changes)).retention


def tether(**changes: Any) -> dict[str, Any]:
    """Return a tether that is enough for the panel, with changes."""
    return TETHER | changes


def read(retention: Retention, number: Number | None) -> float:
    """Return a number of a retention at its worst case."""
    assert number is not None
    return at(number, retention.index)


# -- an item of 688 N of uplift on four feet, one of which has let go


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("stiffness_N_per_m", "slack_m", "snatch_kN"), [(650e3, 0.05, 7.4), (650e3, 0.01, 3.8), (30e3, 0.05, 2.3)]
)
def test_snatch_of_a_loose_panel(stiffness_N_per_m: float, slack_m: float, snatch_kN: float) -> None:
    """F + sqrt(F^2 + 2 k F s): 688 N with 50 mm on wire 7.4 kN, 10 mm 3.8 kN, 50 mm on webbing 2.3 kN.

    85 mph of air, uplift coefficient 1.2, 1200 x 540 mm; neither weight nor drag, as the hand figures have it.
    """
    changes = {
        "planning": {"gust_factor": own(1.0)},
        "climate": {
            "coldest_K": 288.15,
            "hottest_K": 288.15,
            "sun_W_per_m2": 800.0,
            "storm_gust_m_per_s": 10.0,
        },
        "travel.top_speed_m_per_s": 65 * MPH_m_per_s,
        "travel.cruise_speed_m_per_s": 65 * MPH_m_per_s,
        "travel.headwind_m_per_s": 20 * MPH_m_per_s,
        "travel.crosswind_m_per_s": 0.0,
        "item.0.length_m": 1.2,
        "item.0.width_m": 0.54,
        "item.0.mass_kg": 1e-6,
        "item.0.drag_coefficient": 0.0,
        "item.0.uplift_coefficient": {"low": 1.2, "likely": 1.2, "high": 1.2, "source": "scenario"},
        "item.0.mount": [
            {
                "name": f"{along} {across}",
                "behind_m": behind,
                "left_m": left,
                "pad": {"length_m": 0.05, "width_m": 0.05},
            }
            for along, behind in (("front", 0.1), ("rear", 1.1))
            for across, left in (("left", 0.22), ("right", -0.22))
        ],
    }
    retention = retention_of(tether(stiffness_N_per_m=stiffness_N_per_m, slack_m=slack_m), **changes)
    snatch = read(retention, retention.tethers[0].snatch)

    assert read(retention, retention.steady) == pytest.approx(688.0, rel=2e-3)
    assert snatch == pytest.approx(snatch_kN * 1e3, abs=50.0)


# -- laws


@pytest.mark.by_hand
@given(steady_N=LOADS, stiffness_N_per_m=STIFF, slack_m=SLACKS, mass_kg=st.floats(0.05, 100.0))
def test_speed_over_slack_then_snatch_is_the_energy_balance(
    steady_N: float, stiffness_N_per_m: float, slack_m: float, mass_kg: float
) -> None:
    """At the peak the work F (s + d) of the load is the energy k d^2/2 of the line; mass drops out."""
    speed = laws.speed_over_slack(steady_N, slack_m, mass_kg)
    snatch = laws.snatch_load(steady_N, stiffness_N_per_m, mass_kg, speed)
    stretch = snatch / stiffness_N_per_m

    assert steady_N * (slack_m + stretch) == pytest.approx(stiffness_N_per_m * stretch**2 / 2, rel=1e-9)
    assert snatch >= 2.0 * steady_N * (1 - 1e-12)


@pytest.mark.independent
def test_snatch_against_the_motion_in_small_steps() -> None:
    """The equation of motion m x'' = F - k max(x - s, 0), stepped through, peaks at the law's load."""
    force_N, stiffness, mass_kg, slack_m = 1350.0, 60e3, 11.2, 0.03
    x = v = peak = 0.0
    step = 1e-6
    while v >= 0.0:
        pull = stiffness * max(x - slack_m, 0.0)
        v += (force_N - pull) / mass_kg * step
        x += v * step
        peak = max(peak, pull)
    law = laws.snatch_load(force_N, stiffness, mass_kg, laws.speed_over_slack(force_N, slack_m, mass_kg))

    assert law == pytest.approx(peak, rel=1e-3)


@pytest.mark.by_hand
@given(steady_N=LOADS, stiffness_N_per_m=STIFF, slack_m=SLACKS)
def test_largest_slack_turns_the_snatch_round(
    steady_N: float, stiffness_N_per_m: float, slack_m: float
) -> None:
    """The largest slack for the snatch of a slack is that slack; below twice the steady load there is none."""
    speed = laws.speed_over_slack(steady_N, slack_m, 10.0)
    snatch = laws.snatch_load(steady_N, stiffness_N_per_m, 10.0, speed)

    assert laws.largest_slack(snatch, steady_N, stiffness_N_per_m) == pytest.approx(
        slack_m, rel=1e-6, abs=1e-9
    )
    assert laws.largest_slack(1.99 * steady_N, steady_N, stiffness_N_per_m) == 0.0


# -- the answer


@pytest.mark.by_hand
def test_the_steady_load_is_the_unfactored_worst_wind() -> None:
    """Gust, cold: uplift 1459.84 less weight 109.83 N, and drag at sheltered speed none here: hypot with 42.79 N.

    Load factor 1.5 and weight factor 0.9 of consequence high have no part in it.
    """
    retention = retention_of()

    assert read(retention, retention.steady) == pytest.approx(np.hypot(1459.84 - 109.834, 42.790), rel=1e-4)
    assert "in gust, cold" in retention.sentences[0]


@pytest.mark.by_hand
def test_what_a_tether_would_have_to_be() -> None:
    """Without a tether the answer says one: line max(5 F, 2 S)/0.8, anchor 2 S, two of them over 1 m."""
    retention = retention_of()
    steady, proposal = read(retention, retention.steady), retention.proposal
    stiffness, slack = read(retention, proposal.stiffness), read(retention, proposal.slack)
    snatch = steady + np.sqrt(steady**2 + 2 * stiffness * steady * slack)

    assert retention.ok is False
    assert retention.wanted == 2
    assert read(retention, proposal.snatch) == pytest.approx(snatch, rel=1e-9)
    assert read(retention, proposal.line_needed) == pytest.approx(max(5 * steady, 2 * snatch) / 0.8, rel=1e-9)
    assert read(retention, proposal.anchor_needed) == pytest.approx(2 * snatch, rel=1e-9)
    assert "it needs two tethers" in retention.sentences[0]


def test_two_tethers_that_do_it() -> None:
    """Two tethers, each enough alone, are a retention; the condition names them and the numbers."""
    retention = retention_of(tether(), tether())
    condition = next(
        text
        for text in assessed(known_panel(), {"item.0.tether": [TETHER, TETHER]}, panel_coupons())
        .items[0]
        .verdict.conditions
        if "second, independent retention" in text
    )

    assert retention.ok is True
    assert "tether 1 (polyester webbing to bolt through the roof rail) is enough" in condition
    assert "tether 2" in condition
    assert "it needs" not in condition


def test_one_of_two_is_not_enough() -> None:
    """An item over 1 m with one good tether lacks the second; one under 1 m does not."""
    short = {f"item.0.mount.{n}.behind_m": 0.1 + 0.3 * (n > 1) for n in range(4)} | {"item.0.length_m": 0.9}

    assert retention_of(tether()).ok is False
    assert "1 of them is there" in retention_of(tether()).sentences[0]
    assert retention_of(tether(), **short).ok is True


@pytest.mark.by_hand
def test_a_wide_item_wants_two_tethers_as_a_long_one_does() -> None:
    """Over a metre on either side: 0.9 x 1.1 m wants two, 0.9 x 0.9 m one; the ends of the line are told."""
    short = {f"item.0.mount.{n}.behind_m": 0.1 + 0.3 * (n > 1) for n in range(4)} | {"item.0.length_m": 0.9}
    wide, small = (retention_of(**short, **{"item.0.width_m": width}) for width in (1.1, 0.9))

    assert (wide.wanted, small.wanted) == (2, 1)
    assert "a side of it is over 1000 mm" in wide.sentences[0]
    assert "its ends counted as keeping 80 %" in wide.sentences[0]
    assert any("its ends counted" in text for text in retention_of(tether(), tether()).sentences)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"anchor_kind": None}, "does not count as independent"),
        ({"slack_m": None}, "its slack is not known"),
        ({"breaking_strength_N": None}, "the strength of its line is not known, it needs"),
        ({"anchor_strength_N": None}, "the strength of its anchor is not known, it needs"),
        ({"slack_m": 0.001}, "it is taut"),
        ({"slack_m": 0.2}, "its slack of 200 mm (7.87 in) is too much: at most"),
        ({"anchor_strength_N": 2e3}, "its anchor holds 2000 N (450 lb), it needs"),
        ({"breaking_strength_N": 4e3}, "its line holds 4000 N (899 lb), it needs"),
        ({"stiffness_N_per_m": 6e6}, "even with the least slack it snatches too hard"),
    ],
)
def test_each_lack_is_said(changes: dict[str, Any], says: str) -> None:
    """What a tether lacks is named with what would be right, and it does not count."""
    retention = retention_of(tether(**changes), tether())
    check = retention.tethers[0]

    assert check.ok is False
    assert retention.ok is False
    assert says in check.sentence


@pytest.mark.parametrize("kind", ["bonded", "membrane"])
def test_an_anchor_on_the_bond_is_no(kind: str) -> None:
    """A tether whose anchor hangs on a bond or membrane makes the answer NO, however strong."""
    assessment = assessed(PUCK, {"item.0.tether": [tether(anchor_kind=kind)]}, puck_coupons())

    assert assessment.word == "NO"
    assert first(assessment).retention.tethers[0].independent is False
    assert any("leaves with what it should catch" in why for why in assessment.items[0].verdict.because)


@pytest.mark.by_hand
def test_the_slack_window() -> None:
    """From heat and play at the mount that moves most, up to S (S - 2 F)/(2 k F) of the weaker of line and anchor."""
    mounted = first(assessed(PANEL, {"item.0.tether": [TETHER, TETHER]}))
    retention = mounted.retention
    check, steady = retention.tethers[0], read(retention, retention.steady)
    allowed = min(12e3 * 0.8 / 2, 9e3 / 2)
    heat = float(np.max(np.asarray(mounted.thermal.strain.value))) * 1.1e-3

    assert float(np.max(np.asarray(retention.least_slack.value))) == pytest.approx(heat + 0.005, rel=1e-9)
    assert read(retention, check.most_slack) == pytest.approx(
        allowed * (allowed - 2 * steady) / (2 * 30e3 * steady), rel=1e-9
    )


@pytest.mark.parametrize(
    ("material", "kind"),
    [
        ("polyester webbing", "webbing"),
        ("Ratchet strap", "webbing"),
        ("7x19 wire rope", "wire_rope"),
        ("steel cable", "wire_rope"),
        ("chain", "chain"),
        ("something", "chain"),
    ],
)
def test_a_stiffness_left_out_is_taken_high(material: str, kind: str) -> None:
    """A stiffness nobody typed is the stiff end for that line; of what is not known, the stiffest line's."""
    retention = retention_of(tether(material=material, stiffness_N_per_m=None))
    mounted = first(
        assessed(
            PANEL,
            {
                "planning": {f"tether_stiffness.{kind}": own(12345.0)},
                "item.0.tether": [tether(material=material, stiffness_N_per_m=None)],
            },
        )
    )

    assert mounted.retention.tethers[0].stiffness.value == 12345.0
    assert read(retention, retention.tethers[0].stiffness) in (60e3, 1500e3, 6000e3)
    assert {name for name, _ in MATERIALS} == {"webbing", "wire_rope", "chain"}


def test_wear_is_said() -> None:
    """Webbing is sleeved at edges, wire and chain are kept off the coating."""
    assert any("sleeve the webbing" in text for text in retention_of(tether()).sentences)
    assert any(
        "wire rope off the roof" in text for text in retention_of(tether(material="wire rope")).sentences
    )
    assert any("chain off the roof" in text for text in retention_of(tether(material="chain")).sentences)


def test_an_item_hangs_on_its_tether_at_the_least() -> None:
    """Where the wind lifts less than the weight, the tether still carries the item that slid off."""
    changes = {"item.0.mass_kg": 400.0}
    retention = retention_of(**changes)

    assert read(retention, retention.steady) == pytest.approx(400.0 * 9.80665, rel=1e-9)


def test_the_answer_goes_through_the_laws() -> None:
    """Steady load, speed, snatch, needs and slack of a whole job lead down to their laws."""
    behind = laws_of(first(assessed(PANEL, {"item.0.tether": [TETHER]})))["retention"]

    assert {
        f"retention.tether_laws.{name}"
        for name in (
            "steady_load",
            "speed_over_slack",
            "snatch_load",
            "line_strength_needed",
            "anchor_strength_needed",
            "snatch_allowed",
            "largest_slack",
            "heat_movement",
            "least_slack",
            "strength_use",
        )
    } <= behind


def test_negative_slack_is_refused(tmp_path: Path) -> None:
    """A job with slack below nothing is no job: the finding names the key and the rule."""
    text = (Path(__file__).parents[1] / "data" / "full_job.toml").read_text(encoding="utf-8")
    (tmp_path / "job.toml").write_text(text.replace('slack = "1 in"', 'slack = "-1 in"'), encoding="utf-8")
    reading = read_job(tmp_path, cards())

    assert reading.job is None
    assert any("tether.1.slack" in found.key and "below 0" in found.rule for found in reading.findings)
