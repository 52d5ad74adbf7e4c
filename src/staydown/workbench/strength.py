"""The use case behind `strength`: what the coupons of a job's logbook are believed to prove."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from staydown.assess import Assessment, kept_ratios, session_of
from staydown.evidence.group_coupons import group_coupons
from staydown.evidence.history import build_history
from staydown.evidence.session import Session
from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.foundation.exposure import Mode
from staydown.foundation.findings import Finding
from staydown.foundation.units import parse_quantity
from staydown.loads.load_case import exposures
from staydown.outputs.strength_text import Lead
from staydown.outputs.stress_time_chart import stress_time_of
from staydown.storage.write_whole import write_whole
from staydown.strength.belief import BeliefSettings
from staydown.strength.bound_at import Pair
from staydown.strength.capacity import reach_of, settings_of
from staydown.strength.families import Family
from staydown.strength.priors import PriorName, SheetLine
from staydown.strength.temperature_terms import TemperatureLaw
from staydown.strength.told_belief import Asked, Beside, ToldBelief, tell_beliefs
from staydown.workbench.check import open_and_assess
from staydown.workbench.open_job import JobFolder

DURATIONS_s = (3.0, 600.0, 7200.0, 86400.0)
ROOM_K = 296.15
LEAST_SHARE, MOST_SHARE = 0.5, 0.9999


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthAnswer:
    """What is believed of each tape, surface and mode with coupons, what was asked, and of each what its lead is."""

    folder: JobFolder
    assessment: Assessment
    beliefs: tuple[ToldBelief, ...]
    asked: Asked
    leads: tuple[Lead, ...]

    @property
    def slopes(self) -> tuple[float, ...]:
        """Return the slope of each belief's class card, which turns a pull into an equal static life. [1]"""
        kinds = {tape.name: tape.kind for tape in self.folder.job.tape}
        return tuple(
            self.assessment.cards.tapes[kinds[told.group.tape]].slope.likely for told in self.beliefs
        )


def strength_of(
    path: str | Path,
    *,
    at: Sequence[str] = (),
    content: float | None = None,
    confidence: float | None = None,
    prior: PriorName = "class",
    law: TemperatureLaw = "arrhenius",
    scatter: Family = "normal",
    shared: bool = False,
    sheet: bool = False,
) -> StrengthAnswer:
    """Return what the coupons of a job are believed to prove.

    Parameters
    ----------
    path : path
        The job's folder or file.
    at : sequence of str
        Points such as "6 h, 45 degC"; left out, durations and temperatures that the job meets.
    content, confidence : float or None
        Left out, a B-basis. [1]
    prior : str
        "class" or "reference".
    law, scatter : str
        "arrhenius" or "wlf"; "normal" or "weibull": for comparison, verdicts take the first of each.
    shared : bool
        Modes share slope and temperature law; the assumption is tested.
    sheet : bool
        The job's claims move the centre of the class prior, less their bias.

    Raises
    ------
    BadInput
        The job has mistakes, or a point cannot be read.
    """
    folder, assessment = open_and_assess(path)
    planning = assessment.cards.planning
    typed = _points(at)
    points = typed or _own_points(assessment)
    asked = Asked(
        pairs=points,
        content=_share(content, "--content", float(planning["content"].decided.value)),
        confidence=_share(confidence, "--confidence", float(planning["confidence"].decided.value)),
        settings=BeliefSettings(
            prior=prior,
            family=scatter,
            temperature_law=law,
            batch_spread=settings_of(planning).batch_spread,
        ),
        coldest_K=folder.job.climate.coldest_K,
        reach=reach_of(planning),
    )
    beliefs: list[ToldBelief] = []
    leads: list[Lead] = []
    for tape in folder.job.tape:
        beside = Beside(
            hot_ratios=kept_ratios(folder.job, tape.name),
            sheet=_sheet(folder, tape.name) if sheet else {},
            shared=shared,
        )
        surfaces = dict.fromkeys(c.surface for c in folder.coupons if c.tape == tape.name)
        for surface in surfaces:
            session = _session(folder, assessment, tape.name, surface)
            groups = group_coupons(folder.coupons, tape.name, surface, session)
            met = {} if typed else _hardest(assessment, tape.name, surface)
            own = typed[:1] or tuple(met)
            mine = replace(asked, pairs=tuple(dict.fromkeys((*own, *points))), own=own)
            told = tell_beliefs(groups, assessment.cards.tapes[tape.kind], mine, beside)
            beliefs += told
            leads += [_lead(one, met, typed=bool(typed)) for one in told]
    return StrengthAnswer(
        folder=folder, assessment=assessment, beliefs=tuple(beliefs), asked=asked, leads=tuple(leads)
    )


