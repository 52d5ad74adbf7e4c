"""Two calculations at once give what one after the other gives, and fail as they would."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.workbench import at_once
from staydown.workbench.demo import lay_out_demo

PROGRAM = """
import os, sys
from staydown.workbench.at_once import at_once, can_copy
def broken():
    raise ValueError("as it is")
print(can_copy())
print(at_once(lambda: "a" * 10, lambda: "b" * 1_000_000)[1].count("b"))
first, second = at_once(os.getpid, os.getpid)
print(first == os.getpid(), second == os.getpid())
try:
    at_once(lambda: 1, broken)
except ValueError as error:
    print(error)
try:
    at_once(broken, lambda: 1)
except ValueError as error:
    print(error)
"""


@pytest.mark.independent
@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere one after the other")
def test_the_second_runs_in_a_copy_and_fails_as_itself() -> None:
    """Long results come whole; an error of either is raised where it was asked for, without a trace of the copy."""
    ran = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=True)
    can, count, *rest = ran.stdout.split("\n")

    assert count == "1000000"
    assert rest == [f"True {can != 'True'}", "as it is", "as it is", ""]
    assert ran.stderr == ""


@pytest.mark.independent
def test_one_after_the_other_is_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no copy can be had both run here."""
    monkeypatch.setattr(at_once, "can_copy", lambda: False)

    assert at_once.at_once(lambda: 1, lambda: "two") == (1, "two")


@pytest.mark.independent
def test_check_says_the_same_either_way(tmp_path: Path) -> None:
    """The answer of the demo does not hang on how many cores there are."""
    lay_out_demo(tmp_path / "demo", datetime(2026, 6, 1, tzinfo=UTC))
    answers = []
    for more in ("", "at_once.can_copy = lambda: False;"):
        code = f"from staydown.workbench import at_once; {more} from staydown.cli.main import run; run()"
        command = [sys.executable, "-c", code, "check", str(tmp_path / "demo"), "--json"]
        ran = subprocess.run(command, capture_output=True, text=True, check=True)
        answers.append(json.loads(ran.stdout))

    assert answers[0]["assumptions"] == answers[1]["assumptions"]
    assert answers[0] == answers[1]
