"""The likelihood over the strength itself, for many sets of the other parameters at once.

Given slope, activation energy, scatter and the offsets of batches, each coupon's standardised error is linear in
the log of strength v: eps = (r - m v)/s. The failures then add up to a parabola in v; what held or fell between
two looks adds a log-concave edge. So v is integrated on a grid of its own, exactly placed for each set: bounds
come out smooth, far more exact than counting draws would give.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.strength import families
from staydown.strength.families import Array, Family
from staydown.strength.trials import BETWEEN, EXACT, HOLDING, Trials

STRETCH = 0.7  # the grid is w sinh(STRETCH u)/STRETCH: fine at the peak, still there 24 widths away
REACH = 5.0  # u runs over ±REACH
POINTS = 37
GRID = np.linspace(-REACH, REACH, POINTS)
STEP = float(GRID[1] - GRID[0])
_AWAY = np.sinh(STRETCH * GRID) / STRETCH
_JACOBIAN = np.cosh(STRETCH * GRID)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Nodes:
    """Sets of the other parameters, one a node: slope, activation energy [J/mol], scatter, log10 offsets of batches."""

    slope: Array
    energy_J_per_mol: Array
    scatter: Array
    offsets: Array  # shape (nodes, batches)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LocationTable:
    """The belief about v = log10 strength at each node: centre, width, cumulative share and its slope over GRID."""

    centre: Array
    width: Array
    share: Array
    density: Array

    def take(self, kept: NDArray[np.int64]) -> LocationTable:
        """Return the table of some nodes only."""
        return LocationTable(
            centre=self.centre[kept],
            width=self.width[kept],
            share=self.share[kept],
            density=self.density[kept],
        )

    def below(self, v: Array) -> tuple[Array, Array]:
        """Return the share of belief below v and its density there, per node; v has shape (..., nodes)."""
        away = (v - self.centre) / self.width
        u = np.arcsinh(STRETCH * away) / STRETCH
        place = np.clip((u + REACH) / STEP, 0.0, POINTS - 1.0)
        left = np.minimum(place.astype(np.int64), POINTS - 2)
        t = place - left
        flat = left + np.arange(self.centre.size) * POINTS
        p0, p1 = self.share.reshape(-1)[flat], self.share.reshape(-1)[flat + 1]
        d0, d1 = self.density.reshape(-1)[flat] * STEP, self.density.reshape(-1)[flat + 1] * STEP
        rise = p1 - p0
        curve, twist = 3.0 * rise - 2.0 * d0 - d1, d0 + d1 - 2.0 * rise
        share = p0 + t * (d0 + t * (curve + t * twist))
        slope = (d0 + t * (2.0 * curve + 3.0 * t * twist)) / STEP
        inside = (place > 0.0) & (place < POINTS - 1.0)
        return share, np.where(inside, slope, 0.0) / (self.width * np.sqrt(1.0 + (STRETCH * away) ** 2))

    def value_at(self, node: NDArray[np.int64], share: Array) -> Array:
        """Return v at a share of belief of the nodes named; linear between grid points."""
        table = self.share[node]
        left = np.clip((table < share[:, None]).sum(axis=1) - 1, 0, POINTS - 2)
        rows = np.arange(node.size)
        low, high = table[rows, left], table[rows, left + 1]
        part = np.clip((share - low) / np.maximum(high - low, 1e-300), 0.0, 1.0)
        u = GRID[left] + part * STEP
        v: Array = self.centre[node] + self.width[node] * np.sinh(STRETCH * u) / STRETCH
        return v


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Normal:
    """A normal prior of v at each node: mean and standard deviation; sd infinite where flat."""

    mean: Array
    sd: Array


class LocationModel:
    """The coupons of one mode and face, prepared for the integral over v. Immutable after it is made.

    temperature_term: factor of the activation energy in log10 life for each row of the trials [mol/J].
    """

    def __init__(self, trials: Trials, temperature_term: Array, family: Family) -> None:
        self.trials = trials
        self.family = family
        self._temperature_term = temperature_term
        self._ramps = float(trials.count[(trials.kind == EXACT) & trials.ramp].sum())

    def _residuals(self, nodes: Nodes, rows: NDArray[np.int64], log_time: Array) -> Array:
        """Return r of the rows at each node, shape (nodes, rows): the error is (r - m v)/s."""
        trials, m = self.trials, nodes.slope[:, None]
        ramp = np.where(trials.ramp[rows], np.log10(m + 1.0), 0.0)
        shift = nodes.energy_J_per_mol[:, None] * self._temperature_term[rows]
        offset = nodes.offsets[:, trials.batch[rows]] if nodes.offsets.shape[1] else 0.0
        residuals: Array = log_time[rows] - ramp + m * (trials.log_stress[rows] - offset) - shift
        return residuals

    def plain_scatter(self, slope: float, energy_J_per_mol: float) -> float:
        """Return the standard deviation of the failures' log life at one slope and energy, a start for a search."""
        one = np.ones(1)
        nodes = Nodes(
            slope=slope * one,
            energy_J_per_mol=energy_J_per_mol * one,
            scatter=one,
            offsets=np.zeros((1, 0)),
        )
        rows = np.flatnonzero(self.trials.kind == EXACT)
        residuals = self._residuals(nodes, rows, self.trials.log_time)[0]
        count = self.trials.count[rows]
        mean = residuals @ count / count.sum()
        return float(np.sqrt((residuals - mean) ** 2 @ count / count.sum()))

    def integrate(self, nodes: Nodes, prior: Normal) -> tuple[Array, LocationTable]:
        """Return the log of the likelihood integrated over v at each node, and the belief about v there."""
        trials = self.trials
        exact, held, between = (np.flatnonzero(trials.kind == k) for k in (EXACT, HOLDING, BETWEEN))
        r_exact = self._residuals(nodes, exact, trials.log_time)
        r_held = self._residuals(nodes, held, trials.log_time)
        r_late = self._residuals(nodes, between, trials.log_time)
        r_early = self._residuals(nodes, between, trials.log_seen)
        centre, width = self._peak(
            nodes, prior, (exact, r_exact), (held, r_held), (between, (r_early + r_late) / 2)
        )
        v = centre[:, None] + width[:, None] * _AWAY
        per_s, m_v = 1.0 / nodes.scatter[:, None], nodes.slope[:, None] * v
        total = self._failures(nodes, r_exact, exact, m_v)
        for column, row in enumerate(held):
            epsilon = (r_held[:, column, None] - m_v) * per_s
            total += trials.count[row] * families.log_survival(self.family, epsilon)
        for column, row in enumerate(between):
            early, late = ((r[:, column, None] - m_v) * per_s for r in (r_early, r_late))
            total += trials.count[row] * families.log_between(self.family, early, late)
        bounded = np.isfinite(prior.sd)[:, None]
        away = (v - prior.mean[:, None]) / np.where(bounded, prior.sd[:, None], 1.0)
        spread = np.log(np.where(bounded, prior.sd[:, None], 1.0)) + families.LOG_ROOT_TWO_PI
        total += np.where(bounded, -0.5 * away * away - spread, 0.0)
        return _tabulate(total, centre, width)

    def _failures(self, nodes: Nodes, r: Array, rows: NDArray[np.int64], m_v: Array) -> Array:
        """Return the log likelihood of the failures over the grid, shape (nodes, POINTS)."""
        count = self.trials.count[rows]
        failures, s = count.sum(), nodes.scatter
        constant = -failures * np.log(s) + self._ramps * np.log(nodes.slope + 1.0)
        if self.family == "normal":
            mean = r @ count / max(failures, 1.0)
            square = ((r - mean[:, None]) ** 2) @ count
            constant = constant - failures * families.LOG_ROOT_TWO_PI - 0.5 * square / s**2
            away = (mean[:, None] - m_v) / s[:, None]
            return constant[:, None] - 0.5 * failures * away * away
        total = np.broadcast_to(constant[:, None], m_v.shape).copy()
        for column in range(rows.size):
            epsilon = (r[:, column, None] - m_v) / s[:, None]
            total += count[column] * families.log_density(self.family, epsilon)
        return total

    def _peak(
        self,
        nodes: Nodes,
        prior: Normal,
        exact: tuple[NDArray[np.int64], Array],
        held: tuple[NDArray[np.int64], Array],
        between: tuple[NDArray[np.int64], Array],
    ) -> tuple[Array, Array]:
        """Return where the belief about v peaks and how wide it is there: Newton's steps on a log-concave curve.

        Only the grid is placed by it, so the normal family stands in for the other one, and a fall between
        two looks for one in the middle.
        """
        from scipy.special import log_ndtr

        count = self.trials.count
        points = np.concatenate([exact[1], between[1]], axis=1)
        weights = np.concatenate([count[exact[0]], count[between[0]]])
        pull = (nodes.slope / nodes.scatter) ** 2  # curvature that one failure gives
        own = np.where(np.isfinite(prior.sd), prior.sd**-2.0, 0.0)
        known = points @ weights / nodes.slope
        bend = own + pull * weights.sum()
        v = (own * prior.mean + pull * known) / np.maximum(bend, 1e-12)
        if not held[0].size:
            return v, 1.0 / np.sqrt(bend)
        ratio = (nodes.slope / nodes.scatter)[:, None]
        for _ in range(8):
            epsilon = held[1] / nodes.scatter[:, None] - ratio * v[:, None]
            hazard = np.exp(-0.5 * epsilon * epsilon - families.LOG_ROOT_TWO_PI - log_ndtr(-epsilon))
            rise = pull * (known - weights.sum() * v) + own * (prior.mean - v)
            rise += (ratio * hazard) @ count[held[0]]
            curve = bend + (ratio**2 * hazard * (hazard - epsilon)) @ count[held[0]]
            step = rise / curve
            v = v + np.clip(step, -1.0, 1.0)
        return v, 1.0 / np.sqrt(curve)


def _tabulate(log_total: Array, centre: Array, width: Array) -> tuple[Array, LocationTable]:
    top = log_total.max(axis=1)
    density = np.exp(log_total - top[:, None]) * _JACOBIAN
    # cumulative by the cubic through four neighbours; zero outside the grid, where nothing is left
    padded = np.pad(density, ((0, 0), (1, 1)))
    inner = 13.0 * (density[:, :-1] + density[:, 1:]) - padded[:, :-3] - padded[:, 3:]
    cumulative = np.concatenate(
        [np.zeros((density.shape[0], 1)), np.cumsum(np.maximum(inner, 0.0), axis=1)], axis=1
    ) * (STEP / 24.0)
    whole = cumulative[:, -1]
    table = LocationTable(
        centre=centre, width=width, share=cumulative / whole[:, None], density=density / whole[:, None]
    )
    return top + np.log(whole * width), table
