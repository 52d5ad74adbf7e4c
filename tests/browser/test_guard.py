"""Who may ask: this machine's own pages, and a phone that was paired; nothing else, and nothing too large."""

from __future__ import annotations

import asyncio
import json
import re
import urllib.parse
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from staydown.web.guard import LARGEST_TABLE_REQUEST, LARGEST_UPLOAD, POLICY, SESSION_COOKIE, Guard
from staydown.web.pairing import MOST_WRONG, TRIES, CODE_LASTS_s, Pairing, SESSION_LASTS_s, TooMany
from web_server import Server, Stay, status_of


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:80", ""]
)
def test_a_foreign_host_is_refused(module_server: Server, host: str) -> None:
    """A name that leads here from elsewhere, as a rebound one does, gets nothing."""
    assert status_of(module_server.url + "/", Host=host) == 400


def test_both_names_of_this_machine_are_served(module_server: Server) -> None:
    """127.0.0.1 and localhost are this machine."""
    assert status_of(module_server.url + "/", Host=f"localhost:{module_server.port}") == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1", "http://127.0.0.1:1"])
def test_a_foreign_origin_is_refused(module_server: Server, origin: str) -> None:
    """A page of another site can neither send a form nor open the socket of ours."""
    socket = f"{module_server.url}/_nicegui_ws/socket.io/?EIO=4&transport=polling"

    assert status_of(module_server.url + "/", Origin=origin) == 403
    assert status_of(socket, Origin=origin) == 403
    assert (
        status_of(module_server.url + "/health", Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="no-cors") == 403
    )


def test_nobody_else_is_listened_to(module_server: Server) -> None:
    """The server listens on the loopback address alone."""
    lines = Path("/proc/net/tcp").read_text().splitlines()[1:]
    port = f"{module_server.port:04X}"
    listening = {
        line.split()[1] for line in lines if line.split()[3] == "0A" and line.split()[1].endswith(port)
    }

    assert listening == {f"0100007F:{port}"}


def test_every_answer_has_its_headers(module_server: Server) -> None:
    """A page may run only its own scripts, be framed by nobody, and name its address to nobody."""
    with urllib.request.urlopen(module_server.url + "/") as answer:
        headers, body = answer.headers, answer.read().decode()
    policy = headers["content-security-policy"]
    nonce = re.search(r"'nonce-([^']+)'", policy)
    assert nonce is not None

    assert "unsafe-eval" not in policy
    assert "script-src 'self' 'nonce-" in policy
    assert "unsafe-inline" not in policy.partition("style-src")[0]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cache-control"] == "no-store"
    assert set(re.findall(r'<script nonce="([^"]+)"', body)) == {nonce[1]}
    assert "<script>" not in body
    assert POLICY.count("unsafe") == 1  # of styles, which the framework writes into elements


def test_two_pages_have_two_nonces(module_server: Server) -> None:
    """A nonce is good for one response."""
    policies = set()
    for _ in range(2):
        with urllib.request.urlopen(module_server.url + "/") as answer:
            policies.add(answer.headers["content-security-policy"])

    assert len(policies) == 2


def test_too_much_is_refused(module_server: Server) -> None:
    """A body that says it is too large is refused by what it says, before it is read."""
    request = urllib.request.Request(module_server.url + "/import", data=b"x", method="POST")
    request.add_header("Content-Length", str(LARGEST_UPLOAD + 1))
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(request, timeout=10)

    assert refused.value.code == 413
    refused.value.close()


def asked(guard: Guard, client: str, path: str = "/job/1", cookie: str = "") -> int:
    """Return the status that a guard answers a request with."""
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": b""}

    async def send(message: Any) -> None:
        sent.append(message)

    headers = [(b"host", b"10.0.0.2:80"), *([(b"cookie", cookie.encode())] if cookie else [])]
    scope = {"type": "http", "method": "GET", "path": path, "headers": headers, "client": (client, 5)}
    with ThreadPoolExecutor(1) as beside:  # the browser of other tests keeps a loop running in this thread
        beside.submit(asyncio.run, guard(scope, receive, send)).result()
    return int(sent[0]["status"])


@pytest.mark.parametrize(
    ("path", "most"), [("/job/1/coupons", LARGEST_TABLE_REQUEST), ("/import", LARGEST_UPLOAD)]
)
def test_a_body_without_its_length_is_stopped(path: str, most: int) -> None:
    """A body that comes in pieces and says nothing of its length ends where it is too much, unread."""
    sent: list[dict[str, Any]] = []
    read = [0]

    async def receive() -> dict[str, Any]:
        read[0] += 250_000
        return {"type": "http.request", "body": b"x" * 250_000, "more_body": True}

    async def send(message: Any) -> None:
        sent.append(message)

    async def hungry(scope: Any, receive: Any, send: Any) -> None:
        while (await receive())["more_body"]:
            pass

    guard = Guard(hungry, ["10.0.0.2:80"], lambda _: True, allows_eval=False)
    headers = [(b"host", b"10.0.0.2:80")]
    scope = {"type": "http", "method": "POST", "path": path, "headers": headers, "client": ("127.0.0.1", 5)}
    with ThreadPoolExecutor(1) as beside:
        beside.submit(asyncio.run, guard(scope, receive, send)).result()

    assert sent[0]["status"] == 413
    assert most < read[0] <= most + 250_000


