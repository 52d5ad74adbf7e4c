"""What each mount carries: the worked example, the worse solution, levers and moduli left out, warnings."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from staydown.foundation.exposure import Exposure
from staydown.foundation.numbers import Chosen, Derived, Given, Number, at, definition
from staydown.job.records import Item, Mount, Rectangle, Tape
from staydown.loads.load_case import CaseTable, LoadCase, SoakTemperatures
from staydown.spread import pad_laws
from staydown.spread.build_demands import build_demands, worst_over_average
from staydown.spread.build_pads import build_pads
from staydown.spread.build_solutions import build_solutions, solve
from staydown.spread.demands import Demands
from staydown.storage.read_cards import read_cards

Array = NDArray[np.float64]
CARDS = read_cards()
FOAM = "acrylic foam tape"
TAPE = Tape(name="foam", kind=FOAM, thickness_m=1.1e-3, tension_modulus_Pa=1e6, shear_modulus_Pa=0.35e6)
TAPE_UNKNOWN = Tape(name="foam", kind=FOAM, thickness_m=1.1e-3)
GUST_FORCE_N, GUST_MOMENT_Nm = (-31.451, 0.0, 2090.908), (0.0, -812.176, 0.0)
AREA_m2 = 0.08 * 0.05
WARM = definition(293.15, "K", "sample")


def table_of(forces_N: Any, moments_Nm: Any) -> CaseTable:
    """Return a table of loads given over (case, 3), or (case, band, 3), without causes."""

    def number(value: Any, unit: str) -> Number:
        return definition(value, unit, "sample")

    def components(values: Any, unit: str) -> tuple[Number, Number, Number]:
        array = np.asarray(values, dtype=float)
        array = array[:, None, :] if array.ndim == 2 else array
        x, y, z = (number(array[..., k : k + 1], unit) for k in range(3))
        return x, y, z

    case = LoadCase(
        name="gust",
        exposure=Exposure(lasts_s=3.0, temperature_K=258.15, season="cold"),
        family="moving",
        lasts=number(3.0, "s"),
        air_temperature=number(258.15, "K"),
        bond_temperature=number(258.15, "K"),
        air_density=number(1.367, "kg/m3"),
        air_velocity_m_per_s=(42.4, 0.0),
        air_speed=number(42.4, "m/s"),
    )
    return CaseTable(
        cases=(case,) * len(np.asarray(forces_N)),
        parts=(),
        force=components(forces_N, "N"),
        moment=components(moments_Nm, "Nm"),
        temperatures=number(258.15, "K"),
        soak=SoakTemperatures(**dict.fromkeys(("item_hot", "item_cold", "roof_hot", "roof_cold"), WARM)),
    )


def mount(behind_m: float, left_m: float, **keys: Any) -> Mount:
    """Return a mount of 80 x 50 mm whose lever nobody typed, unless told otherwise."""
    named: dict[str, Any] = {"name": f"{behind_m} {left_m}", "pad": Rectangle(length_m=0.08, width_m=0.05)}
    named["foot_thickness_m"] = 0.03  # rigid: feet that bend are tested in test_foot.py
    return Mount(behind_m=behind_m, left_m=left_m, **(named | keys))


def panel(*mounts: Mount) -> Item:
    """Return a panel of 1480 x 670 mm, 45 mm above the roof, on these mounts."""
    return Item(
        name="panel",
        length_m=1.48,
        width_m=0.67,
        thickness_m=0.035,
        mass_kg=11.2,
        gap_m=0.045,
        behind_roof_front_m=0.9,
        front_edge="open",
        tape="foam",
        mount=mounts,
    )


def corners(**keys: Any) -> list[Mount]:
    """Return four mounts near the corners: front left, front right, rear left, rear right."""
    return [mount(behind, left, **keys) for behind in (0.12, 1.36) for left in (0.31, -0.31)]


def demands_of(item: Item, table: CaseTable, tape: Tape = TAPE) -> Demands:
    """Return the demands of an item that is the first of its job."""
    return build_demands(item, "item.1", tape, "tape.1", CARDS, table)


def values(number: Number, demands: Demands, band: int = 2) -> Array:
    """Return a number over (case, mount) in one band."""
    cases = demands.solution.shape[0]
    return np.broadcast_to(np.asarray(number.value), (cases, 3, len(demands.mounts)))[:, band]


GUST = table_of([GUST_FORCE_N], [GUST_MOMENT_Nm])


@pytest.mark.independent
def test_worked_example_clamped_and_hinged_with_mirrored_levers() -> None:
    """Four mounts in a gust: forces and peaks of the worked example, computed independently of this code.

    Clamped 849.764 and 195.690 N, peaks 217.72 and 54.20 kPa; hinged with mirrored levers of 12 mm
    849.647 and 195.807 N, peaks 524.92 and 126.08 kPa.
    """
    item = panel(*corners(lever_m=0.012, lever_direction="across"))
    pads = build_pads(item, "item.1", CARDS.planning["lever"], CARDS.planning["skin_stiffness"])
    solutions = build_solutions(item, TAPE, CARDS.tapes[FOAM], pads)
    solved = solve(solutions, pads, TAPE.thickness_m)
    on = solved.matrix @ np.array([*GUST_FORCE_N, *GUST_MOMENT_Nm])
    found = {}
    for name in (
        "clamped",
        "hinged, levers toward the item's centre",
        "hinged, levers away from the item's centre",
    ):
        row = np.flatnonzero((solved.solution == solutions.names.index(name)) & (solved.band == 2))[0]
        arm = np.stack([solved.lever_along[row], solved.lever_across[row], solved.height[row]], axis=-1)
        moment = on[row, :, 3:] + np.cross(arm, on[row, :, :3])
        peak = pad_laws.peak_tension(on[row, :, 2], moment[:, 0], moment[:, 1], 0.08, 0.05)
        found[name] = (on[row, :, 2], peak)

    forces, peaks = found.pop("clamped")
    assert forces == pytest.approx([849.764, 849.764, 195.690, 195.690], abs=6e-4)
    assert peaks / 1e3 == pytest.approx([217.72, 217.72, 54.20, 54.20], abs=6e-3)
    for forces, peaks in found.values():
        assert forces == pytest.approx([849.647, 849.647, 195.807, 195.807], abs=6e-4)
        assert peaks / 1e3 == pytest.approx([524.92, 524.92, 126.08, 126.08], abs=6e-3)


@pytest.mark.independent
def test_the_worse_solution_is_reported_by_name() -> None:
    """Levers all to one side beat mirrored ones: the mount away from them carries more (statics, by hand).

    With all points of pull 12 mm to the right, the lift in the middle is off their centre by 12 mm:
    N_left = N/4 + ... + F 0.012 * 0.310/(4 * 0.310^2), so left mounts gain 20.235 N and right ones lose it.
    """
    demands = demands_of(panel(*corners(lever_m=0.012, lever_direction="across")), GUST)
    names = [demands.solutions[index] for index in demands.solution[0, 2]]
    gain = GUST_FORCE_N[2] * 0.012 / (4 * 0.310)

    assert names == ["hinged, all levers right", "hinged, all levers left"] * 2
    assert values(demands.force[2], demands)[0] == pytest.approx(
        [849.647 + gain] * 2 + [195.807 + gain] * 2, abs=1e-3
    )
    assert np.all(values(demands.peak_tension, demands) > 524.92e3 * np.array([[1, 1, 0, 0]]))
    assert demands.residual < 1e-12
    assert demands.findings == ()


@pytest.mark.by_hand
def test_stresses_follow_from_the_reported_force_and_moment() -> None:
    """Mean, peak, shear and line load of every mount from its own force and moment by the pad formulas."""
    mounts = [
        mount(behind, left, pad=Rectangle(length_m=a, width_m=b), lever_direction=way)
        for behind, left, a, b, way in (
            (0.12, 0.31, 0.08, 0.05, "across"),
            (0.12, -0.31, 0.05, 0.10, "along"),
            (1.36, 0.20, 0.06, 0.06, None),
            (1.20, -0.31, 0.04, 0.09, None),
        )
    ]
    demands = demands_of(
        panel(*mounts), table_of([GUST_FORCE_N, (300.0, -250.0, -90.0)], [GUST_MOMENT_Nm, (20.0, 5.0, 90.0)])
    )
    length, width = np.array([0.08, 0.05, 0.06, 0.04]), np.array([0.05, 0.10, 0.06, 0.09])
    edge = np.array([0.08, 0.10, 0.06, 0.04])
    fx, fy, n = (values(number, demands) for number in demands.force)
    mx, my, mz = (values(number, demands) for number in demands.moment)

    peak = n / (length * width) + 6 * abs(my) / (width * length**2) + 6 * abs(mx) / (length * width**2)
    polar = length * width * (length**2 + width**2) / 12
    shear = np.hypot(fx, fy) / (length * width) + abs(mz) * np.hypot(length, width) / 2 / polar
    assert values(demands.mean_tension, demands) == pytest.approx(n / (length * width), rel=1e-12)
    assert values(demands.peak_tension, demands) == pytest.approx(np.maximum(0, peak), rel=1e-12)
    assert values(demands.shear, demands) == pytest.approx(shear, rel=1e-12)
    assert values(demands.line_load, demands) == pytest.approx(np.maximum(0, n) / edge, rel=1e-12)


@pytest.mark.independent
@settings(max_examples=20, deadline=None)
@given(seed=st.integers(min_value=0, max_value=2**32 - 1), tape=st.sampled_from([TAPE, TAPE_UNKNOWN]))
def test_every_solution_sums_to_the_load(seed: int, tape: Tape) -> None:
    """Any mounts, any load: each solution's forces and moments, summed by cross products, give the load."""
    generator = np.random.default_rng(seed)
    mounts = [
        mount(
            *generator.uniform((0.05, -0.3), (1.4, 0.3)),
            pad=Rectangle(length_m=generator.uniform(0.03, 0.1), width_m=generator.uniform(0.03, 0.1)),
            lever_m=None if generator.random() < 0.5 else generator.uniform(-0.03, 0.03),
            lever_direction=generator.choice(np.array(["along", "across", None], dtype=object)),
            lever_side=generator.choice(np.array(["given", None], dtype=object)),
            connection_height_m=None if generator.random() < 0.5 else generator.uniform(0.0, 0.1),
        )
        for _ in range(generator.integers(1, 8))
    ]
    item = panel(*mounts)
    pads = build_pads(item, "item.1", CARDS.planning["lever"], CARDS.planning["skin_stiffness"])
    solved = solve(build_solutions(item, tape, CARDS.tapes[FOAM], pads), pads, tape.thickness_m)
    load = generator.normal(size=6) * (200.0, 200.0, 1500.0, 200.0, 600.0, 100.0)
    on = solved.matrix @ load
    scale = np.abs(on).max()

    assert on[..., :3].sum(axis=1) == pytest.approx(np.tile(load[:3], (len(on), 1)), abs=1e-8 * scale)
    moment = (on[..., 3:] + np.cross(solved.point, on[..., :3])).sum(axis=1)
    assert moment == pytest.approx(np.tile(load[3:], (len(on), 1)), abs=1e-8 * scale)
    assert demands_of(item, table_of([load[:3]], [load[3:]]), tape).residual < 1e-9


