"""The page that pairs a phone, and live connections of a session, behind the real gate."""

import asyncio
import re
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from typing import Any

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.testclient import TestClient
from starlette.websockets import WebSocket, WebSocketDisconnect

from inspect_app.model.problems import Problem, Problems
from inspect_app.ui import pair_live, pair_page, pairing
from inspect_app.ui.gate import Gate, allowed_hosts
from inspect_app.ui.pairing import Pairing, digest_of
from inspect_app.ui.sessions import Paired, SessionsInMemory

OURS = "http://shop.test:8501"
FORM = {"content-type": "application/x-www-form-urlencoded", "origin": OURS}
LIVE = {"host": "shop.test:8501", "origin": OURS}
UNTOLD = (
    "The code does not count: it is mistyped, used already, older than ten minutes, or was tried too often."
)


async def _who(request: Request) -> Response:
    return PlainTextResponse(request.headers[pairing.FROM])


async def _echo(websocket: WebSocket) -> None:
    """Says everything again, and once more when the other side has left."""
    await websocket.accept()
    try:
        while True:
            await websocket.send_text(await websocket.receive_text())
    except WebSocketDisconnect:
        ended.append("left")
        await websocket.send({"type": "websocket.send", "text": "never to be seen"})


ended: list[str] = []


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch) -> Pairing:
    made = Pairing(SessionsInMemory(), 8501, [OURS])
    monkeypatch.setattr(pairing, "_current", made)
    ended.clear()
    return made


@pytest.fixture
def phone(here: Pairing) -> TestClient:
    return client(here, OURS)


def client(here: Pairing, base: str, address: str = "192.0.2.7") -> TestClient:
    routes = [
        Route("/", _who),
        WebSocketRoute("/live", _echo),
        Route(pair_page.PATH, pair_page.pair, methods=["GET", "POST"]),
    ]
    hosts = allowed_hosts(8501, ["shop.test"])
    app = Starlette(routes=routes, middleware=[Middleware(Gate, hosts=hosts, pairing=here)])
    return TestClient(app, base_url=base, client=(address, 50_000), follow_redirects=False)


def send(phone: TestClient, code: str, who: str = "B. Tester") -> Any:
    return phone.post("/pair", data={"code": code, "who": who}, headers={"origin": OURS})


def test_the_form_gives_a_session_and_leads_to_the_rack(here: Pairing, phone: TestClient) -> None:
    answer = send(phone, here.make_code().grouped)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    session, who = answer.headers.get_list("set-cookie")
    assert re.fullmatch(
        r"inspect_8501=[\w-]{43}; HttpOnly; Max-Age=2592000; Path=/; SameSite=strict", session
    )
    assert who == "entered_by=B.%20Tester; Max-Age=2592000; Path=/; SameSite=strict"
    assert phone.get("/").text == "paired phone"
    assert [one.name for one in here.phones()] == ["B. Tester"]


def test_over_https_the_cookie_is_secure(here: Pairing) -> None:
    answer = client(here, OURS.replace("http:", "https:")).post(
        "/pair",
        data={"code": here.make_code().text, "who": "B"},
        headers={"origin": OURS.replace("http:", "https:")},
    )
    assert answer.status_code == 303
    assert all("; Secure" in cookie for cookie in answer.headers.get_list("set-cookie"))


def test_a_wrong_code_is_told_and_nothing_typed_comes_back(here: Pairing, phone: TestClient) -> None:
    here.make_code()
    answer = send(phone, "<script>alert(1)</script>", "<b>B</b>")
    assert answer.status_code == 403
    assert UNTOLD in answer.text
    assert "alert(1)" not in answer.text
    assert "<b>B</b>" not in answer.text
    assert "set-cookie" not in answer.headers


def test_without_any_code_the_words_are_the_same(phone: TestClient) -> None:
    assert UNTOLD in send(phone, "ABCD EFGH").text


