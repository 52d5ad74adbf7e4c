"""The front door on the command line: finds the command, turns errors into a sentence and an exit code.

Exit codes: 0 done; 1 the answer is NO or NOT PROVEN under --strict; 2 bad input; 3 a fault of the program;
130 stopped by the person; 141 the reader of our output went away.
"""

from __future__ import annotations

import gc
import importlib
import json
import os
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

import click

from staydown.foundation.errors import BadInput, LogbookError, StaydownError, UnknownTrail
from staydown.foundation.version import VERSION

BAD_INPUT, FAULT, STOPPED, READER_GONE = 2, 3, 130, 141
DEBUG = "STAYDOWN_DEBUG"
# our matrices are small, a second thread only spins: the same wall time, measured, and a third less of the processor
ONE_THREAD = ("OPENBLAS_NUM_THREADS", "1")
# our records use none, and looking for some reads the list of every package that is installed
NO_PLUGINS = ("PYDANTIC_DISABLE_PLUGINS", "__all__")
# a run makes many numbers and hardly a cycle: looking for some every 700 objects costs a twentieth of a check
OBJECTS_BETWEEN_LOOKS = 50_000
FINDING = ("file", "line", "key", "value", "rule", "hint")

# in the order of the help; a command's module is imported only when it is asked for
COMMANDS = {
    "demo": "staydown.cli.demo:demo",
    "new": "staydown.cli.new:new",
    "check": "staydown.cli.check:check",
    "explain": "staydown.cli.explain:explain",
    "report": "staydown.cli.report:report",
    "sheet": "staydown.cli.sheet:sheet",
    "upkeep": "staydown.cli.upkeep:upkeep",
    "passport": "staydown.cli.passport:passport",
    "record": "staydown.cli.record:record",
    "strength": "staydown.cli.strength:strength",
    "serve": "staydown.cli.serve:serve",
    "plan": "staydown.cli.plan:plan",
    "cards": "staydown.cli.cards:cards",
}


class ReaderGone(Exception):
    """Whoever read our output closed the pipe, as `head` does; no error of anybody."""


class FrontDoor(click.Group):
    """A group whose commands are imported late, and the one place where errors become exit codes."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002, click's signature
        """Return the names of all commands, in the order of the help."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Return the command of that name, or None."""
        if cmd_name not in COMMANDS:
            return None
        module, name = COMMANDS[cmd_name].split(":")
        command: click.Command = getattr(importlib.import_module(module), name)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command that the words ask for; a word that is none is answered with the nearest."""
        word = args[0]
        if word not in COMMANDS and not word.startswith("-"):
            from staydown.foundation.nearest import nearest

            meant = nearest(word, COMMANDS)
            hint = f" Did you mean {meant!r}?" if meant else " `staydown --help` lists the commands."
            ctx.fail(f"there is no command {word!r}.{hint}")
        return super().resolve_command(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; a closed pipe is told apart here, since the base class calls it exit code 1."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError as error:
            raise ReaderGone from error

    def main(  # type: ignore[override]  # this door always ends the process
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = "staydown",
        complete_var: str | None = None,
        **extra: Any,
    ) -> NoReturn:
        """Run the command that was typed and leave with its exit code."""
        extra.pop("standalone_mode", None)
        words = list(sys.argv[1:] if args is None else args)
        _never_stumble_over_a_character()
        os.environ.setdefault(*ONE_THREAD)
        os.environ.setdefault(*NO_PLUGINS)
        gc.set_threshold(OBJECTS_BETWEEN_LOOKS, *gc.get_threshold()[1:])
        try:
            code = super().main(words, prog_name, complete_var, standalone_mode=False, **extra)
            sys.stdout.flush()
        except (ReaderGone, BrokenPipeError):
            # whatever Python still flushes while it ends must not raise a second time
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(READER_GONE)
        except click.ClickException as error:
            error.show()
            sys.exit(error.exit_code)
        except click.Abort:
            click.echo("Stopped.", err=True)
            sys.exit(STOPPED)
        except Exception as error:
            if os.environ.get(DEBUG) or "--debug" in words:
                raise
            sys.exit(_say(error, as_json="--json" in words))
        sys.exit(code if isinstance(code, int) else 0)


def _say(error: Exception, *, as_json: bool) -> int:
    """Print what went wrong where its reader looks, and return the exit code."""
    if isinstance(error, BadInput):
        if as_json:
            findings = [{key: getattr(finding, key) for key in FINDING} for finding in error.findings]
            answer = {"format": "staydown-findings-1", "findings": findings}
            click.echo(json.dumps(answer, ensure_ascii=False))
        else:
            click.echo(str(error), err=True)
        return BAD_INPUT
    if isinstance(error, (LogbookError, UnknownTrail)):
        click.echo(f"staydown: {error}", err=True)
        return BAD_INPUT
    if isinstance(error, OSError) and error.filename is not None:
        click.echo(f"staydown: {error.filename}: {error.strerror}", err=True)
        return FAULT
    kind = "" if isinstance(error, StaydownError) else f"{type(error).__name__}: "
    click.echo(f"staydown: a fault of the program, not of your job: {kind}{error}", err=True)
    click.echo("`staydown --debug ...` shows where it happened; please report that.", err=True)
    return FAULT


def _never_stumble_over_a_character() -> None:
    """Show a question mark where the terminal lacks one of our characters, rather than end the program."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


@click.group("staydown", cls=FrontDoor, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, message="staydown %(version)s")
@click.option("--debug", is_flag=True, expose_value=False, help="Show where a fault of the program happened.")
def run() -> None:
    """Will a thing bonded on a vehicle roof stay on, how do I know, and what do I do next?

    JOB is a folder with a job.toml, or the file itself; left out, it is the current folder.
    `staydown demo` shows it all on an invented job.
    """


if __name__ == "__main__":
    run()