async def inside(scope: Any, receive: Any, send: Any) -> None:
    """Stand for the application."""
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"all"})


def test_an_unpaired_phone_gets_only_the_way_in() -> None:
    """From beyond this machine nothing is served without a session, the machine itself needs none."""
    pairing = Pairing(lambda: 0.0)
    guard = Guard(inside, ["10.0.0.2:80"], pairing.knows, allows_eval=False)
    session = pairing.pair(pairing.code()[0])

    assert asked(guard, "10.0.0.9") == 401
    assert asked(guard, "10.0.0.9", "/health") == 401
    assert asked(guard, "10.0.0.9", "/look/look.css") == 401
    assert asked(guard, "10.0.0.9", "/_nicegui_ws/socket.io/") == 401
    assert asked(guard, "10.0.0.9", "/pair") == 200
    assert asked(guard, "10.0.0.9", cookie=f"{SESSION_COOKIE}=guess") == 401
    assert asked(guard, "10.0.0.9", cookie=f"{SESSION_COOKIE}={session}") == 200
    assert asked(guard, "127.0.0.1") == 200
    assert asked(guard, "::ffff:127.0.0.1") == 200
    assert asked(guard, "::ffff:10.0.0.9") == 401


def test_a_code_is_good_once() -> None:
    """The second who brings the same code stays outside."""
    pairing = Pairing(lambda: 0.0)
    code, _ = pairing.code()

    assert pairing.pair(code.lower()) is not None
    assert pairing.pair(code) is None
    assert pairing.code()[0] != code


def test_a_code_and_a_session_end() -> None:
    """A code ends after minutes, a session that nobody uses after hours."""
    now = [0.0]
    pairing = Pairing(lambda: now[0])
    code, _ = pairing.code()
    now[0] = CODE_LASTS_s + 1

    assert pairing.pair(code) is None

    session = pairing.pair(pairing.code()[0])
    assert session is not None
    now[0] += SESSION_LASTS_s - 1

    assert pairing.knows(session)

    now[0] += SESSION_LASTS_s + 1

    assert not pairing.knows(session)


def test_guessing_is_slow_and_ends() -> None:
    """After a few wrong tries a code is void; after some more nobody is looked at for a minute."""
    now = [0.0]
    pairing = Pairing(lambda: now[0])
    code, _ = pairing.code()
    for _ in range(MOST_WRONG):
        assert pairing.pair("AAAAAAAA") is None

    assert pairing.pair(code) is None

    for _ in range(TRIES - MOST_WRONG - 1):
        pairing.pair("AAAAAAAA")
    with pytest.raises(TooMany):
        pairing.pair(pairing.code()[0])
    now[0] += 61.0

    assert pairing.pair(pairing.code()[0]) is not None


def test_the_cookie_is_strict(laid_out: Path, tmp_path: Path) -> None:
    """The cookie of a phone goes to no script and with no request of another site."""
    (tmp_path / "van").symlink_to(laid_out)
    one = Server(tmp_path, "--lan", job="van")
    try:
        if "Phone: scan" not in one.said():
            pytest.skip("this machine has no address but its own, so that --lan serves nobody")
        code = re.search(r"type ([A-Z0-9]{8})", one.said())
        assert code is not None
        data = urllib.parse.urlencode({"code": code[1]}).encode()
        request = urllib.request.Request(one.url + "/pair", data=data, headers={"Origin": one.url})
        opener = urllib.request.build_opener(Stay)
        with pytest.raises(urllib.error.HTTPError) as answered:
            opener.open(request, timeout=10)
        cookie = answered.value.headers["set-cookie"]

        assert answered.value.code == 303
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie
        address = re.search(r"open (http://[^ ]+)/pair", one.said())
        assert address is not None
        assert status_of(address[1] + "/health") == 401  # from beyond loopback, even from this machine itself
        assert status_of(address[1] + "/pair") == 200
        assert status_of(address[1] + "/health", Cookie=cookie.partition(";")[0]) == 200
        answered.value.close()
    finally:
        one.stop()


def test_health_says_the_version(module_server: Server) -> None:
    """`/health` answers with the version when pages are served."""
    with urllib.request.urlopen(module_server.url + "/health") as answer:
        told = json.load(answer)

    assert told["ready"] is True
