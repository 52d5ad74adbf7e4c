"""Writing a dossier: both files or none, where asked, the same bytes from any process."""

from __future__ import annotations

import shutil
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.foundation.errors import BadInput
from staydown.workbench import report as module
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.report import job_hash, write_report

ASK = "from staydown.workbench.report import write_report as w; import sys; w(sys.argv[1], sys.argv[2], 'a4')"


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo's folder, laid out once."""
    return lay_out_demo(tmp_path_factory.mktemp("demo") / "job", datetime(2026, 6, 1, tzinfo=UTC)).folder


@pytest.fixture
def demo_job(laid_out: Path, tmp_path: Path) -> Path:
    """Return a copy of the demo's folder for one test."""
    return Path(shutil.copytree(laid_out, tmp_path / "job"))


def test_both_files_stand_in_the_jobs_folder(demo_job: Path) -> None:
    """Without a folder asked for, `out` beside the job is taken; nothing else is left there."""
    done = write_report(demo_job, None, "a4")

    assert done.pdf == demo_job / "out" / "dossier.pdf"
    assert done.html == demo_job / "out" / "dossier.html"
    assert done.pdf.read_bytes().startswith(b"%PDF-")
    assert done.html.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert sorted(path.name for path in (demo_job / "out").iterdir()) == ["dossier.html", "dossier.pdf"]


@pytest.mark.independent
def test_another_process_writes_the_same_bytes(demo_job: Path, tmp_path: Path) -> None:
    """Processes with other hash seeds, in other folders, write one and the same dossier."""
    made = []
    for seed in ("1", "2"):
        out = tmp_path / seed
        subprocess.run(
            [sys.executable, "-c", ASK, str(demo_job), str(out)],
            check=True,
            cwd=tmp_path,
            env={"PYTHONHASHSEED": seed, "PATH": ""},
        )
        made.append([(out / name).read_bytes() for name in ("dossier.pdf", "dossier.html")])

    assert made[0] == made[1]


def test_nothing_is_written_where_one_of_them_fails(
    demo_job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault while the page is made leaves no sheet without its page."""

    def fails(*_: object) -> str:
        raise RuntimeError("no page")

    monkeypatch.setattr(module, "dossier_html", fails)
    with pytest.raises(RuntimeError, match="no page"):
        write_report(demo_job, tmp_path / "new", "a4")

    assert not (tmp_path / "new").exists()


def test_an_older_dossier_stays_when_the_disk_says_no(demo_job: Path, tmp_path: Path) -> None:
    """What stood there before is whole until the new one is; a folder in the way is told by the system's own error."""
    out = tmp_path / "taken"
    (out / "dossier.pdf").mkdir(parents=True)
    with pytest.raises(OSError, match=r"dossier\.pdf"):
        write_report(demo_job, out, "a4")

    assert [path.name for path in out.iterdir()] == ["dossier.pdf"]


def test_a_job_with_mistakes_has_no_dossier(tmp_path: Path) -> None:
    """Mistakes are told as `check` tells them, and nothing is written."""
    with pytest.raises(BadInput):
        write_report(tmp_path, None, "a4")

    assert list(tmp_path.iterdir()) == []


def test_the_hash_is_of_job_and_coupons(demo_job: Path) -> None:
    """Another job file or another coupon changes it; the order of the coupons does not."""
    coupons = write_report(demo_job, None, "a4").checked.folder.coupons
    own = job_hash(demo_job, coupons)

    assert own == job_hash(demo_job / "job.toml", tuple(reversed(coupons)))
    assert own != job_hash(demo_job / "changed.toml", coupons)
    assert own != job_hash(demo_job, coupons[1:])