@pytest.mark.independent
def test_no_solution_has_a_larger_peak_than_the_reported_one() -> None:
    """Each way of joining typed on its own gives at most the peak that is reported where nothing is typed."""
    forces = np.random.default_rng(2).normal(size=(6, 3)) * (300.0, 300.0, 1200.0)
    moments = np.random.default_rng(3).normal(size=(6, 3)) * 200.0
    table = table_of(forces, moments)
    unknown = values((d := demands_of(panel(*corners()), table)).peak_tension, d)
    for way in ("along", "across"):
        lever_m = 0.3 * (0.08 if way == "along" else 0.05)
        for sign in (1, -1):
            one = demands_of(
                panel(*corners(lever_m=sign * lever_m, lever_direction=way, lever_side="given")), table
            )
            assert np.all(values(one.peak_tension, one) <= unknown * (1 + 1e-9))


@pytest.mark.independent
def test_where_nothing_is_pulled_the_larger_shear_is_reported() -> None:
    """Pressed pads have no peak in any solution: each mount then shows the one with the most shear."""
    table = table_of([(300.0, -700.0, -9000.0)], [(0.0, 0.0, 150.0)])
    near = {"lever_direction": "across", "connection_height_m": 0.0}  # no edge of a pad is lifted
    unknown = demands_of(panel(*corners(lever_m=0.004, **near)), table)
    shears = []
    for sign in (1, -1):
        one = demands_of(panel(*corners(lever_m=sign * 0.004, lever_side="given", **near)), table)
        shears.append(values(one.shear, one))

    assert np.all(values(unknown.peak_tension, unknown) == 0.0)
    assert np.all(values(unknown.shear, unknown) >= np.max(shears, axis=0) * (1 - 1e-9))
    assert np.all(np.abs(shears[0] / shears[1] - 1) > 1e-3)


