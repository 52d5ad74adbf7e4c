"""`staydown strength`: what the coupons are believed to prove."""

from __future__ import annotations

import json
from typing import Any

import click


@click.command(short_help="Show what each bond is believed to carry, how long, how hot.")
@click.argument("job", default=".", type=click.Path())
@click.option(
    "--at", multiple=True, metavar="POINT", help='A point such as "6 h, 45 degC"; may be given often.'
)
@click.option("--content", type=float, help="Share of bonds that must hold (default 0.9).")
@click.option("--confidence", type=float, help="How sure (default 0.95).")
@click.option(
    "--prior",
    type=click.Choice(["class", "reference"]),
    default="class",
    help="Wide bands of the tape's class, or next to nothing, for engineers.",
)
@click.option(
    "--law",
    type=click.Choice(["arrhenius", "wlf"]),
    default="arrhenius",
    help="Law of temperature; wlf shows what that choice changes.",
)
@click.option(
    "--scatter", type=click.Choice(["normal", "weibull"]), default="normal", help="Scatter of log life."
)
@click.option("--share-modes", is_flag=True, help="Let modes share slope and temperature law, and test that.")
@click.option(
    "--sheet", is_flag=True, help="Let the job's data-sheet claims move the prior, less their bias."
)
@click.option(
    "--charts", type=click.Path(), help="Also write the stress-time charts as SVG into this folder."
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option(
    "--quiet", is_flag=True, help="One line for each belief: its bound where this job is hottest and longest."
)
def strength(
    job: str,
    at: tuple[str, ...],
    content: float | None,
    confidence: float | None,
    prior: Any,
    law: Any,
    scatter: Any,
    share_modes: bool,
    sheet: bool,
    charts: str | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Show what each bond is believed to carry over time and temperature, with its coupons."""
    from staydown.workbench.strength import strength_of, write_charts

    answer = strength_of(
        job,
        at=at,
        content=content,
        confidence=confidence,
        prior=prior,
        law=law,
        scatter=scatter,
        shared=share_modes,
        sheet=sheet,
    )
    if charts is not None:
        from pathlib import Path

        for file in write_charts(answer, Path(charts)):
            click.echo(f"wrote {file}", err=True)
    if as_json:
        from staydown.outputs.strength_json import strength_json

        click.echo(
            json.dumps(
                strength_json(answer.beliefs, answer.asked, answer.leads), ensure_ascii=False, allow_nan=False
            )
        )
        return
    from staydown.outputs.strength_text import quiet_text, strength_text

    system = answer.folder.job.job.show
    if quiet:
        click.echo(quiet_text(answer.beliefs, system))
    else:
        alone = float(answer.assessment.cards.planning["content_not_redundant"].decided.value)
        click.echo(strength_text(answer.beliefs, answer.asked, answer.slopes, answer.leads, system, alone))
