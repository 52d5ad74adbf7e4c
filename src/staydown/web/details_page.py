"""The details: every value of the job with what was read of it, and what may be left unknown."""

from __future__ import annotations

import asyncio
from time import monotonic
from typing import Any

from nicegui import background_tasks, run

from staydown.foundation.errors import BadInput
from staydown.web.answer_parts import adding_form
from staydown.web.frame import JobPage
from staydown.web.sheet import Act, Node, button, el, field, sentence, told
from staydown.workbench.desk import Answer
from staydown.workbench.edit_job import FormField, FormTable, added_table, dropped, empty_form, forms
from staydown.workbench.unknown_costs import cost_of_field

GROUPS = (
    ("The job", ("job",), ()),
    ("The vehicle", ("vehicle",), ()),
    ("How it travels", ("travel",), ()),
    ("The weather it must stand", ("climate",), ()),
    ("On the roof already", ("vehicle.on_roof",), (("vehicle.on_roof", "Add a vent, hatch or rail"),)),
    (
        "Measured on the vehicle",
        ("vehicle.local_wind", "vehicle.measured_temperature"),
        (
            ("vehicle.local_wind", "Add a measured wind"),
            ("vehicle.measured_temperature", "Add a measured temperature"),
        ),
    ),
    ("What it is stuck with", ("tape",), (("tape", "Add a tape or adhesive"),)),
    ("What is kept when hot, wet or aged", ("ratio",), (("ratio", "Add a measured ratio"),)),
    ("What is fastened", ("item",), (("item", "Add an item"),)),
)
QUIET_s = 0.4  # without anything done, before costs are worked out


