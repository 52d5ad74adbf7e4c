"""Likelihood beside belief: the best fit of the rupture law to coupons alone, and bounds by likelihood ratio.

No prior comes in. It serves to see what the coupons say by themselves, and to test the law's assumptions.
Wald's bounds (estimate less so many standard errors) are not offered: with few failures they lie on the unsafe side.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from staydown.strength import families
from staydown.strength.ascent import ascend
from staydown.strength.families import Array, Family
from staydown.strength.priors import tells_activation_energy, tells_slope
from staydown.strength.temperature_terms import temperature_term
from staydown.strength.trials import BETWEEN, EXACT, Trials

_LN10 = math.log(10.0)
_ROUNDS, _CLOSE = 100, 1e-10
_FINE = 1e-3  # finite differences, in units of what one scatter moves
_CLOSE_LOSS = 1e-6
_FARTHEST = 40.0  # decades below the estimate: the coupons do not bound the value at all
LEAST_FAILURES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeFit:
    """The most likely rupture law of some coupons.

    log10 life [h] is `location` at log10 stress `at_log_stress` and temperature term `at_term`. Where coupons do
    not tell the slope or the activation energy, the one given was kept. log_likelihood: of lives in hours and of
    breaking stresses in Pa, natural log. told: parameters that were fitted.
    """

    family: Family
    location: float
    at_log_stress: float
    at_term: float
    slope: float
    energy_J_per_mol: float
    scatter: float
    log_likelihood: float
    told: tuple[str, ...]

    def log_life(self, log_stress: float, term: float, content: float) -> float:
        """Return log10 of the life [h] that a share of bonds exceeds."""
        return (
            self.location
            - self.slope * (log_stress - self.at_log_stress)
            + self.energy_J_per_mol * (term - self.at_term)
            + self.scatter * families.quantile(self.family, content)
        )

    def life_s(self, stress_Pa: float, temperature_K: float, content: float) -> float:
        """Return the life that a share of bonds exceeds under a stress. [s]"""
        return float(10.0 ** self.log_life(math.log10(stress_Pa), _term(temperature_K), content) * 3600.0)

    @property
    def weibull_shape(self) -> float:
        """Return the shape of the Weibull distribution of life. [1]"""
        return families.GUMBEL_SD / (self.scatter * _LN10)


@dataclass(frozen=True, slots=True, kw_only=True)
class RatioTest:
    """A likelihood-ratio test of a narrower law within a wider one: statistic, degrees of freedom, p-value."""

    statistic: float
    freedom: int
    p_value: float


def _term(temperature_K: float) -> float:
    return float(temperature_term("arrhenius", np.array([temperature_K]))[0])


class _Likelihood:
    """The log likelihood of groups of trials that share slope and activation energy, each with its own strength.

    Parameters: slope, energy (where told), then for each group location and log scatter; locations are log10
    hours at the middle of the group's conditions.
    """

    def __init__(
        self, groups: Sequence[Trials], family: Family, slope: float, energy_J_per_mol: float
    ) -> None:
        self.groups = tuple(groups)
        self.family = family
        self.fixed = (slope, energy_J_per_mol)
        self.told_slope = any(tells_slope(one) for one in groups)
        self.told_energy = any(tells_activation_energy(one) for one in groups)
        self.terms = [temperature_term("arrhenius", one.temperature_K) for one in groups]
        self.middles = [
            (
                float(np.average(one.log_stress, weights=one.count)),
                float(np.average(terms, weights=one.count)),
            )
            for one, terms in zip(groups, self.terms, strict=True)
        ]

    @property
    def shared(self) -> int:
        """Return how many parameters the groups share."""
        return int(self.told_slope) + int(self.told_energy)

    def law(self, z: Array) -> tuple[Array, Array]:
        """Return slope and energy at parameter points."""
        slope = z[:, 0] if self.told_slope else np.full(z.shape[0], self.fixed[0])
        energy = z[:, int(self.told_slope)] if self.told_energy else np.full(z.shape[0], self.fixed[1])
        return slope, energy

    def __call__(self, z: Array) -> Array:
        """Return the log likelihood at parameter points, shape (points,)."""
        slope, energy = self.law(z)
        total = np.zeros(z.shape[0])
        for place in range(len(self.groups)):
            own = z[:, self.shared + 2 * place : self.shared + 2 * place + 2]
            total += self.of_group(place, slope, energy, own[:, 0], np.exp(own[:, 1]))
        return total

    def of_group(self, place: int, slope: Array, energy: Array, location: Array, scatter: Array) -> Array:
        """Return the log likelihood of one group, shape (points,)."""
        one, terms = self.groups[place], self.terms[place]
        m, s = slope[:, None], scatter[:, None]
        with np.errstate(
            invalid="ignore", divide="ignore"
        ):  # a slope below -1 has no pulls: NaN, never the best
            ramp = np.where(one.ramp, np.log10(m + 1.0), 0.0)
            scale = np.where(
                one.ramp, np.log((m + 1.0) / s) - _LN10 * one.log_stress, -np.log(s) - _LN10 * one.log_time
            )
        log_stress, term = self.middles[place]
        middle = location[:, None] - m * (one.log_stress - log_stress) + energy[:, None] * (terms - term)
        late = (one.log_time - ramp - middle) / s
        density = families.log_density(self.family, late) + scale - math.log(_LN10)
        held = families.log_survival_exact(self.family, late)
        total = np.where(one.kind == EXACT, density, held)
        if (one.kind == BETWEEN).any():
            early = np.minimum((one.log_seen - ramp - middle) / s, late - 1e-9)
            total = np.where(one.kind == BETWEEN, families.log_between(self.family, early, late), total)
        return total @ one.count

    def start(self) -> tuple[Array, Array]:
        """Return where to begin and the steps of differences: least squares on the failures."""
        slope, energy = self.fixed
        z: list[float] = []
        steps: list[float] = []
        spans = [
            (float(np.std(one.log_stress)), float(np.std(terms)))
            for one, terms in zip(self.groups, self.terms, strict=True)
        ]
        own = []
        for place, one in enumerate(self.groups):
            failed = one.kind == EXACT
            log_stress, term = self.middles[place]
            y = one.log_time - np.where(one.ramp, math.log10(slope + 1.0), 0.0)
            y = y + slope * (one.log_stress - log_stress) - energy * (self.terms[place] - term)
            location = float(np.average(y[failed], weights=one.count[failed]))
            scatter = max(float(np.std(y[failed])), 0.05)
            own += [location, math.log(scatter)]
        if self.told_slope:
            z.append(slope)
            steps.append(_FINE / max(*(span[0] for span in spans), 0.05))
        if self.told_energy:
            z.append(energy)
            steps.append(_FINE / max(*(span[1] for span in spans), 1e-7))
        return np.array(z + own), np.array(steps + [_FINE] * len(own))


def _maximise(function: _Likelihood) -> tuple[Array, float]:
    start, steps = function.start()
    z, _, value = ascend(
        function,
        start,
        steps,
        rounds=_ROUNDS,
        close=_CLOSE,
        least_curvature=1e-3 * _FINE**2,
        longest=1.0 / _FINE,
    )
    return z, value


def fit_life(trials: Trials, family: Family, slope: float, energy_J_per_mol: float) -> LifeFit:
    """Return the most likely rupture law of the trials.

    Parameters
    ----------
    trials : Trials
        Coupons of one face.
    family : str
        "normal" (lognormal life) or "weibull".
    slope, energy_J_per_mol : float
        Taken where the trials do not tell their own, and to begin with. [1, J/mol]

    Raises
    ------
    ValueError
        Fewer than two coupons fell or broke: then no scatter can be told.
    """
    if trials.failures < LEAST_FAILURES:
        raise ValueError(f"{trials.failures} failure(s): a fit needs {LEAST_FAILURES}")
    function = _Likelihood([trials], family, slope, energy_J_per_mol)
    z, value = _maximise(function)
    (m,), (E,) = function.law(z[None, :])
    return LifeFit(
        family=family,
        location=float(z[-2]),
        at_log_stress=function.middles[0][0],
        at_term=function.middles[0][1],
        slope=float(m),
        energy_J_per_mol=float(E),
        scatter=math.exp(z[-1]),
        log_likelihood=value,
        told=(
            *(["slope"] if function.told_slope else []),
            *(["activation energy"] if function.told_energy else []),
        ),
    )


def life_bound(
    trials: Trials, fit: LifeFit, stress_Pa: float, temperature_K: float, content: float, confidence: float
) -> float:
    """Return the lower likelihood-ratio bound of the life that a share of bonds exceeds under a stress. [s]

    One-sided: the life at which twice the loss of log likelihood reaches the square of the normal quantile.
    """
    log_stress, term = math.log10(stress_Pa), _term(temperature_K)

    def point(slope: Array, log_life: float) -> tuple[Array, Array]:
        return np.full_like(slope, log_life), np.full_like(slope, log_stress)

    profile = _Profile(trials, fit, content, term, point)
    estimate = fit.log_life(log_stress, term, content)
    return float(3600.0 * 10.0 ** profile.lower(estimate, fit.scatter, confidence))


def stress_bound(
    trials: Trials, fit: LifeFit, lasts_s: float, temperature_K: float, content: float, confidence: float
) -> float:
    """Return the lower likelihood-ratio bound of the stress that a share of bonds holds so long. [Pa]"""
    log_time, term = math.log10(lasts_s / 3600.0), _term(temperature_K)

    def point(slope: Array, log_stress: float) -> tuple[Array, Array]:
        return np.full_like(slope, log_time), np.full_like(slope, log_stress)

    profile = _Profile(trials, fit, content, term, point)
    spare = fit.log_life(fit.at_log_stress, term, content) - log_time
    return float(
        10.0 ** profile.lower(fit.at_log_stress + spare / fit.slope, fit.scatter / fit.slope, confidence)
    )


class _Profile:
    """The likelihood with everything but one value at its best: the value lies on the quantile asked."""

    def __init__(
        self,
        trials: Trials,
        fit: LifeFit,
        content: float,
        term: float,
        point: Callable[[Array, float], tuple[Array, Array]],
    ) -> None:
        self.function = _Likelihood([trials], fit.family, fit.slope, fit.energy_J_per_mol)
        self.steps = self.function.start()[1]
        told = [fit.slope] * self.function.told_slope + [fit.energy_J_per_mol] * self.function.told_energy
        self.best = np.array([*told, math.log(fit.scatter)])
        self.top = fit.log_likelihood
        self.epsilon = families.quantile(fit.family, content)
        self.term, self.point = term, point
        self.narrow_steps = np.delete(self.steps, -2)

    def loss(self, value: float) -> float:
        """Return the root of twice the loss of log likelihood at a value. [1]"""

        def constrained(z: Array) -> Array:
            slope, energy = self.function.law(z)
            log_time, log_stress = self.point(slope, value)
            at_stress, at_term = self.function.middles[0]
            location = log_time + slope * (log_stress - at_stress) - energy * (self.term - at_term)
            location = location - np.exp(z[:, -1]) * self.epsilon
            return self.function(np.insert(z, -1, location, axis=1))

        self.best, _, here = ascend(
            constrained,
            self.best,
            self.narrow_steps,
            rounds=_ROUNDS,
            close=_CLOSE,
            least_curvature=1e-3 * _FINE**2,
            longest=1.0 / _FINE,
        )
        return math.sqrt(max(2.0 * (self.top - here), 0.0))

    def lower(self, estimate: float, width: float, confidence: float) -> float:
        """Return the value below the estimate whose loss is the normal quantile of the confidence."""
        from scipy.special import ndtri

        wanted = float(ndtri(confidence))
        high, low = estimate, estimate - width
        loss_high, loss_low = 0.0, self.loss(low)
        while loss_low < wanted:
            high, loss_high = low, loss_low
            low -= 2.0 * (estimate - low)
            loss_low = self.loss(low)
            if estimate - low > _FARTHEST:
                return -math.inf
        for _ in range(_ROUNDS):
            share = (wanted - loss_high) / (loss_low - loss_high)
            value = high + min(max(share, 0.05), 0.95) * (low - high)
            loss = self.loss(value)
            if abs(loss - wanted) < _CLOSE_LOSS:
                break
            high, loss_high, low, loss_low = (
                (value, loss, low, loss_low) if loss < wanted else (high, loss_high, value, loss)
            )
        return value


def sharing_test(
    groups: Sequence[Trials], family: Family, slope: float, energy_J_per_mol: float
) -> RatioTest | None:
    """Return the test of modes sharing slope and activation energy against each having its own.

    None where no two groups tell the same parameter: then nothing can be tested.
    """
    enough = [one for one in groups if one.failures >= LEAST_FAILURES]
    if not enough:
        return None
    together = _Likelihood(enough, family, slope, energy_J_per_mol)
    best, narrow = _maximise(together)
    (m,), (E,) = together.law(best[None, :])
    # a group that cannot tell a parameter keeps the shared one: the wider law then holds the narrower within it
    alone = [_Likelihood([one], family, float(m), float(E)) for one in enough]
    freedom = sum(one.shared for one in alone) - together.shared
    if freedom < 1:
        return None
    return _ratio_test(sum(_maximise(one)[1] for one in alone), narrow, freedom)


def law_test(trials: Trials, family: Family, slope: float, energy_J_per_mol: float) -> RatioTest | None:
    """Return the test of the rupture law against a strength and a scatter for each condition of its own.

    None where fewer than two conditions have two failures each, or the law has no fewer parameters.
    """
    cells = _cells(trials)
    function = _Likelihood([trials], family, slope, energy_J_per_mol)
    freedom = 2 * len(cells) - 2 - function.shared
    if any(cell.failures < LEAST_FAILURES for cell in cells) or freedom < 1:
        return None
    wide = sum(_maximise(_Likelihood([cell], family, slope, energy_J_per_mol))[1] for cell in cells)
    return _ratio_test(wide, _maximise(function)[1], freedom)


def _cells(trials: Trials) -> list[Trials]:
    """Return the trials of each condition: hangs by stress and temperature, pulls by temperature."""
    keys = [
        (bool(ramp), 0.0 if ramp else round(float(stress), 6), float(T))
        for ramp, stress, T in zip(trials.ramp, trials.log_stress, trials.temperature_K, strict=True)
    ]
    return [trials.rows(np.array([key == one for key in keys])) for one in sorted(set(keys))]


def _ratio_test(wide: float, narrow: float, freedom: int) -> RatioTest:
    from scipy.special import chdtrc

    statistic = max(2.0 * (wide - narrow), 0.0)
    return RatioTest(statistic=statistic, freedom=freedom, p_value=float(chdtrc(freedom, statistic)))
