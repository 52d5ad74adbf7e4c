"""The likelihood over the strength itself, for many sets of the other parameters at once.

Given slope, activation energy, scatter and the offsets of batches, each coupon's standardised error is linear in
the log of strength v: eps = (r - m v)/s. The failures then add up to a parabola in v; what held or fell between
two looks adds a log-concave edge. So v is integrated on a grid of its own, exactly placed for each set: bounds
come out smooth, far more exact than counting draws would give.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from staydown.strength import families
from staydown.strength.families import Array, Family
from staydown.strength.trials import BETWEEN, EXACT, HOLDING, Trials

STRETCH = 0.6  # the grid is w sinh(STRETCH u)/STRETCH: fine at the peak, still there 16 widths away
Rows = NDArray[np.int64]
REACH = 5.0  # u runs over ±REACH
POINTS = 37
GRID = np.linspace(-REACH, REACH, POINTS)
STEP = float(GRID[1] - GRID[0])
_AWAY = np.sinh(STRETCH * GRID) / STRETCH
_NEWTON_STEPS = 8
# points over the offset of a batch: edges are smooth over it, falls between two looks and Weibull less so
HERMITE, HERMITE_BETWEEN, HERMITE_WEIBULL = 3, 7, 11
_JACOBIAN = np.cosh(STRETCH * GRID)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Nodes:
    """Sets of the other parameters, one a node.

    slope; activation energy [J/mol]; scatter of log10 life; spread: between batches, of log10 strength (0: none);
    own: log10 strength of the batch in question over the mean of all, where that batch was tested (else 0).
    """

    slope: Array
    energy_J_per_mol: Array
    scatter: Array
    spread: Array
    own: Array

    def take(self, kept: Rows) -> Nodes:
        """Return some of the nodes only."""
        return Nodes(
            slope=self.slope[kept],
            energy_J_per_mol=self.energy_J_per_mol[kept],
            scatter=self.scatter[kept],
            spread=self.spread[kept],
            own=self.own[kept],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LocationTable:
    """The belief about v = log10 strength at each node: centre, width, and the share below v over GRID.

    cubic: coefficients of that share in the place between grid points, shape (nodes * (POINTS - 1), 4), in single
    precision: its 1e-7 is far below the error of any belief, and beliefs are kept.
    """

    centre: Array
    width: Array
    cubic: NDArray[np.float32]

    def take(self, kept: Rows) -> LocationTable:
        """Return the table of some nodes only."""
        cubic = self.cubic.reshape(-1, POINTS - 1, 4)[kept].reshape(-1, 4)
        return LocationTable(centre=self.centre[kept], width=self.width[kept], cubic=cubic)

    def below(self, v: Array) -> tuple[Array, Array]:
        """Return the share of belief below v and its density there, per node; v has shape (..., nodes)."""
        away = (v - self.centre) / self.width
        place = np.arcsinh(STRETCH * away)
        place *= 1.0 / (STRETCH * STEP)
        place += REACH / STEP
        np.clip(place, 0.0, POINTS - 1.0, out=place)
        left = np.minimum(place.astype(np.int64), POINTS - 2)
        t = place - left
        left += np.arange(self.centre.size) * (POINTS - 1)
        c0, c1, c2, c3 = np.moveaxis(self.cubic.take(left, axis=0), -1, 0)
        share = c0 + t * (c1 + t * (c2 + t * c3))
        rise = (c1 + t * (2.0 * c2 + 3.0 * t * c3)) / STEP
        away *= STRETCH
        away *= away
        away += 1.0
        return share, rise / (self.width * np.sqrt(away))

    def value_at(self, node: NDArray[np.int64], share: Array) -> Array:
        """Return v at a share of belief of the nodes named."""
        starts = self.cubic[:, 0].reshape(-1, POINTS - 1)
        left = np.clip((starts[node] < share[:, None]).sum(axis=1) - 1, 0, POINTS - 2)
        c0, c1, c2, c3 = self.cubic[node * (POINTS - 1) + left].T
        part = np.clip((share - c0) / np.maximum(c1 + c2 + c3, 1e-300), 0.0, 1.0)
        for _ in range(3):  # Newton's steps on the cubic between the two grid points
            rise = np.maximum(c1 + part * (2.0 * c2 + 3.0 * part * c3), 1e-300)
            part = np.clip(part - (c0 + part * (c1 + part * (c2 + part * c3)) - share) / rise, 0.0, 1.0)
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

    v is the strength of the one batch there is, or the mean of all where `batched`, or that of the batch
    `bonded_in`. Offsets of the other batches are integrated out at every v: failures in closed form, what held
    by Gauss and Hermite's rule around them.
    temperature_term: factor of the activation energy in log10 life for each row of the trials [mol/J].
    """

    def __init__(
        self, trials: Trials, temperature_term: Array, family: Family, *, batched: bool, bonded_in: int | None
    ) -> None:
        self.trials = trials
        self.family = family
        self.bonded_in = bonded_in
        self.pulled_only = bool(trials.ramp[trials.kind == EXACT].all())
        self._temperature_term = temperature_term
        batch = trials.batch if batched else np.zeros_like(trials.batch)
        direct = {bonded_in} if batched else {0}
        self._groups = [
            _Group(
                direct=one in direct,
                exact=np.flatnonzero((batch == one) & (trials.kind == EXACT)),
                held=np.flatnonzero((batch == one) & (trials.kind == HOLDING)),
                between=np.flatnonzero((batch == one) & (trials.kind == BETWEEN)),
            )
            for one in sorted(set(batch.tolist()))
        ]

    def plain_scatter(self, slope: float, energy_J_per_mol: float) -> float:
        """Return the standard deviation of the failures' log life at one slope and energy, a start for a search."""
        one, none = np.ones(1), np.zeros(1)
        nodes = Nodes(
            slope=slope * one, energy_J_per_mol=energy_J_per_mol * one, scatter=one, spread=none, own=none
        )
        rows = np.flatnonzero(self.trials.kind == EXACT)
        residuals = self._residuals(nodes, rows, self.trials.log_time)[0]
        count = self.trials.count[rows]
        mean = residuals @ count / count.sum()
        return float(np.sqrt((residuals - mean) ** 2 @ count / count.sum()))

    def integrate(self, nodes: Nodes, prior: Normal) -> tuple[Array, LocationTable]:
        """Return the log of the likelihood integrated over v at each node, and the belief about v there."""
        told = [self._told(nodes, group) for group in self._groups]
        centre, width = _peak(nodes, prior, told)
        v = centre[:, None] + width[:, None] * _AWAY
        total = np.zeros_like(v)
        for one in told:
            total += self._direct(nodes, one, v) if one.group.direct else self._over_batch(nodes, one, v)
        bounded = np.isfinite(prior.sd)[:, None]
        away = (v - nodes.own[:, None] - prior.mean[:, None]) / np.where(bounded, prior.sd[:, None], 1.0)
        spread = np.log(np.where(bounded, prior.sd[:, None], 1.0)) + families.LOG_ROOT_TWO_PI
        total += np.where(bounded, -0.5 * away * away - spread, 0.0)
        return _tabulate(total, centre, width)

    def _residuals(self, nodes: Nodes, rows: Rows, log_time: Array) -> Array:
        """Return r of the rows at each node, shape (nodes, rows): the error is (r - m v)/s."""
        trials, m = self.trials, nodes.slope[:, None]
        ramp = np.where(trials.ramp[rows], np.log10(m + 1.0), 0.0)
        shift = nodes.energy_J_per_mol[:, None] * self._temperature_term[rows]
        residuals: Array = log_time[rows] - ramp + m * trials.log_stress[rows] - shift
        return residuals

    def _told(self, nodes: Nodes, group: _Group) -> _Told:
        trials = self.trials
        r_exact = self._residuals(nodes, group.exact, trials.log_time)
        count = trials.count[group.exact]
        failures = float(count.sum())
        mean = r_exact @ count / max(failures, 1.0)
        return _Told(
            group=group,
            failures=failures,
            mean=mean,
            square=((r_exact - mean[:, None]) ** 2) @ count,
            exact=r_exact,
            held=self._residuals(nodes, group.held, trials.log_time),
            held_count=trials.count[group.held],
            early=self._residuals(nodes, group.between, trials.log_seen),
            late=self._residuals(nodes, group.between, trials.log_time),
            between_count=trials.count[group.between],
        )

    def _constant(self, nodes: Nodes, told: _Told) -> Array:
        """Return what the failures add whatever v: scale of each density, and the slope for pulls."""
        rows = told.group.exact
        ramps = float(self.trials.count[rows][self.trials.ramp[rows]].sum())
        constant: Array = ramps * np.log(nodes.slope + 1.0) - told.failures * np.log(nodes.scatter)
        if self.family == "normal":
            constant = (
                constant - told.failures * families.LOG_ROOT_TWO_PI - 0.5 * told.square / nodes.scatter**2
            )
        return constant

    def _direct(self, nodes: Nodes, told: _Told, v: Array) -> Array:
        """Return the log likelihood of a batch whose strength is v itself."""
        m_v, s = nodes.slope[:, None] * v, nodes.scatter[:, None]
        total: Array = self._constant(nodes, told)[:, None] + self._edges(told, m_v, s)
        if self.family == "normal":
            total -= 0.5 * told.failures * ((told.mean[:, None] - m_v) / s) ** 2
            return total
        return total + self._densities(told, m_v, s)

    def _over_batch(self, nodes: Nodes, told: _Told, v: Array) -> Array:
        """Return the log likelihood of another batch, its offset from the mean of all integrated out."""
        mean_of_all = v - nodes.own[:, None]
        total: Array = np.broadcast_to(self._constant(nodes, told)[:, None], v.shape)
        tau, s, m = nodes.spread[:, None], nodes.scatter[:, None], nodes.slope[:, None]
        middle, sd = mean_of_all, np.broadcast_to(tau, v.shape)
        if self.family == "normal" and told.failures:
            own = (s / m) ** 2 / told.failures  # variance of the batch's strength as its failures tell it
            whole = own + tau**2
            seen = told.mean[:, None] / m
            total = total - 0.5 * (seen - mean_of_all) ** 2 / whole + 0.5 * np.log(own / whole)
            middle, sd = (seen * tau**2 + mean_of_all * own) / whole, np.sqrt(tau**2 * own / whole)
        if not told.edges and (self.family == "normal" or not told.failures):
            return total
        terms = []
        points = HERMITE_BETWEEN if told.between_count.size else HERMITE
        for x, log_weight in _hermite(points if self.family == "normal" else HERMITE_WEIBULL):
            m_u = m * (middle + x * sd)
            term = self._edges(told, m_u, s) + log_weight
            terms.append(term if self.family == "normal" else term + self._densities(told, m_u, s))
        top: Array = np.maximum.reduce(terms)
        rest: Array = np.exp(np.stack(terms) - top).sum(axis=0)
        return total + top + np.log(rest)

    def _edges(self, told: _Told, m_v: Array, s: Array) -> Array:
        """Return the log likelihood of what held or fell between two looks."""
        total = np.zeros_like(m_v)
        for column, count in enumerate(told.held_count):
            total += count * families.log_survival(self.family, (told.held[:, column, None] - m_v) / s)
        for column, count in enumerate(told.between_count):
            early, late = ((r[:, column, None] - m_v) / s for r in (told.early, told.late))
            total += count * families.log_between(self.family, early, late)
        return total

    def _densities(self, told: _Told, m_v: Array, s: Array) -> Array:
        total = np.zeros_like(m_v)
        for column, row in enumerate(told.group.exact):
            epsilon = (told.exact[:, column, None] - m_v) / s
            total += self.trials.count[row] * families.log_density(self.family, epsilon)
        return total


