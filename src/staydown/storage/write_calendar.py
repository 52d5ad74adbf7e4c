"""Dates as an iCalendar file (RFC 5545), by a library that knows its folding and escaping."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from staydown.foundation.version import VERSION

REMIND_BEFORE = timedelta(hours=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Date:
    """One date: what, when it begins, for how long, a note; key: what stays the same when it is written again. [min]"""

    what: str
    key: str
    at: datetime
    minutes: int
    note: str = ""


def calendar(name: str, dates: Sequence[Date], now: datetime) -> bytes:
    """Return a calendar with a reminder for every date; times in UTC, the same key the same UID.

    Parameters
    ----------
    name : str
        Of the job.
    dates : sequence of Date
        In any order.
    now : datetime
        When it was written.
    """
    from icalendar import Alarm, Calendar, Event

    whole = Calendar()
    whole.add("prodid", f"-//staydown//staydown {VERSION}//EN")
    whole.add("version", "2.0")
    whole.add("x-wr-calname", f"{name}: looking after it")
    stamp = now.astimezone(UTC).replace(microsecond=0)
    for date in sorted(dates, key=lambda one: (one.at, one.what)):
        begin = date.at.astimezone(UTC).replace(microsecond=0)
        entry = Event()
        told = f"{name}\n{date.key}"
        entry.add("uid", f"{hashlib.sha256(told.encode()).hexdigest()[:32]}@staydown")
        entry.add("dtstamp", stamp)
        entry.add("dtstart", begin)
        entry.add("dtend", begin + timedelta(minutes=date.minutes))
        entry.add("summary", date.what)
        if date.note:
            entry.add("description", date.note)
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", date.what)
        alarm.add("trigger", -REMIND_BEFORE)
        entry.add_component(alarm)
        whole.add_component(entry)
    written: bytes = whole.to_ical()
    return written
