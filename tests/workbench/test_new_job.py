"""A new job.toml keeps what was typed, whatever signs are in it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staydown.foundation.errors import BadInput
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import read_job_text
from staydown.storage.write_job import write_new_job
from staydown.workbench.new_job import check_answers, job_text, mount_questions, questions

ANSWERS = {question.key: question.example for question in (*questions(), *mount_questions(1))}


def test_the_examples_of_the_questions_make_a_job() -> None:
    """Whoever types each example gets a job without a finding."""
    assert [finding.line_of_text() for finding in check_answers(ANSWERS, read_cards())] == []


@given(st.text(st.characters(codec="utf-8"), min_size=1, max_size=30))
def test_any_name_comes_back_as_typed(name: str) -> None:
    """A name with quotes, backslashes or signs of any script is read back as it was, or refused and not mangled."""
    job = read_job_text(
        job_text(ANSWERS | {"job.name": name, "item.1.mount.1.name": name}), "job.toml", read_cards()
    ).job

    if job is None:
        assert not name.strip() or name == "unknown" or any(ord(sign) < 32 for sign in name)
    else:
        assert (job.job.name, job.item[0].mount[0].name) == (name, name)


def test_whoever_comes_second_is_refused(tmp_path: Path) -> None:
    """Of two writers of one job the first one's file stays, and nothing else is left in the folder."""
    write_new_job(tmp_path / "deep" / "down", "first")
    with pytest.raises(BadInput, match="never overwritten"):
        write_new_job(tmp_path / "deep" / "down", "second")

    assert {path.name: path.read_text() for path in (tmp_path / "deep" / "down").iterdir()} == {
        "job.toml": "first"
    }


def test_a_file_for_a_folder_is_refused(tmp_path: Path) -> None:
    """Where the folder's name is that of a file nothing is written."""
    (tmp_path / "van").write_text("mine")
    with pytest.raises(BadInput, match="is not a folder"):
        write_new_job(tmp_path / "van", "text")


def test_inch_signs_stay_readable() -> None:
    """An inch sign is written as typed, in single quotes, not behind a backslash."""
    assert "thickness = '1 3/8\"'" in job_text(ANSWERS | {"item.1.thickness": '1 3/8"'})


def test_a_file_system_without_links_is_written_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the file system has no hard links the file is renamed into place."""

    def no_links(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("os.link", no_links)
    write_new_job(tmp_path, "text")

    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"job.toml": "text"}


def test_the_rule_of_the_shade_is_written_behind_a_hash() -> None:
    """A new job shows where it says that the vehicle is only parked in the shade, and what leaving it out means."""
    (line,) = [line for line in job_text(ANSWERS).splitlines() if "parked =" in line]
    job = read_job_text(job_text(ANSWERS).replace(line, 'parked = "shade"'), "job.toml", read_cards()).job

    assert line.startswith('# parked = "anywhere"')
    assert "left out: anywhere" in line
    assert job is not None
    assert job.travel.parked == "shade"
