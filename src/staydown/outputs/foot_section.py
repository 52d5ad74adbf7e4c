"""Fills the section of the worst foot: line of pull, lever, and the wedge of stress under the pad.

The section is cut along the lever of a foot that bends, else where the pad is turned most; what the other direction
adds is in the stresses of both edges, which are those along the more stressed side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from staydown.assess import ItemAssessment, Mounted
from staydown.foundation.numbers import Number, at
from staydown.outputs.amounts import amount, case_name, length, one
from staydown.outputs.columns import clean
from staydown.outputs.most_used import Pick
from staydown.outputs.waterfall import tension_answer
from staydown.pictures.lever_view import Lever, lever_view
from staydown.pictures.picture import Picture
from staydown.spread import foot_laws, pad_laws
from staydown.spread.foot_profile_laws import foot_stress_inward
from staydown.verdict.checks import HIGH

LEAST_SHOWN_N = 0.5
POINTS = 41


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Stress under a pad in one section. across: cut across the vehicle. left_pulled: the more pulled edge. [Pa, m]

    profile: from the left edge to the right one, of a foot that bends; empty where the foot counts as rigid.
    """

    across: bool
    left_pulled: bool
    left_Pa: float
    right_Pa: float
    lever_m: float
    profile: tuple[float, ...]


def section_of(mounted: Mounted, mount: int, case: int) -> Section:
    """Return the stress under one pad in one case, at the high band; its larger edge is the peak that decides."""
    demands, feet = mounted.demands, mounted.demands.feet
    place = (case, HIGH, mount)

    def told(number: Number) -> float:
        return at(number, place)

    pull, about_x, about_y = told(demands.force[2]), told(demands.moment[0]), told(demands.moment[1])
    side, edge, lies_along = told(feet.side), told(feet.edge), told(feet.along) > 0.5
    long_m, wide_m = (side, edge) if lies_along else (edge, side)

    def alone(moment_x: float, moment_y: float) -> float:
        """Return what moments alone put on an edge, by the law that gave the peak."""
        return float(
            pad_laws.peak_tension(
                pull_N=0.0,
                moment_about_x_Nm=moment_x,
                moment_about_y_Nm=moment_y,
                pad_length_m=long_m,
                pad_width_m=wide_m,
            )
        )

    by_x, by_y = alone(about_x, 0.0), alone(0.0, about_y)
    bent = told(demands.edge_stress)
    mean = told(demands.mean_tension)
    bends = bent > 0.0 and bent >= 0.999 * told(demands.peak_tension)
    across = not lies_along if bends else by_x >= by_y
    mine, other, moment = (by_x, by_y, about_x) if across else (by_y, by_x, about_y)
    # +Mx pulls the left edge, +My presses the front one; the section is seen from behind, or from the right side
    left = moment > 0.0
    arm = abs(moment / pull) if pull else 0.0
    high, low = mean + other + mine, mean + other - mine
    profile: tuple[float, ...] = ()
    if bends:
        rate, pulled = told(feet.counted), max(pull, 0.0)
        more = max(abs(moment) - float(foot_laws.moment_of_edge_pull(pulled, side)), 0.0)
        inward = np.linspace(0.0, side, POINTS)
        along = np.asarray(foot_stress_inward(rate, inward, pulled, more, edge)) + other + min(mean, 0.0)
        profile = tuple(float(value) for value in (along if left else along[::-1]))
    return Section(
        across=across,
        left_pulled=left,
        left_Pa=high if left else low,
        right_Pa=low if left else high,
        lever_m=-arm if left else arm,
        profile=profile,
    )


def foot_section(
    assessed: ItemAssessment, mounted: Mounted, found: Pick, system: str, *, narrow: bool = False
) -> Picture:
    """Return the picture of the worst foot. narrow: drawn with larger type, for a page."""
    mount = assessed.item.mount[found.mount]
    name = clean(mount.name)
    place = (found.case, HIGH, found.mount)
    cut = section_of(mounted, found.mount, found.case)
    mean, pull = at(mounted.demands.mean_tension, place), at(mounted.demands.force[2], place)
    edges = ("left edge", "right edge") if cut.across else ("rear edge", "front edge")
    ends = (cut.profile[0], cut.profile[-1]) if cut.profile else (cut.left_Pa, cut.right_Pa)
    answer = tension_answer(mounted, found)
    proven = math.nan if answer is None else float(answer.proven.value)
    side_m = mount.pad.width_m if cut.across else mount.pad.length_m
    push = at(mounted.demands.force[1 if cut.across else 0], place) * (-1.0 if cut.across else 1.0)
    pulled = f"{'pull' if pull >= 0.0 else 'press'} {amount(abs(pull), 'N', system)}"
    kind = "a foot that bends: dashed as if it were rigid" if cut.profile else "a foot that counts as rigid"
    alt = (
        f"Section of the pad at {name} in {case_name(mounted.table.cases[found.case])}: {pulled}, acting "
        f"{length(abs(cut.lever_m), system)} beside the pad's middle; {kind}. Stress "
        f"{amount(ends[0], 'Pa', system)} at the {edges[0]}, {amount(ends[1], 'Pa', system)} at the {edges[1]}, on the "
        f"mean {amount(mean, 'Pa', system)}"
        + ("." if math.isnan(proven) else f"; proven are {amount(proven, 'Pa', system)}.")
    )
    return lever_view(
        Lever(
            title=f"{name}: line of pull and stress under the pad",
            side_m=side_m,
            foot_m=mount.foot_thickness_m or 0.25 * side_m,
            lever_m=cut.lever_m,
            pull_N=pull,
            push_N=push,
            left_Pa=cut.left_Pa,
            right_Pa=cut.right_Pa,
            profile_Pa=cut.profile,
            mean_Pa=mean,
            side=f"pad {length(side_m, system)} {'across' if cut.across else 'along'}",
            lever=length(abs(cut.lever_m), system),
            pull=pulled,
            push=one(abs(push), "N", system) if abs(push) >= LEAST_SHOWN_N else "",
            left_edge=edges[0],
            right_edge=edges[1],
            left_stress=one(ends[0], "Pa", system).replace("-", "−"),
            right_stress=one(ends[1], "Pa", system).replace("-", "−"),
            mean=f"mean {amount(mean, 'Pa', system)}"
            + ("; the foot bends, dashed: if it were rigid" if cut.profile else ""),
            proven_Pa=None if math.isnan(proven) else proven,
            proven="" if math.isnan(proven) else f"proven {amount(proven, 'Pa', system)}",
            alt=alt,
        ),
        narrow=narrow,
    )