def _session(folder: JobFolder, assessment: Assessment, tape: str, surface: str) -> Session | None:
    """Return the session in which all feet on that tape and surface were bonded, or None."""
    history = build_history(folder.events)
    sessions = [
        session_of(one.item, history)
        for one in assessment.items
        if one.item.tape == tape and one.standing.surface.id == surface
    ]
    told = [one for one in sessions if one is not None]
    if len(told) < len(sessions) or len({one.day for one in told}) != 1:
        return None
    return Session(
        day=told[0].day,
        lots=frozenset().union(*(one.lots for one in told)),
        primers=frozenset().union(*(one.primers for one in told)),
    )


def write_charts(answer: StrengthAnswer, out: Path) -> tuple[Path, ...]:
    """Write the stress-time chart of each item and mode with coupons as SVG, and return the files.

    Each shows the coupons by result, the belief, its lower bound, the covered reach and what the job's cases demand.
    """
    from staydown.workbench.render import chart_svg

    modes: tuple[Mode, ...] = ("tension", "shear")
    written = []
    for number, item in enumerate(answer.assessment.items, start=1):
        for mode in modes:
            picture = stress_time_of(answer.assessment, item, mode) if item.mounted is not None else None
            if picture is None or picture.chart is None:
                continue
            file = out / f"stress-time-{number}-{mode}.svg"
            write_whole(file, chart_svg(picture.chart).encode("utf-8"))
            written.append(file)
    return tuple(written)


def _sheet(folder: JobFolder, tape: str) -> dict[Mode, list[SheetLine]]:
    lines: dict[Mode, list[SheetLine]] = {}
    for claim in folder.claims:
        if claim.tape == tape:
            lines.setdefault(claim.mode, []).append(
                SheetLine(
                    stress_Pa=claim.load_N / claim.area_m2,
                    lasted_s=claim.lasted_s,
                    temperature_K=claim.temperature_K,
                    kind=claim.kind,
                )
            )
    return lines


def _share(value: float | None, option: str, default: float) -> float:
    if value is None:
        return default
    if not LEAST_SHARE <= value <= MOST_SHARE:
        rule, hint = f"must lie between {LEAST_SHARE:g} and {MOST_SHARE:g}", "0.9 is nine bonds in ten"
        raise BadInput([_finding(option, f"{value:g}", rule, hint)])
    return value


def _points(texts: Sequence[str]) -> tuple[tuple[float, float], ...]:
    points, findings = [], []
    for text in texts:
        lasts, comma, warm = text.partition(",")
        try:
            if not comma:
                raise UnreadableValue("needs a duration and a temperature", 'such as "6 h, 45 degC"')
            pair = parse_quantity(lasts.strip(), "s"), parse_quantity(warm.strip(), "K")
            if pair[0] <= 0.0:
                raise UnreadableValue("must last longer than nothing", 'such as "6 h, 45 degC"')
            points.append(pair)
        except UnreadableValue as error:
            findings.append(_finding("--at", text, error.rule, error.hint))
    if findings:
        raise BadInput(findings)
    return tuple(points)


def _finding(key: str, value: str, rule: str, hint: str) -> Finding:
    return Finding(file="command line", line=None, key=key, value=value, rule=rule, hint=hint)


def _hardest(assessment: Assessment, tape: str, surface: str) -> dict[Pair, str]:
    """Return the loads of a job on one tape and surface that no other is as hot and as long as, by item and case.

    Only how long and how hot is looked at: how strong they pull is not known here.
    """
    met: dict[Pair, str] = {}
    for item in assessment.items:
        if item.mounted is None or item.item.tape != tape or item.standing.surface.id != surface:
            continue
        table = item.mounted.table
        for case, row in zip(table.cases, exposures(table), strict=True):
            if case.family != "soak":  # heat alone loads no coupon's way
                for one in row:
                    pair = (one.lasts_s, one.temperature_K)
                    met.setdefault(pair, f"{item.item.name}, {case.name}, {case.exposure.season}")
    return {
        pair: name
        for pair, name in met.items()
        if not any(other != pair and other[0] >= pair[0] and other[1] >= pair[1] for other in met)
    }


def _lead(told: ToldBelief, met: Mapping[Pair, str], *, typed: bool) -> Lead:
    if typed:
        return Lead(asked_for=True, case=None)
    return Lead(asked_for=False, case=met.get((told.lead.lasts_s, told.lead.temperature_K)))


def _own_points(assessment: Assessment) -> tuple[tuple[float, float], ...]:
    """Return the durations that jobs meet at the coldest, room and warmest bond temperature of this job."""
    temperatures = {
        exposure.temperature_K
        for item in assessment.items
        if item.mounted is not None
        for row in exposures(item.mounted.table)
        for exposure in row
    }
    climate = assessment.job.climate
    ends = (
        min(temperatures, default=climate.coldest_K),
        ROOM_K,
        max(temperatures, default=climate.hottest_K),
    )
    return tuple((lasts, warm) for warm in dict.fromkeys(ends) for lasts in DURATIONS_s)
