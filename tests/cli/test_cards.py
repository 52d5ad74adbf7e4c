"""`staydown cards`: what a person and a script see of the library."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner, Result

from staydown.cli.main import run
from staydown.outputs.card_text import shelves
from staydown.storage.read_cards import read_cards

SHELVES = shelves(read_cards())
EVERY_CARD = [(shelf, key) for shelf, held in SHELVES.items() for key in held]


def cards(*words: str) -> Result:
    """Run the command with these words."""
    return CliRunner().invoke(run, ["cards", *words], catch_exceptions=False)


def answer(*words: str) -> dict[str, Any]:
    """Return the JSON that the command prints, which is the only thing on stdout."""
    result = cards(*words, "--json")
    assert result.exit_code == 0
    read: dict[str, Any] = json.loads(result.stdout)
    return read


def test_every_card_is_listed_with_its_source_in_80_columns() -> None:
    """The list names every card of every shelf, and no line is longer than a terminal."""
    result = cards()
    lines = result.stdout.splitlines()

    assert result.exit_code == 0
    assert max(map(len, lines)) <= 80
    heads = [line for line in lines if line and not line.startswith(" ")]
    for _, key in EVERY_CARD:
        assert any(head == key or head.startswith((f"{key}:", f"{key}  ")) for head in heads), key


@pytest.mark.parametrize("shelf", list(SHELVES))
def test_every_whole_card_fits_80_columns(shelf: str) -> None:
    """Each card alone, with both unit systems, keeps to the width and shows where it comes from."""
    for key in SHELVES[shelf]:
        result = cards(shelf, key)

        assert result.exit_code == 0
        assert max(map(len, result.stdout.splitlines())) <= 80, key
        if shelf != "cautions":
            assert ": " in result.stdout, key


def test_a_planning_value_shows_band_deciding_end_basis_and_source() -> None:
    """Id, band, the end that decides, what it is, basis and source stand in the list."""
    text = " ".join(cards("planning").stdout.split())

    assert (
        "uplift.open.near_edge 0.6 / 0.9 / 1.2, high decides uplift coefficient, open windward edge close to "
        "the roof's edge planning value: common practice, no source" in text
    )


def test_a_surface_card_shows_all_that_it_says() -> None:
    """The whole card has every step, denial, test and caution; the list leaves them out."""
    card = read_cards().surfaces["gelcoat"]
    whole = " ".join(cards("surfaces", "gelcoat").stdout.split())
    listed = " ".join(cards("surfaces").stdout.split())

    for text in (*card.prep, *card.denies, *card.tests, *card.cautions, card.weak_link):
        assert text in whole
    assert card.prep[3] not in listed


def test_a_forbidden_surface_says_no_and_what_to_do_instead() -> None:
    """EPDM starts from NO and names its way out."""
    text = " ".join(cards("surfaces", "epdm").stdout.split())

    assert "starts from: NO" in text
    assert f"instead: {read_cards().surfaces['epdm'].way_out}" in text


def test_an_id_of_several_words_needs_no_quotes() -> None:
    """`cards tapes acrylic foam tape` is the same as with quotes."""
    assert cards("tapes", "acrylic", "foam", "tape").stdout == cards("tapes", "acrylic foam tape").stdout


@pytest.mark.by_hand
def test_numbers_are_shown_in_both_systems_on_the_whole_card() -> None:
    """1 MPa = 145.0 psi (pound and inch by definition), 20.1 mm2 = 0.03116 in2, 120 degC = 248 degF."""
    tape, screw = cards("tapes", "acrylic foam tape").stdout, cards("fasteners", "M6").stdout

    assert "0.5 / 1 / 2 MPa  (72.52 / 145 / 290.1 psi)" in tape
    assert "hottest: 120 °C (248 °F)" in tape
    assert "stress area: 20.1 mm²  (0.03116 in²)" in screw


def test_json_is_one_object_with_si_units() -> None:
    """All shelves by name, every card with its id, a band with unit, basis and source."""
    read = answer()

    assert read["format"] == "staydown-cards-1"
    assert [(shelf, card["id"]) for shelf, held in read["shelves"].items() for card in held] == EVERY_CARD
    planning = {card["id"]: card for card in read["shelves"]["planning"]}
    assert planning["storm_duration"]["band"]["unit"] == "s"
    assert planning["storm_duration"]["band"]["likely"] == 120.0


def test_json_of_one_card_has_the_same_shape() -> None:
    """One card stands on its shelf alone."""
    read = answer("fasteners", "A2-70")

    assert list(read["shelves"]) == ["fasteners"]
    assert [card["tensile_strength_Pa"] for card in read["shelves"]["fasteners"]] == [7e8]


def test_quiet_prints_ids_only() -> None:
    """One id a line, for scripts."""
    assert cards("colours", "--quiet").stdout.splitlines() == list(SHELVES["colours"])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["surface"], "SHELF = 'surface': there is no such shelf (did you mean 'surfaces'?)"),
        (["surfaces", "gelcot"], "there is no such card on the shelf surfaces (did you mean 'gelcoat'?)"),
        (["colours", "xxxxxx"], "there are: white, cream, silver"),
    ],
)
def test_a_word_that_is_no_card_is_answered_with_the_nearest(words: list[str], told: str) -> None:
    """A wrong shelf or card ends with code 2, and the answer names what is there."""
    result = cards(*words)

    assert result.exit_code == 2
    assert told in result.stderr
    assert result.stdout == ""


def test_a_wrong_word_under_json_is_a_finding() -> None:
    """Scripts get the mistake as the findings of every other command."""
    result = cards("tapes", "acrylic tape", "--json")

    assert result.exit_code == 2
    read = json.loads(result.stdout)
    assert read["format"] == "staydown-findings-1"
    assert read["findings"][0]["hint"] == "did you mean 'acrylic foam tape'?"
