"""What every page of a job has: its head, the way to the other pages, undo, conflict, trails, news of changes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from fastapi import Request
from nicegui import ui

from staydown.foundation.errors import BadInput, StaydownError, UnknownTrail, UnreadableValue
from staydown.outputs.sentences import lead_sentences
from staydown.outputs.trail import find_trail
from staydown.outputs.trail_tree import trail_tree
from staydown.storage.edit_toml import Change
from staydown.storage.read_value import read_value
from staydown.web.desks import Desks
from staydown.web.guard import is_here
from staydown.web.sheet import Act, Node, Sheet, button, el, sentence, told
from staydown.workbench.desk import Answer, Desk
from staydown.workbench.edit_job import as_toml, changes_for, echo_of, field_at
from staydown.workbench.unknown_costs import cost_of_column

PAGES = (
    ("", "Answer"),
    ("details", "Details"),
    ("bond", "Bond and tests"),
    ("shop", "In the shop"),
    ("road", "On the road"),
    ("planning", "Planning values"),
    ("papers", "Papers"),
)
LOOK = Path(__file__).parent / "static"


class JobPage:
    """One tab on one job. A page says what it shows in `show`, and what its buttons do in `do_...` methods."""

    slug = ""
    title = "Answer"
    prints = False  # whether the page is one to be put on paper as it stands

    def __init__(self, desks: Desks, key: str, request: Request) -> None:
        self.desks, self.key = desks, key
        self.here = is_here(request.scope)
        desk = desks.find(key)
        assert desk is not None
        self.desk: Desk = desk
        self.notice = ""
        self.trouble = ""
        self.costs: dict[str, str] = {}
        self.trying: list[Change] | None = None  # None: changes are saved; a list: they are only tried
        self.trail: dict[str, Any] | None = None
        self.seen = True  # until the browser says that nobody can see this tab
        self.narrow = False  # as narrow as a phone
        self._shown = -1
        self._acting = False
        ui.page_title(f"{self.title} – {desk.folder.name} – staydown")
        head(ui)
        self.top = Sheet(self.act, tells_seen=True)
        self.build()
        self.aside = Sheet(self.act)
        self.refresh()
        listener = self._told
        self.desk.listeners.append(listener)
        client = ui.context.client

        def close() -> None:
            desks.news.forget(self)
            if listener in self.desk.listeners:
                self.desk.listeners.remove(listener)

        client.on_delete(close)

    # what a page is made of ------------------------------------------------------------------------------------------

    def build(self) -> None:
        """Make the parts of the page; most are one sheet in the main landmark."""
        with ui.element("div").props("id=main"):
            self.sheet = Sheet(self.act)

    def show(self, answer: Answer) -> None:
        """Show the page for an answer."""
        raise NotImplementedError

    def show_trouble(self, error: BadInput) -> None:
        """Show a job that has mistakes: all of them, where they are, and how to mend them."""
        self.sheet.show(
            el("h1", f"{self.desk.folder.name}: the job has mistakes"),
            el("p", "Nothing is worked out until these are mended, in the details or in the file itself."),
            el(
                "ul", [el("li", el("b", _place(one.line, one.key)), " ", told(one)) for one in error.findings]
            ),
        )

    # what happens ----------------------------------------------------------------------------------------------------

    def act(self, act: Act) -> Any:
        """Do what a person asked for, say what went wrong, and show the page anew."""
        if act.name == "seen":
            self._look_up(act.arg is not False)
            return None
        if act.name == "cost":
            self._say_cost(act)
            return None
        if act.name == "narrow":
            self.narrow = act.arg is True
            self.refresh()
            return None
        self.notice = self.trouble = ""
        self._acting = True
        try:
            method: Callable[[Act], Any] = getattr(self, "do_" + act.name.replace(".", "_"))
            result = method(act)
        except (StaydownError, OSError) as error:
            self.trouble = (
                " ".join(told(one) for one in error.findings) if isinstance(error, BadInput) else str(error)
            )
            result = None
        finally:
            self._acting = False
        if act.name != "typing":
            self.refresh()
        return result

    def refresh(self) -> None:
        """Show what is so now."""
        self._shown = self.desk.revision
        if self.trying:
            self._fit_trial()
        self.top.show(self._header())
        try:
            answer = self.answer()
        except BadInput as error:
            self.show_trouble(error)
        except StaydownError as error:
            self.sheet.show(el("h1", "The job cannot be read"), el("p", str(error)))
        else:
            self.show(answer)
        self.aside.show(self._aside())

    def _fit_trial(self) -> None:
        """Forget what is tried out where the job, changed by somebody else, does not take it any more."""
        try:
            self.answer()
        except BadInput as error:
            self.forget_trial()
            words = " ".join(told(one) for one in error.findings)
            self.trouble = f"What was tried out no longer fits the job, and is forgotten. {words}"

    def answer(self) -> Answer:
        """Return the answer that this tab looks at: the job's, or the one that is tried out."""
        return self.desk.try_out(self.trying) if self.trying else self.desk.answer()

    def change(self, changes: Sequence[Change], words: str) -> None:
        """Make changes, or try them where this tab tries things out."""
        if self.trying is None:
            self.desk.edit(changes, words)
            return
        self.desk.try_out([*self.trying, *changes])
        self.trying = [*self.trying, *changes]

    @property
    def behind(self) -> bool:
        """Whether this tab shows something older than what is so."""
        return self._shown != self.desk.revision

    def _told(self) -> None:
        if not self._acting:
            self.desks.news.tell(self)

    def _look_up(self, seen: bool) -> None:
        """Note whether somebody can see this tab; what came meanwhile is shown when it is seen again."""
        self.seen = seen
        if seen and self.behind:
            self.refresh()

    # what every page can do ------------------------------------------------------------------------------------------

    def do_typing(self, act: Act) -> None:
        """Answer what is being typed: what is read of it, or what is wrong with it."""
        place, text = act.arg["place"], act.arg["text"]
        if not place:
            return
        shape = field_at(place)
        if not text.strip():
            self.sheet_of(place).reply(place, text)
            return
        try:
            value = as_toml(shape, text.strip())
            read_value(shape, value, self.desk.cards)
        except UnreadableValue as error:
            self.sheet_of(place).reply(place, text, error=words_of(error))
            return
        self.sheet_of(place).reply(place, text, echo=echo_of(shape, value, self.desk.cards))

    def do_typed(self, act: Act) -> None:
        """Save a field."""
        self._set(act.arg["place"], act.arg["text"])

    def do_unknown(self, act: Act) -> None:
        """Note that nobody knows a value, and say what that costs."""
        place = act.arg["place"]
        before = self.answer()
        if self._set(place, None):
            self.costs[place] = f"not known. {_cost(before, self.answer())}"

    def _say_cost(self, act: Act) -> None:
        """Answer a field of a form that is sent as a whole: what it costs that nobody knows it."""
        name, values = act.arg["name"], {key: text.strip() for key, text in act.values.items()}
        try:
            cost = self.cost_in_form(act.arg["form"], act.arg["of"], name, values)
        except StaydownError as error:
            cost = f"What that costs cannot be told while the job has mistakes: {error}"
        self.form_sheet().reply(name, "", cost=cost)

    def cost_in_form(self, form: str, of: Any, name: str, values: Mapping[str, str]) -> str:
        """Return what it costs that a value of a form is not known. form, of: what the form does, and its argument."""
        return cost_of_column(self.desk, of, values, name) if form == "add.save" else ""

    def form_sheet(self) -> Sheet:
        """Return the sheet on which a form stands that is sent as a whole."""
        return self.sheet

    def _set(self, place: str, text: str | None) -> bool:
        """Save a field, or say at the field what is wrong; return whether it was saved."""
        try:
            changes = changes_for(place, text, self.desk.text, self.desk.cards)
            if changes:
                self.change(changes, f"{place.rpartition('.')[2].replace('_', ' ')} to {text or 'not known'}")
                self.costs.pop(place, None)
        except BadInput as error:
            words = " ".join(told(one) for one in error.findings)
            self.sheet_of(place).reply(place, text or "", error=words)
            return False
        self.sheet_of(place).reply(place, "\0")
        return True

    def sheet_of(self, place: str) -> Sheet:  # noqa: ARG002, pages with several sheets look at it
        """Return the sheet on which a field stands."""
        return self.sheet

    def do_undo(self, _: Act) -> None:
        """Take the last change back, and say which it was."""
        words = self.desk.undo_words
        self.desk.undo()
        self.notice = f"Taken back: {words}. Redo does it again." if words else ""

    def do_redo(self, _: Act) -> None:
        """Do it again, and say what."""
        words = self.desk.redo_words
        self.desk.redo()
        self.notice = f"Done again: {words}. Undo takes it back." if words else ""

    def do_theirs(self, _: Act) -> None:
        """Take what is on disk."""
        self.desk.take_theirs()

    def do_mine(self, _: Act) -> None:
        """Keep what was done here."""
        self.desk.keep_mine()

    def do_system(self, act: Act) -> None:
        """Show metric or US units first."""
        self._set("job.show", act.arg)

    def do_try(self, _: Act) -> None:
        """Begin to try things without saving them."""
        self.trying = []

    def do_try_take(self, _: Act) -> None:
        """Save what was tried."""
        if self.trying:
            self.desk.edit(self.trying, self.words_of_trial())
        self.trying = None

    def words_of_trial(self) -> str:
        """Return what taking over is called on the Undo button."""
        return "what was tried out"

    def do_try_drop(self, _: Act) -> None:
        """Forget what was tried."""
        self.forget_trial()

    def forget_trial(self) -> None:
        """Try nothing out any more."""
        self.trying = None

    def do_why(self, act: Act) -> None:
        """Open the trail of a number."""
        answer = self.answer()
        try:
            found = find_trail(answer.assessment, act.arg)
        except UnknownTrail as error:
            self.trouble = str(error)
            return
        self.trail = {"path": found.path, "node": trail_tree(found, answer.written)}

    def do_close(self, _: Act) -> None:
        """Close the trail."""
        self.trail = None

    # the parts that every page has -----------------------------------------------------------------------------------

    def _header(self) -> list[Node]:
        base = f"/job/{self.key}"
        links = [
            el(
                "li",
                el(
                    "a",
                    words,
                    href=f"{base}/{slug}".rstrip("/"),
                    aria_current="page" if slug == self.slug else None,
                ),
            )
            for slug, words in PAGES
            if slug in SHOWN
        ]
        undo, redo = self.desk.undo_words, self.desk.redo_words
        system = "us" if '"us"' in self.desk.text.partition("[vehicle]")[0] else "metric"
        other = "us" if system == "metric" else "metric"
        nodes = [
            el("a", "To the page", href="#main", class_="skip"),
            el(
                "header",
                el("p", el("a", "staydown", href="/", class_="mark"), class_="home"),
                el("nav", el("ul", links), aria_label="Pages of this job"),
                el(
                    "div",
                    button(
                        "Undo",
                        "undo",
                        kind="quiet",
                        disabled=not undo or None,
                        title=f"Undo: {undo}" if undo else None,
                    ),
                    button(
                        "Redo",
                        "redo",
                        kind="quiet",
                        disabled=not redo or None,
                        title=f"Redo: {redo}" if redo else None,
                    ),
                    button(
                        "US units first" if other == "us" else "Metric first", "system", other, kind="quiet"
                    ),
                    el("a", "Phone", href="/phone", class_="quiet") if self.here else None,
                    el("button", "Print this page", class_="quiet", type="button", data_print="page")
                    if self.prints
                    else None,
                    el("button", "Light or dark", class_="quiet", type="button", data_theme="switch"),
                    class_="tools",
                ),
                class_="top",
            ),
        ]
        return [*nodes, *self._messages()]

    def _messages(self) -> list[Node]:
        nodes = []
        if self.desk.conflict is not None:
            nodes.append(
                el(
                    "section",
                    el("h2", "The file was changed by another program while you changed it here"),
                    el(
                        "p",
                        "Nothing is saved until you choose. The other text can be brought back with Undo.",
                    ),
                    button("Use what is in the file", "theirs", kind="main"),
                    button("Keep what I did here", "mine"),
                    class_="conflict",
                    role="alert",
                    aria_label="Conflict",
                )
            )
        if self.trouble:
            nodes.append(el("p", self.trouble, class_="trouble", role="alert"))
        nodes.append(el("div", el("p", self.notice) if self.notice else None, class_="notice", role="status"))
        return nodes

    def _aside(self) -> list[Node]:
        if self.trail is None:
            return []
        return [
            el(
                "aside",
                el("h2", "Where this number comes from", tabindex="-1", focus=True),
                button("Close", "close", kind="quiet"),
                el("p", self.trail["path"].replace("/", " / "), class_="soft"),
                ["trail", {"node": self.trail["node"], "key": self.trail["path"]}, []],
                class_="why-panel",
                aria_label="Where this number comes from",
                key="trail",
            )
        ]


