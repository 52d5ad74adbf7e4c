"""Builds what a screw at a mount carries: its own section, the thread in the foot, or the roof's sheet."""

from __future__ import annotations

from staydown.foundation.numbers import Given, Number, Source, derive, given, typed
from staydown.job.records import Fastener, Mount
from staydown.library.cards import Band, Cards, ScrewSize
from staydown.strength import screw_laws

FOOT = "aluminium"  # of a foot whose material nobody typed; common practice, no source


def fastener_strength(mount: Mount, place: str, cards: Cards) -> tuple[Number | None, str]:
    """Return what the fastener between item and foot carries and by what it is known; None where that is unknown.

    Where the engaged length was typed the thread in the foot is judged too, and one shorter than its diameter is no
    known link: what is left of it depends on the last turns.
    """
    fastener = mount.fastener
    if fastener is None:
        return None, "unknown"
    if fastener.strength_N is not None:
        return typed(fastener.strength_N, "N", f"{place}.fastener"), fastener.text
    screw = screw_strength(fastener, cards)
    if screw is None or mount.engagement_m is None:
        return screw, fastener.text if screw is not None else "unknown"
    size = cards.screw_sizes[str(fastener.size)]
    material = cards.materials[mount.foot_material or FOOT]
    held = f"{1e3 * mount.engagement_m:.3g} mm of thread in {material.name}"
    if mount.engagement_m < size.diameter_m:
        return None, f"{fastener.text} with {held}, less than its diameter"
    thread = derive(
        screw_laws.thread_strip_force,
        tensile_strength_Pa=least(material.tensile_strength, f"materials.{material.id}.tensile_strength"),
        diameter_m=_of_size(size, size.diameter_m, "m"),
        engagement_m=typed(mount.engagement_m, "m", f"{place}.engagement"),
        pitch_m=_of_size(size, size.pitch_m, "m"),
    )
    return derive(screw_laws.weaker_of, screw_N=screw, thread_N=thread), f"{fastener.text}, {held}"


def screw_strength(fastener: Fastener, cards: Cards) -> Number | None:
    """Return the least breaking force of a screw named by size and class, else None. [N]"""
    if fastener.size is None or fastener.strength_class is None:
        return None
    size, grade = cards.screw_sizes[fastener.size], cards.screw_classes[fastener.strength_class]
    return derive(
        screw_laws.screw_breaking_force,
        tensile_strength_Pa=given(grade.tensile_strength_Pa, "Pa", "published", grade.source, grade.id),
        stress_area_m2=_of_size(size, size.stress_area_m2, "m2"),
    )


def screw_in_sheet(mount: Mount, place: str, surface_material: str, cards: Cards) -> Number | None:
    """Return what a screw through the pad into the roof's sheet carries, the weaker of screw and sheet. [N]

    None where size, class or the sheet's thickness are not known.
    """
    fastener = mount.also_screw
    if fastener is None or fastener.size is None or mount.sheet_thickness_m is None:
        return None
    size, material = cards.screw_sizes[fastener.size], cards.materials[surface_material]
    sheet: Number = derive(
        screw_laws.sheet_pull_out_force,
        sheet_thickness_m=typed(mount.sheet_thickness_m, "m", f"{place}.sheet_thickness"),
        pitch_m=_of_size(size, size.pitch_m, "m"),
        diameter_m=_of_size(size, size.diameter_m, "m"),
        tensile_strength_Pa=least(material.tensile_strength, f"materials.{material.id}.tensile_strength"),
    )
    screw = screw_strength(fastener, cards)
    return sheet if screw is None else derive(screw_laws.weaker_of, screw_N=screw, thread_N=sheet)


def least(band: Band, place: str) -> Given:
    """Return the low end of a card's band as a number that names it."""
    ends = (band.low, band.likely, band.high)
    source = Source(basis=band.basis, title=band.source, place=place, band=ends)
    return Given(value=band.low, unit=band.unit, source=source)


def _of_size(size: ScrewSize, value: float, unit: str) -> Given:
    return given(value, unit, "published", size.source, size.id)
