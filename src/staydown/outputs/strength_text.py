"""The answer of `strength` for the terminal: what each bond is believed to carry, for how long, how hot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from staydown.foundation.quantities import both, lasting, quantity_with_unit, shown
from staydown.outputs.amounts import in_other
from staydown.outputs.columns import Column, clean, table, wrap
from staydown.outputs.stress_time_text import chart, coupon_rows
from staydown.strength.told_belief import Asked, CurvePoint, ToldBelief

WIDTH = 80
ROOM_K = 296.15  # 23 degC, to which the parameter is referred
UNLIKELY = 0.05  # a p-value below this is said in words; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """Why a belief is told at its lead: the person asked for it, or the item and case that are as hot and as long."""

    asked_for: bool
    case: str | None


def strength_text(
    beliefs: Sequence[ToldBelief],
    asked: Asked,
    slopes: Sequence[float],
    leads: Sequence[Lead],
    system: str,
    alone: float | None = None,
) -> str:
    """Return every belief: sentence, chart, curve, parameters, coupons, notes.

    slopes: of each class card; leads: why each is told at its first point; alone: the share of bonds that is asked
    for where no mount may be lost, told where it is more than was asked for here. [1]
    """
    if not beliefs:
        return (
            "No coupon is recorded that counts: nothing is proven. `staydown plan` says which\n"
            "tests are worth making, `staydown record coupons` takes their results."
        )
    parts = [
        "\n".join(_belief(told, asked, slope, lead, system, alone))
        for told, slope, lead in zip(beliefs, slopes, leads, strict=True)
    ]
    return ("\n\n" + "-" * WIDTH + "\n\n").join(parts)


def _belief(
    told: ToldBelief, asked: Asked, slope: float, lead: Lead, system: str, alone: float | None
) -> list[str]:
    group = told.group
    counts = ", ".join(f"{number} {result}" for result, number in group.counts.items() if number)
    lines = [f"{group.tape} on {group.surface}, {group.mode}", ""]
    if told.belief.refusals:
        lines += wrap("No bound: " + "; ".join(told.belief.refusals) + ".", WIDTH, "  ")
    else:
        lines += wrap(_sentence(told, lead, system), WIDTH, "  ")
    lines += ["", *wrap(f"Coupons: {counts}.", WIDTH, "  "), ""]
    middle = sorted({warm for _, warm in asked.pairs})
    lines += chart(told, middle[len(middle) // 2], slope, asked.content, asked.confidence, system)
    bound = f"Bound: {100 * asked.content:.4g} % of bonds hold it, {100 * asked.confidence:.4g} % sure."
    if alone is not None and alone > asked.content:
        more = f"{100 * alone:.4g} %: `--content {alone:g}` shows it"
        bound += f" Where an item cannot lose a mount, `check` asks for {more}."
    lines += ["", *wrap(bound, WIDTH, "  "), ""]
    lines += _curve(told, system)
    lines += ["", *_parameters(told, system), ""]
    lines += _coupons(told, system)
    lines += ["", "  Assumed"]
    for note in (*told.belief.notes, *_tests(told)):
        lines += wrap(note, WIDTH, "    - ")
    accuracy = told.belief.accuracy
    lines += wrap(
        f"sampling: effective size {accuracy.effective_size:.0f}, error of the bound "
        f"{100 * accuracy.relative_error:.2f} % (one standard deviation)",
        WIDTH,
        "    - ",
    )
    return lines


def _sentence(told: ToldBelief, lead: Lead, system: str) -> str:
    point = told.lead
    why = ""
    if lead.case is not None:
        why = f"Hottest and longest in this job, whatever pulls: {clean(lead.case)}. "
    elif not lead.asked_for:
        why = "No item of the job is on this tape and surface: this is the hardest of the points below. "
    where = f"For {lasting(point.lasts_s)} at {both(point.temperature_K, 'K', system)}"
    return (
        f"{why}{where} it is believed to carry at least "
        f"{both(point.bound.stress_Pa, _unit(told), system)}; the middle of belief is "
        f"{both(point.bound.median_Pa, _unit(told), system)}. The face that decides: {told.deciding_face}. "
        f"Evidence there: {point.bound.level} ({point.bound.because})."
    )


def _unit(told: ToldBelief) -> str:
    return "N/m" if told.group.mode == "peel" else "Pa"


def _curve(told: ToldBelief, system: str) -> list[str]:
    unit = _unit(told)
    label = shown(1.0, unit, system).split(" ", 1)[1]

    def bare(value: float) -> str:
        return "-" if not np.isfinite(value) else shown(value, unit, system).split(" ", 1)[0]

    def row(point: CurvePoint) -> tuple[str, ...]:
        return (
            lasting(point.lasts_s),
            shown(point.temperature_K, "K", system),
            bare(point.bound.median_Pa),
            bare(point.bound.stress_Pa) + ("*" if point.bound.cut else ""),
            point.bound.level,
            bare(point.prior_only_Pa),
            bare(point.reference_Pa),
            bare(point.likelihood_Pa),
        )

    columns = (
        Column(head="lasts"),
        Column(head="bond at", right=True),
        Column(head="middle", right=True),
        Column(head="bound", right=True),
        Column(head="evidence"),
        Column(head="prior\nalone", right=True),
        Column(head="reference\nprior", right=True),
        Column(head="likelihood", right=True),
    )
    lines = wrap(
        f"All in {label} ({in_other(unit, system)}); beside: the prior alone, and two that need no prior",
        WIDTH,
        "  ",
    )
    lines.append("")
    ordered = sorted(told.curve, key=lambda point: (point.temperature_K, point.lasts_s))
    lines += table(columns, [row(point) for point in ordered], WIDTH)
    counted = told.lead.with_spoiled_Pa
    if np.isfinite(counted):
        point = told.lead
        lines += wrap(
            f"If the {len(told.group.spoiled)} spoiled counted, the bound for {lasting(point.lasts_s)} at "
            f"{shown(point.temperature_K, 'K', system)} would be {both(counted, unit, system)} instead of "
            f"{both(point.bound.stress_Pa, unit, system)}. Can the real foot go wrong the same way?",
            WIDTH,
            "  ",
        )
    if any(point.bound.cut for point in told.curve):
        lines += wrap(
            "* cut to the stress that coupons survived: none fell or broke near this point", WIDTH, "  "
        )
    return lines


def _parameters(told: ToldBelief, system: str) -> list[str]:
    quantity = quantity_with_unit(_unit(told))
    unit, factor, _ = quantity.metric if system == "metric" else quantity.us
    names = {
        "stress_1h_23C_Pa": (f"held for 1 h at {shown(ROOM_K, 'K', system)}", factor, unit, 1),
        "slope": ("slope of life over stress", 1.0, "", 1),
        "activation_energy_J_per_mol": ("activation energy", 1e-3, "kJ/mol", 0),
        "scatter_log10_life": ("scatter of log10 life", 1.0, "", 2),
    }
    lines = [f"  {'Believed':<28}{'5 %':>10}{'middle':>10}{'95 %':>10}"]
    for key, value in told.belief.parameters().items():
        name, factor, unit, digits = names[key]
        cells = "".join(f"{factor * value[end]:>10.{digits}f}" for end in ("low_5", "median", "high_95"))
        lines.append(f"  {name:<28}{cells} {unit}".rstrip())
    return lines


def _coupons(told: ToldBelief, system: str) -> list[str]:
    group = told.group
    columns = (
        Column(head="coupon", flexible=True),
        Column(head="result"),
        Column(head="stress", right=True),
        Column(head="lasted", right=True),
        Column(head="at", right=True),
        Column(head="face"),
        Column(head="note", flexible=True),
    )
    return table(columns, coupon_rows((*group.valid, *group.conditioned, *group.spoiled), system), WIDTH)


def _tests(told: ToldBelief) -> list[str]:
    notes = []
    if told.fit is not None:
        notes.append(
            f"most likely law, without a prior: slope {told.fit.slope:.2f}, activation energy "
            f"{told.fit.energy_J_per_mol / 1e3:.0f} kJ/mol, scatter {told.fit.scatter:.2f}"
            + (
                f" (from the coupons: {', '.join(told.fit.told)})"
                if told.fit.told
                else " (slope and energy kept)"
            )
        )
    if told.test is not None:
        notes.append(
            f"one law for all conditions against one strength each: p = {told.test.p_value:.2g}"
            + ("; the law does not fit these coupons well" if told.test.p_value < UNLIKELY else "")
        )
    if told.sharing is not None:
        notes.append(
            f"modes sharing slope and temperature law against each its own: p = {told.sharing.p_value:.2g}"
            + ("; these coupons speak against it" if told.sharing.p_value < UNLIKELY else "")
        )
    if told.ageing is not None:
        year = 365.25 * 86400.0
        notes.append(
            f"conditioned coupons: after five years at 25 °C {100 * told.ageing.kept(5 * year, 298.15):.0f} % is kept, "
            "if they keep falling with the root of time"
        )
    return notes


def quiet_text(beliefs: Sequence[ToldBelief], system: str) -> str:
    """Return one line for each belief: tape, surface, mode, and the bound at its lead."""
    lines = []
    for told in beliefs:
        point = told.lead
        bound = "no bound" if told.belief.refusals else shown(point.bound.stress_Pa, _unit(told), system)
        where = f"{lasting(point.lasts_s)} at {shown(point.temperature_K, 'K', system)}"
        lines.append(f"{told.group.tape} on {told.group.surface}, {told.group.mode}: {bound} for {where}")
    return "\n".join(lines)
