"""Entries of the logbook become coupons: corrections supersede, what hangs counts until it was last seen."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from staydown.evidence.build_coupons import (
    FIRST_LOOK_s,
    RecordedCoupon,
    build_coupons,
    coupon_body,
    coupon_of,
    last_seen_s,
)
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.foundation.errors import LogbookTooNew

COUPON = Coupon(
    name="H1",
    tape="grey foam",
    surface="gelcoat",
    mode="shear",
    result="fell",
    load_N=50.0,
    area_m2=6.25e-4,
    lasted_s=7200.0,
    temperature_K=313.15,
)
START = {name: value for name, value in coupon_body(COUPON).items() if name not in ("result", "lasted_s")}


def events(*entries: tuple[str, dict[str, Any]]) -> tuple[Event, ...]:
    """Return entries as a logbook gives them."""
    return tuple(
        Event(seq=seq, at="2026-05-01T12:00:00Z", kind=kind, body=body)
        for seq, (kind, body) in enumerate(entries, start=1)
    )


def hung(*after: tuple[str, dict[str, Any]]) -> RecordedCoupon:
    """Return a coupon that was hung at noon, after what happened to it."""
    start = (
        "hang start",
        {"coupon": START, "when": "2026-05-01T12:00:00Z", "typed": {"load": "50 N", "note": ""}},
    )
    (record,) = build_coupons(events(start, *after))
    return record


def look(hours: float) -> tuple[str, dict[str, Any]]:
    """Return a look after some hours."""
    return "hang look", {"name": "H1", "when": f"look {hours}", "lasted_s": hours * 3600}


def end(result: str, hours: float, **more: str) -> tuple[str, dict[str, Any]]:
    """Return an end after some hours."""
    return "hang end", {
        "name": "H1",
        "when": f"end {hours}",
        "lasted_s": hours * 3600,
        "result": result,
        **more,
    }


def test_a_coupon_survives_the_way_through_its_body() -> None:
    """What goes into the logbook comes out of it, also with every field filled."""
    full = replace(
        COUPON,
        dwell_s=1.0,
        failure_pattern="cohesive",
        made_on="2026-04-01",
        note="n",
        width_m=0.025,
        conditioned="wet",
        foot="real",
        lever_m=0.01,
        lever_direction="along",
        foot_thickness_m=0.005,
        batch="b",
        found_s=3600.0,
    )
    for coupon in (COUPON, full, replace(COUPON, area_m2=None, width_m=0.025, mode="peel")):
        assert coupon_of(*events(("coupon", {"coupon": coupon_body(coupon)}))) == coupon


def test_a_newer_field_is_refused_not_dropped() -> None:
    """What a newer version says of a coupon may matter, so it is not left out in silence."""
    with pytest.raises(LogbookTooNew, match=r"row 1 .* colour"):
        coupon_of(*events(("coupon", {"coupon": {**coupon_body(COUPON), "colour": "red"}})))


def test_a_correction_takes_the_place_of_the_first() -> None:
    """The later entry of a name counts; the earlier ones are named."""
    better = replace(COUPON, load_N=55.0)
    (record,) = build_coupons(
        events(
            ("coupon", {"coupon": coupon_body(COUPON)}),
            ("trip", {}),
            ("coupon", {"coupon": coupon_body(better)}),
        )
    )

    assert record.coupon == better
    assert (record.seq, record.earlier) == (3, (1,))


def test_hung_and_never_seen_counts_for_nothing() -> None:
    """Zero time proves nothing, and must not be the third coupon that unlocks a bound."""
    record = hung()

    assert record.hanging
    assert record.coupon is None
    assert last_seen_s(record) == FIRST_LOOK_s


def test_hanging_holds_until_it_was_last_seen() -> None:
    """The time since the last look is not credited: nobody knows what it did since."""
    record = hung(look(2), look(30))

    assert record.hanging
    assert record.coupon is not None
    assert (record.coupon.result, record.coupon.lasted_s) == ("holding", 30 * 3600.0)
    assert record.seen == "look 30"


def test_seen_falling_is_exact() -> None:
    """A fall that was seen has one time."""
    coupon = hung(look(2), end("fell", 31, failure_pattern="adhesive")).coupon

    assert coupon is not None
    assert (coupon.result, coupon.lasted_s, coupon.found_s) == ("fell", 31 * 3600.0, None)
    assert coupon.failure_pattern == "adhesive"


@pytest.mark.parametrize(("looks", "seen_s"), [((2, 20), 20 * 3600.0), ((), FIRST_LOOK_s)])
def test_found_fallen_is_an_interval(looks: tuple[int, ...], seen_s: float) -> None:
    """It fell between the last look, or the hanging, and the finding."""
    coupon = hung(*(look(hours) for hours in looks), end("found", 31)).coupon

    assert coupon is not None
    assert (coupon.result, coupon.found_s, coupon.lasted_s) == ("fell", seen_s, 31 * 3600.0)


def test_taken_down_held_until_then() -> None:
    """A test that was stopped is a run-out, not a failure."""
    record = hung(look(2), end("holding", 40))

    assert record.coupon is not None
    assert (record.coupon.result, record.coupon.lasted_s, record.hanging) == ("holding", 40 * 3600.0, False)


def test_spoiled_keeps_its_reason() -> None:
    """A test that went wrong stays, with why."""
    coupon = hung(look(2), end("spoiled", 3, note="the lamp slipped")).coupon

    assert coupon is not None
    assert (coupon.result, coupon.note) == ("spoiled", "the lamp slipped")


def test_a_row_may_replace_a_hanging_test() -> None:
    """A superseding row of the same name ends the hanging."""
    record = hung(look(2), ("coupon", {"coupon": coupon_body(COUPON)}))

    assert (record.coupon, record.hanging, record.earlier) == (COUPON, False, (1,))


def test_coupons_keep_the_order_of_their_first_entry() -> None:
    """Looks and corrections do not move a coupon in the list."""
    other = coupon_body(replace(COUPON, name="H2"))
    first = ("hang start", {"coupon": START, "when": "2026-05-01T12:00:00Z"})
    records = build_coupons(events(first, ("coupon", {"coupon": other}), look(2)))

    assert [record.name for record in records] == ["H1", "H2"]