class DetailsPage(JobPage):
    """Every table of the job but coupons and claims, as fields that save themselves."""

    slug = "details"
    title = "Details"

    def build(self) -> None:
        """Make the page's sheet."""
        self.adding = ""
        self.open: set[str] = set()
        self.now: Answer | None = None  # none while the job has mistakes
        self.of_unknown: tuple[str, dict[str, str]] = (
            "",
            {},
        )  # a state of the job, and what not knowing costs in it
        self.busy_until = 0.0  # somebody is at work, which comes first
        self.opened: set[str] = set()  # tables whose unknown values are looked at
        self.counting = False
        super().build()

    def show(self, answer: Answer) -> None:
        """Show all tables."""
        self.now = answer
        self._show_forms({})
        self._count()

    def show_trouble(self, error: BadInput) -> None:
        """Show all tables, what is wrong at its field where it has one."""
        self.now = None
        self._show_forms({one.key: told(one) for one in error.findings})

    def _show_forms(self, wrong: dict[str, str]) -> None:
        tables = forms(self.desk.text, self.desk.cards)
        places = {one.place for table in tables for one in table.fields}
        elsewhere = [f"{key.replace('.', ' ')}: {words}" for key, words in wrong.items() if key not in places]
        sections = [self._section(title, homes, adders, tables, wrong) for title, homes, adders in GROUPS]
        self.sheet.show(
            el("h1", "Details"),
            el(
                "p",
                "Type sizes and speeds as you measured them, in any unit: 58 1/4 in, 1.48 m, 95 km/h. Below each "
                "stands what was read. Every change is saved at once; Undo takes it back.",
                class_="second",
            ),
            el("div", [el("p", text) for text in elsewhere], class_="trouble", role="alert")
            if elsewhere
            else None,
            el(
                "nav",
                el("ul", [el("li", el("a", title, href=f"#{_anchor(title)}")) for title, *_ in GROUPS]),
                aria_label="On this page",
                class_="contents",
            ),
            sections,
        )

    def _section(
        self,
        title: str,
        homes: tuple[str, ...],
        adders: tuple[tuple[str, str], ...],
        tables: tuple[FormTable, ...],
        wrong: dict[str, str],
    ) -> Node:
        nodes = []
        for table in tables:
            home = ".".join(part for part in table.place.split(".") if not part.isdigit())
            mine = home in homes or (title == "What is fastened" and home.startswith("item."))
            if mine:
                nodes.append(self._table(table, wrong))
        for place, words in adders:
            if self.adding == place:
                form = empty_form(self.desk.text, place, self.desk.cards)
                nodes.append(
                    el(
                        "div",
                        el("h3", words),
                        adding_form(form, place),
                        button("Never mind", "add", "", kind="quiet"),
                    )
                )
        buttons = [button(words, "add", place) for place, words in adders if self.adding != place]
        return el(
            "section",
            el("h2", title),
            nodes,
            el("p", buttons, class_="row") if buttons else None,
            id=_anchor(title),
            class_="details",
            aria_label=title,
            key=title,
        )

    def _table(self, table: FormTable, wrong: dict[str, str]) -> Node:
        known = [  # a field that was given up just now stays in sight with what that costs
            one
            for one in table.fields
            if not one.unknown or not one.may_be_unknown or one.place in self.costs
        ]
        other = [one for one in table.fields if one not in known]
        # what nobody knows stands open where the table is the only one of its kind, folded where there are many
        fields = [
            field(one, error=wrong.get(one.place, ""), cost=self.costs.get(one.place, "")) for one in known
        ]
        unknown = [
            field(
                one,
                error=wrong.get(one.place, ""),
                cost=self.costs.get(one.place, "") or self._cost_of(table.place, one.place),
            )
            for one in other
        ]
        fold = (
            el(
                "details",
                el("summary", f"Not known, or left at what is usual: {len(unknown)}"),
                el("div", unknown, class_="fields"),
                told=f"costs {table.place}",
            )
            if unknown
            else None
        )
        remove = (
            button("Remove", "remove", table.place, kind="quiet", aria_label=f"Remove {table.title}")
            if table.removable
            else None
        )
        single = table.place in ("job", "vehicle", "travel", "climate")
        inside = [el("div", fields, class_="fields"), fold]
        deep = table.place.count(".") > 1
        if deep:  # a mount, a link, a tether: many of them, each folded away
            here = table.place in self.open or any(one.place in wrong for one in table.fields)
            summary = el("summary", table.title)
            box = el(
                "details", summary, inside, el("p", remove), open=here or None, told=f"open {table.place}"
            )
            return el("div", box, key=table.place, class_="deep")
        head = None if single else el("div", el("h3", table.title), remove, class_="row apart")
        return el("div", head, inside, key=table.place, class_="table")

    def _cost_of(self, table: str, place: str) -> str:
        """Return what it costs that a value is not known, as far as that was worked out for the job as it is."""
        if self.of_unknown[0] != self._state():
            return (
                "not known" if table not in self.opened else "not known; what that costs is being worked out"
            )
        return f"not known. {self.of_unknown[1][place]}" if place in self.of_unknown[1] else "not known"

    def _state(self) -> str:
        return f"{self.desk.text}{self.desk.coupons!r}"

    def _wanted(self) -> list[FormField]:
        """Return the unknown fields that are looked at and of which the cost is not worked out yet."""
        if self.of_unknown[0] != self._state():
            self.of_unknown = (self._state(), {})
        done = self.of_unknown[1]
        return [
            one
            for table in forms(self.desk.text, self.desk.cards)
            if table.place in self.opened
            for one in table.fields
            if one.unknown and one.may_be_unknown and one.place not in done and one.place not in self.costs
        ]

    def _count(self) -> None:
        if self.opened and not self.counting and self.now is not None and self._wanted():
            self.counting = True
            background_tasks.create(self._count_all())

    async def _count_all(self) -> None:
        """Work out beside everything else what the unknown values cost that are looked at, and show it."""
        try:
            while self.now is not None and not self.sheet.is_deleted and (wanted := self._wanted()):
                while (rest := self.busy_until - monotonic()) > 0:
                    await asyncio.sleep(rest)
                state = self._state()
                cost = await run.io_bound(cost_of_field, self.now, self.desk.text, self.desk.cards, wanted[0])
                if state == self._state():
                    self.of_unknown[1][wanted[0].place] = cost or ""
        finally:
            self.counting = False
        if not self.sheet.is_deleted:
            self.refresh()

    def do_add(self, act: Act) -> None:
        """Ask for what a new table needs."""
        self.adding = act.arg or ""

    def do_add_save(self, act: Act) -> None:
        """Add it."""
        self.change([added_table(act.arg, act.values, self.desk.cards)], f"add {act.arg.rpartition('.')[2]}")
        self.adding = ""

    def act(self, act: Act) -> Any:
        """Do what was asked for; which tables stand open is this tab's own affair."""
        self.busy_until = monotonic() + QUIET_s
        if act.name.startswith("costs "):
            place = act.name.removeprefix("costs ")
            (self.opened.add if act.arg else self.opened.discard)(place)
            self._count()
            return None
        if act.name.startswith("open "):
            place = act.name.removeprefix("open ")
            (self.open.add if act.arg else self.open.discard)(place)
            return None
        return super().act(act)

    def do_unknown(self, act: Act) -> None:
        """Note that nobody knows a value; what that costs stands at the field and above the page."""
        place = act.arg["place"]
        self.costs.pop(place, None)
        super().do_unknown(act)
        if place in self.costs:
            label = place.rpartition(".")[2].replace("_", " ")
            self.notice = f"{sentence(label)}: {self.costs[place]}"

    def do_remove(self, act: Act) -> None:
        """Take a table away; Undo brings it back."""
        self.change([dropped(act.arg)], f"remove {act.arg}")
        self.notice = "Removed. Undo brings it back."


def _anchor(title: str) -> str:
    return title.lower().replace(",", "").replace(" ", "-")
