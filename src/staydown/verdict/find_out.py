"""What is worth finding out next: the tests for what no test covers, the links that nobody knows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staydown.foundation.quantities import STANDARD_GRAVITY_m_per_s2, both, lasting
from staydown.strength import classical_laws, tolerance_laws
from staydown.verdict.brief import Brief
from staydown.verdict.checks import COVERED, HIGH

MOST = 3
PULLS = 5  # the tolerance factor falls steeply to five coupons and slowly after; common practice, no source


def things_to_find_out(brief: Brief) -> tuple[str, ...]:
    """Return at most three things, the one that stands behind the largest stress first."""
    uncovered = _uncovered(brief)
    found = [*_pulls_wanted(brief, uncovered), *_hangs_wanted(brief, uncovered)]
    texts = [text for _, text in sorted(found, key=lambda pair: -pair[0])]
    loose = list(dict.fromkeys(link.link.part for link in brief.chain if not link.link.known))
    if loose:
        largest = max(link.demand_N for link in brief.chain)
        texts.insert(
            min(1, len(texts)),
            f"the strength of the {_listed(loose)} at one mount: pull one of the same make on the bench past "
            f"{both(largest, 'N', brief.system)}",
        )
    return tuple(texts[:MOST])


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def _uncovered(brief: Brief) -> list[int]:
    """Return the cases in which some mount is pulled and the answer is not covered and below 100 %."""
    level = brief.checks.evidence[:, HIGH, :]
    use = brief.checks.use_at_high()
    peak = _peak(brief)
    short = (level != COVERED) | (np.nan_to_num(use, nan=2.0) > 1.0)
    wanted = short & (peak > 0.0)
    return [
        int(row) for row in np.nonzero(wanted.any(axis=1))[0] if brief.table.cases[int(row)].family != "soak"
    ]


def _peak(brief: Brief) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    shape = brief.checks.evidence.shape
    return np.broadcast_to(np.asarray(brief.demands.peak_tension.value, dtype=float), shape)[:, HIGH, :]


def _kept(brief: Brief) -> float:
    tension = brief.capacity.get("tension")
    return float((brief.wet if tension is None else tension.wet).value)


def _pulls_wanted(brief: Brief, rows: Sequence[int]) -> list[tuple[float, str]]:
    """Return the pull-offs worth making, hot and cold apart, each with the stress that stands behind it."""
    cases = brief.table.cases
    reach = float(brief.planning["temperature_reach"].decided.value)
    short = [row for row in rows if cases[row].exposure.duration_class == "seconds"]
    warmest = max((cases[row].exposure.temperature_K for row in short), default=0.0)
    wanted = []
    for season in ("hot", "cold"):
        mine = [row for row in short if cases[row].exposure.season == season]
        if not mine:
            continue
        stress = float(_peak(brief)[mine].max())
        hot = season == "hot"
        hot_kept = brief.hot_kept if hot else None
        if hot and hot_kept is not None:
            where, kept_hot = "at room temperature (your typed hot ratio carries them)", float(hot_kept.value)
        elif hot:
            where, kept_hot = f"at {both(warmest - reach, 'K', brief.system)} or hotter", 1.0
        else:
            coldest = min(cases[row].exposure.temperature_K for row in mine)
            where, kept_hot = f"at {both(coldest + reach, 'K', brief.system)} or colder (a freezer)", 1.0
        wanted.append((stress, _pull_text(brief, stress, kept_hot, where, mine)))
    return wanted


def _pull_text(brief: Brief, stress_Pa: float, kept_hot: float, where: str, rows: Sequence[int]) -> str:
    planning = brief.planning
    factor = tolerance_laws.tolerance_factor(
        PULLS, float(planning["content"].decided.value), float(planning["confidence"].decided.value)
    )
    scatter = float(planning["coupon_scatter"].decided.value)
    mean = float(classical_laws.mean_needed(stress_Pa, factor, scatter, kept_hot, _kept(brief)))
    side = float(planning["coupon_side"].decided.value)
    force = mean * side**2
    names = list(dict.fromkeys(brief.table.cases[row].name for row in rows))
    listed = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    return (
        f"{PULLS} straight pull-offs on the prepared roof {where}, in three zones, for {listed}: squares of "
        f"{1e3 * side:.0f} x {1e3 * side:.0f} mm must average {both(mean, 'Pa', brief.system)} at {100 * scatter:.0f} % "
        f"scatter, that is {both(force, 'N', brief.system)} or {force / STANDARD_GRAVITY_m_per_s2:.0f} kg each"
    )


def _hangs_wanted(brief: Brief, rows: Sequence[int]) -> list[tuple[float, str]]:
    cases = brief.table.cases
    reach = float(brief.planning["temperature_reach"].decided.value)
    long = [row for row in rows if cases[row].exposure.duration_class != "seconds"]
    if not long:
        return []
    stress = float(_peak(brief)[long].max())
    needed = stress / _kept(brief)
    warmest = max(cases[row].exposure.temperature_K for row in long)
    longest = max(cases[row].exposure.lasts_s for row in long)
    names = list(dict.fromkeys(cases[row].name for row in long))
    listed = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    return [
        (
            stress,
            f"{PULLS} hang tests in straight tension at {both(needed, 'Pa', brief.system)} or more, "
            f"{both(warmest - reach, 'K', brief.system)} or hotter, {lasting(longest)} or longer, for {listed}",
        )
    ]
