"""Weighted nodes of belief: slope, activation energy, scatter and batches by importance, strength by quadrature.

The other parameters are drawn with a shifted lattice through heavy tails laid over the peak of their belief; at
each node the strength is integrated by `location`. Same seed, same nodes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.strength.ascent import ascend
from staydown.strength.families import Array
from staydown.strength.lattice import lattice_points, shift_of, t4_log_density, t4_quantile
from staydown.strength.location import LocationModel, LocationTable, Nodes, Normal
from staydown.strength.priors import RupturePrior, ScaleFree

_LN10 = float(np.log(10.0))
PILOT = 512
PILOTS = 2
PROPOSAL_SCALE = 0.85  # of the standard deviation: the heavy tails do the rest
PROPOSAL_SCALE_NORMAL = 1.1
SLIGHT = (
    0.06  # a correlation this slight is noise of the pilot: without it, independent things stay so exactly
)
UNTOLD = 0.1  # a coordinate whose mean and scatter moved less than this was told nothing by the coupons


@dataclass(frozen=True, slots=True, kw_only=True)
class Component:
    """One mode and face: its coupons, its prior, the batch the feet were bonded with (an index; None: another)."""

    model: LocationModel
    prior: RupturePrior
    bonded_in: int | None

    @property
    def batches(self) -> int:
        """Return the number of batches tested."""
        return len(self.model.trials.batches)

    @property
    def told_spread(self) -> bool:
        """Return whether several batches tell the spread between them."""
        return self.prior.batch_spread is not None and self.batches > 1

    @property
    def coordinates(self) -> int:
        """Return how many are drawn for it: scatter, spread between batches, offset of the feet's batch."""
        return 1 + (self.prior.batch_spread is not None) + (self.told_spread and self.bonded_in is not None)

    @property
    def widened(self) -> bool:
        """Return whether the feet belong to a batch that no coupon was made with."""
        return self.prior.batch_spread is not None and self.bonded_in is None and self.batches > 0


