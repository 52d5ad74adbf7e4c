"""An archive becomes a job: a whole one as it was, a passport as what its next owner has; nothing else is taken."""

from __future__ import annotations

import io
import zipfile
from datetime import timedelta
from pathlib import Path

import pytest

from bonded_jobs import START, lay_out
from staydown.foundation.errors import BadInput
from staydown.storage.job_archive import pack_job
from staydown.workbench.desk import Desk
from staydown.workbench.item_papers import make_item_paper, sheets_of
from staydown.workbench.open_archive import open_archive
from staydown.workbench.open_job import open_job

NOW = START + timedelta(days=1)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The changed demo on a desk."""
    return Desk(lay_out(tmp_path / "job").folder)


def passport(desk: Desk) -> bytes:
    """Return the archive of the panel's passport."""
    sheets = next(one for one in sheets_of(desk.answer(), {}) if one.item == "panel").sheets
    made = make_item_paper(desk.file, sheets[2].papers[-1].name, {}, NOW)
    assert made is not None
    return made[0]


def test_a_whole_job_comes_back_as_it_was(desk: Desk, tmp_path: Path) -> None:
    """The same job file and the same coupons."""
    open_archive(pack_job(desk.folder), "job.zip", tmp_path / "other", NOW)

    assert (tmp_path / "other" / "job.toml").read_bytes() == desk.file.read_bytes()
    assert open_job(tmp_path / "other").coupons == desk.coupons


def test_a_passport_becomes_a_job_of_its_item(desk: Desk, tmp_path: Path) -> None:
    """Its item alone, its coupons beside it and not recorded: nobody has vouched for them yet."""
    open_archive(passport(desk), "../bought.zip", tmp_path / "mine", NOW)
    mine = open_job(tmp_path / "mine")

    assert [item.name for item in mine.job.item] == ["panel"]
    assert mine.coupons == ()
    assert (tmp_path / "mine" / "coupons.csv").exists()
    assert not (tmp_path / "bought.zip").exists()


def test_what_is_neither_is_refused(desk: Desk, tmp_path: Path) -> None:
    """Other archives, bare text, a cut passport, and a folder that holds a job: told, and nothing is made."""
    whole = passport(desk)
    other = io.BytesIO()
    with zipfile.ZipFile(other, "w") as archive:
        archive.writestr("readme.txt", "hello")
    for number, content in enumerate(
        (b"", b"hello", b'{"format": 1}', other.getvalue(), whole[: len(whole) // 2])
    ):
        place = tmp_path / f"no-{number}"
        with pytest.raises(BadInput):
            open_archive(content, "x.zip", place, NOW)
        assert not (place / "job.toml").exists()
    with pytest.raises(BadInput):
        open_archive(whole, "x.zip", desk.folder, NOW)
