"""Thermal movement: item, foot and roof each with its own change, fixed and slotted feet, the longest foot, fit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sample_jobs import PANEL, job_of
from staydown.assess import assess_item
from staydown.foundation.numbers import definition
from staydown.job.records import Item, Tape
from staydown.loads import heat_laws
from staydown.loads.load_case import SoakTemperatures
from staydown.spread.build_thermal import Thermal, build_thermal
from staydown.storage.read_cards import read_cards

Array = NDArray[np.float64]
CARDS = read_cards()
FOAM = Tape(name="foam", kind="acrylic foam tape", thickness_m=1.1e-3, shear_modulus_Pa=0.35e6)
RIGID = Tape(name="glue", kind="rigid two-part adhesive", thickness_m=0.5e-3, shear_modulus_Pa=1e9)
ITEM_SPAN_K, ROOF_SPAN_K = 120.0, 100.0


def soak(item_K: float = ITEM_SPAN_K, roof_K: float = ROOF_SPAN_K) -> SoakTemperatures:
    """Return soaks in which item and roof change by so much from -10 degC."""
    cold = 263.15
    return SoakTemperatures(
        item_hot=definition(cold + item_K, "K", "sample"),
        item_cold=definition(cold, "K", "sample"),
        roof_hot=definition(cold + roof_K, "K", "sample"),
        roof_cold=definition(cold, "K", "sample"),
    )


def rail(*behind_m: float, pad_m: float = 0.08, **keys: Mapping[int, Any]) -> Item:
    """Return an aluminium item of 1.6 m with mounts in a line; keys are fields of single mounts by their number."""
    mounts = [
        {
            "name": f"at {behind}",
            "behind_m": behind,
            "left_m": 0.0,
            "pad": {"length_m": pad_m, "width_m": 0.05},
            "foot_material": "aluminium",
        }
        | {key: of[number] for key, of in keys.items() if number in of}
        for number, behind in enumerate(behind_m)
    ]
    fields = {"name": "rail", "length_m": 1.6, "width_m": 0.3, "thickness_m": 0.03, "mass_kg": 5.0}
    more = {"gap_m": 0.02, "behind_roof_front_m": 1.0, "front_edge": "open", "material": "aluminium"}
    return Item.model_validate(fields | more | {"tape": "foam", "mount": mounts})


def thermal_of(
    item: Item, surface: str = "painted_steel", tape: Tape = FOAM, soaks: SoakTemperatures | None = None
) -> Thermal:
    """Return the thermal movement of an item that is the first of its job."""
    return build_thermal(item, "item.1", tape, "tape.1", CARDS, soaks or soak(), surface)


def over_mounts(number: Any) -> Array:
    """Return a number's values, one a mount."""
    values: Array = np.asarray(number.value, dtype=float).reshape(-1)
    return values


@pytest.mark.by_hand
def test_item_and_foot_move_against_the_roof() -> None:
    """Span 120 K of aluminium at 24e-6 against 100 K of steel at its low end, 0.6 m out; foot as warm as item."""
    thermal = thermal_of(rail(0.2, 1.4))
    steel, aluminium = CARDS.surfaces["painted_steel"].expansion, CARDS.materials["aluminium"].expansion
    mismatch = aluminium.high * ITEM_SPAN_K - steel.low * ROOF_SPAN_K
    expected = (mismatch * 0.6 + mismatch * 0.04) / 1.1e-3 / 2

    assert over_mounts(thermal.strain) == pytest.approx([expected, expected])
    assert over_mounts(thermal.distance) == pytest.approx([0.6, 0.6])
    assert np.all(over_mounts(thermal.least) < over_mounts(thermal.strain))


@pytest.mark.by_hand
def test_a_long_rail_on_plastic() -> None:
    """1.6 m of aluminium (23e-6) on ABS (85e-6), 52 K: its end moves 2.58 mm, 226 % of a tape of 45 mil."""
    mismatch = heat_laws.mismatch_strain(23e-6, 52.0, 85e-6, 52.0)
    strain = heat_laws.thermal_shear_strain(mismatch, heat_laws.half_length(1.6), 1.143e-3)

    assert 1e3 * float(mismatch) * 0.8 == pytest.approx(2.58, rel=2e-3)
    assert strain == pytest.approx(2.26, rel=2e-3)


def test_parts_that_move_alike_leave_the_tape_alone() -> None:
    """Steel on steel with one change of temperature: only the width of the two bands is left."""
    item = rail(0.2, 1.4, foot_material={0: "steel", 1: "steel"}).model_copy(update={"material": "steel"})
    alike = thermal_of(item, soaks=soak(100.0, 100.0))
    apart = thermal_of(item, soaks=soak(120.0, 100.0))

    assert np.all(over_mounts(alike.least) == 0.0)
    assert np.all(over_mounts(alike.strain) < over_mounts(apart.strain))


