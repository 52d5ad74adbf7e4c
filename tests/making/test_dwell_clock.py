"""The dwell clock: build-up, cold, cure from the edge, what a first careful drive needs."""

from __future__ import annotations

from functools import cache

import pytest

from bonded_jobs import stiff
from staydown.assess import Mounted
from staydown.foundation.numbers import definition
from staydown.making.dwell_clock import Clock, Needed, build_clock, share_for_first_drive
from staydown.storage.read_cards import read_cards

CARDS = read_cards()
HOUR_s = 3600.0


def clock(share: float | None, dwell_K: float | None = 296.15, kind: str = "acrylic foam tape") -> Clock:
    """Return the clock of a product whose careful drive needs a share of its bond."""
    needed = Needed(share=None if share is None else definition(share, "1", "typed"), case="gust, hot")
    return build_clock(CARDS.products[kind], CARDS.planning, dwell_K, needed)


@cache
def mounted() -> Mounted:
    """Return a panel that is proven for every case."""
    found = stiff("sound").items[0].mounted
    assert found is not None
    return found


@pytest.mark.by_hand
def test_a_light_drive_waits_a_day_and_a_full_load_three() -> None:
    """At room temperature nine tenths are there after 24 h, all after 72 h."""
    found = clock(0.3)
    assert found.earliest is not None

    assert found.earliest.value == pytest.approx(24 * HOUR_s)
    assert found.full_s == pytest.approx(72 * HOUR_s)


@pytest.mark.independent
def test_a_drive_that_needs_more_waits_longer() -> None:
    """The more of its bond a careful drive needs, the later it may be; over the whole, never before it is full."""
    waits = [clock(share).first_drive_s for share in (0.2, 0.9, 0.95, 1.0)]

    assert waits == sorted(waits)
    assert waits[1] < waits[2] < waits[3] == pytest.approx(clock(1.0).full_s)
    assert clock(1.2).earliest is None
    assert "not proven" in clock(1.2).why


def test_nothing_proven_is_never_early() -> None:
    """Without evidence there is no earlier drive than the full bond, and the reason says that this is no pass."""
    found = clock(None)

    assert found.earliest is None
    assert found.first_drive_s == found.full_s
    assert "not until it is proven" in found.why


@pytest.mark.by_hand
def test_cold_slows_and_warmth_gains_nothing() -> None:
    """10 K colder is 2.5 times longer, 10 K warmer no shorter; not typed is the coldest at which it may be bonded."""
    assert clock(0.3, 286.15).full_s == pytest.approx(2.5 * 72 * HOUR_s)
    assert clock(0.3, 306.15).full_s == pytest.approx(72 * HOUR_s)
    assert clock(0.3, None).full_s == pytest.approx(clock(0.3, 283.15).full_s)


@pytest.mark.by_hand
def test_a_paste_cures_from_its_edges() -> None:
    """A bead of 15 mm at 2 mm a day under the root of time: (7.5/2)² days, and nothing is driven before."""
    found = clock(0.1, kind="elastic paste adhesive")

    assert found.full_s == pytest.approx((7.5 / 2) ** 2 * 24 * HOUR_s)
    assert found.earliest is None
    assert found.first_drive_s == found.full_s


@pytest.mark.independent
def test_a_slower_first_drive_needs_less() -> None:
    """The need grows with the careful speed, and never exceeds the largest use of a moving case."""
    job, cards = stiff("sound").job, stiff("sound").cards
    found = share_for_first_drive(mounted().table, mounted().checks, job.travel, cards.planning)
    assert found.share is not None
    use = mounted().checks.use_at_high()
    moving = [row for row, case in enumerate(mounted().table.cases) if case.family == "moving"]
    inertia = [row for row in moving if mounted().table.cases[row].name in ("braking", "rough road")]

    assert 0.0 < found.share.value <= use[moving].max()
    assert found.share.value >= use[inertia].max() - 1e-12


def test_a_case_without_proof_leaves_the_need_open() -> None:
    """Where any moving case has no proof the careful drive is not proven either."""
    bare = stiff("no coupons")
    found = bare.items[0].mounted
    assert found is not None
    needed = share_for_first_drive(found.table, found.checks, bare.job.travel, bare.cards.planning)

    assert needed.share is None