@lru_cache(maxsize=4)
def _hermite(count: int) -> tuple[tuple[float, float], ...]:
    """Return places and log weights of Gauss and Hermite's rule for a standard normal."""
    places, weights = np.polynomial.hermite_e.hermegauss(count)
    return tuple(zip(places.tolist(), np.log(weights / weights.sum()).tolist(), strict=True))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Group:
    """Rows of one batch by kind; direct: its strength is v itself."""

    direct: bool
    exact: Rows
    held: Rows
    between: Rows


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Told:
    """What one batch says at each node: residuals r by kind, mean and sum of squares of the failures'."""

    group: _Group
    failures: float
    mean: Array
    square: Array
    exact: Array
    held: Array
    held_count: Array
    early: Array
    late: Array
    between_count: Array

    @property
    def edges(self) -> bool:
        """Return whether anything held or fell between two looks."""
        return bool(self.held_count.size or self.between_count.size)


def _peak(nodes: Nodes, prior: Normal, told: Sequence[_Told]) -> tuple[Array, Array]:
    """Return where the belief about v peaks and how wide it is there: Newton's steps on a log-concave curve.

    Only the grid is placed by it, so the normal family stands in for the other one, and a fall between two looks
    for one in the middle.
    """
    from scipy.special import log_ndtr

    m, s = nodes.slope, nodes.scatter
    bend = np.where(np.isfinite(prior.sd), prior.sd**-2.0, 0.0)
    pull = bend * (prior.mean + nodes.own)
    residuals, scales, counts = [], [], []
    for one in told:
        shift = 0.0 if one.group.direct else nodes.own
        apart = 0.0 if one.group.direct else nodes.spread**2
        seen = one.failures * one.mean + 0.5 * (one.early + one.late) @ one.between_count
        weight = one.failures + one.between_count.sum()
        if weight:
            precision = 1.0 / ((s / m) ** 2 / weight + apart)
            bend = bend + precision
            pull = pull + precision * (seen / (weight * m) + shift)
        residuals.append(one.held + np.reshape(m * shift, (-1, 1)))
        scales.append(np.broadcast_to(np.sqrt(s**2 + m**2 * apart)[:, None], one.held.shape))
        counts.append(one.held_count)
    v = pull / np.maximum(bend, 1e-12)
    if not sum(count.size for count in counts):
        return v, 1.0 / np.sqrt(bend)
    residual, scale, count = (np.concatenate(parts, axis=-1) for parts in (residuals, scales, counts))
    ratio = m[:, None] / scale
    curve = bend
    for _ in range(_NEWTON_STEPS):
        epsilon = residual / scale - ratio * v[:, None]
        near = np.minimum(epsilon, 30.0)  # farther up the hazard is eps itself
        hazard = np.exp(-0.5 * near * near - families.LOG_ROOT_TWO_PI - log_ndtr(-near)) + (epsilon - near)
        rise = pull - bend * v + (ratio * hazard) @ count
        curve = bend + (ratio**2 * np.clip(hazard * (hazard - epsilon), 0.0, 1.0)) @ count
        v = v + np.clip(rise / curve, -1.0, 1.0)
    return v, 1.0 / np.sqrt(curve)


