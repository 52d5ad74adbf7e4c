"""Picks the cautions that a job's situation asks for; the wording stands in the card library."""

from __future__ import annotations

from staydown.assess import Assessment, ItemAssessment

ALWAYS = ("always", "no_certificate", "wind_planning", "assumed")
AT_THE_END = ("ladder", "after_event", "law")
SIGN_OFF_kg = 25.0  # common practice, no source: above it a licensed engineer signs


def caution_ids(assessment: Assessment) -> tuple[str, ...]:
    """Return the ids of the cautions for a job, each once, the gravest first."""
    ids = list(ALWAYS[:2])
    if assessment.word == "NOT PROVEN":
        ids.append("not_proven")
    ids += ALWAYS[2:]
    if assessment.claims:
        ids.append("data_sheet")
    for item in assessment.items:
        ids += _of_item(item)
    if assessment.job.climate.snow_Pa:
        ids.append("snow")
    return tuple(dict.fromkeys([*ids, *AT_THE_END]))


def _of_item(assessed: ItemAssessment) -> list[str]:
    item, standing = assessed.item, assessed.standing
    ids = []
    if standing.never_plain:
        ids += ["second_retention", "brush_wash", "seal_edges"]
    if item.tether:
        ids.append("tether")
    if item.also_held_by in ("screws", "clamps"):
        ids.append("screws_and_tape")
    if (item.nose_up_rad or 0.0) > 0.0:
        ids.append("tilt")
    if item.kind in ("solar panel", "flexible panel"):
        ids.append("live_panel")
    if item.kind == "flexible panel" and item.gap_m == 0.0:
        ids.append("flat_panel")
    if standing.surface.start == "no":
        ids.append("no_anchor")
    if item.mass_kg > SIGN_OFF_kg:
        ids.append("ask_engineer")
    if assessed.verdict.word in ("NOT PROVEN", "GO WITH CONDITIONS"):
        ids += ["hang_test", "hot_box", "dwell"] if assessed.verdict.word == "NOT PROVEN" else ["dwell"]
    return ids


def cautions_for(assessment: Assessment) -> tuple[str, ...]:
    """Return the cautions of a job in the library's words."""
    return tuple(assessment.cards.cautions[name] for name in caution_ids(assessment))
