"""Coupons made in the session that bonded the feet share what went well or wrong that day."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sample_assessments import JOBS
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.event import Event
from staydown.evidence.history import BONDING, INSPECTION
from staydown.evidence.session import Session
from staydown.storage.read_cards import read_cards

DAY, LATER = "2026-05-04", "2026-05-11"


def bonding(seq: int, day: str, item: str, feet: list[str], **noted: str) -> tuple[Event, Event]:
    """Return the record of feet bonded on a day, and of a look at them on the next."""
    when = f"{day}T09:00:00Z"
    body = {"when": when, "item": item, "feet": feet, **noted}
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


def noted(lots: tuple[str | None, ...], feet: dict[str, str], primer: str | None = None) -> Assessment:
    """Return a job bonded on the day of its coupons; the coupons have these lots in turns, the feet what was noted."""
    job, coupons = JOBS["panel"]()
    made = tuple(
        replace(coupon, made_on=DAY, batch=DAY, lot=lots[number % len(lots)], primer=primer)
        for number, coupon in enumerate(coupons)
    )
    item = job.item[0]
    events = bonding(1, DAY, item.name, [mount.name for mount in item.mount], **feet)
    return assess(job, Facts(cards=read_cards(), coupons=made, events=events))


def notes(assessment: Assessment) -> str:
    """Return what the belief in tension says of itself."""
    mounted = assessment.items[0].mounted
    assert mounted is not None
    return "; ".join(mounted.capacity["tension"].belief.notes)


@pytest.mark.independent
@pytest.mark.parametrize(
    ("lots", "feet", "primer", "same", "said"),
    [
        ((None,), {}, None, True, "matched by day; tape lot and primer not noted of both feet and coupons"),
        (("K7",), {"lot": "k 7"}, None, True, "matched by day and tape lot; primer not noted"),
        (("K7",), {"lot": "K7", "primer": "P1"}, "p1", True, "matched by day and tape lot and primer"),
        (("K7", None), {"lot": "K7"}, None, True, "tape lot and primer not noted of both"),
        (("K8",), {}, None, True, "tape lot and primer not noted of both"),
        (("K8",), {"lot": "K7"}, None, False, "not of their session: another tape lot"),
        (("K7", "K8"), {"lot": "K7"}, None, False, "not of their session: another tape lot"),
        (("K7",), {"lot": "K7", "primer": "P1"}, "none", False, "not of their session: another primer"),
    ],
)
def test_a_session_is_told_by_day_lot_and_primer(
    lots: tuple[str | None, ...], feet: dict[str, str], primer: str | None, same: bool, said: str
) -> None:
    """Lots and primers noted of both are compared, else the day decides; the bound is that of either case, exactly."""
    found = noted(lots, feet, primer)

    np.testing.assert_array_equal(bounds(found), bounds(assessed(DAY) if same else assessed()))
    assert said in notes(found)


_LOT = st.sampled_from([None, "", "K7", "k7 ", "K8", "K9"])


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(_LOT, _LOT), min_size=1, max_size=6),
    st.lists(_LOT, max_size=3),
    st.lists(_LOT, max_size=2),
)
def test_a_note_never_makes_a_session(
    made: list[tuple[str | None, str | None]], lots: list[str | None], primers: list[str | None]
) -> None:
    """Whatever is noted, only coupons of the day are of the session, and more notes never bring more."""
    _, coupons = JOBS["panel"]()
    day = [replace(coupons[0], made_on=DAY, batch=DAY, lot=lot, primer=primer) for lot, primer in made]
    known = Session(
        day=DAY, lots=frozenset(one for one in lots if one), primers=frozenset(one for one in primers if one)
    )
    later = replace(known, day=LATER)

    assert known.of(day)[0] in (DAY, None)
    assert later.of(day) == (None, "")
    if known.of(day)[0] is None:
        one_more = replace(known, lots=known.lots | {"K10"})
        assert one_more.of(day)[0] is None
