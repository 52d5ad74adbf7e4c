"""`staydown sheet`: paper for the bench and the roof."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable
from typing import Any, TypeVar, cast

import click

from staydown.foundation.counted import counted

_F = TypeVar("_F", bound=Callable[..., Any])


@click.group(short_help="Write a sheet to work by: bonding, or tests on the bench.")
def sheet() -> None:
    """Write a sheet to work by: how the item is bonded, or the tests worth making."""


def _where(function: _F) -> _F:
    for option in (
        click.option("--quiet", is_flag=True, help="The paths alone, one line each."),
        click.option("--json", "as_json", is_flag=True, help="What was written, as one JSON object."),
        click.option(
            "--paper",
            type=click.Choice(["a4", "letter"]),
            default="a4",
            show_default=True,
            help="Size of the PDF's pages.",
        ),
        click.option(
            "--out",
            metavar="FOLDER",
            type=click.Path(),
            help="Where to write (default: out in the job's folder).",
        ),
        click.option("--item", metavar="NAME", help="One item of the job; all, unless you say which."),
        click.argument("job", default=".", type=click.Path()),
    ):
        function = option(function)
    return function


@sheet.command()
@_where
@click.option("--air", metavar="TEMPERATURE", help="Air where it is bonded: '18 degC'.")
@click.option("--humidity", metavar="SHARE", help="Relative humidity: '60 %'.")
@click.option("--surface-temperature", metavar="TEMPERATURE", help="Of the roof: '19 degC'.")
@click.option(
    "--dwell-temperature", metavar="TEMPERATURE", help="Coldest that it will be until it is driven."
)
@click.option("--wipe", metavar="VOLUME", help="How much wipe to mix: '0.5 L'.")
@click.option("--strength", metavar="SHARE", help="Alcohol in the wipe, by volume: '70 %'.")
@click.option("--stock", metavar="SHARE", help="Alcohol in the bottle: '99 %'.")
def bonding(
    job: str,
    item: str | None,
    out: str | None,
    paper: str,
    as_json: bool,
    quiet: bool,
    **typed: str | None,
) -> None:
    """Write how each item is bonded: steps with stop points, forces, mix, dwell clock, what to buy.

    One page a phase, large type, boxes to tick. What is not typed is left to be measured on the day.
    """
    from staydown.outputs.guide import guide_text
    from staydown.workbench.bonding_words import read_mix, read_weather
    from staydown.workbench.sheets import write_guides

    weather, mix = read_weather(typed), read_mix(typed)
    folder, sheets = write_guides(job, item, weather, mix, out, cast(Any, paper))
    told = [
        {
            "item": one.item,
            "file": str(one.file),
            "first_drive_s": one.guide.clock.first_drive_s,
            "full_s": one.guide.clock.full_s,
            "refusals": list(one.guide.window.refusals),
        }
        for one in sheets
        if one.guide is not None
    ]
    if as_json:
        click.echo(json.dumps({"format": "staydown-sheets-1", "sheets": told}, ensure_ascii=False))
    elif quiet:
        click.echo("\n".join(str(one.file) for one in sheets))
    else:
        for one in sheets:
            if one.guide is not None:
                click.echo(guide_text(one.guide, folder.job.job.show))
            click.echo(f"  {one.file}")


@sheet.command()
@_where
def tests(job: str, item: str | None, out: str | None, paper: str, as_json: bool, quiet: bool) -> None:
    """Write the tests worth making for the bench: jig, cut list, loads as water, table to fill in, pass rule."""
    from staydown.workbench.sheets import write_tests

    done = write_tests(job, item, out, cast(Any, paper))
    if as_json:
        told = [
            {
                "item": plan.item,
                "file": None if file is None else str(file),
                "why_none": plan.why_none or None,
            }
            for plan, file in done
        ]
        click.echo(json.dumps({"format": "staydown-sheets-1", "sheets": told}, ensure_ascii=False))
        return
    for plan, file in done:
        if file is not None:
            click.echo(str(file) if quiet else f"{plan.item}: {counted(len(plan.steps), 'test')}\n  {file}")
        elif not quiet:
            click.echo(textwrap.fill(f"{plan.item}: no sheet: {plan.why_none}", 80, subsequent_indent="  "))
