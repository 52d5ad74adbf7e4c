"""`staydown report`: what is printed, where it is written, how it ends."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.cli.main import BAD_INPUT, run
from staydown.workbench.demo import lay_out_demo


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the demo's job."""
    return lay_out_demo(tmp_path_factory.mktemp("demo") / "job", datetime(2026, 6, 1, tzinfo=UTC)).folder


def call(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, output and errors of a call."""
    with pytest.raises(SystemExit) as end:
        run(list(words))
    told = capsys.readouterr()
    return int(str(end.value.code)), told.out, told.err


def test_it_says_where_it_wrote(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The word of the job and both paths."""
    code, out, _ = call(capsys, "report", str(job))

    assert code == 0
    assert out.splitlines()[0].startswith("Curlew: ")
    assert [line.strip() for line in out.splitlines()[1:]] == [
        str(job / "out" / "dossier.pdf"),
        str(job / "out" / "dossier.html"),
    ]
    assert (job / "out" / "dossier.pdf").exists()


def test_quiet_gives_the_paths_alone(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """For scripts: two lines, and no warning beside them."""
    code, out, err = call(capsys, "report", str(job), "--out", str(tmp_path / "a b"), "--quiet")

    assert (code, err) == (0, "")
    assert out.splitlines() == [str(tmp_path / "a b" / name) for name in ("dossier.pdf", "dossier.html")]


def test_json_says_what_was_written(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One object with paths, word, paper and the hash of the job."""
    code, out, _ = call(capsys, "report", str(job), "--out", str(tmp_path), "--paper", "letter", "--json")
    told = json.loads(out)

    assert code == 0
    assert told["format"] == "staydown-report-1"
    assert told["paper"] == "letter"
    assert told["verdict"] in ("NO", "NOT PROVEN", "GO WITH CONDITIONS", "GO")
    assert Path(told["pdf"]).read_bytes().startswith(b"%PDF-")
    assert told["job_hash"] in Path(told["html"]).read_text(encoding="utf-8")


def test_another_paper_is_refused(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A paper that is neither is bad input, and the choice is told."""
    code, _, err = call(capsys, "report", str(job), "--paper", "a5")

    assert code == BAD_INPUT
    assert "'a4', 'letter'" in err


def test_a_folder_that_is_a_file_is_told(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The system's reason with the path, no trace of the program."""
    (tmp_path / "out").write_text("", encoding="utf-8")
    code, out, err = call(capsys, "report", str(job), "--out", str(tmp_path / "out"))

    assert code != 0
    assert out == ""
    assert str(tmp_path / "out") in err
    assert "Traceback" not in err
