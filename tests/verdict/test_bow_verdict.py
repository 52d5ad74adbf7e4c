"""What a bow in the sun does to the answer: use, level of evidence, word, sentences, JSON and trail of the hot soak."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from answers import assessed, first
from known_jobs import known_panel, panel_coupons
from sample_jobs import cards, hangs, own, pulls, row_of
from staydown.advice.plan_tests import plan_tests
from staydown.assess import Assessment, Facts, Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.numbers import Number
from staydown.job.written import Written
from staydown.outputs.amounts import amount, percent
from staydown.outputs.answer_json import answer_json
from staydown.outputs.answer_text import answer_text
from staydown.outputs.demand_causes import demand_falls
from staydown.outputs.most_used import pick
from staydown.outputs.trail import find_trail, trail_json, trail_text
from staydown.outputs.waterfall import BOW_HELD
from staydown.verdict.use_laws import use_in_heat

Array = NDArray[np.float64]
HIGH = 2
NONE, INFERRED, COVERED = 0, 1, 2
OWN = {
    "item.0.laminate_bending_stiffness_Nm": 200.0,
    "item.0.frame_bending_stiffness_N_m2": 1400.0,
    "item.0.frame_torsion_stiffness_N_m2": 70.0,
}


def panel(hotter_top_K: float, coupons: Sequence[Coupon] | None = None, **changes: Any) -> Assessment:
    """Return the known panel, its stiffness typed, its top hotter by so much; with all its coupons or others."""
    planned = {"planning.hotter_top": own(hotter_top_K)}
    return assessed(known_panel(), OWN | planned | changes, panel_coupons() if coupons is None else coupons)


def soak(mounted: Mounted, number: Number | None) -> Array:
    """Return a number in the hot soak at the high band, one a mount."""
    assert number is not None
    row = row_of(mounted.table, "hot soak", "hot")
    return np.broadcast_to(np.asarray(number.value, dtype=float), mounted.checks.evidence.shape)[row, HIGH]


def level(mounted: Mounted) -> Array:
    """Return the level of evidence in the hot soak, one a mount."""
    codes: Array = mounted.checks.evidence[row_of(mounted.table, "hot soak", "hot"), HIGH]
    return codes


@pytest.mark.by_hand
def test_the_larger_of_strain_and_bow_is_the_use_of_the_hot_soak() -> None:
    """Peak by the bow over what is proven for 12 h; strain over its limit beside it; the cold soak is strain alone."""
    for hotter_K, decides in ((0.1, "strain"), (60.0, "bow")):
        mounted = first(panel(hotter_K))
        by_bow = soak(mounted, mounted.demands.peak_tension) / soak(mounted, mounted.checks.tension_proven)
        by_strain = soak(mounted, mounted.thermal.strain) / 0.5

        assert soak(mounted, mounted.checks.bond_use) == pytest.approx(by_bow)
        assert soak(mounted, mounted.checks.use) == pytest.approx(np.maximum(by_bow, by_strain))
        assert bool((by_bow > by_strain).all()) == (decides == "bow")
        cold = row_of(mounted.table, "cold soak", "cold")
        assert mounted.checks.use_at_high()[cold] == pytest.approx(by_strain)


@pytest.mark.by_hand
def test_the_bow_goes_with_what_is_proven_for_the_soaks_own_hours_and_heat() -> None:
    """12 h at the parked temperature: the bound is that of this exposure, and twice the bow is twice the use."""
    one, two = first(panel(10.0)), first(panel(20.0))
    row = row_of(one.table, "hot soak", "hot")
    answer = one.capacity["tension"].answer(row, 0)

    assert one.capacity["tension"].pairs[row][0] == (12 * 3600.0, one.table.cases[row].exposure.temperature_K)
    assert soak(one, one.checks.tension_proven)[0] == float(answer.proven.value)
    assert soak(two, two.checks.bond_use) == pytest.approx(2 * soak(one, one.checks.bond_use))


def test_a_bow_wants_evidence_and_a_strain_does_not() -> None:
    """No coupon: not known. Coupons 20 K too cool: inferred. Hot hangs of hours: covered. By kind: nothing asked."""
    cool = [
        coupon
        for mode in ("tension", "shear")
        for coupon in (
            *pulls([1.2e6, 1.22e6, 1.18e6, 1.25e6, 1.15e6], 340.0, "gelcoat", mode),  # type: ignore[arg-type]
            *hangs([30 * 3600.0] * 5, 0.3e6, 340.0, "gelcoat", mode),  # type: ignore[arg-type]
        )
    ]
    without, inferred, covered = (first(panel(10.0, coupons)) for coupons in ([], cool, None))
    by_kind = first(assessed(known_panel(), {}, []))

    assert np.all(np.isnan(soak(without, without.checks.use)))
    assert np.all(level(without) == NONE)
    assert np.all(level(inferred) == INFERRED)
    assert np.all(level(covered) == COVERED)
    assert np.all(level(by_kind) == COVERED)
    assert np.all(np.isfinite(soak(by_kind, by_kind.checks.use)))


def test_a_bow_over_what_is_proven_is_no_go() -> None:
    """An item that holds otherwise is no longer proven when its bow pulls too hard, and the reason says what pulls."""
    mild, hot, hottest = (panel(hotter_K).items[0].verdict for hotter_K in (10.0, 60.0, 150.0))

    assert mild.word == "GO WITH CONDITIONS"
    for verdict, word in ((hot, "NOT PROVEN"), (hottest, "NO")):
        assert verdict.word == word
        assert "in hot soak needs" in verdict.because[0]
        assert "hold down the bow" in verdict.because[0]


def test_a_strain_over_its_limit_decides_where_nothing_is_proven_of_the_bond() -> None:
    """Taking every coupon away does not turn a NO for movement into less: the strain still stands over its limit."""
    long_foot = {"item.0.mount.0.pad": {"length_m": 0.9, "width_m": 0.05}, "item.0.mount.0.behind_m": 0.5}
    plastic = {"vehicle.surface": "abs", "tape.0.thickness_m": 0.4e-3}
    told = panel(10.0, [], **long_foot, **plastic)
    mounted = first(told)

    assert mounted.checks.moved[row_of(mounted.table, "hot soak", "hot"), 0]
    assert told.items[0].verdict.word == "NO"
    assert "heat moves the pad further" in " ".join(told.items[0].verdict.because)
    assert float(use_in_heat(1.4, np.nan)) == 1.4


def test_what_the_soak_needs_is_among_the_tests_to_make() -> None:
    """Hot hangs of one hour cover all that lasts up to ten: hangs for the soak of twelve are the next thing to do."""
    short = [coupon for coupon in panel_coupons() if coupon.result == "broke" or coupon.mode == "shear"]
    coupons = [*short, *hangs([3600.0] * 6, 0.45e6, 356.15, "gelcoat")]
    told = panel(20.0, coupons, **{"climate.snow_Pa": None})
    facts = Facts(cards=cards(), coupons=tuple(coupons))
    (plan,) = plan_tests(told, facts, np.random.default_rng(1))
    (text,) = [text for text in told.items[0].verdict.find_out if "hang tests in straight tension" in text]

    assert "12 h or longer" in text
    assert text.endswith("for hot soak")
    aimed = {case for step in plan.steps for case in step.chosen.cases}
    assert aimed == {row_of(first(told).table, "hot soak", "hot")}


def test_a_chain_link_that_was_pulled_with_the_bond_is_used_by_the_bow_too() -> None:
    """The bond's links are used as much as the bond in its worst case, the hot soak among them."""
    mounted = first(panel(100.0))
    bonded = {
        link.link.mount: link.use
        for link in mounted.chain
        if link.link.part == "lower bond" and link.use is not None
    }
    worst = np.nanmax(mounted.checks.bond_use_at_high(), axis=0)

    assert bonded == {
        name: pytest.approx(worst[number]) for number, name in enumerate(mounted.demands.mounts)
    }
    assert soak(mounted, mounted.checks.bond_use) == pytest.approx(worst)


