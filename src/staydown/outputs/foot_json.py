"""How a foot bends, peels and touches, and how a pad would unzip, as plain values."""

from __future__ import annotations

import math
from typing import Any

from staydown.assess import Mounted
from staydown.foundation.numbers import Number, at
from staydown.verdict.checks import HIGH
from staydown.verdict.unzip import UnzipStep


def foot_json(mounted: Mounted, case: int, mount: int) -> dict[str, Any]:
    """Return what one foot does in one case, at the high band."""
    demands, feet, checks = mounted.demands, mounted.demands.feet, mounted.checks
    index = (case, HIGH, mount)

    def here(number: Number) -> float | None:
        value = at(number, index)
        return value if math.isfinite(value) else None

    fit = feet.fits[mount]
    return {
        "lambda_L": here(feet.number),
        "lambda_one_per_m": here(feet.rate),
        "kind": feet.kinds[mount],
        "edge_stress_Pa": here(demands.edge_stress),
        "line_load_N_per_m": here(demands.line_load),
        "peels": at(demands.peel, index) > 0.0,
        "peel_proven_N_per_m": here(checks.peel_proven),
        "peel_use": here(checks.peel_use),
        "pulled_length_m": here(feet.pulled),
        "rigid_from_thickness_m": here(feet.rigid_from),
        "bending_moment_Nm": here(demands.foot_moment),
        "contact": {
            "share": feet.touching[mount],
            "gap_m": None if fit is None else at(fit.gap, (0, HIGH, 0)),
            "least_tape_thickness_m": None if fit is None else at(fit.least_tape, (0, HIGH, 0)),
        },
        "shear_peak_over_mean": here(demands.lap.factor),
        "shear_ends_Pa": [here(checks.sheared), here(checks.relieved)],
    }


def unzip_json(mounted: Mounted) -> dict[str, Any] | None:
    """Return how the most used pad would open from its pulled edge, and where that ends; None where none is pulled.

    pulls_N: on every mount in the case and way of joining that use the opened foot most; they sum to the item's load.
    """
    unzip = mounted.unzip
    if unzip is None:
        return None
    case = mounted.table.cases[unzip.index[0]]
    return {
        "mount": unzip.mount,
        "case": case.name,
        "season": case.exposure.season,
        "runs_away_m": unzip.runs_away_m,
        "rests_m": unzip.rests_m,
        "bonded_share_at_rest": None if unzip.rests_m is None else unzip.at(unzip.rests_m).bonded,
        "lost": unzip.lost is not None,
        "rest_use": None if unzip.lost is None else unzip.lost.use,
        "sentence": unzip.sentence,
        "steps": [_step(step, mounted) for step in unzip.steps],
    }


def _step(step: UnzipStep, mounted: Mounted) -> dict[str, Any]:
    case, other = mounted.table.cases[step.case], step.other
    return {
        "opened_m": step.opened_m,
        "case": case.name,
        "season": case.exposure.season,
        "bonded_share": step.bonded,
        "section_left": step.section,
        "stiffness_N_per_m": step.stiffness_N_per_m,
        "pull_N": step.pull_N,
        "handed_on_N": step.handed_on_N,
        "pulls_N": list(step.pulls_N),
        "edge_stress_growth": step.growth,
        "edge_stress_Pa": step.peak_Pa,
        "use": step.use,
        "holds_s": step.holds_s,
        "other": None
        if other is None
        else {
            "mount": other.mount,
            "case": mounted.table.cases[other.case].name,
            "season": mounted.table.cases[other.case].exposure.season,
            "force_N": other.force_N,
            "use": other.use,
        },
    }
