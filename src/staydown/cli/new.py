"""`staydown new`: a commented job.toml from answers."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from staydown.library.cards import Cards
    from staydown.workbench.new_job import Question

_F = TypeVar("_F", bound=Callable[..., Any])

# option -> (dotted key of the job, help); written out here so that --help loads no room
VALUES: dict[str, tuple[str, str]] = {
    "name": ("job.name", "Name of the job."),
    "roof-length": ("vehicle.roof_length", "Length of the roof, such as '4.2 m'."),
    "roof-width": ("vehicle.roof_width", "Width of the roof."),
    "roof-height": ("vehicle.roof_height", "Height of the roof above the road."),
    "surface": ("vehicle.surface", "What the roof is made of: `staydown cards surfaces`."),
    "cruise-speed": ("travel.cruise_speed", "Speed on the open road, such as '95 km/h'."),
    "top-speed": ("travel.top_speed", "The fastest you ever drive."),
    "headwind": ("travel.headwind", "Worst headwind, as forecast."),
    "longest-leg": ("travel.longest_leg", "Longest drive without a stop, such as '2.5 h'."),
    "coldest": ("climate.coldest", "Coldest air, such as '-15 degC'."),
    "hottest": ("climate.hottest", "Hottest air."),
    "storm-gust": ("climate.storm_gust", "Worst gust while parked."),
    "tape-name": ("tape.1.name", "A name of your own for the tape or adhesive."),
    "tape-kind": ("tape.1.kind", "Its class: `staydown cards tapes`."),
    "tape-thickness": ("tape.1.thickness", "Thickness of the bond, such as '1.1 mm'."),
    "item-name": ("item.1.name", "Name of the item."),
    "length": ("item.1.length", "Length of the item, along the vehicle."),
    "width": ("item.1.width", "Width of the item."),
    "thickness": ("item.1.thickness", "Thickness of the item."),
    "mass": ("item.1.mass", "Mass of the item, such as '11.2 kg'."),
    "gap": ("item.1.gap", "From the roof to the item's underside."),
    "behind-roof-front": ("item.1.behind_roof_front", "From the roof's front edge back to the item's."),
    "front-edge": ("item.1.front_edge", "open, deflected or sealed."),
}
CORNERS = ("front left", "front right", "rear left", "rear right")
MOST_MOUNTS = 40


def _values(function: _F) -> _F:
    for option, (_, help_text) in reversed(VALUES.items()):
        function = click.option(f"--{option}", metavar="TEXT", help=help_text)(function)
    return function


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@_values
@click.option(
    "--pad", metavar="TEXT", help="Bonded rectangle of each mount, along x across: '80 mm x 50 mm'."
)
@click.option(
    "--mount",
    "mounts",
    nargs=3,
    multiple=True,
    metavar="NAME BEHIND LEFT",
    help="One mount: behind the item's front edge, left of its middle. Once for each.",
)
@click.option(
    "--show", type=click.Choice(["metric", "us"]), default="metric", help="How results are shown first."
)
@click.option(
    "--from-passport",
    "passport",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Take over an item from the passport of an earlier owner: its .zip or passport.json.",
)
@click.option(
    "--json", "as_json", is_flag=True, help="One JSON object; asks nothing, what is missing is told."
)
@click.option("--quiet", is_flag=True, help="Say nothing but what is wrong.")
def new(
    folder: Path,
    pad: str | None,
    mounts: tuple[tuple[str, str, str], ...],
    show: str,
    passport: Path | None,
    as_json: bool,
    quiet: bool,
    **values: str | None,
) -> None:
    """Ask what is on the roof and write it into FOLDER/job.toml, with a comment on every line.

    What is given as an option is not asked for. An older job.toml is never overwritten.
    """
    from staydown.storage.write_job import refuse_taken
    from staydown.workbench.new_job import write_job

    if passport is not None:
        _take_over(passport, folder, as_json=as_json, quiet=quiet)
        return
    refuse_taken(folder)  # before anything is asked
    answers = {"job.show": show}
    for option, (key, _) in VALUES.items():
        text = values[option.replace("-", "_")]
        if text is not None:
            answers[key] = text
    for number, mount in enumerate(mounts, 1):
        answers |= {
            f"item.1.mount.{number}.{key}": text
            for key, text in zip(("name", "behind", "left"), mount, strict=True)
        }
        if pad is not None:
            answers[f"item.1.mount.{number}.pad"] = pad
    if not as_json:
        answers = _ask_for_the_rest(answers, pad)
    done = write_job(folder, answers)
    if as_json:
        click.echo(
            json.dumps(
                {"format": "staydown-new-1", "job": done.name, "file": str(done.file)}, ensure_ascii=False
            )
        )
    elif not quiet:
        for warning in done.warnings:
            click.echo(warning.line_of_text(), err=True)
        click.echo(f"Wrote {done.file}. Next: staydown check {folder}")


def _take_over(passport: Path, folder: Path, *, as_json: bool, quiet: bool) -> None:
    from staydown.workbench.passport import take_over

    done = take_over(passport, folder, datetime.now(UTC))
    coupons = None if done.coupons is None else str(done.coupons)
    if as_json:
        answer = {"format": "staydown-new-1", "job": done.item, "file": str(done.file), "coupons": coupons}
        click.echo(json.dumps(answer, ensure_ascii=False))
    elif not quiet:
        click.echo(
            f"Wrote {done.file}: {done.item}, with {done.records} records and {done.photos} photos as told."
        )
        click.echo("Nothing counts until you have looked at every foot: staydown record inspection.")
        if coupons is not None:
            click.echo(f"If you trust the coupons: staydown record coupons {folder} {coupons}")


def _ask_for_the_rest(given: dict[str, str], pad: str | None) -> dict[str, str]:
    """Return the answers with what was not given, asked again until they contradict nothing."""
    from staydown.storage.read_cards import read_cards
    from staydown.workbench.new_job import check_answers, mount_questions, question_at, questions

    cards = read_cards()
    answers = dict(given)
    for question in questions():
        if question.key not in answers:
            answers[question.key] = _ask(question, cards)
    count = sum(key.startswith("item.1.mount.") and key.endswith(".name") for key in answers)
    if not count:
        count = click.prompt("How many mounts", type=click.IntRange(1, MOST_MOUNTS), default=4, err=True)
    for number in range(1, count + 1):
        for question in mount_questions(number):
            name = question.key.rpartition(".")[2]
            if name == "pad" and (pad or number > 1):
                answers[question.key] = pad or answers["item.1.mount.1.pad"]
            elif question.key not in answers:
                corner = CORNERS[number - 1] if name == "name" and count == len(CORNERS) else None
                answers[question.key] = _ask(question, cards, corner)
    while answers.keys() - given.keys():
        wrong = [finding for finding in check_answers(answers, cards) if finding.grade == "error"]
        again = [one for one in {finding.key: question_at(finding.key) for finding in wrong}.values() if one]
        if not again:
            break
        for finding in wrong:
            click.echo(finding.line_of_text(), err=True)
        for question in again:
            answers[question.key] = _ask(question, cards)
    return answers


def _ask(question: Question, cards: Cards, default: str | None = None) -> str:
    from staydown.workbench.new_job import offers, refusal_of

    def checked(text: str) -> str:
        refusal = refusal_of(question, text, cards)
        if refusal:
            raise click.UsageError(f"{text}: {refusal}")
        return text

    offered = offers(question, cards)
    if offered:
        click.echo(f"  one of: {', '.join(offered)}", err=True)
    place = question.key.removeprefix("item.1.").replace(".", " ") if ".mount." in question.key else ""
    words = f"{place}: {question.words}" if place else question.words
    answer: str = click.prompt(
        f"{words} (such as {question.example})", value_proc=checked, default=default, err=True
    )
    return answer
