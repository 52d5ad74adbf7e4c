"""Screws: the weaker of section and thread, too little thread is unknown, sheet under a screw, tape beside a screw."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from answers import assessed, first, laws_of
from known_jobs import known_panel, panel_coupons
from sample_jobs import PANEL, cards, job_of
from staydown.assess import Assessment
from staydown.foundation.numbers import Number
from staydown.outputs.answer_json import answer_json
from staydown.spread import share_laws
from staydown.storage.read_job import read_job
from staydown.verdict.fastener import fastener_strength, screw_in_sheet

M6 = {"text": "M6 A2-70", "size": "M6", "strength_class": "A2-70"}
M5 = {"text": "M5 A2-70", "size": "M5", "strength_class": "A2-70"}


def value(number: Number | None) -> float:
    """Return the value of a number that is known."""
    assert number is not None
    return float(np.asarray(number.value))


def strength(**mount: Any) -> tuple[Number | None, str]:
    """Return what the first mount's fastener carries and by what it is known."""
    job = job_of(PANEL, {f"item.0.mount.0.{key}": one for key, one in mount.items()})
    return fastener_strength(job.item[0].mount[0], "item.1.mount.1", cards())


def with_screw(sheet_m: float | None, **changes: Any) -> Assessment:
    """Return the panel with everything known and a screw beside the tape of its first mount."""
    screw = {"item.0.mount.0.also_screw": M5, "item.0.mount.0.sheet_thickness_m": sheet_m}
    return assessed(known_panel(), screw | changes, panel_coupons())


# -- the fastener of the chain


@pytest.mark.by_hand
def test_a_screw_alone_is_its_section() -> None:
    """M6 A2-70: 700 MPa x 20.1 mm2 = 14 070 N, as long as nothing is said of its thread."""
    screw, known_by = strength(fastener=M6)

    assert value(screw) == pytest.approx(14070.0)
    assert known_by == "M6 A2-70"


@pytest.mark.by_hand
def test_thread_in_aluminium_is_the_weaker() -> None:
    """8 mm in a foot of at least 160 MPa: 0.6 x 160 MPa x 0.875 pi 6 mm x (8 - 0.8) mm = 11.4 kN, below 14.1."""
    thread, known_by = strength(fastener=M6, engagement_m=8e-3, foot_material="aluminium")

    assert value(thread) == pytest.approx(0.6 * 160e6 * 0.875 * np.pi * 6e-3 * 7.2e-3, rel=1e-9)
    assert value(thread) < 14070.0
    assert known_by == "M6 A2-70, 8 mm of thread in aluminium alloy"


@pytest.mark.by_hand
def test_deep_thread_in_steel_leaves_the_screw_the_weaker() -> None:
    """Twice the diameter in steel of 270 MPa holds more than the screw's own section."""
    screw, _ = strength(fastener=M6, engagement_m=12e-3, foot_material="steel")

    assert value(screw) == pytest.approx(14070.0)


def test_less_thread_than_a_diameter_is_not_known() -> None:
    """3 mm of thread under an M6 is no known link: NOT PROVEN, and the answer says why."""
    none, known_by = strength(fastener=M6, engagement_m=3e-3)
    mounts = {
        f"item.0.mount.{n}.{key}": one
        for n in range(4)
        for key, one in (("fastener", M6), ("engagement_m", 3e-3))
    }
    links = [
        {"part": part, "strength_N": 6000.0, "source": "pulled two on the bench"}
        for part in ("item frame", "bracket")
    ]
    assessment = assessed(known_panel(), mounts | {"item.0.link": links}, panel_coupons())

    assert none is None
    assert "less than its diameter" in known_by
    assert assessment.word == "NOT PROVEN"
    assert any(
        why.startswith(
            "the fastener is unknown at every mount: M6 A2-70 with 3 mm of thread in aluminium alloy"
        )
        for why in assessment.items[0].verdict.because
    )


@pytest.mark.by_hand
def test_typed_and_unknown_fasteners() -> None:
    """A typed strength is taken as it is; no fastener is unknown."""
    typed, _ = strength(fastener={"text": "1.8 kN", "strength_N": 1800.0})

    assert value(typed) == 1800.0
    assert strength(fastener=None) == (None, "unknown")


@pytest.mark.by_hand
def test_a_screw_in_thin_sheet_pulls_out() -> None:
    """M5 in 0.7 mm of steel of 270 MPa: 0.45 x 5 x 0.7 x 270/1.25 = 340 N of the 9 940 N that the screw has."""
    job = job_of(PANEL, {"item.0.mount.0.also_screw": M5, "item.0.mount.0.sheet_thickness_m": 0.7e-3})
    sheet = screw_in_sheet(job.item[0].mount[0], "item.1.mount.1", "steel", cards())

    assert value(sheet) == pytest.approx(340.2, abs=0.05)


