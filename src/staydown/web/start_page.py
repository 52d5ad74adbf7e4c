"""The first page: open a folder, start from questions, look at the demo."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from fastapi import Request
from nicegui import run, ui

from staydown.foundation.errors import BadInput, StaydownError, UnreadableValue
from staydown.storage.read_cards import read_cards
from staydown.storage.read_value import read_value
from staydown.storage.recent_jobs import read_recent
from staydown.web.desks import Desks, key_of
from staydown.web.frame import head, words_of
from staydown.web.guard import is_here
from staydown.web.sheet import Act, Node, Sheet, button, el, entry, told
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.edit_job import as_toml, echo_of
from staydown.workbench.new_job import Question, mount_questions, offers, question_at, questions, write_job

DEMO = "staydown-demo"
GROUPS = {
    "job": "The job",
    "vehicle": "The vehicle",
    "travel": "How it travels",
    "climate": "The weather it must stand",
    "tape": "What it is stuck with",
    "item": "What is fastened",
}


class StartPage:
    """Without a job: three ways to one."""

    def __init__(self, desks: Desks, request: Request, lan_url: str) -> None:
        self.desks, self.lan_url = desks, lan_url
        self.here = is_here(request.scope)
        self.trouble: list[str] = []
        self.errors: dict[str, str] = {}
        self.asking = False
        self.refused = 0  # how often something was refused: the box that says so gets the focus each time
        self.mounts = 4
        self.answers: dict[str, str] = {}
        ui.page_title("staydown")
        head(ui)
        with ui.element("div").props("id=main").classes("start"):
            self.sheet = Sheet(self.act)
        self.refresh()

    async def act(self, act: Act) -> None:
        """Do what was asked for."""
        if not self.here:
            return  # a phone looks at jobs that are open; folders are opened at the machine itself
        if act.name == "typing":
            self._answer_typing(act)  # what was refused stays where it is told
            return
        self.trouble, self.errors = [], {}
        self.sheet.forget_replies()
        try:
            await getattr(self, "do_" + act.name)(act)
        except BadInput as error:
            self.errors = {one.key: told(one) for one in error.findings}
            self.trouble = [f"{one.key.replace('.', ' ')}: {told(one)}" for one in error.findings]
        except (StaydownError, OSError, UnicodeDecodeError) as error:
            self.trouble = [str(error)]
        self.refused += bool(self.trouble)
        self.refresh()

    def _answer_typing(self, act: Act) -> None:
        """Answer what is being typed: what is read of it, or what is wrong with it."""
        key, text = str(act.arg["name"]), str(act.arg["text"])
        question = question_at(key)
        if question is not None:
            echo, error = self._read(question, text)
            self.sheet.reply(key, text, echo=echo, error=error)

    def _read(self, question: Question, text: str) -> tuple[str, str]:
        """Return what is read of an answer, and what is wrong with it; both empty where nothing was typed."""
        if not text.strip():
            return "", ""
        value, cards = as_toml(question.field, text.strip()), read_cards()
        try:
            read_value(question.field, value, cards)
        except UnreadableValue as error:
            return "", words_of(error)
        return echo_of(question.field, value, cards), ""

    async def do_open(self, act: Act) -> None:
        """Open a folder."""
        typed = act.values.get("folder", "") if act.values else str(act.arg or "")
        if not typed.strip():
            self.errors["folder"] = "Type the folder of a job, such as ~/van."
            return
        self._go(Path(typed.strip()).expanduser())

    async def do_demo(self, _: Act) -> None:
        """Lay out the demo in the current folder and open it."""
        await run.io_bound(lay_out_demo, Path(DEMO), datetime.now(UTC))
        self._go(Path(DEMO))

    async def do_ask(self, _: Act) -> None:
        """Show the questions."""
        self.asking = True

    async def do_back(self, _: Act) -> None:
        """Show the three ways again."""
        self.asking = False

    async def do_write(self, act: Act) -> None:
        """Write the job that the answers give."""
        self.answers = {key: value for key, value in act.values.items() if value.strip()}
        folder = self.answers.pop("folder", "")
        if not folder:
            self.errors["folder"] = "Type the folder that the job is to be written in."
        missing = [
            one for one in self._questions() if one.key not in self.answers and not self._left_out(one)
        ]
        self.errors |= {one.key: f"Must be given, such as {one.example}." for one in missing}
        if self.errors:
            several = len(self.errors) > 1
            self.trouble = [f"{len(self.errors)} answers are missing." if several else "1 answer is missing."]
        for one in self._questions():
            if wrong := self._read(one, self.answers.get(one.key, ""))[1]:
                self.errors[one.key] = wrong
                self.trouble.append(f"{one.key.replace('.', ' ')}: {wrong}")
        if self.errors:
            return
        file = write_job(Path(folder).expanduser(), self.answers).file
        self._go(file)

    def _left_out(self, one: Question) -> bool:
        """Return whether a question is of a mount of which nothing is answered."""
        parts = one.key.split(".")
        return (
            parts[2:3] == ["mount"]
            and parts[3] != "1"
            and not any(key.startswith(".".join(parts[:4]) + ".") for key in self.answers)
        )

    def _go(self, place: Path) -> None:
        ui.navigate.to(f"/job/{self.desks.open(place)}")

    def _questions(self) -> list[Question]:
        return [
            *questions(),
            *(one for number in range(1, self.mounts + 1) for one in mount_questions(number)),
        ]

    def refresh(self) -> None:
        """Show the page."""
        nodes: list[Any] = [
            el(
                "header",
                el("p", el("span", "staydown", class_="mark"), class_="home"),
                el(
                    "div",
                    el("button", "Light or dark", class_="quiet", type="button", data_theme="switch"),
                    class_="tools",
                ),
                class_="top",
            ),
            el("h1", "Will it stay on the roof?"),
            el(
                "p",
                "How do you know, and what do you do next? Everything stays on this machine.",
                class_="lead",
            ),
        ]
        if self.trouble:
            nodes.append(
                el(
                    "div",
                    [el("p", text) for text in self.trouble],
                    class_="trouble",
                    role="alert",
                    tabindex="-1",
                    focus=True,
                    key=f"trouble {self.refused}",
                )
            )
        nodes += self._form() if self.asking and self.here else self._ways()
        self.sheet.show(nodes)

    def _ways(self) -> list[Node]:
        jobs = (
            [(key_of(file), file) for file in read_recent()]
            if self.here
            else [(key, desk.file) for key, desk in self.desks.all.items()]
        )
        recent = el(
            "section",
            el("h2", "Lately open"),
            el(
                "ul",
                [
                    el(
                        "li",
                        el("a", file.parent.name or str(file), href=f"/job/{key}"),
                        " ",
                        el("small", str(file.parent), class_="soft"),
                    )
                    for key, file in jobs
                ],
            ),
        )
        if not self.here:
            return [recent] if jobs else [el("p", "No job is open on the machine yet.")]
        found = sorted(one.parent for one in Path().glob("*/job.toml"))[:12]
        near = [button(f"Open {one}", "open", str(one.resolve())) for one in found]
        taking = el(
            "form",
            el("label", "Archive", for_="archive"),
            el(
                "input",
                type="file",
                name="archive",
                id="archive",
                accept=".zip,.json,application/zip,application/json",
                required=True,
            ),
            el("label", "New folder for it", for_="into"),
            el(
                "input",
                type="text",
                name="folder",
                id="into",
                required=True,
                autocomplete="off",
                placeholder="such as ~/van",
            ),
            el("p", el("button", "Unpack and open it", type="submit")),
            action="/import",
            method="post",
            enctype="multipart/form-data",
        )
        return [
            el(
                "div",
                el(
                    "section",
                    el("h2", "Open a folder"),
                    el("p", "A folder that has a job in it."),
                    el(
                        "form",
                        entry("folder", "Folder", example="~/van", error=self.errors.get("folder", "")),
                        el("p", el("button", "Open it", type="submit", class_="main")),
                        act="open",
                    ),
                    el("p", near, class_="row") if near else None,
                    el(
                        "details",
                        el("summary", "Or unpack an archive that was exported, or take over a passport"),
                        taking,
                    ),
                ),
                el(
                    "section",
                    el("h2", "Start from questions"),
                    el(
                        "p",
                        f"{len(questions())}, and {len(mount_questions(1))} more for each foot, with an example at "
                        "each. All of these are needed.",
                    ),
                    el(
                        "p",
                        "What can wait is not asked here: colour and material, the feet's levers, snow, "
                        "hours and height above the sea. Details has those, with \u201cDon't know\u201d at each.",
                        class_="soft",
                    ),
                    el("p", button("Ask me", "ask", kind="main")),
                ),
                el(
                    "section",
                    el("h2", "Look at the demo"),
                    el(
                        "p",
                        f"An invented van with a solar panel and an antenna dome, laid out in the folder {DEMO}.",
                    ),
                    el("p", button("Show the demo", "demo", kind="main")),
                ),
                class_="ways",
            ),
            *([recent] if jobs else []),
        ]

    def _left(self) -> str:
        """Return, beside the button, why nothing was written."""
        if len(self.trouble) == 1:
            return self.trouble[0]
        count = max(len(self.trouble), len(self.errors))
        return f"Not written: {count} things are wrong, told at the top of the page."

    def _form(self) -> list[Node]:
        cards = read_cards()
        groups: dict[str, list[Node]] = {}
        for one in self._questions():
            home = one.key.split(".")
            title = GROUPS[home[0]] if "mount" not in home else f"Mount {home[3]}"
            choices = [(name, name) for name in offers(one, cards)]
            groups.setdefault(title, []).append(
                entry(
                    one.key,
                    one.field.key.replace("_", " "),
                    words=one.words.split(", an id of")[0],
                    example=one.example,
                    choices=choices,
                    value=self.answers.get(one.key, ""),
                    error=self.errors.get(one.key, ""),
                )
            )
        sets = [el("fieldset", el("legend", title), fields) for title, fields in groups.items()]
        return [
            el(
                "form",
                entry(
                    "folder",
                    "Folder",
                    words="where the job is written; a new one is made",
                    example="~/van",
                    error=self.errors.get("folder", ""),
                ),
                sets,
                el(
                    "p",
                    el("button", "Write the job", type="submit", class_="main"),
                    button("Back", "back", kind="quiet"),
                    el("span", self._left(), class_="error") if self.trouble else None,
                    class_="row",
                ),
                act="write",
                class_="questions",
            ),
        ]


def lost_page(title: str = "No such job is open here", words: str = " and open its folder.") -> None:
    """Say that an address leads nowhere, or that a page could not be made."""
    ui.page_title("staydown")
    head(ui)
    with ui.element("div").props("id=main").classes("start"):
        Sheet(lambda _: None).show(el("h1", title), el("p", el("a", "Go to the first page", href="/"), words))
