"""The front door: errors become sentences and exit codes, slips are answered with the nearest command."""

from __future__ import annotations

import json
import subprocess
import sys
from types import ModuleType

import click
import pytest
from click.testing import CliRunner, Result

from staydown.cli.main import COMMANDS, run
from staydown.foundation.errors import (
    BadInput,
    LogbookDamaged,
    StaydownError,
    UnitMismatch,
    UnknownTrail,
)
from staydown.foundation.findings import Finding

SLIP = Finding(
    file="job.toml", line=14, key="travel.headwind", value="45", rule="needs a unit", hint="such as 45 km/h"
)
MISSING = Finding(
    file="job.toml", line=None, key="vehicle.surface", value="", rule="is missing", hint="see cards"
)


def call(monkeypatch: pytest.MonkeyPatch, error: BaseException | None, *words: str) -> Result:
    """Return what a command does that fails with this error."""

    @click.command()
    @click.option("--json", "as_json", is_flag=True)
    def planted(as_json: bool) -> None:
        if error is not None:
            raise error

    module = ModuleType("planted_command")
    module.planted = planted  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "planted_command", module)
    monkeypatch.setitem(COMMANDS, "planted", "planted_command:planted")
    monkeypatch.delenv("STAYDOWN_DEBUG", raising=False)
    return CliRunner().invoke(run, list(words) or ["planted"])


def test_the_version_is_told() -> None:
    """`--version` prints the name and the version, and nothing else."""
    result = CliRunner().invoke(run, ["--version"])

    assert (result.exit_code, result.output) == (0, "staydown 0.1.0\n")


def test_the_list_of_commands_is_not_cut_short() -> None:
    """In a window of 80 columns each command has one whole sentence."""
    lines = CliRunner().invoke(run, ["--help"], terminal_width=80).output.split("Commands:\n")[1].splitlines()

    assert len(lines) == len(COMMANDS)
    assert [line for line in lines if not line.endswith(".") or line.endswith("...")] == []


@pytest.mark.parametrize("name", list(COMMANDS))
def test_every_command_loads(name: str) -> None:
    """Each name of the table is a command that can show its help."""
    result = CliRunner().invoke(run, [name, "--help"])

    assert result.exit_code == 0, result.output
    assert result.output.startswith(f"Usage: staydown {name}"), result.output


def test_a_mistyped_command_is_answered_with_the_nearest() -> None:
    """`staydown chekc` asks whether `check` was meant, and is bad input."""
    result = CliRunner().invoke(run, ["chekc"])

    assert result.exit_code == 2
    assert "Did you mean 'check'?" in result.stderr


def test_a_command_far_from_all_is_sent_to_the_help() -> None:
    """A word that is near to no command is sent to the list of commands."""
    result = CliRunner().invoke(run, ["zzz"])

    assert result.exit_code == 2
    assert "staydown --help" in result.stderr


def test_all_findings_are_shown_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Bad input shows each finding on its own line of stderr, with exit code 2 and an empty stdout."""
    result = call(monkeypatch, BadInput([SLIP, MISSING]))

    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.splitlines() == [SLIP.line_of_text(), MISSING.line_of_text()]


def test_findings_as_json(monkeypatch: pytest.MonkeyPatch) -> None:
    """With --json the findings are one object on stdout and nothing is on stderr."""
    result = call(monkeypatch, BadInput([SLIP]), "planted", "--json")
    expected = {
        "format": "staydown-findings-1",
        "findings": [
            {
                "file": "job.toml",
                "line": 14,
                "key": "travel.headwind",
                "value": "45",
                "rule": "needs a unit",
                "hint": "such as 45 km/h",
            }
        ],
    }

    assert result.exit_code == 2
    assert result.stderr == ""
    assert json.loads(result.stdout) == expected


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (UnknownTrail("no number 'item/cruse'"), 2),
        (LogbookDamaged("row 7 does not follow row 6"), 2),
        (UnitMismatch("uplift(pressure_Pa) wants Pa, got 1 N"), 3),
        (StaydownError("something of ours"), 3),
        (ZeroDivisionError("division by zero"), 3),
        (PermissionError(13, "Permission denied", "out/check.json"), 3),
        (click.Abort(), 130),
        (KeyboardInterrupt(), 130),
    ],
    ids=lambda value: type(value).__name__,
)
def test_an_error_becomes_a_sentence_and_a_code(
    monkeypatch: pytest.MonkeyPatch, error: BaseException, code: int
) -> None:
    """No error shows a traceback; its words are on stderr and its kind is in the exit code."""
    result = call(monkeypatch, error)

    assert result.exit_code == code
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    assert code == 130 or str(getattr(error, "strerror", None) or error) in result.stderr


def test_a_fault_of_the_program_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """An error that nobody foresaw is called the program's, and the way to its place is shown."""
    result = call(monkeypatch, KeyError("mount"))

    assert "a fault of the program" in result.stderr
    assert "--debug" in result.stderr


def test_debug_shows_where(monkeypatch: pytest.MonkeyPatch) -> None:
    """With --debug the error itself comes through, with its traceback."""
    result = call(monkeypatch, KeyError("mount"), "--debug", "planted")

    assert isinstance(result.exception, KeyError)


def test_a_broken_pipe_is_no_answer() -> None:
    """A command that writes on after its reader went away exits with 141 and without a word."""
    program = (
        "import click, sys\n"
        "from types import ModuleType\n"
        "from staydown.cli.main import COMMANDS, run\n"
        "@click.command()\n"
        "def flood():\n"
        "    for _ in range(100000): click.echo('0123456789' * 10)\n"
        "sys.modules['flood'] = module = ModuleType('flood'); module.flood = flood\n"
        "COMMANDS['flood'] = 'flood:flood'\n"
        "run(['flood'])\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.readline()
        process.stdout.close()
        words = process.stderr.read()

    assert process.returncode == 141
    assert words == ""
