"""How a foot bends, peels and touches, and how a pad would unzip, as plain values."""

from __future__ import annotations

import math
from typing import Any

from staydown.assess import Mounted
from staydown.foundation.numbers import Number, at
from staydown.verdict.checks import HIGH


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
    """Return how the most used pad would open from its pulled edge at cruise; None where none is pulled."""
    unzip = mounted.unzip
    if unzip is None:
        return None
    case = mounted.table.cases[unzip.index[0]]
    return {
        "mount": unzip.mount,
        "case": case.name,
        "season": case.exposure.season,
        "runs_away_m": unzip.runs_away_m,
        "sentence": unzip.sentence,
        "steps": [
            {
                "opened_m": step.opened_m,
                "section_left": float(step.section.value),
                "edge_stress_growth": step.growth,
                "edge_stress_Pa": float(step.peak.value),
                "use": None if step.use is None else float(step.use.value),
                "holds_s": None if step.holds is None else float(step.holds.value),
            }
            for step in unzip.steps
        ],
    }
