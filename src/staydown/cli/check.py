"""`staydown check`: the main job."""

from __future__ import annotations

import json

import click


@click.command()
@click.argument("job", default=".", type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option("--quiet", is_flag=True, help="The words alone, one line an item.")
@click.option("--strict", is_flag=True, help="Exit code 1 when the answer is NO or NOT PROVEN.")
def check(job: str, as_json: bool, quiet: bool, strict: bool) -> int:
    """Say whether it will stay on: loads, spread, strength, verdict.

    JOB is a folder with a job.toml, or the file itself. Writes nothing.
    """
    from staydown.workbench.check import check_folder, open_and_assess

    if quiet and not as_json:  # the words alone: nothing is weighed, no change is searched
        from staydown.outputs.answer_text import quiet_text

        assessment = open_and_assess(job)[1]
        click.echo(quiet_text(assessment))
        return 1 if strict and assessment.word in ("NO", "NOT PROVEN") else 0
    checked = check_folder(job)
    assessment = checked.assessment
    if as_json:
        from staydown.outputs.answer_json import answer_json

        answer = answer_json(assessment, checked.assumptions, checked.cautions, checked.warnings)
        click.echo(json.dumps(answer, ensure_ascii=False, allow_nan=False))
    else:
        from staydown.outputs.answer_text import answer_text

        for finding in checked.folder.warnings:
            click.echo(finding.line_of_text(), err=True)
        click.echo(answer_text(assessment, checked.assumptions))
    return 1 if strict and assessment.word in ("NO", "NOT PROVEN") else 0
