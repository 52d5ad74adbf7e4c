"""Feet that bend, feet on curves and ribs, edges that open: from the job's text to what the pads are pulled by."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from answers import assessed, first
from known_jobs import known_panel, panel_coupons
from sample_jobs import PANEL, changed, job_of, own, row_of
from staydown.foundation.numbers import at
from staydown.job.check_item import check_item
from staydown.spread import foot_laws
from staydown.spread.demands import Demands

HIGH = 2
FEET = range(4)


def on_all(**keys: Any) -> dict[str, Any]:
    """Return changes of all four mounts."""
    return {f"item.0.mount.{n}.{key}": value for n in FEET for key, value in keys.items()}


def demands_of(changes: Mapping[str, Any]) -> Demands:
    """Return what the mounts of the panel carry."""
    return first(assessed(PANEL, changes)).demands


def high(demands: Demands, name: str) -> np.ndarray:
    """Return one of the demands at the high band, (case, mount)."""
    return np.broadcast_to(np.asarray(getattr(demands, name).value, dtype=float), demands.solution.shape)[
        :, HIGH
    ]


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("thickness_mm", "number", "kind"),
    [(1.5, 2.33, "flexible"), (3.0, 1.39, "between"), (5.0, 0.95, "rigid")],
)
def test_three_kinds_of_foot(thickness_mm: float, number: float, kind: str) -> None:
    """Aluminium 40 mm wide on 1.1 mm of 1 MPa: lambda L = 2.33, 1.39 and 0.95, by (k w/4EI)^(1/4) L, E = 70 GPa.

    The answer takes the soft end of aluminium, 68 GPa: 0.7 % more.
    """
    feet = demands_of(
        on_all(pad={"length_m": 0.04, "width_m": 0.04}, foot_thickness_m=thickness_mm * 1e-3)
    ).feet
    found = at(feet.number, (0, HIGH, 0))

    assert found == pytest.approx(number * (70 / 68) ** 0.25, rel=6e-3)
    assert feet.kinds == (kind,) * 4
    assert at(feet.rigid_from, (0, HIGH, 0)) == pytest.approx(
        1e-3 * thickness_mm * found ** (4 / 3), rel=1e-9
    )


def test_a_foot_that_bends_is_judged_by_the_worse() -> None:
    """A rigid foot has no edge stress and no line load that peels; a thin one has both and at least the rigid peak."""
    thick, thin = demands_of(on_all(foot_thickness_m=0.02)), demands_of(on_all(foot_thickness_m=0.003))
    pulled = high(thick, "line_load") > 0.0

    assert not high(thick, "edge_stress").any()
    assert not high(thick, "peel").any()
    assert np.all(high(thin, "peel")[pulled] > 0.0)
    assert np.all(high(thin, "peak_tension") >= high(thick, "peak_tension") * (1 - 1e-9))
    assert np.all(high(thin, "peak_tension") >= high(thin, "edge_stress"))


@pytest.mark.by_hand
def test_edge_stress_of_the_reported_force() -> None:
    """2 lambda (N + lambda (M - N L/2))/W with the reported pull and moment of each foot, neither part below 0."""
    demands = demands_of(on_all(foot_thickness_m=0.002))
    pull = np.asarray(demands.force[2].value)[:, HIGH]
    moments = [np.abs(np.asarray(one.value))[:, HIGH] for one in demands.moment[:2]]
    rate, side, edge = at(demands.feet.rate, (0, HIGH, 0)), 0.05, 0.08  # the lever lies across
    pulled = np.maximum(pull, 0.0)
    more = np.maximum(0.0, moments[0] - pulled * side / 2)
    by_hand = 2 * rate * (pulled + rate * more) / edge + np.minimum(pull, 0.0) / (side * edge)
    by_hand += 6 * moments[1] / (side * edge**2)

    assert high(demands, "edge_stress") == pytest.approx(np.maximum(by_hand, 0.0), rel=1e-9)


def test_a_thickness_that_is_not_known_is_thin_and_shown() -> None:
    """Left out, a foot is 2 mm of aluminium, a planning value; an item glued flat is its own foot."""
    unknown = demands_of(on_all(foot_thickness_m=None)).feet
    flat = demands_of(
        {"item.0.gap_m": 0.0, "item.0.front_edge": "sealed"} | on_all(foot_thickness_m=None)
    ).feet

    assert at(unknown.thickness, (0, HIGH, 0)) == 0.002
    assert set(unknown.kinds) == {"flexible"}
    assert at(flat.thickness, (0, HIGH, 0)) == PANEL["item"][0]["thickness_m"]


def test_a_solid_adhesive_is_stiffer_than_its_modulus() -> None:
    """A paste keeps its volume in a thin layer, a foam does not: of equal modulus the paste bends its foot more."""
    foam = demands_of({}).feet
    paste = demands_of({"tape.0.kind": "elastic paste adhesive"}).feet
    shape = 0.08 * 0.05 / (2 * 1.1e-3 * 0.13)

    assert at(foam.modulus, (0, HIGH, 0)) == 1.0e6
    assert at(paste.modulus, (0, HIGH, 0)) == pytest.approx(
        1 / (1 / (1e6 * (1 + 2 * shape**2)) + 1 / 3e9), rel=1e-9
    )


@pytest.mark.by_hand
def test_ribs_take_away_section() -> None:
    """28 of 75 mm touch: 0.37 of the area and, for a foot that is pried, (75/28)^2 = 7.2 times the edge stress."""
    pad = {"length_m": 0.06, "width_m": 0.075}
    whole = foot_laws.section_left(0.075, 0.0)
    demands = demands_of(on_all(pad=pad, contact={"length_m": 0.06, "width_m": 0.028}, foot_thickness_m=0.02))
    full = demands_of(on_all(pad=pad, foot_thickness_m=0.02))

    assert demands.feet.touching == pytest.approx((0.3733,) * 4, rel=1e-3)
    assert 1 / foot_laws.section_left(0.075, 0.047) == pytest.approx(7.17, rel=1e-3)
    assert whole == 1.0
    row = row_of(first(assessed(PANEL)).table, "gust")
    mean, rib = high(full, "mean_tension")[row, 0], high(demands, "mean_tension")[row, 0]
    assert rib / mean == pytest.approx(75 / 28, rel=1e-2)
    pried = [high(one, "peak_tension")[row, 0] - high(one, "mean_tension")[row, 0] for one in (full, demands)]
    assert pried[1] / pried[0] == pytest.approx(7.17, rel=0.05)


@pytest.mark.by_hand
def test_gap_on_a_curve() -> None:
    """R = 2 m, 100 mm: w^2/(8R) = 0.625 mm, tape at least 1.25 mm; the longer side counts."""
    fit = demands_of(on_all(pad={"length_m": 0.05, "width_m": 0.10}, roof_radius_m=2.0)).feet.fits[0]

    assert fit is not None
    assert fit.gap.value == pytest.approx(0.625e-3, rel=1e-3)
    assert fit.least_tape.value == pytest.approx(1.25e-3, rel=1e-3)


def test_contact_that_cannot_be() -> None:
    """More contact than pad, and none at all, are refused with their place."""
    for contact, rule in (
        ({"length_m": 0.09, "width_m": 0.05}, "more touches than there is of the pad"),
        ({"length_m": 0.0, "width_m": 0.05}, "nothing of the pad touches"),
    ):
        item = job_of(PANEL, {"item.0.mount.0.contact": contact}).item[0]
        remarks = [one for one in check_item(item, "item.1", ()) if one.key == "item.1.mount.1.contact"]

        assert [(one.rule, one.grade) for one in remarks] == [(rule, "error")]


def test_a_foot_thicker_than_its_gap_is_asked_about() -> None:
    """A plate of 50 mm under an item 45 mm above the roof is told, with the gap it does not fit."""
    item = job_of(PANEL, {"item.0.mount.0.foot_thickness_m": 0.050}).item[0]
    remarks = [one for one in check_item(item, "item.1", ()) if one.key == "item.1.mount.1.foot_thickness"]

    assert [one.rule for one in remarks] == ["the foot is thicker than the gap of 45 mm it stands in"]


def test_shear_of_a_foam_is_even_and_of_a_rigid_adhesive_is_not() -> None:
    """Foot and skin as sheets: a foam's ends carry within 1 % of the mean, a rigid adhesive's several times it."""
    foam = demands_of({}).lap
    rigid = demands_of(
        {
            "tape.0.kind": "rigid two-part adhesive",
            "tape.0.thickness_m": 0.3e-3,
            "tape.0.shear_modulus_Pa": None,
            "tape.0.tension_modulus_Pa": None,
        }
    ).lap

    assert np.all(np.asarray(foam.factor.value) < 1.05)
    assert np.all(np.asarray(foam.factor.value) >= 1.0)
    assert np.all(np.asarray(rigid.factor.value)[:, HIGH] > 3.0)


def test_lost_mounts_peel_too() -> None:
    """With feet that bend and no peel coupon nobody knows what a loss does; with rigid feet the coupons say."""
    thick = assessed(known_panel(), on_all(foot_thickness_m=0.03), panel_coupons())
    thin = assessed(known_panel(), on_all(foot_thickness_m=0.003), panel_coupons())

    assert first(thick).redundancy.worst.use is not None
    assert first(thin).redundancy.worst.holds is not True
    assert first(thin).redundancy.whole_cruise_use is None


def test_own_limits_count() -> None:
    """The limit between rigid and flexible is a planning value: raised, the same foot counts as rigid."""
    thin = on_all(foot_thickness_m=0.005)
    limit = {"planning": {"rigid_below": own(5.0), "flexible_above": own(6.0)}}

    assert set(demands_of(thin).feet.kinds) == {"between"}
    assert set(demands_of(thin | limit).feet.kinds) == {"rigid"}
    assert changed(PANEL, limit)["planning"] == limit["planning"]
