"""Coupons made in the session that bonded the feet share what went well or wrong that day."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sample_assessments import JOBS
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, INSPECTION
from staydown.storage.read_cards import read_cards

DAY, LATER = "2026-05-04", "2026-05-11"


def bonding(seq: int, day: str, item: str, feet: list[str]) -> tuple[Event, Event]:
    """Return the record of feet bonded on a day, and of a look at them on the next."""
    when = f"{day}T09:00:00Z"
    body = {"when": when, "item": item, "feet": feet}
    look = {"when": f"{day}T19:00:00Z", "item": item, "gaps": dict.fromkeys(feet, 0.0)}
    return (
        Event(seq=seq, at=when, kind=BONDING, body=body),
        Event(seq=seq + 1, at=when, kind=INSPECTION, body=look),
    )


def assessed(*days: str) -> Assessment:
    """Return a job whose coupons were made on DAY; its feet were bonded on these days, in turns."""
    job, coupons = JOBS["panel"]()
    made = tuple(replace(coupon, made_on=DAY, batch=DAY) for coupon in coupons)
    item = job.item[0]
    feet = [mount.name for mount in item.mount]
    events: list[Event] = []
    for number, day in enumerate(days):
        events += bonding(2 * number + 1, day, item.name, feet[number :: len(days)])
    return assess(job, Facts(cards=read_cards(), coupons=made, events=tuple(events)))


def bounds(assessment: Assessment) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return what is proven in tension in every case."""
    mounted = assessment.items[0].mounted
    assert mounted is not None
    return np.asarray(mounted.capacity["tension"].proven.value, dtype=float)


@pytest.mark.independent
def test_feet_of_the_coupons_session_are_proven_to_carry_more() -> None:
    """The doubt about another batch goes once the feet are bonded with the coupons, and only then."""
    planned, same, other, two = assessed(), assessed(DAY), assessed(LATER), assessed(DAY, LATER)

    more = bounds(same) / bounds(planned)

    assert np.nanmax(more) > 1.02
    assert np.nanmin(more) >= 1.0  # where the bound is cut to what survived it stays
    np.testing.assert_array_equal(bounds(other), bounds(planned))
    np.testing.assert_array_equal(bounds(two), bounds(planned))
