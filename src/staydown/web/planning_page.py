"""Planning values: what this job takes for granted, what each does to the use, a value of one's own in its place."""

from __future__ import annotations

from collections.abc import Sequence

from nicegui import background_tasks, run

from staydown.advice.assumptions import Assumption
from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.outputs import dossier_pictures
from staydown.outputs.assumption_text import LEAST_SWING, ends_text, value_text
from staydown.storage.read_planning import ENDS
from staydown.web import planning_parts as parts
from staydown.web.frame import JobPage, words_of
from staydown.web.sheet import Act, Node, el, picture, told, wide_table
from staydown.workbench.desk import Answer
from staydown.workbench.planning import (
    PlanningLine,
    Weights,
    echo_of_end,
    library_changes,
    override_changes,
    planning_lines,
    weigh,
)


class PlanningPage(JobPage):
    """What nobody typed and the method needs; each value can be replaced, and goes back to the library's."""

    slug = "planning"
    title = "Planning values"

    def build(self) -> None:
        """Make the page's sheet."""
        self.asking = ""  # the value whose form is open
        self.values: dict[str, str] = {}
        self.errors: dict[str, str] = {}
        self.weights: tuple[str, Weights] | None = None
        self._weighing = ""
        super().build()

    def show(self, answer: Answer) -> None:
        """Show the values of one's own, then those that move the answer most, then all others."""
        key = self._key()
        weights = None if self.weights is None else self.weights[1]
        if (self.weights is None or self.weights[0] != key) and self._weighing != key:
            self._weighing = key
            background_tasks.create(self._weigh(key, answer))
        lines = planning_lines(answer, self.desk.cards, self.desk.text, weights)
        own = [one for one in lines if one.own]
        rest = [one for one in lines if not one.own]
        used = sorted((one for one in rest if one.effects), key=lambda one: -one.swing)
        moving = [one for one in used if one.swing >= LEAST_SWING]
        still = [one for one in used if one.swing < LEAST_SWING]
        other = [one for one in rest if not one.effects]
        self.sheet.show(
            el("h1", "Planning values"),
            el(
                "p",
                "What the answer rests on and nobody measured here. Each has a low, a likely and a high value, and the "
                "one in bold counts. If you know better, put your own value and where it comes from in its place.",
                class_="second",
            ),
            self._section("Your own values", own, "None yet: everything below is the library's."),
            self._moving(answer, weights, moving),
            self._folded("Used, and moves nothing that is shown", still) if weights is not None else None,
            self._folded(
                "Not weighed: for confidence, dwell, upkeep, retention, the plan of tests, and what this job has not",
                other,
            )
            if weights is not None
            else None,
            _of_cards(weights.assumptions, answer.job.job.show) if weights is not None else None,
        )

    def _key(self) -> str:
        return f"{self.desk.text}{self.desk.coupons!r}"

    async def _weigh(self, key: str, answer: Answer) -> None:
        weights = await run.io_bound(weigh, answer, self.desk.cards)
        if weights is not None:
            self.weights = (key, weights)
            self.refresh()

    def _moving(self, answer: Answer, weights: Weights | None, moving: Sequence[PlanningLine]) -> Node:
        title = "What moves the answer most"
        if weights is None:
            return parts.band(title, el("p", "Being weighed: each is tried at its low and at its high end."))
        several = len(answer.assessment.items) > 1
        drawn, _ = dossier_pictures.assumptions(
            answer.assessment, weights.assumptions, several=several, narrow=self.narrow
        )
        none = "None of them moves the use, or nothing is proven yet that could be used."
        return parts.band(
            title,
            picture(
                drawn,
                "The use at the low and at the high end of each; 100 % is all that is proven.",
            ),
            self._list(moving) if moving else el("p", none),
        )

    def _section(self, title: str, lines: Sequence[PlanningLine], none: str) -> Node:
        return parts.band(title, self._list(lines) if lines else el("p", none, class_="soft"))

    def _folded(self, title: str, lines: Sequence[PlanningLine]) -> Node | None:
        if not lines:
            return None
        here = any(one.id == self.asking for one in lines)
        inside = el("details", el("summary", f"Show {len(lines)}"), self._list(lines), open=here or None)
        return parts.band(title, inside)

    def _list(self, lines: Sequence[PlanningLine]) -> Node:
        rows = [
            parts.form_row(one, self.values, self.errors) if one.id == self.asking else parts.row(one)
            for one in lines
        ]
        return el("ul", rows, class_="values")

    # doing -----------------------------------------------------------------------------------------------------------

    def do_ask(self, act: Act) -> None:
        """Open the form of a value, with what stands in the job; or close it."""
        self.asking, self.errors = act.arg or "", {}
        self.sheet.forget_replies()
        lines = planning_lines(self.answer(), self.desk.cards, self.desk.text, None)
        self.values = next((dict(one.typed) for one in lines if one.id == self.asking), {})

    def do_typing(self, act: Act) -> None:
        """Answer an end that is being typed: what is read of it, or what is wrong with it."""
        name, text = act.arg.get("name"), act.arg.get("text", "")
        if name not in ENDS or not self.asking or not text.strip():
            return
        try:
            self.sheet.reply(name, text, echo=echo_of_end(self.desk.cards, self.asking, text))
        except UnreadableValue as error:
            self.sheet.reply(name, text, error=words_of(error))

    def do_own(self, act: Act) -> None:
        """Put a value of one's own in place of the library's; what is wrong is told at its field."""
        self.values = {key: text.strip() for key, text in act.values.items()}
        self.errors = {}
        try:
            changes = override_changes(self.desk.text, self.desk.cards, act.arg, self.values)
            if changes:
                self.change(changes, f"{act.arg} to your own value")
        except BadInput as error:
            self.sheet.forget_replies()
            for one in error.findings:
                end = one.key.rpartition(".")[2]
                place = end if end in (*ENDS, "source") and one.key != act.arg else ""
                # at its field the place is plain and the value stands in it
                shown = (
                    told(one) if place else f"{one.key}{f' = {one.value}' if one.value else ''}: {told(one)}"
                )
                self.errors[place] = " ".join(text for text in (self.errors.get(place, ""), shown) if text)
            return
        self.asking, self.values = "", {}
        self.notice = f"{act.arg} is your own value now. Undo brings the library's back."

    def do_library(self, act: Act) -> None:
        """Bring the library's value back."""
        changes = library_changes(self.desk.text, act.arg)
        if changes:
            self.change(changes, f"{act.arg} back to the library's value")
        self.asking = ""
        self.notice = f"{act.arg} is the library's value again."


def _of_cards(assumptions: Sequence[Assumption], system: str) -> Node | None:
    """Return what comes from cards of materials, colours and products: replaced in the details, by measuring."""
    shown: dict[str, Assumption] = {}
    for one in sorted(assumptions, key=lambda one: -one.swing):
        if one.basis == "published" or " " in one.id:
            shown.setdefault(one.id, one)
    if not shown:
        return None
    body = [
        el(
            "tr",
            el("th", one.what, el("br"), el("small", one.id, class_="soft"), scope="row"),
            el("td", value_text(one, system)),
            el("td", ends_text(one) if one.basis != "published" else "narrow, not weighed"),
            el("td", f"{one.basis}: {one.source}", class_="wraps"),
        )
        for one in shown.values()
    ]
    heads = ("what", "low / likely / high", "use at its ends", "source")
    return parts.band(
        "From the cards of materials, colours and products",
        el(
            "p",
            "Type your own in the details: the absorptance of the roof, the moduli of the tape, the material.",
            class_="soft",
        ),
        el(
            "details",
            el("summary", f"Show {len(shown)}"),
            wide_table("Values of cards", heads, body),
            class_="found",
        ),
    )
