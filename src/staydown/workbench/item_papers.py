"""The papers of each item: bonding guide, sheet for the bench, passport; what cannot be made, and what they lack."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from staydown.assess import ItemAssessment
from staydown.evidence.history import build_history
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.outputs.passport_gaps import missing
from staydown.workbench.bonding_words import read_mix, read_weather
from staydown.workbench.desk import Answer
from staydown.workbench.open_job import open_job
from staydown.workbench.passport import write_passports
from staydown.workbench.render import Paper as Size
from staydown.workbench.sheets import guide_of, plain_name, write_guides, write_tests

PDF, ZIP = "application/pdf", "application/zip"
SIZES: tuple[tuple[Size, str], ...] = (("a4", "A4"), ("letter", "US Letter"))
# what the bonding guide is told, with its label and an example; what is left out is measured on the day
MEASURED = (
    ("surface_temperature", "Temperature of the surface", "19 degC"),
    ("air", "Temperature of the air", "18 degC"),
    ("humidity", "Humidity of the air", "60 %"),
    ("dwell_temperature", "Coldest until it is driven", "12 degC"),
    ("wipe", "How much wipe to mix", "0.5 L"),
    ("strength", "Alcohol in the wipe, by volume", "70 %"),
    ("stock", "Alcohol in the bottle", "99 %"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemPaper:
    """One file of an item that can be fetched: its name, what tells it from its neighbours, its media type."""

    name: str
    variant: str
    media: str
    make: Callable[[Path, Mapping[str, str], datetime], bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemSheet:
    """One paper of an item in all its forms.

    kind: bonding, tests or passport. refusal: why it cannot be made, empty where it can. lacks: what it says is
    missing, or leaves to be written in.
    """

    kind: str
    title: str
    words: str
    papers: tuple[ItemPaper, ...]
    refusal: str = ""
    lacks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemSheets:
    """The papers of one item."""

    item: str
    sheets: tuple[ItemSheet, ...]


def sheets_of(answer: Answer, measured: Mapping[str, str]) -> tuple[ItemSheets, ...]:
    """Return the papers of every item, with what they lack.

    Parameters
    ----------
    answer : Answer
        The job as it stands.
    measured : mapping
        Texts by the names of MEASURED, for the bonding guides.

    Raises
    ------
    BadInput
        A text of `measured` cannot be.
    """
    read_weather(measured), read_mix(measured)
    return tuple(
        ItemSheets(
            item=one.item.name,
            sheets=(
                _bonding(answer, one, number, measured),
                _tests(one, number),
                _passport(answer, one, number),
            ),
        )
        for number, one in enumerate(answer.assessment.items, 1)
    )


def make_item_paper(
    file: Path, name: str, measured: Mapping[str, str], now: datetime
) -> tuple[bytes, str] | None:
    """Return a paper of an item and its media type, None where the job has no such paper.

    Raises
    ------
    BadInput
        The job has mistakes, or the paper cannot be made.
    LogbookError
        The logbook cannot be trusted.
    """
    items = [item.name for item in open_job(file).job.item]
    known = {paper.name: paper for number, item in enumerate(items, 1) for paper in _all_papers(item, number)}
    return (known[name].make(file, measured, now), known[name].media) if name in known else None


def _all_papers(item: str, number: int) -> tuple[ItemPaper, ...]:
    return (
        *_papers("bonding", item, number, _make_bonding),
        *_papers("tests", item, number, _make_tests),
        *_papers("passport", item, number, _make_passport),
        _archive(item, number),
    )


def _bonding(answer: Answer, one: ItemAssessment, number: int, measured: Mapping[str, str]) -> ItemSheet:
    refusal = ""
    try:
        guide = guide_of(answer.assessment, one, read_weather(measured), read_mix(measured))
    except BadInput as error:
        refusal = _said(error)
    else:
        if guide.window.refusals:
            refusal = f"stop: the surface is {', '.join(guide.window.refusals)}"
    weather = [label.lower() for key, label, _ in MEASURED[:4] if not measured.get(key, "").strip()]
    return ItemSheet(
        kind="bonding",
        title="Bonding guide",
        words="how it is bonded: steps with stop points, forces, dwell clock, what to buy; boxes to tick",
        papers=_papers("bonding", one.item.name, number, _make_bonding),
        refusal=refusal,
        lacks=tuple(weather),
    )


def _tests(one: ItemAssessment, number: int) -> ItemSheet:
    refusal = "" if one.mounted is not None else "the item has no mounts: there is nothing to test"
    return ItemSheet(
        kind="tests",
        title="Sheet for the bench",
        words="the tests worth making: jig, cut list, loads as water, a table to fill in, when it has passed. It takes "
        "some seconds, and says so where no test is worth making",
        papers=_papers("tests", one.item.name, number, _make_tests),
        refusal=refusal,
    )


def _passport(answer: Answer, one: ItemAssessment, number: int) -> ItemSheet:
    coupons = [
        coupon
        for coupon in answer.facts.coupons
        if coupon.tape == one.item.tape and coupon.surface == one.standing.surface.id
    ]
    history = build_history(answer.facts.events).of(one.item.name)
    return ItemSheet(
        kind="passport",
        title="Passport",
        words="for the next owner, an insurer, an inspector: how it was bonded, what is proven, what happened",
        papers=(
            *_papers("passport", one.item.name, number, _make_passport),
            _archive(one.item.name, number),
        ),
        lacks=missing(one, history, coupons),
    )


def _papers(
    kind: str,
    item: str,
    number: int,
    make: Callable[[Path, str, Size, Mapping[str, str], datetime], bytes],
) -> tuple[ItemPaper, ...]:
    def of(size: Size) -> Callable[[Path, Mapping[str, str], datetime], bytes]:
        return lambda file, measured, now: make(file, item, size, measured, now)

    return tuple(
        ItemPaper(
            name=f"{_name(kind, item, number)}-{size}.pdf", variant=f"PDF, {words}", media=PDF, make=of(size)
        )
        for size, words in SIZES
    )


def _archive(item: str, number: int) -> ItemPaper:
    return ItemPaper(
        name=f"{_name('passport', item, number)}.zip",
        variant="archive with data, tests, photos",
        media=ZIP,
        make=lambda file, _, now: _make_archive(file, item, now),
    )


def _name(kind: str, item: str, number: int) -> str:
    """Return a file name that is one item's alone, whatever the item is called."""
    return plain_name(f"{kind} {number} {item}")


