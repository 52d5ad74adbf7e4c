"""`record bonding / inspection / event`, `upkeep`, `sheet`, `passport` and `new --from-passport` as they are typed."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from bonded_jobs import jpeg, lay_out


def staydown(*words: str, where: Path) -> subprocess.CompletedProcess[str]:
    """Run the program in a process of its own, clocks in UTC."""
    return subprocess.run(
        [sys.executable, "-m", "staydown.cli.main", *words],
        capture_output=True,
        text=True,
        check=False,
        cwd=where,
        env={**os.environ, "TZ": "UTC"},
    )


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo, laid out once."""
    return lay_out(tmp_path_factory.mktemp("demo") / "job").folder


@pytest.fixture
def job(laid_out: Path, tmp_path: Path) -> Path:
    """Return a copy of the demo."""
    shutil.copytree(laid_out, tmp_path / "job")
    return tmp_path / "job"


def test_from_bonding_to_the_next_owner(job: Path, tmp_path: Path) -> None:
    """A whole life in commands: bonded, driven too early, driven, stormed, looked at, listed, due, handed on."""
    (tmp_path / "a.jpg").write_bytes(jpeg(place=True))
    words = ["--item", "panel", "--lot", "K7", "--expires", "2099-01-01", "--surface-temperature", "22 degC"]
    words += ["--dwell-temperature", "23 degC", "--by", "Ann", "--at", "2026-07-06 10:00"]
    bonded = staydown("record", "bonding", *words, "--photo", f"front left/clean={tmp_path}/a.jpg", where=job)
    assert bonded.returncode == 0, bonded.stderr
    assert "No drive before 2026-07-07 10:00" in bonded.stdout
    assert "Full load from 2026-07-09 10:00." in bonded.stdout

    early = staydown("record", "event", "drive", "--at", "2026-07-06 12:00", where=job)
    assert early.returncode == 2
    assert "STOP: panel was driven before its bond may be" in early.stderr
    assert staydown("record", "event", ".", "drive", "--at", "2026-07-10 12:00", where=job).returncode == 0
    storm = staydown(
        "record", "event", "storm", "--gust", "70 mph", "--at", "2026-07-11 12:00", "--json", where=job
    )
    assert json.loads(storm.stdout)["what"] == "storm"

    due = json.loads(staydown("upkeep", "--item", "panel", "--json", "--ics", "due.ics", where=job).stdout)
    assert due["items"][0]["due"][0]["state"] == "now"
    assert (job / "due.ics").read_text(encoding="utf-8").startswith("BEGIN:VCALENDAR")
    looked = staydown(
        *("record", "inspection", "--item", "panel", "--edges-closed", "--slip", "front left=0.1 mm"),
        where=job,
    )
    assert looked.stdout == "panel: looked at. The answer is GO WITH CONDITIONS.\n"
    listed = staydown("record", "list", where=job).stdout
    assert "the whole roof storm, 2026-07-11 12:00:00 UTC" in listed
    roadside = staydown("upkeep", "--item", "panel", "--opened", "front left", where=job)
    assert "Take it off" in roadside.stdout

    passport = json.loads(staydown("passport", "--item", "panel", "--json", where=job).stdout)["passports"][0]
    taken = staydown("new", "mine", "--from-passport", str(job / passport["archive"]), where=tmp_path)
    assert "with 4 records and 1 photos as told" in taken.stdout, taken.stderr
    assert staydown("check", "mine", "--quiet", where=tmp_path).stdout == "panel: NOT PROVEN\n"


def test_sheets_are_written_where_they_are_asked_for(job: Path, tmp_path: Path) -> None:
    """`sheet bonding` says what decides and where the paper is; a surface too cold is told, not hidden."""
    words = ["--item", "panel", "--surface-temperature", "5 degC", "--out", str(tmp_path / "paper")]
    told = staydown("sheet", "bonding", *words, where=job)
    sent = json.loads(staydown("sheet", "bonding", *words, "--json", where=job).stdout)["sheets"][0]

    assert told.returncode == 0, told.stderr
    assert "STOP: the surface is too cold" in told.stdout
    assert sent["refusals"] == ["too cold"]
    assert (tmp_path / "paper" / "bonding-panel.pdf").read_bytes().startswith(b"%PDF")
    assert not (job / "out").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["record", "event"], "give [JOB] WHAT"),
        (["record", "event", "stom"], 'did you mean "storm"?'),
        (["record", "bonding", "nowhere"], "there is no folder"),
        (["record", "inspection", "--item", "panle"], 'did you mean "panel"?'),
        (["upkeep", "--opened", "front left"], "is no item of the job"),
        (["record", "bonding", "--item", "panel", "--at", "yesterday"], "is not a moment"),
        (["record", "bonding", "--item", "panel", "--photo", "job.toml"], "is no picture"),
        (["new", "mine", "--from-passport", "job.toml"], "is no JSON"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_words_that_make_no_sense(job: Path, words: list[str], said: str) -> None:
    """Exit code 2 and a sentence, for every slip."""
    done = staydown(*words, where=job)

    assert done.returncode == 2
    assert said in done.stderr
