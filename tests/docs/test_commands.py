"""The page of commands is what the program says of itself."""

from __future__ import annotations

import re

import click

import write_commands
from staydown.cli.main import COMMANDS, run


def leaves() -> list[tuple[str, click.Command]]:
    """Return every command that does something itself, with the words that call it."""
    found = write_commands.commands(run, "staydown")
    return [(name, command) for name, command in found if not isinstance(command, click.Group)]


def test_the_page_of_commands_is_fresh() -> None:
    """docs/commands.md is what `--help` prints today; `make docs` writes it anew."""
    expected = write_commands.page()
    actual = write_commands.PAGE.read_text(encoding="utf-8")

    assert actual == expected


def test_every_command_is_on_the_page() -> None:
    """Each command of `staydown --help` has a heading of its own."""
    headings = re.findall(r"^## staydown (\w+)$", write_commands.PAGE.read_text(encoding="utf-8"), flags=re.M)

    assert headings == list(COMMANDS)


def test_every_command_helps() -> None:
    """Each command, and each of its options, has a word of help."""
    for name, command in leaves():
        assert command.help, name
        for parameter in command.params:
            if isinstance(parameter, click.Option):
                assert parameter.help, f"{name} {parameter.opts[0]}"


def test_every_command_has_json_and_quiet() -> None:
    """A script can ask every command for one JSON object, and every command can be quiet."""
    for name, command in leaves():
        options = {word for parameter in command.params for word in parameter.opts}

        assert {"--json", "--quiet"} <= options, name


def test_the_readme_shows_commands_that_exist() -> None:
    """Every `staydown ...` line in the README's code blocks names a command of the program."""
    text = (write_commands.PAGE.parents[1] / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```\w*\n(.*?)^```", text, flags=re.S | re.M)
    words = {
        word for block in blocks for word in re.findall(r"^(?:\$ )?(?:\S*/)?staydown ([a-z]+)", block, re.M)
    }

    assert words != set()
    assert words <= set(COMMANDS)
