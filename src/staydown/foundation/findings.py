"""A finding: one mistake or one caution about what a person typed, with its place and its cure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Grade = Literal["error", "warning"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One mistake (`error`: nothing is assessed) or doubt (`warning`: assessed, and shown).

    file, line: where it was written; line is None where a key is missing altogether.
    key: the dotted path, mounts and items by their number from 1: `item.1.mount.2.pad`.
    value: the text as typed, empty where nothing was typed.
    rule: what does not hold. hint: what would be right.
    """

    file: str
    line: int | None
    key: str
    value: str
    rule: str
    hint: str
    grade: Grade = "error"

    def line_of_text(self) -> str:
        """Return the finding as one line: place, key, value, rule, hint."""
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        shown = f" = {self.value!r}" if self.value else ""
        hint = f" ({self.hint})" if self.hint else ""
        return f"{place}: {self.key}{shown}: {self.rule}{hint}"
