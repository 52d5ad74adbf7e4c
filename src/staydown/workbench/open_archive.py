"""Makes a job of an archive: a whole job that moves to another machine, or the passport of an item that was bought."""

from __future__ import annotations

import io
import tempfile
import zipfile
from datetime import datetime
from pathlib import Path

from staydown.storage.job_archive import unpack_job
from staydown.storage.write_archive import PASSPORT
from staydown.workbench.coupon_table import plain_file_name
from staydown.workbench.passport import take_over


def open_archive(content: bytes, name: str, folder: Path, now: datetime) -> None:
    """Make a job in a folder of its own.

    Parameters
    ----------
    content : bytes
        Of the archive, or of a bare passport.json.
    name : str
        What the file was called; a passport is named by it in the logbook.
    folder : Path
        Where the job is made.
    now : datetime
        The present moment.

    Raises
    ------
    BadInput
        It is neither, is damaged, or the folder holds a job already.
    OSError
        The folder cannot be written to.
    """
    if not _is_passport(content):
        unpack_job(content, folder)
        return
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / plain_file_name(name)
        file.write_bytes(content)
        take_over(file, folder, now)


def _is_passport(content: bytes) -> bool:
    if content[:1] == b"{":
        return True
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            return PASSPORT in archive.namelist()
    except zipfile.BadZipFile:
        return False  # whoever unpacks it says what is wrong with it
