"""One foot has opened, can I drive? Never at road speed, never more than is left with a margin."""

from __future__ import annotations

import math

import pytest

from bonded_jobs import stiff
from staydown.storage.read_cards import read_cards
from staydown.upkeep.removal import removal_card
from staydown.upkeep.roadside import NEVER, TAKE_OFF, roadside

CARDS = read_cards()
LIMIT_m_per_s = 17.8816  # 40 mph, exact


@pytest.mark.parametrize("name", ["panel", "twelve mounts", "no coupons", "one mount"])
def test_taking_it_off_is_always_the_first_answer(name: str) -> None:
    """Whatever the numbers, the item comes off first and no glue goes under an edge."""
    whole = stiff(name)
    item = whole.items[0]
    answer = roadside(whole, item, [item.item.mount[0].name])

    assert answer.orders[0] == TAKE_OFF
    assert NEVER in answer.orders
    assert answer.speed is None or float(answer.speed.value) <= LIMIT_m_per_s + 1e-9


@pytest.mark.by_hand
def test_the_speed_leaves_twice_the_loads() -> None:
    """The named speed of the air is at most that of full use over the root of two."""
    whole = stiff("twelve mounts")
    answer = roadside(whole, whole.items[0], ["foot 0"])
    assert answer.rest is not None
    assert answer.rest.air_speed is not None
    full = float(answer.rest.air_speed.value)
    named = 0.0 if answer.speed is None else float(answer.speed.value)

    assert named <= min(full / math.sqrt(2.0), LIMIT_m_per_s) + 1e-9


def test_nothing_proven_is_not_driven() -> None:
    """Without a coupon no speed is named."""
    whole = stiff("no coupons")
    answer = roadside(whole, whole.items[0], ["front left"])

    assert answer.speed is None
    assert answer.head.startswith("Do not drive")


def test_the_last_foot() -> None:
    """With the only mount gone nothing holds it."""
    whole = stiff("one mount")
    answer = roadside(whole, whole.items[0], ["only"])

    assert answer.speed is None
    assert "nothing holds it" in answer.because[0]


@pytest.mark.independent
def test_two_feet_lost_are_never_better_than_one() -> None:
    """The more is gone, the slower."""
    whole = stiff("twelve mounts")

    def air(lost: list[str]) -> float:
        rest = roadside(whole, whole.items[0], lost).rest
        return 0.0 if rest is None or rest.air_speed is None else float(rest.air_speed.value)

    assert air(["foot 0", "foot 1"]) <= air(["foot 0"]) + 1e-9


def test_the_single_loss_agrees_with_the_answer_of_check() -> None:
    """The rest without one foot is the one that was judged, on bounds for 99 % of bonds, which are never larger."""
    whole = stiff("panel")
    mounted = whole.items[0].mounted
    assert mounted is not None
    for single in mounted.redundancy.singles:
        rest = roadside(whole, whole.items[0], list(single.lost)).rest
        assert rest is not None

        assert rest.use is not None
        assert single.use is not None
        assert rest.use >= single.use * (1.0 - 1e-9)
        assert rest.mount == single.mount


@pytest.mark.parametrize("lost", [[], ["no such foot"]])
def test_a_foot_must_be_named(lost: list[str]) -> None:
    """A fault of the caller."""
    whole = stiff("panel")
    with pytest.raises(ValueError, match="which of"):
        roadside(whole, whole.items[0], lost)


@pytest.mark.parametrize("surface", CARDS.surfaces.values(), ids=lambda one: one.id)
@pytest.mark.parametrize("kind", sorted(CARDS.tapes))
def test_every_surface_and_product_has_its_removal_card(surface: object, kind: str) -> None:
    """Secure first, look at the faces last, never hotter than the surface stands."""
    card = removal_card(surface, kind, CARDS)  # type: ignore[arg-type]

    assert "Take the load off first" in card.steps[0]
    assert "faces" in card.steps[-1]
    assert 300.0 < float(card.hottest.value) <= 353.15
    assert card.never
