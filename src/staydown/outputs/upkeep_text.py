"""What is due, how hard a foot may be pulled, the roadside answer, the removal card: as text and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from staydown.foundation.quantities import both, lasting, shown
from staydown.outputs.amounts import amount, percent
from staydown.outputs.columns import Column, clean, headline, listed, table, wrap
from staydown.upkeep.inspection_plan import Due, InspectionPlan
from staydown.upkeep.proof import ProofPull
from staydown.upkeep.removal import RemovalCard
from staydown.upkeep.roadside import Roadside

WIDTH = 80
STATES = {
    "now": "now, before it is driven",
    "due": "due",
    "later": "later",
    "when reached": "when it comes up",
}
GRADES = {"record": "", "watch": "watch", "re-bond": "re-bond"}


def upkeep_item_text(
    plan: InspectionPlan,
    pulls: Sequence[ProofPull],
    word: str,
    ends: tuple[datetime, datetime] | None,
    now: datetime,
    system: str,
    job: str,
) -> str:
    """Return what one item asks for.

    Parameters
    ----------
    plan, pulls : InspectionPlan, sequence of ProofPull
        What is due, and how hard each foot may be pulled.
    word : str
        The answer on the item.
    ends : (datetime, datetime) or None
        First careful drive and full load of its bond.
    now : datetime
        The present moment.
    system, job : str
        "metric" or "us"; the job's name.
    """
    lines = headline(f"{clean(job)} / {clean(plan.item)}", word, WIDTH)
    if ends is not None and ends[1] > now:
        wait = f"No drive before {_when(ends[0])}; full load from {_when(ends[1])}."
        lines += ["", *wrap(wait, WIDTH, "  ")]
    for state, head in STATES.items():
        mine = [due for due in plan.dues if due.state == state]
        if mine:
            lines += ["", f"  {_capital(head)}", *listed([_due(due) for due in mine], WIDTH, indent=4)]
    lines += [
        "",
        *wrap(f"A full look every {lasting(plan.interval_s)}: {plan.why}.", WIDTH, "  "),
        "",
        *_feet(plan, pulls, system),
    ]
    if pulls:
        seconds = lasting(pulls[0].lasts_s)
        harm = "never more than `at most`: more can harm a good bond"
        hint = f"Pull straight up for {seconds}, from a safe stance; {harm}."
        lines += ["", *wrap(hint, WIDTH, "  ")]
    for why in dict.fromkeys(pull.why for pull in pulls if pull.allowed_N is None):
        lines += wrap(f"No proof pull: {why}.", WIDTH, "  ")
    return "\n".join(lines)


def _feet(plan: InspectionPlan, pulls: Sequence[ProofPull], system: str) -> list[str]:
    by_foot = {pull.foot: pull for pull in pulls}
    columns = (
        Column(head="foot, most\nused first", flexible=True),
        Column(head="use", right=True),
        Column(head="slip", right=True),
        Column(head="of tape", right=True),
        Column(head="", flexible=True),
        Column(head="pull with", right=True),
        Column(head="at most", right=True),
    )
    rows = []
    for look in plan.feet:
        pull, last = by_foot.get(look.foot), look.slip.last
        rows.append(
            (
                look.foot,
                percent(look.use) if look.use is not None else "-",
                "-" if last is None else shown(last.slip_m, "m", system, 1 if system == "metric" else 3),
                "-" if last is None or last.net is None else percent(float(last.net.value)),
                GRADES[look.slip.grade],
                "-" if pull is None or pull.allowed_N is None else amount(pull.allowed_N, "N", system),
                "-" if pull is None or pull.limit is None else amount(pull.most_N, "N", system),
            )
        )
    return table(columns, rows, WIDTH)


def _due(due: Due) -> str:
    day = "" if due.at is None or due.state == "now" else f"{_when(due.at)}: "
    return f"{day}{due.what}" + (f" ({due.why})" if due.why else "")


def roadside_text(answer: Roadside) -> str:
    """Return the roadside answer: what to do first, then what the numbers say."""
    lines = [
        *wrap(f"{answer.item}, with {' and '.join(answer.lost)} open or gone:", WIDTH),
        "",
        *wrap(answer.head, WIDTH, "  "),
        "",
        *listed(answer.orders, WIDTH, numbered=True),
        "",
        "  Why",
        *listed([_capital(text) + "." for text in answer.because], WIDTH, indent=4),
        "",
        *wrap("This is for reaching a safe place, not for finishing the journey.", WIDTH, "  "),
    ]
    return "\n".join(lines)


def removal_text(card: RemovalCard, system: str) -> str:
    """Return how a foot comes off."""
    hottest = both(float(card.hottest.value), "K", system)
    lines = [
        *wrap(f"Off {card.surface.name}. {card.risk}", WIDTH),
        "",
        *listed(card.steps, WIDTH, numbered=True),
        "",
        *wrap(
            f"Warm it to {hottest} at the most, measured on the surface; keep the heat moving.", WIDTH, "  "
        ),
        "",
        "  Never",
        *listed(card.never, WIDTH, indent=4),
    ]
    return "\n".join(lines)


def upkeep_item_json(
    plan: InspectionPlan, pulls: Sequence[ProofPull], word: str, ends: tuple[datetime, datetime] | None
) -> dict[str, Any]:
    """Return what one item asks for, in SI, moments with their time zone."""
    return {
        "item": plan.item,
        "verdict": word,
        "first_drive": None if ends is None else ends[0].isoformat(),
        "full_load": None if ends is None else ends[1].isoformat(),
        "interval_s": plan.interval_s,
        "why_interval": plan.why,
        "due": [
            {
                "what": due.what,
                "at": None if due.at is None else due.at.isoformat(),
                "state": due.state,
                "why": due.why,
            }
            for due in plan.dues
        ],
        "feet": [
            {
                "name": look.foot,
                "use": look.use,
                "evidence": look.evidence,
                "slip": look.slip.grade,
                "growing": look.slip.growing,
                "slip_m": None if look.slip.last is None else look.slip.last.slip_m,
                "slip_strain": None
                if look.slip.last is None or look.slip.last.net is None
                else float(look.slip.last.net.value),
                "gap_m": look.gap_m,
            }
            for look in plan.feet
        ],
        "proof_pulls": [
            {
                "foot": pull.foot,
                "pull_N": pull.allowed_N,
                "at_most_N": pull.most_N if pull.limit is not None else None,
                "lasts_s": pull.lasts_s,
                "why": pull.why,
            }
            for pull in pulls
        ],
    }


def roadside_json(answer: Roadside) -> dict[str, Any]:
    """Return the roadside answer."""
    return {
        "item": answer.item,
        "lost": list(answer.lost),
        "answer": answer.head,
        "air_speed_m_per_s": None if answer.speed is None else float(answer.speed.value),
        "do": list(answer.orders),
        "because": list(answer.because),
    }


def removal_json(card: RemovalCard) -> dict[str, Any]:
    """Return how a foot comes off."""
    return {
        "surface": card.surface.id,
        "risk": card.risk,
        "steps": list(card.steps),
        "never": list(card.never),
        "hottest_K": float(card.hottest.value),
    }


def _when(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
