"""Decides the word: NO, then NOT PROVEN, then conditions, then GO; every sentence from the numbers at hand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staydown.foundation.quantities import lasting, shown
from staydown.verdict.brief import Brief, Planning, governing
from staydown.verdict.checks import COVERED, HIGH, INFERRED, NONE
from staydown.verdict.find_out import things_to_find_out
from staydown.verdict.foot_text import curve_refusals, foot_doubts
from staydown.verdict.look_interval import look_interval
from staydown.verdict.standing import Standing
from staydown.verdict.verdict import Verdict

FIRST_LOOK = {"metric": "160 km (100 mi)", "us": "100 mi (160 km)"}


def refusals(standing: Standing, planning: Planning) -> list[str]:
    """Return why the answer is NO whatever the numbers: surface, tape, tilt, anchor, no mounts."""
    item = standing.item
    reasons = []
    if not item.mount:
        reasons.append("nothing holds it: the job lists no mounts")
    if standing.surface.start == "no":
        reasons.append(f"{standing.surface.name}: {standing.surface.weak_link}. {standing.surface.way_out}")
    if not standing.tape.structural:
        reasons.append(f"{standing.tape.name} is no structure: {standing.tape.why_not}")
    limit = float(planning["nose_up_limit"].decided.value)
    if (item.nose_up_rad or 0.0) > limit:
        reasons.append(
            f"nose up {shown(item.nose_up_rad or 0.0, 'rad')} in motion, over {shown(limit, 'rad')}: "
            "the wind gets under the front edge. Lay it flat before driving"
        )
    for number, tether in enumerate(item.tether, start=1):
        if tether.anchor_kind in ("bonded", "membrane"):
            reasons.append(
                f"tether {number} is anchored to {tether.anchor} ({tether.anchor_kind}): "
                "it leaves with what it should catch"
            )
    return reasons


def decide(brief: Brief) -> Verdict:
    """Return the word on one item with its reasons, conditions and what to find out."""
    no = refusals(brief.standing, brief.planning) + curve_refusals(brief) + _hopeless(brief)
    doubts = _doubts(brief)
    found = things_to_find_out(brief) if not refusals(brief.standing, brief.planning) else ()
    beside = (*_joined_otherwise(brief), *(shared.sentence for shared in brief.shared), *_unzips(brief))
    if no:
        return Verdict(word="NO", because=(*no, *beside), conditions=(), find_out=found)
    named = conditions(brief)
    if doubts:
        return Verdict(word="NOT PROVEN", because=(*doubts, *beside), conditions=named, find_out=found)
    top = governing(brief)
    mount = brief.demands.mounts[top.mount]
    because = (
        f"the most used mount is {mount} in {brief.case_name(top.case)}: {_percent(top.use)} of what is proven",
        *beside,
    )
    if named or brief.standing.never_plain:
        return Verdict(word="GO WITH CONDITIONS", because=because, conditions=named, find_out=found)
    return Verdict(word="GO", because=because, conditions=(), find_out=found)


def _joined_otherwise(brief: Brief) -> list[str]:
    """Return what uses the governing bond where that is not the way of joining with the largest peak tension."""
    top, other = governing(brief), brief.checks.other_way
    at = (top.case, HIGH, top.mount)
    if other is None or not other.counts[at]:
        return []
    peak, shear = (
        shown(float(np.asarray(number.value)[at]), "Pa", brief.system) for number in (other.peak, other.shear)
    )
    return [
        f"{brief.demands.mounts[top.mount]} in {brief.case_name(top.case)} is used most where it is joined "
        f"{brief.demands.solutions[int(other.way[at])]}: {peak} at the pad's edge with {shear} of shear, less "
        "tension and more shear than in the way with the largest peak, which is the one that is shown"
    ]


def _unzips(brief: Brief) -> list[str]:
    """Return how the most used mount unzips where its foot bends: such an edge opens by itself."""
    unzip = brief.unzip
    bends = unzip is not None and brief.demands.feet.kinds[unzip.index[2]] != "rigid"
    return [unzip.sentence] if unzip is not None and bends else []


def _percent(use: float | None) -> str:
    if use is None or np.isnan(use):
        return "not known"
    # 99.6 % must not read as 100, nor 100.4 as if it were enough
    return f"{100 * use:.1f} %" if 0.99 < use < 1.01 else f"{100 * use:.0f} %"


def _hopeless(brief: Brief) -> list[str]:
    checks = brief.checks
    over = checks.hopeless & (np.nan_to_num(checks.use_at_high()) > 1.0)
    over &= (checks.evidence[:, HIGH, :] == COVERED) | checks.moved
    if not over.any():
        return []
    use = np.where(over, checks.use_at_high(), -1.0)
    case, mount = np.unravel_index(use.argmax(), use.shape)
    names = sorted({brief.table.cases[int(c)].name for c in np.nonzero(over)[0]})
    why = (
        "heat moves the pad further than even the favourable end of what such a tape stands daily"
        if checks.moved[case, mount]
        else "even the middle of your coupons lies below it, so more of the same cannot help"
    )
    why += _by_bow(brief, int(case), int(mount))
    return [
        f"{brief.demands.mounts[int(mount)]} in {brief.case_name(int(case))} needs {_percent(float(use[case, mount]))} "
        f"of what is proven: {why} ({len(names)} case{'s' if len(names) > 1 else ''}: {', '.join(names[:4])})"
    ]


def _doubts(brief: Brief) -> list[str]:
    checks, limit = brief.checks, float(brief.planning["inferred_use_limit"].decided.value)
    use, level = checks.use_at_high(), checks.evidence[:, HIGH, :]
    doubts = []
    over = np.nan_to_num(use) > 1.0
    if over.any():
        case, mount = np.unravel_index(np.nan_to_num(use).argmax(), use.shape)
        doubts.append(
            f"{brief.demands.mounts[int(mount)]} in {brief.case_name(int(case))} needs "
            f"{_percent(float(use[case, mount]))} of what is proven{_by_bow(brief, int(case), int(mount))} "
            f"({_cases(brief, over)})"
        )
    unknown = np.minimum(checks.evidence_of["tension"], checks.evidence_of["shear"])[:, HIGH, :] == NONE
    unknown &= level == NONE
    if unknown.any():
        doubts.extend(_missing(brief, unknown))
    doubts.extend(foot_doubts(brief))
    # the strain that a tape stands daily needs no coupon: what the bow pulls in a soak does
    weak = (level == INFERRED) & (np.nan_to_num(checks.bond_use_at_high()) > limit)
    if weak.any():
        doubts.append(f"inferred, not tested, and used over {100 * limit:.0f} %: {_cases(brief, weak)}")
    doubts.extend(_uncovered_duration(brief))
    loose = [link for link in brief.chain if not link.link.known]
    for part, known_by in dict.fromkeys((link.link.part, link.link.known_by) for link in loose):
        mounts = [
            link.link.mount for link in loose if (link.link.part, link.link.known_by) == (part, known_by)
        ]
        where = "every mount" if len(mounts) == len(brief.demands.mounts) else ", ".join(mounts)
        why = "" if known_by == "unknown" else f": {known_by}"
        doubts.append(f"the {part} is unknown at {where}{why}")
    doubts.extend(
        f"the {link.link.part} at {link.link.mount} hands on {shown(link.demand_N, 'N', brief.system)} in "
        f"{brief.case_name(link.case)}: {_percent(link.use)} of its strength"
        for link in brief.chain
        if link.link.strength is not None and link.use is not None and link.use > 1.0
    )
    doubts.extend(_not_redundant(brief))
    return list(dict.fromkeys(doubts))


def _by_bow(brief: Brief, case: int, mount: int) -> str:
    """Return that the bow of the item is what pulls in a soak, with what helps."""
    checks = brief.checks
    if not checks.soaks[case] or brief.demands.bow is None or checks.strain_decides()[case, mount]:
        return ""
    return (
        "; its mounts hold down the bow of an item that is hotter on top: measure how much hotter it gets "
        "(hotter_top), or let air under it"
    )


def _not_redundant(brief: Brief) -> list[str]:
    """Return what keeps an item of high consequence from its word when one mount may not be lost."""
    if brief.standing.consequence != "high" or brief.redundancy.redundant:
        return []
    return [f"{_one_lost(brief)}. At high consequence that is not proven, however strong the bond"]


def _one_lost(brief: Brief) -> str:
    """Return what one lost mount means, and what it does to the bounds."""
    told = brief.redundancy.sentences[0]
    if brief.redundancy.redundant or not brief.capacity:
        return told
    return f"{told}; so the bounds must cover {100 * float(np.asarray(brief.content.value)):.0f} % of bonds"


def _only_in_shade(planning: Planning, system: str) -> str:
    """Return the condition under which the temperatures of a driver who parks in the shade hold."""
    stop = lasting(float(planning["sun_stop"].decided.value))
    slow = shown(float(planning["slow_driving"].decided.value), "m/s", system)
    return (
        "it holds only while parked in the shade: the whole roof, whenever the sun shines, until you drive off "
        f"(shadows move). More than {stop} of standing, or of driving slower than {slow}, in the sun, in a queue too, "
        "is parking in the sun, for which this answer does not hold"
    )


def _retention(brief: Brief) -> str:
    """Return the condition on what catches the item: what there is, or what it must be."""
    need = f"a second, independent retention to a mechanical anchor ({brief.standing.why_never_plain})"
    return f"{need}: {'; '.join(brief.retention.sentences)}"


def _cases(brief: Brief, mask: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> str:
    names = list(dict.fromkeys(brief.case_name(int(c)) for c in np.nonzero(mask)[0]))
    shown_names = "; ".join(names[:3])
    return shown_names if len(names) <= 3 else f"{shown_names} and {len(names) - 3} more"


def _missing(brief: Brief, unknown: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> list[str]:
    """Return one sentence for each reason why cases have no evidence, with the cases it stops."""
    rows = np.nonzero(unknown.any(axis=1))[0]
    reasons: dict[str, list[int]] = {}
    tension = brief.capacity.get("tension")
    for row in rows:
        case = brief.table.cases[int(row)]
        why = (
            "no coupon pulled in tension on this surface"
            if tension is None
            else tension.answer(int(row), 0).because
        )
        key = f"at {shown(case.exposure.temperature_K, 'K', brief.system)} for {lasting(case.exposure.lasts_s)}: {why}"
        reasons.setdefault(key, []).append(int(row))
    if tension is None:
        return [
            f"no coupon pulled in tension on this surface, so {len(rows)} of {len(brief.table.cases)} "
            "cases rest on nothing"
        ]
    return [f"no evidence {key} ({_names(brief, mine)})" for key, mine in reasons.items()]


def _names(brief: Brief, rows: Sequence[int]) -> str:
    names = list(dict.fromkeys(brief.table.cases[row].name for row in rows))
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")


def _uncovered_duration(brief: Brief) -> list[str]:
    """Return the classes of duration whose most used case is only inferred."""
    use = np.nan_to_num(brief.checks.bond_use_at_high())
    bowed = brief.demands.bow is not None
    least = float(brief.planning["negligible_use"].decided.value)
    doubts = []
    classes: dict[str, list[int]] = {}
    for index, case in enumerate(brief.table.cases):
        if case.family != "soak" or bowed:
            classes.setdefault(case.exposure.duration_class, []).append(index)
    for name, rows in classes.items():
        part = use[rows, :]
        if part.size and part.max() > least:
            row, mount = np.unravel_index(part.argmax(), part.shape)
            most_used = rows[int(row)]
            if brief.checks.evidence[most_used, HIGH, int(mount)] == INFERRED:
                doubts.append(
                    f"the most used case that lasts {name} ({brief.case_name(most_used)}, "
                    f"{_percent(float(part.max()))}) is inferred: it needs a test of its own"
                )
    return doubts


def conditions(brief: Brief) -> tuple[str, ...]:
    """Return the named conditions under which the item may go."""
    named = [
        f"it rests on your own value for the {card.what}: {card.decided.value:g} ({card.band.source})"
        for card in brief.planning.values()
        if card.band.basis == "typed"
    ]
    standing = brief.standing
    if standing.in_shade:
        named.append(_only_in_shade(brief.planning, brief.system))
    side = max(standing.item.length_m, standing.item.width_m)
    if brief.demands.flexible is None and side > float(brief.planning["rigid_side"].decided.value):
        named.append(
            "the item was taken as rigid, the favourable end, since neither its kind nor its stiffness is known: one "
            "that bends pries harder at its feet"
        )
    if standing.never_plain:
        named.append(_retention(brief))
        told = "" if _not_redundant(brief) else f": {_one_lost(brief)}"
        named.append(f"look at every mount before each trip{told}")
        if brief.unzip is not None:
            named.append(
                f"slide a card along the edges of the pads: {brief.unzip.sentence}. Count a mount "
                "with an opened edge as lost, and do not glue it"
            )
        named += brief.redundancy.sentences[1:]
        if brief.demands.bow is not None:
            named.append(
                "with a mount lost only cruise and gusts are judged, not the bow in the sun: an item that lost one "
                "comes off the roof, or is held otherwise, before it stands in the sun"
            )
    elif brief.standing.item.tether:
        named += brief.retention.sentences
    for mode, capacity in brief.capacity.items():
        named.extend(capacity.statements)
        if capacity.planned_wet:
            card = brief.planning["wet_and_age"]
            named.append(
                f"{mode}: wet and age taken as {card.decided.value:g} of the dry strength, a planning value"
                + (": conditioned coupons within a year" if standing.consequence == "high" else "")
            )
    if standing.never_plain:
        every_s, why = look_interval(brief.checks, standing.consequence, brief.planning)
        closer = every_s < float(brief.planning["inspection_interval"].decided.value)
        because = f" ({'; '.join(why)})" if closer else ""
        named += [
            "seal all edges of the pads against water; no brush wash; clear snow before driving",
            "one leg, one storm and one week of snow are judged: what repeated trips add up to over the years is not "
            "counted, whatever years of service and hours a year are given",
            f"look again after 15 to 30 minutes of the first drive, after {FIRST_LOOK[brief.system]}, after the first "
            f"hot week, and at least every {lasting(every_s)}{because}",
        ]
    return tuple(dict.fromkeys(named))
