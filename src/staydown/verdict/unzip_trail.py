"""Builds the trail of one opened width, asked for by `explain`: which laws made its numbers of what the solve gave."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Number, derive, given
from staydown.spread import foot_laws, opening_laws, pad_laws
from staydown.verdict import redundancy_laws, use_laws
from staydown.verdict.unzip import Opening, UnzipStep

Array = NDArray[np.float64]


def unzip_numbers(opening: Opening, step: UnzipStep) -> dict[str, Number | None]:
    """Return the numbers of one opened width by what they are called, each with its trail."""
    foot = _Foot(opening, step)
    work, (number, row, column), mount = opening.work, step.at, opening.opened.mount
    before = foot.solved(opening.opened.pads[2, 0, row, mount, column], "N", "pull before it opened")
    peak = _peak(foot)
    holds: Number | None = None
    if step.holds_s is not None:
        cruise = float(opening.bond[number, mount, work.cruise].max())
        holds = derive(
            redundancy_laws.life_at_use,
            lasts_s=next(case.lasts for case in work.table.cases if case.name == "cruise"),
            use=given(cruise, "1", "calculation", f"use at cruise with {foot.opened} opened"),
            slope=opening.slope,
        )
    return {
        "bonded share": derive(opening_laws.share_bonded, side_left_m=foot.left, side_m=foot.side),
        "section left": derive(foot_laws.section_left, side_m=foot.side, opened_m=foot.width),
        "stiffness": _stiffness(opening, step, foot),
        "pull": foot.pull,
        "handed on": derive(opening_laws.pull_handed_on, whole_pull_N=before, pull_N=foot.pull),
        "edge stress": peak,
        "use": None if step.use is None else _use(opening, step, foot, peak),
        "holds": holds,
    }


class _Foot:
    """What is on the opened foot and how large it is, as numbers; what was solved says in which case."""

    def __init__(self, opening: Opening, step: UnzipStep) -> None:
        work, (number, row, column), mount = opening.work, step.at, opening.opened.mount
        bend, case = work.group.bend, work.case(column)
        self.name, self.opened = work.group.mounts[mount], f"{1e3 * step.opened_m:.0f} mm"
        self.case = (
            f"{self.name} with {self.opened} opened, in {case.name}, {case.exposure.season}; "
            "the group solved anew, no load factor"
        )
        on = opening.opened.pads[:, number, row, mount, column]
        self.pull = self.solved(on[2], "N", "pull")
        self.side = self.fact(bend.side_m[0, mount], "m", "side along the lever")
        self.edge = self.fact(bend.edge_m[0, mount], "m", "side across the lever")
        self.width = self.fact(step.opened_m, "m", "opened width")
        self.left = derive(foot_laws.side_left, side_m=self.side, opened_m=self.width)
        self.rate = self.fact(bend.rate_one_per_m[0, mount], "1/m", "lambda that counts")
        self.lies = self.fact(
            bend.along[0, mount], "1", "1 where the lever lies along the vehicle, 0 across: that"
        )
        turns = {
            "moment_about_x_Nm": self.solved(on[3], "Nm", "moment about x"),
            "moment_about_y_Nm": self.solved(on[4], "Nm", "moment about y"),
        }
        toward = opening.opened.toward[row, column]
        self.pry = derive(
            opening_laws.pry_at_opened_edge,
            toward=self.solved(toward, "1", "1 where the front or left edge opens, else -1: that"),
            pry_Nm=derive(foot_laws.pry_along_lever, lever_lies_along=self.lies, **turns),
        )
        self.across = derive(foot_laws.moment_across_lever, lever_lies_along=self.lies, **turns)

    def solved(self, value: float, unit: str, what: str) -> Number:
        return given(float(value), unit, "calculation", f"{what} of {self.case}")

    def fact(self, value: float, unit: str, what: str) -> Number:
        return given(float(value), unit, "calculation", f"{what} of {self.name}")


def _stiffness(opening: Opening, step: UnzipStep, foot: _Foot) -> Number:
    """Return the stiffness of the opened foot against pull, by the laws that softened its springs."""
    group, (_, row, column), mount = opening.work.group, step.at, opening.opened.mount
    levers = group.layout.lever_along if group.bend.along[0, mount] > 0.5 else group.layout.lever_across
    lever_m = max(0.0, float(opening.opened.toward[row, column] * levers[row, mount]))
    clamped = bool(group.clamped[row])
    held = "clamped, its tilt is a spring of its own" if clamped else "hinged"
    lever = foot.fact(lever_m, "m", f"lever toward the opened edge, {held},")
    whole_N_per_m = float(group.layout.springs[row, mount, 2])
    tape_N_per_m = float(opening_laws.pad_of_foot(whole_N_per_m, group.skin_N_per_m[mount]))
    arm = lever if clamped else derive(opening_laws.lever_to_rest, lever_m=lever, opened_m=foot.width)
    return derive(
        opening_laws.spring_of_opened,
        whole_spring_N_per_m=foot.fact(whole_N_per_m, "N/m", "stiffness of the whole foot, tape and roof,"),
        pad_spring_N_per_m=foot.fact(tape_N_per_m, "N/m", "stiffness of the tape under the whole foot"),
        more_give=derive(
            opening_laws.give_that_counts,
            rate_one_per_m=foot.rate,
            stiff=derive(
                opening_laws.more_give_stiff,
                side_m=foot.side,
                side_left_m=foot.left,
                arm_m=arm,
                lever_m=lever,
            ),
            bending=derive(
                opening_laws.more_give_bending,
                rate_one_per_m=foot.rate,
                side_m=foot.side,
                opened_m=foot.width,
            ),
        ),
    )


def _peak(foot: _Foot) -> Number:
    """Return the peak tension of what still holds, by the laws that judge it."""
    about_rest = {"pull_N": foot.pull, "opened_m": foot.width}
    stiff = derive(
        pad_laws.peak_tension,
        pull_N=foot.pull,
        moment_about_x_Nm=foot.across,
        moment_about_y_Nm=derive(foot_laws.moment_about_rest, moment_Nm=foot.pry, **about_rest),
        pad_length_m=foot.left,
        pad_width_m=foot.edge,
    )
    if float(foot.rate.value) == 0.0:
        return stiff
    at_edge = derive(
        opening_laws.larger_moment,
        pry_Nm=foot.pry,
        edge_pull_Nm=derive(foot_laws.moment_of_edge_pull, pull_N=foot.pull, side_m=foot.side),
    )
    bending = derive(
        foot_laws.foot_edge_stress,
        rate_one_per_m=foot.rate,
        pull_N=foot.pull,
        along_lever_Nm=derive(foot_laws.moment_about_rest, moment_Nm=at_edge, **about_rest),
        across_lever_Nm=foot.across,
        side_m=foot.left,
        edge_m=foot.edge,
    )
    return derive(foot_laws.larger_stress, first_Pa=stiff, second_Pa=bending)


def _use(opening: Opening, step: UnzipStep, foot: _Foot, peak: Number) -> Number:
    """Return how much of what is proven for the bond the opened foot uses."""
    (number, _, column), mount = step.at, opening.opened.mount
    strength, worst = opening.work.strength, opening.opened.worst
    place = number, mount, column

    def proven(values: Array, unit: str, mode: str) -> Number:
        return foot.solved(values[mount, column], unit, f"what is proven in {mode}: that")

    bond = derive(
        use_laws.combined_use,
        tension_use=derive(
            use_laws.stress_use, demand_Pa=peak, proven_Pa=proven(strength.tension_Pa, "Pa", "tension")
        ),
        shear_use=derive(
            use_laws.stress_use,
            demand_Pa=foot.solved(worst.shear_Pa[place], "Pa", "shear"),
            proven_Pa=proven(strength.shear_Pa, "Pa", "shear"),
        ),
    )
    if worst.peel_N_per_m[place] == 0.0:
        return bond
    peel = derive(
        use_laws.peel_use,
        line_load_N_per_m=foot.solved(worst.peel_N_per_m[place], "N/m", "line load at the edge"),
        proven_N_per_m=proven(strength.peel_N_per_m, "N/m", "peel"),
    )
    return derive(use_laws.larger_use, first_use=bond, second_use=peel)
