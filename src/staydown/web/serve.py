"""Starts the workbench: one program on this machine, its pages, its guard, its watch on the files."""

from __future__ import annotations

import asyncio
import logging
import socket
import time
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn
from fastapi import FastAPI
from nicegui import core, ui
from starlette.responses import JSONResponse, Response
from starlette.staticfiles import StaticFiles

from staydown.foundation.errors import StaydownError
from staydown.foundation.version import VERSION
from staydown.web.desks import Desks
from staydown.web.guard import Guard
from staydown.web.pages import register
from staydown.web.pairing import Pairing

HOME = "127.0.0.1"
PORT = 8420
LOOK_EVERY_s = 1.0
FONTS = Path(__file__).parent.parent / "pictures" / "fonts"
LOOK = Path(__file__).parent / "static"


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """Where the workbench answers, and with which code a phone comes in; lan_url is empty without --lan."""

    url: str
    lan_url: str
    code: str
    lan: bool


def serve(
    job: Path | None,
    *,
    port: int | None,
    lan: bool,
    browser: bool,
    say: Callable[[Served], None],
) -> None:
    """Serve until it is stopped.

    Raises
    ------
    BadInput
        The folder has no job.
    OSError
        The port is taken.
    """
    desks = Desks()
    start = "/" if job is None else f"/job/{desks.open(job)}"
    listening = [_listen(HOME, port)]
    port = listening[0].getsockname()[1]
    address = _lan_address() if lan else ""
    if address:
        listening.append(_listen(address, port))
    names = [HOME, "localhost", *([address] if address else [])]
    pairing = Pairing(time.monotonic)
    app = make_app(
        desks,
        pairing,
        [f"{name}:{port}" for name in names],
        lan_url=f"http://{address}:{port}" if address else "",
    )
    served = Served(
        url=f"http://{HOME}:{port}{start}",
        lan_url=f"http://{address}:{port}" if address else "",
        code=pairing.code()[0] if address else "",
        lan=lan,
    )
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        lifespan="on",
        ws="websockets-sansio",
        proxy_headers=False,
        server_header=False,
        timeout_graceful_shutdown=1,
    )
    server = uvicorn.Server(config)

    async def run() -> None:
        serving = asyncio.create_task(server.serve(sockets=listening))
        while not server.started and not serving.done():
            await asyncio.sleep(0.01)
        if server.started:
            say(served)
            if browser:
                await asyncio.to_thread(webbrowser.open, served.url)
        await serving

    asyncio.run(run())


def make_app(desks: Desks, pairing: Pairing, hosts: list[str], *, lan_url: str) -> Guard:
    """Return the whole application behind its guard."""
    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None)

    @app.get("/health")
    async def health() -> Response:
        return JSONResponse({"ready": True, "version": VERSION})

    app.mount("/look", StaticFiles(directory=LOOK), name="look")
    app.mount("/fonts", StaticFiles(directory=FONTS), name="fonts")
    register(app, desks, pairing, lan_url)
    ui.run_with(
        app,
        title="staydown",
        language="en-US",
        favicon=LOOK / "mark.svg",
        tailwind=False,
        gzip_middleware_factory=None,
        show_welcome_message=False,
        reconnect_timeout=10.0,
        storage_secret=None,
    )
    core.sio.eio.cors_allowed_origins = [f"http://{host}" for host in hosts]
    core.app.on_startup(lambda: _watch(desks))
    logging.getLogger("nicegui").setLevel(logging.WARNING)
    return Guard(app, hosts, pairing.knows, allows_eval=False)


async def _watch(desks: Desks) -> None:
    """Look now and then whether somebody else changed a job that is looked at."""
    first = True
    while True:
        for desk in desks.all.values():
            if first:  # the first answer loads what all others need
                await asyncio.to_thread(_warm, desk)
            if desk.listeners:
                try:
                    desk.look_at_disk()
                except (OSError, UnicodeDecodeError, StaydownError) as error:
                    logging.getLogger("staydown").warning("%s: %s", desk.file, error)
        first = False
        await asyncio.sleep(LOOK_EVERY_s)


def _warm(desk: object) -> None:
    try:
        desk.answer()  # type: ignore[attr-defined]
    except StaydownError:
        return  # the page says what is wrong


def _listen(address: str, port: int | None) -> socket.socket:
    """Return a socket that listens; without a port the usual one, or any that is free."""
    for number in [port] if port is not None else [PORT, 0]:
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((address, number))
        except OSError:
            found.close()
            if number != 0 and port is None:
                continue
            raise
        found.listen(128)
        found.setblocking(False)
        return found
    raise AssertionError


def _lan_address() -> str:
    """Return this machine's address on the network that leads out, empty where there is none; nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(
                ("192.0.2.1", 9)
            )  # TEST-NET-1 (RFC 5737): the system only looks up which way it lies
        except OSError:
            return ""
        return str(probe.getsockname()[0])
