"""The gate before a small real ASGI app; `test_server.py` tries it on a served Streamlit."""

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.testclient import TestClient, WebSocketDenialResponse
from starlette.websockets import WebSocket

from inspect_app.ui import policy
from inspect_app.ui.gate import Gate, allowed_hosts
from inspect_app.ui.pairing import Pairing
from inspect_app.ui.sessions import SessionsInMemory

OURS = "http://localhost:8501"


async def _page(request: Request) -> Response:
    return PlainTextResponse("page", headers={"x-frame-options": "SAMEORIGIN"})


async def _fails(request: Request) -> Response:
    raise ValueError("secret detail")


async def _live(websocket: WebSocket) -> None:
    await websocket.accept()
    await websocket.send_text("live")
    await websocket.close()


@pytest.fixture
def client() -> TestClient:
    return client_from("127.0.0.1")


def client_from(address: str, pairing: Pairing | None = None) -> TestClient:
    hosts = allowed_hosts(8501, ["bench.test"])
    pairing = pairing or Pairing(SessionsInMemory(), 8501)
    routes = [
        Route("/", _page, methods=["GET", "POST", "PUT", "DELETE"]),
        Route("/fails", _fails),
        WebSocketRoute("/live", _live),
    ]
    app = Starlette(routes=routes, middleware=[Middleware(Gate, hosts=hosts, pairing=pairing)])
    return TestClient(app, base_url=OURS, raise_server_exceptions=False, client=(address, 50_000))


@pytest.mark.parametrize("host", ["localhost:8501", "127.0.0.1:8501", "[::1]:8501", "LOCALHOST:8501"])
def test_listed_host_passes(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).text == "page"


@pytest.mark.parametrize(
    "host",
    [
        "evil.test",
        "evil.test:8501",
        "localhost",
        "localhost:80",
        "localhost:8501.evil.test",
        "",
        "bench.test",
    ],
)
def test_other_host_is_refused_in_words(client: TestClient, host: str) -> None:
    response = client.get("/", headers={"host": host})
    assert response.status_code == 421
    assert "Use the address it printed" in response.text


def test_two_hosts_are_refused(client: TestClient) -> None:
    response = client.get("/", headers=[("host", "localhost:8501"), ("host", "evil.test")])  # type: ignore[arg-type]
    assert response.status_code == 421


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
@pytest.mark.parametrize(
    "origin", ["http://evil.test", "null", "http://localhost:9999", "ftp://localhost:8501", ""]
)
def test_foreign_origin_may_not_write(client: TestClient, method: str, origin: str) -> None:
    assert client.request(method, "/", headers={"origin": origin}).status_code == 403


def test_own_origin_and_none_may_write(client: TestClient) -> None:
    assert client.post("/", headers={"origin": OURS}).text == "page"
    assert client.post("/").text == "page"


def test_foreign_origin_may_read(client: TestClient) -> None:
    assert client.get("/", headers={"origin": "http://evil.test"}).text == "page"


def test_own_origin_opens_a_live_connection(client: TestClient) -> None:
    with client.websocket_connect("/live", headers={"host": "localhost:8501", "origin": OURS}) as live:
        assert live.receive_text() == "live"


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": "localhost:8501"}, 403),
        ({"host": "localhost:8501", "origin": "http://evil.test"}, 403),
        ({"host": "localhost:8501", "origin": "null"}, 403),
        ({"host": "evil.test", "origin": "http://evil.test"}, 421),
        ({"host": "evil.test", "origin": OURS}, 421),
    ],
)
def test_live_connection_is_refused(client: TestClient, headers: dict[str, str], status: int) -> None:
    with (
        pytest.raises(WebSocketDenialResponse) as refused,
        client.websocket_connect("/live", headers=headers),
    ):
        pass
    assert refused.value.status_code == status


@pytest.mark.parametrize("path", ["/", "/nowhere", "/fails"])
def test_every_response_carries_the_headers_once(client: TestClient, path: str) -> None:
    response = client.get(path)
    for name, value in policy.headers():
        assert response.headers.get_list(name.decode()) == [value.decode()]


def test_refusals_carry_the_headers_too(client: TestClient) -> None:
    response = client.get("/", headers={"host": "evil.test"})
    assert response.headers["x-content-type-options"] == "nosniff"


def test_failure_is_answered_in_words(client: TestClient) -> None:
    response = client.get("/fails")
    assert response.status_code == 500
    assert response.text == "The server failed on this request. Its log says why.\n"


def test_hosts_of_port_80_need_no_port() -> None:
    assert "localhost" in allowed_hosts(80)
    assert "localhost" not in allowed_hosts(8501)
    assert allowed_hosts(80, ["bench.test:81", "[::2]"]) >= {"bench.test:81", "[::2]:80"}


def test_policy_lets_the_page_s_own_inline_script_run_and_no_other() -> None:
    made = policy.content_policy(b'<script src="x.js"></script><SCRIPT>\nrun()\n</SCRIPT>')
    # From: printf '\nrun()\n' | openssl dgst -sha256 -binary | base64
    assert "'sha256-X8AAKgaI44zC2JgsZRJ4adpbl777tdE6qoD0mpUQwV4='" in made
    assert made.count("sha256-") == 1
    assert "script-src 'self' 'unsafe-eval' blob:;" in policy.content_policy(b"<p>none</p>")


@pytest.mark.parametrize(
    ("client", "host", "passes"),
    [
        ("127.0.0.1", "localhost:8501", True),
        ("127.0.0.2", "localhost:8501", True),
        ("::1", "[::1]:8501", True),
        ("::ffff:127.0.0.1", "127.0.0.1:8501", True),
        ("127.0.0.1", "bench.test:8501", False),
        ("192.0.2.7", "bench.test:8501", False),
        ("192.0.2.7", "localhost:8501", False),
        ("::ffff:192.0.2.7", "localhost:8501", False),
        ("", "localhost:8501", False),
        ("localhost", "localhost:8501", False),
    ],
)
def test_only_this_machine_asking_for_itself_needs_no_session(client: str, host: str, passes: bool) -> None:
    response = client_from(client).get("/", headers={"host": host})
    assert response.status_code == (200 if passes else 401)
    assert (response.text == "page") == passes


@pytest.mark.parametrize("name", ["x-forwarded-for", "x-real-ip", "forwarded", "x-inspect-from"])
@pytest.mark.parametrize("says", ["127.0.0.1", "for=127.0.0.1", "this machine"])
def test_no_header_makes_a_request_one_of_this_machine(name: str, says: str) -> None:
    headers = {"host": "bench.test:8501", name: says}
    assert client_from("192.0.2.7").get("/", headers=headers).status_code == 401


def test_whoever_is_not_paired_is_told_the_way_in_plain_words() -> None:
    response = client_from("192.0.2.7").get("/")
    assert "This phone is not paired: ask the person at the shop&#x27;s computer for a code." in response.text
    assert '<a href="/pair">' in response.text
    assert response.headers["content-security-policy"].startswith("default-src 'none'; ")
    assert response.headers["cache-control"] == "no-store"
    assert "set-cookie" not in response.headers


def test_a_live_connection_without_a_session_is_denied() -> None:
    with (
        pytest.raises(WebSocketDenialResponse) as refused,
        client_from("192.0.2.7").websocket_connect(
            "/live", headers={"host": "localhost:8501", "origin": OURS}
        ),
    ):
        pass
    assert refused.value.status_code == 401
