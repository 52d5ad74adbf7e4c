"""What bending feet, curves and lever coupons do to a verdict, and how an edge unzips."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from answers import assessed, first
from known_jobs import known_panel, panel_coupons
from sample_jobs import PANEL, hangs, pulls
from staydown.assess import Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.numbers import at
from staydown.spread.build_thermal import Thermal
from staydown.verdict.checks import COVERED, HIGH, NONE
from staydown.verdict.proven_modes import sheared_ends

FEET = range(4)
THIN = {f"item.0.mount.{n}.foot_thickness_m": 0.005 for n in FEET}
RIGID_GLUE = {
    "tape.0.kind": "rigid two-part adhesive",
    "tape.0.thickness_m": 0.3e-3,
    "tape.0.shear_modulus_Pa": None,
    "tape.0.tension_modulus_Pa": None,
}


def peeled(level_N_per_m: float, temperature_K: float, **more: Any) -> list[Coupon]:
    """Return five strips of 25 mm, peeled in ten seconds around one line load."""
    straight = pulls([1.0] * 5, temperature_K, "gelcoat", "tension", **more)
    return [
        replace(one, name=f"peel {one.name}", mode="peel", area_m2=None, width_m=0.025, load_N=0.025 * load)
        for one, load in zip(straight, np.array([0.97, 0.99, 1.0, 1.02, 1.03]) * level_N_per_m, strict=True)
    ]


def peel_coupons(level_N_per_m: float = 60e3) -> list[Coupon]:
    """Return peel evidence for every case of the panel: cold and hot strips, hot hangs."""
    held = [
        replace(
            one,
            name=f"peel {one.name}",
            mode="peel",
            area_m2=None,
            width_m=0.025,
            load_N=0.025 * 0.3 * level_N_per_m,
        )
        for one in hangs([24 * 3600.0] * 6, 1.0, 356.15, "gelcoat")
    ]
    return [*peeled(level_N_per_m, 258.15), *peeled(level_N_per_m, 356.15), *held]


def because(changes: dict[str, Any], coupons: Sequence[Coupon]) -> str:
    """Return the word on the known panel with some changes and what it says."""
    verdict = assessed(known_panel(), changes, coupons).items[0].verdict
    return " | ".join((verdict.word, *verdict.because, *verdict.find_out))


def test_straight_pulls_prove_nothing_for_a_thin_foot() -> None:
    """The same coupons: conditions for rigid feet, NOT PROVEN for thin ones, whose peel test is the next to make."""
    rigid, thin = because({}, panel_coupons()), because(THIN, panel_coupons())

    assert rigid.startswith("GO WITH CONDITIONS")
    assert thin.startswith("NOT PROVEN")
    assert "no coupon was peeled on this surface" in thin
    assert "would not bend" in thin
    verdict = assessed(known_panel(), THIN, panel_coupons()).items[0].verdict
    assert "strips" in verdict.find_out[0]
    assert "peel" in verdict.find_out[0]


def test_peel_coupons_decide_beside_straight_pulls() -> None:
    """With strong strips the edge is judged by both; with weak ones the peel use is the use, over 100 %."""
    strong = first(assessed(known_panel(), THIN, [*panel_coupons(), *peel_coupons()]))
    weak = first(assessed(known_panel(), THIN, [*panel_coupons(), *peel_coupons(8e3)]))
    moving = np.array([case.family != "soak" for case in weak.table.cases])
    peel = np.broadcast_to(np.asarray(weak.checks.peel_use.value, dtype=float), weak.checks.evidence.shape)[
        :, HIGH
    ]

    assert np.all(strong.checks.evidence_of["peel"] == COVERED)
    assert np.nanmax(peel) > 1.0
    assert np.all(weak.checks.use_at_high()[moving] >= peel[moving])
    assert weak.checks.peel_proven.unit == "N/m"


def test_peel_without_evidence_is_none_for_thin_feet_alone() -> None:
    """No strip: nothing of a thin foot is proven where it is pulled; a rigid foot needs none."""
    rigid, thin = (first(assessed(known_panel(), one, panel_coupons())).checks for one in ({}, THIN))

    assert np.all(rigid.evidence_of["peel"] == COVERED)
    assert (thin.evidence_of["peel"] == NONE).any()
    assert np.isnan(thin.use_at_high()).any()


# -- lever coupons


def pried(level_Pa: float, lever_m: float, temperature_K: float) -> list[Coupon]:
    """Return pulls with a lever on 38 mm squares, whose peak is around a level."""
    mean = level_Pa / (1 + 6 * lever_m / 0.038)
    stresses = [mean * part for part in (0.97, 0.99, 1.0, 1.02, 1.03)]
    return pulls(stresses, temperature_K, "gelcoat", "cleavage", lever_m=lever_m, along_m=0.038, foot="real")


def lever_coupons(level_Pa: float, lever_m: float) -> list[Coupon]:
    """Return lever coupons cold and hot."""
    return [*pried(level_Pa, lever_m, 258.15), *pried(level_Pa, lever_m, 356.15)]


def proven(mounted: Mounted, case: str = "gust") -> float:
    """Return what is proven in tension for the first mount in a hot case. [Pa]"""
    rows = [
        n for n, one in enumerate(mounted.table.cases) if (one.name, one.exposure.season) == (case, "hot")
    ]
    return at(mounted.checks.tension_proven, (rows[0], HIGH, 0))


def test_lever_coupons_speak_for_mounts_pried_no_harder() -> None:
    """Weak ones lower what is proven, and pried less than the mount they are no better news than pried as hard."""
    without = proven(first(assessed(known_panel(), {}, panel_coupons())))
    hard = proven(first(assessed(known_panel(), {}, [*panel_coupons(), *lever_coupons(0.4e6, 0.03)])))
    mild = proven(first(assessed(known_panel(), {}, [*panel_coupons(), *lever_coupons(0.4e6, 0.0005)])))

    assert hard < without
    assert mild < without


def test_lever_coupons_alone_prove_tension() -> None:
    """Where nothing was pulled straight, coupons pried as hard as the mount are what is proven."""
    shear = [one for one in panel_coupons() if one.mode == "shear"]
    alone = first(assessed(known_panel(), {}, [*shear, *lever_coupons(1.2e6, 0.03)]))
    nothing = first(assessed(known_panel(), {}, shear))

    assert proven(alone) > 0.0
    assert np.isnan(proven(nothing))


# -- curves


@pytest.mark.parametrize(
    ("radius_m", "word"), [(None, "GO WITH CONDITIONS"), (0.6, "NOT PROVEN"), (0.3, "NO")]
)
def test_a_flat_foot_on_a_curve(radius_m: float | None, word: str) -> None:
    """Gap 90^2/(8 R): 1.69 mm at 0.6 m is over half of a 3 mm tape, 3.4 mm at 0.3 m is more than it."""
    said = because({f"item.0.mount.{n}.roof_radius_m": radius_m for n in FEET}, panel_coupons())

    assert said.split(" | ")[0] == word
    assert (radius_m is None) == ("a tape of at least" not in said)


# -- rigid adhesives


@pytest.mark.by_hand
def test_a_rigid_adhesive_adds_its_thermal_stress_signed() -> None:
    """One end: factor x mean + G gamma of the item + the foot's own, eased by its stretch; the other: less that."""
    mounted = first(assessed(known_panel(), RIGID_GLUE, panel_coupons()))
    thermal: Thermal = mounted.thermal
    loaded, relieved = sheared_ends(mounted.demands, thermal)
    soak = next(n for n, case in enumerate(mounted.table.cases) if case.name == "hot soak")
    index = (soak, HIGH, 0)
    lag = at(mounted.demands.lap.lag, index)
    foot = at(thermal.foot_stress, index) * np.tanh(lag) / lag

    assert thermal.rigid
    assert at(mounted.demands.shear, index) == 0.0
    assert at(loaded, index) == pytest.approx(foot + at(thermal.item_stress, index), rel=1e-9)
    assert at(relieved, index) == pytest.approx(-foot, rel=1e-9)
    assert at(thermal.foot_stress, index) + at(thermal.item_stress, index) == pytest.approx(
        at(thermal.stress, index), rel=1e-9
    )
    gust = (next(n for n, case in enumerate(mounted.table.cases) if case.name == "gust"), HIGH, 0)
    by_load = at(mounted.demands.lap.factor, gust) * at(mounted.demands.shear, gust)
    assert at(mounted.checks.sheared, gust) == pytest.approx(by_load + at(loaded, index), rel=1e-9)


def test_a_foam_is_sheared_by_its_mean() -> None:
    """No peak factor and no thermal stress for a tape that gives."""
    mounted = first(assessed(PANEL))

    assert mounted.checks.sheared is mounted.demands.shear
