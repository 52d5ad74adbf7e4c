"""`staydown demo`: the whole path on an invented job."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import click


@click.command(short_help="Lay out an invented job, check it, change one thing, check again.")
@click.argument("folder", default="staydown-demo", type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="Both answers as one JSON object.")
@click.option("--quiet", is_flag=True, help="The words alone, before and after the change.")
def demo(folder: str, as_json: bool, quiet: bool) -> None:
    """Lay out an invented job in FOLDER, check it, change one thing, check again.

    FOLDER is made if it is not there (default: staydown-demo in the current folder).
    """
    from staydown.outputs.answer_text import first_page_text, quiet_text
    from staydown.outputs.demo_text import closing_text, demo_text
    from staydown.workbench.demo import lay_out_demo

    shown = lay_out_demo(Path(folder), datetime.now(UTC))
    before, after = shown.before, shown.after
    if as_json:
        from staydown.outputs.answer_json import answer_json

        answers = {
            name: answer_json(done.assessment, done.assumptions, done.cautions, done.warnings)
            for name, done in (("before", before), ("after", after))
        }
        click.echo(json.dumps({"format": "staydown-demo-1", **answers}, ensure_ascii=False, allow_nan=False))
    elif quiet:
        click.echo(f"before\n{quiet_text(before.assessment)}\nafter\n{quiet_text(after.assessment)}")
    else:
        click.echo(demo_text(before.assessment, shown.changed))
        click.echo(first_page_text(after.assessment))
        click.echo(closing_text(after.assessment, str(shown.folder)))
