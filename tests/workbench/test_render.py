"""The sheet: tagged, in the shipped face, the same bytes each time, a person's text is text, nothing is cut off."""

from __future__ import annotations

import io
import re
from functools import cache
from importlib.resources import files
from typing import Any

import pypdf
import pytest
from fontTools.ttLib import TTFont

from sample_assessments import JOBS, assessed_job, job_of, panel, pulls
from staydown.assess import Assessment, Facts, assess
from staydown.outputs.cautions import cautions_for
from staydown.outputs.dossier import Stamp, dossier
from staydown.storage.read_cards import read_cards
from staydown.workbench.render import BREAK, FACES, MISSING, Paper, code_points, draw_charts, pdf, printable

STAMP = Stamp(job_hash="0123456789abcdef" * 4, coupons=0)
MARKUP = '#import "evil" $x$ *bold* _it_ <tag> `raw` @ref \\ [ ] { } ~ = - + / // #panic("x")'
SIZES: dict[Paper, tuple[float, float]] = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}


def sheet_of(assessment: Assessment, paper: Paper = "a4") -> bytes:
    """Return the PDF of an assessment."""
    made = dossier(assessment, (), cautions_for(assessment), assessment.findings, STAMP)
    return pdf(draw_charts(made), paper)


@cache
def read(name: str, paper: Paper = "a4") -> pypdf.PdfReader:
    """Return the PDF of a sample job as another program reads it."""
    return pypdf.PdfReader(io.BytesIO(sheet_of(assessed_job(name), paper)))


def words_of(reader: pypdf.PdfReader) -> str:
    """Return all text of a PDF with single blanks."""
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))


@pytest.mark.independent
def test_the_code_points_are_those_of_the_face() -> None:
    """Our reader of the face's table agrees with a font library."""
    for face in FACES:
        content = files("staydown.pictures").joinpath("fonts", face).read_bytes()
        known = {code for code in TTFont(io.BytesIO(content)).getBestCmap() if code < 0xFFFF}

        assert code_points(content) == known


def test_a_font_without_the_table_is_refused() -> None:
    """A face whose table of code points has another form is a fault of the program, not a silent page of squares."""
    content = files("staydown.pictures").joinpath("fonts", FACES[0]).read_bytes()
    font = TTFont(io.BytesIO(content))
    font["cmap"].tables = [one for one in font["cmap"].tables if one.format != 4]
    changed = io.BytesIO()
    font.save(changed)
    with pytest.raises(ValueError, match="format 4"):
        code_points(changed.getvalue())


def test_a_letter_that_the_face_lacks_is_a_square() -> None:
    """Nothing vanishes, and long words can be broken."""
    assert printable("Reiher 鷺", words=True) == f"Reiher {MISSING}"
    assert printable("x" * 60, words=True).split(BREAK) == ["x" * 24, "x" * 24, "x" * 12]
    assert printable("x" * 60, words=False) == "x" * 60


@pytest.mark.parametrize("paper", SIZES)
def test_a_sheet_can_be_read_aloud_and_searched(paper: Paper) -> None:
    """Tagged, with language and title, PDF/UA-1 by its own claim, text as text, pages of the size asked for."""
    reader = read("panel", paper)
    root: Any = reader.trailer["/Root"]
    claims = str(root["/Metadata"].get_object().get_data())

    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert re.search(r"<pdfuaid:part>1<|pdfuaid:part=.1", claims)
    assert reader.metadata is not None
    assert reader.metadata.title == "Heron: will it stay on the roof?"
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            SIZES[paper], abs=0.1
        )
    assert "What you have shown so far" in words_of(reader) or "Do not drive" in words_of(reader)


def figures(node: Any, found: list[Any]) -> list[Any]:
    """Return every figure and formula of the tree of tags."""
    node = node.get_object()
    if isinstance(node, list):
        for kid in node:
            figures(kid, found)
    elif isinstance(node, dict):
        if node.get("/S") in ("/Figure", "/Formula"):
            found.append(node)
        if "/K" in node:
            figures(node["/K"], found)
    return found


def test_every_figure_and_formula_has_words() -> None:
    """The tags of pictures and formulas carry an alternative text."""
    root: Any = read("panel").trailer["/Root"]
    found = figures(root["/StructTreeRoot"]["/K"], [])
    kinds = [node["/S"] for node in found]

    assert kinds.count("/Figure") >= 6
    assert kinds.count("/Formula") >= 30
    assert all(len(str(node["/Alt"])) > 3 for node in found)


def test_every_page_says_which_it_is() -> None:
    """Page x of y, the hash of the job and the version of the program stand on every page."""
    reader = read("panel")
    version = assessed_job("panel").version
    for number, page in enumerate(reader.pages, start=1):
        told = re.sub(r"\s+", " ", page.extract_text())

        assert f"page {number} of {len(reader.pages)}" in told
        assert f"job {STAMP.short}" in told
        assert f"staydown {version}" in told


def test_all_faces_are_embedded() -> None:
    """No face is left to the machine that shows the sheet; words are in the shipped face."""
    names = set()
    for page in read("panel").pages:
        for font in page["/Resources"]["/Font"].values():
            held = font.get_object()
            inner = held["/DescendantFonts"][0].get_object() if "/DescendantFonts" in held else held
            described = inner["/FontDescriptor"].get_object()
            names.add(str(inner["/BaseFont"]).split("+")[-1])

            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(described), inner["/BaseFont"]
    assert {"SourceSans3-Regular", "SourceSans3-SemiBold"} <= names
    assert all(name.startswith(("SourceSans3", "NewCM", "Libertinus")) for name in names), names


def test_the_same_job_gives_the_same_bytes() -> None:
    """No clock and no chance: made twice, it is one and the same."""
    assert sheet_of(assessed_job("panel")) == sheet_of(assessed_job("panel"))


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("paper", SIZES)
def test_every_job_has_a_sheet(name: str, paper: Paper) -> None:
    """Strange jobs too: no items, no mounts, no coupons, long and foreign names; never more than a dozen pages."""
    assert 1 <= len(read(name, paper).pages) <= 12


def test_markup_stays_text() -> None:
    """What looks like markup or like a command of the typesetter is printed as it was typed."""
    mounts = [{**one, "name": f"{n} {MARKUP}"} for n, one in enumerate(panel()["mount"])]
    link = [{"part": "bracket", "strength_N": 900.0, "source": MARKUP}]
    job = job_of([panel(MARKUP, mount=mounts, link=link)], name=MARKUP)
    reader = pypdf.PdfReader(io.BytesIO(sheet_of(assess(job, Facts(cards=read_cards(), coupons=pulls())))))
    told = words_of(reader)

    assert told.count('#import "evil" $x$ *bold* _it_ <tag>') > 3
    assert '#panic("x")' in told
