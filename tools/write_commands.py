"""Write docs/commands.md: the help of every command, as the program prints it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click

from staydown.cli.main import run

PAGE = Path(__file__).parents[1] / "docs" / "commands.md"
INTRODUCTION = """# Commands

What `--help` prints, command by command. This page is written by `make docs` from the program itself, and a
test fails when it is stale.
"""
WIDTH = 100


def commands(command: click.Command, name: str) -> Iterator[tuple[str, click.Command]]:
    """Yield a command and all below it, each with the words that call it."""
    yield name, command
    if isinstance(command, click.Group):
        ctx = click.Context(command, info_name=name)
        for word in command.list_commands(ctx):
            below = command.get_command(ctx, word)
            if below is not None and not below.hidden:
                yield from commands(below, f"{name} {word}")


def page() -> str:
    """Return the whole page."""
    parts = [INTRODUCTION]
    for name, command in commands(run, "staydown"):
        ctx = click.Context(
            command,
            info_name=name,
            terminal_width=WIDTH,
            max_content_width=WIDTH,
            help_option_names=["-h", "--help"],
        )
        parts.append(f"## {name}\n\n```text\n{command.get_help(ctx).rstrip()}\n```\n")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stderr.write(f"wrote {PAGE}\n")
