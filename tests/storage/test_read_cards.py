"""The reader of the card library refuses what is incomplete, and says where."""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Callable
from importlib.resources import files
from typing import Any

import pytest

from staydown.foundation.errors import CardsIncomplete
from staydown.storage.read_cards import SHELVES, cards_from, read_cards

Tables = dict[str, dict[str, Any]]
SHIPPED: Tables = {
    shelf: tomllib.loads(files("staydown.library").joinpath(f"{shelf}.toml").read_text(encoding="utf-8"))
    for shelf in SHELVES
}


def test_the_shipped_library_reads_and_is_read_once() -> None:
    """Every shelf has cards, and the second call hands back the same library."""
    cards = read_cards()

    assert cards.surfaces
    assert cards.screw_classes
    assert read_cards() is cards


def test_the_shelves_cannot_be_written_to() -> None:
    """The library is shared by everybody, so nobody can put a card into it."""
    with pytest.raises(TypeError):
        read_cards().cautions["always"] = "never mind"  # type: ignore[index]


def test_every_file_of_the_library_is_read() -> None:
    """No TOML file lies beside the shelves unread."""
    shipped = {path.name for path in files("staydown.library").iterdir() if path.name.endswith(".toml")}

    assert shipped == {f"{shelf}.toml" for shelf in SHELVES}


def test_the_expansion_of_a_surface_is_that_of_its_material() -> None:
    """A surface names the material below it and takes its expansion over."""
    cards = read_cards()

    assert cards.surfaces["gelcoat"].expansion == cards.materials["grp"].expansion


def test_every_shared_step_is_used_and_put_in_its_place() -> None:
    """No step is left over, and no card still shows the id of a step."""
    named = {
        step[1:].partition("|")[0]
        for card in SHIPPED["surfaces"].values()
        if isinstance(card, dict)
        for step in card["prep"]
    }

    assert set(SHIPPED["steps"]) <= named
    assert not [step for card in read_cards().surfaces.values() for step in card.prep if step.startswith("@")]


def test_one_value_stands_for_all_three_ends() -> None:
    """`value` is low, likely and high at once, and `likely` decides."""
    card = read_cards().planning["bump"]

    assert card.band.low == card.band.likely == card.band.high
    assert card.decided_on == "likely"


def swap_ends(tables: Tables) -> None:
    """Put low above high."""
    tables["planning"]["gust_factor"]["low"] = 9.0


def endless(tables: Tables) -> None:
    """Make the high end infinite."""
    tables["planning"]["gust_factor"]["high"] = float("inf")


def empty_source(tables: Tables) -> None:
    """Take a number's source away."""
    tables["planning"]["bump"]["source"] = " "


def no_source(tables: Tables) -> None:
    """Take a shelf's source away."""
    del tables["surfaces"]["source"]


def unknown_unit(tables: Tables) -> None:
    """Write a unit that nobody knows."""
    tables["planning"]["bump"]["unit"] = "furlong"


def wrong_unit(tables: Tables) -> None:
    """Write an expansion in pascals."""
    tables["materials"]["glass"]["expansion"]["unit"] = "Pa"


def unknown_basis(tables: Tables) -> None:
    """Write a basis that nobody knows."""
    tables["colours"]["white"]["absorptance"]["basis"] = "hearsay"


def lacking_field(tables: Tables) -> None:
    """Leave the weak link out."""
    del tables["surfaces"]["gelcoat"]["weak_link"]


def extra_field(tables: Tables) -> None:
    """Misspell a field."""
    tables["tapes"]["butyl tape"]["slop"] = 3.0


def bad_choice(tables: Tables) -> None:
    """Start from a word that is none of the two."""
    tables["surfaces"]["gelcoat"]["start"] = "yes"


def unknown_material(tables: Tables) -> None:
    """Name a material that is not there."""
    tables["kinds"]["vent"]["material"] = "cheese"


def unknown_ground(tables: Tables) -> None:
    """Let a surface name a material that is not there."""
    tables["surfaces"]["gelcoat"]["expansion_of"] = "cheese"


def unknown_step(tables: Tables) -> None:
    """Name a step that is not there."""
    tables["surfaces"]["gelcoat"]["prep"].append("@polish")


def no_way_out(tables: Tables) -> None:
    """Forbid without saying what to do instead."""
    tables["surfaces"]["epdm"]["way_out"] = ""


def no_reason(tables: Tables) -> None:
    """Call a class no structure without saying why."""
    tables["tapes"]["butyl tape"]["why_not"] = ""


def text_for_a_number(tables: Tables) -> None:
    """Write a word where a number belongs."""
    tables["screws"]["size"]["M6"]["stress_area_m2"] = "20"


def empty_shelf(tables: Tables) -> None:
    """Clear a shelf."""
    tables["colours"].clear()


def empty_caution(tables: Tables) -> None:
    """Leave a caution without words."""
    tables["cautions"]["always"] = ""


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        (swap_ends, r"planning.toml \[gust_factor\].*not in order"),
        (endless, r"planning.toml \[gust_factor\].*not in order"),
        (empty_source, r"planning.toml \[bump\].*source is empty"),
        (no_source, r"surfaces.toml \[painted_steel\].*lacks source"),
        (unknown_unit, r"planning.toml \[bump\].*'furlong' is not known"),
        (wrong_unit, r"materials.toml \[glass\].*is in Pa, not in 1/K"),
        (unknown_basis, r"colours.toml \[white\].*'hearsay' is not known"),
        (lacking_field, r"surfaces.toml \[gelcoat\].*lacks weak_link"),
        (extra_field, r"tapes.toml \[butyl tape\].*unknown slop"),
        (bad_choice, r"surfaces.toml \[gelcoat\].*none of test, no"),
        (unknown_material, r"kinds.toml \[vent\].*'cheese' is no material"),
        (unknown_ground, r"surfaces.toml.*gelcoat.*no 'cheese'"),
        (unknown_step, r"surfaces.toml.*gelcoat.*no 'polish'"),
        (no_way_out, r"surfaces.toml \[epdm\].*way_out"),
        (no_reason, r"tapes.toml \[butyl tape\].*why_not"),
        (text_for_a_number, r"screws.toml \[M6\].*is not a float"),
        (empty_shelf, r"colours.toml: no cards"),
        (empty_caution, r"cautions.*always is empty"),
    ],
)
def test_a_damaged_library_is_refused_with_its_place(damage: Callable[[Tables], None], told: str) -> None:
    """One fault planted in the shipped library is found and named with file, card and rule."""
    tables = copy.deepcopy(SHIPPED)
    damage(tables)

    with pytest.raises(CardsIncomplete, match=told):
        cards_from(tables)
