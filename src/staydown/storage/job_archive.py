"""A whole job as one archive: packed to be handed on, unpacked with nothing taken on trust."""

from __future__ import annotations

import io
import sqlite3
import stat
import zipfile
from pathlib import Path, PurePosixPath

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.logbook import FILE as LOGBOOK_FILE
from staydown.storage.logbook import HEAD_FILE
from staydown.storage.read_job import JOB_FILE, LARGEST_FILE
from staydown.storage.save_photo import FOLDER as PHOTOS
from staydown.storage.write_job import refuse_taken
from staydown.storage.write_whole import write_whole

FOLDERS = (PHOTOS, "trips")
TOP = (JOB_FILE, LOGBOOK_FILE, HEAD_FILE, "coupons.csv", "changed.toml")
MOST_FILES = 2000
LARGEST_WHOLE = 400_000_000  # bytes unpacked
MOST_PACKED = 200.0  # unpacked over packed: text is a tenth, photos are as they are
SMALL = 1_000_000  # bytes: below it a large ratio harms nobody
CHUNK = 1 << 16


def pack_job(folder: Path) -> bytes:
    """Return a job's folder as an archive: job file, logbook with its head, photos, trips."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in TOP:
            file = folder / name
            if name == LOGBOOK_FILE and file.exists():
                archive.writestr(name, _logbook_bytes(file))
            elif file.is_file():
                archive.write(file, name)
        for name in FOLDERS:
            for file in sorted((folder / name).glob("*")):
                if file.is_file() and not file.is_symlink():
                    archive.write(file, f"{name}/{file.name}")
    return out.getvalue()


def unpack_job(content: bytes, folder: Path) -> tuple[Path, ...]:
    """Unpack an archive into a new folder and return what was written.

    Only the files of a job are taken, by name; paths that lead out, links, doubled names, files that grow without
    measure and archives behind a password are refused before anything is written.

    Raises
    ------
    BadInput
        The archive is none of a job, or the folder holds one already.
    OSError
        It cannot be written.
    """
    refuse_taken(folder)
    try:
        archive = zipfile.ZipFile(io.BytesIO(content))
    except zipfile.BadZipFile:
        raise _refusal(
            "", "is no zip archive", "an archive that was exported here, or a zip of a job's folder"
        ) from None
    with archive:
        wanted = _names(archive.infolist())
        files: dict[str, bytes] = {}
        whole = 0
        for name, info in wanted.items():
            files[name] = _read(archive, info, LARGEST_WHOLE - whole)
            whole += len(files[name])
    if len(files[JOB_FILE]) > LARGEST_FILE:
        raise _refusal(JOB_FILE, f"is larger than {LARGEST_FILE // 1_000_000} MB", "is it a job file?")
    for name, told in files.items():
        write_whole(folder / name, told)
    return tuple(folder / name for name in files)


def _names(infos: list[zipfile.ZipInfo]) -> dict[str, zipfile.ZipInfo]:
    """Return the files of a job in the archive by their names in the job, whatever folder they lie in together."""
    if len(infos) > MOST_FILES:
        raise _refusal("", f"holds more than {MOST_FILES} files", "only a job's folder")
    jobs = [info.filename for info in infos if PurePosixPath(info.filename).name == JOB_FILE]
    if len(jobs) != 1:
        raise _refusal("", f"holds {len(jobs)} files named {JOB_FILE}", "one job an archive")
    top = PurePosixPath(jobs[0]).parent
    found: dict[str, zipfile.ZipInfo] = {}
    for info in infos:
        if info.is_dir():
            continue
        path = PurePosixPath(info.filename)
        bad = "\\" in info.filename or ":" in info.filename or "\0" in info.filename
        if bad or path.is_absolute() or ".." in path.parts:
            raise _refusal(
                info.filename[:60], "is a path that leads out of the folder", "nothing was unpacked"
            )
        if stat.S_ISLNK(info.external_attr >> 16):
            raise _refusal(info.filename[:60], "is a link", "nothing was unpacked")
        if info.flag_bits & 0x1:
            raise _refusal(info.filename[:60], "is behind a password", "pack it without one")
        if top not in path.parents:
            continue
        name = path.relative_to(top)
        if not (str(name) in TOP or (len(name.parts) == 2 and name.parts[0] in FOLDERS)):
            continue
        if str(name) in found:
            raise _refusal(str(name), "is in the archive twice", "nothing was unpacked")
        found[str(name)] = info
    return found


def _read(archive: zipfile.ZipFile, info: zipfile.ZipInfo, room: int) -> bytes:
    """Return a file's content, counted while it grows: what the archive says of its size is not believed."""
    out = bytearray()
    try:
        with archive.open(info) as stream:
            while chunk := stream.read(CHUNK):
                out += chunk
                ratio = len(out) / max(info.compress_size, 1)
                if len(out) > room or (len(out) > SMALL and ratio > MOST_PACKED):
                    raise _refusal(
                        info.filename[:60],
                        "grows without measure when it is unpacked",
                        "nothing was unpacked",
                    )
    except (zipfile.BadZipFile, NotImplementedError, EOFError) as error:
        raise _refusal(info.filename[:60], "cannot be unpacked", str(error)) from None
    return bytes(out)


def _logbook_bytes(file: Path) -> bytes:
    """Return the logbook as one file, with what its journal still holds."""
    source = sqlite3.connect(f"file:{file}?mode=ro", uri=True)
    try:
        return source.serialize()
    finally:
        source.close()


def _refusal(value: str, rule: str, hint: str) -> BadInput:
    return BadInput([Finding(file="archive", line=None, key="archive", value=value, rule=rule, hint=hint)])
