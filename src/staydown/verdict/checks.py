"""Builds the use of what is proven: each case, band and mount, with its level of evidence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.exposure import Mode
from staydown.foundation.numbers import Chosen, Number, definition, derive
from staydown.library.cards import PlanningValue
from staydown.loads.load_case import BANDS, CaseTable
from staydown.spread.build_thermal import Thermal
from staydown.spread.demands import Demands
from staydown.strength.capacity import LEVELS, NOTHING_PEELED, ModeCapacity
from staydown.strength.evidence_level import Level
from staydown.verdict import use_laws
from staydown.verdict.other_way import OtherWay, build_other_way
from staydown.verdict.proven_modes import in_tension, sheared_ends

NONE, INFERRED, COVERED = 0, 1, 2
HIGH = BANDS.index("high")
NOT_STRAINED = definition(0.0, "1", "a rigid adhesive: its stress is judged and not its strain")


@dataclass(frozen=True, slots=True, kw_only=True)
class Checks:
    """The use of what is proven. Numbers over (case, band, mount); evidence (case, band, mount) as level codes.

    use: NaN where something pulls and nothing is proven. tension_proven, shear_proven [Pa], peel_proven [N/m].
    sheared: the shear that is judged; relieved: at the other end of the pad [Pa].
    strain_use: of the strain that a tape stands daily, over (1, 1, mount); 0 for a rigid adhesive, which is judged by
    its stress. bond_use: of what is proven of the bond, the same as use but in the soaks.
    evidence_of: the same for tension, shear and peel alone, COVERED where nothing pulls, slides or peels.
    hopeless: (case, mount), even the middle of the population of coupons lies below the demand. moved: (case, mount),
    heat alone strains the pad beyond the favourable end of what its tape stands.
    shear_inferred: shear was taken as a share of tension. other_way: the way of joining that uses a bond more than the
    one with the largest peak, where there is such a bond; counted in use and bond_use.
    """

    use: Number
    strain_use: Number
    bond_use: Number
    tension_use: Number
    shear_use: Number
    peel_use: Number
    tension_proven: Number
    shear_proven: Number
    peel_proven: Number
    sheared: Number
    relieved: Number
    soaks: NDArray[np.bool_]
    evidence: NDArray[np.int64]
    evidence_of: Mapping[Mode, NDArray[np.int64]]
    hopeless: NDArray[np.bool_]
    moved: NDArray[np.bool_]
    shear_inferred: bool
    other_way: OtherWay | None = None

    def use_at_high(self) -> NDArray[np.float64]:
        """Return the deciding use, at the high band. [1], shape (case, mount)"""
        return self.use_over_bands()[:, HIGH, :]

    def bond_use_at_high(self) -> NDArray[np.float64]:
        """Return the use of the bond, at the high band, NaN where nothing is proven. [1], shape (case, mount)"""
        return _full(self.bond_use, self.evidence.shape)[:, HIGH, :]

    def strain_decides(self) -> NDArray[np.bool_]:
        """Return where the daily strain of the tape decides and no force does. shape (case, mount)"""
        strain = _full(self.strain_use, self.evidence.shape)[:, HIGH, :]
        return self.soaks[:, None] & (self.use_at_high() <= strain)

    def use_over_bands(self) -> NDArray[np.float64]:
        """Return the use over all bands. [1], shape (case, band, mount)"""
        return np.broadcast_to(np.asarray(self.use.value, dtype=float), self.evidence.shape)

    def level(self, case: int, mount: int) -> Level:
        """Return the level of evidence of one case and mount, decided on the high band."""
        return LEVELS[int(self.evidence[case, HIGH, mount])]


def build_checks(
    table: CaseTable,
    demands: Demands,
    thermal: Thermal,
    capacity: Mapping[Mode, ModeCapacity],
    planning: Mapping[str, PlanningValue],
) -> Checks:
    """Return demand over what is proven for every case, band and mount.

    Parameters
    ----------
    table, demands, thermal : CaseTable, Demands, Thermal
        What pulls, what each mount carries, how far each pad is strained daily.
    capacity : mapping
        What is proven, by mode.
    planning : mapping
        Planning values by id.
    """
    shape = (len(table.cases), len(BANDS), len(demands.mounts))
    shear, peel = capacity.get("shear"), capacity.get("peel")
    tension = in_tension(capacity, demands, shape)
    tension_proven = tension.proven
    share = planning["shear_from_tension"].decided
    shear_proven: Number = (
        shear.proven
        if shear
        else derive(use_laws.shear_from_tension, share=share, tension_proven_Pa=tension_proven)
    )
    tension_use = derive(use_laws.stress_use, demand_Pa=demands.peak_tension, proven_Pa=tension_proven)
    sheared, relieved = sheared_ends(demands, thermal)
    shear_use = derive(use_laws.stress_use, demand_Pa=sheared, proven_Pa=shear_proven)
    bonded = derive(use_laws.combined_use, tension_use=tension_use, shear_use=shear_use)
    other = build_other_way(demands, thermal, (tension_proven, shear_proven), (sheared, bonded))
    most_sheared = _full(shear_use, shape)
    if other is not None:
        bonded = derive(use_laws.larger_use, first_use=bonded, second_use=other.use)
        most_sheared = np.where(other.counts, _full(other.shear_use, shape), most_sheared)
    peel_proven = peel.proven if peel else NOTHING_PEELED
    peel_use = derive(use_laws.peel_use, line_load_N_per_m=demands.peel, proven_N_per_m=peel_proven)
    if demands.feet.bends:
        bonded = derive(use_laws.larger_use, first_use=bonded, second_use=peel_use)
    strained = derive(
        use_laws.larger_use,
        first_use=derive(
            use_laws.strain_use, strain=thermal.strain, limit=planning["thermal_strain_limit"].decided
        ),
        second_use=derive(use_laws.strain_use, strain=thermal.fit, limit=planning["fit_limit"].decided),
    )
    soak = np.array([case.family == "soak" and not thermal.rigid for case in table.cases])
    heated: Number = strained
    if demands.bow is not None:
        heated = derive(use_laws.use_in_heat, strain_use=strained, bond_use=bonded)
    value = np.where(soak[:, None, None], _full(heated, shape), _full(bonded, shape))
    use = Chosen(value=value, unit="1", axis=0, items=tuple(heated if s else bonded for s in soak))
    pulls = _full(demands.peak_tension, shape) > 0.0
    slides = _full(sheared, shape) > 0.0
    evidence_of = _evidence(tension.codes, shear, pulls, slides, most_sheared, planning, len(table.cases))
    peels = _full(demands.peel, shape) > 0.0
    evidence_of["peel"] = np.where(peels, np.broadcast_to(_codes(peel, len(table.cases)), shape), COVERED)
    # a soak rests on no coupon but where a bow pulls; nothing else pulls there
    evidence = np.minimum.reduce(list(evidence_of.values()))
    limit = planning["thermal_strain_limit"].band.high
    peak = _full(demands.peak_tension, shape)[:, HIGH, :]
    hopeless = _hopeless(capacity.get("tension"), peak)
    hopeless |= _hopeless(capacity.get("cleavage"), peak) & tension.pried_as_hard[:, HIGH, :]
    hopeless |= _hopeless(peel, _full(demands.peel, shape)[:, HIGH, :])
    moved = soak[:, None] & (np.asarray(thermal.least.value).reshape(1, -1) > limit)
    return Checks(
        use=use,
        strain_use=NOT_STRAINED if thermal.rigid else strained,
        bond_use=bonded,
        tension_use=tension_use,
        shear_use=shear_use,
        peel_use=peel_use,
        tension_proven=tension_proven,
        shear_proven=shear_proven,
        peel_proven=peel_proven,
        sheared=sheared,
        relieved=relieved,
        soaks=np.array([case.family == "soak" for case in table.cases]),
        evidence=evidence,
        evidence_of=evidence_of,
        hopeless=hopeless | moved,
        moved=np.broadcast_to(moved, (shape[0], shape[2])),
        shear_inferred=shear is None,
        other_way=other,
    )


def _full(number: Number, shape: tuple[int, int, int]) -> NDArray[np.float64]:
    return np.broadcast_to(np.asarray(number.value, dtype=float), shape)


def _codes(capacity: ModeCapacity | None, cases: int) -> NDArray[np.int64]:
    if capacity is None:
        return np.full((cases, 1, 1), NONE)
    return capacity.codes()


def _evidence(
    tension: NDArray[np.int64],
    shear: ModeCapacity | None,
    pulls: NDArray[np.bool_],
    slides: NDArray[np.bool_],
    shear_use: NDArray[np.float64],
    planning: Mapping[str, PlanningValue],
    cases: int,
) -> dict[Mode, NDArray[np.int64]]:
    """Return the level of each mode that counts in each case, band and mount.

    Shear taken from tension is inferred, and counts as its tension while it is little used.
    """
    of_tension = np.broadcast_to(tension, pulls.shape)
    if shear is not None:
        of_shear = np.broadcast_to(_codes(shear, cases), pulls.shape)
    else:
        little = shear_use <= float(planning["shear_from_tension_covered"].decided.value)
        of_shear = np.where(little, of_tension, np.minimum(of_tension, INFERRED))
    return {"tension": np.where(pulls, of_tension, COVERED), "shear": np.where(slides, of_shear, COVERED)}


def _hopeless(mode: ModeCapacity | None, demand: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return where even the middle of covering coupons of a mode lies below the demand, (case, mount)."""
    if mode is None:
        return np.zeros(demand.shape, dtype=bool)
    covered = mode.codes()[:, 0, :] == COVERED
    with np.errstate(invalid="ignore"):
        beyond: NDArray[np.bool_] = covered & (demand > mode.medians())
    return beyond
