"""`staydown passport`: all that the next owner, an insurer or an inspector asks for, in one file."""

from __future__ import annotations

import json
import textwrap
from datetime import datetime
from typing import Any, cast

import click


@click.command(short_help="Write the hand-over record of each item.")
@click.argument("job", default=".", type=click.Path())
@click.option("--item", metavar="NAME", help="One item of the job; all, unless you say which.")
@click.option(
    "--out", metavar="FOLDER", type=click.Path(), help="Where to write (default: out in the job's folder)."
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="Size of the PDF's pages.",
)
@click.option("--json", "as_json", is_flag=True, help="What was written, as one JSON object.")
@click.option("--quiet", is_flag=True, help="The paths alone, one line each.")
def passport(job: str, item: str | None, out: str | None, paper: str, as_json: bool, quiet: bool) -> None:
    """Write the passport of each item: how it was bonded, what is proven, what happened, what is missing.

    A PDF that needs no program, and a ZIP archive with it, the same as JSON, the coupons and the photos.
    `staydown new --from-passport` takes one over.
    """
    from staydown.workbench.passport import write_passports

    done = write_passports(job, item, out, cast(Any, paper), datetime.now().astimezone())
    if as_json:
        told = [
            {
                "item": one.item,
                "pdf": str(one.pdf),
                "archive": str(one.archive),
                "missing": list(one.missing),
                "photos": one.photos,
            }
            for one in done
        ]
        click.echo(json.dumps({"format": "staydown-passports-1", "passports": told}, ensure_ascii=False))
        return
    for one in done:
        if quiet:
            click.echo(f"{one.pdf}\n{one.archive}")
        else:
            click.echo(
                f"{one.item}: {one.photos} photos; {'missing:' if one.missing else 'nothing is missing'}"
            )
            for gap in one.missing:
                click.echo(textwrap.fill(gap, 80, initial_indent="  - ", subsequent_indent="    "))
            click.echo(f"  {one.pdf}\n  {one.archive}")
