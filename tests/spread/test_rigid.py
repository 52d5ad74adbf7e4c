"""The rigid item on springs: what statics promises of every solution."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from staydown.spread.rigid import balance_error, condition_number, reaction_matrix, reactions

Array = NDArray[np.float64]
SEEDS = st.integers(min_value=0, max_value=2**32 - 1)
LOAD = (np.array([120.0, -60.0, 1500.0]), np.array([80.0, -300.0, 25.0]))


def group(seed: int, batch: tuple[int, ...] = (), mounts: int = 5) -> tuple[Array, Array]:
    """Return positions around the origin and springs of unequal pads: (..., M, 3), (..., M, 6)."""
    generator = np.random.default_rng(seed)
    turn = (np.arange(mounts) + generator.uniform(-0.3, 0.3, (*batch, mounts))) * 2 * np.pi / mounts
    flat = np.stack([0.7 * np.cos(turn), 0.3 * np.sin(turn)], axis=-1)
    position = np.concatenate([flat, generator.uniform(0.0, 0.1, (*batch, mounts, 1))], axis=-1)
    size = np.array([1e6, 1e6, 3e6, 1e3, 1e3, 1e3])
    return position, size * generator.uniform(0.3, 3.0, (*batch, mounts, 6))


def turned(angle_rad: float) -> Array:
    """Return the matrix of a turn about an axis that is skew to all three."""
    axis = np.array([1.0, 2.0, -0.5]) / np.sqrt(5.25)
    cross = np.cross(np.eye(3), axis).T
    rotation: Array = np.eye(3) + np.sin(angle_rad) * cross.T + (1 - np.cos(angle_rad)) * cross.T @ cross.T
    return rotation


def full(springs: Array, rotation: Array) -> Array:
    """Return each mount's full stiffness matrix after a turn of its springs."""
    both = np.zeros((6, 6))
    both[:3, :3] = both[3:, 3:] = rotation
    return both @ (springs[..., None] * np.eye(6)) @ both.T


@pytest.mark.independent
@settings(max_examples=40, deadline=None)
@given(seed=SEEDS, mounts=st.integers(min_value=1, max_value=9))
def test_reactions_sum_to_the_load(seed: int, mounts: int) -> None:
    """Force and moment balance, summed here by cross products, for any group and any load."""
    position, springs = group(seed, mounts=mounts)
    generator = np.random.default_rng(seed + 1)
    force, moment = generator.normal(size=(2, 3)) * ((1000.0,), (300.0,))

    on_force, on_moment = reactions(position, springs, force, moment)

    total = on_moment.sum(axis=0) + np.cross(position, on_force).sum(axis=0)
    assert on_force.sum(axis=0) == pytest.approx(force, abs=1e-8 * np.abs(on_force).max())
    assert total == pytest.approx(moment, abs=1e-8 * max(np.abs(on_force).max(), np.abs(moment).max()))
    assert balance_error(position, reaction_matrix(position, springs)) < 1e-10


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(seed=SEEDS, angle_rad=st.floats(min_value=-3.0, max_value=3.0))
def test_turning_everything_turns_the_answer(seed: int, angle_rad: float) -> None:
    """Positions, springs and load turned alike about any axis: the reactions turn with them."""
    position, springs = group(seed)
    rotation = turned(angle_rad)
    force, moment = LOAD

    before = reactions(position, springs, force, moment)
    after = reactions(position @ rotation.T, full(springs, rotation), rotation @ force, rotation @ moment)

    assert rotation @ rotation.T == pytest.approx(np.eye(3), abs=1e-12)
    for one, other in zip(before, after, strict=True):
        assert other == pytest.approx(one @ rotation.T, abs=1e-8 * np.abs(one).max())


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(seed=SEEDS)
def test_a_mirror_image_carries_the_mirrored_load(seed: int) -> None:
    """Left and right exchanged: forces change sign across, moments along and about the vertical."""
    position, springs = group(seed)
    force, moment = LOAD
    mirror = np.array([1.0, -1.0, 1.0])

    before = reactions(position, springs, force, moment)
    after = reactions(position * mirror, springs, force * mirror, -moment * mirror)

    assert after[0] == pytest.approx(before[0] * mirror, abs=1e-8 * np.abs(before[0]).max())
    assert after[1] == pytest.approx(-before[1] * mirror, abs=1e-8 * np.abs(before[1]).max())


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(seed=SEEDS, x_m=st.floats(-50.0, 50.0), z_m=st.floats(-50.0, 50.0))
def test_the_reference_point_does_not_matter(seed: int, x_m: float, z_m: float) -> None:
    """The same load about a far point gives the same reactions: the solve is done about the springs' centre."""
    position, springs = group(seed)
    force, moment = LOAD
    shift = np.array([x_m, 3.0, z_m])

    before = reactions(position, springs, force, moment)
    after = reactions(position + shift, springs, force, moment + np.cross(shift, force))

    for one, other in zip(before, after, strict=True):
        assert other == pytest.approx(one, abs=1e-8 * np.abs(one).max())


