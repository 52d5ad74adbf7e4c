"""Bond and tests: what was claimed, what was tested, what hangs, what the tests say, which tests are worth making."""

from __future__ import annotations

from collections.abc import Coroutine, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

import numpy as np
from fastapi import Request
from nicegui import run

from staydown.advice.plan_tests import ItemPlan, plan_tests
from staydown.assess import Assessment, ItemAssessment
from staydown.evidence.build_coupons import RecordedCoupon
from staydown.evidence.coupon import FAILURE_PATTERNS, RESULTS
from staydown.foundation.errors import BadInput
from staydown.foundation.exposure import MODES
from staydown.outputs.plan_cards import PlanCard, free_names, plan_cards
from staydown.outputs.stress_time_chart import stress_panels
from staydown.pictures.picture import Picture
from staydown.pictures.stress_svg import stress_svg
from staydown.web import bond_parts as parts
from staydown.web import plan_parts, table_parts
from staydown.web.desks import Desks
from staydown.web.frame import JobPage
from staydown.web.sheet import Act, Node, button, el, picture, told
from staydown.web.uploads import Waiting
from staydown.workbench.coupon_table import look_at_table, record_table
from staydown.workbench.desk import Answer
from staydown.workbench.edit_job import added_table, dropped, form_at
from staydown.workbench.item_papers import sheets_of
from staydown.workbench.plan import SEED
from staydown.workbench.record import Seen, end_hang, list_records, look_hang, start_hang
from staydown.workbench.record_one import record_coupon, spoil_coupon
from staydown.workbench.record_photo import photos_of
from staydown.workbench.unknown_costs import cost_of_coupon

