"""Builds the use of each link of the chain: the largest force it hands on over all cases, over its strength."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from staydown.evidence.chain import ChainLink
from staydown.foundation.numbers import Number, at, derive
from staydown.spread.demands import Demands
from staydown.verdict import use_laws
from staydown.verdict.checks import HIGH, Checks

BondLinks = ("upper bond", "lower bond", "coating", "skin")


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckedLink:
    """One link of the chain at one mount with what it hands on. [N]

    case: index of the case with the largest force; strength and use None where they are not known as a force.
    """

    link: ChainLink
    case: int
    demand: Number
    demand_N: float
    strength_N: float | None
    use: float | None


def check_chain(links: Sequence[ChainLink], demands: Demands, checks: Checks) -> tuple[CheckedLink, ...]:
    """Return every link with its demand, strength and use.

    A link that was loaded in the pull-offs is used as much as the bond; its strength is the demand over that use.
    """
    pull = derive(
        use_laws.link_pull, pull_N=demands.force[2], along_N=demands.force[0], across_N=demands.force[1]
    )
    shape = checks.evidence.shape
    largest = np.broadcast_to(np.asarray(pull.value, dtype=float), shape)[:, HIGH, :]
    use = checks.bond_use_at_high()
    bonded = ~checks.soaks | (demands.bow is not None)
    checked = []
    for link in links:
        mount = demands.mounts.index(link.mount)
        case = int(largest[:, mount].argmax())
        demand_N = float(largest[case, mount])
        if link.strength is not None:
            strength_N: float | None = at(link.strength, (case, HIGH, mount))
            share: float | None = float(derive_link_use(pull, link.strength, (case, HIGH, mount)))
        elif link.by_bond and link.part in BondLinks:
            of_bond = use[bonded, mount]
            share = None if np.isnan(of_bond).any() else float(of_bond.max())
            strength_N = demand_N / share if share else None
        else:
            strength_N, share = None, None
        checked.append(
            CheckedLink(
                link=link, case=case, demand=pull, demand_N=demand_N, strength_N=strength_N, use=share
            )
        )
    return tuple(checked)


def derive_link_use(pull: Number, strength: Number, index: tuple[int, int, int]) -> float:
    """Return demand over strength of a link at one case, band and mount. [1]"""
    return use_laws.link_use(at(pull, index), at(strength, index))  # type: ignore[return-value]