@pytest.mark.independent
def test_a_lever_left_out_takes_its_band() -> None:
    """Band by band it is as if 0, 0.15 and 0.30 of the pad's side had been typed."""
    left_out = demands_of(panel(*corners(lever_direction="across")), GUST)
    for band, share in enumerate((0.0, 0.15, 0.30)):
        typed = demands_of(panel(*corners(lever_direction="across", lever_m=share * 0.05)), GUST)

        assert values(left_out.peak_tension, left_out, band) == pytest.approx(
            values(typed.peak_tension, typed, band), rel=1e-9
        )


@pytest.mark.independent
def test_moduli_left_out_are_solved_at_both_ends_of_their_ratio() -> None:
    """With feet of unequal height the high band has the worst of three typed pairs, the other bands the likely one."""
    card = CARDS.tapes[FOAM]
    pairs = [
        (card.tension_modulus.likely, card.shear_modulus.likely),
        (card.tension_modulus.low, card.shear_modulus.high),
        (card.tension_modulus.high, card.shear_modulus.low),
    ]
    mounts = [*corners(lever_m=0.0), mount(0.7, 0.1, lever_m=0.0, connection_height_m=0.10)]
    table = table_of([(-400.0, 300.0, 900.0)], [(10.0, -250.0, 60.0)])
    typed = []
    for tension, shear in pairs:
        tape = TAPE.model_copy(update={"tension_modulus_Pa": tension, "shear_modulus_Pa": shear})
        typed.append(demands_of(panel(*mounts), table, tape))
    unknown = demands_of(panel(*mounts), table, TAPE_UNKNOWN)
    peaks = [values(one.peak_tension, one) for one in typed]

    assert values(unknown.peak_tension, unknown) == pytest.approx(np.max(peaks, axis=0), rel=1e-9)
    assert np.ptp(peaks, axis=0).max() > 1e3
    for band in (0, 1):
        assert values(unknown.peak_tension, unknown, band) == pytest.approx(peaks[0], rel=1e-9)
    assert any(", tape s" in unknown.solutions[index] for index in unknown.solution[0, 2])


