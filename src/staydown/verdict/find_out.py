"""What is worth finding out next: the tests for what no test covers, the links that nobody knows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staydown.foundation.exposure import Mode
from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2, both, lasting
from staydown.strength import classical_laws, rupture_laws, tolerance_laws
from staydown.verdict.brief import Brief
from staydown.verdict.checks import COVERED, HIGH
from staydown.verdict.foot_text import peels_wanted

MOST = 3
PULLED_TOGETHER = ("upper bond", "lower bond", "coating", "skin")
PULL_s = 8.0  # a pull by hand through a scale; common practice, no source
PULLS = 5  # the tolerance factor falls steeply to five coupons and slowly after; common practice, no source


def things_to_find_out(brief: Brief) -> tuple[str, ...]:
    """Return at most three things, the one that stands behind the largest share of what is proven first."""
    found = [
        *_pulls_wanted(brief, "tension"),
        *_hangs_wanted(brief, "tension"),
        *_pulls_wanted(brief, "shear"),
        *_hangs_wanted(brief, "shear"),
    ]
    texts = [text for _, text in sorted(found, key=lambda pair: -pair[0])]
    peels = peels_wanted(brief)
    # an edge that peels on no evidence is the next test: no straight pull speaks for it
    texts[:0] = [text for unknown, text in peels if unknown][:1]
    texts += [text for unknown, text in peels if not unknown]
    loose = list(dict.fromkeys(link.link.part for link in brief.chain if not link.link.known))
    typed_apart = [part for part in loose if part not in PULLED_TOGETHER]
    if typed_apart:
        largest = max(link.demand_N for link in brief.chain)
        texts.insert(
            min(1, len(texts)),
            f"the strength of the {_listed(typed_apart)} at one mount: pull one of the same make on the bench past "
            f"{both(largest, 'N', brief.system)}",
        )
    if not texts and loose:
        texts.append(
            f"{PULLS} pull-offs of the real foot on this roof: they load the {_listed(loose)} together"
        )
    return tuple(texts[:MOST])


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def _uncovered(brief: Brief, mode: Mode) -> list[int]:
    """Return the cases in which a mount is stressed in this mode and its answer is not covered, or over 100 %."""
    checks = brief.checks
    level = checks.evidence_of[mode][:, HIGH, :]
    own = checks.tension_use if mode == "tension" else checks.shear_use
    use = np.broadcast_to(np.asarray(own.value, dtype=float), checks.evidence.shape)[:, HIGH, :]
    wanted = ((level != COVERED) | (np.nan_to_num(use, nan=2.0) > 1.0)) & (_stress(brief, mode) > 0.0)
    return [int(row) for row in np.nonzero(wanted.any(axis=1))[0]]


def _stress(brief: Brief, mode: Mode) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    number = brief.demands.peak_tension if mode == "tension" else brief.demands.shear
    shape = brief.checks.evidence.shape
    return np.broadcast_to(np.asarray(number.value, dtype=float), shape)[:, HIGH, :]


def _kept(brief: Brief) -> float:
    tension = brief.capacity.get("tension")
    return float((brief.wet if tension is None else tension.wet).value)


def _pulls_wanted(brief: Brief, mode: Mode) -> list[tuple[float, str]]:
    """Return the pulls worth making, hot and cold apart, each with the stress that stands behind it."""
    cases = brief.table.cases
    reach = float(brief.planning["temperature_reach"].decided.value)
    short = [row for row in _uncovered(brief, mode) if cases[row].exposure.duration_class == "seconds"]
    wanted = []
    for season in ("hot", "cold"):
        mine = [row for row in short if cases[row].exposure.season == season]
        if not mine:
            continue
        stress = float(_stress(brief, mode)[mine].max())
        ratio = brief.hot_kept if season == "hot" and mode == "tension" else None
        if ratio is not None:
            where, kept_hot = "at room temperature (your typed hot ratio carries them)", float(ratio.value)
        elif season == "hot":
            warmest = max(cases[row].exposure.temperature_K for row in mine)
            where, kept_hot = f"at {both(warmest - reach, 'K', brief.system)} or hotter", 1.0
        else:
            coldest = min(cases[row].exposure.temperature_K for row in mine)
            where, kept_hot = f"at {both(coldest + reach, 'K', brief.system)} or colder (a freezer)", 1.0
        wanted.append((stress, _pull_text(brief, mode, stress, kept_hot, where, mine)))
    return wanted


def _pull_text(
    brief: Brief, mode: Mode, stress_Pa: float, kept_hot: float, where: str, rows: Sequence[int]
) -> str:
    planning = brief.planning
    factor = tolerance_laws.tolerance_factor(
        PULLS, float(np.asarray(brief.content.value)), float(planning["confidence"].decided.value)
    )
    scatter = float(planning["coupon_scatter"].decided.value)
    mean = float(classical_laws.mean_needed(stress_Pa, factor, scatter, kept_hot, _kept(brief)))
    side = float(planning["coupon_side"].decided.value)
    force = mean * side**2
    most = _most_of_class(brief)
    if mean > most:
        return (
            f"a change before any test: for {_cases(brief, rows)} pulls {where} would have to average "
            f"{both(mean, 'Pa', brief.system)}, and such a tape hardly reaches {both(most, 'Pa', brief.system)}. "
            "Bring the line of pull to the middle of the pads, or take larger or more of them"
        )
    what = "straight pull-offs on the prepared roof" if mode == "tension" else "double-lap shear pulls"
    return (
        f"{PULLS} {what} {where}, for {_cases(brief, rows)}: squares of "
        f"{1e3 * side:.0f} x {1e3 * side:.0f} mm must average {both(mean, 'Pa', brief.system)} at "
        f"{100 * scatter:.0f} % scatter, that is {both(force, 'N', brief.system)} or "
        f"{force / STANDARD_GRAVITY_m_per_s2:.0f} kg each"
    )


def _most_of_class(brief: Brief) -> float:
    """Return the stress at which a pull of the best tape of this class would break. [Pa]"""
    tape = brief.standing.tape
    static_s = rupture_laws.ramp_static_life(PULL_s, tape.slope.likely)
    return float(
        rupture_laws.stress_for_life(
            static_s, tape.strength_1h_23C.high, rupture_laws.HOUR_s, tape.slope.likely
        )
    )


def _cases(brief: Brief, rows: Sequence[int]) -> str:
    names = list(dict.fromkeys(brief.table.cases[row].name for row in rows))
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")


def _hangs_wanted(brief: Brief, mode: Mode) -> list[tuple[float, str]]:
    cases = brief.table.cases
    reach = float(brief.planning["temperature_reach"].decided.value)
    long = [row for row in _uncovered(brief, mode) if cases[row].exposure.duration_class != "seconds"]
    if not long:
        return []
    stress = float(_stress(brief, mode)[long].max())
    warmest = max(cases[row].exposure.temperature_K for row in long)
    longest = max(cases[row].exposure.lasts_s for row in long)
    way = "straight tension" if mode == "tension" else "shear"
    return [
        (
            stress,
            f"{PULLS} hang tests in {way} at {both(stress / _kept(brief), 'Pa', brief.system)} or more, "
            f"{both(warmest - reach, 'K', brief.system)} or hotter, {lasting(longest)} or longer, "
            f"for {_cases(brief, long)}",
        )
    ]
