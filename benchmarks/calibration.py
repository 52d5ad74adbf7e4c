"""Is the stated 95 % bound right as often as it says? Synthetic rigs, also from laws other than ours.

Run: `python benchmarks/calibration.py [rigs] [part of a name]` (500 rigs a scenario by default, some ten minutes on a
quiet core). All scenarios with 500 rigs or more are stored in `calibration.json`; `table` prints them, as
docs/method/strength.md shows and explains them.

A rig is one owner: a true rupture law, a batch of feet, a few coupons made and tested as people do. Its bound is
right when it lies below what 90 % of bonds of that batch truly carry. Asked at the test itself (as long as three of
the coupons lasted), at the edge of what that covers (10 K hotter and ten times as long) and at the edge of what is
inferred from it (25 K beyond that).
"""

from __future__ import annotations

import json
import math
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.library.cards import Band, TapeClassCard
from staydown.strength import families
from staydown.strength.belief import BeliefSettings
from staydown.strength.bound_at import bounds_at
from staydown.strength.build_belief import believe
from staydown.strength.evidence_level import Reach, static_life_s
from staydown.strength.temperature_terms import temperature_term

HOUR_s, ROOM_K, HOT_K = 3600.0, 296.15, 333.15
CONTENT, CONFIDENCE, AIM = 0.90, 0.95, 0.93
NODES = 1024
LN10 = math.log(10.0)
Z95 = 1.6448536269514722
STORED = Path(__file__).with_suffix(".json")
POINTS = {"at the test": (0.0, 1.0), "covered edge": (10.0, 10.0), "inferred edge": (35.0, 10.0)}

Design = Literal["hangs", "pulls", "pulls and hangs"]
Truth = Literal["ours", "weibull", "wlf"]


def _band(low: float, likely: float, high: float, unit: str) -> Band:
    return Band(
        low=low, likely=likely, high=high, unit=unit, basis="planning value", source="invented for this study"
    )


CARD = TapeClassCard(
    id="study tape",
    name="study tape",
    structural=True,
    why_not="",
    rigid=False,
    tension_modulus=_band(0.5e6, 1e6, 2e6, "Pa"),
    shear_modulus=_band(0.2e6, 0.35e6, 0.7e6, "Pa"),
    strength_1h_23C=_band(60e3, 130e3, 300e3, "Pa"),
    slope=_band(5.0, 9.0, 16.0, "1"),
    activation_energy=_band(50e3, 80e3, 120e3, "J/mol"),
    scatter=_band(0.2, 0.4, 0.8, "1"),
    coldest_K=233.15,
    hottest_K=363.15,
)
BATCH = (0.04, 0.08, 0.16)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """How rigs are made. shift: by how many prior standard deviations the truth lies off its band, at random sides.

    censored: share of hangs still holding when taken down, at the moment the last of the others fell; NaN takes all
    down after 8 h whatever happened. stress: "guessed" from the class card within a factor 1.5 (one sd), or
    "informed" by the true law (lives of some 10 h, stopped at the true quantile). energy_shift: of the energy alone,
    upward (life falls faster in heat than believed). bend: of a bent law, slope below the 1 h strength over the slope
    that was drawn, above it one over that. batch_factor: true spread between batches over the
    planning value. days: on how many days the coupons were made.
    """

    name: str
    coupons: int
    design: Design = "hangs"
    censored: float = 0.0
    truth: Truth = "ours"
    shift: float = 0.0
    energy_shift: float = 0.0
    bend: float = 1.0
    batch_factor: float = 1.0
    days: int = 1
    prior: Literal["class", "reference"] = "class"
    stress: Literal["guessed", "informed"] = "guessed"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueLaw:
    """A true rupture law: log10 strength of the mean batch, slope, energy, scatter, spread between batches (log10)."""

    kind: Truth
    log_strength: float
    slope: float
    energy_J_per_mol: float
    scatter: float
    spread: float
    bend: float

    def log_life(self, stress_Pa: float, temperature_K: float, offset: float) -> float:
        """Return the middle of log10 life [h] under a stress, of a batch."""
        term = float(
            temperature_term("wlf" if self.kind == "wlf" else "arrhenius", np.array([temperature_K]))[0]
        )
        room = self.log_strength + offset - math.log10(stress_Pa)
        slope = self.slope * (self.bend if room > 0 else 1.0 / self.bend)
        return slope * room + self.energy_J_per_mol * term

    def error(self, random: np.random.Generator) -> float:
        """Return one standardised error of log life."""
        if self.kind == "weibull":
            return (math.log(random.exponential()) + families.EULER) / families.GUMBEL_SD
        return float(random.standard_normal())

    def strength_Pa(self, hours: float, temperature_K: float, offset: float, content: float) -> float:
        """Return the stress that a share of a batch's bonds holds so long, by bisection of the true law."""
        epsilon = families.quantile("weibull" if self.kind == "weibull" else "normal", content)
        low, high = 1.0, 1e8
        for _ in range(80):
            middle = math.sqrt(low * high)
            life = self.log_life(middle, temperature_K, offset) + self.scatter * epsilon
            low, high = (middle, high) if life > math.log10(hours) else (low, middle)
        return low

    def breaking_stress_Pa(
        self, rate_Pa_per_s: float, temperature_K: float, offset: float, epsilon: float
    ) -> float:
        """Return where a pull breaks: the linear sum of life used along the ramp reaches one."""
        stress = np.geomspace(1e3, 1e8, 4001)
        log_life = np.array([self.log_life(float(s), temperature_K, offset) for s in stress[::20]])
        log_life = np.interp(np.log(stress), np.log(stress[::20]), log_life) + self.scatter * epsilon
        per_stress = 1.0 / (10.0**log_life * HOUR_s * rate_Pa_per_s)
        used = np.concatenate([[0.0], np.cumsum(0.5 * (per_stress[1:] + per_stress[:-1]) * np.diff(stress))])
        return float(np.exp(np.interp(0.0, np.log(np.maximum(used, 1e-300)), np.log(stress))))


