"""A law that is checked against a publication is a law that an answer goes through: the trail of whole jobs says so."""

from __future__ import annotations

import ast
import importlib
import pkgutil
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

import staydown
from answers import assessed, calls_of_laws, first, laws_of
from known_jobs import known_panel, panel_coupons
from sample_jobs import PUCK, changed, hangs, puck_coupons, pulls
from staydown.evidence.coupon import Coupon
from staydown.foundation.law import LAWS
from staydown.making.guide import Mix, Weather
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.sheets import guide_of
from staydown.workbench.upkeep import roadside_of, upkeep_of

for _module in pkgutil.walk_packages(staydown.__path__, "staydown."):
    if _module.name.endswith("_laws"):
        importlib.import_module(_module.name)

# Law -> the part of the answer that its trail leads to. "checks" is the use that decides.
ON_THE_TRAIL = {
    "loads.air_laws.standard_pressure": "checks",  # ISO 2533
    "loads.air_laws.dry_air_density": "checks",
    "loads.wind_laws.dynamic_pressure": "checks",  # ASCE 7
    "loads.wind_laws.plate_drag_coefficient": "checks",  # White; Viterna & Corrigan
    "loads.wind_laws.edge_drag": "checks",
    "loads.wind_laws.separated_plate_coefficient": "checks",  # Hoerner
    "loads.wind_laws.incidence_coefficient": "checks",
    "loads.wind_laws.uplift_coefficient": "checks",
    "loads.wind_laws.pressure_centre": "checks",  # EN 1991-1-4
    "loads.force_laws.factored": "checks",  # EN 1990
    "loads.force_laws.inertia_force": "checks",  # 49 CFR 393.102, EN 12195-1
    "loads.force_laws.pressed_area": "checks",  # EN 1991-1-3
    "loads.force_laws.weight": "checks",
    "loads.heat_laws.mismatch_strain": "checks",  # ASTM C1401
    "loads.heat_laws.thermal_shear_strain": "checks",
    "loads.air_laws.air_viscosity": "table",  # ISO 2533
    "loads.air_laws.air_conductivity": "table",
    "loads.balance_laws.balance_temperature": "table",  # ASTM E1980, Levinson
    "loads.balance_laws.sol_air_temperature": "table",  # ASHRAE, beside the balance
    "loads.balance_laws.nominal_module_temperature": "table",  # IEC 61215, Faiman, beside the balance
    "loads.balance_laws.windy_module_temperature": "table",
    "loads.convection_laws.flat_plate_nusselt": "table",  # Cengel
    "loads.convection_laws.light_wind_convection": "table",  # McAdams, for a measured temperature
    "loads.convection_laws.boundary_layer_thickness": "table",  # Schlichting, beside the drag
    "loads.convection_laws.profile_pressure_share": "table",
    "spread.pad_laws.pad_spring": "checks",  # statics
    "spread.pad_laws.pad_moment_about_y": "checks",
    "spread.pad_laws.peak_tension": "checks",
    "spread.pad_laws.pad_shear": "checks",
    "spread.pad_laws.mean_tension": "demands",
    "spread.foot_laws.bed_stiffness": "checks",  # Hetenyi
    "spread.foot_laws.foot_rate": "checks",
    "spread.foot_laws.foot_edge_stress": "checks",
    "spread.foot_laws.foot_bending_moment": "demands",
    "spread.foot_laws.pulled_length": "demands",
    "spread.foot_laws.shape_factor": "checks",  # Gent & Lindley
    "spread.foot_laws.apparent_modulus": "checks",
    "spread.foot_laws.with_bulk": "checks",
    "spread.lap_laws.sheet_stiffness": "checks",  # Volkersen
    "spread.lap_laws.shear_lag": "checks",
    "spread.lap_laws.imbalance": "checks",
    "spread.lap_laws.lap_shear_factor": "checks",
    "spread.lap_laws.lap_thermal_shear": "checks",  # Shigley 9-7
    "spread.lap_laws.peak_shear": "checks",
    "spread.lap_laws.lap_bending_number": "checks",  # Goland & Reissner
    "spread.lap_laws.edge_moment_factor": "checks",
    "spread.lap_laws.bent_lap_factor": "checks",
    "spread.lap_laws.larger_factor": "checks",
    "strength.tolerance_laws.tolerance_factor": "capacity",  # CMH-17
    "strength.tolerance_laws.lower_bound_of_logs": "capacity",
    "strength.success_run_laws.success_run_reliability": "capacity",  # MIL-HDBK-781
    "strength.screw_laws.screw_breaking_force": "chain",  # ISO 898-1, ISO 3506-1
    "strength.screw_laws.thread_strip_force": "chain",  # VDI 2230
    "strength.screw_laws.sheet_pull_out_force": "shared",  # EN 1993-1-3
    "retention.tether_laws.speed_over_slack": "retention",  # Shigley
    "retention.tether_laws.snatch_load": "retention",
    "retention.tether_laws.line_strength_needed": "retention",  # ASME B30.9
    "verdict.redundancy_laws.life_left_share": "redundancy",  # equal load sharing
}
# Laws that work inside a procedure, which keeps no trail of its inside: they are seen to be called.
IN_A_PROCEDURE = {
    "strength.rupture_laws.ramp_static_life",  # Charles: what a pull stands for when evidence is weighed
    "strength.rupture_laws.stress_for_life",  # power law of life: survivors carried to the case
    "loads.heat_laws.mean_kinetic_temperature",  # Haynes, USP: what a day in the sun is worth
}
# Laws that no verdict goes through, each with what it is for.
BESIDE = {
    "strength.rupture_laws.larson_miller_life": "another time-temperature form, to compare with",
    "strength.rupture_laws.larson_miller_parameter": "another time-temperature form, to compare with",
    "strength.rupture_laws.arrhenius_shift": "one temperature against another, shown with a belief",
    "strength.rupture_laws.wlf_shift": "selectable in place of Arrhenius",
    "strength.rupture_laws.moved_wlf_slope": "selectable in place of Arrhenius",
    "strength.rupture_laws.moved_wlf_offset": "selectable in place of Arrhenius",
    "strength.rupture_laws.rupture_life": "life at a stress, for sums over the years",
    "strength.rupture_laws.ramp_breaking_stress": "planning of pulls",
    "strength.rupture_laws.robinson_sum": "sums of life over the years",
    "strength.rupture_laws.equivalent_time": "sums of life over the years",
    "strength.success_run_laws.success_run_count": "planning of hang tests",
    "strength.success_run_laws.success_run_count_longer": "planning of hang tests",
    "strength.success_run_laws.success_run_reliability_longer": "planning of hang tests",
    "strength.success_run_laws.success_run_time_ratio": "planning of hang tests",
    "strength.success_run_laws.demonstrated_reliability": "planning of hang tests",
    "evidence.slip_laws.slip_strain": "slip marks read at inspections; tests/evidence walks one through the logbook",
    "strength.tolerance_laws.tolerance_factor_natrella": "check of the exact factor by hand",
}


