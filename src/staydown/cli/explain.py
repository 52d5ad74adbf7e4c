"""`staydown explain`: where a number comes from."""

from __future__ import annotations

import json
from pathlib import Path

import click


@click.command(short_help="Show where a number comes from, down to what you typed.")
@click.argument("job", default=".", type=click.Path())
@click.argument("what", required=False)
@click.option(
    "--depth",
    type=click.IntRange(min=1),
    metavar="N",
    help="Show the first N levels alone, the number itself the first; what is left out is told.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option("--quiet", is_flag=True, help="The number alone, or the paths alone.")
def explain(job: str, what: str | None, depth: int | None, as_json: bool, quiet: bool) -> None:
    """Print the trail of one number down to what was typed or published.

    WHAT is item/case/season/mount/quantity, such as "panel/gust/hot/front left/use". Each part may be
    shortened to its start or to its words ("pan/gust/hot/fr le/use"), or left out while only one number
    fits. Without WHAT, what can be asked for is listed. Inside a job's folder JOB may be left out.
    """
    from staydown.foundation.errors import BadInput, UnknownTrail
    from staydown.foundation.findings import Finding
    from staydown.outputs import trail as trails
    from staydown.workbench.check import open_and_assess

    if what is None and not Path(job).exists() and Path("job.toml").exists():
        job, what = ".", job  # one word that is no folder, inside a job's folder
    folder, assessment = open_and_assess(job)
    if what is None:
        names = trails.trail_list(assessment)
        if as_json:
            click.echo(json.dumps({"format": "staydown-explain-list-1", **names}, ensure_ascii=False))
        elif quiet:
            click.echo("\n".join(trail.path for trail in trails.trails(assessment)))
        else:
            click.echo(trails.list_text(names))
        return
    try:
        trail = trails.find_trail(assessment, what)
    except UnknownTrail as error:
        place = Finding(
            file="command line", line=None, key="WHAT", value=what, rule=error.rule, hint=error.hint
        )
        raise BadInput([place]) from error
    if as_json:
        answer = trails.trail_json(trail, folder.written, depth)
        click.echo(json.dumps(answer, ensure_ascii=False, allow_nan=False))
    elif quiet:
        click.echo(trails.value_text(trail.number, trail.index))
    else:
        click.echo(trails.trail_text(trail, folder.written, depth=depth))
