"""The last pages of a dossier: what was assumed, sources, data sheets, cautions, and what to ask of whom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from staydown.advice.assumptions import Assumption
from staydown.assess import Assessment
from staydown.foundation.findings import Finding
from staydown.job.records import Claim
from staydown.outputs import dossier_pictures as pictures
from staydown.outputs.assumption_text import ASSUMED, by_effect, ends_text, value_text
from staydown.outputs.blocks import Block, beside, figure, heading, listing, paragraph, table
from staydown.outputs.cautions import SIGN_OFF_kg
from staydown.outputs.evidence_text import claim_text

LEAST_SWING = 0.005
MOST_IN_FULL = 10
COMMON, UNSOURCED = "common practice, no source", "*"
PANELS = ("solar panel", "flexible panel")


def assumption_pages(assessment: Assessment, weights: Sequence[Assumption]) -> list[Block]:
    """Return what was assumed: the picture, those that move the use in full, the others in a row."""
    system, several = assessment.job.job.show, len(assessment.items) > 1
    assumed = sorted((weight for weight in weights if weight.basis in ASSUMED), key=by_effect)
    if not assumed:
        return []
    picture, moving = pictures.assumptions(assessment, assumed, several=several)
    blocks: list[Block] = [heading("What was assumed, and its effect", 1)]
    if picture is not None:
        caption = "Use with each assumption at the ends of its band, all else as decided; most effect first."
        blocks.append(figure(picture, caption))
    shown = [weight for weight in assumed if weight.swing >= LEAST_SWING][:MOST_IN_FULL] or assumed[
        :MOST_IN_FULL
    ]
    rows = [
        (
            f"{weight.item}: {weight.what}" if several else weight.what,
            value_text(weight, system),
            ends_text(weight),
            weight.basis,
            weight.source,
        )
        for weight in shown
    ]
    columns = (
        ("assumed, not typed", "left", 1.1),
        ("low / likely / high", "left", 0.9),
        ("use at the ends", "right", 0.0),
        ("basis", "left", 0.0),
        ("where it comes from", "left", 1.4),
    )
    blocks.append(table("Assumptions that move the use most", columns, rows))
    told = {weight.id for weight in shown}
    rest = {weight.id: weight for weight in assumed if weight.id not in told}
    if rest:
        words = "; ".join(
            f"{weight.what}: {value_text(weight, system)}{_source(weight)}" for weight in rest.values()
        )
        still = "move the use by less than half a per cent" if moving <= len(shown) else "move the use less"
        blocks.append(paragraph(f"{len(rest)} more {still}: {words}. ({UNSOURCED} {COMMON})", "fine"))
    return blocks


def _source(weight: Assumption) -> str:
    """Return where a value comes from, in brackets; the most frequent words as a sign."""
    return UNSOURCED if weight.source == COMMON else f" ({weight.source})"


def claim_pages(claims: Sequence[Claim], system: str) -> list[Block]:
    """Return the data-sheet lines, for comparison only."""
    if not claims:
        return []
    told = [claim_text(claim, system) for claim in claims]
    return [heading("Data sheets, for comparison only; they count for nothing", 2), listing(told, small=True)]


def caution_pages(cautions: Sequence[str], warnings: Sequence[Finding]) -> list[Block]:
    """Return doubts about what was typed, and the cautions that the job asks for."""
    blocks: list[Block] = []
    if warnings:
        told = [
            f"{finding.key}: {finding.rule}" + (f" ({finding.hint})" if finding.hint else "")
            for finding in warnings
        ]
        blocks += [heading("Doubts about what was typed", 2), listing(told, small=True)]
    half = (len(cautions) + 1) // 2
    columns = beside([listing(cautions[:half], small=True)], [listing(cautions[half:], small=True)])
    return [*blocks, heading("Cautions", 1), columns]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ask:
    """Whom to ask what, and whether a job calls for it."""

    whom: str
    what: str
    asked: Callable[[Assessment], bool]


def _always(_: Assessment) -> bool:
    return True


def _any(assessment: Assessment, kinds: Sequence[str]) -> bool:
    return any(item.item.kind in kinds for item in assessment.items)


# common practice, no source
ASKS = (
    _Ask(
        whom="a licensed structural engineer",
        what=f"an item over {SIGN_OFF_kg:g} kg: have it signed off before it goes on the road",
        asked=lambda a: any(item.item.mass_kg > SIGN_OFF_kg for item in a.items),
    ),
    _Ask(
        whom="a licensed structural engineer",
        what="anything over people, that carries people or loads, on a fleet, a bus or at events",
        asked=_always,
    ),
    _Ask(
        whom="the inspection or registration authority",
        what="projections, overall height, added mass, whether it must be entered in the papers",
        asked=_always,
    ),
    _Ask(whom="the rules for securing loads where you drive", what="what must be shown, and to whom", asked=_always),
    _Ask(
        whom="a qualified electrician",
        what="voltage, fuses, isolation and fire safety of the panel and its wiring",
        asked=lambda a: _any(a, PANELS),
    ),
    _Ask(
        whom="whoever built or warrants the vehicle and its roof",
        what="roof load limit, what runs below (gas, cables, airbags), what bonding does to the warranty",
        asked=_always,
    ),
    _Ask(whom="the insurer", what="that the vehicle was altered; what they want to see", asked=_always),
    _Ask(
        whom="the safety sheets of what is used; the local waste service",
        what="exposure limits, gloves, air, disposal of primers, solvents and cloths",
        asked=_always,
    ),
)  # fmt: skip


def ask_pages(assessment: Assessment) -> list[Block]:
    """Return what this dossier cannot answer, of whom to ask it, with room for the answer, and for names."""
    rows = [(ask.whom, ask.what, "", "") for ask in ASKS if ask.asked(assessment)]
    columns = (
        ("ask", "left", 1.0),
        ("about", "left", 1.4),
        ("asked on", "left", 0.5),
        ("answer", "left", 1.0),
    )
    signed = [(who, "", "", "") for who in ("bonded by", "checked by", "looked at again by")]
    names = (("", "left", 0.6), ("name", "left", 1.0), ("date", "left", 0.5), ("signature", "left", 1.0))
    return [
        heading("What to ask of whom", 1),
        paragraph(
            "This dossier compares what was proven with what is estimated; these questions it cannot answer."
        ),
        table("Questions for others, with room for the answers", columns, rows, ruled=True),
        table("Names", names, signed, ruled=True),
    ]