def everything() -> tuple[dict[str, Any], list[Coupon]]:
    """Return the panel at 1500 m with its nose up, snow, a passing truck, two measured winds, screws and wet pulls."""
    winds = [
        {"behind_front_m": place, "speed_ratio": ratio, "covers": ["drag"]}
        for place, ratio in ((0.5, 0.6), (1.5, 0.8))
    ]
    screw = {"text": "M6 A2-70", "size": "M6", "strength_class": "A2-70"}
    changes: Mapping[str, Any] = {
        "travel.altitude_m": 1500.0,
        "travel.pass_pressure_Pa": 300.0,
        "vehicle.local_wind": winds,
        "vehicle.measured_temperature": [
            {
                "place": "under item",
                "temperature_K": 330.0,
                "air_K": 296.0,
                "sun_W_per_m2": 800.0,
                "wind_m_per_s": 1.0,
            }
        ],
        "item.0.nose_up_rad": 0.02,
        "item.0.link": [
            {"part": "bracket", "strength_N": 6000.0, "source": "pulled two on the bench"},
        ],
    }
    held = {"fastener": screw, "engagement_m": 7e-3, "also_screw": screw, "sheet_thickness_m": 0.8e-3}
    screwed = {f"item.0.mount.{n}.{key}": value for n in range(4) for key, value in held.items()}
    tables = changed(known_panel(), {**changes, **screwed})
    wet = pulls([0.9e6, 0.92e6, 0.94e6], 356.15, "gelcoat", conditioned="21 d in water at 23 degC")
    return tables, [*panel_coupons(), *wet]


