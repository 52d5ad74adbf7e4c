"""What a bond of one tape, surface and mode is believed to carry, from a wide prior and few coupons."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Exposure, Mode
from staydown.strength import families, sampling
from staydown.strength.families import Array, Family
from staydown.strength.prior_laws import REFERENCE_K
from staydown.strength.priors import BATCH_SPREAD, PriorName, RupturePrior
from staydown.strength.quantiles import Question, quantile, weighted_quantiles
from staydown.strength.rupture_laws import HOUR_s
from staydown.strength.temperature_terms import TemperatureLaw, temperature_term
from staydown.strength.trials import Face, Trials

SHARES = (0.05, 0.5, 0.95)
"""What tables show of a belief: 5 %, median and 95 %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BeliefSettings:
    """How a belief is formed: prior, family of scatter, law of temperature, sharing, batch of the feet, effort."""

    prior: PriorName = "class"
    family: Family = "normal"
    temperature_law: TemperatureLaw = "arrhenius"
    bonded_in_batch: str | None = None
    session_told: str = ""  # how that batch was told, or why coupons of the feet's day are of another
    batch_spread: tuple[float, float, float] = (BATCH_SPREAD.low, BATCH_SPREAD.likely, BATCH_SPREAD.high)
    nodes: int = 4096


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FaceBelief:
    """The belief about one face: its coupons, its prior, its weighted nodes."""

    face: Face
    trials: Trials
    prior: RupturePrior
    sample: sampling.Sample
    part: sampling.ComponentNodes