@pytest.mark.parametrize(
    ("body", "headers"),
    [
        (b"code=%s&who=B", FORM | {"content-type": "application/json"}),
        (b"code=%s&who=B", FORM | {"content-type": ""}),
        (b"code=%s&who=B&" + b"x" * 5000, FORM),
        (b"code=%s&who=B&a=1&b=2&c=3", FORM),
        (b"code=%s&who=\xff", FORM),
        (b"code=%s&who=%%ff", FORM),
    ],
)
def test_what_is_not_the_form_is_refused_and_is_no_guess(
    here: Pairing, phone: TestClient, body: bytes, headers: dict[str, str]
) -> None:
    code = here.make_code()
    answer = phone.post("/pair", content=body % code.text.encode(), headers=headers)
    assert answer.status_code == 400
    assert "What was sent is not the form of this page." in answer.text
    assert here.code() is not None
    assert here.phones() == ()


@pytest.mark.parametrize("origin", ["http://evil.test", "null", "http://localhost:8501", None])
def test_only_our_own_page_pairs(here: Pairing, phone: TestClient, origin: str | None) -> None:
    code = here.make_code()
    headers = {} if origin is None else {"origin": origin}
    answer = phone.post("/pair", data={"code": code.text, "who": "B"}, headers=headers)
    assert answer.status_code == 403
    assert here.phones() == ()
    assert here.code() is not None


def test_a_disk_that_takes_nothing_is_told_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    class Full(SessionsInMemory):
        def add(self, paired: Paired) -> None:
            raise Problems([Problem("/home/shop.sqlite", "the disk is full.", "Make room.")])

    here = Pairing(Full(), 8501)
    monkeypatch.setattr(pairing, "_current", here)
    answer = send(client(here, OURS), here.make_code().text)
    assert answer.status_code == 503
    assert pair_page.NOT_KEPT in answer.text
    assert "shop.sqlite" not in answer.text
    assert here.code() is not None


def test_sessions_that_cannot_be_read_let_nobody_in_and_keep_the_cookie() -> None:
    class Unread(SessionsInMemory):
        def find(self, token_sha256: str) -> Paired | None:
            raise OSError("gone")

    answer = client(Pairing(Unread(), 8501), OURS).get("/", headers={"cookie": "inspect_8501=x"})
    assert answer.status_code == 503
    assert "nobody can tell whether this phone is paired" in answer.text
    assert "set-cookie" not in answer.headers


