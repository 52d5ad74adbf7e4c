"""Builds what is due: the first looks after bonding, the rhythm by use, evidence and consequence, slips read again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from staydown.assess import ItemAssessment, movements
from staydown.evidence.history import DRIVES, History, Inspection
from staydown.evidence.slip import Slip, read_slip
from staydown.library.cards import PlanningValue
from staydown.verdict.checks import HIGH
from staydown.verdict.look_interval import look_interval
from staydown.verdict.unsettled import looked_at_all, slip_rules

Planning = Mapping[str, PlanningValue]
MONTH = timedelta(days=30)
FIRST_LOOK = timedelta(minutes=30)
QUARTER = timedelta(days=91)
SOON = "look again after 15 to 30 minutes of the first drive"
WHEN_REACHED = (
    "after the first 160 km (100 mi)",
    "after the first hot week",
    "before any trip over 800 km (500 mi)",
    "after every storm over 97 km/h (60 mph), branch, hail, hard braking, respray, brush wash or work on the roof",
)

State = Literal["now", "due", "later", "when reached"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One look that is owed. at: None where it is due when something is reached; what: said as an order."""

    item: str
    what: str
    at: datetime | None
    state: State
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FootLook:
    """One foot in the order in which it is looked at: its use, its slip, its last open edge. [1, m]"""

    foot: str
    use: float | None
    evidence: str
    slip: Slip
    gap_m: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionPlan:
    """What is due at one item. interval_s: between full inspections, why: that long. feet: the most used first. [s]"""

    item: str
    dues: tuple[Due, ...]
    interval_s: float
    why: str
    feet: tuple[FootLook, ...]
    bonded: bool


def inspection_plan(
    assessed: ItemAssessment,
    thickness_m: float,
    history: History,
    unsettled: Sequence[str],
    dwell_end: tuple[datetime, datetime] | None,
    planning: Planning,
    now: datetime,
) -> InspectionPlan:
    """Return what is due at an item on a day.

    Parameters
    ----------
    assessed : ItemAssessment
        The item with its use and evidence.
    thickness_m : float
        Of its tape. [m]
    history : History
        All that the logbook tells.
    unsettled : sequence of str
        What must be looked at first.
    dwell_end : (datetime, datetime) or None
        First careful drive and full load of the bond; None where no bonding was written down.
    planning : mapping
        Planning values by id.
    now : datetime
        The day.
    """
    item = assessed.item
    own = history.of(item.name)
    feet = [mount.name for mount in item.mount]
    interval_s, why = _interval(assessed, planning)
    looks = _feet(assessed, thickness_m, own, planning)
    dues = [Due(item=item.name, what=reason, at=now, state="now") for reason in unsettled]
    if dwell_end is not None:
        dues += _first_looks(item.name, own, dwell_end, now, feet)
    last = _last_full(own, feet)
    since = last.entry.when if last is not None else None if dwell_end is None else dwell_end[1]
    if since is not None:
        at = since + timedelta(seconds=interval_s)
        dues.append(_dated(item.name, "look at every foot", at, now, why))
    for look in looks:
        if look.slip.grade == "watch" and look.slip.readings:
            at = look.slip.readings[-1].when + MONTH
            dues.append(
                _dated(item.name, f"read the slip mark of {look.foot} again", at, now, "it has begun to slip")
            )
    dues += [
        Due(item=item.name, what=f"look at every foot {when}", at=None, state="when reached")
        for when in WHEN_REACHED
    ]
    if not any(own.bondings):
        why_now = "no record of how it was bonded: treat it as NOT PROVEN"
        what = "write down how it was bonded"
        dues.insert(0, Due(item=item.name, what=what, at=None, state="when reached", why=why_now))
    return InspectionPlan(
        item=item.name,
        dues=tuple(dues),
        interval_s=interval_s,
        why=why,
        feet=looks,
        bonded=bool(own.bondings),
    )


def _first_looks(
    item: str, own: History, dwell_end: tuple[datetime, datetime], now: datetime, feet: Sequence[str]
) -> list[Due]:
    """Return the looks of a new bond: before the first drive, soon after it, after a quarter."""
    first_drive, full = dwell_end
    bonded = max(one.entry.when for one in own.bondings)
    drives = [one.entry.when for one in own.happenings if one.what in DRIVES and one.entry.when >= bonded]
    looks = [
        one.entry.when for one in own.inspections if looked_at_all(one, feet) and one.entry.when >= bonded
    ]
    dues = []
    if not looks:
        dues.append(
            _dated(
                item,
                "look at every foot before the first drive",
                first_drive,
                now,
                "not before the bond may be driven",
            )
        )
    if drives and not any(look >= drives[0] for look in looks):
        at = drives[0] + FIRST_LOOK
        dues.append(
            _dated(
                item,
                "look again after 15 to 30 minutes of the first drive",
                at,
                now,
                "what was done badly shows at once",
            )
        )
    elif not drives:
        dues.append(
            Due(
                item=item,
                what="look again after 15 to 30 minutes of the first drive",
                at=None,
                state="when reached",
            )
        )
    quarter = full + QUARTER
    if not any(look >= quarter for look in looks):
        dues.append(_dated(item, "look at every foot, three months on", quarter, now, "the first season"))
    return dues


def _dated(item: str, what: str, at: datetime, now: datetime, why: str) -> Due:
    return Due(item=item, what=what, at=at, state="due" if at <= now else "later", why=why)


def _last_full(own: History, feet: Sequence[str]) -> Inspection | None:
    full = [one for one in own.inspections if looked_at_all(one, feet)]
    return full[-1] if full else None


def _interval(assessed: ItemAssessment, planning: Planning) -> tuple[float, str]:
    """Return the time between full inspections and why it is that: by consequence, use and evidence."""
    if assessed.mounted is None:
        return float(planning["inspection_close"].decided.value), "nothing is known of its bond"
    interval_s, reasons = look_interval(assessed.mounted.checks, assessed.standing.consequence, planning)
    return interval_s, "; ".join(reasons) or "little used, covered by tests, little would be lost"


def _feet(
    assessed: ItemAssessment, thickness_m: float, own: History, planning: Planning
) -> tuple[FootLook, ...]:
    """Return the feet, the most used first; a foot for which nothing is proven before all others."""
    rules, mounted, item = slip_rules(planning), assessed.mounted, assessed.item
    thermal = {} if mounted is None else movements(mounted)
    uses = None if mounted is None else mounted.checks.use_at_high().max(axis=0)
    looks = []
    for number, mount in enumerate(item.mount):
        use = None if uses is None or np.isnan(uses[number]) else float(uses[number])
        worst = None if mounted is None else int(mounted.checks.evidence[:, HIGH, number].min())
        gaps = [one.gaps[mount.name] for one in own.inspections if mount.name in one.gaps]
        looks.append(
            FootLook(
                foot=mount.name,
                use=use,
                evidence="none" if worst is None else ("none", "inferred", "covered")[worst],
                slip=read_slip(own, item.name, mount.name, thickness_m, thermal.get(mount.name), rules),
                gap_m=gaps[-1] if gaps else None,
            )
        )
    return tuple(sorted(looks, key=lambda look: -np.inf if look.use is None else -look.use))