def _tabulate(log_total: Array, centre: Array, width: Array) -> tuple[Array, LocationTable]:
    top = log_total.max(axis=1)
    density = np.exp(log_total - top[:, None]) * _JACOBIAN
    # cumulative by the quintic through six neighbours; zero outside the grid, where nothing is left
    padded = np.pad(density, ((0, 0), (2, 2)))
    inner = 802.0 * (density[:, :-1] + density[:, 1:]) - 93.0 * (padded[:, 1:-4] + padded[:, 4:-1])
    inner += 11.0 * (padded[:, :-5] + padded[:, 5:])
    cumulative = np.cumsum(np.maximum(inner, 0.0), axis=1) * (STEP / 1440.0)
    cumulative = np.concatenate([np.zeros((density.shape[0], 1)), cumulative], axis=1)
    whole = cumulative[:, -1]
    share, slope = cumulative / whole[:, None], density * (STEP / whole[:, None])
    rise = np.diff(share, axis=1)
    bend, twist = 3.0 * rise - 2.0 * slope[:, :-1] - slope[:, 1:], slope[:, :-1] + slope[:, 1:] - 2.0 * rise
    cubic = np.stack([share[:, :-1], slope[:, :-1], bend, twist], axis=-1).reshape(-1, 4)
    table = LocationTable(centre=centre, width=width, cubic=cubic.astype(np.float32))
    return top + np.log(whole) + np.log(width), table
