"""The records of the load table: case by case what acts on one item, and for how long at what temperature."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.exposure import Exposure, Season
from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number

Family = Literal["moving", "parked", "handling", "snow", "soak"]
BANDS = ("low", "likely", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadCase:
    """One case: its name (as in the interface), exposure and air. [K, kg/m³, m/s]

    exposure, bond_temperature: of the mount that is hottest, in a cold case coldest; each mount's own are
    `exposures` of the table. air_velocity_m_per_s: where the air comes from, (x, y); zero when no wind acts.
    """

    name: str
    exposure: Exposure
    family: Family
    lasts: Number
    air_temperature: Number
    bond_temperature: Number
    air_density: Number
    air_velocity_m_per_s: tuple[float, float]
    air_speed: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPart:
    """One cause: force before its factor and where it acts, each over (case, band).

    force: three components [N]; at: three coordinates in the item's frame [m]; factor: load factor over
    cases; coefficient: C_up or Cd where there is one. acts: over cases, False where the part is absent.
    """

    name: str
    force: tuple[Number, Number, Number]
    at: tuple[Number, Number, Number]
    factor: Number
    coefficient: Number | None
    acts: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """A number beside the calculation, to be looked at: it decides nothing.

    number: over (1, 1, mount) where each_mount, else one for the whole item. cases: rows of the table it belongs to.
    """

    name: str
    number: Number
    cases: tuple[int, ...]
    each_mount: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SoakTemperatures:
    """Temperatures between which the parts move daily: of the item, of the roof at each mount (1, 1, mount). [K]"""

    item_hot: Number
    item_cold: Number
    roof_hot: Number
    roof_cold: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseTable:
    """All cases of one item. force, moment: three components each, after factors, over (case, band, 1).

    Moments are about the item's centre on the plane of the pads. temperatures: of the bond at each mount, over
    (case, 1, mount) [K]. beside: what explains a case and decides nothing.
    """

    cases: tuple[LoadCase, ...]
    parts: tuple[LoadPart, ...]
    force: tuple[Number, Number, Number]
    moment: tuple[Number, Number, Number]
    temperatures: Number
    soak: SoakTemperatures
    beside: tuple[Beside, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def force_N(self) -> NDArray[np.float64]:
        """Return the factored force. [N], shape (case, band, 3)"""
        return _stack(self.force, len(self.cases))

    @property
    def moment_Nm(self) -> NDArray[np.float64]:
        """Return the factored moment about the reference point. [N m], shape (case, band, 3)"""
        return _stack(self.moment, len(self.cases))


def exposures(table: CaseTable) -> list[list[Exposure]]:
    """Return for each case and each mount how long it acts and how warm that mount's bond is meanwhile."""
    temperatures_K = np.asarray(table.temperatures.value, dtype=float)[:, 0, :]
    # many cases last as long at one temperature, and a job is assessed again and again
    made: dict[tuple[float, Season, float], Exposure] = {}
    rows: list[list[Exposure]] = []
    for case, row in zip(table.cases, temperatures_K.tolist(), strict=True):
        lasts_s, season = case.exposure.lasts_s, case.exposure.season
        for one in row:
            if (lasts_s, season, one) not in made:
                made[lasts_s, season, one] = replace(case.exposure, temperature_K=one)
        rows.append([made[lasts_s, season, one] for one in row])
    return rows


def _stack(components: tuple[Number, Number, Number], cases: int) -> NDArray[np.float64]:
    shape = (cases, len(BANDS), 1)
    return np.stack(
        [np.broadcast_to(np.asarray(c.value, dtype=float), shape)[..., 0] for c in components], axis=-1
    )