SHOWN: set[str] = {slug for slug, _ in PAGES}  # pages that are there; filled when they are registered


def head(to: Any) -> None:
    """Put our look and the small script for theme and keys into a page's head."""
    to.add_head_html(
        '<link rel="stylesheet" href="/look/look.css"><script src="/look/page.js"></script>'
        '<meta name="description" content="Will it stay on the roof?">'
    )


def _place(line: int | None, key: str) -> str:
    return f"{key}, line {line}:" if line is not None else f"{key}:"


def words_of(error: UnreadableValue) -> str:
    """Return what is wrong with a text and what would be right, as a sentence."""
    text = sentence(f"{error.rule}: {error.hint}" if error.hint else error.rule)
    return text if text.endswith((".", "?", "!")) else f"{text}."


def _cost(before: Answer, after: Answer) -> str:
    """Return what not knowing a value costs: words and sentences that change."""
    told_now = []
    for old, new in zip(before.assessment.items, after.assessment.items, strict=False):
        was, now = lead_sentences(old, before.job.job.show), lead_sentences(new, after.job.job.show)
        if old.verdict.word != new.verdict.word:
            told_now.append(f"{new.item.name}: {old.verdict.word} becomes {new.verdict.word}.")
        elif was != now:
            told_now.append(f"{new.item.name}: {now[-1]}")
    return " ".join(told_now) or "It costs nothing here: the answer is the same."
