"""Boxes seen from a corner: what is nearer to the eye is painted later, and lengths along an axis stay lengths."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staydown.outputs.roof_space import ABOVE, CORNERS
from staydown.pictures.solids import SeenFrom, Solid, drawing_order, faces

VIEWS = [
    SeenFrom(azimuth_rad=math.radians(turn), elevation_rad=math.radians(ABOVE)) for turn in CORNERS.values()
]


def first_hit(seen: SeenFrom, solid: Solid, point: tuple[float, float, float]) -> float | None:
    """Return how near to the eye a ray through a point enters a box, None where it passes by: slab by slab."""
    low, high = -math.inf, math.inf
    for axis, towards in enumerate(seen.towards):
        ends = sorted((bound - point[axis]) / towards for bound in (solid.low[axis], solid.high[axis]))
        low, high = max(low, ends[0]), min(high, ends[1])
    return high if high - low > 1e-9 else None


@st.composite
def apart(draw: st.DrawFn) -> list[Solid]:
    """Boxes in cells of a grid of their own, so that none runs into another."""
    cells = draw(st.sets(st.tuples(*[st.integers(0, 3)] * 3), min_size=2, max_size=9))
    share = st.floats(0.05, 0.95)
    found = []
    for cell in sorted(cells):
        ends = [sorted((draw(share), draw(share))) for _ in range(3)]
        low = [at + end[0] for at, end in zip(cell, ends, strict=True)]
        high = [at + end[1] + 0.02 for at, end in zip(cell, ends, strict=True)]
        found.append(Solid(low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2])))
    return found


@pytest.mark.independent
@pytest.mark.parametrize("seen", VIEWS)
@settings(max_examples=60, deadline=None)
@given(solids=apart())
def test_what_is_nearer_is_painted_later(seen: SeenFrom, solids: list[Solid]) -> None:
    """Where rays to the eye go through two boxes, by slabs: the one that they leave last is painted last."""
    order = drawing_order(solids, seen)

    assert sorted(order) == list(range(len(solids)))

    place = {number: at for at, number in enumerate(order)}
    for one, other in combinations(range(len(solids)), 2):
        for point in np.linspace(solids[one].low, solids[one].high, 5):
            ray = (float(point[0]), float(point[1]), float(point[2]))
            mine, theirs = first_hit(seen, solids[one], ray), first_hit(seen, solids[other], ray)
            if mine is not None and theirs is not None:
                nearer = one if mine > theirs else other

                assert place[nearer] == max(place[one], place[other])


@pytest.mark.by_hand
def test_a_ring_of_boxes_ends() -> None:
    """Three bars of which each covers the next are painted all the same, each once."""
    bars = [
        Solid(low=(0.0, 0.0, 2.0), high=(4.0, 1.0, 3.0)),
        Solid(low=(3.0, 0.0, 0.0), high=(4.0, 4.0, 1.0)),
        Solid(low=(0.0, 3.0, 1.0), high=(1.0, 4.0, 5.0)),
    ]
    for seen in VIEWS:
        assert sorted(drawing_order(bars, seen)) == [0, 1, 2]


@pytest.mark.by_hand
def test_the_sheet_is_a_view_from_that_corner() -> None:
    """From ahead what is left lies right, from straight above what is ahead lies low; by hand from the unit vectors."""
    ahead = SeenFrom(azimuth_rad=0.0, elevation_rad=math.radians(30.0))

    assert ahead.flat((0.0, 1.0, 0.0)) == pytest.approx((1.0, 0.0))
    assert ahead.flat((1.0, 0.0, 0.0)) == pytest.approx((0.0, -0.5))
    assert ahead.flat((0.0, 0.0, 1.0)) == pytest.approx((0.0, math.sqrt(3.0) / 2.0))

    above = SeenFrom(azimuth_rad=0.0, elevation_rad=math.pi / 2.0)

    assert above.flat((1.0, 0.0, 5.0)) == pytest.approx((0.0, -1.0))


@pytest.mark.independent
@pytest.mark.parametrize("seen", VIEWS)
def test_a_view_turns_and_shrinks_nothing(seen: SeenFrom) -> None:
    """Right, up and towards the eye are a frame of unit vectors: with the depth no length is lost."""
    for point in ((1.0, 0.0, 0.0), (0.3, -2.0, 0.7), (-1.0, 1.0, 4.0)):
        right, up = seen.flat(point)

        assert math.hypot(right, up, seen.depth(point)) == pytest.approx(math.hypot(*point))


@pytest.mark.parametrize("seen", VIEWS)
def test_the_faces_that_are_seen_look_at_the_eye(seen: SeenFrom) -> None:
    """One end, one side and the top: each lies on the eye's side of the box's middle."""
    box = Solid(low=(-1.0, -2.0, 0.0), high=(3.0, 2.0, 1.0))
    seen_faces = faces(box, seen)

    assert [axis for axis, _ in seen_faces] == [0, 1, 2]
    for axis, corners in seen_faces:
        middle = sum(corner[axis] for corner in corners) / 4.0

        assert (middle - box.middle[axis]) * seen.towards[axis] > 0.0
