"""Writes the answer that README.md shows: the demo's own first page, between its two marks."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from staydown.outputs.answer_text import first_page_text
from staydown.outputs.demo_text import demo_text
from staydown.workbench.demo import lay_out_demo

PAGE = Path(__file__).resolve().parents[1] / "README.md"
START, END = "<!-- answer -->", "<!-- /answer -->"
LINES = 62


def answer() -> str:
    """Return the first lines of the demo as a block of Markdown."""
    with TemporaryDirectory() as folder:
        shown = lay_out_demo(Path(folder) / "staydown-demo", datetime.now(UTC))
    text = demo_text(shown.before.assessment, shown.changed) + "\n" + first_page_text(shown.after.assessment)
    return "```text\n" + "\n".join(text.splitlines()[:LINES]).rstrip() + "\n...\n```"


def page() -> str:
    """Return README.md with the answer of today's program."""
    text = PAGE.read_text(encoding="utf-8")
    before, rest = text.split(START)
    _, after = rest.split(END)
    return f"{before}{START}\n{answer()}\n{END}{after}"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stderr.write(f"wrote {PAGE}\n")
