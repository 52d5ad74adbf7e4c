"""`staydown record bonding`, `inspection`, `event`: how it was bonded, what was seen, what the roof went through."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from staydown.cli.record_common import clock_option, common_options, moment, tell

if TYPE_CHECKING:
    from staydown.workbench.happened import Told, Written
    from staydown.workbench.open_job import JobFolder

_F = TypeVar("_F", bound=Callable[..., Any])
_ITEM = "The item; may be left out where the job has one."


def _told_options(function: _F) -> _F:
    for option in (
        click.option(
            "--corrects", type=int, metavar="ROW", help="This entry stands for that row of the logbook."
        ),
        click.option("--keep-location", is_flag=True, help="Keep in the photos where they were taken."),
        click.option(
            "--photo",
            "photos",
            multiple=True,
            metavar="FILE",
            help="A photo; say of what: 'front left=a.jpg', 'front left/placed=b.jpg'. Once for each.",
        ),
        click.option(
            "--going-on", metavar="WHY", default="", help="Go on past a STOP; this stays in the record."
        ),
        click.option("--note", default="", help="Anything worth keeping."),
        click.option(
            "--at", metavar="MOMENT", help="When, if not now: '2026-05-02 07:10', by this computer's clock."
        ),
        click.option("--by", metavar="NAME", default="", help="Who did it."),
    ):
        function = option(function)
    return function


_BONDING = (
    ("--lot", "Lot of the tape or adhesive."),
    ("--expires", "Last day of that lot: 2027-03-31."),
    ("--surface-temperature", "Of the roof: '19 degC'."),
    ("--air", "Air: '18 degC'."),
    ("--humidity", "Relative humidity: '60 %'."),
    ("--dwell-temperature", "Coldest that it will be until it is driven."),
    ("--press", "Force on each pad, or the mass that leaned on it: '370 N', '38 kg'."),
    ("--held", "How long each pad was held: '20 s'."),
    ("--cleaner", "What it was cleaned with."),
    ("--abrasive", "What it was abraded with."),
    ("--primer", "Which primer."),
    ("--primer-lot", "Lot of the primer."),
)


def _bonding_options(function: _F) -> _F:
    for name, text in reversed(_BONDING):
        function = click.option(name, default=None, help=text)(function)
    return function


@click.command()
@click.argument("job", default=".", type=click.Path())
@click.option("--item", default="", metavar="NAME", help=_ITEM)
@click.option("--foot", "feet", multiple=True, metavar="NAME", help="Which foot; all, unless you say which.")
@_bonding_options
@_told_options
@clock_option
@common_options
def bonding(job: str, item: str, feet: tuple[str, ...], as_json: bool, quiet: bool, **rest: Any) -> None:
    """Feet were bonded: who, when, lot, temperatures, pressing, photos. What is left out is not known.

    An expired lot, a surface too cold or too near the dew point stops it; who goes on says why.
    """
    from staydown.workbench.bonding import record_bonding
    from staydown.workbench.bonding_words import moment_text

    folder, told = _told(job, item, rest)
    done = record_bonding(folder, item, feet, rest, told)
    text = (
        f"{done.item}: {', '.join(done.feet)} bonded.\n"
        f"No drive before {moment_text(done.first_drive)}: {done.clock.why}.\n"
        f"Full load from {moment_text(done.full)}."
    )
    answer = {
        "format": "staydown-bonding-1",
        "item": done.item,
        "feet": list(done.feet),
        "first_drive": done.first_drive.astimezone().isoformat(),
        "full_load": done.full.astimezone().isoformat(),
        **_answer(done.written),
    }
    _say(text, done.written, answer, as_json=as_json, quiet=quiet)


@click.command()
@click.argument("job", default=".", type=click.Path())
@click.option("--item", default="", metavar="NAME", help=_ITEM)
@click.option("--roof", metavar="TEMPERATURE", help="Of the roof at the feet: '24 degC'.")
@click.option(
    "--slip", multiple=True, metavar="FOOT=LENGTH", help="Slip mark since it was made: 'front left=0.4 mm'."
)
@click.option(
    "--gap",
    multiple=True,
    metavar="FOOT=LENGTH",
    help="How deep paper enters under an edge: 'front left=10 mm'.",
)
@click.option("--edges-closed", is_flag=True, help="Paper enters nowhere else: every other edge is closed.")
@click.option(
    "--pull",
    multiple=True,
    metavar="FOOT=FORCE",
    help="Proof pull, and how it ended if not held: 'front left=240 N', 'front left=240 N moved'.",
)
@_told_options
@clock_option
@common_options
def inspection(
    job: str,
    item: str,
    roof: str | None,
    slip: tuple[str, ...],
    gap: tuple[str, ...],
    edges_closed: bool,
    pull: tuple[str, ...],
    as_json: bool,
    quiet: bool,
    **rest: Any,
) -> None:
    """Somebody looked: slip marks, edges, proof pulls, photos. An edge that opened counts its foot as lost.

    What happened before is settled when the edges of every foot were looked at. `staydown upkeep` says how hard
    a foot may be pulled.
    """
    from staydown.workbench.inspect import record_inspection

    folder, told = _told(job, item, rest)
    readings = {"slip": slip, "gap": gap, "pull": pull}
    done = record_inspection(folder, item, readings, roof, told, edges_closed=edges_closed)
    open_points = "".join(f"\n  - {reason}" for reason in done.unsettled)
    text = f"{done.item}: looked at. The answer is {done.word}." + (
        f"\nStill open:{open_points}" if open_points else ""
    )
    answer = {
        "format": "staydown-inspection-1",
        "item": done.item,
        "verdict": done.word,
        "unsettled": list(done.unsettled),
        **_answer(done.written),
    }
    _say(text, done.written, answer, as_json=as_json, quiet=quiet)


@click.command()
@click.argument("words", nargs=-1, metavar="[JOB] WHAT")
@click.option("--item", default="", metavar="NAME", help="Only one item; else the whole roof.")
@click.option("--foot", "feet", multiple=True, metavar="NAME", help="Which foot.")
@click.option("--gust", metavar="SPEED", help="Strongest gust of a storm: '70 mph'.")
@click.option(
    "--failure-pattern",
    metavar="WORD",
    help="Face that let go: adhesive, cohesive, coating, substrate, mixed.",
)
@click.option("--careful", is_flag=True, help="A first careful drive: slow, short, no motorway.")
@_told_options
@clock_option
@common_options
def event(
    words: tuple[str, ...],
    item: str,
    feet: tuple[str, ...],
    careful: bool,
    as_json: bool,
    quiet: bool,
    **rest: Any,
) -> None:
    """Something happened. WHAT is one of:

    storm, hail, branch, hard braking, crash, heat wave, repaint, brush wash, roof work, noise, other: the answer is
    NOT PROVEN until somebody has looked; opened, slipped, let go: a foot, until it is bonded anew; drive, long
    drive: too early after bonding stops it; taken over: from another owner.
    """
    from staydown.workbench.happenings import record_happening

    if not 1 <= len(words) <= 2:
        raise click.UsageError("give [JOB] WHAT")
    folder, told = _told(words[0] if len(words) == 2 else ".", item, rest)
    done = record_happening(folder, words[-1], item, feet, rest, told, careful=careful)
    what = done.event.body["what"]
    answer = {"format": "staydown-event-1", "what": what, **_answer(done)}
    _say(f"Written down: {what}.", done, answer, as_json=as_json, quiet=quiet)


def _told(job: str, item: str, rest: dict[str, Any]) -> tuple[JobFolder, Told]:
    """Return the opened job and what every record is told; takes its options out of the others."""
    from staydown.foundation.errors import BadInput, UnreadableValue
    from staydown.workbench.happened import Told, finding, read_photos
    from staydown.workbench.open_job import open_job

    if not Path(job).exists():
        raise click.UsageError(f"there is no folder {job!r}")
    folder = open_job(job)
    feet = [mount.name for one in folder.job.item if item in ("", one.name) for mount in one.mount]
    try:
        at = None if rest["at"] is None else moment(rest["at"])
    except UnreadableValue as error:
        raise BadInput([finding("--at", rest["at"], error.rule, error.hint)]) from error
    told = Told(
        now=datetime.now().astimezone(),
        by=rest["by"],
        at=at,
        note=rest["note"],
        going_on=rest["going_on"],
        photos=read_photos(rest["photos"], feet),
        keep_location=rest["keep_location"],
        corrects=rest["corrects"],
        clock_corrected=rest["clock_corrected"],
    )
    return folder, told


def _answer(written: Written) -> dict[str, Any]:
    return {
        "row": written.event.seq,
        "at": written.event.at,
        "doubts": list(written.doubts),
        "against": list(written.against),
        "photos": [photo["file"] for photo in written.event.body.get("photos", [])],
    }


def _say(text: str, written: Written, answer: dict[str, Any], *, as_json: bool, quiet: bool) -> None:
    if not quiet and not as_json:
        for doubt in written.doubts:
            click.echo(f"doubt: {doubt}", err=True)
        for rule in written.against:
            click.echo(f"past a STOP, and so in the record: {rule}", err=True)
    tell(text, answer, as_json=as_json, quiet=quiet)
