"""The model of a dossier: plain values, everything that a reader must find, and nothing twice."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from sample_assessments import JOBS, assessed_job
from staydown.advice.assumptions import weigh_assumptions
from staydown.assess import Facts
from staydown.outputs.blocks import figures_in, table
from staydown.outputs.cautions import cautions_for
from staydown.outputs.dossier import Stamp, dossier
from staydown.outputs.dossier_evidence import series
from staydown.storage.read_cards import read_cards

STAMP = Stamp(job_hash="0123456789abcdef" * 4, coupons=24)


@cache
def model(name: str) -> dict[str, Any]:
    """Return the dossier of a sample job."""
    job, coupons = JOBS[name]()
    assessment = assessed_job(name)
    weights = weigh_assumptions(assessment, Facts(cards=read_cards(), coupons=coupons, claims=job.claim))
    return dossier(assessment, weights, cautions_for(assessment), assessment.findings, STAMP)


def texts(value: Any) -> Iterator[str]:
    """Yield every text in a model."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for held in value.values():
            yield from texts(held)
    elif isinstance(value, (list, tuple)):
        for held in value:
            yield from texts(held)


def titles(blocks: list[dict[str, Any]]) -> list[str]:
    """Return every heading and title."""
    found = []
    for block in blocks:
        found.append(block.get("title") or (block["text"] if block["kind"] == "heading" else ""))
        for key in ("blocks", "left", "right"):
            found += titles(block.get(key, []))
    return [title for title in found if title]


each_job = pytest.mark.parametrize("name", JOBS)


@each_job
def test_a_dossier_is_plain(name: str) -> None:
    """It goes to JSON and back unchanged, without a number that JSON does not know."""
    told = model(name)

    assert json.loads(json.dumps(told, allow_nan=False)) == json.loads(json.dumps(told))
    assert not any(re.search(r"\bnan\b|\binf\b", text) for text in texts(told["blocks"]))


@each_job
def test_a_dossier_answers_first(name: str) -> None:
    """The first block is the verdict with the word of the job, the next is the roof."""
    told = model(name)
    verdict, roof = told["blocks"][:2]

    assert verdict["kind"] == "verdict"
    assert verdict["word"] == told["word"] == assessed_job(name).word
    assert roof["kind"] == "figure"
    assert roof["name"] == "roof"


@each_job
def test_every_figure_speaks(name: str) -> None:
    """A figure has a title and an alternative text."""
    for figure in figures_in(model(name)["blocks"]):
        assert figure["title"]
        assert len(figure["alt"]) > 20
        assert bool(figure["svg"]) != (figure["chart"] is not None)


def test_a_whole_dossier_has_every_part() -> None:
    """An engineer finds every part that the answer stands on."""
    found = " | ".join(titles(model("sound")["blocks"]))
    for part in (
        "Conditions",
        "The worst foot",
        "Mounts, worst first",
        "Load cases",
        "How the load spreads",
        "How warm the bonds are",
        "The chain",
        "If a mount is lost",
        "Second retention",
        "What was tested",
        "coupons",
        "What is proven",
        "worked out by hand",
        "Which test speaks",
        "What was assumed",
        "Cautions",
        "What to ask of whom",
        "Every formula used",
    ):
        assert part in found, part


def test_spoiled_coupons_are_shown_with_their_reason() -> None:
    """A spoiled coupon stands in the table, told apart, with what went wrong and its failure face."""
    rows = [
        row
        for block in model("panel")["blocks"]
        if block["kind"] == "table" and "coupons" in block["title"]
        for row in block["rows"]
    ]
    spoiled = [row for row in rows if "spoiled" in row]

    assert len(spoiled) == 1
    assert "the lamp slipped" in spoiled[0][-1]
    assert sum("cohesive" in row for row in rows) >= 3


def test_every_coupon_is_there() -> None:
    """Each coupon's stress can be read: as many values as coupons."""
    rows = [
        row
        for block in model("panel")["blocks"]
        if block["kind"] == "table" and "coupons" in block["title"]
        for row in block["rows"]
    ]

    assert sum(len(row[3].split(", ")) for row in rows) == len(JOBS["panel"]()[1])


def test_what_was_said_is_not_said_again() -> None:
    """A sentence of reasons or conditions does not come back on the item's pages."""
    said = listed(model("panel")["blocks"])

    assert len(said) > 20
    assert [text for text in said if said.count(text) > 1] == []


def listed(blocks: list[dict[str, Any]]) -> list[str]:
    """Return every entry of every list."""
    found = [item for block in blocks if block["kind"] == "list" for item in block["items"]]
    for block in blocks:
        for key in ("blocks", "left", "right"):
            found += listed(block.get(key, []))
    return found


def test_the_others_stand_in_the_table_of_items() -> None:
    """Twelve items: three with pages of their own, all twelve in the table."""
    items = next(b for b in model("twelve items")["blocks"] if b["kind"] == "table" and "items" in b["title"])

    assert len(items["rows"]) == 12
    assert [row[1] for row in items["rows"]].count("GO") == 0


def test_a_table_with_a_short_row_is_refused() -> None:
    """A programmer's mistake is found where it is made."""
    with pytest.raises(ValueError, match="2 cells"):
        table("t", (("a", "left", 0.0), ("b", "left", 0.0)), [("1",)])


def test_a_series_is_told_by_its_ends() -> None:
    """Numbers that follow each other are a series; a gap is not."""
    assert series(["p 1", "p 2", "p 4"]) == "p 1, p 2, p 4"
    assert series(["p 9", "p 10", "p 11"]) == "p 9 to 11"