# -- tape and screw side by side


@pytest.mark.by_hand
@given(first_N=st.floats(10.0, 1e4), second_N=st.floats(10.0, 1e4), share=st.floats(0.01, 0.99))
def test_strengths_never_add_up_to_more(first_N: float, second_N: float, share: float) -> None:
    """Side by side both carry at most the sum of their strengths, reached only where shares are as strengths."""
    together = share_laws.strength_side_by_side(first_N, second_N, share)
    best = share_laws.strength_side_by_side(first_N, second_N, first_N / (first_N + second_N))

    assert together <= (first_N + second_N) * (1 + 1e-12)
    assert best == pytest.approx(first_N + second_N, rel=1e-9)


@pytest.mark.by_hand
def test_shares_follow_the_springs() -> None:
    """M5 through 5 mm foot and 3 mm tape into 0.7 mm laminate, beside 90 x 80 mm of foam: shares by hand.

    Screw 200 GPa x 14.2 mm2/8 mm; sheet 8 sqrt(k D), k = 1 MPa/3 mm, D of 8 GPa laminate; tape E A/t = 2.4 kN/mm.
    """
    shared = first(with_screw(0.7e-3, **{"item.0.mount.0.foot_thickness_m": 5e-3})).shared[0]
    screw = 200e9 * 14.2e-6 / 8e-3
    bending = 8e9 * 0.7e-3**3 / (12 * (1 - 0.3**2))
    path = 1 / (1 / screw + 1 / (8 * np.sqrt(1e6 / 3e-3 * bending)))
    tape = 1e6 * 0.09 * 0.08 / 3e-3

    assert value(shared.share) == pytest.approx(path / (path + tape), rel=1e-9)


def test_a_thick_skin_gives_the_screw_the_load() -> None:
    """The thicker the sheet, the more the screw takes of the pull."""
    shares = [value(first(with_screw(sheet)).shared[0].share) for sheet in (0.7e-3, 2e-3, 6e-3)]

    assert shares == sorted(shares)
    assert shares[0] < 0.1 < shares[-1]


def test_numbers_and_words_of_tape_and_screw() -> None:
    """The answer names the share, each strength and what they hold together, in words, JSON and trail."""
    assessment = with_screw(1.5e-3)
    shared = first(assessment).shared[0]
    said = next(why for why in assessment.items[0].verdict.because if "strengths do not add" in why)
    told = answer_json(assessment, [], [], [])["items"][0]["shared_pulls"][0]

    assert value(shared.together) <= min(
        value(shared.screw) / value(shared.share), value(shared.tape) / (1 - value(shared.share))
    ) * (1 + 1e-12)
    assert value(shared.together) < value(shared.screw) + value(shared.tape)
    assert f"the screw takes {100 * value(shared.share):.0f} %" in said
    assert told["screw_share"] == value(shared.share)
    assert told["counts"] is False
    assert {
        "spread.share_laws.share_by_stiffness",
        "spread.share_laws.sheet_spring",
        "spread.share_laws.strength_side_by_side",
        "strength.screw_laws.sheet_pull_out_force",
        "verdict.use_laws.force_at_full_use",
    } <= laws_of(first(assessment))["shared"]


def test_a_screw_beside_the_tape_changes_no_use() -> None:
    """The bond is judged as if the screw were not there."""
    plain, screwed = assessed(known_panel(), {}, panel_coupons()), with_screw(1.5e-3)

    assert np.array_equal(
        first(plain).checks.use_at_high(), first(screwed).checks.use_at_high(), equal_nan=True
    )
    assert plain.word == screwed.word


def test_without_the_sheet_nothing_is_known() -> None:
    """A screw into a sheet of unknown thickness counts for nothing, and that is said."""
    assessment = with_screw(None)
    shared = first(assessment).shared[0]

    assert (shared.share, shared.screw, shared.together) == (None, None, None)
    assert any(
        "not known without the sheet's thickness" in why for why in assessment.items[0].verdict.because
    )


def test_the_keys_are_read() -> None:
    """A job file may say how much thread holds, which screw goes beside the tape, and how thick the sheet is."""
    reading = read_job(Path(__file__).parents[1] / "data" / "full_job.toml", cards())
    assert reading.job is not None
    mounts = [mount for item in reading.job.item for mount in item.mount]
    screws = [mount.also_screw.size for mount in mounts if mount.also_screw is not None]

    assert any(mount.engagement_m for mount in mounts)
    assert any(mount.sheet_thickness_m for mount in mounts)
    assert screws
    assert set(screws) <= set(cards().screw_sizes)
