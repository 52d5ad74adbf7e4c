"""The tests that could be made: pulls and hangs, warm and cold, few and many; water soaked squares."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from staydown.foundation.exposure import Mode
from staydown.foundation.quantities import ZERO_CELSIUS_K, STANDARD_GRAVITY_m_per_s2, both, shown
from staydown.library.cards import PlanningValue, TapeClassCard
from staydown.strength.predict import Trial

COUNTS = (3, 5, 8)
HANG_FACTORS = (1.0, 1.3, 1.7, 2.5)  # of the stress that must be held
HANG_HOURS = (24.0, 72.0)
ROOM_K = 23.0 + ZERO_CELSIUS_K
PULL_s = 8.0  # a pull by hand through a scale; common practice, no source
SOAK_s = 21 * 86400.0  # three weeks under water; common practice, no source
STEP_K = 5.0
WATER_kg_per_L = 1.0  # within 0.3 % from 4 to 25 degC
GALLON_L = 3.785411784  # US gallon, exact


@dataclass(frozen=True, slots=True, kw_only=True)
class CandidateTest:
    """One test that could be made. stress_Pa: what it hangs under, 0 for pulls. soaked: after weeks under water."""

    mode: Mode
    trial: Trial
    side_m: float
    soaked: bool = False

    @property
    def way(self) -> Literal["pull", "hang"]:
        """Return whether it is pulled or hung."""
        return self.trial.way

    @property
    def area_m2(self) -> float:
        """Return the bonded area of one coupon, both laps together in shear. [m²]"""
        return self.side_m**2 * (2.0 if self.mode == "shear" else 1.0)

    @property
    def load_N(self) -> float:
        """Return the load of one hang, 0 for pulls. [N]"""
        return self.trial.stress_Pa * self.area_m2

    def effort_s(self, work_s: float) -> float:
        """Return coupons times their hours, with the work on each. [s]"""
        hanging = self.trial.lasts_s if self.way == "hang" else 0.0
        return self.trial.count * (hanging + work_s)


def water_L(load_N: float, container_kg: float) -> float:
    """Return the litres of water that, with their container, weigh as much as a load; never negative. [L]

    Examples
    --------
    >>> water_L(98.0665, 0.4)
    9.6
    """
    return max(load_N / STANDARD_GRAVITY_m_per_s2 - container_kg, 0.0) / WATER_kg_per_L


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What hangs of one mode must show: the stress of the cases of minutes and longer, and the longest. [Pa, s]"""

    mode: Mode
    stress_Pa: float
    longest_s: float


def candidates(
    asked: Asked,
    warmest_K: float,
    coldest_K: float,
    tape: TapeClassCard,
    planning: Mapping[str, PlanningValue],
) -> tuple[CandidateTest, ...]:
    """Return every test of one mode worth weighing, each within the range of the tape's class.

    Parameters
    ----------
    asked : Asked
        What hangs must show; a stress of 0 asks for no hang.
    warmest_K, coldest_K : float
        Warmest and coldest bond of any case. [K]
    tape : TapeClassCard
        Its coldest and hottest use.
    planning : mapping
        Side of a coupon, reach in temperature.
    """
    reach = float(planning["temperature_reach"].decided.value)
    side = float(planning["coupon_side"].decided.value)
    hot, cold = _up(warmest_K - reach), _down(coldest_K + reach)

    def test(trial: Trial, *, soaked: bool = False) -> CandidateTest:
        return CandidateTest(mode=asked.mode, side_m=side, trial=trial, soaked=soaked)

    found = [
        test(Trial(way="pull", count=count, temperature_K=temperature, lasts_s=PULL_s))
        for temperature in dict.fromkeys((hot, ROOM_K, cold))
        for count in COUNTS
    ]
    if asked.stress_Pa > 0.0:
        found += [
            test(
                Trial(
                    way="hang",
                    count=count,
                    temperature_K=temperature,
                    lasts_s=3600.0 * hours,
                    stress_Pa=factor * asked.stress_Pa,
                )
            )
            for hours in sorted({_hours(asked.longest_s), *HANG_HOURS})
            for temperature in dict.fromkeys((hot, ROOM_K))
            for count in COUNTS[:2]
            for factor in HANG_FACTORS
        ]
    found.append(test(Trial(way="pull", count=COUNTS[1], temperature_K=ROOM_K, lasts_s=PULL_s), soaked=True))
    return tuple(c for c in found if tape.coldest_K <= c.trial.temperature_K <= tape.hottest_K)


def _hours(seconds: float) -> float:
    return float(np.ceil(seconds / 3600.0))


def _up(temperature_K: float) -> float:
    return float(np.ceil((temperature_K - ZERO_CELSIUS_K) / STEP_K) * STEP_K + ZERO_CELSIUS_K)


def _down(temperature_K: float) -> float:
    return float(np.floor((temperature_K - ZERO_CELSIUS_K) / STEP_K) * STEP_K + ZERO_CELSIUS_K)


def described(test: CandidateTest, first: str = "") -> str:
    """Return a test in a few words, such as `5 straight pull-offs at 75 °C`. first: the system shown first, of both.

    Examples
    --------
    >>> pull = Trial(way="pull", count=5, temperature_K=348.15, lasts_s=8.0)
    >>> described(CandidateTest(mode="tension", trial=pull, side_m=0.038))
    '5 straight pull-offs at 75 °C'
    >>> described(CandidateTest(mode="tension", trial=pull, side_m=0.038), "us")
    '5 straight pull-offs at 167 °F (75 °C)'
    """
    trial = test.trial
    way = {
        ("tension", "pull"): "straight pull-offs",
        ("tension", "hang"): "straight hangs",
        ("shear", "pull"): "double-lap pulls",
        ("shear", "hang"): "double-lap hangs",
    }[(test.mode, test.way)]
    at = both(trial.temperature_K, "K", first) if first else shown(trial.temperature_K, "K")
    text = f"{trial.count} {way} at {at}"
    if test.soaked:
        text += f" after {SOAK_s / 86400:.0f} days under water"
    return text
