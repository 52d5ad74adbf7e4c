"""What the pages say of a finding reads as a sentence."""

from __future__ import annotations

import pytest

from staydown.foundation.findings import Finding
from staydown.web.sheet import told


@pytest.mark.parametrize(
    ("hint", "said"),
    [
        ("", "Is too long."),
        ("say less", "Is too long: say less."),
        ("is it right?", "Is too long: is it right?"),
    ],
)
def test_a_finding_ends_with_one_mark(hint: str, said: str) -> None:
    """A hint that asks ends with its question mark alone."""
    finding = Finding(file="job.toml", line=None, key="job.name", value="", rule="is too long", hint=hint)

    assert told(finding) == said
