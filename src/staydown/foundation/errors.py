"""The exceptions of staydown.

StaydownError                 everything the doors catch
├── BadInput                  the user's input has mistakes; carries every finding
├── UnreadableValue           a text is not a value with its unit; becomes a finding where its place is known
├── UnitMismatch              a law was handed a number in the wrong unit (a fault of the program)
├── LogbookError              the logbook cannot be trusted or written
│   ├── LogbookDamaged        its chain of hashes does not close, or its tail is missing
│   └── LogbookTooNew         it was written by a newer version
├── CardsIncomplete           the shipped card library lacks something (a fault of the program)
└── UnknownTrail              `explain` was asked for a number that is not there
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from staydown.foundation.findings import Finding


class StaydownError(Exception):
    """Base of all errors that staydown raises on purpose."""


class BadInput(StaydownError):
    """The input has mistakes: all of them, in the order of the file."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(finding.line_of_text() for finding in self.findings))


class UnreadableValue(StaydownError, ValueError):
    """A text is not a value with its unit. rule: what does not hold; hint: what would be right."""

    def __init__(self, rule: str, hint: str) -> None:
        self.rule, self.hint = rule, hint
        super().__init__(f"{rule} ({hint})" if hint else rule)


class UnitMismatch(StaydownError):
    """A law was handed a number in a unit that its parameter does not take."""


class LogbookError(StaydownError):
    """The logbook cannot be read or written."""


class LogbookDamaged(LogbookError):
    """The logbook's chain of hashes does not close or rows are missing."""


class LogbookTooNew(LogbookError):
    """The logbook was written by a newer version of staydown."""


class UnknownTrail(StaydownError):
    """`explain` was asked for a number that this assessment does not have. rule: what is wrong; hint: what there is."""

    def __init__(self, rule: str, hint: str = "") -> None:
        self.rule, self.hint = rule, hint
        super().__init__(f"{rule} ({hint})" if hint else rule)


class CardsIncomplete(StaydownError):
    """The card library that was shipped lacks something or contradicts itself (a fault of the program)."""
