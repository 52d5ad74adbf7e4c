"""`staydown explain`: where a number comes from."""

from __future__ import annotations

import json

import click


@click.command()
@click.argument("job", default=".", type=click.Path())
@click.argument("what", required=False)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option("--quiet", is_flag=True, help="The number alone, or the paths alone.")
def explain(job: str, what: str | None, as_json: bool, quiet: bool) -> None:
    """Print the trail of one number down to what was typed or published.

    WHAT is item/case/season/mount/quantity, each part shortenable, such as
    "panel/gust/hot/front left/use". Without it, what can be asked for is listed.
    """
    from staydown.outputs import trail as trails
    from staydown.workbench.check import open_and_assess

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
    trail = trails.find_trail(assessment, what)
    if as_json:
        click.echo(json.dumps(trails.trail_json(trail, folder.written), ensure_ascii=False, allow_nan=False))
    elif quiet:
        click.echo(trails.value_text(trail.number, trail.index))
    else:
        click.echo(trails.trail_text(trail, folder.written))
