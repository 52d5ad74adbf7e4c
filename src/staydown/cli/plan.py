"""`staydown plan`: the tests worth making."""

from __future__ import annotations

import json

import click


@click.command(short_help="Propose the tests worth making.")
@click.argument("job", default=".", type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="One JSON object, SI units.")
@click.option("--quiet", is_flag=True, help="One line a test.")
def plan(job: str, as_json: bool, quiet: bool) -> None:
    """Propose the tests worth making: coupons, loads as water, hours, heat, and what each would buy."""
    from staydown.workbench.plan import plan_of

    answer = plan_of(job)
    if as_json:
        from staydown.outputs.plan_json import plan_json

        click.echo(
            json.dumps(plan_json(answer.plans, answer.assessment), ensure_ascii=False, allow_nan=False)
        )
        return
    from staydown.outputs.plan_text import plan_text, quiet_text

    click.echo(
        quiet_text(answer.plans, answer.assessment) if quiet else plan_text(answer.plans, answer.assessment)
    )
