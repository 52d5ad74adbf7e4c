"""`staydown cards`: the library that a job may name, each number with its source."""

from __future__ import annotations

import json
from collections.abc import Iterable
from difflib import get_close_matches

import click

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding


@click.command()
@click.argument("shelf", required=False)
@click.argument("card", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option("--quiet", is_flag=True, help="Ids only.")
def cards(shelf: str | None, card: tuple[str, ...], as_json: bool, quiet: bool) -> None:
    """List what a job may name, or show one CARD.

    SHELF is surfaces, tapes, kinds, materials, colours, fasteners, planning or cautions.

    \b
    staydown cards surfaces            all roof surfaces
    staydown cards surfaces gelcoat    the whole card
    staydown cards planning            every planning value
    """
    from staydown.outputs.card_text import card_text, cards_as_json, list_text, shelves
    from staydown.storage.read_cards import read_cards

    all_shelves = shelves(read_cards())
    if shelf is not None and shelf not in all_shelves:
        raise _unknown("SHELF", shelf, "shelf", all_shelves)
    shown = all_shelves if shelf is None else {shelf: all_shelves[shelf]}
    key = " ".join(card)
    if shelf is not None and key:
        if key not in all_shelves[shelf]:
            raise _unknown("CARD", key, f"card on the shelf {shelf}", all_shelves[shelf])
        shown = {shelf: {key: all_shelves[shelf][key]}}

    if as_json:
        click.echo(json.dumps(cards_as_json(shown), ensure_ascii=False))
    elif quiet:
        click.echo("\n".join(key for held in shown.values() for key in held))
    elif shelf is not None and key:
        click.echo(card_text(key, all_shelves[shelf][key]))
    else:
        click.echo(list_text(shown))


def _unknown(place: str, typed: str, what: str, known: Iterable[str]) -> BadInput:
    names = list(known)
    nearest = get_close_matches(typed, names, n=1)
    hint = f"did you mean {nearest[0]!r}?" if nearest else f"there are: {', '.join(names)}"
    rule = f"there is no such {what}"
    return BadInput([Finding(file="command line", line=None, key=place, value=typed, rule=rule, hint=hint)])