def test_the_page_runs_its_own_script_and_nothing_else(phone: TestClient) -> None:
    page = phone.get("/pair")
    assert page.status_code == 200
    policy = page.headers.get_list("content-security-policy")
    (script,) = re.findall(r"<script>(.*?)</script>", page.text, re.DOTALL)
    (style,) = re.findall(r"<style>(.*?)</style>", page.text, re.DOTALL)
    assert policy == [
        f"default-src 'none'; style-src {pair_page._hash(style)}; script-src {pair_page._hash(script)}; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ]
    assert page.headers["cache-control"] == "no-store"


def test_another_program_s_cookie_of_the_same_name_is_not_in_the_way(
    here: Pairing, phone: TestClient
) -> None:
    secret = here.pair(here.make_code().text, "B")
    sent = f"inspect_8501=other; inspect_8502=x; inspect_8501={secret}"
    assert phone.get("/", headers={"cookie": sent}).text == "paired phone"
    many = "; ".join([*["inspect_8501=other"] * 9, f"inspect_8501={secret}"])
    assert phone.get("/", headers={"cookie": many}).status_code == 401


def test_revoking_closes_a_live_connection_at_once(here: Pairing, phone: TestClient) -> None:
    send(phone, here.make_code().text)
    with phone.websocket_connect("ws://shop.test:8501/live", headers=LIVE) as opened:
        opened.send_text("there?")
        assert opened.receive_text() == "there?"
        before = time.monotonic()
        here.revoke(here_digest(here))
        wait_for_end()
        assert time.monotonic() - before < 1
        with pytest.raises(WebSocketDisconnect) as closed:
            opened.receive_text()
        assert (closed.value.code, closed.value.reason) == (1008, "This phone is no longer paired.")
        opened.send_text("still?")
    assert ended == ["left"]
    assert here._open == {}


def wait_for_end() -> None:
    """Until the app was told that the phone has left; a connection that stays open fails here."""
    until = time.monotonic() + 3
    while not ended and time.monotonic() < until:
        time.sleep(0.01)
    assert ended == ["left"]


def here_digest(here: Pairing) -> str:
    return here.phones()[0].token_sha256


def test_a_live_connection_ends_with_its_session(
    here: Pairing, phone: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pairing, "LIFETIME", timedelta(seconds=0.6))
    send(phone, here.make_code().text)
    before = time.monotonic()
    with phone.websocket_connect("ws://shop.test:8501/live", headers=LIVE) as opened:
        wait_for_end()
        assert time.monotonic() - before > 0.3
        with pytest.raises(WebSocketDisconnect):
            opened.receive_text()


@pytest.mark.parametrize("end", ["revoked elsewhere", "unread for a while"])
def test_a_live_connection_is_looked_up_again(
    here: Pairing, phone: TestClient, monkeypatch: pytest.MonkeyPatch, end: str
) -> None:
    for module in (pairing, pair_live):
        monkeypatch.setattr(module, "EVERY", timedelta(seconds=0.1))
    send(phone, here.make_code().text)
    with phone.websocket_connect("ws://shop.test:8501/live", headers=LIVE) as opened:
        if end == "revoked elsewhere":
            here._sessions.revoke(here_digest(here), here.phones()[0].made)
            wait_for_end()
            with pytest.raises(WebSocketDisconnect):
                opened.receive_text()
        else:
            monkeypatch.setattr(here._sessions, "find", _unread)
            time.sleep(0.5)
            opened.send_text("there?")
            assert opened.receive_text() == "there?"


def _unread(digest: str) -> None:
    raise OSError("gone")


def test_what_is_sent_keeps_a_session_alive(
    here: Pairing, phone: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pairing, "IDLE", timedelta(seconds=0.5))
    for module in (pairing, pair_live):
        monkeypatch.setattr(module, "EVERY", timedelta(seconds=0.05))
    send(phone, here.make_code().text)
    with phone.websocket_connect("ws://shop.test:8501/live", headers=LIVE) as opened:
        for _ in range(8):
            time.sleep(0.15)
            opened.send_text("here")
            assert opened.receive_text() == "here"
        wait_for_end()
        with pytest.raises(WebSocketDisconnect):
            opened.receive_text()


def test_the_secret_is_found_by_its_hash_alone(here: Pairing) -> None:
    secret = here.pair(here.make_code().text, "B")
    assert here.admitted(digest_of(secret)) is not None
    assert here.admitted(secret) is None


def test_a_page_that_asks_sees_who_the_gate_says(here: Pairing) -> None:
    local = client(here, "http://localhost:8501", "127.0.0.1")
    assert local.get("/", headers={pairing.FROM: "paired phone"}).text == "this machine"


def test_nothing_is_sent_after_the_close(here: Pairing) -> None:
    here.pair(here.make_code().text, "B")
    (session,) = here.phones()
    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    async def never() -> Any:
        await asyncio.Event().wait()

    async def app(scope: Any, receive: Any, send: Any) -> None:
        here.revoke(session.token_sha256)
        assert (await receive())["type"] == "websocket.disconnect"
        await send({"type": "websocket.send", "text": "never to be seen"})

    work = pair_live.run_live(app, {"type": "websocket"}, never, send, here, session)
    with ThreadPoolExecutor(1) as alone:
        alone.submit(asyncio.run, work).result()
    assert sent == [{"type": "websocket.close", "code": 1008, "reason": "This phone is no longer paired."}]
