"""Builds how tape and a screw through the same pad share a pull: by stiffness, so their strengths do not add.

The bond is judged as if the screw were not there. If the screw takes most of the pull it lets go first, and the tape
takes it all; if it takes little it helps little.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from staydown.foundation.numbers import Given, Number, Source, at, derive, given, typed
from staydown.foundation.quantities import both
from staydown.job.records import Item, Mount, Tape
from staydown.library.cards import Band, Cards, SurfaceCard, TapeClassCard
from staydown.loads.load_case import CaseTable
from staydown.spread import pad_laws, share_laws
from staydown.spread.demands import Demands
from staydown.verdict import use_laws
from staydown.verdict.checks import HIGH, Checks
from staydown.verdict.fastener import screw_in_sheet

FOOT_THICKNESS = given(
    2e-3, "m", "planning value", "foot of 2 mm where nobody typed it; common practice, no source"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedPull:
    """Tape and screw at one mount. share: of the pull that the screw takes [1]. screw, tape: strength of each alone,
    together: pull at which the first lets go [N]. None where it is not known. sentence: ready to print.
    """

    mount: str
    share: Number | None
    screw: Number | None
    tape: Number | None
    together: Number | None
    sentence: str


def build_shared_pulls(
    item: Item,
    place: str,
    tape: tuple[Tape, str, TapeClassCard],
    surface: SurfaceCard,
    cards: Cards,
    found: tuple[CaseTable, Demands, Checks],
    system: str,
) -> tuple[SharedPull, ...]:
    """Return how each mount that also has a screw shares its pull; none where no mount has one.

    tape: with its dotted place and its class card. found: cases, demands and use, for the tape's strength.
    """
    return tuple(
        _shared(mount, number, f"{place}.mount.{number + 1}", tape, surface, cards, found, system)
        for number, mount in enumerate(item.mount)
        if mount.also_screw is not None
    )


def _shared(
    mount: Mount,
    number: int,
    place: str,
    tape: tuple[Tape, str, TapeClassCard],
    surface: SurfaceCard,
    cards: Cards,
    found: tuple[CaseTable, Demands, Checks],
    system: str,
) -> SharedPull:
    assert mount.also_screw is not None
    share = _share(mount, place, tape, surface, cards)
    screw = screw_in_sheet(mount, place, surface.material, cards)
    bond = _tape_strength(number, *found)
    together = (
        None
        if share is None or screw is None or bond is None
        else derive(share_laws.strength_side_by_side, first_N=screw, second_N=bond, first_share=share)
    )
    return SharedPull(
        mount=mount.name,
        share=share,
        screw=screw,
        tape=bond,
        together=together,
        sentence=_sentence(mount, (share, screw, bond, together), system),
    )


def _share(
    mount: Mount, place: str, tape: tuple[Tape, str, TapeClassCard], surface: SurfaceCard, cards: Cards
) -> Number | None:
    """Return the share of the pull that the screw takes; None where its size or the sheet is not known."""
    fastener = mount.also_screw
    if fastener is None or fastener.size is None or mount.sheet_thickness_m is None:
        return None
    own, tape_place, card = tape
    size = cards.screw_sizes[fastener.size]
    steel = "stainless steel" if (fastener.strength_class or "").startswith("A") else "steel"
    thickness = typed(own.thickness_m, "m", f"{tape_place}.thickness")
    modulus: Number = (
        _likely(card.tension_modulus, f"{card.id}.tension_modulus")
        if own.tension_modulus_Pa is None
        else typed(own.tension_modulus_Pa, "Pa", f"{tape_place}.tension_modulus")
    )
    pad = typed(mount.pad.length_m, "m", f"{place}.pad"), typed(mount.pad.width_m, "m", f"{place}.pad")
    foot: Number = (
        FOOT_THICKNESS
        if mount.foot_thickness_m is None
        else typed(mount.foot_thickness_m, "m", f"{place}.foot_thickness")
    )
    through = derive(share_laws.length_through, foot_thickness_m=foot, tape_thickness_m=thickness)
    screw = derive(
        share_laws.screw_spring,
        modulus_Pa=_likely(cards.materials[steel].modulus, f"materials.{steel}.modulus"),
        stress_area_m2=given(size.stress_area_m2, "m2", "published", size.source, size.id),
        length_m=through,
    )
    skin = cards.materials[surface.material]
    sheet = derive(
        share_laws.sheet_spring,
        tape_modulus_Pa=modulus,
        tape_thickness_m=thickness,
        modulus_Pa=_likely(skin.modulus, f"materials.{skin.id}.modulus"),
        sheet_thickness_m=typed(mount.sheet_thickness_m, "m", f"{place}.sheet_thickness"),
    )
    return derive(
        share_laws.share_by_stiffness,
        own_N_per_m=derive(share_laws.spring_in_series, first_N_per_m=screw, second_N_per_m=sheet),
        other_N_per_m=derive(
            pad_laws.pad_spring,
            modulus_Pa=modulus,
            bond_area_m2=derive(pad_laws.pad_area, pad_length_m=pad[0], pad_width_m=pad[1]),
            tape_thickness_m=thickness,
        ),
    )


def _tape_strength(mount: int, table: CaseTable, demands: Demands, checks: Checks) -> Number | None:
    """Return the pull at which the bond alone is used up, in the case that uses it most; None where not known."""
    use = checks.use_at_high()[:, mount]
    pull = np.broadcast_to(np.asarray(demands.force[2].value, dtype=float), checks.evidence.shape)[
        :, HIGH, mount
    ]
    counts = np.array([case.family != "soak" for case in table.cases]) & (pull > 0.0) & (use > 0.0)
    if not counts.any():
        return None
    case = int(np.where(counts, use, -1.0).argmax())
    row = table.cases[case]
    where = f"{row.name}, {row.exposure.season}"
    return derive(
        use_laws.force_at_full_use,
        force_N=given(float(pull[case]), "N", "calculation", f"pull on this mount in {where}"),
        use=given(float(use[case]), "1", "calculation", f"use of this mount in {where}"),
    )


def _likely(band: Band, place: str) -> Given:
    ends = (band.low, band.likely, band.high)
    return Given(
        value=band.likely,
        unit=band.unit,
        source=Source(basis=band.basis, title=band.source, place=place, band=ends),
    )


def _sentence(mount: Mount, numbers: Sequence[Number | None], system: str) -> str:
    share, screw, bond, together = numbers
    name = f"{mount.name}: tape and a screw ({mount.also_screw.text if mount.also_screw else ''})"
    alone = "so the screw counts for nothing here"
    if share is None:
        return (
            f"{name} share the pull by stiffness, which is not known without the sheet's thickness; {alone}"
        )
    taken = f"{name} share the pull by stiffness, and the screw takes {100 * _value(share):.0f} %"
    if screw is None or bond is None or together is None:
        return f"{taken}; their strengths do not add, {alone}"
    both_N = [both(_value(number), "N", system) for number in (screw, bond, together)]
    sum_N = both(_value(screw) + _value(bond), "N", system)
    return (
        f"{taken}. Alone the screw holds {both_N[0]} in this sheet and the tape {both_N[1]}; together the first "
        f"lets go at {both_N[2]}, not at {sum_N}: strengths do not add, {alone}"
    )


def _value(number: Number) -> float:
    return at(number, (0, 0, 0))
