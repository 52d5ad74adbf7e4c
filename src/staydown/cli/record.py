"""`staydown record`: what happened, into the logbook, and out of it again."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from staydown.cli.record_common import WORDS, clock_option, common_options, job_and, moment, tell
from staydown.cli.record_happened import bonding, event, inspection

if TYPE_CHECKING:
    from staydown.foundation.findings import Finding
    from staydown.workbench.record import Seen

_F = TypeVar("_F", bound=Callable[..., Any])


@click.group(short_help="Write down what happened: coupons, hangs, bonding, looks.")
def record() -> None:
    """Write down what happened: coupons, tests while they hang, bonding, inspections. Nothing is ever erased.

    JOB may be left out: it is the current folder then.
    """


for _command in (bonding, inspection, event):
    record.add_command(_command)


@record.group()
def hang() -> None:
    """A coupon under a constant load: when it was hung, when somebody looked, how it ended."""


def _unknown_names(function: _F) -> _F:
    return click.option(
        "--unknown-names",
        is_flag=True,
        help="Record also a tape that the job does not have, or a surface that no card has: it counts for "
        "nothing until they do.",
    )(function)


def _when(function: _F) -> _F:
    function = click.option("--lasted", metavar="TIME", help="How long it had hung by then, such as '31 h'.")(
        function
    )
    return click.option(
        "--at", metavar="MOMENT", help="When, if not now: '2026-05-02 07:10', by this computer's clock."
    )(function)


@record.command()
@click.argument("words", nargs=-1, metavar=WORDS.format("FILE"))
@click.option("--supersede", is_flag=True, help="Rows that differ from an entry correct it; both are kept.")
@_unknown_names
@click.option("--blank", is_flag=True, help="Print an empty FILE for this job instead, to be filled in.")
@clock_option
@common_options
def coupons(
    words: tuple[str, ...],
    blank: bool,
    supersede: bool,
    unknown_names: bool,
    clock_corrected: bool,
    as_json: bool,
    quiet: bool,
) -> None:
    """Record the coupons of a CSV FILE: all of its rows, or none.

    Columns: name, tape, surface, mode, result, load, area, lasted, temperature, dwell, failure_pattern,
    made_on, note; and where they apply width, conditioned, foot, lever, lever_direction, foot_thickness,
    batch, lot, primer, found. Each cell has its unit: 72 h, 5 L water, 25 mm x 25 mm. `--blank > coupons.csv` makes the
    file for your tapes and surfaces.
    """
    from staydown.workbench.record import blank_coupons, record_coupons

    if blank:
        text = blank_coupons(job_and(words, "")[0]).rstrip()
        tell(text, {"format": "staydown-blank-1", "csv": text}, as_json=as_json, quiet=False)
        return
    folder, file = job_and(words, "FILE")
    done = record_coupons(
        folder,
        Path(file),
        _seen(clock_corrected=clock_corrected),
        supersede=supersede,
        unknown_names=unknown_names,
    )
    _warn(done.warnings, quiet=quiet or as_json)
    counts = {"recorded": done.recorded, "already recorded": done.already, "corrected": done.superseded}
    text = ", ".join(f"{len(names)} {what}" for what, names in counts.items() if names)
    answer = {
        "format": "staydown-recorded-1",
        "recorded": list(done.recorded),
        "already": list(done.already),
        "superseded": list(done.superseded),
        "warnings": [_finding(finding) for finding in done.warnings],
    }
    tell(f"Coupons: {text}.", answer, as_json=as_json, quiet=quiet)


_CELLS = (
    ("--tape", True, "The tape's name in the job."),
    ("--surface", True, "Id of the surface card: `staydown cards surfaces`."),
    ("--mode", True, "tension, shear, cleavage or peel."),
    ("--load", True, "What hangs on it: '5 L water', '12 kg', '90 N'."),
    ("--area", False, "Bonded area: '25 mm x 25 mm' or '6 cm^2'; not for peel."),
    ("--width", False, "Width of a peel coupon."),
    ("--temperature", True, "Temperature of the bond: '40 degC'."),
    ("--dwell", False, "Time from pressing to hanging."),
    ("--made-on", False, "The day it was bonded: 2026-05-01."),
    ("--conditioned", False, "What it went through before: '21 d in water at 23 degC'."),
    ("--foot", False, "real, when the real bracket hangs."),
    ("--lever", False, "Pad centre to line of pull."),
    ("--lever-direction", False, "along or across."),
    ("--foot-thickness", False, "Thickness of the foot."),
    ("--batch", False, "Which coupons were made together; the day made, unless you say otherwise."),
    ("--lot", False, "Lot of the tape: with the feet's lot it tells whether both are of one session."),
    ("--primer", False, "Primer under it, and its lot."),
    ("--note", False, "Anything worth keeping."),
)


def _cells(function: _F) -> _F:
    for name, required, text in reversed(_CELLS):
        function = click.option(name, required=required, default=None if required else "", help=text)(
            function
        )
    return function


@hang.command()
@click.argument("words", nargs=-1, metavar=WORDS.format("NAME"))
@_cells
@click.option("--at", metavar="MOMENT", help="When it was hung, if not now: '2026-05-01 18:00'.")
@_unknown_names
@clock_option
@common_options
def start(
    words: tuple[str, ...],
    at: str | None,
    unknown_names: bool,
    clock_corrected: bool,
    as_json: bool,
    quiet: bool,
    **cells: str,
) -> None:
    """A coupon NAME was hung."""
    from staydown.workbench.record import hang_doubts, start_hang

    folder, name = job_and(words, "NAME")
    seen, typed = _seen(at, clock_corrected=clock_corrected), {"name": name, **cells}
    done = start_hang(folder, typed, seen, unknown_names=unknown_names)
    _warn(hang_doubts(folder, typed, seen, unknown_names=unknown_names), quiet=quiet or as_json)
    _tell_of(done, as_json=as_json, quiet=quiet)


@hang.command()
@click.argument("words", nargs=-1, metavar="[JOB] NAME")
@click.option("--all", "everything", is_flag=True, help="All that hang were seen hanging; leave NAME out.")
@_when
@clock_option
@common_options
def look(
    words: tuple[str, ...],
    everything: bool,
    at: str | None,
    lasted: str | None,
    clock_corrected: bool,
    as_json: bool,
    quiet: bool,
) -> None:
    """A coupon NAME was seen hanging: it counts as holding until then."""
    from staydown.outputs.record_text import hanging_text, record_json
    from staydown.workbench.record import look_hang

    folder, name = job_and(words, "" if everything else "NAME")
    seen = _seen(at, lasted, clock_corrected=clock_corrected)
    done = look_hang(folder, name or None, seen)
    text = "\n".join(hanging_text(one) for one in done)
    answer = {"format": "staydown-hang-1", "coupons": [record_json(one) for one in done]}
    tell(text, answer, as_json=as_json, quiet=quiet)


@hang.command()
@click.argument("words", nargs=-1, metavar="[JOB] NAME")
@click.option(
    "--fell", "how", flag_value="fell", help="You saw it fall, or a timer stopped (--at, --lasted)."
)
@click.option("--found", "how", flag_value="found", help="It lay there: it fell after the last look.")
@click.option("--taken-down", "how", flag_value="holding", help="It held until you took it down.")
@click.option("--spoiled", metavar="REASON", help="It went wrong: kept with the reason, never counted.")
@click.option(
    "--failure-pattern", default="", help="Of the faces: adhesive, cohesive, coating, substrate or mixed."
)
@click.option("--note", default="", help="Anything worth keeping.")
@_when
@clock_option
@common_options
def end(
    words: tuple[str, ...],
    how: str | None,
    spoiled: str | None,
    failure_pattern: str,
    note: str,
    at: str | None,
    lasted: str | None,
    clock_corrected: bool,
    as_json: bool,
    quiet: bool,
) -> None:
    """The test of coupon NAME ended: --fell, --found, --taken-down or --spoiled REASON."""
    from staydown.workbench.record import end_hang

    folder, name = job_and(words, "NAME")
    if (how is None) == (spoiled is None):
        raise click.UsageError("say one of --fell, --found, --taken-down, --spoiled REASON")
    done = end_hang(
        folder,
        name,
        how or "spoiled",  # type: ignore[arg-type]  # the flags above are all there are
        _seen(at, lasted, clock_corrected=clock_corrected),
        failure_pattern=failure_pattern,
        note="; ".join(text for text in (spoiled, note) if text),
    )
    _tell_of(done, as_json=as_json, quiet=quiet)


@record.command("list")
@click.argument("words", nargs=-1, metavar="[JOB]")
@common_options
def list_all(words: tuple[str, ...], as_json: bool, quiet: bool) -> None:
    """List the coupons as they stand, after checking that the logbook is whole."""
    from staydown.outputs.record_text import record_json, records_text
    from staydown.workbench.record import list_records

    folder, _ = job_and(words, "")
    held = list_records(folder)
    answer = {
        "format": "staydown-records-1",
        "rows": held.head.rows,
        "hash": held.head.hash,
        "coupons": [record_json(one) for one in held.coupons],
    }
    text = records_text(held.coupons, held.events, held.head.hash).rstrip()
    tell(text, answer, as_json=as_json, quiet=quiet)


@record.command()
@click.argument("words", nargs=-1, metavar="[JOB]")
@click.option("--out", metavar="FOLDER", help="Where to write; the job's out/ unless you say otherwise.")
@common_options
def export(words: tuple[str, ...], out: str | None, as_json: bool, quiet: bool) -> None:
    """Write coupons.csv, which `record coupons` reads again, and logbook.json with every entry."""
    from staydown.workbench.record import export_records

    folder, _ = job_and(words, "")
    files = [str(file) for file in export_records(folder, Path(out) if out else folder / "out")]
    tell("\n".join(files), {"format": "staydown-export-1", "files": files}, as_json=as_json, quiet=quiet)


@record.command()
@click.argument("words", nargs=-1, metavar="[JOB]")
@click.option("--note", required=True, help="How the entries came to be lost.")
@common_options
def mend(words: tuple[str, ...], note: str, as_json: bool, quiet: bool) -> None:
    """Accept that the logbook's last entries are lost. First look for a copy: what is lost stays lost."""
    from staydown.workbench.record import mend_logbook

    folder, _ = job_and(words, "")
    done = mend_logbook(folder, note, datetime.now(UTC))
    text = (
        "Nothing is lost." if done is None else f"Entry {done.seq} says what was lost: {done.body['damage']}"
    )
    answer = {"format": "staydown-mended-1", "entry": None if done is None else done.seq}
    tell(text, answer, as_json=as_json, quiet=quiet)


