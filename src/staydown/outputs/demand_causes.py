"""The fall of the demand, finer than in the terminal: each cause of the equal share, and what drag's lever adds."""

from __future__ import annotations

from dataclasses import replace

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.numbers import at
from staydown.outputs.most_used import Pick
from staydown.outputs.waterfall import Step, demand_steps
from staydown.spread.causes import pull_of_part
from staydown.verdict.checks import HIGH

LEAST_SHARE = 0.005  # of the peak; a smaller step is no step


def demand_falls(
    assessment: Assessment, assessed: ItemAssessment, mounted: Mounted, found: Pick
) -> list[Step]:
    """Return how the peak tension of a mount grows, at the high band: cause by cause, factors, share, lever.

    The steps add up to the peak exactly, as those of the terminal do, of which they are parts.
    """
    item = assessed.item
    coarse = demand_steps(item, mounted, found)
    area_m2 = item.mount[found.mount].pad.area_m2 * len(item.mount)
    index = (found.case, HIGH, found.mount)
    steps = []
    for part in mounted.table.parts:
        up_N = at(part.force[2], index) if part.acts[found.case] else 0.0
        if up_N and abs(up_N / area_m2) >= LEAST_SHARE * found.peak_Pa:
            share = f"{part.name}, equal share" if len(item.mount) > 1 else part.name
            steps.append(
                Step(
                    what=share,
                    likely_Pa=None,
                    high_Pa=up_N / area_m2,
                    whole=False,
                    number=part.force[2],
                    trail=f"all/{part.name} Fz",
                )
            )
    for step in coarse[1:]:
        if step.what == "this mount, above its share":
            steps += _share(assessment, assessed, mounted, found, step)
        elif step.whole or abs(step.high_Pa) >= LEAST_SHARE * found.peak_Pa:
            steps.append(step)
    missing = found.peak_Pa - sum(step.high_Pa for step in steps[:-1])
    if abs(missing) >= LEAST_SHARE * found.peak_Pa:
        steps.insert(-1, _step("smaller causes", missing))
    return steps


def _share(
    assessment: Assessment, assessed: ItemAssessment, mounted: Mounted, found: Pick, step: Step
) -> list[Step]:
    """Return what this mount carries above the equal share: by drag, and by where the rest acts."""
    area_m2 = assessed.item.mount[found.mount].pad.area_m2
    tape = next(tape for tape in assessment.job.tape if tape.name == assessed.item.tape)
    solution = mounted.demands.solutions[mounted.demands.solution[found.case, HIGH, found.mount]]
    parts = [
        part for part in mounted.table.parts if part.acts[found.case] and part.name.startswith("edge drag")
    ]
    drag_N = 0.0
    for part in parts:
        own = pull_of_part(
            assessed.item, assessed.place, tape, assessment.cards, part, solution, (found.case, found.mount)
        )
        if own is None:
            return [replace(step, what="this foot, above its share", likely_Pa=None)]
        drag_N += own
    by_drag = drag_N / area_m2
    steps = [
        _step("drag, by its height", by_drag),
        replace(
            step,
            what="uneven share: where the rest acts",
            likely_Pa=None,
            high_Pa=step.high_Pa - by_drag,
        ),
    ]
    return [one for one in steps if abs(one.high_Pa) >= LEAST_SHARE * found.peak_Pa]


def _step(what: str, value_Pa: float) -> Step:
    return Step(what=what, likely_Pa=None, high_Pa=value_Pa, whole=False)
