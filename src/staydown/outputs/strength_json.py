"""The answer of `strength` as one JSON object in SI units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from staydown.outputs.answer_json import finite
from staydown.outputs.strength_text import Lead
from staydown.strength.told_belief import Asked, CurvePoint, ToldBelief

FORMAT = "staydown-strength-1"


def strength_json(beliefs: Sequence[ToldBelief], asked: Asked, leads: Sequence[Lead]) -> dict[str, Any]:
    """Return every belief as plain dictionaries; peel carries N/m where others carry Pa."""
    return {
        "format": FORMAT,
        "content": asked.content,
        "confidence": asked.confidence,
        "prior": asked.settings.prior,
        "beliefs": [_belief(told, lead) for told, lead in zip(beliefs, leads, strict=True)],
    }


def _belief(told: ToldBelief, lead: Lead) -> dict[str, Any]:
    group, belief = told.group, told.belief
    return {
        "tape": group.tape,
        "surface": group.surface,
        "mode": group.mode,
        "coupons": group.counts,
        **belief.parameters(),
        "lead": {
            "lasts_s": told.lead.lasts_s,
            "temperature_K": told.lead.temperature_K,
            "case": lead.case,
        },
        "curve": [_point(point) for point in told.curve],
        "faces": {face.face: face.trials.failures for face in belief.faces},
        "deciding_face": told.deciding_face,
        "likelihood": None
        if told.fit is None
        else {
            "slope": told.fit.slope,
            "activation_energy_J_per_mol": told.fit.energy_J_per_mol,
            "scatter_log10_life": told.fit.scatter,
            "log_likelihood": told.fit.log_likelihood,
            "from_coupons": list(told.fit.told),
            "law_p_value": None if told.test is None else told.test.p_value,
        },
        "sharing_p_value": None if told.sharing is None else told.sharing.p_value,
        "ageing": None
        if told.ageing is None
        else {"fresh_Pa": told.ageing.fresh_Pa, "activation_energy_J_per_mol": told.ageing.energy_J_per_mol},
        "accuracy": {
            "effective_size": belief.accuracy.effective_size,
            "relative_error": finite(belief.accuracy.relative_error),
        },
        "refusals": list(belief.refusals),
        "notes": list(belief.notes),
    }


def _point(point: CurvePoint) -> dict[str, Any]:
    return {
        "lasts_s": point.lasts_s,
        "temperature_K": point.temperature_K,
        "median_Pa": finite(point.bound.median_Pa),
        "lower_bound_Pa": finite(point.bound.stress_Pa),
        "evidence": point.bound.level,
        "because": point.bound.because,
        "beyond_K": finite(point.bound.beyond_K),
        "beyond_time": finite(point.bound.beyond_time),
        "cut_to_survived": point.bound.cut,
        "prior_only_Pa": finite(point.prior_only_Pa),
        "reference_Pa": finite(point.reference_Pa),
        "likelihood_Pa": finite(point.likelihood_Pa),
        "with_spoiled_Pa": finite(point.with_spoiled_Pa),
    }