def true_law(scenario: Scenario, random: np.random.Generator) -> TrueLaw:
    """Return a law drawn from the class bands, off them where the scenario says so."""

    def drawn(band: Band, shift: float) -> float:
        sd = max(math.log(band.high / band.likely), math.log(band.likely / band.low)) / Z95
        z = random.standard_normal() if shift == 0.0 else shift * random.choice([-1.0, 1.0])
        return band.likely * math.exp(sd * z)

    energy = drawn(CARD.activation_energy, scenario.shift)
    if scenario.energy_shift:
        energy = CARD.activation_energy.likely * math.exp(scenario.energy_shift * math.log(80 / 50) / Z95)
    return TrueLaw(
        kind=scenario.truth,
        log_strength=math.log10(drawn(CARD.strength_1h_23C, scenario.shift)),
        slope=drawn(CARD.slope, scenario.shift),
        energy_J_per_mol=energy,
        scatter=drawn(CARD.scatter, scenario.shift),
        spread=scenario.batch_factor * BATCH[1] / LN10,
        bend=scenario.bend,
    )


def make_coupons(scenario: Scenario, law: TrueLaw, random: np.random.Generator) -> list[Coupon]:
    """Return the coupons of one rig: pulls in some seconds at room temperature, hangs at 60 °C for hours."""
    offsets = law.spread * random.standard_normal(scenario.days)
    hangs = {"hangs": scenario.coupons, "pulls": 0, "pulls and hangs": scenario.coupons // 2}[scenario.design]
    stress, stop_h = _stress_and_stop(scenario, law, random)
    lives_h = np.array(
        [
            10.0
            ** (
                law.log_life(stress, HOT_K, float(offsets[i % scenario.days]))
                + law.scatter * law.error(random)
            )
            for i in range(hangs)
        ]
    )
    if hangs and math.isnan(stop_h):
        stop_h = float(np.sort(lives_h)[max(hangs - round(scenario.censored * hangs), 1) - 1])
    coupons = []
    for place in range(scenario.coupons):
        day = place % scenario.days
        made = {"name": str(place), "tape": CARD.id, "surface": "gelcoat", "mode": "tension", "area_m2": 1.0}
        if place < hangs:
            lasted_s = max(min(float(lives_h[place]), stop_h) * HOUR_s, 1e-3)
            result = "fell" if lives_h[place] <= stop_h else "holding"
            told = {"result": result, "load_N": stress, "lasted_s": lasted_s, "temperature_K": HOT_K}
        else:
            rate = law.strength_Pa(1e-3, ROOM_K, 0.0, 0.5) / 5.0  # a pull of some 5 s
            broke = law.breaking_stress_Pa(rate, ROOM_K, float(offsets[day]), law.error(random))
            told = {"result": "broke", "load_N": broke, "lasted_s": broke / rate, "temperature_K": ROOM_K}
        coupons.append(Coupon(**(made | told), made_on=f"day {day}"))  # type: ignore[arg-type]
    return coupons


def _stress_and_stop(scenario: Scenario, law: TrueLaw, random: np.random.Generator) -> tuple[float, float]:
    """Return the stress of the hangs and when they are taken down [h]; NaN: when enough have fallen."""
    if scenario.stress == "informed":
        middle_h = 10.0 ** (1.0 + 0.3 * random.standard_normal())
        epsilon = families.quantile("normal", max(scenario.censored, 1e-9))
        return law.strength_Pa(middle_h, HOT_K, 0.0, 0.5), middle_h * 10.0 ** (law.scatter * epsilon)
    card = TrueLaw(
        kind="ours",
        log_strength=math.log10(CARD.strength_1h_23C.likely),
        slope=CARD.slope.likely,
        energy_J_per_mol=CARD.activation_energy.likely,
        scatter=CARD.scatter.likely,
        spread=0.0,
        bend=1.0,
    )
    stress = card.strength_Pa(8.0, HOT_K, 0.0, 0.5) * 1.5 ** float(random.standard_normal())
    return stress, 8.0 if math.isnan(scenario.censored) else math.nan


def one_rig(scenario: Scenario, seed: int) -> dict[str, tuple[bool, float]] | None:
    """Return for each point whether the bound was right, and bound over truth; None where the belief refused."""
    random = np.random.default_rng([seed, *scenario.name.encode()])
    law = true_law(scenario, random)
    coupons = make_coupons(scenario, law, random)
    own = law.spread * float(random.standard_normal())
    settings = BeliefSettings(prior=scenario.prior, batch_spread=BATCH, nodes=NODES)
    belief = believe(coupons, CARD, settings=settings, seed=seed)
    if belief.refusals:
        return None
    slope = CARD.slope.likely
    lives_s = sorted((static_life_s(coupon, slope) for coupon in coupons), reverse=True)
    warm_K = ROOM_K if scenario.design == "pulls" else HOT_K
    pairs = tuple((lives_s[2] * longer, warm_K + hotter) for hotter, longer in POINTS.values())
    bounds = bounds_at(belief, pairs, CONTENT, CONFIDENCE, slope=slope, coldest_K=253.15, reach=Reach())
    found = {}
    for name, (lasts_s, temperature_K), bound in zip(POINTS, pairs, bounds, strict=True):
        true = law.strength_Pa(lasts_s / HOUR_s, temperature_K, own, CONTENT)
        found[name] = (bool(bound.stress_Pa <= true), float(bound.stress_Pa / true))
    return found


def scenarios() -> list[Scenario]:
    """Return all scenarios of the study."""
    told = [
        Scenario(name=f"{n} hangs, {c:.0%} held, prior {word}", coupons=n, censored=c, shift=shift)
        for n in (3, 5, 10)
        for c in (0.0, 0.4, 0.8)
        for word, shift in (("right", 0.0), ("off by 1 sd", 1.0))
    ]
    told += [
        Scenario(name=f"{n} pulls, prior off by 1 sd", coupons=n, design="pulls", shift=1.0)
        for n in (3, 5, 10)
    ]
    mixed: Design = "pulls and hangs"
    for c in (0.0, 0.8):
        name = f"5 pulls + 5 hangs, {c:.0%} held, prior off by 1 sd"
        told.append(Scenario(name=name, coupons=10, design=mixed, censored=c, shift=1.0))
    for shift in (0.0, 1.0):
        name = f"5 hangs for 8 h, as it comes, prior {'off by 1 sd' if shift else 'right'}"
        told.append(Scenario(name=name, coupons=5, censored=math.nan, shift=shift))
    kinds: tuple[tuple[Truth, float, str], ...] = (
        ("weibull", 1.0, "Weibull life"),
        ("ours", 0.85, "slope bent by 0.85"),
        ("ours", 0.7, "slope bent by 0.7"),
        ("wlf", 1.0, "WLF"),
    )
    for truth, bend, word in kinds:
        told += [
            Scenario(name=f"{n} hangs, 40% held, {word}", coupons=n, censored=0.4, truth=truth, bend=bend)
            for n in (5, 10)
        ]
        name = f"5 pulls + 5 hangs, 40% held, {word}"
        told.append(Scenario(name=name, coupons=10, design=mixed, censored=0.4, truth=truth, bend=bend))
    for days in (1, 3):
        name = f"10 hangs on {days} day(s), batches twice the planning value"
        told.append(Scenario(name=name, coupons=10, days=days, batch_factor=2.0))
    word = "life falls faster in heat by 2 sd"
    told.append(Scenario(name=f"5 hangs, {word}", coupons=5, energy_shift=2.0))
    told.append(Scenario(name=f"5 pulls + 5 hangs, {word}", coupons=10, design=mixed, energy_shift=2.0))
    for n, c in ((5, 0.0), (10, 0.4)):
        for shift, word in ((0.0, ""), (1.0, ", slope of the class off by 1 sd")):
            name = f"{n} hangs, {c:.0%} held, reference prior, one batch{word}"
            told.append(
                Scenario(name=name, coupons=n, censored=c, prior="reference", batch_factor=0.0, shift=shift)
            )
    for n in (3, 5):
        name = f"{n} hangs, 80% held, stress chosen knowing the truth"
        told.append(Scenario(name=name, coupons=n, censored=0.8, stress="informed"))
    return told


def run(scenario: Scenario, rigs: int) -> dict[str, object]:
    """Return how often the bound was right at each point, and how far below the truth it lay in the middle."""
    found = [one for seed in range(rigs) if (one := one_rig(scenario, seed)) is not None]
    right = {name: sum(one[name][0] for one in found) / len(found) for name in POINTS}
    middle = {name: float(np.median([one[name][1] for one in found])) for name in POINTS}
    return {
        **asdict(scenario),
        "rigs": rigs,
        "refused": rigs - len(found),
        "right": right,
        "bound_over_truth": middle,
    }


def table() -> str:
    """Return the stored results as the table of docs/method/strength.md."""
    stored = json.loads(STORED.read_text(encoding="utf-8"))
    rows = [f"| scenario | {' | '.join(POINTS)} |", "|---|" + "---|" * len(POINTS)]
    for one in stored["scenarios"]:
        shares = (f"{one['right'][point]:.3f} ({one['bound_over_truth'][point]:.2f})" for point in POINTS)
        rows.append(f"| {one['name']} | {' | '.join(shares)} |")
    return "\n".join(rows)


def main() -> None:
    """Run every scenario, print a line each, store them all; with `table`, print what is stored."""
    if sys.argv[1:] == ["table"]:
        print(table())
        return
    rigs = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    part = sys.argv[2] if len(sys.argv) > 2 else ""
    results = []
    start = time.time()
    for scenario in (one for one in scenarios() if part in one.name):
        one = run(scenario, rigs)
        results.append(one)
        right, middle = one["right"], one["bound_over_truth"]
        shares = "  ".join(f"{right[p]:.3f} ({middle[p]:.2f})" for p in POINTS)  # type: ignore[index]
        print(f"{scenario.name:62s} {shares}  refused {one['refused']}", flush=True)
    print(f"{time.time() - start:.0f} s")
    if rigs >= 500 and not part:
        stored = {"aim": AIM, "points": POINTS, "scenarios": results}
        STORED.write_text(json.dumps(stored, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
