"""Dates as iCalendar: read again by a library, long and odd words whole, the same key the same date."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

from icalendar import Calendar

from staydown.storage.write_calendar import Date, calendar

NOW = datetime(2026, 5, 4, 10, 0, tzinfo=UTC)
ODD = "front left; gap, 3\\4 mm: \u5c4b\u6839 " + "long " * 30


def test_what_is_written_is_read_again() -> None:
    """Moments are told in UTC, words with commas, semicolons and line lengths come back as they were."""
    at = datetime(2026, 6, 1, 9, 30, tzinfo=timezone(timedelta(hours=2)))
    written = calendar("Heron", [Date(what=ODD, key="one", at=at, minutes=30, note="a\nb")], NOW)
    (event,) = Calendar.from_ical(written).walk("VEVENT")

    assert str(event["SUMMARY"]) == ODD
    assert event["DTSTART"].dt == at
    assert event["DTEND"].dt == at + timedelta(minutes=30)
    assert str(event["DESCRIPTION"]) == "a\nb"
    assert max(len(line) for line in written.split(b"\r\n")) <= 75


def test_the_same_date_is_found_again() -> None:
    """Written again later a date keeps its UID, so a calendar moves it instead of doubling it."""

    def uid(key: str, when: datetime) -> str:
        dates = [Date(what="look", key=key, at=NOW + timedelta(days=2), minutes=30)]
        (event,) = Calendar.from_ical(calendar("Heron", dates, when)).walk("VEVENT")
        return str(event["UID"])

    assert uid("a", NOW) == uid("a", NOW + timedelta(days=1)) != uid("b", NOW)


def test_no_date_is_a_calendar_too() -> None:
    """Nothing due: an empty calendar that any program opens."""
    assert Calendar.from_ical(calendar("Heron", [], NOW)).walk("VEVENT") == []
