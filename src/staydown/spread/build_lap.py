"""Builds where the shear of a pad piles up: foot and roof skin as the two sheets of an overlap."""

from __future__ import annotations

from staydown.foundation.numbers import Number, choose, definition, derive, typed
from staydown.job.records import Item, Tape
from staydown.library.cards import Cards
from staydown.loads.load_case import BANDS
from staydown.spread import lap_laws as laws
from staydown.spread.build_foot import card_ends
from staydown.spread.feet import Feet, Lap

END = definition(1.0, "1", "the end of the sheet that stretches more")
OTHER_END = definition(-1.0, "1", "the other end")


def build_lap(
    item: Item, place: str, tape: Tape, tape_place: str, cards: Cards, feet: Feet, shear: Number
) -> Lap:
    """Return where the shear of each pad piles up, along its longer side.

    Parameters
    ----------
    item, place : Item, str
        With at least one mount; its dotted place.
    tape, tape_place : Tape, str
        The tape; its shear modulus on the stiff end where it was not typed.
    cards : Cards
        Class card of the tape, planning values `skin_plane_stiffness` and `sheet_poisson`.
    feet : Feet
        Thickness and modulus of the plates.
    shear : Number
        Mean shear of the pads. [Pa]
    """
    card, planning = cards.tapes[tape.kind], cards.planning
    modulus: Number = (
        typed(tape.shear_modulus_Pa, "Pa", f"{tape_place}.shear_modulus")
        if tape.shear_modulus_Pa is not None
        else card_ends(card.shear_modulus, f"{card.id}.shear_modulus", BANDS)
    )
    sides: list[Number] = [
        typed(
            max(mount.touching.length_m, mount.touching.width_m),
            "m",
            f"{place}.mount.{n}.{'contact' if mount.contact else 'pad'}",
        )
        for n, mount in enumerate(item.mount, start=1)
    ]
    side = choose(sides, axis=2)
    sheets: dict[str, Number] = {
        "first_N_per_m": derive(
            laws.sheet_stiffness, modulus_Pa=feet.foot_modulus, thickness_m=feet.thickness
        ),
        "second_N_per_m": planning["skin_plane_stiffness"].decided,
    }
    lag = derive(
        laws.shear_lag,
        side_m=side,
        shear_modulus_Pa=modulus,
        tape_thickness_m=typed(tape.thickness_m, "m", f"{tape_place}.thickness"),
        **sheets,
    )
    unlike = derive(laws.imbalance, **sheets)
    stretched = derive(laws.lap_shear_factor, place=END, lag=lag, unlike=unlike)
    turned = derive(
        laws.lap_bending_number,
        side_m=side,
        thickness_m=feet.thickness,
        poisson=planning["sheet_poisson"].decided,
        line_load_N_per_m=derive(laws.lap_line_load, shear_Pa=shear, side_m=side),
        modulus_Pa=feet.foot_modulus,
    )
    bent = derive(laws.bent_lap_factor, lag=lag, moment_factor=derive(laws.edge_moment_factor, number=turned))
    return Lap(
        lag=lag,
        stretched=stretched,
        bent=bent,
        factor=derive(laws.larger_factor, stretched=stretched, bent=bent),
        other=derive(laws.lap_shear_factor, place=OTHER_END, lag=lag, unlike=unlike),
    )
