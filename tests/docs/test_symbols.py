"""The page of symbols knows every letter that an equation prints."""

from __future__ import annotations

import write_symbols


def test_the_page_of_symbols_is_fresh() -> None:
    """docs/symbols.md is what the laws say today; `make docs` writes it anew."""
    expected = write_symbols.page()
    actual = write_symbols.PAGE.read_text(encoding="utf-8")

    assert actual == expected


def test_every_letter_has_a_row() -> None:
    """Each letter of each law stands in the glossary with the meaning and unit that its parameter has."""
    lines = write_symbols.PAGE.read_text(encoding="utf-8").splitlines()
    rows = {
        tuple(cell.strip(" `") for cell in line.split("|")[1:4]) for line in lines if line.startswith("| `")
    }
    wanted = {
        (letter, words, write_symbols.shown(unit))
        for _, facts in write_symbols.laws()
        for letter, words, unit in write_symbols.meanings(facts)
    }

    assert wanted != set()
    assert rows == wanted


def test_a_letter_means_one_thing_in_a_law() -> None:
    """Within one equation no letter stands for two things, its result included."""
    for name, facts in write_symbols.laws():
        letters = [letter for letter, _, _ in write_symbols.meanings(facts)]

        assert len(letters) == len(set(letters)), name
