"""The papers of an item: made as the commands make them, refused with the reason, their gaps told beforehand."""

from __future__ import annotations

import io
import json
import zipfile
from datetime import timedelta
from pathlib import Path

import pypdf
import pytest
from icalendar import Calendar

from bonded_jobs import GOOD, START, lay_out, told
from staydown.foundation.errors import BadInput
from staydown.storage.edit_toml import SetKey
from staydown.workbench.bonding import record_bonding
from staydown.workbench.desk import Desk
from staydown.workbench.item_papers import ItemSheet, sheets_of
from staydown.workbench.papers import make_paper
from staydown.workbench.upkeep import dates_of, upkeep_in, upkeep_of

NOW = START + timedelta(days=1)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The changed demo on a desk."""
    return Desk(lay_out(tmp_path / "job").folder)


def sheet(desk: Desk, item: str, kind: str) -> ItemSheet:
    """Return one paper of an item."""
    mine = next(one for one in sheets_of(desk.answer(), {}) if one.item == item)
    return next(one for one in mine.sheets if one.kind == kind)


def made(desk: Desk, name: str, **measured: str) -> bytes:
    """Return a paper as it is fetched."""
    found = make_paper(desk.folder, desk.file, name, NOW, measured)
    assert found is not None
    return found[0]


def words_of(content: bytes) -> str:
    """Return all words of a PDF on one line."""
    return " ".join(
        " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages).split()
    )


def test_every_paper_of_every_item_can_be_fetched(desk: Desk) -> None:
    """Each name leads to a PDF of the size that it says, or to an archive."""
    widths = {"a4": 595, "letter": 612}  # points: ISO 216, ANSI/ASME Y14.1
    for one in sheets_of(desk.answer(), {}):
        for paper in one.sheets[0].papers + one.sheets[2].papers[:1]:
            pages = pypdf.PdfReader(io.BytesIO(made(desk, paper.name))).pages

            assert round(float(pages[0].mediabox.width)) == next(
                width for size, width in widths.items() if size in paper.name
            )


def test_names_are_one_items_alone(desk: Desk) -> None:
    """Two items whose names have no letter of the alphabet have papers of their own."""
    desk.edit(
        [SetKey(path=("item", 0, "name"), value="屋"), SetKey(path=("item", 1, "name"), value="根")], "names"
    )
    names = [
        paper.name for one in sheets_of(desk.answer(), {}) for each in one.sheets for paper in each.papers
    ]

    assert len(set(names)) == len(names) == 14
    assert all(name.isascii() and "/" not in name for name in names)


def test_the_guide_works_with_what_was_measured(desk: Desk) -> None:
    """A surface too cold is a stop on the page and on the paper; what is left out is named; nonsense is told."""
    cold = {"surface_temperature": "2 degC", "air": "3 degC", "humidity": "60 %"}
    bonding = sheets_of(desk.answer(), cold)[0].sheets[0]

    assert bonding.refusal.startswith("stop: the surface is")
    assert bonding.lacks == ("coldest until it is driven",)
    assert "STOP" in words_of(made(desk, bonding.papers[0].name, **cold)).upper()
    with pytest.raises(BadInput) as error:
        sheets_of(desk.answer(), {"air": "warm", "humidity": "900 %"})
    assert [one.key for one in error.value.findings] == ["air", "humidity"]


def test_what_may_not_be_bonded_has_no_guide(desk: Desk) -> None:
    """The page says why, and fetching says it too."""
    desk.edit([SetKey(path=("vehicle", "surface"), value="pvc_membrane")], "surface")
    bonding = sheet(desk, "panel", "bonding")

    assert "not bonded to" in bonding.refusal
    with pytest.raises(BadInput):
        made(desk, bonding.papers[0].name)


def test_a_passport_lacks_what_it_says(desk: Desk) -> None:
    """What the page names as missing is what the passport itself says; a bonding written down takes lines away."""
    before = sheet(desk, "panel", "passport")
    archive = next(one for one in before.papers if one.name.endswith(".zip"))
    with zipfile.ZipFile(io.BytesIO(made(desk, archive.name))) as held:
        inside = json.loads(held.read("passport.json"))

    assert list(before.lacks) == inside["missing"]
    assert "every foot: no record of how it was bonded" in before.lacks

    record_bonding(desk.opened(), "panel", (), GOOD, told())

    assert "every foot: no record of how it was bonded" not in sheet(desk, "panel", "passport").lacks


def test_the_calendar_has_every_date_of_upkeep(desk: Desk) -> None:
    """The file that the page gives has the dates that the command shows, read by a general-purpose library."""
    assert dates_of(upkeep_in(desk.opened(), desk.answer().assessment, NOW)) == ()

    record_bonding(desk.opened(), "panel", (), GOOD, told())
    wanted = [one.what for one in dates_of(upkeep_of(desk.file, NOW))]
    read = [str(one["summary"]) for one in Calendar.from_ical(made(desk, "due.ics")).walk("VEVENT")]

    assert sorted(read) == sorted(wanted)
    assert read


def test_an_unknown_paper_is_none(desk: Desk) -> None:
    """Nothing but the papers of the job has a name: no path leads out of it."""
    for name in ("passwd", "../job.toml", "bonding-9-panel-a4.pdf", "bonding-1-panel-a3.pdf"):
        assert make_paper(desk.folder, desk.file, name, NOW) is None
