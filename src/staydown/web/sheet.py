"""A page's content as a tree of tags and texts, and the component that shows it: text stays text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from nicegui.element import Element

from staydown.foundation.findings import Finding
from staydown.pictures.picture import Picture
from staydown.workbench.edit_job import FormField

Node = list[Any]  # [tag, attributes, children]
Child = Node | str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """What a person did: the name of the action, its argument, the values of a form."""

    name: str
    arg: Any
    values: Mapping[str, str]


class Sheet(Element, component="static/sheet.js"):
    """A part of a page; `show` sends a tree, and only where it says something new.

    tells_seen: it does the actions `seen`, with whether anybody can see the tab, and `narrow`, with whether it is as
    narrow as a phone, whenever that changes.
    """

    def __init__(self, on_act: Callable[[Act], Any], *, tells_seen: bool = False) -> None:
        super().__init__()
        self._props.update(tree=[], replies={}, tellsSeen=tells_seen)
        self.on("act", lambda event: on_act(Act(**event.args)))

    def show(self, *nodes: Child | Iterable[Child]) -> None:
        """Show a tree in place of what was shown."""
        tree = flat(nodes)
        if tree != self._props["tree"]:
            self._props["tree"] = tree
            self.update()

    def reply(self, place: str, typed: str, echo: str = "", error: str = "", cost: str = "") -> None:
        """Answer a field: what was read of the text in it, what is wrong with it, or what not knowing it costs."""
        self._props["replies"] = {
            **self._props["replies"],
            place: {"typed": typed, "echo": echo, "error": error, "cost": cost},
        }
        self.update()

    def forget_replies(self) -> None:
        """Take all answers to fields back."""
        if self._props["replies"]:
            self._props["replies"] = {}
            self.update()


def flat(children: Iterable[Any]) -> list[Any]:
    """Return children in one list, lists of nodes opened, None left out."""
    found: list[Any] = []
    for child in children:
        if child is None:
            continue
        if isinstance(child, str) or (isinstance(child, list) and child and isinstance(child[0], str)):
            found.append(child)
        elif isinstance(child, Iterable):
            found.extend(flat(child))
        else:
            raise TypeError(f"{child!r} is no node")
    return found


def el(tag: str, *children: Any, **attributes: Any) -> Node:
    """Return a node; `class_` is class, `aria_label` is aria-label, None leaves an attribute out."""
    named = {
        key.rstrip("_").replace("_", "-"): value for key, value in attributes.items() if value is not None
    }
    return [tag, named, flat(children)]


def button(words: str, act: str, arg: Any = None, *, kind: str = "", **attributes: Any) -> Node:
    """Return a button that does what it says. kind: `main`, `quiet`, `big` or none."""
    return el("button", words, act=act, arg=arg, class_=kind or None, **attributes)


def why(words: str, path: str, *, label: str = "") -> Node:
    """Return a number that opens its trail."""
    name = f"{label or words}: where it comes from"
    return el(
        "button", words, act="why", arg=path, class_="why", aria_label=f"{words}, {name}" if label else name
    )


def picture(one: Picture | None, caption: str = "", *, class_: str = "") -> Node | None:
    """Return a drawing of ours, whose texts are escaped where it is drawn."""
    if one is None or not one.svg:
        return None
    return ["picture", {"svg": one.svg, "caption": caption, "class": class_}, []]


def stacked(heads: Iterable[str], rows: Iterable[Node], *, class_: str = "") -> Node:
    """Return a table whose rows stand under each other on a phone, each cell with its head.

    heads: the first stands over the rows' names. rows: of `tr`, whose cells get the names of their columns. The roles
    are written out because a browser forgets them where a table is laid out as blocks.
    """
    columns = list(heads)
    body = []
    for tag, given, cells in rows:
        named = []
        for column, (cell, attributes, inside) in zip(columns, cells, strict=True):
            role = "rowheader" if cell == "th" else "cell"
            named.append([cell, {"data-head": column, "role": role, **attributes}, inside])
        body.append([tag, {"role": "row", **given}, named])
    head = el("tr", [el("th", words, scope="col", role="columnheader") for words in columns], role="row")
    return el(
        "table",
        el("thead", head, role="rowgroup"),
        el("tbody", body, role="rowgroup"),
        role="table",
        class_=f"stacked {class_}".strip(),
    )


def wide_table(title: str, heads: Iterable[str], rows: Iterable[Node]) -> Node:
    """Return a table of many columns, which scrolls by itself where it is wider than the page."""
    table = stacked(heads, rows, class_="many")
    return el("div", table, class_="wide", tabindex="0", role="region", aria_label=title)


def field(one: FormField, *, error: str = "", cost: str = "") -> Node:
    """Return a field of the job that saves itself."""
    attributes = {
        "key": one.place,
        "place": one.place,
        "label": one.label,
        "words": one.words,
        "example": one.example,
        "value": one.typed,
        "echo": one.echo,
        "error": error,
        "choices": [list(pair) for pair in one.choices],
        "unknown": one.unknown,
        "mayBeUnknown": one.may_be_unknown,
        "cost": cost,
    }
    return ["field", attributes, []]


def entry(
    name: str,
    label: str,
    *,
    words: str = "",
    example: str = "",
    value: str = "",
    choices: Iterable[tuple[str, str]] = (),
    error: str = "",
    kind: str = "",
    may_be_unknown: bool = False,
    cost: str = "",
    sent: str = "",
) -> Node:
    """Return a field of a form that is sent as a whole.

    may_be_unknown: with a button that says so. cost: what that costs; else the page is asked (`JobPage.cost_in_form`).
    sent: the text that is sent where it was said, empty where an empty field means the same.
    """
    attributes = {
        "key": name,
        "name": name,
        "label": label,
        "words": words,
        "example": example,
        "value": value,
        "error": error,
        "choices": [list(pair) for pair in choices],
        "plain": True,
        "kind": kind,
        "mayBeUnknown": may_be_unknown,
        "cost": cost,
        "sent": sent,
    }
    return ["field", attributes, []]


def listing(texts: Iterable[str], *, numbered: bool = False, class_: str = "") -> Node | None:
    """Return a list of sentences, None where there are none."""
    items = [el("li", sentence(text)) for text in texts]
    return el("ol" if numbered else "ul", items, class_=class_ or None) if items else None


def sentence(text: str) -> str:
    """Return a text that starts with a capital letter."""
    return text[:1].upper() + text[1:]


def told(finding: Finding) -> str:
    """Return what is wrong and what would be right."""
    text = sentence(finding.rule) + (f": {finding.hint}" if finding.hint else "")
    return text if text.endswith((".", "?", "!")) else f"{text}."
