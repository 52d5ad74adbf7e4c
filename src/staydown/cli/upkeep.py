"""`staydown upkeep`: does it still stay on, and what is owed?"""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import click


@click.command(short_help="Say what is due: looks, slip marks, proof pulls.")
@click.argument("job", default=".", type=click.Path())
@click.option("--item", metavar="NAME", help="One item of the job; all, unless you say which.")
@click.option(
    "--roof", metavar="TEMPERATURE", help="Of the roof when feet are pulled: '20 degC'; else the hottest."
)
@click.option(
    "--opened", multiple=True, metavar="FOOT", help="Roadside: this foot has opened or gone. Once for each."
)
@click.option("--removal", is_flag=True, help="How a foot comes off this surface.")
@click.option(
    "--ics", metavar="FILE", type=click.Path(path_type=Path), help="Write dwell end and dates as a calendar."
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option("--quiet", is_flag=True, help="What is due alone, one line each.")
def upkeep(
    job: str,
    item: str | None,
    roof: str | None,
    opened: tuple[str, ...],
    removal: bool,
    ics: Path | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Say what is due: looks and dates, slip marks, proof pulls; what to do with a foot that has opened.

    JOB is a folder with a job.toml, or the file itself. Writes nothing but the calendar that is asked for.
    """
    from staydown.outputs.upkeep_text import (
        removal_json,
        removal_text,
        roadside_json,
        roadside_text,
        upkeep_item_json,
        upkeep_item_text,
    )
    from staydown.workbench.upkeep import removal_of, roadside_of, upkeep_of, write_ics

    if opened:
        answer = roadside_of(job, item or "", opened)
        _tell(roadside_text(answer), {"format": "staydown-roadside-1", **roadside_json(answer)}, as_json)
        return
    if removal:
        card = removal_of(job, item or "")
        told = {"format": "staydown-removal-1", **removal_json(card)}
        _tell(removal_text(card, "metric"), told, as_json)
        return
    found = upkeep_of(job, datetime.now().astimezone(), item, roof)
    written = None if ics is None else str(write_ics(found, ics))
    parts, objects = [], []
    name, system = found.assessment.job.job.name, found.assessment.job.job.show
    for one in found.items:
        ends = None
        if one.first_drive is not None and one.full is not None:
            ends = (one.first_drive.astimezone(), one.full.astimezone())
        objects.append(upkeep_item_json(one.plan, one.pulls, one.word, ends))
        if quiet:
            parts += [f"{one.item}: {due.what}" for due in one.plan.dues if due.state in ("now", "due")]
        else:
            parts.append(upkeep_item_text(one.plan, one.pulls, one.word, ends, found.now, system, name))
    text = ("\n" if quiet else "\n\n").join(parts)
    if written is not None and not quiet:
        text += f"\n\n  {written}"
    _tell(text, {"format": "staydown-upkeep-1", "job": name, "items": objects, "ics": written}, as_json)


def _tell(text: str, answer: dict[str, object], as_json: bool) -> None:
    click.echo(json.dumps(answer, ensure_ascii=False, allow_nan=False) if as_json else text)
