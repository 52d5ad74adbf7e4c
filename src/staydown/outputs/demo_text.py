"""What the demo says around its two answers."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from staydown.assess import Assessment
from staydown.foundation.counted import counted

WIDTH = 80


def demo_text(before: Assessment, changed: Sequence[tuple[str, str, int]]) -> str:
    """Return what stands before the second answer: the first answer in short, and the change."""
    lines = [
        f"An invented van with {counted(len(before.items), 'thing')} on its roof, held by foam tape.",
        "",
    ]
    lines.append("First look:")
    for item in before.items:
        lines.append(f"  {item.item.name}: {item.verdict.word}")
        for reason in item.verdict.because[:2]:
            lines += textwrap.wrap(reason, WIDTH, initial_indent="    - ", subsequent_indent="      ")
    lines += ["", "One change to the job:"]
    for was, now, times in changed:
        lines += [f"  was  {was}", f"  now  {now}" + (f"   ({times} times)" if times > 1 else "")]
    lines += ["", "The answer after the change, its first page:"]
    return "\n".join([*lines, ""])


def closing_text(after: Assessment, folder: str) -> str:
    """Return the last lines of the demo: the word once more, and where to go from here."""
    words = ", ".join(f"{item.item.name}: {item.verdict.word}" for item in after.items)
    lines = [
        "",
        "-" * WIDTH,
        "",
        *textwrap.wrap(f"{after.job.job.name} after the change: {words}", WIDTH),
        "",
    ]
    for command, does in (
        ("check", "the whole answer, case by case"),
        ("plan", "the tests worth making next"),
        ("report", "the same on paper"),
        ("serve", "the same in the browser"),
    ):
        lines.append(f"  staydown {command} {folder}".ljust(40) + f" {does}"[: WIDTH - 40])
    return "\n".join(
        [*lines, "", "Edit job.toml there and check again. The figures of this demo are invented."]
    )
