"""The parts of the shop: the weather before, one step at a time, the end, a form for every foot, what is due."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from staydown.assess import ItemAssessment
from staydown.foundation.counted import counted
from staydown.foundation.quantities import lasting
from staydown.making.guide import Guide, Step
from staydown.outputs.amounts import amount, length
from staydown.web.bond_parts import photo_form
from staydown.web.sheet import Node, button, el, entry, listing, sentence
from staydown.workbench.guide_steps import Run
from staydown.workbench.upkeep import ItemUpkeep

WEATHER = (
    ("surface_temperature", "Temperature of the surface", "18 degC"),
    ("air", "Temperature of the air", "20 degC"),
    ("humidity", "Humidity of the air", "55 %"),
    ("dwell_temperature", "Coldest while it dwells", "15 degC"),
)


def steps_of(guide: Guide) -> list[Step]:
    """Return every step in its order."""
    return [step for phase in guide.phases for step in phase.steps]


def begin(guide: Guide, values: Mapping[str, str], errors: Mapping[str, str]) -> list[Node]:
    """Return what is asked before the work begins."""
    fields = [
        entry(
            key,
            label,
            example=example,
            value=values.get(key, ""),
            error=errors.get(key, ""),
            may_be_unknown=True,
        )
        for key, label, example in WEATHER
    ]
    count = len(steps_of(guide))
    return [
        el("h2", f"Bond the {guide.item.name}: {guide.tape.name} on {guide.surface.name}"),
        el("p", f"{counted(count, 'step')}, one at a time. Measure first: too cold or too damp stops here."),
        el(
            "form",
            fields,
            el("p", el("button", "Begin", type="submit", class_="main big")),
            act="begin",
            key="begin",
        ),
        el(
            "details",
            el("summary", "What to have at hand"),
            listing(f"{one.what}: {one.note}" if one.note else one.what for one in guide.shopping),
        ),
    ]


def one_step(
    guide: Guide,
    run: Run,
    steps: Sequence[Step],
    current: Step,
    system: str,
    *,
    asking: bool,
    errors: Mapping[str, str],
    key: str,
    now: datetime,
) -> list[Node]:
    """Return the step that comes now, with what runs beside it."""
    place = steps.index(current) + 1
    phase = next(phase for phase in guide.phases if current in phase.steps)
    nodes: list[Node] = [
        el("p", f"Step {place} of {len(steps)}. {phase.title}", class_="soft"),
        *[
            el("p", f"Stop: the surface is {text}.", class_="stop", role="alert")
            for text in guide.window.refusals
        ],
        el("h2", sentence(current.text), class_="step"),
    ]
    if current.stop:
        nodes.append(el("p", el("strong", "Stop if "), current.stop, class_="stop"))
    if current.id == "press":
        nodes.append(_pressing(guide, system))
    nodes += _timers(guide, run, current, now)
    if asking:
        nodes.append(
            el(
                "form",
                entry("note", "Why do you go on?", kind="long", error=errors.get("note", "")),
                el("p", el("button", "Go on with this reason", type="submit", class_="big")),
                act="go_on",
                arg=current.id,
                key="going-on",
            )
        )
    else:
        if not refused(guide, run):
            nodes.append(el("p", button("Done", "done", current.id, kind="main big")))
        if current.stop or guide.window.refusals:
            nodes.append(el("p", button("It is not as it should be", "stop", current.id, kind="big")))
    nodes.append(photo_form(f"step {current.id} of {guide.item.name}", key, back="shop"))
    nodes.append(el("p", button("End the work without a bond", "give_up", kind="quiet")))
    return nodes


def refused(guide: Guide, run: Run) -> bool:
    """Return whether the roof is no place to bond on now, and nobody has written why the work goes on."""
    return bool(guide.window.refusals) and not run.notes


def _pressing(guide: Guide, system: str) -> Node:
    rows = []
    for foot in guide.feet:
        if foot.press is None:
            continue
        strips = ""
        if foot.strip is not None and foot.each is not None:
            size, force = length(float(foot.strip.value), system), amount(float(foot.each.value), "N", system)
            strips = f", in {foot.strips} strips of {size}, {force} each"
        rows.append(
            el("li", el("strong", f"{foot.name}: {amount(float(foot.press.value), 'N', system)}"), strips)
        )
    return el("ul", rows, class_="press")


def _timers(guide: Guide, run: Run, current: Step, now: datetime) -> list[Node]:
    """Return the times that run, and a button for the one that this step wants."""
    nodes: list[Node] = []
    for what, ends in run.timers.items():
        clock = ["clock", {"to": ends.timestamp(), "now": now.timestamp(), "past": "over", "key": what}, []]
        nodes.append(el("p", sentence(what), " ", clock, class_="timer", key=f"timer {what}"))
    wanted: dict[str, tuple[tuple[str, float], ...]] = {"press": (("hold", float(guide.hold.value)),)}
    if guide.primer is not None:
        dry, window = guide.primer
        wanted["primer"] = (("primer dries", float(dry.value)), ("bond within", float(window.value)))
    for what, lasts_s in wanted.get(current.id, ()):
        if what not in run.timers:
            nodes.append(
                el("p", button(f"Start: {what}, {lasting(lasts_s)}", "timer", [what, lasts_s], kind="big"))
            )
    return nodes


def finish(guide: Guide, run: Run, values: Mapping[str, str], errors: Mapping[str, str]) -> list[Node]:
    """Return the end of the work: lots, who did it, and from then on the clock of the bond."""
    fields = [
        ("lot", "Lot of the tape or adhesive", "A2291"),
        ("expires", "Best before", "2027-01-31"),
        ("held", "Held for", lasting(float(guide.hold.value))),
        ("press", "Pressed with, at the least", "240 N"),
        ("by", "Who did it", "initials"),
        ("note", "Note", ""),
    ]
    against = [f"{step}: {why}" for step, why in run.notes.items()]
    known = {key for key, *_ in fields} | {"going_on"}
    rest = [el("p", text, class_="stop", role="alert") for key, text in errors.items() if key not in known]
    return [
        el("h2", f"All steps are done: write the bond of {guide.item.name} down"),
        el("div", el("p", "Passed against a stop point:"), listing(against)) if against else el("span"),
        *rest,
        el(
            "form",
            [
                entry(
                    key,
                    label,
                    example=example,
                    value=values.get(key, ""),
                    error=errors.get(key, ""),
                    may_be_unknown=True,
                )
                for key, label, example in fields
            ],
            entry(
                "going_on",
                "Why you went on past a stop, if you did",
                value=values.get("going_on", ""),
                error=errors.get("going_on", ""),
                may_be_unknown=True,
            )
            if errors or against
            else None,
            el("p", el("button", "Bonded: start the clock", type="submit", class_="main big")),
            act="bonded",
            key="bonded",
        ),
    ]


def look_form(assessed: ItemAssessment, values: Mapping[str, str], errors: Mapping[str, str]) -> list[Node]:
    """Return a form by foot: open edges, slip, a proof pull."""
    said = [el("p", text, class_="stop", role="alert") for text in errors.values()]
    feet = []
    for number, mount in enumerate(assessed.item.mount):
        feet.append(
            el(
                "fieldset",
                el("legend", mount.name),
                [
                    entry(
                        f"{kind}.{number}",
                        f"{label} at {mount.name}",
                        example=example,
                        value=values.get(f"{kind}.{number}", ""),
                        may_be_unknown=True,
                    )
                    for kind, label, example in (
                        ("gap", "paper enters", "0 mm"),
                        ("slip", "slip of the mark", "0.2 mm"),
                        ("pull", "proof pull", "120 N"),
                    )
                ],
                key=mount.name,
            )
        )
    return [
        el("h2", f"Look at the {assessed.item.name}"),
        el(
            "p",
            "A strip of paper at every edge; the scribed mark; a pull only as hard as the due list allows.",
        ),
        *said,
        el(
            "form",
            entry(
                "closed",
                "At every edge that is not named below",
                choices=[("true", "paper enters nowhere")],
                value=values.get("closed", ""),
                may_be_unknown=True,
            ),
            feet,
            entry(
                "roof",
                "Temperature of the roof",
                example="25 degC",
                value=values.get("roof", ""),
                may_be_unknown=True,
            ),
            entry("by", "Who looked", example="initials", value=values.get("by", ""), may_be_unknown=True),
            entry("note", "Note", value=values.get("note", ""), may_be_unknown=True),
            entry(
                "going_on",
                "Why, if a pull was over its limit",
                value=values.get("going_on", ""),
                may_be_unknown=True,
            )
            if errors
            else None,
            el("p", el("button", "Write down what I saw", type="submit", class_="main big")),
            act="look",
            key="look",
        ),
    ]


def due(item: ItemUpkeep, now: datetime, system: str) -> list[Node]:
    """Return what is owed at one item, and the clock of its bond."""
    nodes: list[Node] = [el("h2", f"{item.item}: {item.word}")]
    if item.first_drive is not None and item.full is not None:
        for words, moment in (("Do not drive before", item.first_drive), ("Full strength", item.full)):
            clock = [
                "clock",
                {"to": moment.timestamp(), "now": now.timestamp(), "past": "reached", "key": words},
                [],
            ]
            nodes.append(el("p", f"{words} {moment.astimezone():%Y-%m-%d %H:%M}: ", clock, class_="timer"))
    rows = []
    for one in item.plan.dues:
        when = "" if one.at is None else f"{one.at.astimezone():%Y-%m-%d}"
        rows.append(
            el(
                "li",
                el("strong", sentence(one.what)),
                f" {when} " if when else " ",
                el("span", one.state, class_="word"),
                el("span", f" {one.why}", class_="soft") if one.why else None,
            )
        )
    nodes.append(el("ul", rows, class_="due") if rows else el("p", "Nothing is due."))
    pulls = [
        f"{one.foot}: {amount(one.allowed_N, 'N', system)}"
        if one.allowed_N is not None
        else f"{one.foot}: none: {one.why}"
        for one in item.pulls
    ]
    nodes.append(el("details", el("summary", "Proof pulls that do no harm"), listing(pulls)))
    return nodes
