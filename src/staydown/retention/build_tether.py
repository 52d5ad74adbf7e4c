"""Builds the second retention: loads of a tether with the wind still pushing, what it needs, whether it is enough."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from staydown.foundation.numbers import Number, derive, given, typed
from staydown.job.records import Item, Tether
from staydown.library.cards import PlanningValue
from staydown.loads.build_cases import unfactored
from staydown.loads.load_case import BANDS, CaseTable
from staydown.retention import tether_laws as laws
from staydown.retention.retention import Proposal, Retention, TetherCheck
from staydown.retention.tether_text import Words, answered, told
from staydown.spread.build_thermal import Thermal

Planning = Mapping[str, PlanningValue]

HIGH = BANDS.index("high")
ON_A_LOOSE_ITEM = ("uplift", "edge drag", "side drag", "passing pressure", "weight")
# words of a material's free text; what matches none is taken as the stiffest
MATERIALS = (
    ("webbing", ("webbing", "strap", "belt", "sling", "polyester", "nylon", "polyamide")),
    ("chain", ("chain",)),
    ("wire_rope", ("wire", "cable", "rope")),
)
CARE = {
    "webbing": "sleeve the webbing where it passes an edge; sun and edges wear it: look at it at each inspection",
    "wire_rope": "keep the wire rope off the roof with a sleeve: bare strands wear the coating and break one by one",
    "chain": "keep the chain off the roof with a sleeve: links wear the coating",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """What all tethers of an item share."""

    planning: Planning
    steady: Number
    mass: Number
    words: Words


@dataclass(frozen=True, slots=True, kw_only=True)
class _Loads:
    snatch: Number
    line_needed: Number
    anchor_needed: Number


def build_retention(
    item: Item,
    place: str,
    tape_thickness: Number,
    table: CaseTable,
    thermal: Thermal,
    planning: Planning,
    system: str,
) -> Retention:
    """Return what holds the item when no mount does: each tether alone, or what a tether would have to be.

    Parameters
    ----------
    item, place : Item, str
        The item and its dotted place.
    tape_thickness : Number
        Thickness of its tape, which turns strain into movement. [m]
    table : CaseTable
        Its cases; their factors are left out.
    thermal : Thermal
        Daily strain of each pad.
    planning : mapping
        Planning values by id.
    system : str
        "metric" or "us": how the sentences show numbers first.
    """
    along, across, lift = unfactored(table, only=ON_A_LOOSE_ITEM).force
    steady = derive(
        laws.steady_load,
        lift_N=lift,
        along_N=along,
        across_N=across,
        weight_N=unfactored(table, only=("weight",)).force[2],
    )
    shape = (len(table.cases), len(BANDS), 1)
    case = int(np.broadcast_to(np.asarray(steady.value), shape)[:, HIGH, 0].argmax())
    movement = derive(laws.heat_movement, strain=thermal.strain, tape_thickness_m=tape_thickness)
    least = derive(laws.least_slack, heat_movement_m=movement, play_m=planning["tether_play"].decided)
    row = table.cases[case]
    work = _Work(
        planning=planning,
        steady=steady,
        mass=typed(item.mass_kg, "kg", f"{place}.mass"),
        words=Words(
            index=(case, HIGH, 0),
            where=f"{row.name}, {row.exposure.season}",
            least_slack_m=float(np.max(least.value)),
            system=system,
        ),
    )
    longest = planning["two_tethers_length"].decided
    tethers = tuple(
        _check(work, tether, number, f"{place}.tether.{number}")
        for number, tether in enumerate(item.tether, start=1)
    )
    retention = Retention(
        ok=False,
        wanted=2 if max(item.length_m, item.width_m) > float(longest.value) else 1,
        index=work.words.index,
        steady=steady,
        least_slack=least,
        tethers=tethers,
        proposal=_propose(work, least),
        sentences=(),
    )
    return answered(retention, longest, planning["tether_termination"].decided, work.words)


def _loads(work: _Work, stiffness: Number, slack: Number) -> _Loads:
    """Return snatch load and needed strengths of one tether."""
    planning = work.planning
    speed = derive(laws.speed_over_slack, steady_N=work.steady, slack_m=slack, mass_kg=work.mass)
    snatch = derive(
        laws.snatch_load,
        steady_N=work.steady,
        stiffness_N_per_m=stiffness,
        mass_kg=work.mass,
        speed_m_per_s=speed,
    )
    line = derive(
        laws.line_strength_needed,
        steady_factor=planning["tether_steady_factor"].decided,
        steady_N=work.steady,
        snatch_factor=planning["tether_snatch_factor"].decided,
        snatch_N=snatch,
        kept=planning["tether_termination"].decided,
    )
    anchor = derive(
        laws.anchor_strength_needed,
        snatch_factor=planning["anchor_snatch_factor"].decided,
        snatch_N=snatch,
    )
    return _Loads(snatch=snatch, line_needed=line, anchor_needed=anchor)


def _propose(work: _Work, least_slack: Number) -> Proposal:
    stiffness = work.planning["tether_stiffness.webbing"].decided
    slack: Number = work.planning["tether_slack"].decided
    if float(np.max(slack.value)) < work.words.least_slack_m:
        most = int(np.argmax(least_slack.value))
        slack = given(work.words.least_slack_m, "m", "calculation", f"least slack, at mount {most + 1}")
    loads = _loads(work, stiffness, slack)
    return Proposal(
        stiffness=stiffness,
        slack=slack,
        snatch=loads.snatch,
        line_needed=loads.line_needed,
        anchor_needed=loads.anchor_needed,
    )


def _kind(material: str) -> str:
    """Return the kind of line that a free text names; the stiffest where it names none.

    Examples
    --------
    >>> _kind("Polyester webbing"), _kind("steel cable"), _kind("something")
    ('webbing', 'wire_rope', 'chain')
    """
    words = material.lower()
    return next((kind for kind, names in MATERIALS if any(name in words for name in names)), "chain")


def _check(work: _Work, tether: Tether, number: int, place: str) -> TetherCheck:
    kind = _kind(tether.material)
    stiffness: Number = (
        work.planning[f"tether_stiffness.{kind}"].decided
        if tether.stiffness_N_per_m is None
        else typed(tether.stiffness_N_per_m, "N/m", f"{place}.stiffness")
    )
    slack = None if tether.slack_m is None else typed(tether.slack_m, "m", f"{place}.slack")
    line, anchor = (
        None if value is None else typed(value, "N", f"{place}.{key}")
        for value, key in (
            (tether.breaking_strength_N, "breaking_strength"),
            (tether.anchor_strength_N, "anchor_strength"),
        )
    )
    loads = None if slack is None else _loads(work, stiffness, slack)
    return told(
        TetherCheck(
            number=number,
            material=tether.material,
            anchor=tether.anchor,
            anchor_kind=tether.anchor_kind,
            stiffness=stiffness,
            slack=slack,
            snatch=None if loads is None else loads.snatch,
            line_needed=None if loads is None else loads.line_needed,
            anchor_needed=None if loads is None else loads.anchor_needed,
            line_strength=line,
            anchor_strength=anchor,
            line_use=None if loads is None else _use(loads.line_needed, line),
            anchor_use=None if loads is None else _use(loads.anchor_needed, anchor),
            most_slack=None if line is None or anchor is None else _most_slack(work, stiffness, line, anchor),
            ok=False,
            sentence="",
            care=CARE[kind],
        ),
        work.words,
    )


def _use(needed: Number, strength: Number | None) -> Number | None:
    return None if strength is None else derive(laws.strength_use, needed_N=needed, strength_N=strength)


def _most_slack(work: _Work, stiffness: Number, line: Number, anchor: Number) -> Number:
    planning = work.planning
    allowed = derive(
        laws.snatch_allowed,
        line_strength_N=line,
        kept=planning["tether_termination"].decided,
        line_factor=planning["tether_snatch_factor"].decided,
        anchor_strength_N=anchor,
        anchor_factor=planning["anchor_snatch_factor"].decided,
    )
    return derive(laws.largest_slack, snatch_N=allowed, steady_N=work.steady, stiffness_N_per_m=stiffness)