@dataclass(frozen=True, slots=True, kw_only=True)
class HotDatum:
    """A measured ratio of strength, hot over reference, as a datum on slope and activation energy.

    log_kept: log10 of the ratio, of pulls. temperature_term: factor of the activation energy [mol/J]. sd: of the
    log10.
    """

    log_kept: float
    temperature_term: float
    sd: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ComponentNodes:
    """One component at all nodes: its parameters and its belief about strength.

    The log10 strength of the batch in question is shrink v + offset, v as in the table.
    """

    nodes: Nodes
    table: LocationTable
    shrink: Array
    offset: Array

    def take(self, kept: NDArray[np.int64]) -> ComponentNodes:
        """Return some of the nodes only."""
        return ComponentNodes(
            nodes=self.nodes.take(kept),
            table=self.table.take(kept),
            shrink=self.shrink[kept],
            offset=self.offset[kept],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sample:
    """Weighted nodes of all components that share slope and activation energy. weight sums to 1."""

    weight: Array
    quarter: NDArray[np.int64]
    components: tuple[ComponentNodes, ...]
    effective_size: float
    largest_weight: float


class Problem:
    """The belief over the coordinates that are drawn; every coordinate but a ScaleFree one is standard normal before.

    Order: slope, activation energy, then for each component its scatter, batch spread and offset. What no
    coupon can tell (the offset of the feet's own batch) comes last and is drawn from its prior.
    """

    def __init__(self, components: Sequence[Component], hot: Sequence[HotDatum]) -> None:
        self.components = tuple(components)
        self.hot = tuple(hot)
        self.drawn = 2 + sum(component.coordinates for component in components)
        self.heavy = self._heavy()
        self.free = sum(component.widened for component in components)

    @property
    def proper(self) -> NDArray[np.bool_]:
        """Return which coordinates are standard normal before."""
        proper = np.ones(self.drawn, dtype=bool)
        place = 2
        for component in self.components:
            proper[place] = not isinstance(component.prior.scatter, ScaleFree)
            place += component.coordinates
        return proper

    def _heavy(self) -> NDArray[np.bool_]:
        """Return which coordinates are drawn with heavy tails; batches have the thin ones of their normal prior."""
        heavy = np.ones(self.drawn, dtype=bool)
        place = 2
        for component in self.components:
            width = component.coordinates
            heavy[place + 1 : place + width] = False
            place += width
        return heavy

    def start(self) -> Array:
        """Return coordinates to begin the search at."""
        z = np.zeros(self.drawn)
        slope = self.components[0].prior.slope.value(np.zeros(1))
        energy = self.components[0].prior.activation_energy.value(np.zeros(1))
        place = 2
        for component in self.components:
            if component.prior.name == "reference":
                scatter = component.model.plain_scatter(float(slope[0]), float(energy[0]))
                z[place] = np.log(scatter / (slope[0] + 1.0 if component.model.pulled_only else 1.0))
            place += component.coordinates
        return z

    def evaluate(self, z: Array, free: Array) -> tuple[Array, tuple[ComponentNodes, ...]]:
        """Return the log of belief at coordinates z, shape (points, drawn), and each component there."""
        first = self.components[0].prior
        slope, energy = first.slope.value(z[:, 0]), first.activation_energy.value(z[:, 1])
        total = first.slope.log_density(z[:, 0]) + first.activation_energy.log_density(z[:, 1])
        for datum in self.hot:
            away = (energy * datum.temperature_term / (slope + 1.0) - datum.log_kept) / datum.sd
            total = total - 0.5 * away * away
        parts, place, place_free = [], 2, 0
        for component in self.components:
            width = component.coordinates
            own = z[:, place : place + width]
            place += width
            xi = free[:, place_free] if component.widened else np.zeros(z.shape[0])
            place_free += component.widened
            log_likelihood, part = _component(component, slope, energy, own, xi)
            total = total + log_likelihood
            parts.append(part)
        return total, tuple(parts)


def _component(
    component: Component, slope: Array, energy: Array, own: Array, xi: Array
) -> tuple[Array, ComponentNodes]:
    prior, points = component.prior, slope.size
    scatter = prior.scatter.value(own[:, 0])
    if prior.strength is None and component.model.pulled_only:
        scatter = scatter * (
            slope + 1.0
        )  # the coordinate is the scatter of log breaking stress, told apart from slope
    total = prior.scatter.log_density(own[:, 0])
    spread = np.zeros(points)
    if prior.batch_spread is not None:
        spread = prior.batch_spread.value(own[:, 1]) / _LN10
        total = total + prior.batch_spread.log_density(own[:, 1])
    own_offset = np.zeros(points)
    if own.shape[1] > 2:
        total = total - 0.5 * own[:, 2] ** 2
        own_offset = spread * own[:, 2]
    if prior.strength is None:
        total = total + _flat_measure(component, slope)
        mean, sd = np.zeros(points), np.full(points, np.inf)
    else:
        mean = np.full(points, np.log10(prior.strength.median))
        sd = np.full(points, prior.strength.ln_sd / _LN10)
    nodes = Nodes(slope=slope, energy_J_per_mol=energy, scatter=scatter, spread=spread, own=own_offset)
    one_batch = prior.batch_spread is not None and not component.told_spread
    seen_sd = np.hypot(sd, spread) if one_batch else sd
    log_likelihood, table = component.model.integrate(nodes, Normal(mean=mean, sd=seen_sd))
    shrink, offset = np.ones(points), np.zeros(points)
    if component.widened and component.told_spread:
        offset = spread * xi
    elif component.widened:
        # v is the strength of the batch tested; that of another batch shares only the mean of all with it
        shrink = 1.0 / (1.0 + (spread / sd) ** 2)
        offset = mean * (1.0 - shrink) + spread * np.sqrt(1.0 + shrink) * xi
    return total + log_likelihood, ComponentNodes(nodes=nodes, table=table, shrink=shrink, offset=offset)


def _flat_measure(component: Component, slope: Array) -> Array:
    """Return the log of the measure that makes a flat prior flat in what is random, whatever the slope.

    In log life when coupons fell, in log breaking stress when all were pulled: then the slope keeps its own prior.
    """
    log_slope: Array = np.log(slope)
    return log_slope - np.log(slope + 1.0) if component.model.pulled_only else log_slope


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Proposal:
    """Where nodes are laid: centre, lower triangular root of the covariance, heavy tails or normal ones."""

    centre: Array
    root: Array
    heavy: NDArray[np.bool_]

    def points(self, unit: Array) -> tuple[Array, Array]:
        """Return coordinates for points of the unit cube, and the log density that they were laid with."""
        from scipy.special import ndtri

        t = np.where(self.heavy, t4_quantile(unit), ndtri(unit))
        density = np.where(self.heavy, t4_log_density(t), -0.5 * t * t)
        return self.centre + t @ self.root.T, density.sum(axis=1)


def _proposal(problem: Problem, centre: Array, covariance: Array) -> _Proposal:
    """Return a proposal of that centre and covariance; a coordinate that no coupon tells keeps its prior exactly."""
    root = np.asarray(np.linalg.cholesky(covariance + 1e-10 * np.eye(problem.drawn)), dtype=float)
    lean = np.abs(root) < SLIGHT * np.sqrt(np.diag(covariance))[:, None]
    root = np.where(lean & ~np.eye(problem.drawn, dtype=bool), 0.0, root)
    heavy = problem.heavy.copy()
    scale = np.where(heavy, PROPOSAL_SCALE, PROPOSAL_SCALE_NORMAL)
    for place in np.flatnonzero(problem.proper):
        told = abs(centre[place]) > UNTOLD or abs(root[place, place] - 1.0) > UNTOLD
        if not told and np.abs(root[place, :place]).max(initial=0.0) < UNTOLD:
            centre, root = centre.copy(), root.copy()
            # the others lean on this coordinate: move them along with its centre
            centre += root[:, place] * (-centre[place] / root[place, place])
            root[place, : place + 1] = 0.0
            root[place, place] = scale[place] = 1.0
            heavy[place] = False
    return _Proposal(centre=centre, root=root * scale, heavy=heavy)


def draw(problem: Problem, count: int, seed: int, turn: int) -> Sample:
    """Return weighted nodes of a problem; turn tells apart the samples of one seed."""
    centre, covariance = _peak(problem)
    for pilot in range(PILOTS):
        points, log_weight, _ = _importance(
            problem, _proposal(problem, centre, covariance), PILOT, seed, turn + pilot
        )
        weight = np.exp(log_weight - log_weight.max())
        weight /= weight.sum()
        if 1.0 / (weight**2).sum() < 10.0 * problem.drawn:
            covariance = 2.0 * covariance
            continue
        centre = weight @ points
        away = points - centre
        covariance = (away * weight[:, None]).T @ away
    _, log_weight, parts = _importance(
        problem, _proposal(problem, centre, covariance), count, seed, turn + PILOTS
    )
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    kept = np.flatnonzero(weight > 1e-10 * weight.max())
    return Sample(
        weight=weight[kept],
        quarter=kept % 4,
        components=tuple(part.take(kept) for part in parts),
        effective_size=float(1.0 / (weight**2).sum()),
        largest_weight=float(weight.max()),
    )


def _importance(
    problem: Problem, proposal: _Proposal, count: int, seed: int, turn: int
) -> tuple[Array, Array, tuple[ComponentNodes, ...]]:
    from scipy.special import ndtri

    unit = lattice_points(count, shift_of(seed, turn, problem.drawn + problem.free))
    points, laid = proposal.points(unit[:, : problem.drawn])
    log_belief, parts = problem.evaluate(points, ndtri(unit[:, problem.drawn :]))
    return points, log_belief - laid, parts


def _peak(problem: Problem) -> tuple[Array, Array]:
    """Return the peak of belief over the drawn coordinates and its covariance there."""

    def belief(z: Array) -> Array:
        return problem.evaluate(z, np.zeros((z.shape[0], problem.free)))[0]

    step = 0.05
    centre, curvature, _ = ascend(
        belief,
        problem.start(),
        np.full(problem.drawn, step),
        rounds=15,
        close=1e-4,
        least_curvature=0.2 * step**2,
        longest=2.0 / step,
    )
    return centre, np.asarray(np.linalg.inv(curvature), dtype=float)
