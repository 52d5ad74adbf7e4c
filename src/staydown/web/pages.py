"""Which address shows which page."""

from __future__ import annotations

from fastapi import FastAPI, Request
from nicegui import ui

from staydown.web import frame
from staydown.web.answer_page import AnswerPage
from staydown.web.bond_page import BondPage
from staydown.web.desks import Desks
from staydown.web.details_page import DetailsPage
from staydown.web.files import register_files
from staydown.web.frame import JobPage
from staydown.web.pairing import Pairing
from staydown.web.papers_page import PapersPage
from staydown.web.start_page import StartPage, lost_page

JOB_PAGES: tuple[type[JobPage], ...] = (AnswerPage, DetailsPage, BondPage, PapersPage)


def register(app: FastAPI, desks: Desks, pairing: Pairing, lan_url: str) -> None:
    """Register every page."""
    frame.SHOWN.clear()
    frame.SHOWN.update(page.slug for page in JOB_PAGES)

    register_files(app, desks, pairing)

    @ui.page("/")
    def start(request: Request) -> None:
        StartPage(desks, request, lan_url)

    for page in JOB_PAGES:
        _job_page(page, desks)


def _job_page(page: type[JobPage], desks: Desks) -> None:
    @ui.page(f"/job/{{key}}/{page.slug}".rstrip("/"))
    def show(key: str, request: Request) -> None:
        if desks.find(key) is None:
            lost_page()
        else:
            page(desks, key, request)
