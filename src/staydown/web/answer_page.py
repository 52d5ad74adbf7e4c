"""The answer: the roof, the sentence above it, the worst foot beside it, below where it comes from and what to do."""

from __future__ import annotations

from typing import Any

from nicegui import run, ui

from staydown.advice.assumptions import Assumption, weigh_assumptions
from staydown.advice.change import Change as AdvisedChange
from staydown.advice.changes import Advice, advise
from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.outputs.most_used import Pick, worst_pick
from staydown.outputs.roof_space import CORNERS
from staydown.outputs.roof_text import item_rank
from staydown.outputs.roof_view import roof_view
from staydown.outputs.sentences import lead_sentences, worst_pull
from staydown.web import answer_parts as parts
from staydown.web.frame import JobPage
from staydown.web.plan import Plan
from staydown.web.sheet import Act, Node, Sheet, button, el, field, sentence, told
from staydown.workbench.desk import Answer
from staydown.workbench.edit_job import (
    added_table,
    advised_changes,
    dropped,
    empty_form,
    form_at,
    typed_by,
)
from staydown.workbench.place_items import Spot, catches, moved_job, moves


class AnswerPage(JobPage):
    """Roof and answer on one page; moving a thing answers while it moves."""

    slug = ""
    title = "Answer"
    prints = True

    def build(self) -> None:
        """Make the sheets and the roof."""
        self.item = -1  # the item that is told about; -1 is the worst
        self.case: int | None = None
        self.corner = next(iter(CORNERS))  # from where the roof is seen
        self.near = False
        self.selected = ""
        self.adding = ""
        self.weights: tuple[str, tuple[Assumption, ...]] | None = None
        self.advice: tuple[str, tuple[Advice, ...]] | None = None
        self.looking = False  # for changes; it takes some seconds
        self.tried: AdvisedChange | None = None  # the advice that is tried out
        self.put_back: AdvisedChange | None = (
            None  # the one that was forgotten last: the focus goes back to it
        )
        self.settled = 0  # how often something tried out was taken over
        with ui.element("div").props("id=main").classes("answer"):
            self.lead = Sheet(self.act)
            with ui.element("div").classes("hero"):
                with ui.element("section").props('aria-label="Roof"').classes("roof"):
                    self.plan = Plan(self.pick, self.moving, self.moved)
                    self.space = Sheet(self.act)
                self.beside = Sheet(self.act)
            self.sheet = Sheet(self.act)

    def sheet_of(self, place: str) -> Sheet:
        """Return the sheet on which a field stands: what is selected stands beside the roof."""
        return self.beside if self.selected and place.startswith(self.selected + ".") else self.sheet

    def form_sheet(self) -> Sheet:
        """Return the sheet of what is being added."""
        return self.beside

    # showing ---------------------------------------------------------------------------------------------------------

    def show(self, answer: Answer) -> None:
        """Show roof, sentence, worst foot, and all that stands behind them."""
        assessment = answer.assessment
        assessed = self._chosen(assessment)
        found = None if assessed is None or assessed.mounted is None else self._found(assessed.mounted)
        self.lead.show(self._lead(answer, assessed))
        self._show_roof(assessment)
        self._show_space(assessment)
        self.beside.show(self._beside(answer, assessed))
        if assessed is None:
            self.sheet.show(el("p", "The job lists no items yet. Add one in the details."))
            return
        weights = self.weights[1] if self.weights and self.weights[0] == self.desk.text else None
        below = parts.below(answer, assessed, found, self.case, weights, narrow=self.narrow)
        self.sheet.show(self._turning(assessed), below)

    def _turning(self, assessed: ItemAssessment) -> Node | None:
        """Return the changes that turn today's word; while one is tried out the others stay in reach."""
        today = assessed
        if self.trying is not None:
            now = self.desk.answer().assessment
            number = self._number(now)
            today = now.items[number] if number >= 0 else assessed
        advice = self.advice[1] if self.advice and self.advice[0] == self.desk.text else None
        return parts.turning(today, advice, looking=self.looking, tried=self.tried, put_back=self.put_back)

    def show_trouble(self, error: BadInput) -> None:
        """Show what is wrong with the job, without a roof."""
        self.lead.show()
        self.beside.show()
        self.space.show()
        super().show_trouble(error)

    def _show_roof(self, assessment: Assessment) -> None:
        cases = {} if self.case is None else {self._number(assessment): self.case}
        job = assessment.job
        places = [f"vehicle.on_roof.{n}" for n in range(1, len(job.vehicle.on_roof) + 1)]
        for number, item in enumerate(job.item, 1):
            places += [f"item.{number}", *(f"item.{number}.mount.{m}" for m in range(1, len(item.mount) + 1))]
        lines: dict[str, Any] = {}
        for place in places:
            caught = catches(job, place)
            lines[place] = {"behind": list(caught.behind.items()), "left": list(caught.left.items())}
        self.plan.show(roof_view(assessment, cases), self.selected, lines, job.job.show)

    def _show_space(self, assessment: Assessment) -> None:
        number = self._number(assessment)
        self.space.show(
            parts.in_space(assessment, number, self.case, self.corner, near=self.near, narrow=self.narrow)
        )

    def _number(self, assessment: Assessment) -> int:
        """Return which item is told about: the chosen one, else the worst."""
        if 0 <= self.item < len(assessment.items):
            return self.item
        numbers = range(len(assessment.items))
        return min(numbers, key=lambda number: item_rank(assessment.items[number]), default=-1)

    def _chosen(self, assessment: Assessment) -> ItemAssessment | None:
        number = self._number(assessment)
        return assessment.items[number] if number >= 0 else None

    def _found(self, mounted: Mounted) -> Pick:
        """Return the mount and case that the pictures show: what decides, or the worst of the case that was chosen."""
        if self.case is None or self.case >= len(mounted.table.cases):
            self.case = None
            return worst_pull(mounted)
        return worst_pick(mounted, cases=[self.case])

    def _lead(self, answer: Answer, assessed: ItemAssessment | None) -> list[Node | None]:
        assessment, system = answer.assessment, answer.job.job.show
        several = len(assessment.items) > 1
        nodes: list[Node | None] = [
            el(
                "h1",
                answer.job.job.name,
                " ",
                el("span", assessment.word, class_="word go" if assessment.word.startswith("GO") else "word"),
                tabindex="-1" if self.settled else None,
                focus=True if self.settled else None,
                key=f"title {self.settled}",
            )
        ]
        if several:
            chosen = self._number(assessment)
            nodes.append(
                el(
                    "div",
                    [
                        button(
                            f"{one.item.name}: {one.verdict.word}",
                            "item",
                            number,
                            aria_pressed=str(number == chosen).lower(),
                        )
                        for number, one in enumerate(assessment.items)
                    ],
                    class_="items",
                    role="group",
                    aria_label="Which item",
                )
            )
        if assessed is not None:
            lead, *rest = lead_sentences(assessed, system)
            nodes += [el("p", lead, class_="lead"), _reason(assessed)]
            nodes += [el("p", text, class_="second") for text in rest]
        if self.trying is not None:
            nodes.append(self._trial(answer))
        if assessed is not None and assessed.mounted is not None:
            nodes.append(parts.case_chooser(assessed.mounted, self.case))
        return nodes

    def _trial(self, answer: Answer) -> Node:
        """Return the variant beside today's."""
        today = self.desk.answer()
        what = "what you changed" if self.tried is None else self.tried.what
        typed = typed_by(self.desk.text, self.trying or [])
        return el(
            "section",
            el("h2", f"Tried out: {what}", tabindex="-1", focus=True, key=what),
            el("p", "Roof and numbers show it. Nothing is saved yet.", class_="soft"),
            parts.beside_each_other(today, answer),
            parts.kept_to(self.tried),
            el(
                "details",
                el("summary", f"What is typed into the job when you take it over: {len(typed)}"),
                el("ul", [el("li", text) for text in typed]),
            )
            if typed
            else None,
            el(
                "p",
                button("Take this over", "try.take", kind="main", disabled=not self.trying or None),
                button("Forget it", "try.drop"),
                class_="row",
            ),
            class_="trial",
            aria_label="What is tried out",
        )

    def _beside(self, answer: Answer, assessed: ItemAssessment | None) -> list[Node]:
        nodes: list[Node] = []
        if self.selected:
            nodes += self._panel()
        elif assessed is not None and assessed.mounted is not None:
            found = self._found(assessed.mounted)
            nodes += parts.worst_foot(answer, assessed, assessed.mounted, found)
        return [
            el(
                "section",
                nodes,
                aria_label="The worst foot" if not self.selected else "What is chosen",
                class_="beside",
            )
        ]

    def _panel(self) -> list[Node]:
        """Return the fields of what is chosen on the roof."""
        if self.adding:
            form = empty_form(self.desk.text, self.adding, self.desk.cards)
            return [
                el("h2", f"Add: {form.title}"),
                parts.adding_form(form, self.adding),
                button("Never mind", "add.stop", kind="quiet"),
            ]
        form_now = form_at(self.desk.text, self.selected, self.desk.cards)
        if form_now is None:
            self.selected = ""
            return []
        first = [one for one in form_now.fields if one.label in parts.FIRST]
        rest = [one for one in form_now.fields if one.label not in parts.FIRST]
        fields = [field(one, cost=self.costs.get(one.place, "")) for one in first]
        more = el(
            "details", el("summary", "More"), [field(one, cost=self.costs.get(one.place, "")) for one in rest]
        )
        return [
            el("div", el("h2", form_now.title), button("Done", "pick", "", kind="quiet"), class_="row apart"),
            *fields,
            more if rest else el("span"),
            el(
                "p",
                parts.adders(self.selected),
                button(f"Remove {form_now.title}", "remove", self.selected, kind="quiet"),
                class_="row",
            ),
        ]

    # doing -----------------------------------------------------------------------------------------------------------

    def pick(self, place: str) -> None:
        """Choose a thing on the roof."""
        self.adding = ""
        if place != self.selected:
            self.selected = place
            self.costs = {}
            self.beside.forget_replies()
            self.refresh()

    def moving(self, place: str, behind: float, left: float) -> None:
        """Answer while a thing is dragged: uses, arrows and sentence, with nothing saved."""
        answer = self.answer()
        assessment = answer.assessment
        if place:
            job = moved_job(answer.job, place, Spot(behind_m=behind, left_m=left))
            assessment = self.desk.try_job(job)
        self._show_roof(assessment)
        self._show_space(assessment)
        assessed = self._chosen(assessment)
        if assessed is not None:
            now = Answer(
                job=assessment.job,
                written=answer.written,
                facts=answer.facts,
                assessment=assessment,
                findings=answer.findings,
            )
            self.lead.show(self._lead(now, assessed))

    def moved(self, place: str, behind: float, left: float) -> None:
        """Save where a thing was put down."""
        self._acting = True
        self.notice = self.trouble = ""
        try:
            answer = self.answer()
            text = self.desk.text
            changes = moves(answer.job, text, place, Spot(behind_m=behind, left_m=left))
            if changes:
                self.change(changes, f"move {_name(answer, place)}")
        except BadInput as error:
            self.trouble = "Not moved. " + " ".join(told(one) for one in error.findings)
        finally:
            self._acting = False
        self.refresh()

    def do_pick(self, act: Act) -> None:
        """Choose a thing, or nothing."""
        self.adding = ""
        self.selected = act.arg or ""

    def do_item(self, act: Act) -> None:
        """Tell about another item."""
        self.item, self.case = int(act.arg), None

    def do_case(self, act: Act) -> None:
        """Show another case."""
        value = act.arg["value"]
        self.case = int(value) if value else None

    def do_corner(self, act: Act) -> None:
        """Look at the roof from another corner."""
        self.corner = act.arg if act.arg in CORNERS else self.corner

    def do_near(self, act: Act) -> None:
        """Look at one item closer, or at the whole roof."""
        self.near = bool(act.arg)

    def do_add(self, act: Act) -> None:
        """Ask for what a new table needs."""
        self.adding = act.arg
        self.selected = self.selected or act.arg

    def do_add_stop(self, _: Act) -> None:
        """Add nothing."""
        self.adding = ""

    def do_add_save(self, act: Act) -> None:
        """Add a table of an array to the job."""
        self.change([added_table(act.arg, act.values, self.desk.cards)], f"add {act.arg.rpartition('.')[2]}")
        self.adding = ""

    def do_remove(self, act: Act) -> None:
        """Take a thing off the roof; Undo brings it back."""
        self.change([dropped(act.arg)], f"remove {act.arg}")
        self.selected = ""
        self.notice = "Removed. Undo brings it back."

    async def do_advise(self, _: Act) -> None:
        """Look for changes that turn the word, beside everything else."""
        if self.looking:
            return
        text, answer = self.desk.text, self.desk.answer()
        self.looking = True
        self.refresh()
        try:
            advice = await run.io_bound(advise, answer.assessment, answer.facts)
        finally:
            self.looking = False
        if advice is not None:  # None: the program is ending
            self.advice = (text, advice)
            self.refresh()

    def do_variant(self, act: Act) -> None:
        """Show a change beside today's; nothing is saved until it is taken over."""
        found = () if self.advice is None or self.advice[0] != self.desk.text else self.advice[1]
        item, what = act.arg
        offered = [
            one
            for advice in found
            if advice.item == item
            for one in (*advice.changes, *advice.pairs)
            if one.what == what
        ]
        if not offered:
            raise BadInput([_gone()])
        changes = advised_changes(self.desk.text, offered[0].typed)
        self.item = self._number(
            self.desk.answer().assessment
        )  # the one it is about, whichever is worst then
        self.desk.try_out(changes)
        self.trying, self.tried, self.put_back = list(changes), offered[0], None

    def do_try_take(self, act: Act) -> None:
        """Save what was tried."""
        super().do_try_take(act)
        self.tried, self.settled = None, self.settled + 1
        self.notice = "Taken over and saved. Undo brings the job back as it was."

    def forget_trial(self) -> None:
        """Try nothing out any more; the focus goes back to the button that began it."""
        super().forget_trial()
        self.put_back, self.tried = self.tried, None

    def words_of_trial(self) -> str:
        """Return what taking over is called on the Undo button."""
        return super().words_of_trial() if self.tried is None else self.tried.what

    async def do_weigh(self, _: Act) -> None:
        """Work out what each assumption does to the use; this takes some seconds, beside everything else."""
        text, answer = self.desk.text, self.answer()
        weights = await run.io_bound(weigh_assumptions, answer.assessment, answer.facts)
        if weights is not None:  # None: the program is ending
            self.weights = (text, weights)
        self.refresh()


def _reason(assessed: ItemAssessment) -> Node | None:
    """Return the first reason of a word that forbids or holds back, to stand beside that word."""
    verdict = assessed.verdict
    if verdict.word not in ("NO", "NOT PROVEN") or not verdict.because:
        return None
    text = sentence(verdict.because[0])
    return el("p", text if text.endswith((".", "?", "!")) else f"{text}.", class_="reason")


def _gone() -> Finding:
    rule = "the job changed since this change was found"
    return Finding(
        file="job.toml", line=None, key="advice", value="", rule=rule, hint="look for changes once more"
    )


def _name(answer: Answer, place: str) -> str:
    numbers = [int(part) - 1 for part in place.split(".") if part.isdigit()]
    if place.startswith("vehicle"):
        return answer.job.vehicle.on_roof[numbers[0]].name
    item = answer.job.item[numbers[0]]
    return item.name if len(numbers) == 1 else item.mount[numbers[1]].name
