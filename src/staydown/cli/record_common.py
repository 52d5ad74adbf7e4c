"""What the commands under `record` share: common options, the job's folder, moments, how an answer is printed."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

import click

_F = TypeVar("_F", bound=Callable[..., Any])

WORDS = "[JOB] {}"


def common_options(function: _F) -> _F:
    """Add --json and --quiet to a command."""
    for option in (
        click.option("--quiet", is_flag=True, help="Say nothing but what is wrong."),
        click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units."),
    ):
        function = option(function)
    return function


def clock_option(function: _F) -> _F:
    """Add --clock-corrected to a command that writes."""
    return click.option(
        "--clock-corrected",
        is_flag=True,
        help="This computer's clock was ahead at the last entry and is right now; that is written down.",
    )(function)


def job_and(words: tuple[str, ...], what: str) -> tuple[Path, str]:
    """Return the job's folder and the word after it; JOB may be left out."""
    wanted = 1 if what else 0
    if not wanted <= len(words) <= wanted + 1:
        raise click.UsageError(f"give {WORDS.format(what).strip()}")
    job = Path(words[0] if len(words) > wanted else ".")
    folder = job if job.is_dir() else job.parent
    if not job.exists():
        raise click.UsageError(f"there is no folder {str(job)!r}")
    return folder, words[-1] if what else ""


def moment(text: str) -> datetime:
    """Return a moment; without a time zone it is this computer's."""
    from staydown.workbench.bonding_words import read_moment

    return read_moment(text)


def tell(text: str, answer: dict[str, Any], *, as_json: bool, quiet: bool) -> None:
    """Print an answer: as JSON, as text, or not at all."""
    if as_json:
        click.echo(json.dumps(answer, ensure_ascii=False, allow_nan=False))
    elif not quiet:
        click.echo(text)