@dataclass(frozen=True, slots=True, kw_only=True)
class Accuracy:
    """How exact the sampling is: effective size, largest weight, relative error of the 90/95 bound (one sd)."""

    effective_size: float
    largest_weight: float
    relative_error: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """Equally likely draws of each face, shape (faces, draws): log10 strength [Pa], slope, energy [J/mol], scatter."""

    log_strength: Array
    slope: Array
    energy_J_per_mol: Array
    scatter: Array
    family: Family
    temperature_law: TemperatureLaw
    coolest_K: float

    def life_s(self, stress_Pa: float, temperature_K: float, content: float) -> Array:
        """Return the life that a share `content` of bonds exceeds, in each draw, of the face that goes first. [s]"""
        term = float(
            temperature_term(self.temperature_law, np.array([max(temperature_K, self.coolest_K)]))[0]
        )
        epsilon = families.quantile(self.family, content ** (1.0 / self.slope.shape[0]))
        log_life = self.slope * (self.log_strength - np.log10(stress_Pa))
        log_life = log_life + self.energy_J_per_mol * term + self.scatter * epsilon
        life: Array = HOUR_s * 10.0 ** log_life.min(axis=0)
        return life


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Belief:
    """The belief about one mode. Peel carries a line load: read N/m for Pa.

    coolest_K: below it no strength is credited for cold. refusals: why there is no bound (then it is NaN).
    notes: every assumption, in words.
    """

    mode: Mode
    settings: BeliefSettings
    coupons: tuple[Coupon, ...]
    faces: tuple[FaceBelief, ...]
    coolest_K: float
    accuracy: Accuracy
    refusals: tuple[str, ...]
    notes: tuple[str, ...]

    def lower_bound(self, exposures: Sequence[Exposure], content: float, confidence: float) -> Array:
        """Return the stress that a share `content` of bonds holds so long so hot, with that confidence. [Pa]

        Parameters
        ----------
        exposures : sequence
            How long and how warm; the bound is worked out once for each different pair.
        content, confidence : float
            0.90 and 0.95 for a B-basis. [1]

        Returns
        -------
        array
            One stress an exposure; NaN where the belief is refused. [Pa]
        """
        pairs = [(exposure.lasts_s, exposure.temperature_K) for exposure in exposures]
        return (
            self.strength_quantile(pairs, content, 1.0 - confidence)
            if not self.refusals
            else self._none(pairs)
        )

    def median(self, exposures: Sequence[Exposure]) -> Array:
        """Return the stress that half of the bonds hold, as likely as not. [Pa]"""
        pairs = [(exposure.lasts_s, exposure.temperature_K) for exposure in exposures]
        return self.strength_quantile(pairs, 0.5, 0.5)

    def strength_quantile(self, pairs: Sequence[tuple[float, float]], content: float, share: float) -> Array:
        """Return the `share` quantile over belief of the strength that `content` of bonds exceed. [Pa]

        pairs: (lasting [s], temperature [K]). Not refused: it also serves to show what a prior alone says.
        """
        if not pairs:
            return np.zeros(0)
        unique = sorted(set(pairs))
        asked = np.array(unique, dtype=float).reshape(-1, 2)
        log_time = np.log10(asked[:, 0] / HOUR_s)
        term = temperature_term(self.settings.temperature_law, np.maximum(asked[:, 1], self.coolest_K))
        found = quantile([self._strength_question(f, log_time, term, content) for f in self.faces], share)
        value = dict(zip(unique, 10.0**found, strict=True))
        return np.array([value[pair] for pair in pairs])

    def _strength_question(self, face: FaceBelief, log_time: Array, term: Array, content: float) -> Question:
        nodes = face.part.nodes
        epsilon = self._epsilon(content)
        level = log_time[:, None] - nodes.energy_J_per_mol * term[:, None] - nodes.scatter * epsilon
        return Question(
            part=face.part,
            weight=face.sample.weight,
            slope=np.ones_like(nodes.slope),
            level=level / nodes.slope,
        )

    def _epsilon(self, content: float) -> float:
        # faces are independent: all of them hold with the content asked when each holds with its root
        return families.quantile(self.settings.family, content ** (1.0 / len(self.faces)))

    def life_bound(self, stress_Pa: float, temperature_K: float, content: float, confidence: float) -> float:
        """Return the life that a share `content` of bonds exceeds under a stress, with that confidence. [s]"""
        if self.refusals:
            return float("nan")
        term = self._term(temperature_K)
        questions = []
        for face in self.faces:
            nodes = face.part.nodes
            level = -nodes.energy_J_per_mol * term - nodes.scatter * self._epsilon(content)
            level = np.log10(stress_Pa) + level / nodes.slope
            questions.append(
                Question(
                    part=face.part, weight=face.sample.weight, slope=1.0 / nodes.slope, level=level[None, :]
                )
            )
        return float(HOUR_s * 10.0 ** quantile(questions, 1.0 - confidence)[0])

    def breaking_stress_bound(
        self, stress_rate_Pa_per_s: float, temperature_K: float, content: float, confidence: float
    ) -> float:
        """Return the stress at which a share `content` of pulls at a rate break later, with that confidence. [Pa]"""
        if self.refusals:
            return float("nan")
        term = self._term(temperature_K)
        log_rate = np.log10(stress_rate_Pa_per_s * HOUR_s)
        questions = []
        for face in self.faces:
            nodes = face.part.nodes
            level = -log_rate - np.log10(nodes.slope + 1.0) - nodes.energy_J_per_mol * term
            level = (level - nodes.scatter * self._epsilon(content)) / nodes.slope
            slope = (nodes.slope + 1.0) / nodes.slope
            questions.append(
                Question(part=face.part, weight=face.sample.weight, slope=slope, level=level[None, :])
            )
        return float(10.0 ** quantile(questions, 1.0 - confidence)[0])

    def deciding_face(self, exposure: Exposure, content: float, confidence: float) -> Face:
        """Return the face whose own bound is the lowest."""
        one = [(exposure.lasts_s, exposure.temperature_K)]
        own = [self.only(face).strength_quantile(one, content, 1.0 - confidence)[0] for face in self.faces]
        return self.faces[int(np.argmin(own))].face

    def only(self, face: FaceBelief) -> Belief:
        """Return the belief as if that face alone could let go."""
        return replace(self, faces=(face,))

    def parameters(self) -> Mapping[str, Mapping[str, float]]:
        """Return 5 %, median and 95 % of the parameters of the face that decides for 1 h at 23 °C, by name and unit."""
        return _parameters(self)

    def draws(self, count: int, generator: np.random.Generator) -> Draws:
        """Return equally likely draws for life sums and chances, faces independent of each other."""
        columns = []
        for face in self.faces:
            places = (np.arange(count) + generator.random()) / count
            node = np.minimum(
                np.searchsorted(np.cumsum(face.sample.weight), places), face.sample.weight.size - 1
            )
            node = generator.permutation(node)
            v = face.part.table.value_at(node, generator.random(count))
            nodes = face.part.nodes
            strength = face.part.shrink[node] * v + face.part.offset[node]
            columns.append((strength, nodes.slope[node], nodes.energy_J_per_mol[node], nodes.scatter[node]))
        strengths, slopes, energies, scatters = (np.stack(column) for column in zip(*columns, strict=True))
        return Draws(
            log_strength=strengths,
            slope=slopes,
            energy_J_per_mol=energies,
            scatter=scatters,
            family=self.settings.family,
            temperature_law=self.settings.temperature_law,
            coolest_K=self.coolest_K,
        )

    def _term(self, temperature_K: float) -> float:
        warm_K = np.array([max(temperature_K, self.coolest_K)])
        return float(temperature_term(self.settings.temperature_law, warm_K)[0])

    @staticmethod
    def _none(pairs: Sequence[object]) -> Array:
        return np.full(len(pairs), np.nan)


@lru_cache(maxsize=128)
def _parameters(belief: Belief) -> Mapping[str, Mapping[str, float]]:
    hour = Exposure(lasts_s=HOUR_s, temperature_K=REFERENCE_K, season="hot")
    name = belief.deciding_face(hour, 0.9, 0.95)
    face = next(f for f in belief.faces if f.face == name)
    nodes, weight = face.part.nodes, face.sample.weight
    alone = belief.only(face)
    term = np.zeros(1)
    question = alone._strength_question(face, np.zeros(1), term, 0.5)
    strength = [float(10.0 ** quantile([question], share)[0]) for share in SHARES]
    shown = {
        "stress_1h_23C_Pa": strength,
        "slope": weighted_quantiles(nodes.slope, weight, SHARES),
        "activation_energy_J_per_mol": weighted_quantiles(nodes.energy_J_per_mol, weight, SHARES),
        "scatter_log10_life": weighted_quantiles(nodes.scatter, weight, SHARES),
    }
    return {
        key: {"low_5": low, "median": middle, "high_95": high} for key, (low, middle, high) in shown.items()
    }
