"""What the verdict has to know of an item beside numbers: how bad its loss is, how it is held, on what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from staydown.foundation.quantities import rounded
from staydown.job.records import Item, Job
from staydown.library.cards import Cards, PlanningValue, SurfaceCard, TapeClassCard


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """An item as the verdict sees it.

    consequence: as rated; underrated: the rating "low" was refused for its mass. never_plain: such an item never gets
    more than GO WITH CONDITIONS. Screws or clamps beside the tape excuse nothing: nobody has shown what they hold.
    in_shade: the driver's rule to park nowhere but in the shade, on which the temperatures then rest.
    """

    item: Item
    surface: SurfaceCard
    tape: TapeClassCard
    consequence: str
    underrated: bool
    never_plain: bool
    why_never_plain: str
    in_shade: bool


def rate_consequence(job: Job, item: Item, planning: Mapping[str, PlanningValue]) -> tuple[str, bool]:
    """Return the consequence that counts and whether "low" was refused for the item's mass."""
    asked = item.consequence or job.job.consequence or "high"
    if asked == "low" and item.mass_kg > float(planning["low_consequence_mass"].decided.value):
        return "medium", True
    return asked, False


def build_standing(job: Job, item: Item, cards: Cards) -> Standing:
    """Return how an item stands: its rating, what holds it and what it is bonded to."""
    consequence, underrated = rate_consequence(job, item, cards.planning)
    tape = next(tape for tape in job.tape if tape.name == item.tape)
    kind = cards.kinds[item.kind] if item.kind else None
    material = item.material or (kind.material if kind else "")
    heavy = item.mass_kg > float(cards.planning["bonded_only_mass"].decided.value)
    reasons = [
        text
        for holds, text in (
            (heavy, rounded(item.mass_kg, "kg", job.job.show).replace(" (", " or ").rstrip(")")),
            ("glass" in material, "of glass"),
            (item.sharp is True, "sharp"),
            (item.sharp is None, "not known to be blunt"),
            (consequence != "low", f"of {consequence} consequence"),
        )
        if holds
    ]
    return Standing(
        item=item,
        surface=cards.surfaces[item.surface or job.vehicle.surface],
        tape=cards.tapes[tape.kind],
        consequence=consequence,
        underrated=underrated,
        never_plain=bool(reasons),
        why_never_plain=", ".join(reasons),
        in_shade=job.travel.parked == "shade",
    )
