"""What the feet have to say in a verdict: too little tape on a curve, edges that peel without proof, what unzips."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staydown.foundation.numbers import Number
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2, both, lasting
from staydown.strength import classical_laws, tolerance_laws
from staydown.verdict.brief import Brief
from staydown.verdict.checks import COVERED, HIGH, NONE

STRIPS = 5  # as for pulls: the tolerance factor falls steeply to five coupons and slowly after
STRIP_WIDTH_m = 0.025  # of a peel coupon; common practice, no source


def curve_refusals(brief: Brief) -> list[str]:
    """Return why a flat foot cannot be bonded where its roof curves away further than the tape is thick."""
    return [text for over, text in _curves(brief) if over]


def foot_doubts(brief: Brief) -> list[str]:
    """Return what is not proven of the feet: tape that hardly fills a curve, edges that peel on no evidence."""
    return [*(text for over, text in _curves(brief) if not over), *_unproven_peel(brief)]


def _curves(brief: Brief) -> list[tuple[bool, str]]:
    """Return for each foot with too thin a tape whether the gap is over its thickness, and the sentence."""
    thickness_m = brief.tape_thickness_m
    told = []
    for mount, fit in zip(brief.demands.mounts, brief.demands.feet.fits, strict=True):
        if fit is None or float(fit.least_tape.value) <= thickness_m:
            continue
        gap_m, least_m = float(fit.gap.value), float(fit.least_tape.value)
        over = gap_m > thickness_m
        why = "it cannot touch all over" if over else "that hardly fills it"
        told.append(
            (
                over,
                f"{mount} is flat on a curved roof and leaves a gap of {_fine(gap_m, brief)} under a tape of "
                f"{_fine(thickness_m, brief)}: {why}. It takes a tape of at least {_fine(least_m, brief)}, "
                "a narrower foot, or a foot shaped to the roof",
            )
        )
    return told


def _fine(length_m: float, brief: Brief) -> str:
    metric, us = f"{1e3 * length_m:.2f} mm", f"{length_m / 0.0254:.3f} in"
    return f"{us} ({metric})" if brief.system == "us" else f"{metric} ({us})"


def _high(brief: Brief, number: Number) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.broadcast_to(np.asarray(number.value, dtype=float), brief.checks.evidence.shape)[:, HIGH, :]


def _rows(wanted: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> list[int]:
    return [int(row) for row in np.nonzero(wanted.any(axis=1))[0]]


def _unproven_peel(brief: Brief) -> list[str]:
    level = brief.checks.evidence_of["peel"][:, HIGH, :]
    loose = level == NONE
    rows = _rows(loose)
    if not rows:
        return []
    feet, peel = brief.demands.feet, _high(brief, brief.demands.peel)
    names = [name for number, name in enumerate(feet.mounts) if loose[:, number].any()]
    worst = int(np.where(loose, peel, -1.0).max(axis=0).argmax())
    number = float(feet.over_bands(feet.number)[HIGH, worst])
    rigid_m = float(feet.over_bands(feet.rigid_from)[HIGH, worst])
    capacity = brief.capacity.get("peel")
    why = (
        "no coupon was peeled on this surface"
        if capacity is None
        else capacity.answer(rows[0], worst).because
    )
    bend = "bends" if len(names) == 1 else "bend"
    load = both(float(peel[rows].max()), "N/m", brief.system)
    return [
        f"{_listed(names)} {bend} on the tape ({feet.kinds[worst]}, lambda L {number:.2f}): the edge peels at up to "
        f"{load}, and {why}. Straight pulls prove nothing for it; "
        f"a plate of {both(rigid_m, 'm', brief.system)} would not bend"
    ]


def peels_wanted(brief: Brief) -> list[tuple[bool, str]]:
    """Return the peel coupons worth making, pulled and hung apart; True where no coupon speaks for the edge yet."""
    level = brief.checks.evidence_of["peel"][:, HIGH, :]
    peel, use = _high(brief, brief.demands.peel), _high(brief, brief.checks.peel_use)
    rows = _rows(((level != COVERED) | (np.nan_to_num(use, nan=2.0) > 1.0)) & (peel > 0.0))
    cases = brief.table.cases
    reach_K = float(brief.planning["temperature_reach"].decided.value)
    wanted = []
    for short in (True, False):
        mine = [row for row in rows if (cases[row].exposure.duration_class == "seconds") == short]
        if not mine:
            continue
        load = float(peel[mine].max())
        warmest = both(max(cases[row].exposure.temperature_K for row in mine) - reach_K, "K", brief.system)
        none = bool((level[mine] == NONE).any())
        wanted.append((none, _peel_text(brief, load, warmest, mine, short)))
    return wanted


def _peel_text(brief: Brief, load_N_per_m: float, warmest: str, rows: Sequence[int], short: bool) -> str:
    planning, capacity = brief.planning, brief.capacity.get("peel")
    kept = float((brief.wet if capacity is None else capacity.wet).value)
    names = list(dict.fromkeys(brief.table.cases[row].name for row in rows))
    told = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    strips = f"{STRIPS} strips of {both(STRIP_WIDTH_m, 'm', brief.system)}"
    if not short:
        longest = max(brief.table.cases[row].exposure.lasts_s for row in rows)
        return (
            f"{strips} hung so that they peel at {both(load_N_per_m / kept, 'N/m', brief.system)} or more, {warmest} "
            f"or hotter, {lasting(longest)} or longer, for {told}"
        )
    scatter = float(planning["coupon_scatter"].decided.value)
    factor = tolerance_laws.tolerance_factor(
        STRIPS, float(np.asarray(brief.content.value)), float(planning["confidence"].decided.value)
    )
    # the same shares apply to a line load as to a stress
    mean = float(classical_laws.mean_needed(load_N_per_m, factor, scatter, 1.0, kept))
    force = mean * STRIP_WIDTH_m
    return (
        f"{strips} peeled off the prepared roof, {warmest} or hotter, for {told}: they must average "
        f"{both(mean, 'N/m', brief.system)} at {100 * scatter:.0f} % scatter, that is {both(force, 'N', brief.system)} "
        f"or {force / STANDARD_GRAVITY_m_per_s2:.0f} kg each"
    )


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]