@pytest.mark.independent
@given(seed=SEEDS, one=st.floats(-3.0, 3.0), two=st.floats(-3.0, 3.0))
@settings(max_examples=25, deadline=None)
def test_reactions_are_linear_in_the_load(seed: int, one: float, two: float) -> None:
    """Loads added and scaled give reactions added and scaled."""
    position, springs = group(seed)
    first, second = LOAD, (np.array([-5.0, 400.0, -90.0]), np.array([7.0, 1.0, -60.0]))
    mixed = [one * a + two * b for a, b in zip(first, second, strict=True)]

    parts = [reactions(position, springs, *load) for load in (first, second)]
    whole = reactions(position, springs, *mixed)

    for a, b, c in zip(*parts, whole, strict=True):
        assert c == pytest.approx(one * a + two * b, abs=1e-8 * (np.abs(a).max() + np.abs(b).max()))


@pytest.mark.independent
def test_the_stiffer_mount_attracts_load() -> None:
    """Raising one spring raises that mount's share of a lift through the middle (elastic supports, Crede)."""
    position = np.array([[x, y, 0.0] for x in (0.6, -0.6) for y in (0.3, -0.3)])
    shares = []
    for stiffer in (1.0, 2.0, 4.0):
        springs = np.tile([1e6, 1e6, 3e6, 2e3, 2e3, 2e3], (4, 1))
        springs[0] *= stiffer
        shares.append(reactions(position, springs, np.array([0.0, 0.0, 1.0]), np.zeros(3))[0][0, 2])

    assert shares[0] == pytest.approx(0.25, rel=1e-12)
    assert shares[0] < shares[1] < shares[2]


@pytest.mark.independent
def test_only_the_ratio_of_stiffnesses_counts() -> None:
    """A rigid item's spread does not change when every spring is made softer alike."""
    position, springs = group(3)

    one, other = (reactions(position, scale * springs, *LOAD) for scale in (1.0, 1e-4))

    assert other[0] == pytest.approx(one[0], rel=1e-9)
    assert other[1] == pytest.approx(one[1], rel=1e-9)


@pytest.mark.independent
def test_a_batch_is_its_layouts_one_by_one() -> None:
    """Leading axes of layouts and of loads broadcast, and full matrices say the same as six springs."""
    position, springs = group(5, batch=(4, 1))
    forces, moments = np.random.default_rng(6).normal(size=(2, 7, 3))

    batch = np.concatenate(reactions(position, springs, forces, moments), axis=-1)
    matrices = np.concatenate(reactions(position, full(springs, np.eye(3)), forces, moments), axis=-1)

    assert batch.shape == (4, 7, 5, 6)
    for layout in range(4):
        for load in range(7):
            alone = reactions(position[layout, 0], springs[layout, 0], forces[load], moments[load])
            assert batch[layout, load] == pytest.approx(np.concatenate(alone, axis=-1), abs=1e-9)
    assert matrices == pytest.approx(batch, abs=1e-9)


@pytest.mark.independent
def test_a_mount_of_no_stiffness_is_not_there() -> None:
    """Setting a mount's springs to nothing gives what the group gives without it: a mount lost, or padding."""
    position, springs = group(8, mounts=6)
    gone = springs.copy()
    gone[2] = 0.0
    rest = np.arange(6) != 2

    with_it, without = reactions(position, gone, *LOAD), reactions(position[rest], springs[rest], *LOAD)

    assert with_it[0][rest] == pytest.approx(without[0], abs=1e-9 * np.abs(without[0]).max())
    assert with_it[0][2] == pytest.approx(np.zeros(3), abs=0.0)


@pytest.mark.by_hand
def test_condition_of_a_simple_group() -> None:
    """Springs of 1 on a square: radius is the distance r of a corner, so turning counts as sum k r^2/r^2 = 4.

    Motions along x, y, z and about z have stiffness 4; about x and y half of it: the condition is 2.
    It is the same for a group a thousand times as large, and infinite in one line.
    """
    square = np.array([[x, y, 0.0] for x in (1.0, -1.0) for y in (1.0, -1.0)])
    springs = np.tile([1.0, 1.0, 1.0, 0.0, 0.0, 0.0], (4, 1))

    assert condition_number(square, springs) == pytest.approx(2.0, rel=1e-12)
    assert condition_number(1e3 * square, springs) == pytest.approx(2.0, rel=1e-12)
    assert condition_number(square * (1.0, 0.0, 0.0), springs) == np.inf


def test_a_mechanism_is_refused() -> None:
    """Hinges in one line leave a turn free; nothing is returned rather than noise."""
    line = np.array([[0.5, 0.0, 0.0], [0.1, 0.0, 0.0], [-0.4, 0.0, 0.0]])
    springs = np.tile([1e6, 1e6, 3e6, 0.0, 0.0, 0.0], (3, 1))

    with pytest.raises(ValueError, match="mechanism"):
        reactions(line, springs, *LOAD)
    held = reactions(line, springs + np.array([0.0, 0.0, 0.0, 1e3, 0.0, 0.0]), *LOAD)
    assert held[1][:, 0].sum() == pytest.approx(LOAD[1][0], rel=1e-9)


@pytest.mark.independent
def test_the_balance_check_sees_a_wrong_reaction() -> None:
    """One reaction changed by a thousandth is an error of that order: the check can fail."""
    position, springs = group(9)
    matrix = reaction_matrix(position, springs)
    matrix[0, 2, 2] *= 1.001

    assert 1e-5 < balance_error(position, matrix) < 1e-2
