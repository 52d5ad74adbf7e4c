"""What in a tether contradicts itself: an anchor on the bonds it should outlive, or on another tether's anchor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staydown.job.records import Item, Tape
from staydown.job.remark import Remark

# words of an anchor's own text that speak of a bond
BONDED_WORDS = frozenset({"tape", "taped", "glue", "glued", "bond", "bonded", "adhesive", "sticky", "stuck"})


def check_tethers(item: Item, place: str, tapes: Sequence[Tape]) -> Iterator[Remark]:
    """Yield where an anchor called mechanical is the item, one of its mounts, or told as bonded."""
    names = {_plain(tape.name) for tape in tapes} - {""}
    own = {_plain(name) for name in (item.name, *(mount.name for mount in item.mount))}
    first: dict[str, int] = {}
    for number, tether in enumerate(item.tether, 1):
        key, text = f"{place}.tether.{number}.anchor", _plain(tether.anchor)
        if text and text in first:
            rule = f"is the anchor of tether {first[text]} too"
            hint = "two tethers want two anchors; if they are two, tell them apart"
            yield Remark(key=key, rule=rule, hint=hint, grade="warning")
        first.setdefault(text, number)
        if tether.anchor_kind != "mechanical":
            continue
        if text and text in own:
            rule = "is what the tether should catch, and no mechanical anchor"
            hint = 'fix it to the vehicle, or write anchor_kind = "bonded", which is a NO'
            yield Remark(key=key, rule=rule, hint=hint)
        elif BONDED_WORDS & set(text.split()) or any(f" {name} " in f" {text} " for name in names):
            rule = "reads as bonded, and is called mechanical"
            hint = 'an anchor on tape or glue leaves with the item: write anchor_kind = "bonded" if it is one'
            yield Remark(key=key, rule=rule, hint=hint, grade="warning")


def _plain(text: str) -> str:
    """Return words in small letters, anything else a blank."""
    return " ".join("".join(sign if sign.isalnum() else " " for sign in text.casefold()).split())
