"""Which address shows which page."""

from __future__ import annotations

import logging

from fastapi import FastAPI, Request
from nicegui import app as nicegui_app
from nicegui import ui
from starlette.responses import HTMLResponse, Response

from staydown.web import frame
from staydown.web.answer_page import AnswerPage
from staydown.web.bond_page import BondPage
from staydown.web.desks import Desks
from staydown.web.details_page import DetailsPage
from staydown.web.files import register_files
from staydown.web.frame import JobPage
from staydown.web.pair_page import refusal_text
from staydown.web.pairing import Pairing
from staydown.web.papers_page import PapersPage
from staydown.web.phone_page import PhonePage
from staydown.web.planning_page import PlanningPage
from staydown.web.road_page import RoadPage
from staydown.web.shop_page import ShopPage
from staydown.web.start_page import StartPage, lost_page

JOB_PAGES: tuple[type[JobPage], ...] = (
    AnswerPage,
    DetailsPage,
    BondPage,
    ShopPage,
    RoadPage,
    PlanningPage,
    PapersPage,
)


def register(app: FastAPI, desks: Desks, pairing: Pairing, lan_url: str) -> None:
    """Register every page."""
    frame.SHOWN.clear()
    frame.SHOWN.update(page.slug for page in JOB_PAGES)

    register_files(app, desks, pairing)

    @ui.page("/")
    def start(request: Request) -> None:
        StartPage(desks, request, lan_url)

    @ui.page("/phone")
    def phone(request: Request) -> None:
        PhonePage(pairing, request, lan_url)

    @nicegui_app.on_page_exception
    def fault(error: Exception) -> None:
        logging.getLogger("staydown").error("a page could not be made", exc_info=error)
        lost_page(
            "This page could not be made",
            f": a fault of the program, not of your job ({type(error).__name__}).",
        )

    for page in JOB_PAGES:
        _job_page(page, desks)

    async def nowhere(request: Request, error: Exception) -> Response:  # noqa: ARG001, the framework's signature
        return HTMLResponse(
            refusal_text("There is no such page", "The first page is at / of this address."), 404
        )

    nicegui_app.add_exception_handler(404, nowhere)


def _job_page(page: type[JobPage], desks: Desks) -> None:
    @ui.page(f"/job/{{key}}/{page.slug}".rstrip("/"))
    def show(key: str, request: Request) -> None:
        if desks.find(key) is None:
            lost_page()
        else:
            page(desks, key, request)
