"""What is sent and fetched beside the pages: photos, tables, papers, archives, and the pairing of a phone."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

from fastapi import FastAPI, File, Form, Request, UploadFile
from starlette.concurrency import run_in_threadpool
from starlette.responses import FileResponse, HTMLResponse, PlainTextResponse, RedirectResponse, Response

from staydown.foundation.errors import BadInput, StaydownError
from staydown.storage.save_photo import FOLDER as PHOTOS
from staydown.web import pair_page
from staydown.web.desks import Desks
from staydown.web.guard import LARGEST_UPLOAD, SESSION_COOKIE, is_here
from staydown.web.pairing import Pairing, SESSION_LASTS_s, TooMany
from staydown.web.uploads import Waiting
from staydown.workbench.coupon_table import LARGEST_TABLE, look_at_table
from staydown.workbench.item_papers import MEASURED
from staydown.workbench.open_archive import open_archive
from staydown.workbench.papers import make_paper
from staydown.workbench.record_photo import record_photo

LONGEST_NAME = 200
PHOTO_PAGES = ("bond", "shop", "road")  # that have a form for a photo, to go back to
PICTURES = {".jpg": "image/jpeg", ".png": "image/png", ".webp": "image/webp", ".heic": "image/heic"}


def register_files(app: FastAPI, desks: Desks, pairing: Pairing) -> None:
    """Register what is no page."""

    @app.post("/job/{key}/photo")
    async def keep_photo(
        key: str,
        of: Annotated[str, Form()],
        photo: Annotated[UploadFile, File()],
        back: Annotated[str, Form()] = "bond",
    ) -> Response:
        desk = desks.find(key)
        if desk is None:
            return PlainTextResponse("no such job is open here", 404)
        content = await photo.read(LARGEST_UPLOAD + 1)
        try:
            await run_in_threadpool(record_photo, desk.folder, of[:LONGEST_NAME], content, datetime.now(UTC))
        except StaydownError as error:
            return _no("The photo was not kept", error)
        desk.tell()
        return RedirectResponse(f"/job/{key}/{back if back in PHOTO_PAGES else 'bond'}", 303)

    @app.post("/job/{key}/coupons")
    async def take_coupons(key: str, table: Annotated[UploadFile, File()]) -> Response:
        desk = desks.find(key)
        if desk is None:
            return PlainTextResponse("no such job is open here", 404)
        name = (table.filename or "")[-LONGEST_NAME:]
        content = await table.read(LARGEST_TABLE + 1)
        try:
            looked = await run_in_threadpool(look_at_table, desk.folder, name, content, datetime.now(UTC))
        except StaydownError as error:
            return _no("The file was not looked at", error)
        token = desks.uploads.put(Waiting(job=key, name=name, content=content, table=looked))
        return RedirectResponse(f"/job/{key}/bond?table={token}", 303)

    @app.get(f"/job/{{key}}/{PHOTOS}/{{name}}")
    def photo_of(key: str, name: str) -> Response:
        desk = desks.find(key)
        known = {file.name: file for file in (desk.folder / PHOTOS).glob("*")} if desk else {}
        if name not in known or known[name].suffix not in PICTURES:
            return PlainTextResponse("no such photo", 404)
        return FileResponse(known[name], media_type=PICTURES[known[name].suffix])

    @app.get("/job/{key}/paper/{name}")
    def paper(request: Request, key: str, name: str) -> Response:
        desk = desks.find(key)
        if desk is None:
            return PlainTextResponse("no such paper", 404)
        asked = {one: request.query_params.get(one, "")[:LONGEST_NAME] for one, *_ in MEASURED}
        try:
            made = make_paper(desk.folder, desk.file, name, datetime.now(UTC), asked)
        except StaydownError as error:
            return _no(f"{name} was not made", error)
        if made is None:
            return PlainTextResponse("no such paper", 404)
        headers = {
            "content-disposition": f'attachment; filename="{name}"'
        }  # a name of ours: letters, digits, -
        return Response(made[0], media_type=made[1], headers=headers)

    @app.post("/import")
    async def take_archive(
        request: Request, folder: Annotated[str, Form()], archive: Annotated[UploadFile, File()]
    ) -> Response:
        if not is_here(request.scope):
            return PlainTextResponse("archives are opened at the machine itself", 403)
        content = await archive.read(LARGEST_UPLOAD + 1)
        place = Path(folder.strip()[:LONGEST_NAME]).expanduser()
        try:
            name = (archive.filename or "")[-LONGEST_NAME:]
            await run_in_threadpool(open_archive, content, name, place, datetime.now(UTC))
            key = desks.open(place)
        except (StaydownError, OSError, UnicodeDecodeError) as error:
            return _no("The archive was not opened", error)
        return RedirectResponse(f"/job/{key}", 303)

    @app.get("/pair.css")
    def pair_style() -> Response:
        return Response(pair_page.PAIR_STYLE, media_type="text/css")

    @app.get("/pair")
    def pair(code: str = "") -> Response:
        return HTMLResponse(pair_page.page_text(code[:20], ""))

    @app.post("/pair")
    def let_in(code: Annotated[str, Form()] = "") -> Response:
        try:
            session = pairing.pair(code[:40])
        except TooMany:
            words = "Too many codes were tried. Wait a minute."
            return HTMLResponse(pair_page.page_text("", words), 429, headers={"retry-after": "60"})
        if session is None:
            return HTMLResponse(
                pair_page.page_text("", "That is not the code, or it is used or too old."), 403
            )
        answer = RedirectResponse("/", 303)
        answer.set_cookie(
            SESSION_COOKIE, session, max_age=int(SESSION_LASTS_s), httponly=True, samesite="strict", path="/"
        )
        return answer


def _no(what: str, error: Exception) -> Response:
    """Return a page that says what was not done, and why."""
    return HTMLResponse(pair_page.refusal_text(what, _said(error)), 422)


def _said(error: Exception) -> str:
    if isinstance(error, BadInput):
        return "; ".join(f"{one.value or one.key} {one.rule} ({one.hint})" for one in error.findings)
    return str(error)