def _make_bonding(file: Path, item: str, size: Size, measured: Mapping[str, str], now: datetime) -> bytes:  # noqa: ARG001
    with tempfile.TemporaryDirectory() as out:
        _, (sheet,) = write_guides(file, item, read_weather(measured), read_mix(measured), out, size)
        return sheet.file.read_bytes()


def _make_tests(file: Path, item: str, size: Size, measured: Mapping[str, str], now: datetime) -> bytes:  # noqa: ARG001
    with tempfile.TemporaryDirectory() as out:
        ((plan, written),) = write_tests(file, item, out, size)
        if written is None:
            rule = f"no test of {item} is worth making now"
            raise BadInput([_finding("tests", rule, plan.why_none)])
        return written.read_bytes()


def _make_passport(file: Path, item: str, size: Size, measured: Mapping[str, str], now: datetime) -> bytes:  # noqa: ARG001
    with tempfile.TemporaryDirectory() as out:
        (made,) = write_passports(file, item, out, size, now)
        return made.pdf.read_bytes()


def _make_archive(file: Path, item: str, now: datetime) -> bytes:
    with tempfile.TemporaryDirectory() as out:
        (made,) = write_passports(file, item, out, "a4", now)
        return made.archive.read_bytes()


def _said(error: BadInput) -> str:
    return "; ".join(f"{one.value} {one.rule}: {one.hint}".strip(": ") for one in error.findings)


def _finding(key: str, rule: str, hint: str) -> Finding:
    return Finding(file="job.toml", line=None, key=key, value="", rule=rule, hint=hint)
