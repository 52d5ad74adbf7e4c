"""Shown at the machine: the code that lets a phone in, as a picture to scan, and who is in."""

from __future__ import annotations

import time

from fastapi import Request
from nicegui import ui

from staydown.web.frame import head
from staydown.web.guard import is_here
from staydown.web.pair_page import qr_svg
from staydown.web.pairing import Pairing
from staydown.web.sheet import Act, Node, Sheet, button, el


class PhonePage:
    """Pairs a phone; a code is good once, and another is made when it is used or too old."""

    def __init__(self, pairing: Pairing, request: Request, lan_url: str) -> None:
        self.pairing, self.lan_url = pairing, lan_url
        self.here = is_here(request.scope)
        ui.page_title("Phone – staydown")
        head(ui)
        with ui.element("div").props("id=main").classes("start"):
            self.sheet = Sheet(self.act)
        self.refresh()
        ui.timer(2.0, self.refresh)

    def act(self, act: Act) -> None:
        """End what is paired."""
        if act.name == "end" and self.here:
            self.pairing.end_all()
        self.refresh()

    def refresh(self) -> None:
        """Show the code that is good now."""
        nodes: list[Node] = [
            el("header", el("p", el("a", "staydown", href="/", class_="mark"), class_="home"), class_="top"),
            el("h1", "The phone in the shop"),
        ]
        if not self.here:
            nodes.append(el("p", "The code is shown at the machine itself."))
        elif not self.lan_url:
            nodes += [
                el(
                    "p",
                    "Only this machine can come in now. To let a phone in, stop staydown and start it with:",
                    class_="lead",
                ),
                el("p", el("code", "staydown serve --lan")),
            ]
        else:
            nodes += self._code()
        self.sheet.show(nodes)

    def _code(self) -> list[Node]:
        code, left_s = self.pairing.code()
        address = f"{self.lan_url}/pair?code={code}"
        now = time.time()
        paired = self.pairing.paired
        return [
            el(
                "p", "Scan this with the phone's camera, in the same network. It is good once.", class_="lead"
            ),
            ["picture", {"svg": qr_svg(address), "class": "qr", "caption": "", "alt": "Code to scan"}, []],
            el(
                "p",
                "Or open ",
                el("strong", f"{self.lan_url}/pair"),
                " and type ",
                el("strong", code, class_="code"),
                ".",
            ),
            el(
                "p",
                "Still good for ",
                [
                    "clock",
                    {"to": round(now + left_s), "now": round(now), "past": "a moment", "key": code},
                    [],
                ],
                ".",
            ),
            el(
                "p",
                f"{paired} phone{'' if paired == 1 else 's'} paired. ",
                button("End that", "end") if paired else None,
            ),
            el(
                "p",
                "The way between phone and machine is not encrypted: use it in a network that you trust.",
                class_="soft",
            ),
        ]