def _seen(at: str | None = None, lasted: str | None = None, *, clock_corrected: bool) -> Seen:
    from staydown.foundation.errors import BadInput, UnreadableValue
    from staydown.foundation.findings import Finding
    from staydown.foundation.units import parse_quantity
    from staydown.workbench.record import Seen

    if at and lasted:
        raise click.UsageError("give --at or --lasted, not both")
    try:
        lasted_s = None if lasted is None else parse_quantity(lasted, "s")
        when = None if at is None else moment(at)
    except UnreadableValue as error:
        key, value = ("--at", at) if lasted is None else ("--lasted", lasted)
        place = Finding(
            file="command line", line=None, key=key, value=value or "", rule=error.rule, hint=error.hint
        )
        raise BadInput([place]) from error
    now = datetime.now().astimezone()
    return Seen(now=now, at=when, lasted_s=lasted_s, clock_corrected=clock_corrected)


def _tell_of(done: Any, *, as_json: bool, quiet: bool) -> None:
    from staydown.outputs.record_text import ended_text, hanging_text, record_json

    text = hanging_text(done) if done.hanging else ended_text(done)
    answer = {"format": "staydown-hang-1", "coupons": [record_json(done)]}
    tell(text, answer, as_json=as_json, quiet=quiet)


def _warn(warnings: tuple[Finding, ...], *, quiet: bool) -> None:
    if not quiet:
        for finding in warnings:
            click.echo(f"doubt: {finding.line_of_text()}", err=True)


def _finding(finding: Finding) -> dict[str, Any]:
    keys = ("file", "line", "key", "value", "rule", "hint", "grade")
    return {key: getattr(finding, key) for key in keys}
