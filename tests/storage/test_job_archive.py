"""Archives: a job goes in and comes out the same; tricks with paths, links and sizes are refused unwritten."""

from __future__ import annotations

import io
import stat
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.foundation.errors import BadInput
from staydown.storage.job_archive import pack_job, unpack_job
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.open_job import open_job

JOB = b"format = 1\n"


def packed(*files: tuple[str, bytes]) -> bytes:
    """Return an archive of files."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files:
            archive.writestr(name, content)
    return out.getvalue()


def linked() -> bytes:
    """Return an archive with a link in it."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("job.toml", JOB)
        info = zipfile.ZipInfo("photos/a.jpg")
        info.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(info, "/etc/passwd")
    return out.getvalue()


def test_a_job_comes_out_as_it_went_in(tmp_path: Path) -> None:
    """Job file, coupons and photos are the same after packing and unpacking."""
    lay_out_demo(tmp_path / "van", datetime(2026, 6, 1, tzinfo=UTC))
    photo = "photos/a.png"
    (tmp_path / "van" / "photos").mkdir()
    (tmp_path / "van" / photo).write_bytes(b"any picture")
    unpack_job(pack_job(tmp_path / "van"), tmp_path / "other")

    assert open_job(tmp_path / "other").coupons == open_job(tmp_path / "van").coupons
    assert (tmp_path / "other" / photo).read_bytes() == b"any picture"
    assert (tmp_path / "other" / "job.toml").read_bytes() == (tmp_path / "van" / "job.toml").read_bytes()


@pytest.mark.parametrize(
    "make",
    [
        lambda: packed(("job.toml", JOB), ("../evil", b"x")),
        lambda: packed(("job.toml", JOB), ("/etc/evil", b"x")),
        lambda: packed(("job.toml", JOB), ("photos\\..\\..\\evil", b"x")),
        lambda: packed(("job.toml", JOB), ("C:/evil", b"x")),
        lambda: packed(("van/job.toml", JOB), ("van/../../photos/evil", b"x")),
        lambda: packed(("job.toml", JOB), ("photos/bomb.jpg", b"\0" * 30_000_000)),
        lambda: packed(("photos/a.jpg", b"x")),
        lambda: packed(("a/job.toml", JOB), ("b/job.toml", JOB)),
        lambda: packed(("job.toml", JOB), *((f"photos/{n}.jpg", b"x") for n in range(2100))),
        lambda: b"PK but no archive",
        linked,
    ],
)  # fmt: skip
def test_tricks_are_refused(tmp_path: Path, make: Callable[[], bytes]) -> None:
    """Nothing is written, inside the folder or outside it."""
    with pytest.raises(BadInput):
        unpack_job(make(), tmp_path / "in" / "job")

    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_only_the_files_of_a_job_are_taken(tmp_path: Path) -> None:
    """What else lies in the archive is left there."""
    written = unpack_job(
        packed(("van/job.toml", JOB), ("van/run.sh", b"x"), ("van/photos/deep/a.jpg", b"x")), tmp_path / "j"
    )

    assert [path.name for path in written] == ["job.toml"]


def test_a_job_is_never_overwritten(tmp_path: Path) -> None:
    """A folder that holds a job takes no archive."""
    (tmp_path / "job.toml").write_text("mine")
    with pytest.raises(BadInput, match="never overwritten"):
        unpack_job(packed(("job.toml", JOB)), tmp_path)

    assert (tmp_path / "job.toml").read_text() == "mine"
