"""In the shop: the bonding guide step by step, the clock of the bond, looking at the feet, what is due. One thumb."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

from staydown.assess import ItemAssessment
from staydown.foundation.errors import BadInput
from staydown.making.guide import Guide
from staydown.web import shop_parts as parts
from staydown.web.frame import JobPage
from staydown.web.sheet import Act, Node, button, el, told
from staydown.workbench.bonding import record_bonding
from staydown.workbench.bonding_words import read_mix, read_weather
from staydown.workbench.desk import Answer
from staydown.workbench.guide_steps import Run, begin_run, end_run, runs_of, start_timer, step_done
from staydown.workbench.happened import Told
from staydown.workbench.inspect import record_inspection
from staydown.workbench.open_job import open_job
from staydown.workbench.sheets import guide_of
from staydown.workbench.upkeep import upkeep_of


class ShopPage(JobPage):
    """Guide, inspection and due list; everything done here is in the logbook at once."""

    slug = "shop"
    title = "In the shop"

    def build(self) -> None:
        """Make the page's sheet."""
        self.item = 0
        self.part = "bond"
        self.stopped = ""  # the step at whose stop point somebody wants to go on
        self.values: dict[str, str] = {}
        self.errors: dict[str, str] = {}
        super().build()

    def show(self, answer: Answer) -> None:
        """Show the part that was chosen."""
        items = answer.assessment.items
        if not items:
            self.sheet.show(el("h1", "In the shop"), el("p", "The job lists no items yet."))
            return
        self.item = min(self.item, len(items) - 1)
        assessed = items[self.item]
        tabs = [
            button(words, "part", part, aria_pressed=str(part == self.part).lower())
            for part, words in (("bond", "Bond it"), ("look", "Look at it"), ("due", "What is due"))
        ]
        choice = [
            button(one.item.name, "item", number, aria_pressed=str(number == self.item).lower())
            for number, one in enumerate(items)
        ]
        shown: Callable[[Answer, ItemAssessment], list[Node]] = {
            "bond": self._bond,
            "look": self._look,
            "due": self._due,
        }[self.part]
        self.sheet.show(
            el("h1", "In the shop"),
            el("div", tabs, class_="items", role="group", aria_label="What is done"),
            el("div", choice, class_="items", role="group", aria_label="Which item")
            if len(items) > 1
            else None,
            el("div", shown(answer, assessed), class_="shop"),
        )

    # bonding ---------------------------------------------------------------------------------------------------------

    def _bond(self, answer: Answer, assessed: ItemAssessment) -> list[Node]:
        run = runs_of(self.desk.folder).get(assessed.item.name)
        try:
            guide = self._guide(answer, assessed, run)
        except BadInput as error:
            return [el("p", told(one), class_="stop") for one in error.findings]
        if run is None:
            return parts.begin(guide, self.values, self.errors)
        steps = parts.steps_of(guide)
        current = next((one for one in steps if one.id not in run.done), None)
        if current is None:
            return parts.finish(guide, run, self.values, self.errors)
        return parts.one_step(
            guide,
            run,
            steps,
            current,
            answer.job.job.show,
            asking=self.stopped == current.id,
            errors=self.errors,
            key=self.key,
            now=datetime.now(UTC),
        )

    def _guide(self, answer: Answer, assessed: ItemAssessment, run: Run | None) -> Guide:
        weather = read_weather({} if run is None else run.weather)
        return guide_of(answer.assessment, assessed, weather, read_mix({}))

    def _name(self) -> str:
        return self.answer().assessment.items[self.item].item.name

    def _run(self) -> Run:
        return runs_of(self.desk.folder)[self._name()]

    def do_part(self, act: Act) -> None:
        """Show another part."""
        self.part, self.values, self.errors = act.arg, {}, {}

    def do_item(self, act: Act) -> None:
        """Choose another item."""
        self.item, self.values, self.errors, self.stopped = int(act.arg), {}, {}, ""

    def do_begin(self, act: Act) -> None:
        """Begin to bond: the weather as it was measured."""
        self._write(act, lambda: self._begin(act))

    def _begin(self, act: Act) -> str:
        read_weather(act.values)
        begin_run(self.desk.folder, self._name(), act.values, datetime.now(UTC))
        return "Begun. Each step is written down as you press Done."

    def do_done(self, act: Act) -> None:
        """Write down that a step is done; a roof that is no place to bond on wants its reason first."""
        answer = self.answer()
        guide = self._guide(answer, answer.assessment.items[self.item], self._run())
        if parts.refused(guide, self._run()):
            self.stopped = act.arg
            return
        step_done(self.desk.folder, self._run(), act.arg, False, "", datetime.now(UTC))
        self.stopped = ""
        self.desk.tell()

    def do_stop(self, act: Act) -> None:
        """Say that the stop point was not kept."""
        self.stopped, self.errors = act.arg, {}

    def do_go_on(self, act: Act) -> None:
        """Go on past a stop point, with the reason."""
        self._write(act, lambda: self._go_on(act))

    def _go_on(self, act: Act) -> str:
        step_done(self.desk.folder, self._run(), act.arg, True, act.values.get("note", ""), datetime.now(UTC))
        self.stopped = ""
        return "Written down with your reason."

    def do_timer(self, act: Act) -> None:
        """Start a time that runs whether this page is open or not."""
        what, lasts_s = act.arg
        start_timer(self.desk.folder, self._run(), what, float(lasts_s), datetime.now(UTC))
        self.desk.tell()

    def do_give_up(self, _: Act) -> None:
        """End the work without a bond."""
        end_run(self.desk.folder, self._run(), datetime.now(UTC))
        self.desk.tell()

    def do_bonded(self, act: Act) -> None:
        """Write down that all feet are bonded, and end the work."""
        self._write(act, lambda: self._bonded(act))

    def _bonded(self, act: Act) -> str:
        run = self._run()
        typed: dict[str, str | None] = {**run.weather, **act.values}
        record = Told(
            now=datetime.now(UTC),
            by=act.values.get("by", ""),
            note=act.values.get("note", ""),
            going_on=act.values.get("going_on", ""),
        )
        bonded = record_bonding(open_job(self.desk.file), run.item, (), typed, record)
        end_run(self.desk.folder, run, datetime.now(UTC))
        self.part = "due"
        return f"Written down. Do not drive before {bonded.first_drive.astimezone():%Y-%m-%d %H:%M}."

    # looking ---------------------------------------------------------------------------------------------------------

    def _look(self, answer: Answer, assessed: ItemAssessment) -> list[Node]:  # noqa: ARG002, as the others
        return parts.look_form(assessed, self.values, self.errors)

    def do_look(self, act: Act) -> None:
        """Write down what was seen at each foot."""
        self._write(act, lambda: self._looked(act))

    def _looked(self, act: Act) -> str:
        item = self.answer().assessment.items[self.item].item
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

    def _due(self, answer: Answer, assessed: ItemAssessment) -> list[Node]:
        now = datetime.now(UTC)
        upkeep = upkeep_of(open_job(self.desk.file), now, assessed.item.name)
        return parts.due(upkeep.items[0], now, answer.job.job.show)

    def _write(self, act: Act, write: Callable[[], str]) -> None:
        """Do what writes an entry; what is wrong with a value is told at its field."""
        self.values = dict(act.values)
        try:
            self.notice = write()
        except BadInput as error:
            self.errors = {one.key.lstrip("-").replace("-", "_"): told(one) for one in error.findings}
            return
        self.values, self.errors = {}, {}
        self.desk.tell()
