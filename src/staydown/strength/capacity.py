"""What the evidence of one tape on one surface proves, for each exposure asked: the seam between the two wings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import CouponGroup
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.exposure import Exposure, Mode
from staydown.foundation.numbers import Given, Number, Source, choose, definition, derive, given
from staydown.library.cards import PlanningValue, TapeClassCard
from staydown.strength import classical_laws, success_run_laws
from staydown.strength.classical import ClassicalBound, hang_bounds, pull_bounds, speaks_for

Level = Literal["none", "inferred", "covered"]
LEVELS: tuple[Level, ...] = ("none", "inferred", "covered")
Planning = Mapping[str, PlanningValue]

NOTHING = given(float("nan"), "Pa", "coupons", "no evidence")
WHOLE = definition(1.0, "1", "definition: nothing lost")
LEAST_CONDITIONED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What is proven for one exposure in one mode.

    proven [Pa], NaN where nothing speaks; level of evidence; because: what covers it or what is missing.
    median_Pa: the middle of the population, for "more coupons cannot help".
    """

    proven: Number
    level: Level
    because: str
    median_Pa: float
    survivors: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ModeCapacity:
    """The answers of one mode over the exposures asked, and the same set along the case axis. [Pa]"""

    mode: Mode
    answers: tuple[Answer, ...]
    proven: Number
    statements: tuple[str, ...]
    wet: Number
    planned_wet: bool

    @property
    def levels(self) -> tuple[Level, ...]:
        """Return the level of evidence of each exposure."""
        return tuple(answer.level for answer in self.answers)


def build_capacity(
    groups: Mapping[Mode, CouponGroup],
    exposures: Sequence[Exposure],
    ratios: Sequence[KeptRatio],
    tape: TapeClassCard,
    planning: Planning,
) -> dict[Mode, ModeCapacity]:
    """Return for each mode with coupons what is proven for each exposure.

    Parameters
    ----------
    groups : mapping
        Coupons of one tape on one surface, by mode.
    exposures : sequence of Exposure
        Durations and bond temperatures, one a case; nothing of loads.
    ratios : sequence of KeptRatio
        Ratios typed for this tape.
    tape : TapeClassCard
        Class card: the slope that turns a pull into an equal static life.
    planning : mapping
        Planning values by id.
    """
    return {
        mode: _mode_capacity(group, exposures, [r for r in ratios if r.mode == mode], tape, planning)
        for mode, group in groups.items()
        if mode != "peel" and (group.valid or group.conditioned)
    }


def _mode_capacity(
    group: CouponGroup,
    exposures: Sequence[Exposure],
    ratios: Sequence[KeptRatio],
    tape: TapeClassCard,
    planning: Planning,
) -> ModeCapacity:
    content = planning["content"].decided
    slope = Given(
        value=tape.slope.likely,
        unit="1",
        source=Source(basis="class card", title=tape.slope.source, place=tape.id),
    )
    bounds = [*pull_bounds(group, planning, content, slope), *hang_bounds(group, planning, content)]
    wet, planned = wet_and_age(group, ratios, planning)
    coolest = min((bound.temperature_K for bound in bounds), default=float("nan"))
    asked: dict[tuple[float, float], Answer] = {}
    for exposure in exposures:
        key = (exposure.lasts_s, exposure.temperature_K)
        if key not in asked:
            asked[key] = _answer(bounds, exposure, ratios, wet, coolest, planning)
    answers = tuple(asked[(e.lasts_s, e.temperature_K)] for e in exposures)
    return ModeCapacity(
        mode=group.mode,
        answers=answers,
        proven=choose([answer.proven for answer in answers], axis=0, why="evidence that speaks for the case"),
        statements=_statements(bounds, answers),
        wet=wet,
        planned_wet=planned,
    )


