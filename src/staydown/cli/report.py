"""`staydown report`: the dossier of a job, on paper and as a page."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, cast

import click

if TYPE_CHECKING:
    from staydown.workbench.render import Paper


@click.command(short_help="Write the dossier, as PDF and HTML.")
@click.argument("job", default=".", type=click.Path())
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
def report(job: str, out: str | None, paper: str, as_json: bool, quiet: bool) -> None:
    """Write the dossier: verdict, worst foot, cases, tests, assumptions, every formula with its numbers.

    JOB is a folder with a job.toml, or the file itself. Writes dossier.pdf and dossier.html, for whoever must be
    convinced: engineer, inspector, insurer. The same job gives the same bytes.
    """
    from staydown.workbench.report import write_report

    done = write_report(job, out, cast("Paper", paper))
    if as_json:
        answer = {
            "format": "staydown-report-1",
            "version": done.checked.assessment.version,
            "job": done.checked.assessment.job.job.name,
            "verdict": done.checked.assessment.word,
            "job_hash": done.job_hash,
            "paper": paper,
            "pdf": str(done.pdf),
            "html": str(done.html),
        }
        click.echo(json.dumps(answer, ensure_ascii=False))
    elif quiet:
        click.echo(f"{done.pdf}\n{done.html}")
    else:
        for finding in done.checked.warnings:
            click.echo(finding.line_of_text(), err=True)
        name = done.checked.assessment.job.job.name
        click.echo(f"{name}: {done.checked.assessment.word}")
        click.echo(f"  {done.pdf}\n  {done.html}")
