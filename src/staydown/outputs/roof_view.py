"""The roof for a page on which things are moved: sizes and places in metres, every number said already."""

from __future__ import annotations

from typing import Any

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.numbers import at
from staydown.outputs.amounts import amount, case_name, length, percent
from staydown.outputs.columns import clean
from staydown.outputs.most_used import Pick, by_mount, pick, worst_pick
from staydown.outputs.roof_text import mount_label
from staydown.outputs.sentences import worst_pull
from staydown.verdict.checks import HIGH

SCALES = {"metric": (1.0, 0.5), "us": (0.9144, 0.3048)}  # lengths of the scale bar [m]
Cases = dict[int, int]  # item -> case to show; an item that is not in it shows each mount's worst


def roof_view(assessment: Assessment, cases: Cases) -> dict[str, Any]:
    """Return what the roof component draws: the roof, what is on it, items, feet with use and pull."""
    vehicle, system = assessment.job.vehicle, assessment.job.job.show
    items = [_item(assessed, number, cases, system) for number, assessed in enumerate(assessment.items)]
    bar = next((size for size in SCALES[system] if size < vehicle.roof_length_m / 2.5), SCALES[system][-1])
    pulls = [abs(foot["pull_N"]) for item in items for foot in item["mounts"] if foot["pull_N"] is not None]
    return {
        "length": vehicle.roof_length_m,
        "width": vehicle.roof_width_m,
        "scale": {"length": bar, "words": length(bar, system)},
        "fixtures": [
            {
                "place": f"vehicle.on_roof.{number}",
                "name": clean(fixture.name),
                "kind": fixture.kind,
                "behind": fixture.behind_front_m,
                "left": fixture.left_of_centre_m,
                "length": fixture.length_m,
                "width": fixture.width_m,
                "height": fixture.height_m or 0.0,
                "where": _where(fixture.behind_front_m, fixture.left_of_centre_m, system),
            }
            for number, fixture in enumerate(vehicle.on_roof, 1)
        ],
        "items": items,
        "most_N": max(pulls, default=0.0),
    }


def _item(assessed: ItemAssessment, number: int, cases: Cases, system: str) -> dict[str, Any]:
    item, mounted = assessed.item, assessed.mounted
    middle = item.left_of_centre_m or 0.0
    feet: list[dict[str, Any]] = []
    picks: dict[int, Pick] = {}
    shown_case: int | None = None
    if mounted is not None:
        shown_case = cases.get(number)
        if shown_case is None:
            picks = {found.mount: found for found in by_mount(mounted)}
            shown_case = worst_pull(mounted).case
        else:
            picks = {mount: pick(mounted, shown_case, mount) for mount in range(len(item.mount))}
        worst = worst_pick(mounted) if number not in cases else worst_pick(mounted, cases=[shown_case])
        for place, mount in enumerate(item.mount):
            found = picks[place]
            behind, left = item.behind_roof_front_m + mount.behind_m, middle + mount.left_m
            feet.append(
                {
                    "place": f"{assessed.place}.mount.{place + 1}",
                    "name": clean(mount.name),
                    "behind": behind,
                    "left": left,
                    "length": mount.pad.length_m,
                    "width": mount.pad.width_m,
                    "thickness": mount.foot_thickness_m or 0.0,
                    "use": found.use,
                    "level": found.level,
                    "label": _label(assessed, found, every=number not in cases),
                    "worst": place == worst.mount,
                    "where": _where(mount.behind_m, mount.left_m, system, "the item's front edge"),
                    "case": case_name(mounted.table.cases[found.case]),
                    **_pull(mounted, shown_case, place, system),
                }
            )
    return {
        "place": assessed.place,
        "name": clean(item.name),
        "word": assessed.verdict.word,
        "behind": item.behind_roof_front_m + item.length_m / 2,
        "left": middle,
        "length": item.length_m,
        "width": item.width_m,
        "gap": item.gap_m,
        "thickness": item.thickness_m,
        "where": _where(item.behind_roof_front_m, middle, system),
        "mounts": feet,
    }


def _label(assessed: ItemAssessment, found: Pick, *, every: bool) -> str:
    """Return the number beside a foot: `41 %`, `73? %`, `–`; the marks are told in the key."""
    if found.use is None or found.level == "none":
        return "–"
    told = percent(found.use)
    mark = mount_label(assessed, found) if every else ("?" if found.level == "inferred" else "")
    return told + (" ?" if "?" in mark else "") + (" –" if mark.endswith("-") else "")


def _pull(mounted: Mounted, case: int, mount: int, system: str) -> dict[str, Any]:
    along, across, pull = (at(number, (case, HIGH, mount)) for number in mounted.demands.force)
    verb = "pulls" if pull > 0.0 else "presses"
    return {
        "pull_N": pull,
        "along_N": along,
        "across_N": across,
        "pull": f"{verb} {amount(abs(pull), 'N', system)}",
    }


def _where(behind_m: float, left_m: float, system: str, front: str = "the roof's front edge") -> str:
    side = "on the centreline"
    if abs(left_m) >= 0.5e-3:
        side = f"{length(abs(left_m), system)} {'left' if left_m > 0 else 'right'} of the centreline"
    return f"{length(behind_m, system)} behind {front}, {side}"