@pytest.mark.independent
def test_moduli_have_no_say_where_all_points_of_pull_are_level() -> None:
    """Typed moduli of any ratio give one answer on level mounts of unequal pads, so their ends are not solved."""
    mounts = [*corners(), mount(0.7, 0.1, pad=Rectangle(length_m=0.1, width_m=0.12))]
    table = table_of([(-400.0, 300.0, 900.0)], [(10.0, -250.0, 60.0)])
    stiff = TAPE.model_copy(update={"shear_modulus_Pa": 5e6})
    one, other, unknown = (demands_of(panel(*mounts), table, tape) for tape in (TAPE, stiff, TAPE_UNKNOWN))

    assert len(unknown.solutions) == 9
    for demands in (other, unknown):
        assert values(demands.peak_tension, demands) == pytest.approx(values(one.peak_tension, one), rel=1e-9)
        assert values(demands.shear, demands) == pytest.approx(values(one.shear, one), rel=1e-9)


@pytest.mark.independent
def test_unequal_pads_share_by_stiffness() -> None:
    """Of two sizes of pad on one item lifted in its middle, the larger carries more, by area when clear of turning."""
    big, small = Rectangle(length_m=0.1, width_m=0.1), Rectangle(length_m=0.05, width_m=0.05)
    mounts = [
        mount(behind, left, lever_m=0.0, pad=big if front_left_or_rear_right else small)
        for behind, left, front_left_or_rear_right in (
            (0.12, 0.31, True),
            (0.12, -0.31, False),
            (1.36, 0.31, False),
            (1.36, -0.31, True),
        )
    ]
    demands = demands_of(panel(*mounts), table_of([(0.0, 0.0, 1000.0)], [(0.0, 0.0, 0.0)]))

    assert values(demands.force[2], demands)[0] == pytest.approx([400.0, 100.0, 100.0, 400.0], rel=1e-9)


