"""What the demo says around its two answers."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from staydown.assess import Assessment

WIDTH = 80


def demo_text(before: Assessment, changed: Sequence[tuple[str, str, int]], folder: str) -> str:
    """Return what stands before the second answer: the first answer in short, and the change."""
    lines = [f"An invented van with {len(before.items)} things on its roof, held by foam tape.", ""]
    lines.append("First look:")
    for item in before.items:
        lines.append(f"  {item.item.name}: {item.verdict.word}")
        for reason in item.verdict.because[:2]:
            lines += textwrap.wrap(reason, WIDTH, initial_indent="    - ", subsequent_indent="      ")
    lines += ["", "One change to the job:"]
    for was, now, times in changed:
        lines += [f"  was  {was}", f"  now  {now}" + (f"   ({times} times)" if times > 1 else "")]
    lines += ["", f"The files are in {folder}: edit job.toml, then `staydown check {folder}`.", ""]
    lines.append("The answer after the change:")
    return "\n".join([*lines, ""])
