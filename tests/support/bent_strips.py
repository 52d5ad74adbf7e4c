"""A strip of the sample panel on rows of two feet, and what bending puts on it: for closed forms of beams."""

from __future__ import annotations

from typing import Any

from sample_jobs import PANEL, cards, changed, own, table_of
from staydown.assess import with_overrides
from staydown.job.records import Job
from staydown.spread.build_bending import Bending, build_bending
from staydown.spread.build_demands import build_demands
from staydown.spread.build_pads import build_pads
from staydown.spread.build_solutions import build_solutions
from staydown.spread.build_stiffness import build_stiffness
from staydown.spread.demands import Demands

# of a strip; its feet left and right of the middle, their pads
LENGTH_m, WIDTH_m, REACH_m, PAD_m = 1.4, 0.08, 0.02, 0.02


def strip(rows_m: tuple[float, ...], laminate_Nm: float) -> dict[str, Any]:
    """Return changes that make a strip of the sample panel, on two feet in each row, at places from its middle."""
    mounts = [
        {
            "name": f"row {number} {side}",
            "behind_m": LENGTH_m / 2 - place,
            "left_m": left,
            "pad": {"length_m": PAD_m, "width_m": PAD_m},
            "lever_m": 0.0,
            "foot_thickness_m": 0.03,
        }
        for number, place in enumerate(rows_m)
        for side, left in (("left", REACH_m), ("right", -REACH_m))
    ]
    return {
        "item.0.kind": None,
        "item.0.length_m": LENGTH_m,
        "item.0.width_m": WIDTH_m,
        "item.0.laminate_bending_stiffness_Nm": laminate_Nm,
        "item.0.mount": mounts,
        "planning.laminate_poisson": own(0.0),
    }


def bending_of(changes: dict[str, Any]) -> Bending:
    """Return the bending item on its mounts."""
    job = Job.model_validate(changed(PANEL, changes))
    shelves = with_overrides(cards(), job)
    item, tape = job.item[0], job.tape[0]
    card = shelves.tapes[tape.kind]
    pads = build_pads(item, "item.1", shelves.planning["lever"], shelves.planning["skin_stiffness"])
    stiffness = build_stiffness(item, "item.1", shelves)
    assert stiffness is not None
    solutions = build_solutions(item, tape, card, pads)
    return build_bending(item, tape, card, table_of(PANEL, changes), pads, solutions, stiffness)


def demands_of(changes: dict[str, Any]) -> Demands:
    """Return what the mounts carry."""
    job = Job.model_validate(changed(PANEL, changes))
    table = table_of(PANEL, changes)
    return build_demands(job.item[0], "item.1", job.tape[0], "tape.1", with_overrides(cards(), job), table)
