"""Papers: what is printed, handed on or kept."""

from __future__ import annotations

from staydown.web.frame import JobPage
from staydown.web.sheet import Node, el
from staydown.workbench.desk import Answer
from staydown.workbench.papers import PAPERS

GROUPS = (
    ("To print and hand on", ("dossier-a4.pdf", "dossier-letter.pdf", "dossier.html")),
    ("To read and to work with", ("answer.txt", "answer.json", "coupons.csv", "logbook.json", "job.toml")),
    ("To move the job to another machine", ("job.zip",)),
)


class PapersPage(JobPage):
    """Every paper of the job, made when it is fetched."""

    slug = "papers"
    title = "Papers"

    def show(self, answer: Answer) -> None:
        """Show what there is."""
        grouped = {name for _, names in GROUPS for name in names}
        rest = tuple(name for name in PAPERS if name not in grouped)
        groups = (*GROUPS, *((("Sheets", rest),) if rest else ()))
        self.sheet.show(
            el("h1", "Papers"),
            el(
                "p",
                f"Each is made when you fetch it, from the job as it stands: {answer.assessment.word}. "
                "A dossier takes some seconds.",
                class_="second",
            ),
            [self._group(title, names) for title, names in groups],
        )

    def _group(self, title: str, names: tuple[str, ...]) -> Node:
        rows = [
            el(
                "li",
                el("a", name, href=f"/job/{self.key}/paper/{name}", download=name),
                " ",
                el("span", PAPERS[name].words, class_="soft"),
            )
            for name in names
        ]
        return el(
            "section",
            el("h2", title),
            el("ul", rows, class_="papers"),
            class_="band",
            aria_label=title,
            key=title,
        )
