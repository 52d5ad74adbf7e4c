"""Keeps a photo beside the job, named by the hash of its content; only pictures get in, their places stay out.

Every photo is drawn anew from its pixels before it is kept: what else its file carried (places, names, a second
file behind the picture) does not come along.
"""

from __future__ import annotations

import hashlib
import io
import re
import warnings
from pathlib import Path
from typing import Any

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.write_whole import write_whole

FOLDER = "photos"
LARGEST_PHOTO = 25_000_000  # bytes: a phone's largest are half of that
MOST_PIXELS = 60_000_000  # a picture can be small as a file and fill the memory when it is drawn
LONGEST_SIDE = 4096  # pixels kept: a scratch of 0.1 mm shows in a photo of a foot
JPEG_QUALITY = 90
FORMATS = ("JPEG", "PNG", "WEBP")
NAME = re.compile(r"photos/[0-9a-f]{32}\.(?:jpg|png)")
_TAKEN = (0x9003, 0x0132)  # Exif 2.32: DateTimeOriginal in the Exif directory, DateTime in the first one
_EXIF, _GPS, _ORIENTATION = 0x8769, 0x8825, 0x0112


def save_photo(folder: Path, content: bytes, *, keep_location: bool = False) -> str:
    """Write a photo into the job's folder and return its name there: `photos/` and the hash of what was kept.

    Parameters
    ----------
    keep_location : bool
        Keep the place where it was taken in the file, on purpose.

    Raises
    ------
    BadInput
        It is empty, too large, damaged, or no JPEG, PNG or WebP picture.
    OSError
        It cannot be written.
    """
    kept, end = _redrawn(content, keep_location=keep_location)
    name = f"{FOLDER}/{hashlib.sha256(kept).hexdigest()[:32]}{end}"
    target = folder / name
    if not target.exists():
        write_whole(target, kept)
    return name


def read_photo(folder: Path, name: str) -> bytes:
    """Return a photo of the job; its content is checked against its name.

    Raises
    ------
    BadInput
        The name is no photo's, the file is not there, or it was changed.
    """
    if not NAME.fullmatch(name):
        raise _refusal("is no photo of the job", "a name such as photos/....jpg", name)
    try:
        content = (folder / name).read_bytes()
    except OSError as error:
        raise _refusal(f"cannot be read: {error.strerror}", "was the folder copied whole?", name) from error
    if not _named_for(content, name):
        raise _refusal("was changed since it was kept", "take it from a copy", name)
    return content


def small_picture(content: bytes, longest: int) -> bytes:
    """Return a kept photo as a JPEG whose longest side has at most so many pixels."""
    from PIL import Image

    with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
        picture = opened.convert("RGB")
        picture.thumbnail((longest, longest))
        return _jpeg(picture, {})


def photo_file(path: Path) -> bytes:
    """Return the content of a file that a person named as a photo.

    Raises
    ------
    BadInput
        It is no ordinary file, too large, or cannot be read.
    """
    try:
        if not path.is_file():
            raise _refusal("is no file", "name a JPEG, PNG or WebP file", str(path))
        if path.stat().st_size > LARGEST_PHOTO:
            raise _too_large(str(path))
        return path.read_bytes()
    except OSError as error:
        raise _refusal(
            f"cannot be read: {error.strerror}", "name a JPEG, PNG or WebP file", str(path)
        ) from error


def taken_at(content: bytes) -> str:
    """Return when the camera says that a photo was taken, as it says it; empty where it does not."""
    from PIL import Image

    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
            exif = opened.getexif()
            said = exif.get_ifd(_EXIF).get(_TAKEN[0]) or exif.get(_TAKEN[1])
    except (OSError, ValueError, SyntaxError):
        return ""
    text = str(said or "").strip("\0 ")
    return text if re.fullmatch(r"\d{4}:\d\d:\d\d \d\d:\d\d:\d\d", text) else ""


def _redrawn(content: bytes, *, keep_location: bool) -> tuple[bytes, str]:
    from PIL import Image, ImageOps, UnidentifiedImageError

    if len(content) > LARGEST_PHOTO:
        raise _too_large()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
                if opened.width * opened.height > MOST_PIXELS:
                    raise _refusal(
                        f"has {opened.width} x {opened.height} pixels, over {MOST_PIXELS // 1_000_000} million",
                        "take it with a smaller picture size",
                    )
                opened.load()
                kind = opened.format
                place = _place(opened) if keep_location else {}
                picture = ImageOps.exif_transpose(opened)
    except UnidentifiedImageError as error:
        hint = "a JPEG, PNG or WebP file; set the phone to its most compatible format"
        raise _refusal("is no picture", hint) from error
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _refusal("has too many pixels", "take it with a smaller picture size") from error
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError) as error:
        raise _refusal("is cut or damaged", "copy it again from the camera") from error
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    if kind == "PNG":
        return _png(picture, place), ".png"
    return _jpeg(picture.convert("RGB"), place), ".jpg"


def _place(opened: Any) -> dict[int, Any]:
    return dict(opened.getexif().get_ifd(_GPS))


def _with_place(place: dict[int, Any]) -> dict[str, Any]:
    from PIL import Image

    if not place:
        return {}
    exif = Image.Exif()
    exif.get_ifd(_GPS).update(place)
    return {"exif": exif}


def _jpeg(picture: Any, place: dict[int, Any]) -> bytes:
    out = io.BytesIO()
    picture.info = {}
    picture.save(out, "JPEG", quality=JPEG_QUALITY, optimize=True, **_with_place(place))
    return out.getvalue()


def _png(picture: Any, place: dict[int, Any]) -> bytes:
    out = io.BytesIO()
    plain = picture.convert("RGBA" if "A" in picture.getbands() or "transparency" in picture.info else "RGB")
    plain.info = {}
    plain.save(out, "PNG", **_with_place(place))
    return out.getvalue()


def _named_for(content: bytes, name: str) -> bool:
    return hashlib.sha256(content).hexdigest()[:32] == Path(name).stem


def _too_large(value: str = "") -> BadInput:
    rule = f"is larger than {LARGEST_PHOTO // 1_000_000} MB"
    return _refusal(rule, "take it with a smaller picture size", value)


def _refusal(rule: str, hint: str, value: str = "") -> BadInput:
    return BadInput([Finding(file="photo", line=None, key="photo", value=value, rule=rule, hint=hint)])


def take_photo(folder: Path, name: str, content: bytes) -> None:
    """Keep a photo that came with a passport, under the name that its content has.

    Raises
    ------
    BadInput
        The name is none of a photo, does not belong to the content, or the content is no picture.
    OSError
        It cannot be written.
    """
    check_photo(name, content)
    if not (folder / name).exists():
        write_whole(folder / name, content)


def check_photo(name: str, content: bytes) -> None:
    """Refuse a photo that is not what its name says.

    Raises
    ------
    BadInput
        See `take_photo`.
    """
    if not NAME.fullmatch(name):
        raise _refusal("is no photo of a job", "a name such as photos/....jpg", name)
    if not _named_for(content, name):
        raise _refusal("is not the picture that its name stands for", "do not trust it", name)
    _redrawn(content, keep_location=False)
