"""What a passport should tell and nobody wrote down: listed, not hidden."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.assess import ItemAssessment
from staydown.evidence.coupon import Coupon
from staydown.evidence.history import DRIVES, Bonding, History

PHOTOS_EACH_FOOT = 5  # clean, water-break, primed or dry, placed, sealed: common practice, no source


def missing(assessed: ItemAssessment, history: History, coupons: Sequence[Coupon]) -> tuple[str, ...]:
    """Return what is asked for and not there, the gravest first."""
    item = assessed.item
    gaps = []
    for mount in item.mount:
        bonding = history.bonded(item.name, mount.name)
        if bonding is None:
            gaps.append(f"{mount.name}: no record of how it was bonded")
        else:
            gaps += _of_bonding(mount.name, bonding, primed="primer" in assessed.standing.surface.prep_steps)
    gaps = _together(gaps, [mount.name for mount in item.mount])
    if not coupons:
        gaps.append("no coupon of this product on this surface")
    if not history.inspections:
        gaps.append("no inspection")
    elif not any(set(one.gaps) >= {mount.name for mount in item.mount} for one in history.inspections):
        gaps.append("no inspection that looked at the edges of every foot")
    if not any(one.what in DRIVES for one in history.happenings):
        gaps.append("the first drive")
    for mount in item.mount:
        told = [
            name
            for name, value in (
                ("thickness of the foot", mount.foot_thickness_m),
                ("its material", mount.foot_material),
                ("its fastener", mount.fastener),
                ("where the pull acts (lever)", mount.lever_m),
            )
            if value is None
        ]
        if told:
            gaps.append(f"{mount.name}: {', '.join(told)}")
    if not item.tether:
        gaps.append("a second retention")
    # asked for by whoever buys, insures or inspects; the job has no place for them
    return (
        *gaps,
        "age of the surface, repaints, wax or silicone on it",
        "whom of law, insurance and warranty was asked, and the answers",
    )


def _of_bonding(foot: str, bonding: Bonding, *, primed: bool) -> list[str]:
    wanted = (
        ("lot", bonding.lot),
        ("best before", bonding.expires),
        ("surface temperature", bonding.surface_K),
        ("air temperature", bonding.air_K),
        ("humidity", bonding.humidity),
        ("cleaner", bonding.cleaner),
        ("abrasive", bonding.abrasive),
        ("primer", bonding.primer if primed else "none asked for"),
        ("pressing force", bonding.press_N),
        ("time it was held", bonding.held_s),
        ("who did it", bonding.entry.by),
    )
    told = [name for name, value in wanted if value in (None, "")]
    mine = sum(photo.of.partition("/")[0] in (foot, "") for photo in bonding.entry.photos)
    if mine < PHOTOS_EACH_FOOT:
        told.append(f"photos ({mine} of {PHOTOS_EACH_FOOT})")
    return [f"{foot}: {', '.join(told)}"] if told else []


def _together(gaps: Sequence[str], feet: Sequence[str]) -> list[str]:
    """Return gaps with what is the same at several feet told once."""
    by_text: dict[str, list[str]] = {}
    for gap in gaps:
        foot, _, text = gap.partition(": ")
        by_text.setdefault(text, []).append(foot)
    return [
        f"{'every foot' if len(mine) == len(feet) and len(feet) > 1 else ', '.join(mine)}: {text}"
        for text, mine in by_text.items()
    ]
