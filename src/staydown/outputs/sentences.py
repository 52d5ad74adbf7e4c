"""The sentences a worried person reads first: will it stay on, and what decides."""

from __future__ import annotations

from staydown.assess import ItemAssessment, Mounted
from staydown.foundation.numbers import at
from staydown.foundation.quantities import lasting
from staydown.outputs.amounts import amount, case_name, percent
from staydown.outputs.most_used import Pick, pick, pulling_cases, worst_pick
from staydown.outputs.waterfall import tension_answer
from staydown.verdict.verdict import Word

LEADS: dict[Word, str] = {
    "NO": "Do not drive with it like this.",
    "NOT PROVEN": "What you have shown so far is not enough to say that it stays on.",
    "GO WITH CONDITIONS": "What you have proven carries it, as long as every condition below is kept.",
    "GO": "What you have proven carries it.",
}


def worst_pull(mounted: Mounted) -> Pick:
    """Return what decides among the cases in which a force acts."""
    return worst_pick(mounted, cases=pulling_cases(mounted))


def lead_sentences(assessed: ItemAssessment, system: str) -> list[str]:
    """Return the paragraphs of the answer on one item: the word in plain language, then what decides it."""
    mounted = assessed.mounted
    if mounted is None:
        return [LEADS[assessed.verdict.word]]
    top = mounted.governing
    decides = pick(mounted, top.case, top.mount)
    paragraphs = [LEADS[assessed.verdict.word]]
    if mounted.table.cases[top.case].family == "soak":
        heat = _heat(mounted, decides) if decides.heat_only else _bow(mounted, decides, system)
        paragraphs.append(heat)
        decides = worst_pull(mounted)
    paragraphs.append(_force(mounted, decides, system))
    return paragraphs


def _heat(mounted: Mounted, found: Pick) -> str:
    """Say how far heat moves the worst pad; the shear strain is over the tape's thickness."""
    name = mounted.demands.mounts[found.mount]
    strain = at(mounted.thermal.strain, (0, 0, found.mount))
    use = "" if found.use is None else f"{percent(found.use)} of what such a tape is taken to stand daily"
    head = "Heat alone is too much" if found.use is not None and found.use > 1.0 else "Heat uses it most"
    return (
        f"{head}: between hot and cold the tape under {name} is sheared each way by {percent(strain)} of its "
        f"thickness, {use}."
    )


def _bow(mounted: Mounted, found: Pick, system: str) -> str:
    """Say what the bow of an item pulls at the worst pad for as long as the sun shines."""
    case, name = mounted.table.cases[found.case], mounted.demands.mounts[found.mount]
    told = f"{amount(found.peak_Pa, 'Pa', system)} at the pad's edge under {name}"
    lasts = f"for {lasting(case.exposure.lasts_s)} at {amount(found.temperature_K, 'K', system)}"
    return (
        "Heat uses it most: its top hotter than its underside, the item would bow, and its mounts hold it down. That "
        f"pulls {told}, {lasts}: {_against(mounted, found)}"
    )


def _force(mounted: Mounted, found: Pick, system: str) -> str:
    case = mounted.table.cases[found.case]
    where = f"{amount(found.temperature_K, 'K', system)}"
    head = "Worst load" if _sheared(found) else "Worst pull"
    worst = f"{head}: {mounted.demands.mounts[found.mount]}, {case_name(case)}."
    lasts = f"for {lasting(case.exposure.lasts_s)} at {where}"
    return f"{worst} {_load(found, system)}, {lasts}: {_against(mounted, found)}"


def _load(found: Pick, system: str) -> str:
    """Say how the mount is loaded: pulled, tipped though pressed, or pushed along the roof."""
    peak, along = amount(found.peak_Pa, "Pa", system), amount(found.across_N, "N", system)
    if found.peak_Pa <= 0.0 and found.across_N == 0.0:
        return "Nothing pulls at it"
    if _sheared(found):
        pulled = f" and pulls {amount(found.pull_N, 'N', system)}" if found.pull_N > 0.0 else ""
        return f"It pushes {along} along the roof{pulled}, {amount(found.shear_Pa, 'Pa', system)} in shear"
    if found.pull_N > 0.0:
        return f"It pulls {amount(found.pull_N, 'N', system)}, {peak} at the pad's edge"
    return f"It presses on the whole but tips the pad, {peak} at its edge"


def _sheared(found: Pick) -> bool:
    """Return whether a mount is pushed along the roof more than it is pulled off it, each over what is proven."""
    return found.peak_Pa <= 0.0 or found.shear_use > found.tension_use


def _against(mounted: Mounted, found: Pick) -> str:
    if found.use is None or found.level == "none":
        answer = tension_answer(mounted, found)
        why = "no coupon was pulled in tension on this surface" if answer is None else answer.because
        return f"nothing of yours proves that ({why})."
    same = found.likely_use is None or percent(found.likely_use) == percent(found.use)
    likely = "" if same else f" With every assumption at its likely value it is {percent(found.likely_use)}."
    if mounted.checks.shear_inferred and _sheared(found):
        likely += " Nobody tested it in shear: that is taken as a share of the straight pulls."
    if found.level == "inferred":
        return f"{percent(found.use)} of what your tests let one expect, but none of them is such a test.{likely}"
    over = ", more than is proven" if found.use > 1.0 else ""
    return f"{percent(found.use)} of what your tests prove{over}.{likely}"
