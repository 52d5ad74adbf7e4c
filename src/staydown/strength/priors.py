"""What is believed before any coupon: wide bands of a tape class, or next to nothing (the reference prior)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.exposure import Mode
from staydown.library.cards import Band, TapeClassCard
from staydown.strength.prior_laws import Z_95, band_ln_sd, claimed_strength
from staydown.strength.rupture_laws import ramp_static_life
from staydown.strength.trials import EXACT, Trials

PriorName = Literal["class", "reference"]

_PLANNING = "common practice, no source"
# Strength in another mode over strength in tension. A card's band is for tension; these only widen it.
MODE_RATIO: dict[Mode, Band] = {
    "tension": Band(
        low=1.0, likely=1.0, high=1.0, unit="1", basis="definition", source="the card's own mode"
    ),
    "shear": Band(low=0.3, likely=0.6, high=1.2, unit="1", basis="planning value", source=_PLANNING),
    "cleavage": Band(low=0.5, likely=1.0, high=2.0, unit="1", basis="planning value", source=_PLANNING),
    # a line load over a stress: the breadth of bond that carries at the peeling front
    "peel": Band(low=1.25e-3, likely=5e-3, high=20e-3, unit="m", basis="planning value", source=_PLANNING),
}
BATCH_SPREAD = Band(  # standard deviation of ln strength between batches
    low=0.04, likely=0.08, high=0.16, unit="1", basis="planning value", source=_PLANNING
)
SHEET_BIAS = Band(  # strength on a roof over the average that a sheet prints for an ideal surface
    low=0.25, likely=0.5, high=1.0, unit="1", basis="planning value", source=_PLANNING
)
# What the reference prior leaves possible where the coupons themselves tell slope or activation energy:
# a liquid has slope 1, glass 16; softening polymers near their glass transition reach some 300 kJ/mol.
REFERENCE_SLOPE = (0.5, 60.0)
REFERENCE_ENERGY_J_per_mol = (0.0, 400e3)

LARGEST_LOG = 60.0  # of a scatter: nothing tells e^60 decades from e^61
# coupons tell a slope or an activation energy only when their conditions differ by more than this
LEAST_STRESS_RATIO = 1.2
LEAST_RATE_RATIO = 10.0
LEAST_TEMPERATURE_STEP_K = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LogNormal:
    """A positive number, lognormal: median and standard deviation of its natural log."""

    median: float
    ln_sd: float

    def value(self, z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the value at a standard normal coordinate."""
        return self.median * np.exp(self.ln_sd * z)

    def log_density(self, z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the log density over the coordinate, up to a constant."""
        return -0.5 * z * z


@dataclass(frozen=True, slots=True, kw_only=True)
class Uniform:
    """A number anywhere between two limits, all alike."""

    low: float
    high: float

    def value(self, z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the value at a standard normal coordinate."""
        from scipy.special import ndtr

        return self.low + (self.high - self.low) * ndtr(z)  # type: ignore[no-any-return]

    def log_density(self, z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the log density over the coordinate, up to a constant."""
        return -0.5 * z * z


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleFree:
    """A positive number of which not even the scale is known: density 1/s; its coordinate is its natural log."""

    def value(self, z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the value at a coordinate."""
        return np.exp(np.clip(z, -LARGEST_LOG, LARGEST_LOG))

    def log_density(self, z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the log density over the coordinate: flat."""
        return np.zeros_like(z)


Spread = LogNormal | Uniform | ScaleFree


@dataclass(frozen=True, slots=True, kw_only=True)
class RupturePrior:
    """The prior of one mode: strength for 1 h at 23 °C (None: flat), slope, activation energy, scatter, batches.

    batch_spread: ln-sd of strength between batches; None where the coupons alone shall speak and they are one
    batch. notes: every assumption, in words.
    """

    name: PriorName
    strength: LogNormal | None
    slope: Spread
    activation_energy: Spread
    scatter: Spread
    batch_spread: LogNormal | None
    notes: tuple[str, ...] = ()


def lognormal_of(band: Band) -> LogNormal:
    """Return the lognormal that a band low / likely / high stands for."""
    return LogNormal(median=band.likely, ln_sd=float(band_ln_sd(band.low, band.likely, band.high)))


def _spread_between_batches(band: Band) -> LogNormal:
    """Return the prior of the spread; a single planning value is known within a factor 2, or batches taught nothing."""
    told = lognormal_of(band)
    return told if band.low < band.high else LogNormal(median=told.median, ln_sd=math.log(2.0) / Z_95)


def class_prior(card: TapeClassCard, mode: Mode, batch_spread: Band = BATCH_SPREAD) -> RupturePrior:
    """Return the wide prior of a tape class in one mode, planning values all."""
    strength, ratio = lognormal_of(card.strength_1h_23C), lognormal_of(MODE_RATIO[mode])
    return RupturePrior(
        name="class",
        strength=LogNormal(
            median=strength.median * ratio.median, ln_sd=math.hypot(strength.ln_sd, ratio.ln_sd)
        ),
        slope=lognormal_of(card.slope),
        activation_energy=lognormal_of(card.activation_energy),
        scatter=lognormal_of(card.scatter),
        batch_spread=_spread_between_batches(batch_spread),
        notes=(f"prior: planning bands of the class {card.name!r}",),
    )


def reference_prior(
    card: TapeClassCard, mode: Mode, trials: Trials, batch_spread: Band = BATCH_SPREAD
) -> RupturePrior:
    """Return the reference prior: flat in the location of log life, 1/s in scatter; bands only where it must.

    Where the coupons that fell or broke were all under one stress (one rate of pull), the slope is left to
    the class; at one temperature, the activation energy; of one batch, nothing is added for others.
    """
    wide = class_prior(card, mode, batch_spread)
    slope_told, energy_told = tells_slope(trials), tells_activation_energy(trials)
    notes = ["prior: reference (flat in the log of strength, 1/s in scatter)"]
    if not slope_told:
        notes.append("one stress only: the slope is left to the planning band of the class")
    if not energy_told:
        notes.append("one temperature only: the activation energy is left to the planning band of the class")
    several = len(trials.batches) > 1
    if not several:
        notes.append("one batch only: no spread between batches is added")
    low, high = REFERENCE_SLOPE
    cool, hot = REFERENCE_ENERGY_J_per_mol
    return RupturePrior(
        name="reference",
        strength=None,
        slope=Uniform(low=low, high=high) if slope_told else wide.slope,
        activation_energy=Uniform(low=cool, high=hot) if energy_told else wide.activation_energy,
        scatter=ScaleFree(),
        batch_spread=wide.batch_spread if several else None,
        notes=tuple(notes),
    )


def tells_slope(trials: Trials) -> bool:
    """Return whether failures under several stresses, rates of pull, or of both kinds tell the slope."""
    exact = trials.kind == EXACT
    held, pulled = exact & ~trials.ramp, exact & trials.ramp
    stresses = _span(trials.log_stress[held]) > math.log10(LEAST_STRESS_RATIO)
    rates = _span((trials.log_stress - trials.log_time)[pulled]) > math.log10(LEAST_RATE_RATIO)
    return stresses or rates or bool(held.any() and pulled.any())


def tells_activation_energy(trials: Trials) -> bool:
    """Return whether failures at several temperatures tell the activation energy."""
    return _span(trials.temperature_K[trials.kind == EXACT]) > LEAST_TEMPERATURE_STEP_K


def _span(values: NDArray[np.float64]) -> float:
    return float(np.ptp(values)) if values.size else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One line of a data sheet in SI: stress [Pa], how long [s] at what temperature [K], held or pulled to break."""

    stress_Pa: float
    lasted_s: float
    temperature_K: float
    kind: Literal["held", "broke"]


def centre_on_sheet(
    prior: RupturePrior, lines: Sequence[SheetLine], sheet_bias: Band = SHEET_BIAS
) -> RupturePrior:
    """Return the prior with its strength moved toward what a data sheet says, less the sheet's bias.

    However many lines there are, they count as one statement of one maker: their mean, with the spread of the
    bias and of the way from their duration and temperature to 1 h at 23 °C. It is never a coupon.

    Raises
    ------
    ValueError
        The prior has no strength of its own (the reference prior takes no sheet), or no line was given.
    """
    if prior.strength is None or not lines:
        raise ValueError("a data sheet can only move the prior of a class, and needs a line")
    slope, energy = prior.slope, prior.activation_energy
    at_centre, at_sides = np.zeros(1), np.array([-1.0, 1.0])
    m, E = float(slope.value(at_centre)[0]), float(energy.value(at_centre)[0])
    means, variances = [], []
    for line in lines:
        life_s = line.lasted_s if line.kind == "held" else float(ramp_static_life(line.lasted_s, m))
        told = (line.stress_Pa, life_s, line.temperature_K)
        means.append(math.log(claimed_strength(*told, m, E, sheet_bias.likely)))
        by_slope = [math.log(claimed_strength(*told, float(v), E, 1.0)) for v in slope.value(at_sides)]
        by_energy = [math.log(claimed_strength(*told, m, float(v), 1.0)) for v in energy.value(at_sides)]
        variances.append((np.ptp(by_slope) / 2) ** 2 + (np.ptp(by_energy) / 2) ** 2)
    bias_sd = lognormal_of(sheet_bias).ln_sd
    sheet_mean, sheet_variance = float(np.mean(means)), float(np.mean(variances)) + bias_sd**2
    own_weight, sheet_weight = prior.strength.ln_sd**-2, 1.0 / sheet_variance
    weight = own_weight + sheet_weight
    mean = (own_weight * math.log(prior.strength.median) + sheet_weight * sheet_mean) / weight
    note = (
        f"prior: centred on {len(lines)} line(s) of a data sheet, discounted to {sheet_bias.likely:g} of it"
    )
    return replace(
        prior,
        strength=LogNormal(median=math.exp(mean), ln_sd=weight**-0.5),
        notes=(*prior.notes, note),
    )
