"""Papers: what is printed, handed on or kept, what of it cannot be made, and what it lacks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlencode

from staydown.foundation.errors import BadInput
from staydown.web.frame import JobPage
from staydown.web.sheet import Act, Node, button, el, entry, listing, sentence, told
from staydown.workbench.desk import Answer
from staydown.workbench.guide_steps import runs_of
from staydown.workbench.item_papers import MEASURED, ItemSheet, ItemSheets, sheets_of
from staydown.workbench.papers import PAPERS
from staydown.workbench.unknown_costs import cost_in_weather
from staydown.workbench.upkeep import dates_of, upkeep_in

DOSSIER = ("dossier-a4.pdf", "dossier-letter.pdf", "dossier.html")
GROUPS = (
    ("To read and to work with", ("answer.txt", "answer.json", "coupons.csv", "logbook.json", "job.toml")),
    ("To move the job to another machine", ("job.zip",)),
)
FIRST_GAPS = 3  # of what a paper lacks stand open, the rest is folded


class PapersPage(JobPage):
    """Every paper of the job, made when it is fetched."""

    slug = "papers"
    title = "Papers"
    prints = True

    def build(self) -> None:
        """Make the page's sheet."""
        self.measured: dict[str, str] = {}
        self.values: dict[str, str] = {}  # as they stand in the form, wrong ones too
        self.errors: dict[str, str] = {}
        super().build()

    def show(self, answer: Answer) -> None:
        """Show what there is."""
        begun = {name: run.weather for name, run in runs_of(self.desk.folder).items()}
        self.sheet.show(
            el("h1", "Papers"),
            el(
                "p",
                f"Each is made when you fetch it, from the job as it stands: {answer.assessment.word}. "
                "A dossier takes some seconds.",
                class_="second",
            ),
            self._group("The dossier: to print and hand on", DOSSIER),
            [self._item(one, begun.get(one.item, {})) for one in sheets_of(answer, self.measured)],
            self._measured(),
            self._dates(answer),
            [self._group(title, names) for title, names in GROUPS],
        )

    def _group(self, title: str, names: Sequence[str]) -> Node:
        rows = [
            el(
                "li",
                el("a", name, href=f"/job/{self.key}/paper/{name}"),
                " ",
                el("span", PAPERS[name].words, class_="soft"),
            )
            for name in names
        ]
        return _band(title, el("ul", rows, class_="papers"))

    # the papers of an item -------------------------------------------------------------------------------------------

    def _item(self, one: ItemSheets, begun: Mapping[str, str]) -> Node:
        rows = [self._sheet(one.item, sheet, begun) for sheet in one.sheets]
        return _band(f"{one.item}: sheets to work by, and its passport", el("ul", rows, class_="sheets"))

    def _sheet(self, item: str, sheet: ItemSheet, begun: Mapping[str, str]) -> Node:
        asked = {**begun, **{key: text for key, text in self.measured.items() if text}}
        query = f"?{urlencode(asked)}" if asked and sheet.kind == "bonding" else ""
        links = [
            el(
                "a",
                paper.variant,
                href=f"/job/{self.key}/paper/{paper.name}{query}",
                aria_label=f"{sheet.title} of {item}, {paper.variant}",
            )
            for paper in sheet.papers
        ]
        stopped = sheet.refusal.startswith("stop")
        return el(
            "li",
            el("h3", sheet.title),
            el("p", sentence(sheet.words), ".", class_="soft"),
            el("p", f"{'' if stopped else 'It cannot be made: '}{sentence(sheet.refusal)}.", class_="stop")
            if sheet.refusal
            else None,
            el("p", links, class_="forms") if not sheet.refusal or stopped else None,
            _lacks(sheet),
            key=sheet.kind,
        )

    def _measured(self) -> Node:
        fields = [
            entry(
                key,
                label,
                example=example,
                value=self.values.get(key, ""),
                error=self.errors.get(key, ""),
                may_be_unknown=True,
            )
            for key, label, example in MEASURED
        ]
        form = el(
            "form",
            el("div", fields, class_="fields"),
            el(
                "p",
                el("button", "Use these in the bonding guides", type="submit", class_="main"),
                button("Forget them", "forget", kind="quiet") if self.measured else None,
                class_="row",
            ),
            act="measured",
        )
        told_now = ", ".join(
            f"{label.lower()} {self.measured[key]}" for key, label, _ in MEASURED if self.measured.get(key)
        )
        words = (
            f"The bonding guides above are made with {told_now}."
            if told_now
            else "Type what you measured on the day and the guide works with it: it says stop where it is too cold or "
            "too damp, and mixes the wipe. What you leave out is left to be written in."
        )
        return _band(
            "Measured already, for the bonding guides",
            el("p", words, class_="soft"),
            el("details", el("summary", "Type it here"), form, open=bool(self.errors) or None),
        )

    def cost_in_form(self, form: str, of: Any, name: str, values: Mapping[str, str]) -> str:  # noqa: ARG002, as everywhere
        """Return what it costs that a measurement is not known."""
        return cost_in_weather(name)

    def do_measured(self, act: Act) -> None:
        """Use what was measured in the guides that are fetched from now on; what cannot be is told at its field."""
        self.values = {key: act.values.get(key, "").strip() for key, *_ in MEASURED}
        self.errors = {}
        try:
            sheets_of(self.answer(), self.values)
        except BadInput as error:
            self.errors = {one.key: told(one) for one in error.findings}
            return
        self.measured = {key: text for key, text in self.values.items() if text}
        self.notice = "The bonding guides are made with it."

    def do_forget(self, _: Act) -> None:
        """Forget what was measured."""
        self.measured, self.values, self.errors = {}, {}, {}

    # dates -----------------------------------------------------------------------------------------------------------

    def _dates(self, answer: Answer) -> Node:
        now = datetime.now(UTC)
        dates = sorted(
            dates_of(upkeep_in(self.desk.opened(), answer.assessment, now)), key=lambda one: one.at
        )
        title = "Dates: when something is due"
        if not dates:
            return _band(
                title,
                el(
                    "p",
                    "Nothing has a date yet. Write down in the shop how it was bonded: then looks fall due.",
                ),
            )
        first = [f"{one.at.astimezone():%Y-%m-%d %H:%M}: {one.what}" for one in dates[:FIRST_GAPS]]
        rest = len(dates) - len(first)
        return _band(
            title,
            listing([*first, *([f"and {rest} more"] if rest else [])]),
            el(
                "ul",
                el(
                    "li",
                    el("a", "due.ics", href=f"/job/{self.key}/paper/due.ics"),
                    " ",
                    el("span", PAPERS["due.ics"].words, class_="soft"),
                ),
                class_="papers",
            ),
        )


def _lacks(sheet: ItemSheet) -> Node | None:
    """Return what a paper lacks: the gravest first, the rest folded."""
    if not sheet.lacks:
        return None
    if sheet.kind == "bonding":
        return el("p", f"Left to be measured on the day: {', '.join(sheet.lacks)}.", class_="lacks")
    first, rest = sheet.lacks[:FIRST_GAPS], sheet.lacks[FIRST_GAPS:]
    return el(
        "div",
        el("p", "Missing in it:"),
        listing(first),
        el("details", el("summary", f"and {len(rest)} more"), listing(rest)) if rest else None,
        class_="lacks",
    )


def _band(title: str, *children: Node | None) -> Node:
    return el("section", el("h2", title), list(children), class_="band", aria_label=title, key=title)
