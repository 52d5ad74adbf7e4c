"""Archives of passports: written the same for the same content; read with nothing trusted but what is asked for."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.save_photo import LARGEST_PHOTO, NAME
from staydown.storage.write_whole import write_whole

PASSPORT, SHEET, COUPONS = "passport.json", "passport.pdf", "coupons.csv"
LARGEST_TEXT = 20_000_000  # bytes of passport.json or coupons.csv
LARGEST_WHOLE = 1_000_000_000
MOST_FILES = 2000
_STAMP = (1980, 1, 1, 0, 0, 0)  # the earliest that a ZIP file can tell: the same bytes on every day


def write_archive(path: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a ZIP archive.

    Raises
    ------
    OSError
        It cannot be written.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in sorted(files.items()):
            entry = zipfile.ZipInfo(name, _STAMP)
            packed = NAME.fullmatch(name) is not None  # pictures do not get smaller
            entry.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, content)
    write_whole(path, out.getvalue())


def read_archive(path: Path) -> dict[str, bytes]:
    """Return passport.json, coupons.csv and the photos of a passport; a bare JSON file is a passport without photos.

    Nothing is unpacked anywhere; names that are none of these are left where they are.

    Raises
    ------
    BadInput
        It cannot be read, is no passport, is too large, or has a name that reaches out of its folder.
    """
    try:
        if not path.is_file():
            raise _refusal(path, "is no file", "a passport's .zip or passport.json")
        if path.stat().st_size > LARGEST_WHOLE:
            raise _refusal(path, "is too large for a passport", "at most 1 GB")
        if not zipfile.is_zipfile(path):
            return {PASSPORT: _bare(path)}
        with zipfile.ZipFile(path) as archive:
            return _wanted(path, archive)
    except OSError as error:
        raise _refusal(
            path, f"cannot be read: {error.strerror}", "a passport's .zip or passport.json"
        ) from error
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError) as error:
        raise _refusal(path, f"is a damaged archive: {error}", "copy it again") from error


def _bare(path: Path) -> bytes:
    content = path.read_bytes()
    if len(content) > LARGEST_TEXT:
        raise _refusal(path, "is too large for a passport", f"at most {LARGEST_TEXT // 1_000_000} MB")
    return content


def _wanted(path: Path, archive: zipfile.ZipFile) -> dict[str, bytes]:
    entries = archive.infolist()
    if len(entries) > MOST_FILES:
        raise _refusal(path, f"holds over {MOST_FILES} files", "is it a passport?")
    found: dict[str, bytes] = {}
    for entry in entries:
        parts = entry.filename.replace("\\", "/").split("/")
        if ".." in parts or entry.filename.startswith(("/", "\\")) or ":" in parts[0]:
            raise _refusal(
                path, f"has a name that reaches out of it: {entry.filename[:60]!r}", "do not trust it"
            )
        if entry.filename not in (PASSPORT, COUPONS) and not NAME.fullmatch(entry.filename):
            continue
        most = LARGEST_PHOTO if NAME.fullmatch(entry.filename) else LARGEST_TEXT
        with archive.open(entry) as stream:
            content = stream.read(most + 1)
        if len(content) > most:
            raise _refusal(path, f"{entry.filename} is too large", "is it a passport?")
        if entry.filename in found:
            raise _refusal(path, f"has {entry.filename} twice", "do not trust it")
        found[entry.filename] = content
    if PASSPORT not in found:
        raise _refusal(path, "has no passport.json in it", "`staydown passport` writes one")
    return found


def _refusal(path: Path, rule: str, hint: str) -> BadInput:
    return BadInput([Finding(file=str(path), line=None, key="passport", value="", rule=rule, hint=hint)])
