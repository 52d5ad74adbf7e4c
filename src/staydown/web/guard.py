"""Stands before every page: who may ask, how much may come in, and what the browser may do with what goes out."""

from __future__ import annotations

import ipaddress
import re
import secrets
from collections.abc import Callable, Iterable
from http.cookies import CookieError, SimpleCookie

from starlette.types import ASGIApp, Message, Receive, Scope, Send

SESSION_COOKIE = "staydown_phone"
LARGEST_UPLOAD = 40_000_000  # bytes of one request: a photo of a phone, or a whole job with its photos
LARGEST_TABLE_REQUEST = 1_000_000  # bytes of a request with a table of coupons
_TABLES = re.compile(r"/job/[^/]*/coupons/?")
PAIR = "/pair"
OPEN_TO_ALL = frozenset({PAIR, "/pair.css"})

# What remains beyond 'self': inline styles, which the page framework writes, and pictures that a page made itself.
# Scripts run only from this server or with the nonce of their own response; {eval} stands where the framework
# compiles text to code, see docs/decisions.
POLICY = (
    "default-src 'none'; script-src 'self' 'nonce-{nonce}'{eval}; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'; manifest-src 'self'"
)
HEADERS = (
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"same-origin"),  # with no-referrer a form of ours would come from origin "null"
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"geolocation=(), microphone=(), camera=(), payment=(), usb=()"),
)
_SCRIPT = re.compile(rb"<script(?=[ >])")


class Guard:
    """An ASGI layer around the whole application.

    hosts: what a browser may have in its address line, with the port. knows: whether a session cookie of a phone is
    one of ours.
    """

    def __init__(
        self, app: ASGIApp, hosts: Iterable[str], knows: Callable[[str], bool], *, allows_eval: bool
    ) -> None:
        self.app = app
        self.hosts = frozenset(hosts)
        self.origins = frozenset(f"http://{host}" for host in self.hosts)
        self.knows = knows
        self.eval = " 'unsafe-eval'" if allows_eval else ""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse what may not be asked; pass the rest on, with limits on what comes in and headers on what goes out."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        refusal = self._refusal(scope)
        if refusal is not None:
            await _refuse(scope, receive, send, *refusal)
            return
        if scope["type"] == "websocket":
            await self.app(scope, receive, send)
            return
        length, most = _header(scope, b"content-length"), largest_request(scope["path"])
        too_large = f"at most {most / 1_000_000:g} MB may be sent"
        if length and (not length.isdigit() or int(length) > most):
            await _refuse(scope, receive, send, 413, too_large)
            return
        nonce = secrets.token_urlsafe(18)
        answer = _Answer(send, nonce, POLICY.format(nonce=nonce, eval=self.eval))
        try:
            await self.app(scope, _limited(receive, most), answer.send)
        except TooLarge:
            if not answer.begun:
                await _refuse(scope, receive, send, 413, too_large)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Return the status and the words of a refusal, None where the request may pass."""
        host = _header(scope, b"host")
        if host not in self.hosts:
            return 400, "this address is not one of this program's"
        origin = _header(scope, b"origin")
        if origin and origin not in self.origins:
            return 403, "another site asked"
        if scope["type"] == "websocket" and not origin:
            return 403, "nobody says which page asks"
        if (
            _header(scope, b"sec-fetch-site") == "cross-site"
            and _header(scope, b"sec-fetch-mode") != "navigate"
        ):
            return 403, "another site asked"
        if not is_here(scope) and scope["path"] not in OPEN_TO_ALL and not self.knows(session_of(scope)):
            return 401, "this phone is not paired"
        return None


class TooLarge(Exception):
    """More came in than may."""


class _Answer:
    """Sends a response with our headers, scripts of a page with their nonce."""

    def __init__(self, send: Send, nonce: str, policy: str) -> None:
        self._send = send
        self._nonce = nonce.encode()
        self._policy = policy.encode()
        self._start: Message | None = None
        self._body = bytearray()
        self.begun = False

    async def send(self, message: Message) -> None:
        """Pass a message on; the body of a page is held until it is whole."""
        self.begun = True
        if message["type"] == "http.response.start":
            own = {name for name, _ in HEADERS} | {b"content-security-policy"}
            headers = [pair for pair in message["headers"] if pair[0].lower() not in own]
            headers += [*HEADERS, (b"content-security-policy", self._policy)]
            html = any(
                name.lower() == b"content-type" and value.startswith(b"text/html") for name, value in headers
            )
            message = {**message, "headers": headers}
            if html:
                self._start = message
                return
        elif message["type"] == "http.response.body" and self._start is not None:
            self._body += message.get("body", b"")
            if message.get("more_body"):
                return
            body = _SCRIPT.sub(b'<script nonce="' + self._nonce + b'"', bytes(self._body))
            headers = [pair for pair in self._start["headers"] if pair[0].lower() != b"content-length"]
            headers.append((b"content-length", str(len(body)).encode()))
            if not any(name.lower() == b"cache-control" for name, _ in headers):
                headers.append((b"cache-control", b"no-store"))
            await self._send({**self._start, "headers": headers})
            self._start = None
            message = {**message, "body": body}
        await self._send(message)


def largest_request(path: str) -> int:
    """Return how many bytes a request to an address may have: a table is never as large as a photo."""
    return LARGEST_TABLE_REQUEST if _TABLES.fullmatch(path) else LARGEST_UPLOAD


def _limited(receive: Receive, most: int) -> Receive:
    """Return a receiver that stops where more comes in than was announced to be allowed."""
    came = 0

    async def limited() -> Message:
        nonlocal came
        message = await receive()
        came += len(message.get("body", b""))
        if came > most:
            raise TooLarge
        return message

    return limited


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, words: str) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008, "reason": words})
        return
    headers = [(b"content-type", b"text/plain; charset=utf-8"), (b"cache-control", b"no-store"), *HEADERS]
    wants_page = scope["method"] in ("GET", "HEAD") and b"text/html" in _header(scope, b"accept").encode()
    if status == 401 and wants_page:
        status, headers = 303, [*headers, (b"location", PAIR.encode())]
    body = words.encode()
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


def is_here(scope: Scope) -> bool:
    """Return whether the one who asks sits at this machine."""
    client = scope.get("client")
    if not client:
        return False
    try:
        address = ipaddress.ip_address(client[0])
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None)
    return (mapped or address).is_loopback


def session_of(scope: Scope) -> str:
    """Return the session that a request brings, empty where it brings none."""
    try:
        cookie = SimpleCookie(_header(scope, b"cookie"))
    except CookieError:
        return ""
    return cookie[SESSION_COOKIE].value if SESSION_COOKIE in cookie else ""


def _header(scope: Scope, name: bytes) -> str:
    for key, value in scope["headers"]:
        if key == name:
            return str(value.decode("latin-1"))
    return ""
