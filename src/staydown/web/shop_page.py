"""In the shop: the bonding guide step by step, the clock of the bond, looking at the feet, what is due. One thumb."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any

from fastapi import Request
from nicegui import ui

from staydown.assess import ItemAssessment
from staydown.foundation.errors import BadInput
from staydown.making.guide import Guide
from staydown.web import shop_parts as parts
from staydown.web.desks import Desks
from staydown.web.frame import JobPage
from staydown.web.sheet import Act, Node, button, el, told
from staydown.workbench import guide_steps as steps
from staydown.workbench.bonding_words import read_mix, read_weather
from staydown.workbench.desk import Answer
from staydown.workbench.guide_steps import Run, Shown, runs_of
from staydown.workbench.happened import Told
from staydown.workbench.inspect import record_inspection
from staydown.workbench.open_job import open_job
from staydown.workbench.sheets import guide_of
from staydown.workbench.unknown_costs import cost_in_look, cost_in_weather
from staydown.workbench.upkeep import upkeep_of

PARTS = (("bond", "Bond it"), ("look", "Look at it"), ("due", "What is due"))
LOOK_AT_CLOCKS_s = 0.5


class ShopPage(JobPage):
    """Guide, inspection and due list; everything done here is in the logbook at once.

    Its address may name what it opens with: `?item=panel&part=look`.
    """

    slug = "shop"
    title = "In the shop"

    def __init__(self, desks: Desks, key: str, request: Request) -> None:
        self.item = request.query_params.get("item", "")
        asked = request.query_params.get("part", "")
        self.part = asked if asked in dict(PARTS) else "bond"
        super().__init__(desks, key, request)

    def build(self) -> None:
        """Make the page's sheet."""
        self.asking = ""  # what a reason is asked for at the open step: "bars", "stop", or whether to "end"
        self.asked_at: dict[str, Any] = {}  # the run and the step at which it is asked
        self.refusal = ""  # what was not written, told beside the step
        self.said = ""  # what has just become so, for who does not see the page
        self.values: dict[str, str] = {}
        self.errors: dict[str, str] = {}
        self.turns: datetime | None = None  # when a clock is over and the step may be done
        super().build()
        ui.timer(LOOK_AT_CLOCKS_s, self._look_at_clocks)

    def _look_at_clocks(self) -> None:
        """Show what may be done now where a clock has come to its end since."""
        if self.turns is not None and datetime.now(UTC) >= self.turns:
            self.said = "A clock is over."
            self.refresh()

    def show(self, answer: Answer) -> None:
        """Show the part that was chosen."""
        items = answer.assessment.items
        self.turns = None
        if not items:
            self.sheet.show(el("h1", "In the shop"), el("p", "The job lists no items yet."))
            return
        runs = runs_of(self.desk.folder)
        assessed = self._chosen(answer, runs)
        self.item = assessed.item.name
        tabs = [
            button(words, "part", part, aria_pressed=str(part == self.part).lower()) for part, words in PARTS
        ]
        shown: dict[str, Callable[[Answer, ItemAssessment], list[Node | None]]] = {
            "bond": lambda answer, assessed: self._bond(answer, assessed, runs.get(assessed.item.name)),
            "look": self._look,
            "due": self._due,
        }
        self.sheet.show(
            el("h1", "In the shop"),
            el("div", tabs, class_="items", role="group", aria_label="What is done"),
            parts.item_choice([one.item.name for one in items], self.item, runs) if len(items) > 1 else None,
            el("div", shown[self.part](answer, assessed), class_="shop"),
        )

    def _chosen(self, answer: Answer, runs: dict[str, Run]) -> ItemAssessment:
        """Return the item that was chosen; else the one that is worked at, or the first of which no bonding is told."""
        items = answer.assessment.items
        named = {one.item.name: one for one in items}
        if self.item in named:
            return named[self.item]
        at_work = sorted((run for name, run in runs.items() if name in named), key=lambda one: one.touched)
        if at_work:
            return named[at_work[-1].item]
        bare = steps.not_bonded(answer.facts.events, [one.item for one in items])
        return named[bare[0]] if bare else items[0]

    # bonding ---------------------------------------------------------------------------------------------------------

    def _bond(self, answer: Answer, assessed: ItemAssessment, run: Run | None) -> list[Node | None]:
        try:
            guide = self._guide(answer, assessed, run)
        except BadInput as error:
            return [el("p", told(one), class_="stop") for one in error.findings]
        said = [el("p", self.refusal, class_="stop", role="alert") if self.refusal else None]
        if run is None:
            return [*said, *parts.begin(guide, self.values, self.errors)]
        if steps.open_step(guide, run) is None:
            return [*said, *parts.finish(guide, run, self.values, self.errors, ending=self.asking == "end")]
        now = datetime.now(UTC)
        self.turns = steps.next_turn(run, now)
        form = parts.StepForm(
            asking=self.asking,
            asked_at=self.asked_at,
            values=self.values,
            errors=self.errors,
            said=self.said,
        )
        return [*said, *parts.one_step(guide, run, answer.job.job.show, form, key=self.key, now=now)]

    def _guide(self, answer: Answer, assessed: ItemAssessment, run: Run | None) -> Guide:
        weather = read_weather({} if run is None else run.weather)
        return guide_of(answer.assessment, assessed, weather, read_mix({}))

    def _guide_now(self) -> Guide:
        """Return the guide of the item at work; a run that is gone meanwhile is told where it is written."""
        answer = self.answer()
        (assessed,) = (one for one in answer.assessment.items if one.item.name == self.item)
        return self._guide(answer, assessed, runs_of(self.desk.folder).get(self.item))

    def cost_in_form(self, form: str, of: Any, name: str, values: Mapping[str, str]) -> str:  # noqa: ARG002, as everywhere
        """Return what it costs that a value of the weather, of a look, or of the bond is not known."""
        return cost_in_look(name) if form == "look" else cost_in_weather(name)

    def do_part(self, act: Act) -> None:
        """Show another part."""
        self.part = act.arg
        self._forget()

    def do_item(self, act: Act) -> None:
        """Choose another item."""
        self.item = act.arg
        self._forget()

    def _forget(self) -> None:
        self.values, self.errors, self.asking, self.refusal, self.said = {}, {}, "", "", ""

    def do_begin(self, act: Act) -> None:
        """Begin to bond: the weather as it was measured."""
        self._write(
            act, lambda _: steps.begin_run(self.desk.folder, self.item, act.values, datetime.now(UTC))
        )

    def do_done(self, act: Act) -> None:
        """Write down that the step is done."""
        self._write(
            act,
            lambda shown: steps.step_done(self.desk.folder, self._guide_now(), shown, datetime.now(UTC)),
        )

    def do_ask(self, act: Act) -> None:
        """Ask why it goes on, or whether the work ends; empty asks nothing any more."""
        self.asked_at = {key: value for key, value in act.arg.items() if key != "what"}
        self.asking, self.errors, self.refusal = act.arg["what"], {}, ""

    def do_go_on(self, act: Act) -> None:
        """Go on past what keeps the step from being done, with the reason."""
        kept, reason = self.asking != "stop", act.values.get("note", "")
        self._write(
            act,
            lambda shown: steps.step_done(
                self.desk.folder, self._guide_now(), shown, datetime.now(UTC), reason=reason, kept=kept
            ),
        )

    def do_clock(self, act: Act) -> None:
        """Start clocks that run whether this page is open or not."""
        what, again = act.arg["what"], act.arg.get("again", False)
        self._write(
            act,
            lambda shown: steps.start_clocks(
                self.desk.folder, self._guide_now(), shown, what, datetime.now(UTC), again=again
            ),
        )

    def do_measured(self, act: Act) -> None:
        """Write down the weather as it is measured now."""
        self._write(act, lambda shown: steps.measured(self.desk.folder, shown, act.values, datetime.now(UTC)))

    def do_wipe(self, act: Act) -> None:
        """Make the surface anew."""
        self._write(
            act,
            lambda shown: steps.back_to_wipe(self.desk.folder, self._guide_now(), shown, datetime.now(UTC)),
        )

    def do_back(self, act: Act) -> None:
        """Open the step before again."""
        self._write(
            act, lambda shown: steps.back_one(self.desk.folder, self._guide_now(), shown, datetime.now(UTC))
        )

    def do_give_up(self, act: Act) -> None:
        """End the work without a bond."""
        self._write(act, lambda shown: steps.end_run(self.desk.folder, shown, datetime.now(UTC)))

    def do_bonded(self, act: Act) -> None:
        """Write down that all feet are bonded, which ends the work."""
        self._write(act, lambda shown: self._bonded(act, shown))

    def _bonded(self, act: Act, shown: Shown) -> str:
        bonded = steps.write_bond(self.desk.opened(), self._guide_now(), shown, act.values, datetime.now(UTC))
        self.part = "due"
        return f"Written down. Do not drive before {bonded.first_drive.astimezone():%Y-%m-%d %H:%M}."

    # looking ---------------------------------------------------------------------------------------------------------

    def _look(self, answer: Answer, assessed: ItemAssessment) -> list[Node | None]:  # noqa: ARG002, as the others
        return [*parts.look_form(assessed, self.values, self.errors)]

    def do_look(self, act: Act) -> None:
        """Write down what was seen at each foot."""
        self._write(act, lambda _: self._looked(act))

    def _looked(self, act: Act) -> str:
        (item,) = (one.item for one in self.answer().assessment.items if one.item.name == self.item)
        readings: dict[str, list[str]] = {"slip": [], "gap": [], "pull": []}
        for number, mount in enumerate(item.mount):
            for kind, words in readings.items():
                text = act.values.get(f"{kind}.{number}", "").strip()
                if text:
                    words.append(f"{mount.name}={text}")
        record = Told(
            now=datetime.now(UTC),
            by=act.values.get("by", ""),
            note=act.values.get("note", ""),
            going_on=act.values.get("going_on", ""),
        )
        looked = record_inspection(
            open_job(self.desk.file),
            item.name,
            readings,
            act.values.get("roof") or None,
            record,
            edges_closed=act.values.get("closed") == "true",
        )
        return f"Written down. {looked.item}: {looked.word}."

    # what is due -----------------------------------------------------------------------------------------------------

    def _due(self, answer: Answer, assessed: ItemAssessment) -> list[Node | None]:
        now = datetime.now(UTC)
        upkeep = upkeep_of(open_job(self.desk.file), now, assessed.item.name)
        return [*parts.due(upkeep.items[0], now, answer.job.job.show)]

    def _write(self, act: Act, write: Callable[[Shown], str | None]) -> None:
        """Do what writes an entry; what is wrong with a value is told at its field, else beside the step."""
        self.values, self.refusal, self.said = {**self.values, **act.values}, "", ""
        at = act.arg if isinstance(act.arg, dict) else {}
        try:
            words = write(Shown(item=self.item, run=at.get("run", 0), step=at.get("step", "")))
        except BadInput as error:
            self.errors = {}
            for one in error.findings:
                key = one.key.lstrip("-").replace("-", "_")
                before = f"{self.errors[key]} " if key in self.errors else ""
                self.errors[key] = before + told(one)
            self.refusal = " ".join(told(one) for one in error.findings if one.key in parts.OF_THE_WORK)
            note = act.values.get("note", "").strip()
            if self.refusal and note:
                self.refusal += f" What you typed was not written: {note}"
                self.asking = ""
            return
        self._forget()
        self.notice = words or ""
        self.desk.tell()
