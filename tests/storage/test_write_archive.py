"""Archives of passports: the same bytes for the same content; nothing trusted on the way in."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import pytest

from staydown.foundation.errors import BadInput
from staydown.storage.write_archive import LARGEST_TEXT, PASSPORT, read_archive, write_archive

PHOTO = "photos/" + "0" * 32 + ".jpg"


def zipped(tmp_path: Path, files: dict[str, bytes]) -> Path:
    """Return an archive made by the plain library."""
    path = tmp_path / "given.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return path


def test_written_and_read_again(tmp_path: Path) -> None:
    """What goes in comes out, and twice the same content is the same file."""
    files = {PASSPORT: b"{}", PHOTO: b"picture", "coupons.csv": b"name\n"}
    write_archive(tmp_path / "a.zip", files)
    write_archive(tmp_path / "b.zip", dict(reversed(files.items())))

    assert read_archive(tmp_path / "a.zip") == files
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_a_bare_json_file_is_a_passport_without_photos(tmp_path: Path) -> None:
    """The JSON alone will do."""
    (tmp_path / "passport.json").write_text(json.dumps({}), encoding="utf-8")

    assert read_archive(tmp_path / "passport.json") == {PASSPORT: b"{}"}


def test_other_files_are_left_where_they_are(tmp_path: Path) -> None:
    """What is neither JSON, coupons nor a photo is not even read."""
    found = read_archive(zipped(tmp_path, {PASSPORT: b"{}", "job.toml": b"x", "photos/x.exe": b"x"}))

    assert set(found) == {PASSPORT}


@pytest.mark.parametrize("name", ["../x", "photos/../../x.jpg", "/etc/x", "..\\x", "C:\\x", "c:/x"])
def test_a_name_that_reaches_out_is_refused(tmp_path: Path, name: str) -> None:
    """A path trick in any name condemns the archive."""
    with pytest.raises(BadInput, match="reaches out"):
        read_archive(zipped(tmp_path, {PASSPORT: b"{}", name: b"x"}))


def test_a_bomb_is_refused(tmp_path: Path) -> None:
    """A small archive that unpacks to far more than a passport is stopped while it is read."""
    bomb = zipped(tmp_path, {PASSPORT: b" " * (LARGEST_TEXT + 2)})

    assert bomb.stat().st_size < 100_000
    with pytest.raises(BadInput, match="too large"):
        read_archive(bomb)


def test_what_is_no_passport_is_told(tmp_path: Path) -> None:
    """No JSON inside, a cut archive, a missing file."""
    with pytest.raises(BadInput, match=r"no passport\.json"):
        read_archive(zipped(tmp_path, {"x.txt": b"x"}))
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr(PASSPORT, b"{}" * 500)
    whole = out.getvalue()
    (tmp_path / "cut.zip").write_bytes(whole[:100] + b"x" + whole[101:])
    with pytest.raises(BadInput, match="damaged"):
        read_archive(tmp_path / "cut.zip")
    with pytest.raises(BadInput, match="is no file"):
        read_archive(tmp_path / "none.zip")