def _answer(
    bounds: Sequence[ClassicalBound],
    exposure: Exposure,
    ratios: Sequence[KeptRatio],
    wet: Number,
    coolest_K: float,
    planning: Planning,
) -> Answer:
    reach = float(planning["temperature_reach"].decided.value)
    found: list[Answer] = []
    for bound in bounds:
        if speaks_for(bound, exposure, planning):
            cold = exposure.temperature_K < coolest_K - reach
            found.append(
                Answer(
                    proven=derive(classical_laws.kept_strength, kept=wet, stress_Pa=bound.stress),
                    level="inferred" if cold else "covered",
                    because=f"{bound.made_from}, at {bound.temperature_K - 273.15:.0f} °C"
                    + (
                        f"; none within {reach:.0f} K of {exposure.temperature_K - 273.15:.0f} °C"
                        if cold
                        else ""
                    ),
                    median_Pa=bound.median_Pa * float(wet.value),
                    survivors=bound.survivors,
                )
            )
            continue
        hot = [
            r for r in ratios if r.condition == "hot" and r.temperature_K >= exposure.temperature_K - reach
        ]
        if bound.pulled and hot and bound.lasts_s * 10 >= exposure.lasts_s:
            ratio = max(hot, key=lambda r: float(r.kept.value))
            warm = derive(classical_laws.kept_strength, kept=ratio.kept, stress_Pa=bound.stress)
            found.append(
                Answer(
                    proven=derive(classical_laws.kept_strength, kept=wet, stress_Pa=warm),
                    level="inferred",
                    because=f"{bound.made_from}, times the typed hot ratio {ratio.kept.value:g}",
                    median_Pa=bound.median_Pa * float(ratio.kept.value) * float(wet.value),
                )
            )
    if not found:
        return Answer(
            proven=NOTHING,
            level="none",
            because=_what_is_missing(bounds, exposure, planning),
            median_Pa=float("nan"),
        )
    return max(found, key=lambda answer: (LEVELS.index(answer.level), float(answer.proven.value)))


def _what_is_missing(bounds: Sequence[ClassicalBound], exposure: Exposure, planning: Planning) -> str:
    if not bounds:
        return "no three coupons of one condition and face, no five survivors"
    reach = float(planning["temperature_reach"].decided.value)
    cooler = exposure.temperature_K - reach - max(bound.temperature_K for bound in bounds)
    longest = max(bound.lasts_s for bound in bounds)
    lacks = []
    if cooler > 0:
        lacks.append(f"tests are {cooler:.0f} K too cool")
    if longest < exposure.lasts_s:
        lacks.append(f"tests are {exposure.lasts_s / longest:.2g} times too short")
    return " and ".join(lacks) or "no test is both warm and long enough"


def wet_and_age(
    group: CouponGroup | None, ratios: Sequence[KeptRatio], planning: Planning
) -> tuple[Number, bool]:
    """Return the share kept when wet and aged, and whether it is only a planning value.

    Own conditioned coupons first, then typed ratios, else the planning value.
    """
    measured = None if group is None else _measured_kept(group, planning)
    if measured is not None:
        return measured, False
    typed_ratios = [r.kept for r in ratios if r.condition in ("wet", "aged")]
    if not typed_ratios:
        return planning["wet_and_age"].decided, True
    kept: Number = typed_ratios[0]
    for ratio in typed_ratios[1:]:
        kept = derive(classical_laws.kept_share, first=kept, second=ratio)
    return kept, False


def _measured_kept(group: CouponGroup, planning: Planning) -> Number | None:
    from scipy.special import stdtrit

    def logs(
        coupons: Sequence[Coupon], temperature_K: float | None
    ) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.log(
            [
                c.stress_Pa
                for c in coupons
                if c.result == "broke"
                and c.stress_Pa
                and (temperature_K is None or abs(c.temperature_K - temperature_K) <= 5.0)
            ]
        )

    broke = [c for c in group.conditioned if c.result == "broke"]
    if len(broke) < LEAST_CONDITIONED:
        return None
    temperature = float(np.median([c.temperature_K for c in broke]))
    after, before = logs(broke, temperature), logs(group.valid, temperature)
    if len(after) < LEAST_CONDITIONED or len(before) < LEAST_CONDITIONED:
        return None
    freedom = len(after) + len(before) - 2
    pooled = float(np.sqrt((after.var() * len(after) + before.var() * len(before)) / freedom))
    what = f"{len(after)} conditioned pulls against {len(before)} plain ones"
    confidence = float(planning["confidence"].decided.value)
    kept = derive(
        classical_laws.ratio_kept_bound,
        mean_log_after=given(float(after.mean()), "1", "coupons", what),
        mean_log_before=given(float(before.mean()), "1", "coupons", what),
        student_factor=given(
            float(stdtrit(freedom, confidence)),
            "1",
            "calculation",
            f"Student's t, {freedom} degrees of freedom",
        ),
        sd_log=given(pooled, "1", "coupons", what),
        count_after=given(float(len(after)), "1", "coupons", what),
        count_before=given(float(len(before)), "1", "coupons", what),
    )
    return kept if float(kept.value) < 1.0 else WHOLE


def _statements(bounds: Sequence[ClassicalBound], answers: Sequence[Answer]) -> tuple[str, ...]:
    used = {answer.because for answer in answers if answer.survivors}
    lines = []
    for bound in bounds:
        if bound.survivors and any(bound.made_from in because for because in used):
            share = success_run_laws.success_run_reliability(float(bound.survivors), 0.90)
            lines.append(
                f"{bound.survivors} of {bound.survivors} hangs held: at 90 % confidence at least "
                f"{100 * share:.0f} % of such bonds would hold too"
            )
    return tuple(lines)
