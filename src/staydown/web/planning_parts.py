"""The parts of the planning values: one value with its ends, its effect and its source; the form of one's own."""

from __future__ import annotations

from collections.abc import Mapping

from staydown.outputs.amounts import percent
from staydown.storage.read_planning import ENDS
from staydown.web.sheet import Node, button, el, entry, sentence
from staydown.workbench.planning import Effect, PlanningLine


def band(title: str, *children: Node | None) -> Node:
    """Return a section of the page."""
    return el("section", el("h2", title), list(children), class_="band", aria_label=title, key=title)


def row(line: PlanningLine) -> Node:
    """Return one planning value."""
    words = "Change it" if line.own else "Use my own"
    buttons = [button(words, "ask", line.id, aria_label=f"{words}: {line.id}")]
    if line.own:
        words = "Back to the library's"
        buttons.append(button(words, "library", line.id, aria_label=f"{words}: {line.id}"))
    return el("li", _about(line), _effects(line), el("p", buttons, class_="row"), key=line.id)


def form_row(line: PlanningLine, values: Mapping[str, str], errors: Mapping[str, str]) -> Node:
    """Return one planning value with the form of one's own."""
    labels = {"low": "low", "likely": "likely, or the one value", "high": "high"}
    fields = [
        entry(
            key,
            labels[key],
            example=example,
            value=values.get(key, ""),
            error=errors.get(key, ""),
            may_be_unknown=key != "likely",
            cost="With both ends left out the one in the middle counts for all three: no doubt is kept.",
        )
        for key, example in zip(ENDS, line.examples, strict=True)
    ]
    form = el(
        "form",
        el(
            "p",
            "If you know one figure only, type it in the middle and leave the others empty: it counts for all three.",
            class_="soft",
        ),
        el("p", errors[""], class_="error", role="alert") if errors.get("") else None,
        el("div", fields, class_="fields"),
        entry(
            "source",
            "where it comes from",
            words="a measurement of yours, a standard, a report: it stands beside the value in every paper",
            example="three runs on a closed road, May",
            value=values.get("source", ""),
            error=errors.get("source", ""),
            may_be_unknown=True,
            cost="Nothing in the answer; every paper says that no source was given.",
        ),
        el(
            "p",
            el("button", "Use this value", type="submit", class_="main"),
            button("Back to the library's", "library", line.id) if line.own else None,
            button("Never mind", "ask", "", kind="quiet"),
            class_="row",
        ),
        act="own",
        arg=line.id,
        key="form",
    )
    return el("li", _about(line), _effects(line), form, key=line.id, class_="open")


def _about(line: PlanningLine) -> Node:
    return el(
        "div",
        el("h3", sentence(line.what)),
        el("p", el("code", line.id), class_="soft"),
        _ends(line),
        el("p", f"{'Your own' if line.own else sentence(line.basis)}: {line.source}", class_="source"),
        class_="about",
    )


def _ends(line: PlanningLine) -> Node:
    """Return the ends, the one that counts in bold, and the library's beside one's own."""
    nodes = [el("p", _told(line.ends, line.decided_on), class_="ends")]
    if line.own:
        nodes.append(el("p", "The library has ", _told(line.library, line.decided_on), ".", class_="soft"))
    return el("div", nodes)


def _told(ends: tuple[str, str, str], decided_on: str) -> list[Node | str]:
    if len(set(ends)) == 1:
        return [el("strong", ends[0]), " "]
    shown: list[Node | str] = []
    for name, text in zip(ENDS, ends, strict=True):
        tag = "strong" if name == decided_on else "span"
        shown += [*([" / "] if shown else []), el(tag, text)]
    return [*shown, el("small", f" low / likely / high, {decided_on} counts", class_="soft")]


def _effects(line: PlanningLine) -> Node:
    """Return what the value does to the use of each item, in words."""
    if not line.effects:
        return el("p", "", class_="effects")
    return el(
        "ul", [el("li", el("b", one.item), ": ", _effect(one)) for one in line.effects], class_="effects"
    )


def _effect(one: Effect) -> str:
    if one.use_with_library is not None:
        told = f"use {percent(one.use_now)}; with the library's {percent(one.use_with_library)}"
        if one.use_at_low != one.use_at_high:
            told += (
                f"; {percent(one.use_at_low)} at your low end, {percent(one.use_at_high)} at your high end"
            )
        return told
    if one.use_at_low is None or one.use_at_high is None:
        return (
            "one fixed value: not weighed"
            if one.use_now is not None
            else "effect not known: nothing is proven"
        )
    if percent(one.use_at_low) == percent(one.use_at_high):
        return f"moves nothing: use {percent(one.use_now)} either way"
    return f"use {percent(one.use_at_low)} at its low end, {percent(one.use_at_high)} at its high end"
