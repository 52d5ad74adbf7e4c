"""The answer of `check` as one JSON object in SI units, every key with its unit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from staydown.advice.assumptions import Assumption
from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.exposure import Mode
from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number, at
from staydown.foundation.quantities import suffix_with_unit
from staydown.loads.load_case import CaseTable
from staydown.outputs.foot_json import foot_json, unzip_json
from staydown.outputs.held_json import lost_mounts_json, redundancy_json, retention_json, shared_pulls_json
from staydown.outputs.movement_json import (
    bending_json,
    case_bending_json,
    mount_bending_json,
    shaking_json,
)
from staydown.spread.build_demands import worst_over_average
from staydown.verdict.checks import HIGH

FORMAT = "staydown-check-1"


def answer_json(
    assessment: Assessment,
    assumptions: Sequence[Assumption],
    cautions: Sequence[str],
    findings: Sequence[Finding],
) -> dict[str, Any]:
    """Return the whole answer as plain dictionaries and lists.

    Forces are what the item puts on the mount, +z away from the roof; parts are before their factor, sums and
    everything under mounts after it, at the high band. `null` is "not known".
    """
    return {
        "format": FORMAT,
        "version": assessment.version,
        "job": assessment.job.job.name,
        "verdict": assessment.word,
        "items": [_item(item) for item in assessment.items],
        "assumptions": [_assumption(assumption) for assumption in assumptions],
        "claims": [_claim(claim) for claim in assessment.claims],
        "cautions": list(cautions),
        "warnings": [finding.line_of_text() for finding in findings],
    }


def _item(item: ItemAssessment) -> dict[str, Any]:
    verdict, mounted = item.verdict, item.mounted
    answer: dict[str, Any] = {
        "name": item.item.name,
        "verdict": verdict.word,
        "consequence": item.standing.consequence,
        "because": list(verdict.because),
        "conditions": list(verdict.conditions),
        "find_out": list(verdict.find_out),
        "changes": list(verdict.changes),
        "governing": None,
        "worst_over_average": None,
        "chain": [],
        "redundancy": None,
        "lost_mounts": [],
        "retention": None,
        "unzip": None,
        "shared_pulls": [],
        "bending": None,
        "shaking": None,
        "evidence": [],
        "cases": [],
    }
    if mounted is None:
        return answer
    top = mounted.governing
    case = mounted.table.cases[top.case]
    answer["governing"] = {
        "case": case.name,
        "season": case.exposure.season,
        "mount": mounted.demands.mounts[top.mount],
        "use": finite(top.use),
    }
    answer["worst_over_average"] = finite(worst_over_average(mounted.demands, top.case, HIGH))
    answer["chain"] = [
        {
            "mount": link.link.mount,
            "part": link.link.part,
            "demand_N": finite(link.demand_N),
            "strength_N": finite(link.strength_N),
            "use": finite(link.use),
            "known_by": link.link.known_by,
        }
        for link in mounted.chain
    ]
    answer["redundancy"] = redundancy_json(mounted)
    answer["lost_mounts"] = lost_mounts_json(mounted)
    answer["retention"] = retention_json(mounted)
    answer["unzip"] = unzip_json(mounted)
    answer["shared_pulls"] = shared_pulls_json(mounted)
    answer["bending"] = bending_json(mounted)
    answer["shaking"] = shaking_json(mounted)
    answer["evidence"] = [_evidence(mounted, mode) for mode in mounted.groups]
    answer["cases"] = _cases(mounted)
    return answer


def _evidence(mounted: Mounted, mode: Mode) -> dict[str, Any]:
    group, capacity = mounted.groups[mode], mounted.capacity.get(mode)
    told: dict[str, Any] = {
        "tape": group.tape,
        "surface": group.surface,
        "mode": mode,
        "coupons": group.counts,
        "content": float(mounted.content.value),
        "kept_wet": None,
        "by_hand": [],
    }
    if capacity is None:
        return told
    told["kept_wet"] = finite(float(capacity.wet.value))
    told["by_hand"] = [
        {
            "made_from": bound.made_from,
            "temperature_K": bound.temperature_K,
            "lasts_s": bound.lasts_s,
            "bound_Pa": finite(float(bound.stress.value)),
            "survivors": bound.survivors,
            "reliability": None if bound.reliability is None else finite(float(bound.reliability.value)),
        }
        for bound in capacity.classical
    ]
    return told


def _by_hand(mounted: Mounted) -> NDArray[np.float64]:
    """Return the bound worked out by hand in tension. [Pa], shape (case, mount), NaN where there is none"""
    shape = mounted.checks.evidence.shape
    found = np.full((shape[0], shape[2]), np.nan)
    capacity = mounted.capacity.get("tension")
    if capacity is not None:
        for case in range(shape[0]):
            for mount in range(shape[2]):
                bound = capacity.answer(case, mount).by_hand
                if bound is not None:
                    found[case, mount] = float(bound.value)
    return found


def _cases(mounted: Mounted) -> list[dict[str, Any]]:
    table, demands, checks = mounted.table, mounted.demands, mounted.checks
    shape = checks.evidence.shape

    def high(number: Number) -> NDArray[np.float64]:
        return np.broadcast_to(np.asarray(number.value, dtype=float), shape)[:, HIGH, :]

    force = [high(component) for component in demands.force]
    moment = [high(component) for component in demands.moment]
    columns = {
        "mean_tension_Pa": high(demands.mean_tension),
        "peak_tension_Pa": high(demands.peak_tension),
        "shear_Pa": high(demands.shear),
        "line_load_N_per_m": high(demands.line_load),
        "proven_tension_Pa": high(checks.tension_proven),
        "proven_shear_Pa": high(checks.shear_proven),
        "by_hand_tension_Pa": _by_hand(mounted),
        "use": high(checks.use),
    }
    warm, longest = high(table.temperatures), high(mounted.thermal.longest_foot)
    strain, strain_use, bond_use = (
        high(number) for number in (mounted.thermal.strain, checks.strain_use, checks.bond_use)
    )
    total, turning = table.force_N, table.moment_Nm
    answers = []
    for number, case in enumerate(table.cases):
        mounts = []
        for mount, name in enumerate(demands.mounts):
            row = {
                "name": name,
                "force_N": [finite(part[number, mount]) for part in force],
                "moment_Nm": [finite(part[number, mount]) for part in moment],
                "model": _model(demands.solutions[demands.solution[number, HIGH, mount]]),
                "solution": demands.solutions[demands.solution[number, HIGH, mount]],
            }
            row["bond_temperature_K"] = finite(warm[number, mount])
            row |= {key: finite(column[number, mount]) for key, column in columns.items()}
            if case.family == "soak":
                row["thermal_strain"] = finite(strain[number, mount])
                row["strain_use"] = finite(strain_use[number, mount])
                row["bond_use"] = finite(bond_use[number, mount])
                row["longest_foot_m"] = finite(longest[number, mount])
            row |= _beside(table, number, mount)
            row |= mount_bending_json(mounted, number, mount)
            row["foot"] = foot_json(mounted, number, mount)
            row["evidence"] = checks.level(number, mount)
            mounts.append(row)
        answers.append(
            {
                "name": case.name,
                "season": case.exposure.season,
                "lasts_s": case.exposure.lasts_s,
                "air_temperature_K": _scalar(case.air_temperature),
                "bond_temperature_K": _scalar(case.bond_temperature),
                "air_density_kg_per_m3": _scalar(case.air_density),
                "air_speed_m_per_s": _scalar(case.air_speed),
                **_beside(table, number),
                "parts": _parts(mounted, number),
                "force_N": [finite(value) for value in total[number, HIGH]],
                "moment_Nm": [finite(value) for value in turning[number, HIGH]],
                "bending": case_bending_json(mounted, number),
                "mounts": mounts,
            }
        )
    return answers


def _parts(mounted: Mounted, case: int) -> list[dict[str, Any]]:
    index = (case, HIGH, 0)
    return [
        {
            "name": part.name,
            "force_N": [at(component, index) for component in part.force],
            "at_m": [at(coordinate, index) for coordinate in part.at],
            "factor": at(part.factor, index),
            "coefficient": None if part.coefficient is None else at(part.coefficient, index),
        }
        for part in mounted.table.parts
        if part.acts[case]
    ]


def _beside(table: CaseTable, case: int, mount: int | None = None) -> dict[str, float | None]:
    """Return what explains a case, of the whole item or of one mount, each key with its unit."""
    return {
        f"{one.name} {suffix_with_unit(one.number.unit)}".strip().replace(" ", "_").replace("-", "_"): finite(
            at(one.number, (0, HIGH, mount or 0))
        )
        for one in table.beside
        if case in one.cases and one.each_mount == (mount is not None)
    }


def _model(solution: str) -> str:
    """Return how item and foot are joined in a solution, whatever else its name says."""
    return "hinged" if "hinged" in solution else "clamped"


def _scalar(number: Number) -> float:
    return at(number, (0, HIGH, 0))


def _assumption(assumption: Assumption) -> dict[str, Any]:
    return {
        "id": assumption.id,
        "item": assumption.item,
        "what": assumption.what,
        "low": assumption.low,
        "likely": assumption.likely,
        "high": assumption.high,
        "value": assumption.value,
        "unit": assumption.unit,
        "basis": assumption.basis,
        "source": assumption.source,
        "use_at_low": finite(assumption.use_at_low),
        "use_at_high": finite(assumption.use_at_high),
    }


def _claim(claim: Any) -> dict[str, Any]:
    return {
        "tape": claim.tape,
        "mode": claim.mode,
        "kind": claim.kind,
        "stress_Pa": claim.load_N / claim.area_m2,
        "lasted_s": claim.lasted_s,
        "temperature_K": claim.temperature_K,
        "source": claim.source,
        "counts": False,
    }


def finite(value: float | None) -> float | None:
    """Return a number that JSON can carry: None for what is not known or has no bound."""
    if value is None or not math.isfinite(value):
        return None
    return float(value)