@pytest.mark.by_hand
def test_a_slotted_foot_is_strained_by_itself_alone_and_holds_no_centre() -> None:
    """One fixed end, one slotted: the centre moves to the fixed pad; each keeps only its own foot's strain."""
    thermal = thermal_of(rail(0.2, 1.4, slotted={1: True}))
    steel, aluminium = CARDS.surfaces["painted_steel"].expansion, CARDS.materials["aluminium"].expansion
    foot = (aluminium.high * ITEM_SPAN_K - steel.low * ROOF_SPAN_K) * 0.04 / 1.1e-3 / 2

    assert over_mounts(thermal.distance) == pytest.approx([0.0, 1.2])
    assert over_mounts(thermal.strain) == pytest.approx([foot, foot])


@pytest.mark.by_hand
@pytest.mark.parametrize("slotted", [{}, {1: True}])
def test_the_longest_foot_just_keeps_the_limit(slotted: Mapping[int, bool]) -> None:
    """A foot made as long as the answer says is strained by the planning limit, 0.5, no more and no less."""
    first = thermal_of(rail(0.6, 1.0, slotted=slotted))
    longest = over_mounts(first.longest_foot)[1]
    again = thermal_of(rail(0.6, 1.0, pad_m=float(longest), slotted=slotted))

    assert longest > 0.08
    assert over_mounts(again.strain)[1] == pytest.approx(0.5)


def test_no_foot_is_short_enough_far_out_on_plastic() -> None:
    """On ABS the ends of a rail of 1.6 m move too far for any foot: 0."""
    assert np.all(over_mounts(thermal_of(rail(0.05, 1.55), surface="abs").longest_foot) == 0.0)


@pytest.mark.by_hand
def test_a_rigid_adhesive_keeps_its_stress() -> None:
    """G times the strain; a tape that gives has none, its strain is limited instead."""
    rigid, foam = thermal_of(rail(0.2, 1.4), tape=RIGID), thermal_of(rail(0.2, 1.4))

    assert rigid.rigid
    assert over_mounts(rigid.stress) == pytest.approx(1e9 * over_mounts(rigid.strain))
    assert not foam.rigid
    assert np.all(over_mounts(foam.stress) == 0.0)


@pytest.mark.by_hand
def test_a_gap_pressed_shut_pulls_for_good() -> None:
    """0.11 mm under a tape of 1.1 mm: strain 0.1, over the 0.05 that may be; E times that in tension; a warning."""
    tape = FOAM.model_copy(update={"tension_modulus_Pa": 1e6})
    thermal = thermal_of(rail(0.2, 1.4, fit_gap_m={0: 0.11e-3, 1: 0.04e-3}), tape=tape)
    (finding,) = thermal.findings

    assert over_mounts(thermal.fit) == pytest.approx([0.1, 0.04 / 1.1])
    assert over_mounts(thermal.fit_stress) == pytest.approx([1e5, 1e6 * 0.04 / 1.1])
    assert finding.key == "item.1.mount.1.fit_gap"
    assert finding.grade == "warning"


def use_of(changes: Mapping[str, Any]) -> tuple[Array, Array]:
    """Return use and level of evidence in the hot soak, one a mount, of the sample panel without coupons."""
    job = job_of(PANEL, changes)
    mounted = assess_item(job, job.item[0], "item.1", CARDS, ()).mounted
    assert mounted is not None
    row = next(n for n, case in enumerate(mounted.table.cases) if case.name == "hot soak")
    return mounted.checks.use_at_high()[row], mounted.checks.evidence[row, 2]


@pytest.mark.by_hand
def test_the_soak_is_judged_without_coupons_and_by_the_larger_of_movement_and_fit() -> None:
    """A gap of 0.22 mm under 1.1 mm is four times what may be: 400 % at that mount, the rest as before."""
    plain, level = use_of({})
    pressed, _ = use_of({"item.0.mount.2.fit_gap_m": 0.22e-3})

    assert np.all(level == 2)
    assert pressed[2] == pytest.approx(4.0)
    assert np.all(np.delete(pressed, 2) == np.delete(plain, 2))


def test_a_rigid_adhesive_needs_coupons_for_its_thermal_stress() -> None:
    """The same soak with a rigid adhesive and no coupon: nothing is proven."""
    rigid = {"tape.0.kind": "rigid two-part adhesive", "tape.0.shear_modulus_Pa": 1e9}
    use, level = use_of(rigid)

    assert np.all(np.isnan(use))
    assert np.all(level == 0)
