"""Photos: only real pictures, of a size, without the place where they were taken, under the hash of their content."""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from bonded_jobs import jpeg
from staydown.foundation.errors import BadInput
from staydown.storage.save_photo import LARGEST_PHOTO, photo_file, read_photo, save_photo, take_photo

GPS = 0x8825


def png_of(width: int, height: int) -> bytes:
    """Return a PNG that claims a size and holds hardly any data: a bomb."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


def test_a_photo_is_named_by_what_is_kept(tmp_path: Path) -> None:
    """The name is the hash of the file in the folder; the same photo twice is one file."""
    name = save_photo(tmp_path, jpeg())
    again = save_photo(tmp_path, jpeg())
    content = (tmp_path / name).read_bytes()

    assert name == again
    assert name == f"photos/{hashlib.sha256(content).hexdigest()[:32]}.jpg"
    assert read_photo(tmp_path, name) == content


def test_the_place_stays_out_unless_it_is_kept_on_purpose(tmp_path: Path) -> None:
    """Position data goes with the rest of what a camera writes; --keep-location keeps the position alone."""
    plain = save_photo(tmp_path, jpeg(place=True))
    kept = save_photo(tmp_path, jpeg(place=True), keep_location=True)
    with Image.open(io.BytesIO(jpeg(place=True))) as given:
        assert dict(given.getexif().get_ifd(GPS))
    with Image.open(tmp_path / plain) as picture:
        assert not dict(picture.getexif().get_ifd(GPS))
        assert b"Exif" not in (tmp_path / plain).read_bytes()
    with Image.open(tmp_path / kept) as picture:
        assert dict(picture.getexif().get_ifd(GPS))[1] == "N"


def test_a_photo_keeps_its_upright(tmp_path: Path) -> None:
    """A phone's turned picture is kept as it is seen, although its note of the turn is gone."""
    exif = Image.Exif()
    exif[0x0112] = 6
    out = io.BytesIO()
    Image.new("RGB", (60, 40)).save(out, "JPEG", exif=exif)
    with Image.open(tmp_path / save_photo(tmp_path, out.getvalue())) as picture:
        assert picture.size == (40, 60)


def test_what_hides_behind_a_picture_is_gone(tmp_path: Path) -> None:
    """A second file glued to the end of a picture does not get in."""
    name = save_photo(tmp_path, jpeg() + b"PK\x03\x04<script>evil</script>")

    assert b"script" not in (tmp_path / name).read_bytes()


@pytest.mark.parametrize(
    ("content", "rule"),
    [
        (b"", "is no picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is no picture"),
        (b"\xff\xd8\xff" + b"x" * 100, "is no picture"),
        (b"GIF89a" + b"\0" * 40, "is no picture"),
        (b"%PDF-1.7", "is no picture"),
        (jpeg((400, 400))[:-500], "is cut or damaged"),
        (png_of(30000, 30000), "pixels"),
        (png_of(8000, 8000), "pixels"),
        (b"x" * (LARGEST_PHOTO + 1), "is larger than"),
    ],
    ids=["empty", "svg", "false jpeg", "gif", "pdf", "cut", "bomb", "large", "heavy"],
)
def test_what_is_no_photo_is_refused(tmp_path: Path, content: bytes, rule: str) -> None:
    """Wrong types, cut files, huge pixels and huge files are named, and nothing is written."""
    with pytest.raises(BadInput, match=rule):
        save_photo(tmp_path, content)

    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name",
    [
        "photos/../job.toml",
        "../x.jpg",
        "/etc/passwd",
        "photos/abc.jpg",
        "photos/" + "0" * 32 + ".jpg/..",
        "job.toml",
    ],
)
def test_a_name_that_reaches_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    """Only names that a photo can have are read or taken."""
    with pytest.raises(BadInput, match="is no photo"):
        read_photo(tmp_path, name)
    with pytest.raises(BadInput, match="is no photo"):
        take_photo(tmp_path, name, jpeg())


def test_a_changed_photo_is_noticed(tmp_path: Path) -> None:
    """A photo that was edited later no longer is what its name stands for; nor is one that was swapped."""
    name = save_photo(tmp_path, jpeg())
    (tmp_path / name).write_bytes(jpeg(colour=(0, 0, 0)))
    with pytest.raises(BadInput, match="was changed"):
        read_photo(tmp_path, name)
    with pytest.raises(BadInput, match="is not the picture"):
        take_photo(tmp_path / "other", name, jpeg(colour=(1, 1, 1)))


def test_a_file_must_be_one(tmp_path: Path) -> None:
    """A folder, a name that is not there: both are told."""
    with pytest.raises(BadInput, match="is no file"):
        photo_file(tmp_path)
    with pytest.raises(BadInput, match="is no file"):
        photo_file(tmp_path / "none.jpg")
