"""`staydown record` as it is typed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROWS = """name,tape,surface,mode,result,load,area,lasted,temperature,note
A1,grey foam,gelcoat,tension,broke,180 N,25 mm x 25 mm,6 s,23 degC,
A2,grey foam,gelcoat,tension,fell,5 L water,1 in x 1 in,31 h,40 degC,
"""
HANG = ["--tape", "grey foam", "--surface", "gelcoat", "--mode", "shear", "--load", "5 L water"]
HANG += ["--area", "25 mm x 25 mm", "--temperature", "40 degC"]


def record(*words: str, where: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run `staydown record` in a process of its own, clocks in UTC."""
    return subprocess.run(
        [sys.executable, "-m", "staydown.cli.main", "record", *words],
        capture_output=True,
        text=True,
        check=False,
        cwd=where,
        env={**os.environ, "TZ": "UTC"},
    )


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return a folder with a file of coupons."""
    (tmp_path / "coupons.csv").write_text(ROWS, encoding="utf-8")
    return tmp_path


def test_coupons_by_folder_or_in_it(job: Path) -> None:
    """JOB may be the folder, its job.toml, or left out."""
    first = record("coupons", str(job), str(job / "coupons.csv"))
    second = record("coupons", "coupons.csv", where=job)

    assert (first.returncode, first.stdout) == (0, "Coupons: 2 recorded.\n")
    assert (second.returncode, second.stdout) == (0, "Coupons: 2 already recorded.\n")


def test_bad_rows_are_printed_with_their_place(job: Path) -> None:
    """Exit code 2, every finding on its line, nothing recorded; with --json as an object."""
    (job / "coupons.csv").write_text(ROWS.replace("180 N", "0 N").replace("31 h", "31"), encoding="utf-8")
    told = record("coupons", "coupons.csv", where=job)
    sent = record("coupons", "coupons.csv", "--json", where=job)
    findings = json.loads(sent.stdout)["findings"]

    assert (told.returncode, sent.returncode) == (2, 2)
    assert "coupons.csv:2: load = '0 N': must be above zero" in told.stderr
    assert "coupons.csv:3: lasted = '31': has no unit" in told.stderr
    assert [(finding["line"], finding["key"]) for finding in findings] == [(2, "load"), (3, "lasted")]
    assert not (job / "logbook.sqlite").exists()


def test_a_misspelt_name_is_refused_unless_it_is_meant(job: Path) -> None:
    """Exit code 2 with the nearest name and the option; with the option it is recorded with a doubt on stderr."""
    (job / "coupons.csv").write_text(ROWS.replace("gelcoat", "gelcaot"), encoding="utf-8")
    refused = record("coupons", "coupons.csv", where=job)
    taken = record("coupons", "coupons.csv", "--unknown-names", where=job)

    assert refused.returncode == 2
    assert "did you mean gelcoat? --unknown-names records it as it is" in refused.stderr
    assert (taken.returncode, taken.stdout) == (0, "Coupons: 2 recorded.\n")
    assert taken.stderr.startswith("doubt: coupons.csv:2: surface = 'gelcaot'")


def test_an_empty_file_needs_a_job(job: Path) -> None:
    """Without a job there are no names to put in, and that is said."""
    told = record("coupons", "--blank", where=job)

    assert (told.returncode, told.stdout) == (2, "")
    assert "is not there" in told.stderr


def test_a_test_while_it_hangs(job: Path) -> None:
    """Hung, looked at, found: each a command of its own, days apart for the test by --at."""
    began = record("hang", "start", str(job), "H1", *HANG, "--at", "2026-05-01 10:00")
    looked = record("hang", "look", str(job), "--all", "--at", "2026-05-01 20:00", "--json")
    ended = record("hang", "end", str(job), "H1", "--found", "--at", "2026-05-02 08:00+02:00")

    assert began.returncode == 0, began.stderr
    assert (
        "H1 hangs since 2026-05-01 10:00:00 UTC; until somebody looks it counts for nothing." in began.stdout
    )
    assert json.loads(looked.stdout)["coupons"][0]["coupon"]["lasted_s"] == 36000.0
    assert ended.stdout == "H1 fell between 10 h and 20 h: between the last look and the finding.\n"


@pytest.mark.parametrize(
    "words",
    [
        ["coupons"],
        ["coupons", "a", "b", "c"],
        ["coupons", "no such folder", "coupons.csv"],
        ["hang", "start", "H1"],
        ["hang", "end", "H1"],
        ["hang", "end", "H1", "--fell", "--spoiled", "why"],
        ["hang", "look", "H1", "--at", "yesterday"],
        ["hang", "look", "H1", "--lasted", "3"],
        ["hang", "look", "H1", "--lasted", "3 h", "--at", "2026-05-01 10:00"],
        ["hang", "look", "H1"],
        ["list", "no such folder"],
        ["mend"],
    ],
    ids=" ".join,
)
def test_words_that_make_no_sense(job: Path, words: list[str]) -> None:
    """A wrong call is bad input, and is not called a fault of the program."""
    done = record(*words, where=job)

    assert done.returncode == 2, done.stderr
    assert "fault of the program" not in done.stderr


def test_list_and_export(job: Path) -> None:
    """The list shows the coupons and the state of the logbook; the export can be recorded elsewhere."""
    record("coupons", "coupons.csv", where=job)
    listed = record("list", where=job)
    sent = json.loads(record("list", "--json", where=job).stdout)
    exported = record("export", where=job)
    (job / "other").mkdir()
    again = record("coupons", "other", "out/coupons.csv", where=job)

    assert "A2    grey foam  gelcoat  tension  fell    76.0 kPa   31 h    40 °C" in listed.stdout
    assert "2 entries (2 coupon); all there and as written." in listed.stdout
    assert (sent["rows"], [one["name"] for one in sent["coupons"]]) == (2, ["A1", "A2"])
    assert exported.stdout.split() == ["out/coupons.csv", "out/logbook.json"]
    assert again.stdout == "Coupons: 2 recorded.\n"


def test_a_damaged_logbook_is_said_and_can_be_mended(job: Path) -> None:
    """A lost head stops every command with a sentence; `mend` goes on from there, and writes it down."""
    record("coupons", "coupons.csv", where=job)
    (job / "logbook.head").unlink()
    listed = record("list", where=job)
    mended = record("mend", "--note", "copied without it", where=job)

    assert listed.returncode == 2
    assert "logbook.head is missing beside 2 entries" in listed.stderr
    assert mended.stdout.startswith("Entry 3 says what was lost: logbook.head is missing")
    assert record("list", where=job).returncode == 0


def test_quiet_says_nothing(job: Path) -> None:
    """A script that wants only the exit code gets only that."""
    for words in (["coupons", "coupons.csv"], ["list"], ["export"]):
        done = record(*words, "--quiet", where=job)

        assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_ten_thousand_rows_at_once(job: Path) -> None:
    """The whole command, process and all; benchmarks/whole_process.py measures how long it takes."""
    head = ROWS.splitlines()[0]
    lines = [
        f"C{n},grey foam,gelcoat,shear,fell,{20 + n % 400 / 10} N,25 mm x 25 mm,{1 + n % 2000 / 10} h,40 degC,"
        for n in range(10_000)
    ]
    (job / "coupons.csv").write_text("\n".join([head, *lines]) + "\n", encoding="utf-8")
    done = record("coupons", "coupons.csv", where=job)

    assert done.stdout == "Coupons: 10000 recorded.\n"
