"""The page: one file, no script, nothing from outside, every text of a person stays text."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any

import pytest

from sample_assessments import JOBS, assessed_job, job_of, panel, pulls
from staydown.assess import Facts, assess
from staydown.outputs.cautions import cautions_for
from staydown.outputs.dossier import Stamp, dossier
from staydown.outputs.dossier_html import dossier_html
from staydown.storage.read_cards import read_cards
from staydown.workbench.render import draw_charts

STAMP = Stamp(job_hash="ab" * 32, coupons=0)
MARKUP = '<script>alert(1)</script> <b>x</b> & "q" \' #import "evil" $x$ *bold* </title>'
VOID = {"meta", "br", "link", "img", "hr", "input"}


class Reader(HTMLParser):
    """Collects tags, texts and whether every tag is closed."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Remember a tag."""
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Remember a tag that closes itself."""
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        """Close a tag: it must be the last one opened."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Remember a text."""
        self.texts.append(data)


def read(page: str) -> Reader:
    """Return a page as read by a parser."""
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def page_of(assessment: Any) -> str:
    """Return the page of an assessment, the face left out."""
    made = dossier(assessment, (), cautions_for(assessment), assessment.findings, STAMP)
    return dossier_html(draw_charts(made), {400: "AAAA", 600: "BBBB"})


@pytest.mark.parametrize("name", JOBS)
def test_a_page_is_whole_and_asks_for_nothing(name: str) -> None:
    """Every tag is closed; there is no script and no address that a browser would load."""
    page = page_of(assessed_job(name))
    reader = read(page)
    asked = [
        attrs.get(key) for _, attrs in reader.tags for key in ("src", "href", "action", "data", "xlink:href")
    ]

    assert not {"script", "iframe", "object", "embed", "link", "form"} & {tag for tag, _ in reader.tags}
    assert [address for address in asked if address] == []
    assert re.findall(r"url\((?!data:|#)", page) == []
    assert [key for _, attrs in reader.tags for key in attrs if key.startswith("on")] == []


@pytest.mark.parametrize("name", ["panel", "twelve items"])
def test_a_page_can_be_read_aloud(name: str) -> None:
    """It has a language, a title, one first heading, no level left out, named pictures, headed columns."""
    reader = read(page_of(assessed_job(name)))
    levels = [int(tag[1]) for tag, _ in reader.tags if re.fullmatch(r"h[1-6]", tag)]
    named = [attrs for _, attrs in reader.tags if attrs.get("role") == "img"]

    assert dict(reader.tags)["html"]["lang"] == "en"
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert all(attrs.get("aria-label") for attrs in named)
    assert [tag for tag, _ in reader.tags].count("figure") <= len(named)
    assert all(attrs.get("scope") == "col" for tag, attrs in reader.tags if tag == "th")


def test_markup_stays_text() -> None:
    """Names, notes and sources with markup are shown as they were typed, in pictures as well."""
    mounts = [{**one, "name": f"{n} {MARKUP}"} for n, one in enumerate(panel()["mount"])]
    link = [{"part": "bracket", "strength_N": 900.0, "source": MARKUP}]
    job = job_of([panel(MARKUP, mount=mounts, link=link)], name=MARKUP)
    page = page_of(assess(job, Facts(cards=read_cards(), coupons=pulls())))
    reader = read(page)

    assert "<script" not in page
    assert (
        "b" not in {tag for tag, attrs in reader.tags if tag == "b" and not attrs} or "<b>x</b>" not in page
    )
    assert any("<script>alert(1)</script>" in text for text in reader.texts)
    assert any('#import "evil" $x$ *bold*' in text for text in reader.texts)


def test_hash_and_version_stand_on_the_page() -> None:
    """Whoever holds a page can tell which job and which program it is of."""
    texts = " ".join(read(page_of(assessed_job("panel"))).texts)

    assert STAMP.short in texts
    assert STAMP.job_hash in texts
    assert f"staydown {assessed_job('panel').version}" in texts
