"""What happened and was not looked at yet: until then nothing that was proven counts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from staydown.evidence.history import BREAKS, RESETS, Happening, History, Inspection
from staydown.evidence.slip import Slip, SlipRules, Thermal, read_slip
from staydown.foundation.quantities import both, shown
from staydown.library.cards import PlanningValue
from staydown.verdict.verdict import Verdict

Planning = Mapping[str, PlanningValue]


def slip_rules(planning: Planning) -> SlipRules:
    """Return when a slip is watched and when it ends a bond, from the planning values."""
    return SlipRules(
        watch=float(planning["slip_watch"].decided.value),
        limit=float(planning["slip_limit"].decided.value),
        reach_K=float(planning["slip_temperature_reach"].decided.value),
        reading_m=float(planning["slip_reading"].decided.value),
    )


def unsettled(
    history: History,
    item: str,
    feet: Sequence[str],
    thickness_m: float,
    thermal: Mapping[str, Thermal],
    planning: Planning,
    system: str,
) -> tuple[str, ...]:
    """Return why an item must be looked at, or bonded anew, before its verdict counts; empty where nothing is open.

    Parameters
    ----------
    history : History
        All that the logbook tells.
    item, feet : str, sequence of str
        The item and its mounts.
    thickness_m : float
        Of its tape. [m]
    thermal : mapping
        Reversible movement of each foot, where it is known.
    planning : mapping
        Planning values by id.
    system : str
        "metric" or "us".
    """
    own = history.of(item)
    rules = slip_rules(planning)
    reasons: list[str] = []
    for foot in feet:
        slip = read_slip(own, item, foot, thickness_m, thermal.get(foot), rules)
        reasons += _of_foot(own, item, foot, slip, system)
    gust = float(planning["event_gust"].decided.value)
    reasons += [
        f"{_told(happening, system)}: nobody has looked at every foot since"
        for happening in own.happenings
        if _open(happening, own, feet, gust)
    ]
    return tuple(dict.fromkeys(reasons))


def with_unsettled(verdict: Verdict, reasons: Sequence[str]) -> Verdict:
    """Return the verdict with what must be looked at first: NOT PROVEN until then, NO stays NO."""
    if not reasons:
        return verdict
    first = tuple(f"must be looked at first: {reason}" for reason in reasons)
    if verdict.word in ("NO", "NOT PROVEN"):
        return replace(verdict, because=(*first, *verdict.because))
    return replace(verdict, word="NOT PROVEN", because=first)


def looked_at_all(inspection: Inspection, feet: Sequence[str]) -> bool:
    """Return whether an inspection tells of the edges of every foot."""
    return set(feet) <= set(inspection.gaps)


def _open(happening: Happening, own: History, feet: Sequence[str], gust_m_per_s: float) -> bool:
    if happening.what not in RESETS or _weak(happening, gust_m_per_s):
        return False
    when = happening.entry.when
    looked = any(one.entry.when >= when and looked_at_all(one, feet) for one in own.inspections)
    anew = bool(feet) and all(
        any(one.entry.when >= when and foot in one.feet for one in own.bondings) for foot in feet
    )
    return not looked and not anew


def _weak(happening: Happening, gust_m_per_s: float) -> bool:
    """Return whether a storm blew less than the gust after which everything is inspected."""
    return (
        happening.what == "storm"
        and happening.gust_m_per_s is not None
        and happening.gust_m_per_s <= gust_m_per_s
    )


def _of_foot(own: History, item: str, foot: str, slip: Slip, system: str) -> list[str]:
    bonding = own.bonded(item, foot)
    since = None if bonding is None else bonding.entry.when
    reasons = []
    for happening in own.happenings:
        broke = happening.what in BREAKS and foot in happening.feet
        if broke and (since is None or happening.entry.when > since):
            reasons.append(
                f"{foot} {_broke(happening)} on {_day(happening)}: bond it anew; do not glue its edge"
            )
    for one in own.inspections:
        if since is not None and one.entry.when < since:
            continue
        gap_m = one.gaps.get(foot, 0.0)
        if gap_m > 0.0:
            reasons.append(
                f"{foot} is open at an edge, {_small(gap_m)} deep on {one.entry.when:%Y-%m-%d}: count it as "
                "lost and bond it anew; do not glue its edge"
            )
        pull = one.pulls.get(foot)
        if pull is not None and not pull.held:
            reasons.append(
                f"{foot} did not hold a proof pull of {both(pull.force_N, 'N', system)}: bond it anew"
            )
        elif pull is not None and pull.allowed_N is not None and pull.force_N > pull.allowed_N:
            again = any(later.entry.when > one.entry.when and foot in later.gaps for later in own.inspections)
            if not again:
                reasons.append(
                    f"{foot} was pulled with {both(pull.force_N, 'N', system)}, over the "
                    f"{both(pull.allowed_N, 'N', system)} that do no harm: look at its edges again"
                )
    if slip.grade == "re-bond":
        reasons.append(_slipped(slip))
    return reasons


def _slipped(slip: Slip) -> str:
    last = slip.last
    if last is None or last.net is None:
        return f"{slip.foot} slips: bond it anew"
    grows = " and it grew in two readings one after the other" if slip.growing else ""
    return (
        f"{slip.foot} has slipped {_small(last.slip_m)}, "
        f"{100 * float(last.net.value):.0f} % of its tape{grows}: bond it anew"
    )


def _small(length_m: float) -> str:
    """Return a short length finely enough: `0.4 mm (0.016 in)`."""
    return f"{shown(length_m, 'm', 'metric', 1)} ({shown(length_m, 'm', 'us', 3)})"


def _broke(happening: Happening) -> str:
    return {"opened": "opened at an edge", "slipped": "slipped", "let go": "let go"}[happening.what]


def _told(happening: Happening, system: str) -> str:
    gust = "" if happening.gust_m_per_s is None else f", gust {both(happening.gust_m_per_s, 'm/s', system)}"
    return f"{happening.what} on {_day(happening)}{gust}"


def _day(happening: Happening) -> str:
    return f"{happening.entry.when:%Y-%m-%d}"
