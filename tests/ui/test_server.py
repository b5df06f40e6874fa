"""One real server process: the gate before everything Streamlit serves, the port, and its end."""

import signal
import socket
from pathlib import Path

import httpx
import pytest
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from inspect_app.model.problems import Problems
from inspect_app.ui.serve import ADDRESS, free_port
from tests.ui.conftest import start_server
from tests.ui.made import put_core

STREAM = "/_stcore/stream"
PATHS = [
    "/",
    "/verdict",
    "/answer/0417.json",
    "/_stcore/health",
    "/media/none.png",
    "/static/none.js",
    "/nowhere/x",
]


@pytest.mark.parametrize("path", PATHS)
def test_foreign_host_is_refused_everywhere(address: str, path: str) -> None:
    response = httpx.get(address + path, headers={"host": "evil.test"})
    assert response.status_code == 421
    assert "Traceback" not in response.text


@pytest.mark.parametrize("path", PATHS)
def test_every_path_carries_the_headers(address: str, path: str) -> None:
    headers = httpx.get(address + path).headers
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]


@pytest.mark.parametrize("path", ["/", "/answer/0417.json", "/_stcore/upload_file/a/b"])
def test_foreign_origin_may_not_post(address: str, path: str) -> None:
    assert httpx.post(address + path, headers={"origin": "http://evil.test"}).status_code == 403


def test_answer_is_served(address: str) -> None:
    assert httpx.get(f"{address}/answer/0417.json").json()["core"]["title"] == "0417 Brackwater Four"
    assert httpx.get(f"{address}/answer/9999.json").status_code == 404
    assert httpx.get(f"{address}/answer/0500-broken.json").status_code == 422


def test_own_page_opens_the_live_connection(address: str) -> None:
    with connect(address.replace("http", "ws") + STREAM, origin=address, subprotocols=["streamlit"]) as live:  # type: ignore[arg-type,list-item]
        assert live.subprotocol == "streamlit"


@pytest.mark.parametrize("origin", [None, "http://evil.test", "null"])
def test_other_live_connections_are_refused(address: str, origin: str | None) -> None:
    with (
        pytest.raises(InvalidStatus) as refused,
        connect(address.replace("http", "ws") + STREAM, origin=origin),
    ):  # type: ignore[arg-type]
        pass
    assert refused.value.response.status_code == 403


def test_only_this_machine_is_served(address: str) -> None:
    port = int(address.rpartition(":")[2])
    with socket.socket() as probe:
        # Not the address by which other tests are foreign: its last connections may still be winding down.
        probe.bind(("127.0.0.3", port))


def test_first_interrupt_ends_it_with_a_page_open(tmp_path: Path) -> None:
    put_core(tmp_path, "one")
    process, at = start_server(tmp_path)
    with connect(at.replace("http", "ws") + STREAM, origin=at, subprotocols=["streamlit"]):  # type: ignore[arg-type,list-item]
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=10)
    assert process.returncode == 0
    assert out == "Stopped.\n"
    assert err == ""


def test_taken_port_gives_the_next() -> None:
    first = free_port()
    with socket.socket() as taken:
        # As the server binds: an earlier test's connections may still be winding down there.
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        taken.bind((ADDRESS, first))
        taken.listen()
        assert first < free_port() <= 8520
        with pytest.raises(Problems, match=f"port {first} cannot be used"):
            free_port(first)


@pytest.mark.parametrize("port", [-1, 70000])
def test_impossible_port_is_refused_in_words(port: int) -> None:
    with pytest.raises(Problems, match=f"port {port} cannot be used. Name another"):
        free_port(port)