UNITS = {"metric": "kPa", "us": "psi"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A plan of tests and what it was made from: the job's text, its assessment, the coupons there were then."""

    text: str
    assessment: Assessment
    plans: tuple[ItemPlan, ...]
    known: frozenset[str]

    def cards(self) -> dict[str, PlanCard]:
        """Return every card by its key."""
        made = (plan_cards(plan, self.plans, self.assessment) for plan in self.plans)
        return {card.key: card for cards in made for card in cards}


class BondPage(JobPage):
    """The evidence book of a job."""

    slug = "bond"
    title = "Bond and tests"

    def __init__(self, desks: Desks, key: str, request: Request) -> None:
        self.token = request.query_params.get("table", "")[:40]  # of a table that was handed in
        super().__init__(desks, key, request)

    def build(self) -> None:
        """Make the page's sheet."""
        self.asking = ""  # which form is open: hang, record, claim, or one of a coupon
        self.values: dict[str, str] = {}
        self.errors: dict[str, str] = {}
        self.missed = bool(self.token) and self._waiting() is None
        self.planned: Planned | None = None
        self.working = False  # on the plan of tests
        self.filled: PlanCard | None = None  # whose planned values stand in the form
        super().build()

    def show(self, answer: Answer) -> None:
        """Show tests, chart, plan and claims."""
        records = list_records(self.desk.folder)
        photos = photos_of(self.desk.folder)
        hanging = [one for one in records.coupons if one.hanging]
        done = [one for one in records.coupons if not one.hanging]
        system = answer.job.job.show
        if self.planned is not None and self.planned.text != self.desk.text:
            self.planned = None  # made for another job
        self.sheet.show(
            el("h1", "Bond and tests"),
            el(
                "p",
                f"{len(done)} finished tests, {len(hanging)} hanging. Nothing written here is ever erased: a "
                "correction stands beside what it corrects.",
                class_="second",
            ),
            self._table(system),
            self._hanging(hanging),
            self._new(answer),
            self._charts(answer),
            self._plan(answer, records.coupons),
            parts.coupon_table(done, photos, system, self.asking, self.errors, self.key),
            self._claims(answer, system),
        )

    def _hanging(self, hanging: list[RecordedCoupon]) -> Node | None:
        now = datetime.now(UTC)
        cards = [parts.hanging_card(one, now, self.asking, self.errors, self.key) for one in hanging]
        return (
            el(
                "section",
                el("h2", "Hanging now"),
                cards,
                aria_label="Hanging now",
                class_="band",
                key="hanging",
            )
            if cards
            else None
        )

    def _new(self, answer: Answer) -> Node:
        tapes = [tape.name for tape in answer.job.tape]
        surfaces = [(key, card.name) for key, card in self.desk.cards.surfaces.items()]
        nodes: list[Any] = []
        if self.asking in ("hang", "record"):
            hang = self.asking == "hang"
            choices: dict[str, list[tuple[str, str]]] = {
                "tape": [(name, name) for name in tapes],
                "surface": surfaces,
                "mode": [(mode, mode) for mode in MODES],
                "result": [(result, parts.RESULT_WORDS[result]) for result in RESULTS],
                "failure_pattern": [(pattern, pattern) for pattern in FAILURE_PATTERNS],
                "foot": [("real", "the real foot")],
                "lever_direction": [("along", "along"), ("across", "across")],
            }
            usual = {
                "tape": tapes[0] if tapes else "",
                "surface": answer.job.vehicle.surface,
                "mode": "tension",
            }
            told_by = "" if self.filled is None else plan_parts.filled_in(self.filled)
            nodes.append(parts.coupon_form(hang, choices, usual | self.values, self.errors, told_by))
            nodes.append(button("Never mind", "ask", "", kind="quiet"))
        else:
            nodes.append(
                el(
                    "p",
                    button("Hang a coupon", "ask", "hang", kind="main"),
                    button("Write down a finished test", "ask", "record"),
                    class_="row",
                )
            )
            nodes.append(table_parts.drop_zone(self.key))
        return el("section", nodes, aria_label="New test", class_="band", key="new")

    def _waiting(self) -> Waiting | None:
        return self.desks.uploads.get(self.token, self.key) if self.token else None

    def _table(self, system: str) -> Node | None:
        waiting = self._waiting()
        if waiting is not None:
            return table_parts.looked_at(waiting.table, system)
        if not self.missed:
            return None
        return el(
            "p",
            "The file that was chosen is not held any more. If it was recorded its coupons stand below; else choose it "
            "again.",
            class_="soft",
        )

    def _charts(self, answer: Answer) -> Node | None:
        drawn = []
        seen = set()
        for assessed in answer.assessment.items:
            for mode in MODES:
                key = (assessed.item.tape, assessed.standing.surface.id, mode)
                if key not in seen and (chart := self._chart(answer, assessed, mode)) is not None:
                    seen.add(key)
                    drawn.append(picture(chart, f"{chart.title}. Point at a mark to read it."))
        return (
            el(
                "section",
                el("h2", "What the tests say, over time under load"),
                drawn,
                aria_label="Chart",
                class_="band",
                key="charts",
            )
            if drawn
            else None
        )

    def _chart(self, answer: Answer, assessed: ItemAssessment, mode: Any) -> Picture | None:
        made = stress_panels(answer.assessment, assessed, mode)
        if made is None:
            return None
        name = f"{assessed.item.tape} on {assessed.standing.surface.name}, {mode}"
        return stress_svg(name, made[0], UNITS[answer.job.job.show], made[1], narrow=self.narrow)

    def _plan(self, answer: Answer, records: Sequence[RecordedCoupon]) -> Node:
        if self.planned is None:
            return plan_parts.no_plan_yet(self.working)
        since = [one for one in records if one.name not in self.planned.known]
        sheets = {
            one.item: [(paper.variant, f"/job/{self.key}/paper/{paper.name}") for paper in sheet.papers]
            for one in sheets_of(answer, {})
            for sheet in one.sheets
            if sheet.kind == "tests"
        }
        base = f"/job/{self.key}"
        return plan_parts.plan(self.planned.plans, self.planned.assessment, since, sheets, base, self.working)

    def _claims(self, answer: Answer, system: str) -> Node:
        tables = [
            form_at(self.desk.text, f"claim.{number}", self.desk.cards)
            for number in range(1, len(answer.job.claim) + 1)
        ]
        return parts.claims(answer.job.claim, tables, self.asking, system, self.desk)

    # doing -----------------------------------------------------------------------------------------------------------

    def do_ask(self, act: Act) -> None:
        """Open a form, or close it."""
        self.asking, self.values, self.errors, self.filled = act.arg or "", {}, {}, None

    def do_as_planned(self, act: Act) -> None:
        """Open the form of a coupon with what is planned of it; what happens is left to be written."""
        card = None if self.planned is None else self.planned.cards().get(act.arg)
        if card is None:
            self.trouble = "That plan is not held any more. Have it made anew."
            return
        taken = [one.name for one in list_records(self.desk.folder).coupons]
        self.asking, self.errors, self.filled = ("hang" if card.way == "hang" else "record"), {}, card
        self.values = {**card.cells, "name": free_names(card, taken)[0]}

    def cost_in_form(self, form: str, of: Any, name: str, values: Mapping[str, str]) -> str:
        """Return what it costs that a value of a coupon, or of a claim, is not known."""
        if form == "end":
            return (
                "It counts all the same; which layer gave way stays open, so the whole bond answers for it."
            )
        if form not in ("hang.start", "record"):
            return super().cost_in_form(form, of, name, values)
        could_be = list(FAILURE_PATTERNS) if name == "failure_pattern" else parts.examples_of(name)
        today = datetime.now(UTC).date()
        return cost_of_coupon(self.answer(), values, name, could_be, today, hang=form == "hang.start")

    def do_hang_start(self, act: Act) -> None:
        """Write down that a coupon hangs, as of now."""
        self._record(
            act,
            lambda cells: start_hang(self.desk.folder, cells, self._seen()),
            "It hangs. Look now and then, and say so here.",
        )

    def do_record(self, act: Act) -> None:
        """Write down a finished test."""
        self._record(act, lambda cells: record_coupon(self.desk.folder, cells, self._seen()), "Written down.")

    def do_look(self, act: Act) -> None:
        """Write down that it was seen holding."""
        look_hang(self.desk.folder, act.arg, self._seen())
        self.notice = f"{act.arg} was seen holding."
        self.desk.tell()

    def do_end(self, act: Act) -> None:
        """Write down how a hang ended."""
        name, how = act.arg
        try:
            end_hang(
                self.desk.folder,
                name,
                how,
                self._seen(),
                failure_pattern=act.values.get("failure_pattern") or None,
                note=act.values.get("note", ""),
            )
        except BadInput as error:
            if how != "spoiled":  # its form has no field that the mistake belongs to
                raise
            self.errors = {"note": " ".join(told(one) for one in error.findings)}
            return
        self.asking, self.notice = "", f"{name} is written down."
        self.desk.tell()

    def do_spoil(self, act: Act) -> None:
        """Write down that a finished test counts for nothing, and why."""
        try:
            spoil_coupon(self.desk.folder, act.arg, act.values.get("note", ""), self._seen())
        except BadInput as error:
            self.errors = {"note": " ".join(told(one) for one in error.findings)}
            return
        self.asking, self.notice = "", f"{act.arg} is kept and shown, and counts for nothing."
        self.desk.tell()

    def do_table_record(self, _: Act) -> None:
        """Write down the table that was looked at, as it was shown: all of its rows or none."""
        waiting = self._waiting()
        if waiting is None:
            self.trouble = "That file is not held any more. Choose it again."
            return
        now = datetime.now(UTC)
        try:
            done = record_table(self.desk.folder, waiting.table, now)
        except BadInput:  # somebody else wrote meanwhile: it is shown anew as it would be now
            table = look_at_table(self.desk.folder, waiting.name, waiting.content, now)
            self.desks.uploads.put(replace(waiting, table=table), self.token)
            raise
        self.desks.uploads.drop(self.token)
        self.token = ""
        counts = (
            (done.recorded, "recorded"),
            (done.superseded, "corrected"),
            (done.already, "known already"),
        )
        told_now = ", ".join(f"{len(names)} {what}" for names, what in counts if names)
        self.notice = f"Coupons of {waiting.table.name}: {told_now}."
        self.desk.tell()

    def do_table_drop(self, _: Act) -> None:
        """Put the table away; nothing was written."""
        self.desks.uploads.drop(self.token)
        self.token = ""

    def do_add_save(self, act: Act) -> None:
        """Add a claim to the job."""
        self.change([added_table(act.arg, act.values, self.desk.cards)], f"add {act.arg}")
        self.asking = ""

    def do_remove(self, act: Act) -> None:
        """Take a claim away; Undo brings it back."""
        self.change([dropped(act.arg)], f"remove {act.arg}")

    def do_plan(self, _: Act) -> Coroutine[Any, Any, None] | None:
        """Work out which tests are worth making, beside everything else."""
        if self.working:
            return None
        self.working = True
        return self._work_out()

    async def _work_out(self) -> None:
        answer, text = self.answer(), self.desk.text
        known = frozenset(one.name for one in list_records(self.desk.folder).coupons)
        try:
            plans = await run.io_bound(
                plan_tests, answer.assessment, answer.facts, np.random.default_rng(SEED)
            )
        finally:
            self.working = False
        if plans is not None:
            self.planned = Planned(text=text, assessment=answer.assessment, plans=plans, known=known)
        self.refresh()

    def _record(self, act: Act, write: Any, words: str) -> None:
        self.values = {key: value.strip() for key, value in act.values.items()}
        try:
            write(self.values)
        except BadInput as error:
            self.errors = {one.key: told(one) for one in error.findings}
            return
        self.asking, self.values, self.errors, self.notice, self.filled = "", {}, {}, words, None
        self.desk.tell()

    def _seen(self) -> Seen:
        return Seen(now=datetime.now(UTC))