@pytest.mark.independent
def test_the_bow_is_the_same_in_text_json_and_trail() -> None:
    """Use of bond and strain in the hot soak, peak at the edge, and the sentence that leads the answer."""
    told = panel(60.0)
    mounted = first(told)
    item = json.loads(json.dumps(answer_json(told, (), (), ()), allow_nan=False))["items"][0]
    (case,) = [c for c in item["cases"] if c["name"] == "hot soak"]
    text = " ".join(answer_text(told, None).split())
    row = row_of(mounted.table, "hot soak", "hot")
    foot = int(mounted.checks.bond_use_at_high()[row].argmax())
    mount = case["mounts"][foot]

    def explained(quantity: str) -> float:
        trail = find_trail(told, f"forward panel/hot soak/hot/{mount['name']}/{quantity}")
        return float(trail_json(trail, Written())["number"]["value"])

    assert explained("use") == mount["use"] == max(mount["bond_use"], mount["strain_use"])
    assert explained("use of the bond") == mount["bond_use"] == mounted.checks.bond_use_at_high()[row, foot]
    assert explained("use of the strain") == mount["strain_use"]
    assert explained("peak tension") == mount["peak_tension_Pa"]
    assert mount["evidence"] == "covered"
    assert item["governing"]["case"] == "hot soak"
    assert "its top hotter than its underside, the item would bow" in text
    assert (
        f"{amount(mount['peak_tension_Pa'], 'Pa', 'metric')} at the pad's edge under {mount['name']}" in text
    )
    assert f"{percent(mount['bond_use'])} of its bond, covered" in text


@pytest.mark.independent
def test_the_fall_of_a_bowed_mount_names_the_bow_and_adds_up() -> None:
    """No load is shared in a soak: the steps are the bow and how it tips the pad, and sum to the peak."""
    told = panel(60.0)
    mounted = first(told)
    row = row_of(mounted.table, "hot soak", "hot")
    for foot in range(4):
        found = pick(mounted, row, foot)
        steps = demand_falls(told, told.items[0], mounted, found)

        assert {step.what for step in steps} <= {BOW_HELD, "lever and tipping", "at the pad's edge"}
        assert sum(step.high_Pa for step in steps[:-1]) == pytest.approx(found.peak_Pa)


@pytest.mark.parametrize("words", ["hotter_top", "free_curvature", "use_in_heat", "bow_one_per_m"])
def test_the_trail_of_the_soak_names_the_bow(words: str) -> None:
    """The use of the hot soak walks down to the temperature between top and underside."""
    trail = find_trail(panel(60.0), "forward panel/hot soak/hot/front left/use")

    assert words in " ".join(trail_text(trail, Written()).split())
