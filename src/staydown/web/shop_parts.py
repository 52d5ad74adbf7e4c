"""The parts of the shop: the weather before, one step at a time, the end, a form for every foot, what is due."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from staydown.assess import ItemAssessment
from staydown.foundation.counted import counted
from staydown.foundation.quantities import lasting
from staydown.making.guide import Guide
from staydown.outputs.amounts import amount, length
from staydown.web.bond_parts import photo_form
from staydown.web.sheet import Node, button, el, entry, listing, sentence
from staydown.workbench import guide_steps as steps
from staydown.workbench.bonding import ASKED
from staydown.workbench.guide_steps import Bar, GuideStep, Passed, Run
from staydown.workbench.upkeep import ItemUpkeep

WEATHER = (
    ("surface_temperature", "Temperature of the surface", "18 degC"),
    ("air", "Temperature of the air", "20 degC"),
    ("humidity", "Humidity of the air", "55 %"),
    ("dwell_temperature", "Coldest while it dwells", "15 degC"),
)
MISSING = {"surface_temperature": "surface temperature", "air": "air temperature", "humidity": "humidity"}
OF_THE_WORK = ("run", "step", "item", "clock")  # mistakes that are told beside the step, not at a field


def item_choice(names: Sequence[str], chosen: str, runs: Mapping[str, Run]) -> Node:
    """Return the items to choose from; at which of them a guide is at work is said at each."""
    buttons = [
        el(
            "button",
            name,
            el("span", "guide at work", class_="at-work") if name in runs else None,
            act="item",
            arg=name,
            aria_pressed=str(name == chosen).lower(),
        )
        for name in names
    ]
    return el("div", buttons, class_="items", role="group", aria_label="Which item")


def begin(guide: Guide, values: Mapping[str, str], errors: Mapping[str, str]) -> list[Node | None]:
    """Return what is asked before the work begins."""
    count = len(steps.steps_of(guide)) + 1
    return [
        el("h2", f"Bond the {guide.item.name}: {guide.tape.name} on {guide.surface.name}"),
        el("p", f"{counted(count, 'step')}, one at a time. Measure first: too cold or too damp stops here."),
        el(
            "form",
            _weather(WEATHER, values, errors),
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


def _weather(
    asked: Iterable[tuple[str, str, str]], values: Mapping[str, str], errors: Mapping[str, str]
) -> list[Node]:
    return [
        entry(
            key,
            label,
            example=example,
            value=values.get(key, ""),
            error=errors.get(key, ""),
            may_be_unknown=True,
        )
        for key, label, example in asked
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepForm:
    """What stands in the forms of a step: what is asked for, what was typed, what is wrong with it, what became so.

    asked_at: the step at which it was asked for, which may be another by now.
    """

    asking: str
    asked_at: Mapping[str, Any]
    values: Mapping[str, str]
    errors: Mapping[str, str]
    said: str


def one_step(
    guide: Guide, run: Run, system: str, form: StepForm, *, key: str, now: datetime
) -> list[Node | None]:
    """Return the step that is open, what keeps it from being done, and what runs beside it."""
    every, current = steps.steps_of(guide), steps.open_step(guide, run)
    assert current is not None, "the page shows the end where no step is open"
    bars = steps.bars_at(guide, run, now)
    at = {"run": run.seq, "step": current.key}
    step, place = current.step, every.index(current)
    waits = any(bar.about in (steps.DRIES, steps.HOLD) for bar in bars)
    # measuring is the way on where nothing was measured, else it stands below
    on = (_answers(current, bars, at, form, back=place > 0), [_measure(guide, run, bars, at, form)])
    said = form.said if not waits else f"{form.said} Another runs or is still to start." if form.said else ""
    return [
        el("p", f"Step {place + 1} of {len(every) + 1}. {current.phase}", class_="soft"),
        el("h2", sentence(step.text), class_="step", tabindex="-1", focus="lost", key=f"step {current.key}"),
        el("p", el("strong", "Stop if "), step.stop, class_="stop", key="stop if") if step.stop else None,
        *_clocks(guide, run, current, at, system, now),
        el("p", said, class_="said", role="status", key="said"),
        el("div", [_bar(bar) for bar in bars], key="bars") if bars else None,
        *[_passed(one) for one in run.passed if one.stands and one.about not in steps.OF_A_STEP],
        *(on[::-1] if any(bar.about.startswith(steps.NOT_MEASURED) for bar in bars) else on),
        photo_form(f"step {current.key} of {guide.item.name}", key, back="shop"),
        *_leave(at, ending=form.asking == "end", back=place > 0),
    ]


def _bar(bar: Bar) -> Node:
    """Return what keeps the step from being done."""
    before = "Wait" if bar.about in (steps.DRIES, steps.HOLD) else "Stop"
    if bar.about in (steps.DRIES, steps.HOLD):  # the clocks above say how long is left
        text = f"{'the clock runs' if bar.ends is not None else bar.hint}; until then this step is not done."
    else:
        text = f"{bar.rule}: {bar.hint}."
    return el("p", el("strong", f"{before}: "), text, class_="stop", role="alert", key=bar.about)


def _passed(one: Passed) -> Node:
    return el(
        "p", el("strong", "Stop passed: "), f"{one.rule}. Reason: {one.why}", class_="stop", key=one.about
    )


def _answers(
    current: GuideStep, bars: Sequence[Bar], at: Mapping[str, Any], form: StepForm, *, back: bool
) -> list[Node | None]:
    """Return the ways on: done, start over, or a reason."""
    moved = form.asked_at != at
    if form.asking in ("stop", "bars") and (bars or form.asking == "stop" or moved):
        return [
            el(
                "form",
                entry(
                    "note",
                    "Why do you go on?",
                    words="It stays in the record of this bond.",
                    kind="long",
                    value=form.values.get("note", ""),
                    error=form.errors.get("note", ""),
                ),
                el("p", el("button", "Go on with this reason", type="submit", class_="big")),
                act="go_on",
                arg=form.asked_at,
                key="going-on",
            ),
            el("p", button("Never mind", "ask", {**at, "what": ""}, kind="quiet")),
        ]
    again = back and any(bar.about == steps.WITHIN for bar in bars)
    return [
        el("p", button("Done", "done", at, kind="main big"), class_="thumb", key=f"done {current.key}")
        if not bars
        else None,
        el("p", button("Make the surface anew", "wipe", at, kind="main big"), key="anew") if again else None,
        el("p", button("Go on all the same", "ask", {**at, "what": "bars"}, kind="big"), key="all the same")
        if bars
        else None,
        el("p", button("It is not as it should be", "ask", {**at, "what": "stop"}, kind="big"), key="not so")
        if current.step.stop
        else None,
    ]


def _measure(
    guide: Guide, run: Run, bars: Sequence[Bar], at: Mapping[str, Any], form: StepForm
) -> Node | None:
    """Return a form for what was not measured; where all was, one to measure anew, folded."""
    missing = [one for one in WEATHER if one[0] in MISSING and MISSING[one[0]] in guide.window.missing]
    shown = {**run.weather, **form.values}
    wanted = any(bar.about.startswith(steps.NOT_MEASURED) for bar in bars)
    said = ", ".join(guide.window.missing)
    inner = el(
        "form",
        _weather(missing or WEATHER, shown, form.errors),
        el("p", el("button", "Use what I measured", type="submit", class_="main big" if wanted else "big")),
        act="measured",
        arg=at,
        key="measured",
    )
    if wanted:
        return el("section", inner, aria_label="What was not measured", key="measure")
    words = f"Not measured yet: {said}" if said else "Measure the weather again"
    wrong = any(key in form.errors for key, *_ in WEATHER)
    return el("details", el("summary", words), inner, open=wrong or None, key="measure")


def _leave(at: Mapping[str, Any], *, ending: bool, back: bool) -> list[Node | None]:
    if ending:
        return [
            el("p", "What was done stays in the logbook; the guide begins at its first step next time."),
            el(
                "p",
                button("Yes, end it without a bond", "give_up", at, kind="big"),
                key="give up",
            ),
            el("p", button("No, go on with the work", "ask", {**at, "what": ""}, kind="big"), key="go on"),
        ]
    return [
        el("p", button("Back to the step before", "back", at, kind="quiet"), key="back") if back else None,
        el("p", button("End the work without a bond", "ask", {**at, "what": "end"}, kind="quiet"), key="end"),
    ]


def _clocks(
    guide: Guide, run: Run, current: GuideStep, at: Mapping[str, Any], system: str, now: datetime
) -> list[Node | None]:
    """Return the clocks of the step, each with its button; then those of steps before that still run."""
    wanted = dict(steps.clocks_at(guide, current))
    rest = [what for what, ends in run.timers.items() if what not in wanted and ends > now]
    nodes: list[Node | None] = []
    if current.step.id == "press":
        nodes.append(el("ul", _feet(guide, run, wanted, at, system, now), class_="press", key="feet"))
    elif wanted and not any(what in run.timers for what in wanted):
        words = " and ".join(f"{what}, {lasting(lasts_s)}" for what, lasts_s in wanted.items())
        start = button(f"Start: {words}", "clock", {**at, "what": ""}, kind="main big")
        nodes.append(el("p", start, class_="thumb", key="start"))
    else:
        nodes += [_clock(what, run.timers[what], now) for what in wanted if what in run.timers]
    return [*nodes, *(_clock(what, run.timers[what], now) for what in rest)]


def _clock(what: str, ends: datetime, now: datetime) -> Node:
    clock = ["clock", {"to": ends.timestamp(), "now": now.timestamp(), "past": "over", "key": what}, []]
    return el("p", sentence(what), " ", clock, class_="timer", key=f"timer {what}")


def _feet(
    guide: Guide, run: Run, wanted: Mapping[str, float], at: Mapping[str, Any], system: str, now: datetime
) -> list[Node]:
    """Return each foot with the force that presses it and the clock for which it is held."""
    rows = []
    for foot in guide.feet:
        if foot.press is None:
            continue
        strips, what = "", f"{steps.HOLD} {foot.name}"
        if foot.strip is not None and foot.each is not None:
            size, force = length(float(foot.strip.value), system), amount(float(foot.each.value), "N", system)
            strips = f", in {foot.strips} strips of {size}, {force} each"
        clock: Node | None = None
        if what in wanted:
            ends, lasts = run.timers.get(what), lasting(wanted[what])
            if ends is None:
                clock = button(f"Start: {what}, {lasts}", "clock", {**at, "what": what}, kind="big")
            elif ends > now:
                clock = _clock(what, ends, now)
            else:
                clock = el(
                    "p",
                    el("strong", f"Held {lasts}."),
                    " ",
                    button(
                        "Once more",
                        "clock",
                        {**at, "what": what, "again": True},
                        aria_label=f"Once more: {what}, {lasts}",
                    ),
                )
        force_text = amount(float(foot.press.value), "N", system)
        rows.append(el("li", el("strong", f"{foot.name}: {force_text}"), strips, clock, key=what))
    return rows


def finish(
    guide: Guide, run: Run, values: Mapping[str, str], errors: Mapping[str, str], *, ending: bool
) -> list[Node | None]:
    """Return the end of the work: lots, who did it, and from then on the clock of the bond."""
    held = lasting(float(guide.hold.value))
    shown = ({"held": held} if steps.held_all(guide, run) else {}) | dict(values)
    fields = (
        ("lot", "Lot of the tape or adhesive", "A2291"),
        ("expires", "Best before", "2027-01-31"),
        ("held", "Each pad held for", held),
        ("press", "Pressed with, at the least", "240 N"),
    )
    at = {"run": run.seq, "step": ""}
    number = len(steps.steps_of(guide)) + 1
    pressed = steps.pressed_at(guide, run)
    since = f" The clock of the bond runs since {pressed.astimezone():%H:%M}." if pressed is not None else ""
    dwell = [one for phase in guide.phases for one in phase.steps if one.id == "dwell"]
    known = {key for key, *_ in fields} | {"by", "note", "going_on"}
    rest = [
        el("p", text, class_="stop", role="alert", key=key)
        for key, text in errors.items()
        if key not in known and key not in OF_THE_WORK
    ]
    passed = listing(f"{one.rule}. Reason: {one.why}" for one in run.passed)
    return [
        el("p", f"Step {number} of {number}. Write it down", class_="soft"),
        el(
            "h2",
            f"All feet are pressed: write the bond of {guide.item.name} down",
            class_="step",
            tabindex="-1",
            focus="lost",
            key="end",
        ),
        *[el("p", f"{one.text}{since}") for one in dwell],
        el("section", el("h3", "Stops that were passed: they go into the record"), passed, key="passed")
        if passed is not None
        else None,
        el("div", rest, key="rest") if rest else None,
        el(
            "form",
            [
                entry(
                    key,
                    label,
                    words=sentence(ASKED[key].partition(": ")[0]),
                    example=example,
                    value=shown.get(key, ""),
                    error=errors.get(key, ""),
                    may_be_unknown=True,
                    cost=f"{sentence(ASKED[key].partition(': ')[2])}.",
                    sent="unknown",
                )
                for key, label, example in fields
            ],
            entry(
                "by", "Who did it", example="initials", value=shown.get("by", ""), error=errors.get("by", "")
            ),
            entry(
                "note",
                "Note",
                value=shown.get("note", ""),
                error=errors.get("note", ""),
                kind="long",
                may_be_unknown=True,
                cost="It costs nothing.",
            ),
            entry(
                "going_on",
                "Why you go on past this stop",
                value=shown.get("going_on", ""),
                error=errors.get("going_on", ""),
                kind="long",
            )
            if "going_on" in errors or shown.get("going_on")
            else None,
            el("p", el("button", "Bonded: start the clock", type="submit", class_="main big")),
            act="bonded",
            arg=at,
            key="bonded",
        ),
        *_leave(at, ending=ending, back=False),
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
