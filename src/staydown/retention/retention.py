"""The records of what catches the item when its mounts let go."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.foundation.numbers import Number


@dataclass(frozen=True, slots=True, kw_only=True)
class TetherCheck:
    """One tether of the job, judged alone: it must hold the whole item.

    anchor_kind: None where nobody says what it is fixed to. stiffness [N/m], slack [m], snatch [N]; line_needed,
    anchor_needed, line_strength, anchor_strength [N]; line_use, anchor_use: needed over given [1]; most_slack: with
    which both still suffice [m]. None where it is not known. ok: enough in every respect. sentence: the answer on
    this tether. care: what to do about wear.
    """

    number: int
    material: str
    anchor: str
    anchor_kind: str | None
    stiffness: Number
    slack: Number | None
    snatch: Number | None
    line_needed: Number | None
    anchor_needed: Number | None
    line_strength: Number | None
    anchor_strength: Number | None
    line_use: Number | None
    anchor_use: Number | None
    most_slack: Number | None
    ok: bool
    sentence: str
    care: str

    @property
    def independent(self) -> bool:
        """Return whether its anchor is known to hang on no bond and no membrane."""
        return self.anchor_kind == "mechanical"


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A tether that would do: webbing of some stiffness [N/m] with some slack [m], and the strengths it needs [N]."""

    stiffness: Number
    slack: Number
    snatch: Number
    line_needed: Number
    anchor_needed: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Retention:
    """What is left when all mounts let go.

    ok: as many tethers are enough as are wanted. index: (case, band, mount) at which numbers over cases are read.
    steady: unfactored wind less weight, over (case, band, 1) [N]. least_slack: over (1, 1, mount) [m], the largest
    counts. sentences: the answer first, then each tether, then care; ready to print.
    """

    ok: bool
    wanted: int
    index: tuple[int, int, int]
    steady: Number
    least_slack: Number
    tethers: tuple[TetherCheck, ...]
    proposal: Proposal
    sentences: tuple[str, ...]
