"""`staydown serve`: the workbench as pages on this machine."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from staydown.web.serve import Served


@click.command()
@click.argument("job", required=False, type=click.Path())
@click.option("--port", type=click.IntRange(0, 65535), help="Default: 8420, or any that is free; 0: any.")
@click.option("--no-browser", is_flag=True, help="Open no browser.")
@click.option("--lan", is_flag=True, help="Let a phone in your network in, after pairing with a code.")
@click.option("--json", "as_json", is_flag=True, help="The addresses as one JSON object, once it answers.")
@click.option("--quiet", is_flag=True, help="Print nothing.")
def serve(job: str | None, port: int | None, no_browser: bool, lan: bool, as_json: bool, quiet: bool) -> None:
    """Open the workbench in the browser: roof, answer, tests, papers. Nothing leaves this machine.

    JOB is a folder with a job.toml; without it the first page offers ways to one. Stop with Ctrl-C.
    """
    from staydown.web.serve import serve as run

    place = None if job is None else Path(job)
    try:
        run(
            place,
            port=port,
            lan=lan,
            browser=not no_browser,
            say=_json if as_json else _nothing if quiet else _say,
        )
    except OSError as error:
        if port is None or error.filename is not None:
            raise
        raise click.ClickException(f"port {port} cannot be used: {error.strerror}") from error


def _say(served: Served) -> None:
    click.echo(f"staydown is at {served.url}")
    if served.lan_url:
        from staydown.web.pair_page import qr_text

        address = f"{served.lan_url}/pair?code={served.code}"
        click.echo(f"Phone: scan, or open {served.lan_url}/pair and type {served.code} within 5 minutes.")
        click.echo(qr_text(address))
    elif served.lan:
        click.echo("This machine is in no network now: no phone can come in.", err=True)
    click.echo("Stop with Ctrl-C.")


def _json(served: Served) -> None:
    answer = {
        "format": "staydown-serve-1",
        "url": served.url,
        "lan_url": served.lan_url or None,
        "code": served.code or None,
    }
    click.echo(json.dumps(answer))


def _nothing(_: Served) -> None:
    return