@pytest.mark.independent
def test_a_mirrored_item_carries_the_mirrored_load() -> None:
    """Everything exchanged left for right: the same peaks at the exchanged mounts."""
    places = [(0.12, 0.31), (0.2, -0.25), (1.36, 0.10), (1.1, -0.31)]
    force, moment = np.array([-50.0, 120.0, 900.0]), np.array([60.0, -300.0, 20.0])
    mirror = np.array([1.0, -1.0, 1.0])

    one = demands_of(panel(*(mount(x, y) for x, y in places)), table_of([force], [moment]))
    other = demands_of(
        panel(*(mount(x, -y) for x, y in places)), table_of([force * mirror], [-moment * mirror])
    )

    for before, after in (
        (one.peak_tension, other.peak_tension),
        (one.shear, other.shear),
        (one.force[2], other.force[2]),
    ):
        assert values(after, other) == pytest.approx(values(before, one), rel=1e-7)


def test_mounts_in_one_line_are_clamped_only_and_warned_of() -> None:
    """Two mounts, or three in a line, cannot hold a hinged item: only the pads' own length resists rocking."""
    for mounts in (
        [mount(0.12, 0.0), mount(1.36, 0.0)],
        [mount(0.1 + 0.4 * n, 0.1 - 0.1 * n) for n in range(4)],
    ):
        demands = demands_of(panel(*mounts), GUST, TAPE_UNKNOWN)
        (finding,) = demands.findings

        assert {name.split(",")[0] for name in demands.solutions} == {"clamped"}
        assert finding.rule == "mounts stand in one line: only the pads' own length resists rocking"
        assert (finding.grade, finding.key) == ("warning", "item.1.mount")


@pytest.mark.parametrize(("off_line_m", "hinged"), [(0.001, False), (0.025, True)])
def test_a_line_is_told_from_a_slender_group(off_line_m: float, hinged: bool) -> None:
    """A millimetre off a line of 1.2 m is a line; half a pad's width off it is a slender group, and solved."""
    mounts = [mount(0.12, 0.0), mount(0.74, off_line_m), mount(1.36, 0.0)]
    demands = demands_of(panel(*mounts), GUST)

    assert any(name.startswith("hinged") for name in demands.solutions) == hinged


def test_one_mount_is_clamped_only_and_warned_of() -> None:
    """A single mount carries the whole load, with a warning of its own."""
    demands = demands_of(panel(mount(0.74, 0.0)), GUST)
    (finding,) = demands.findings

    assert demands.solutions == ("clamped",)
    assert finding.rule.startswith("one mount:")
    assert [values(f, demands)[0, 0] for f in demands.force] == pytest.approx(GUST_FORCE_N, abs=1e-9)
    assert [values(m, demands)[0, 0] for m in demands.moment] == pytest.approx(GUST_MOMENT_Nm, abs=1e-9)


