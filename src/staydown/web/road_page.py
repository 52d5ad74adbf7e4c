"""On the road: what to do now when something is seen, what happened written down, what that asks for. One thumb."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any

from fastapi import Request

from staydown.assess import ItemAssessment
from staydown.evidence.history import BREAKS
from staydown.foundation.errors import BadInput
from staydown.web import road_parts as parts
from staydown.web.desks import Desks
from staydown.web.frame import JobPage
from staydown.web.sheet import Act, Node, button, el, told
from staydown.workbench.desk import Answer
from staydown.workbench.record_photo import photos_of
from staydown.workbench.road import asked_of, lines_of, record_road, typed_again, worst_off
from staydown.workbench.unknown_costs import cost_in_event
from staydown.workbench.upkeep import removal_of, roadside_in

PARTS = (("now", "Something is wrong now"), ("event", "Something happened"), ("log", "What was written down"))


class RoadPage(JobPage):
    """The roadside question, events, and the list of them; what is written here is in the logbook at once."""

    slug = "road"
    title = "On the road"

    def __init__(self, desks: Desks, key: str, request: Request) -> None:
        self.named = request.query_params.get("item", "")  # of the address
        super().__init__(desks, key, request)

    def build(self) -> None:
        """Make the page's sheet."""
        self.part = "now"
        self.item = ""  # empty: the whole roof, or the first item at the roadside
        self.feet: tuple[str, ...] = ()
        self.asked = False  # what to do now; from then on the answer follows the marks
        self.what = ""
        self.values: dict[str, str] = {}
        self.errors: dict[str, str] = {}
        self.written: tuple[int, str, str] | None = None  # row, what, item
        super().build()

    def show(self, answer: Answer) -> None:
        """Show the part that was chosen."""
        tabs = [
            button(words, "part", part, aria_pressed=str(part == self.part).lower()) for part, words in PARTS
        ]
        items = answer.assessment.items
        if not items:
            self.sheet.show(el("h1", self.title), el("p", "The job lists no items yet."))
            return
        shown: dict[str, Callable[[Answer], list[Node | None]]] = {
            "now": self._now,
            "event": self._event,
            "log": self._log,
        }
        self.sheet.show(
            el("h1", self.title),
            el("div", tabs, class_="items", role="group", aria_label="What is it about"),
            el("div", shown[self.part](answer), class_="shop"),
        )

    def _chosen(self, answer: Answer) -> ItemAssessment | None:
        return next((one for one in answer.assessment.items if one.item.name == self.item), None)

    def _at_roadside(self, answer: Answer) -> ItemAssessment:
        """Return the item that was chosen, else the one the address names, else the one that is worst off."""
        named = {one.item.name: one for one in answer.assessment.items}
        chosen = self._chosen(answer) or named.get(self.named)
        if chosen is not None:
            return chosen
        now = datetime.now(UTC)
        return named[worst_off(asked_of(self.desk.opened(), answer.assessment, "", now))]

    # at the roadside -------------------------------------------------------------------------------------------------

    def _now(self, answer: Answer) -> list[Node | None]:
        items = answer.assessment.items
        assessed = self._at_roadside(answer)
        mounts = [mount.name for mount in assessed.item.mount]
        lost = tuple(foot for foot in self.feet if foot in mounts)
        nodes: list[Node | None] = [
            parts.item_choice([one.item.name for one in items], assessed.item.name)
            if len(items) > 1
            else None,
            *parts.which_feet(assessed.item.name, mounts, lost, asked=self.asked and bool(lost)),
        ]
        if lost and self.asked:
            nodes += parts.roadside_answer(
                roadside_in(answer.assessment, assessed.item.name, lost),
                removal_of(self.desk.opened(), assessed.item.name),
                answer.job.job.show,
            )
        return nodes

    def cost_in_form(self, form: str, of: Any, name: str, values: Mapping[str, str]) -> str:  # noqa: ARG002, as everywhere
        """Return what it costs that a value of an event is not known."""
        return cost_in_event(name, self.answer().job, self.desk.cards)

    def do_part(self, act: Act) -> None:
        """Show another part."""
        self.part = act.arg
        self._begin_anew()

    def _begin_anew(self) -> None:
        self.what, self.item, self.feet, self.values, self.errors = "", "", (), {}, {}
        self.written, self.asked = None, False

    def do_item(self, act: Act) -> None:
        """Choose an item; empty is the whole roof."""
        self.item, self.feet, self.errors, self.asked = act.arg or "", (), {}, False

    def do_foot(self, act: Act) -> None:
        """Mark a foot, or take the mark away."""
        marked = self.feet
        self.feet = (
            tuple(one for one in marked if one != act.arg) if act.arg in marked else (*marked, act.arg)
        )

    def do_all_feet(self, _: Act) -> None:
        """Nobody can tell which foot it is: each counts as gone."""
        answer = self.answer()
        assessed = self._at_roadside(answer)
        self.feet, self.asked = tuple(mount.name for mount in assessed.item.mount), True

    def do_what_now(self, _: Act) -> None:
        """Say what to do now."""
        self.asked = True

    def do_no_feet(self, _: Act) -> None:
        """Take all marks away."""
        self.feet, self.asked = (), False

    def do_lost(self, act: Act) -> None:
        """Go on to write down that the marked feet opened or let go."""
        answer = self.answer()
        assessed = self._at_roadside(answer)
        self.part, self.what, self.item = "event", act.arg, assessed.item.name

    # what happened ---------------------------------------------------------------------------------------------------

    def _event(self, answer: Answer) -> list[Node | None]:
        names = [one.item.name for one in answer.assessment.items]
        if self.written is not None:
            row, what, item = self.written
            asked = asked_of(self.desk.opened(), answer.assessment, item, datetime.now(UTC))
            return parts.what_it_asks(row, what, asked, self.key)
        if not self.what:
            return parts.kinds()
        if self.what in BREAKS and not self.item:
            self.item = names[0]
        chosen = self._chosen(answer)
        mounts = [] if chosen is None else [mount.name for mount in chosen.item.mount]
        return [
            *parts.event_head(self.what, self.values.get("corrects", "")),
            parts.item_choice(names, self.item, whole=self.what not in BREAKS),
            parts.feet_choice(mounts, self.feet, must=self.what in BREAKS) if mounts else None,
            parts.event_form(self.what, self.values, self.errors),
        ]

    def do_what(self, act: Act) -> None:
        """Choose what happened; empty goes back to the choice."""
        if not act.arg:
            self._begin_anew()
            return
        self.what, self.errors, self.written = act.arg, {}, None

    def do_happened(self, act: Act) -> None:
        """Write down what happened; what is wrong is told at its field."""
        self.values = {**self.values, **act.values}
        try:
            written = record_road(
                self.desk.opened(), self.what, self.item, self.feet, self.values, datetime.now(UTC)
            )
        except BadInput as error:
            self.errors = {}
            for one in error.findings:
                key = one.key.lstrip("-").replace("-", "_")
                before = f"{self.errors[key]} " if key in self.errors else ""
                self.errors[key] = before + told(one)
            return
        self.notice = f"Written down: {self.what}."
        done = (written.event.seq, self.what, self.item)
        self._begin_anew()
        self.written = done
        self.desk.tell()

    # what was written down -------------------------------------------------------------------------------------------

    def _log(self, answer: Answer) -> list[Node | None]:
        of = photos_of(self.desk.folder)
        return parts.log(lines_of(self.desk.folder, answer.job.job.show), of, self.key)

    def do_correct(self, act: Act) -> None:
        """Open the form with what an entry says; the new entry stands for it, and both are kept."""
        typed, feet = typed_again(self.desk.folder, int(act.arg))
        self._begin_anew()
        self.part, self.what, self.item = "event", typed.pop("what"), typed.pop("item")
        self.feet, self.values = feet, typed
