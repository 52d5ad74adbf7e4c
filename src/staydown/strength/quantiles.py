"""Quantiles of a belief: smooth in strength, because each node carries its own distribution of it.

A question is linear in the log of strength: a value X counts as reached at a node where v' < slope X + level.
Several faces compete: belief that any of them is below X is what remains of all being above.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from staydown.strength.families import LOG_ROOT_TWO_PI, Array
from staydown.strength.sampling import ComponentNodes

_ROUNDS = 60
_CLOSE = (
    1e-6  # of a log10, after which one more step would square the error: far below any error of the belief
)
_CLOSE_THIN = 1e-3
_THIN = 16
_LARGEST_STEP = 0.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Question:
    """One face's part of a question: weight (nodes,), slope (nodes,), level (questions, nodes)."""

    part: ComponentNodes
    weight: Array
    slope: Array
    level: Array

    def below(self, x: Array) -> tuple[Array, Array]:
        """Return belief that the answer is below x, and its density, for every question."""
        found = np.empty((2, x.size))
        # row by row: one row of nodes stays in the processor's cache, all of them together do not
        for row, (value, level) in enumerate(zip(x, self.level, strict=True)):
            v = (self.slope * value + level - self.part.offset) / self.part.shrink
            share, density = self.part.table.below(v)
            found[:, row] = share @ self.weight, (density * self.slope / self.part.shrink) @ self.weight
        return found[0], found[1]

    def thinned(self, every: int) -> Question:
        """Return the question put to every so many of the nodes only."""
        kept = np.arange(0, self.weight.size, every)
        weight = self.weight[kept]
        return Question(
            part=self.part.take(kept),
            weight=weight / weight.sum(),
            slope=self.slope[kept],
            level=self.level[:, kept],
        )

    def guess(self, share: float) -> Array:
        """Return a first guess: the quantile over nodes, each taken at its centre. Moments may not exist."""
        x = (self.part.table.centre * self.part.shrink + self.part.offset - self.level) / self.slope
        order = np.argsort(x, axis=1)
        passed = np.cumsum(self.weight[order], axis=1) >= share
        first: Array = np.take_along_axis(x, order, axis=1)[np.arange(x.shape[0]), passed.argmax(axis=1)]
        return first


def quantile(questions: Sequence[Question], share: float) -> Array:
    """Return the value below which a share of belief lies, for every question."""
    from scipy.special import ndtri

    z = float(ndtri(share))
    # a few nodes first: the whole set then takes two or three steps
    few = [question.thinned(_THIN) for question in questions]
    x: Array = np.min([question.guess(share) for question in few], axis=0)
    return _solve(questions, z, _solve(few, z, x, _CLOSE_THIN), _CLOSE)


def _solve(questions: Sequence[Question], z: float, x: Array, close: float) -> Array:
    """Return the root by Newton's steps on the normal scale of belief, kept within a bracket."""
    from scipy.special import ndtri

    low, high = np.full_like(x, -np.inf), np.full_like(x, np.inf)
    for _ in range(_ROUNDS):
        above, slope = np.ones_like(x), np.zeros_like(x)
        for question in questions:
            share_below, density = question.below(x)
            slope = slope * (1.0 - share_below) + above * density
            above = above * (1.0 - share_below)
        place = ndtri(np.clip(1.0 - above, 1e-12, 1.0 - 1e-12))
        low, high = np.where(place < z, x, low), np.where(place >= z, x, high)
        steepness = slope * np.exp(0.5 * place * place + LOG_ROOT_TWO_PI)
        step = np.clip((z - place) / np.maximum(steepness, 1e-9), -_LARGEST_STEP, _LARGEST_STEP)
        target = x + step
        bracketed = np.isfinite(low) & np.isfinite(high)
        target = np.where(bracketed & ((target < low) | (target > high)), 0.5 * (low + high), target)
        moved = float(np.abs(target - x).max(initial=0.0))
        x = target
        if moved < close:
            break
    return x


def weighted_quantiles(values: Array, weight: Array, shares: Sequence[float]) -> list[float]:
    """Return quantiles of weighted values, linear between their midpoints."""
    order = np.argsort(values)
    cumulative = np.cumsum(weight[order]) - 0.5 * weight[order]
    return [float(q) for q in np.interp(shares, cumulative, values[order])]
