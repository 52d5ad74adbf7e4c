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
_CLOSE = 1e-9  # of a log10: far below any error of the belief


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Question:
    """One face's part of a question: weight (nodes,), slope (nodes,), level (questions, nodes)."""

    part: ComponentNodes
    weight: Array
    slope: Array
    level: Array

    def below(self, x: Array) -> tuple[Array, Array]:
        """Return belief that the answer is below x, and its density, for every question."""
        v = (self.slope * x[:, None] + self.level - self.part.offset) / self.part.shrink
        share, density = self.part.table.below(v)
        return share @ self.weight, (density * self.slope / self.part.shrink) @ self.weight

    def guess(self, z: float) -> Array:
        """Return a first guess at the quantile with standard normal coordinate z."""
        v = self.part.table.centre * self.part.shrink + self.part.offset
        x = (v - self.level) / self.slope
        mean = x @ self.weight
        own = (self.part.table.width * self.part.shrink / self.slope) ** 2
        variance = ((x - mean[:, None]) ** 2 + own) @ self.weight
        guess: Array = mean + z * np.sqrt(variance)
        return guess


def quantile(questions: Sequence[Question], share: float) -> Array:
    """Return the value below which a share of belief lies, for every question: Newton's steps, kept bracketed."""
    from scipy.special import ndtri

    z = float(ndtri(share))
    x: Array = np.min([question.guess(z) for question in questions], axis=0)
    low, high = np.full_like(x, -np.inf), np.full_like(x, np.inf)
    reach = np.full_like(x, 0.5)
    for _ in range(_ROUNDS):
        above, slope = np.ones_like(x), np.zeros_like(x)
        for question in questions:
            share_below, density = question.below(x)
            slope = slope * (1.0 - share_below) + above * density
            above = above * (1.0 - share_below)
        below = 1.0 - above
        low, high = np.where(below < share, x, low), np.where(below >= share, x, high)
        place = ndtri(np.clip(below, 1e-12, 1.0 - 1e-12))
        steepness = slope * np.exp(0.5 * place * place + LOG_ROOT_TWO_PI)
        step = np.clip((z - place) / np.maximum(steepness, 1e-9), -reach, reach)
        target = x + step
        outside = (target <= low) | (target >= high)
        middle = np.where(np.isfinite(low) & np.isfinite(high), 0.5 * (low + high), target)
        target = np.where(outside, middle, target)
        moved = np.abs(target - x)
        x = target
        if float(moved.max(initial=0.0)) < _CLOSE:
            break
    return x


def weighted_quantiles(values: Array, weight: Array, shares: Sequence[float]) -> list[float]:
    """Return quantiles of weighted values, linear between their midpoints."""
    order = np.argsort(values)
    cumulative = np.cumsum(weight[order]) - 0.5 * weight[order]
    return [float(q) for q in np.interp(shares, cumulative, values[order])]
