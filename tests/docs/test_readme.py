"""The answer that README.md shows is what the program says of the demo, and its links lead somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import write_readme_answer

TOP = Path(__file__).resolve().parents[2]


@pytest.mark.frozen
def test_the_answer_in_the_readme_is_fresh() -> None:
    """README.md shows the demo's answer of today; `make docs` writes it anew."""
    expected = write_readme_answer.page()
    actual = write_readme_answer.PAGE.read_text(encoding="utf-8")

    assert actual == expected


def test_every_link_of_the_pages_leads_somewhere() -> None:
    """No page of the project links to a file that is not there."""
    pages = [TOP / "README.md", TOP / "CONTRIBUTING.md", *(TOP / "docs").rglob("*.md")]
    lost = [
        f"{page.relative_to(TOP)}: {link}"
        for page in pages
        for link in re.findall(r"\]\(([^)#:]+?)(?:#[^)]*)?\)", page.read_text(encoding="utf-8"))
        if "`" not in link and not (page.parent / link).exists()
    ]

    assert lost == []
