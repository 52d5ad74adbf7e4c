"""The record of how an item shakes."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number


@dataclass(frozen=True, slots=True, kw_only=True)
class RoadResponse:
    """What one ISO 8608 class of road does at cruising speed; Numbers over (1, band, 1).

    spectrum: of the roof's acceleration at the item's frequency [m²/s³]. rms, peak: of the item [m/s²].
    movement: root mean square against the roof [m].
    """

    road: str
    spectrum: Number
    rms: Number
    peak: Number
    movement: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class VibrationAnswer:
    """How an item shakes; Numbers over (1, band, 1), the softest item and tape in the high band.

    motions: natural frequency of each of the six motions of the rigid item [Hz]. lowest: of the item up and
    down, bending counted where its stiffness is known [Hz]; bends says whether. bump_factor: what a bump's pulse
    does against its force at rest [1]. vortices, flapping: off the windward edge at cruising speed [Hz].
    meeting_speed: of the air, at which the vortices come at `lowest` [m/s].
    """

    motions: tuple[tuple[str, Number], ...]
    lowest: Number
    bends: bool
    bump_factor: Number
    roads: tuple[RoadResponse, ...]
    vortices: Number
    flapping: Number
    meeting_speed: Number
    findings: tuple[Finding, ...]
