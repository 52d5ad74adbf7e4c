"""`staydown new`: a commented job.toml from answers."""

from __future__ import annotations

import json
import textwrap
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
    "roof-colour": ("vehicle.roof_colour", "Colour of the roof, or unknown: `staydown cards colours`."),
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
    "kind": ("item.1.kind", "What the item is, or unknown: `staydown cards kinds`."),
    "length": ("item.1.length", "Length of the item, along the vehicle."),
    "width": ("item.1.width", "Width of the item."),
    "thickness": ("item.1.thickness", "Thickness of the item."),
    "mass": ("item.1.mass", "Mass of the item, such as '11.2 kg'."),
    "gap": ("item.1.gap", "From the roof to the item's underside."),
    "behind-roof-front": ("item.1.behind_roof_front", "From the roof's front edge back to the item's."),
    "front-edge": ("item.1.front_edge", "open, deflected or sealed."),
    "material": ("item.1.material", "What it is made of, or unknown: `staydown cards materials`."),
}
CORNERS = ("front left", "front right", "rear left", "rear right")
MOST_MOUNTS = 40
NOT_ASKED = (
    "Not asked: lever, foot_thickness, foot_material and fastener of each mount. Fill in\n"
    "what you know; left out they count at the unfavourable end, or it is not proven."
)
OPENING = (
    "Give each value with its unit, metric or US: 4.2 m, 13 ft 9 in, 95 km/h, 60 mph, 38 degC.\n"
    "Every answer is kept: stop with Ctrl-C, and the same command goes on from there."
)


def _values(function: _F) -> _F:
    for option, (_, help_text) in reversed(VALUES.items()):
        function = click.option(f"--{option}", metavar="TEXT", help=help_text)(function)
    return function


@click.command(short_help="Ask what is on the roof and write a commented job.")
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
@click.option("--show", type=click.Choice(["metric", "us"]), help="How results are shown first: metric.")
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
    show: str | None,
    passport: Path | None,
    as_json: bool,
    quiet: bool,
    **values: str | None,
) -> None:
    """Ask what is on the roof and write it into FOLDER/job.toml, with a comment on every line.

    What is given as an option is not asked for. Each answer is kept in FOLDER/job.draft.json until the job
    is written: stopped half-way, the same command goes on from there. An older job.toml is never overwritten.
    """
    from staydown.storage.write_job import refuse_taken
    from staydown.workbench.new_job import write_job

    if passport is not None:
        _take_over(passport, folder, as_json=as_json, quiet=quiet)
        return
    refuse_taken(folder)  # before anything is asked
    given: dict[str, str] = {} if show is None else {"job.show": show}
    for option, (key, _) in VALUES.items():
        text = values[option.replace("-", "_")]
        if text is not None:
            given[key] = text
    for number, mount in enumerate(mounts, 1):
        given |= {
            f"item.1.mount.{number}.{key}": text
            for key, text in zip(("name", "behind", "left"), mount, strict=True)
        }
        if pad is not None:
            given[f"item.1.mount.{number}.pad"] = pad
    answers = dict(given) if as_json else _Asking(folder, given, pad).all_answers()
    done = write_job(folder, {"job.show": "metric"} | answers)
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
        click.echo(NOT_ASKED)


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


