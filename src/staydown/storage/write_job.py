"""Write a new job.toml: whole or not at all, and never over an older one."""

from __future__ import annotations

import os
from pathlib import Path

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.read_job import JOB_FILE


def refuse_taken(folder: Path) -> None:
    """Refuse a folder that cannot take a new job.

    Raises
    ------
    BadInput
        It holds a job already, or it is not a folder.
    """
    if folder.exists() and not folder.is_dir():
        raise _refusal(folder, "is not a folder", "give the name of a new folder")
    if (folder / JOB_FILE).exists():
        raise _refusal(folder / JOB_FILE, "is there already and is never overwritten", "give another folder")


def write_new_job(folder: Path, text: str) -> Path:
    """Write the text as the job.toml of a folder, made where it is not there, and return its path.

    Raises
    ------
    BadInput
        The folder holds a job already, or it is not a folder.
    OSError
        It cannot be written.
    """
    refuse_taken(folder)
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / JOB_FILE
    beside = folder / f".{JOB_FILE}.{os.getpid()}"
    try:
        with beside.open("w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        _put(beside, target)
    finally:
        beside.unlink(missing_ok=True)
    return target


def _put(beside: Path, target: Path) -> None:
    """Give a written file its name; a link, unlike a rename, fails where somebody was faster."""
    try:
        os.link(beside, target)
    except FileExistsError:
        refuse_taken(target.parent)
        raise
    except OSError:  # a file system without links, such as that of a memory stick
        refuse_taken(target.parent)
        os.replace(beside, target)


def _refusal(path: Path, rule: str, hint: str) -> BadInput:
    return BadInput([Finding(file=str(path), line=None, key="FOLDER", value="", rule=rule, hint=hint)])
