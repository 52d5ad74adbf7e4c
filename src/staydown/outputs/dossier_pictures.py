"""Fills the pictures of a dossier from an assessment; the words are those of the terminal's answer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from staydown.advice.assumptions import Assumption
from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.chain import PARTS
from staydown.foundation.numbers import at
from staydown.foundation.quantities import shown
from staydown.outputs.amounts import amount, bare, bare_percent, case_name, length, one, percent, units_of
from staydown.outputs.assumption_text import ASSUMED
from staydown.outputs.columns import clean
from staydown.outputs.demand_causes import demand_falls
from staydown.outputs.most_used import Pick, by_mount
from staydown.outputs.roof_text import mount_label
from staydown.outputs.waterfall import Step, strength_steps, tension_answer
from staydown.pictures import assumptions as assumptions_picture
from staydown.pictures import chain as chain_picture
from staydown.pictures import item_view as item_picture
from staydown.pictures import roof_plan as roof_picture
from staydown.pictures import waterfalls as falls_picture
from staydown.pictures.picture import Picture
from staydown.verdict.chain_use import CheckedLink
from staydown.verdict.checks import HIGH

SCALES = {"metric": (1.0, 0.5, 0.2), "us": (0.9144, 0.3048, 0.1524)}  # lengths of the scale bar [m]
MOST_SWINGS = 8
LEAST_SHOWN_N = 0.5


def roof(assessment: Assessment) -> Picture:
    """Return the roof with all items, every foot filled as far as it is used."""
    vehicle, system = assessment.job.vehicle, assessment.job.job.show
    items = tuple(_roof_item(item) for item in assessment.items)
    scale = next((size for size in SCALES[system] if size < vehicle.roof_length_m / 2.5), SCALES[system][-1])
    told = [
        f"{item.name}: " + ", ".join(f"{foot.name} {foot.label} %" for foot in item.feet) for item in items
    ]
    alt = (
        f"Roof {length(vehicle.roof_length_m, system)} long, {length(vehicle.roof_width_m, system)} wide, front at the "
        f"left. Use of each mount in per cent of what is proven: {'; '.join(told) or 'no items'}."
    )
    return roof_picture.roof_plan(
        roof_picture.Roof(
            length_m=vehicle.roof_length_m,
            width_m=vehicle.roof_width_m,
            items=items,
            scale_m=scale,
            scale=length(scale, system),
            alt=alt,
        )
    )


def _roof_item(assessed: ItemAssessment) -> roof_picture.RoofItem:
    item, mounted = assessed.item, assessed.mounted
    middle = item.left_of_centre_m or 0.0
    picks: dict[int, Pick] = {} if mounted is None else {found.mount: found for found in by_mount(mounted)}
    feet = tuple(
        roof_picture.RoofFoot(
            name=clean(mount.name),
            behind_m=item.behind_roof_front_m + mount.behind_m,
            left_m=middle + mount.left_m,
            length_m=mount.pad.length_m,
            width_m=mount.pad.width_m,
            use=picks[number].use,
            level=picks[number].level,
            label=mount_label(assessed, picks[number]),
        )
        for number, mount in enumerate(item.mount)
    )
    return roof_picture.RoofItem(
        name=clean(item.name),
        behind_m=item.behind_roof_front_m,
        left_m=middle,
        length_m=item.length_m,
        width_m=item.width_m,
        gap_m=item.gap_m,
        thickness_m=item.thickness_m,
        feet=feet,
    )


def item_view(assessed: ItemAssessment, mounted: Mounted, found: Pick, system: str) -> Picture:
    """Return one item in the case of its worst pull: feet with use and pull, loads as a free body."""
    item, case = assessed.item, mounted.table.cases[found.case]
    picks = {one_pick.mount: one_pick for one_pick in by_mount(mounted)}
    along, across, pull = mounted.demands.force
    feet = []
    for number, mount in enumerate(item.mount):
        place = (found.case, HIGH, number)
        pulled = at(pull, place)
        feet.append(
            item_picture.ViewFoot(
                name=clean(mount.name),
                behind_m=mount.behind_m,
                left_m=mount.left_m,
                length_m=mount.pad.length_m,
                width_m=mount.pad.width_m,
                use=picks[number].use,
                level=picks[number].level,
                label=_with_sign(mount_label(assessed, picks[number])),
                pull_N=pulled,
                along_N=at(along, place),
                across_N=at(across, place),
                pull=f"{'pulls' if pulled > 0.0 else 'presses'} {amount(abs(pulled), 'N', system)}",
            )
        )
    velocity = case.air_velocity_m_per_s
    speed = math.hypot(*velocity)
    told = [f"{foot.name} {foot.pull}" for foot in feet]
    causes = _causes(assessed, mounted, found.case, system)
    alt = (
        f"{clean(item.name)} in {case_name(case)}. On the item act {', '.join(cause.words for cause in causes)}. "
        f"The feet: {', '.join(told)}."
    )
    view = item_picture.ItemView(
        name=clean(item.name),
        length_m=item.length_m,
        width_m=item.width_m,
        thickness_m=item.thickness_m,
        gap_m=item.gap_m,
        nose_up_rad=item.nose_up_rad or 0.0,
        feet=tuple(feet),
        causes=causes,
        wind=None if speed == 0.0 else (velocity[0] / speed, velocity[1] / speed),
        wind_words="" if speed == 0.0 else f"air {one(speed, 'm/s', system)}",
        alt=alt,
    )
    return item_picture.item_view(view)


def _with_sign(label: str) -> str:
    number = label.rstrip("?!-")
    marks = label.removeprefix(number).replace("!", "")
    return f"{number} % {marks}".rstrip() if number else label


def _causes(
    assessed: ItemAssessment, mounted: Mounted, case: int, system: str
) -> tuple[item_picture.Cause, ...]:
    """Return the loads of a case as they count, factors applied."""
    index = (case, HIGH, 0)
    causes = []
    for part in mounted.table.parts:
        if not part.acts[case]:
            continue
        factor = at(part.factor, index)
        along, across, up = (factor * at(component, index) for component in part.force)
        if math.hypot(along, up) < max(LEAST_SHOWN_N, abs(across) * 1e-6):
            continue
        x, _, height = (at(coordinate, index) for coordinate in part.at)
        size = up if abs(up) >= abs(along) else along
        causes.append(
            item_picture.Cause(
                behind_m=assessed.item.length_m / 2 - x,
                height_m=height,
                along_N=along,
                up_N=up,
                words=f"{part.name} {amount(abs(size), 'N', system)}",
            )
        )
    return tuple(causes)


def strength_falls(assessment: Assessment, mounted: Mounted, found: Pick) -> list[Step]:
    """Return how the strength shrinks to what is proven in tension for a pick; empty where nothing is."""
    capacity, answer = mounted.capacity.get("tension"), tension_answer(mounted, found)
    if capacity is None or answer is None:
        return []
    case, system = mounted.table.cases[found.case], assessment.job.job.show
    steps = strength_steps(
        assessment.job, capacity, answer, case.exposure.lasts_s, found.temperature_K, system
    )
    if not steps:
        return []
    path = f"{mounted.demands.mounts[found.mount]}/proven tension"
    return [*steps[:-1], replace(steps[-1], number=mounted.checks.tension_proven, trail=path)]


def falls(
    assessment: Assessment, assessed: ItemAssessment, mounted: Mounted, found: Pick, *, narrow: bool = False
) -> Picture:
    """Return where the demand comes from beside where the capacity goes. narrow: for a phone."""
    system = assessment.job.job.show
    case, name = mounted.table.cases[found.case], mounted.demands.mounts[found.mount]
    head = f"{assessed.item.name}/{case.name}/{case.exposure.season}/"
    digits = 0 if found.peak_Pa >= (100e3 if system == "metric" else 690e3) else 1

    def fall(step: Step, whole: bool) -> falls_picture.Fall:
        value, path = step.high_Pa, head + step.trail
        told = shown(value, "Pa", system, digits).split(" ")[0].replace("-", "−")
        sign = "" if whole or value < 0.0 else "+"
        return falls_picture.Fall(
            words=step.what,
            value_Pa=value,
            shown=sign + told,
            whole=whole,
            path=path if step.trail and path == clean(path) else "",  # no drawing holds a control character
        )

    demand = tuple(
        fall(step, step.whole and step.what == "at the pad's edge")
        for step in demand_falls(assessment, assessed, mounted, found)
    )
    strength = tuple(fall(step, True) for step in strength_falls(assessment, mounted, found))
    told = "; ".join(f"{step.words} {step.shown}" for step in demand)
    left = "; ".join(f"{step.words} {step.shown}" for step in strength)
    unit = units_of("Pa", system).split(" ")[0]
    return falls_picture.waterfalls(
        falls_picture.Falls(
            name=clean(name),
            demand_title=f"Where the {one(found.peak_Pa, 'Pa', system)} come from",
            strength_title="What is left of what the tests showed" if strength else "What the tests showed",
            demand=demand,
            strength=strength,
            unit=unit,
            missing="" if strength else "Nothing of yours says what is left against it.",
            alt=f"In {unit}, {case_name(case)}. Demand: {told}. Capacity: {left or 'nothing proven'}.",
        ),
        narrow=narrow,
    )


def chain(assessed: ItemAssessment, mounted: Mounted, system: str, *, narrow: bool = False) -> Picture:
    """Return the chain of links, each at the mount where it is used most or not known. narrow: for a phone."""
    worst = [worst_link(mounted.chain, part) for part in PARTS]
    shown = [link for link in worst if link is not None]
    most = max((link.use for link in shown if link.use is not None), default=None)
    links = [
        chain_picture.Link(
            part=link.link.part,
            use=link.use,
            known=link.link.known,
            weakest=link.use is not None and link.use == most,
            label=percent(link.use) if link.link.known else "unknown",
            strength="" if link.strength_N is None else f"holds {amount(link.strength_N, 'N', system)}",
            known_by=clean(link.link.known_by) if link.link.known else "",
        )
        for link in shown
    ]
    told = "; ".join(
        f"{link.part} {link.label}" + (", the weakest" if link.weakest else "") for link in links
    )
    alt = f"Links from the item to the roof: {told}."
    return chain_picture.chain(clean(assessed.item.name), links, alt, narrow=narrow)


def worst_link(links: Sequence[CheckedLink], part: str) -> CheckedLink | None:
    """Return the link of a part that nobody knows, else the most used one."""
    mine = [link for link in links if link.link.part == part]
    unknown = [link for link in mine if not link.link.known]
    return max(unknown or mine, key=lambda link: (link.use or 0.0, link.demand_N), default=None)


def assumptions(
    assessment: Assessment, weights: Sequence[Assumption], *, several: bool, narrow: bool = False
) -> tuple[Picture | None, int]:
    """Return the assumptions that move the use most, and how many there are; None where none moves it.

    narrow: for a phone.
    """
    system = assessment.job.job.show
    governing = {
        item.item.name: item.mounted.governing.use for item in assessment.items if item.mounted is not None
    }
    swings = []
    for weight in sorted((w for w in weights if w.basis in ASSUMED), key=lambda w: -w.swing):
        now = governing.get(weight.item)
        if weight.swing < 0.005 or weight.use_at_low is None or weight.use_at_high is None or now is None:
            continue
        name = f"{clean(weight.item)}: {weight.what}" if several else weight.what
        swings.append(
            assumptions_picture.Swing(
                words=name,
                use=now,
                use_at_low=weight.use_at_low,
                use_at_high=weight.use_at_high,
                low=_end(weight.low, weight.unit, system),
                high=_end(weight.high, weight.unit, system),
            )
        )
    if not swings:
        return None, 0
    told = "; ".join(
        f"{one_swing.words}: {bare_percent(one_swing.use_at_low)} at {one_swing.low}, "
        f"{bare_percent(one_swing.use_at_high)} at {one_swing.high}"
        for one_swing in swings[:MOST_SWINGS]
    )
    alt = f"Use in per cent with each assumption at its low and its high end: {told}."
    drawn = assumptions_picture.assumptions(swings[:MOST_SWINGS], alt, narrow=narrow)
    return drawn, len(swings)


def _end(value: float, unit: str, system: str) -> str:
    if unit == "1":
        return f"{value:.3g}"
    return (
        one(value, unit, system)
        if unit in ("N", "Pa", "m/s", "K", "m", "s", "kg")
        else bare(value, unit, system)
    )
