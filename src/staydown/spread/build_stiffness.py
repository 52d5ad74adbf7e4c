"""Builds how stiff an item is: what was typed, else the usual band of its kind, soft in the high band."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Given, Number, Source, at, choose, derive, given, typed
from staydown.foundation.quantities import key_of, shown
from staydown.job.records import Item
from staydown.library.cards import Band, Cards, KindCard
from staydown.spread import bending_laws as laws
from staydown.spread.plate import Stiffness

# A typed stiffness this many times beyond the usual band of its kind is asked about; common practice, no source.
FAR_FROM_USUAL = 3.0
SOFTER_BY_BAND = ("high", "likely", "low")  # the high band is the unfavourable one: the softest item
NO_FRAME = given(0.0, "Nm2", "definition", "no frame: the laminate bends alone")


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemStiffness:
    """How stiff an item is, each number over (1, band, 1) or one for all.

    laminate: per width [N m]; frame, frame_twist: of one profile [N m²]; poisson: of the laminate [1].
    own: somebody typed a stiffness of this item; else it is what is usual for its kind.
    """

    laminate: Number
    poisson: Number
    frame: Number
    frame_twist: Number
    own: bool

    @property
    def framed(self) -> bool:
        """Return whether the item has a frame."""
        return self.frame is not NO_FRAME

    def at_band(self, band: int) -> Stiffness:
        """Return the numbers of one band."""
        index = (0, band, 0)
        return Stiffness(
            laminate_Nm=at(self.laminate, index),
            poisson=at(self.poisson, index),
            frame_N_m2=at(self.frame, index),
            frame_twist_N_m2=at(self.frame_twist, index),
        )


def build_stiffness(item: Item, place: str, cards: Cards) -> ItemStiffness | None:
    """Return how stiff an item is; None where its laminate is neither typed nor usual for its kind.

    Parameters
    ----------
    item : Item
        Stiffnesses as typed, or its kind.
    place : str
        Dotted key of the item.
    cards : Cards
        Kinds, planning values `frame_twist_share` and `laminate_poisson`.
    """
    kind = _kind(item, cards)
    laminate = _typed_or_usual(
        item.laminate_bending_stiffness_Nm, "Nm", place, kind, "laminate_bending_stiffness"
    )
    if laminate is None:
        return None
    frame = _typed_or_usual(item.frame_bending_stiffness_N_m2, "Nm2", place, kind, "frame_bending_stiffness")
    twist: Number | None = None
    if item.frame_torsion_stiffness_N_m2 is not None:
        twist = typed(item.frame_torsion_stiffness_N_m2, "Nm2", f"{place}.frame_torsion_stiffness")
    elif frame is not None:
        share = cards.planning["frame_twist_share"]
        twist = derive(
            laws.twist_of_share,
            twist_share=choose([share.end("low"), share.end("likely"), share.end("high")], axis=1),
            frame_bending_stiffness_N_m2=frame,
        )
    return ItemStiffness(
        laminate=laminate,
        poisson=cards.planning["laminate_poisson"].decided,
        frame=frame or NO_FRAME,
        frame_twist=twist if frame is not None and twist is not None else NO_FRAME,
        own=item.laminate_bending_stiffness_Nm is not None or item.frame_bending_stiffness_N_m2 is not None,
    )


def unusual_stiffness(item: Item, place: str, cards: Cards) -> Iterator[Finding]:
    """Yield a question for each typed stiffness that is far from what is usual, or that counts for nothing."""
    kind = _kind(item, cards)
    yield from _without_use(item, place, kind)
    yield from _unusual_twist(item, place, kind, cards)
    for name, unit in (("frame_bending_stiffness_N_m2", "Nm2"), ("laminate_bending_stiffness_Nm", "Nm")):
        value, usual = getattr(item, name), getattr(kind, key_of(name), None)
        if value is None or usual is None:
            continue
        if usual.low / FAR_FROM_USUAL <= value <= usual.high * FAR_FROM_USUAL:
            continue
        word = "softer" if value < usual.low else "stiffer"
        yield Finding(
            file="job.toml",
            line=None,
            key=f"{place}.{key_of(name)}",
            value="",
            rule=f"{word} than a {item.kind} is likely to be: {shown(value, unit)}",
            hint=f"usual is {shown(usual.low, unit)} to {shown(usual.high, unit)}; is it right?",
            grade="warning",
        )


def _without_use(item: Item, place: str, kind: KindCard | None) -> Iterator[Finding]:
    """Yield what a frame is worth whose laminate nobody knows, or a twist without a frame: nothing."""
    laminate = item.laminate_bending_stiffness_Nm or (kind and kind.laminate_bending_stiffness)
    frame = item.frame_bending_stiffness_N_m2 or (kind and kind.frame_bending_stiffness)
    for name, other, known in (
        ("frame_bending_stiffness_N_m2", "laminate_bending_stiffness", laminate),
        ("frame_torsion_stiffness_N_m2", "frame_bending_stiffness", frame),
    ):
        if getattr(item, name) is not None and not known:
            yield Finding(
                file="job.toml",
                line=None,
                key=f"{place}.{key_of(name)}",
                value="",
                rule=f"counts for nothing without {other}: neither typed nor usual for its kind",
                hint=f"give {other} too, or leave both out",
                grade="warning",
            )


def _unusual_twist(item: Item, place: str, kind: KindCard | None, cards: Cards) -> Iterator[Finding]:
    """Yield a question where a profile is stiffer or softer in twist than its bending stiffness makes likely."""
    twist, frame = item.frame_torsion_stiffness_N_m2, item.frame_bending_stiffness_N_m2
    if frame is None and kind is not None and kind.frame_bending_stiffness is not None:
        frame = kind.frame_bending_stiffness.likely
    if twist is None or frame is None:
        return
    share = cards.planning["frame_twist_share"].band
    least, most = share.low * frame, share.high * frame
    if least / FAR_FROM_USUAL <= twist <= most * FAR_FROM_USUAL:
        return
    word = "softer" if twist < least else "stiffer"
    yield Finding(
        file="job.toml",
        line=None,
        key=f"{place}.frame_torsion_stiffness",
        value="",
        rule=f"{word} in twist than a profile of that bending stiffness is likely to be: {shown(twist, 'Nm2')}",
        hint=f"usual is {shown(least, 'Nm2')} to {shown(most, 'Nm2')}; is it right?",
        grade="warning",
    )


def _kind(item: Item, cards: Cards) -> KindCard | None:
    return cards.kinds[item.kind] if item.kind is not None else None


def _typed_or_usual(
    value: float | None, unit: str, place: str, kind: KindCard | None, key: str
) -> Number | None:
    if value is not None:
        return typed(value, unit, f"{place}.{key}")
    band: Band | None = getattr(kind, key, None)
    if band is None or kind is None:
        return None
    ends = (band.low, band.likely, band.high)
    source = Source(basis=band.basis, title=band.source, place=f"kind {kind.id}.{key}", band=ends)
    return choose(
        [Given(value=getattr(band, end), unit=unit, source=source) for end in SOFTER_BY_BAND], axis=1
    )
