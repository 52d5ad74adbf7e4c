"""Which sets of levers are solved for what was typed and what was not."""

from __future__ import annotations

from typing import Any

import numpy as np

from staydown.job.records import Mount, Rectangle
from staydown.spread.lever_sets import LeverSets, build_lever_sets

FORWARD = np.array([0.6, 0.6, -0.6, -0.6, 0.0])
LEFT = np.array([0.3, -0.3, 0.3, -0.3, 0.0])


def sets_of(**keys: Any) -> LeverSets:
    """Return the sets of five mounts, all typed alike; the last stands at the item's centre."""
    pad = Rectangle(length_m=0.08, width_m=0.05)
    mounts = [Mount(name=str(n), behind_m=0.0, left_m=0.0, pad=pad, **keys) for n in range(5)]
    return build_lever_sets(mounts, FORWARD, LEFT)


def test_nothing_known_is_solved_in_both_directions_and_four_ways() -> None:
    """Lever, direction and side left out: eight sets, each with one direction only."""
    sets = sets_of()

    assert sets.names == (
        "hinged, all levers forward",
        "hinged, all levers rearward",
        "hinged, levers along toward the item's centre",
        "hinged, levers along away from the item's centre",
        "hinged, all levers left",
        "hinged, all levers right",
        "hinged, levers across toward the item's centre",
        "hinged, levers across away from the item's centre",
    )
    assert np.all(np.abs(sets.side_along) + np.abs(sets.side_across) == 1)
    assert np.all(sets.side_across[:4] == 0)


def test_sides_follow_axes_and_places() -> None:
    """Forward and left are +1; toward the centre is against the place; on the centre line once to each side."""
    sets = sets_of(lever_m=0.012, lever_direction="across")

    assert sets.names == (
        "hinged, all levers left",
        "hinged, all levers right",
        "hinged, levers toward the item's centre",
        "hinged, levers away from the item's centre",
    )
    assert sets.side_across.tolist() == [[1] * 5, [-1] * 5, [-1, 1, -1, 1, 1], [1, -1, 1, -1, -1]]


def test_a_given_side_is_the_sign_typed() -> None:
    """With lever_side given and a direction there is one set; without one, one for each direction."""
    typed = sets_of(lever_m=-0.012, lever_direction="along", lever_side="given")
    half_typed = sets_of(lever_m=-0.012, lever_side="given")

    assert typed.names == ("hinged, levers as typed",)
    assert typed.side_along.tolist() == [[-1.0] * 5]
    assert half_typed.names == ("hinged, levers along as typed", "hinged, levers across as typed")


def test_a_sign_without_a_given_side_says_nothing() -> None:
    """The sign of a lever counts only with lever_side given: else all sides are solved."""
    assert len(sets_of(lever_m=-0.012, lever_direction="along").names) == 4


def test_a_lever_of_zero_needs_one_set() -> None:
    """Typed levers of nothing leave nothing to try."""
    sets = sets_of(lever_m=0.0)

    assert sets.names == ("hinged",)
    assert np.all(sets.side_along == 0)
    assert np.all(sets.side_across == 0)


def test_mounts_typed_differently_share_a_set() -> None:
    """One mount typed along, one across: a set moves each in its own direction, and is named for both."""
    pad = Rectangle(length_m=0.08, width_m=0.05)
    mounts = [
        Mount(name="a", behind_m=0.0, left_m=0.0, pad=pad, lever_m=0.01, lever_direction="along"),
        Mount(name="b", behind_m=0.0, left_m=0.0, pad=pad, lever_m=0.01, lever_direction="across"),
        Mount(
            name="c",
            behind_m=0.0,
            left_m=0.0,
            pad=pad,
            lever_m=-0.01,
            lever_direction="across",
            lever_side="given",
        ),
    ]
    sets = build_lever_sets(mounts, FORWARD[:3], LEFT[:3])

    assert sets.names[0] == "hinged, all levers forward or left"
    assert sets.side_along[0].tolist() == [1, 0, 0]
    assert sets.side_across[0].tolist() == [0, 1, -1]
    assert np.all(sets.side_across[:, 2] == -1)


def test_sets_that_are_alike_are_solved_once() -> None:
    """Two mounts, one at each side: `toward` and `away` differ from `all left`; one mount knows two ways only."""
    pad = Rectangle(length_m=0.08, width_m=0.05)
    mount = Mount(name="a", behind_m=0.0, left_m=0.0, pad=pad, lever_m=0.01, lever_direction="across")

    assert len(build_lever_sets([mount, mount], FORWARD[:2], LEFT[:2]).names) == 4
    assert len(build_lever_sets([mount], FORWARD[:1], LEFT[:1]).names) == 2