@cache
def trails() -> tuple[dict[str, set[str]], frozenset[str]]:
    """Return the laws behind each part of three answers, and the laws that were called for them."""
    found: dict[str, set[str]] = {}
    odd = hangs(
        [7.7e4] * 5, 0.41e6, 356.15, "gelcoat"
    )  # coupons that no other test has, so that nothing is remembered
    jobs = [(everything()[0], [*everything()[1], *odd]), (PUCK, [*puck_coupons(), *puck_coupons()[:1]])]
    glued = {"tape.0.kind": "rigid two-part adhesive", "item.0.mount.0.foot_thickness_m": 0.002}
    jobs.append((changed(PUCK, glued), puck_coupons()))
    with calls_of_laws() as called:
        for tables, coupons in jobs:
            for part, laws in laws_of(first(assessed(tables, {}, coupons))).items():
                found.setdefault(part, set()).update(laws)
    return found, frozenset(called)


@cache
def called_in_the_shop() -> frozenset[str]:
    """Return the laws that the bonding guide and the upkeep of the demo call."""
    with TemporaryDirectory() as name, calls_of_laws() as called:
        now = datetime(2026, 6, 1, 12, tzinfo=UTC)
        demo = lay_out_demo(Path(name) / "job", now)
        weather = Weather(air_K=293.15, humidity=0.5, surface_K=295.15, dwell_K=293.15)
        for item in demo.after.assessment.items:
            guide_of(demo.after.assessment, item, weather, Mix(volume_m3=1e-3))
        upkeep_of(demo.folder, now)
        roadside_of(demo.folder, "panel", ["front left"])
    return frozenset(called)


def laws_in_published_tests() -> dict[str, set[str]]:
    """Return the laws that the files beside this one name, by law: the files."""
    names = {name.rpartition(".")[2]: name.removeprefix("staydown.") for name in LAWS}
    used: dict[str, set[str]] = {}
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = node.id if isinstance(node, ast.Name) else getattr(node, "attr", "")
            if name in names and path != Path(__file__):
                used.setdefault(names[name], set()).add(path.name)
    return used


@pytest.mark.parametrize(("law", "part"), ON_THE_TRAIL.items())
def test_an_answer_goes_through_the_law(law: str, part: str) -> None:
    """From a number of a whole job's answer the trail leads down to the law that a publication was held against."""
    behind = trails()[0][part]

    assert law in behind


@pytest.mark.parametrize("law", sorted(IN_A_PROCEDURE))
def test_a_procedure_of_the_answer_calls_the_law(law: str) -> None:
    """While a whole job is assessed the law is called."""
    called = trails()[1]

    assert law in called


def test_every_published_check_is_of_a_law_in_use() -> None:
    """Each law that a published test names is on the trail, is called for an answer, or is told what it is for."""
    on_trail, called = trails()
    known = set().union(*on_trail.values()) | called | called_in_the_shop() | set(BESIDE)
    loose = {law: files for law, files in laws_in_published_tests().items() if law not in known}

    assert loose == {}


def test_the_tables_name_laws_that_exist() -> None:
    """A law that was renamed or taken out is noticed here."""
    exist = {name.removeprefix("staydown.") for name in LAWS}

    assert (set(ON_THE_TRAIL) | IN_A_PROCEDURE | set(BESIDE)) - exist == set()