class _Asking:
    """Asks for what is not given; every answer is on the disk before the next question."""

    def __init__(self, folder: Path, given: dict[str, str], pad: str | None) -> None:
        from staydown.storage.read_cards import read_cards

        self.folder, self.given, self.pad = folder, given, pad
        self.cards = read_cards()
        self.answers = dict(given)
        self.mounts: int | None = None
        self.kept: Path | None = None

    def all_answers(self) -> dict[str, str]:
        """Return every answer, asked again until they contradict nothing; the draft is kept if that is stopped."""
        if self._complete():
            return self.answers
        try:
            click.echo(OPENING, err=True)
            self._take_up()
            self._ask_for_the_rest()
        except (click.Abort, KeyboardInterrupt):
            if self.kept is not None:
                click.echo(
                    f"\nWhat you answered is kept in {self.kept}: "
                    f"`staydown new {self.folder}` goes on from there.",
                    err=True,
                )
            raise
        return self.answers

    def _complete(self) -> bool:
        from staydown.workbench.new_job import mount_questions, questions

        asked = [one.key for one in questions()]
        asked += [
            one.key for number in range(1, max(1, self._named()) + 1) for one in mount_questions(number)
        ]
        return set(asked) <= self.answers.keys()

    def _named(self) -> int:
        return sum(key.startswith("item.1.mount.") and key.endswith(".name") for key in self.given)

    def _take_up(self) -> None:
        """Offer the answers of last time."""
        from staydown.storage.draft import DRAFT_FILE, drop_draft, read_draft

        draft = read_draft(self.folder)
        if draft is None:
            return
        words = (
            f"{len(draft.answers)} answers of last time are in {self.folder / DRAFT_FILE}. Go on from there"
        )
        if click.confirm(words, default=True, err=True):
            self.kept = self.folder / DRAFT_FILE
            self.answers = {**draft.answers, **self.given}
            self.mounts = draft.mounts
        else:
            drop_draft(self.folder)

    def _ask_for_the_rest(self) -> None:
        from staydown.workbench.new_job import all_questions, check_answers, mount_questions, question_at

        for question in all_questions():
            if question.key not in self.answers:
                self._keep(question.key, _ask(question, self.cards))
        count = self._named() or self.mounts
        if not count:
            count = click.prompt("How many mounts", type=click.IntRange(1, MOST_MOUNTS), default=4, err=True)
            self.mounts = count
        for number in range(1, count + 1):
            for question in mount_questions(number):
                name = question.key.rpartition(".")[2]
                if name == "pad" and (self.pad or number > 1):
                    self.answers[question.key] = self.pad or self.answers["item.1.mount.1.pad"]
                elif question.key not in self.answers:
                    corner = CORNERS[number - 1] if name == "name" and count == len(CORNERS) else None
                    self._keep(question.key, _ask(question, self.cards, corner))
        while self.answers.keys() - self.given.keys():
            wrong = [one for one in check_answers(self.answers, self.cards) if one.grade == "error"]
            again = {finding.key: question_at(finding.key) for finding in wrong}
            if not any(again.values()):
                break
            for finding in wrong:
                click.echo(finding.line_of_text(), err=True)
            for question_again in again.values():
                if question_again is not None:
                    self._keep(question_again.key, _ask(question_again, self.cards))

    def _keep(self, key: str, answer: str) -> None:
        from staydown.storage.draft import Draft, write_draft

        self.answers[key] = answer
        self.kept = write_draft(self.folder, Draft(answers=self.answers, mounts=self.mounts))


def _ask(question: Question, cards: Cards, default: str | None = None) -> str:
    from staydown.workbench.new_job import UNKNOWN, offers, refusal_of

    def checked(text: str) -> str:
        refusal = refusal_of(question, text, cards)
        if refusal:
            raise click.UsageError(f"{text}: {refusal}")
        return text

    offered = offers(question, cards)
    if offered:
        unknown = f"; or {UNKNOWN}" if question.may_be_unknown and UNKNOWN not in offered else ""
        text = f"one of: {', '.join(offered)}{unknown}"
        click.echo(textwrap.fill(text, 78, initial_indent="  ", subsequent_indent="    "), err=True)
    if question.may_be_unknown and default is None:
        default = UNKNOWN
    place = question.key.removeprefix("item.1.").replace(".", " ") if ".mount." in question.key else ""
    asked = question.words.split(", an id of")[0]
    words = f"{place}: {asked}" if place else asked
    answer: str = click.prompt(
        f"{words} (such as {question.example})", value_proc=checked, default=default, err=True
    )
    return answer