def test_a_narrow_group_leans_on_its_pads() -> None:
    """Rows 30 mm apart on pads 50 mm wide: their own tilt resists more of the rocking than their distance.

    By hand: share = W^2/12/(W^2/12 + 15 mm squared) = 208/(208 + 225) = 48 % at 30 mm, 67 % at 20 mm.
    """

    def narrow(half_m: float) -> Demands:
        mounts = [mount(x, y, lever_m=0.0) for x in (0.12, 1.36) for y in (half_m, -half_m)]
        return demands_of(panel(*mounts), GUST)

    (finding,) = narrow(0.010).findings
    assert finding.rule.startswith("rocking sideways: the pads' own rotation carries 68 %")
    assert narrow(0.015).findings == ()


def test_points_of_pull_in_one_line_are_not_counted() -> None:
    """Levers that bring all points of pull onto the item's axis leave a mechanism: left out, and said so."""
    mounts = [
        mount(x, y, lever_m=0.030, lever_direction="across", connection_height_m=0.0)
        for x in (0.12, 1.36)
        for y in (0.030, -0.030)
    ]
    demands = demands_of(panel(*mounts), GUST)
    rules = [finding.rule for finding in demands.findings]

    assert len(rules) == 1
    assert "levers toward the item's centre: not counted" in rules[0]
    assert demands.solutions.index("hinged, levers toward the item's centre") not in demands.solution


def test_an_item_without_mounts_is_refused() -> None:
    """There is nothing to spread a load over."""
    with pytest.raises(ValueError, match=r"item\.1"):
        demands_of(panel(), GUST)


@pytest.mark.by_hand
def test_worst_over_average() -> None:
    """Largest tension over the mean; 0 where all are pressed, infinite where the mean presses and one is pulled."""
    table = table_of(
        [(0.0, 0.0, 400.0), (0.0, 0.0, -400.0), (0.0, 0.0, -4.0)],
        [(0.0, -62.0, 0.0), (0.0, 0.0, 0.0), (0.0, -62.0, 0.0)],
    )
    mounts = corners(lever_m=0.0, connection_height_m=0.0)
    item = panel(*mounts)
    demands = demands_of(item, table)
    # hinged: 100 + 62 * 0.62/(4 * 0.62^2) = 125 N at the front
    assert worst_over_average(demands, 0, 2) == pytest.approx(1.25, rel=0.01)
    assert worst_over_average(demands, 1, 2) == 0.0
    assert worst_over_average(demands, 2, 2) == math.inf


def test_every_number_reaches_what_was_written() -> None:
    """The trail of a peak ends in typed values, cards and the load, and gives the same value on the way."""
    demands = demands_of(panel(*corners()), GUST, TAPE_UNKNOWN)
    places: set[str] = set()

    def walk(number: Number) -> None:
        if isinstance(number, Given):
            places.add(number.source.place or number.source.title)
        elif isinstance(number, Chosen):
            for part in number.items:
                walk(part)
        else:
            assert number.inputs
            for part in number.inputs.values():
                walk(part)

    walk(demands.peak_tension)
    assert {"item.1.length", "item.1.gap", "item.1.mount.4.pad", "item.1.mount.2.behind"} <= places
    assert {"tape.1.thickness", "lever", f"{FOAM}.tension_modulus", f"{FOAM}.shear_modulus"} <= places
    pull = demands.force[2]
    assert isinstance(pull, Derived)
    assert pull.law.method != ""
    index = (0, 2, 1)
    hinged = at(pull.inputs["height_of_pull_m"], index) == 0.045
    name = demands.solutions[demands.solution[index]]
    assert hinged == name.startswith("hinged")
    assert at(pull.inputs["tilt_spring_about_x_Nm_per_rad"], index) == 0.0
    levers = (at(pull.inputs["lever_along_m"], index), at(pull.inputs["lever_across_m"], index))
    assert sorted(np.abs(levers)) in ([0.0, pytest.approx(0.024)], [0.0, pytest.approx(0.015)])
