"""The Phones page in each of its states, and what the start of a shared server says and finds."""

import socket
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from urllib.parse import unquote

import httpx
import pytest
from streamlit.runtime.context import ContextProxy
from streamlit.testing.v1 import AppTest
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from inspect_app.model.problems import Problem, Problems
from inspect_app.ui import addresses, pairing, phones
from inspect_app.ui.pair_code import Code
from inspect_app.ui.pairing import Pairing
from inspect_app.ui.serve import announcement, free_port
from inspect_app.ui.sessions import SessionsInMemory
from tests.ui.shared import FOREIGN, SharedServer

AT = "http://192.0.2.2:8501"


class NotRevoking(SessionsInMemory):
    def revoke(self, token_sha256: str, when: datetime) -> None:
        raise Problems([Problem("shop.sqlite", "the disk is full.", "Make room.")])


@pytest.fixture
def caller(monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The headers of the connection that the page is drawn for."""
    headers = {pairing.FROM: pairing.MACHINE}
    monkeypatch.setattr(ContextProxy, "headers", property(lambda _: headers))
    return headers


def set_up(
    monkeypatch: pytest.MonkeyPatch, *reached: str, sessions: SessionsInMemory | None = None
) -> Pairing:
    here = Pairing(sessions or SessionsInMemory(), 8501, reached)
    monkeypatch.setattr(pairing, "_current", here)
    return here


def draw() -> AppTest:
    def script() -> None:
        from inspect_app.ui import phones

        phones.page()

    tested = AppTest.from_function(script).run(timeout=20)
    assert not tested.exception
    return tested


def shown(tested: AppTest) -> str:
    return "\n".join(html.proto.body for html in tested.get("html"))


def labels(tested: AppTest) -> list[str]:
    return [button.label for button in tested.button]


@pytest.mark.parametrize("said", [pairing.PHONE, "", None])
def test_elsewhere_the_page_shows_no_code_and_nobody(
    caller: dict[str, str], monkeypatch: pytest.MonkeyPatch, said: str | None
) -> None:
    here = set_up(monkeypatch, AT)
    here.pair(here.make_code().text, "B. Tester")
    code = here.make_code()
    caller.clear()
    if said is not None:
        caller[pairing.FROM] = said
    tested = draw()
    assert "Phones are paired at the shop&#x27;s computer" in shown(tested)
    assert code.text[:4] not in shown(tested)
    assert "B. Tester" not in shown(tested)
    assert labels(tested) == []


def test_a_server_for_this_machine_says_how_to_share(
    caller: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    set_up(monkeypatch)
    tested = draw()
    assert "This server answers this machine alone." in shown(tested)
    assert "inspect-app serve --share" in shown(tested)
    assert labels(tested) == []


def test_a_code_is_made_shown_and_ended(caller: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    here = set_up(monkeypatch, AT, "http://shop.test:8501")
    tested = draw()
    tested.button(key="do_make_code").click().run()
    standing = here.code()
    assert standing is not None
    assert standing[0].grouped in shown(tested)
    assert f"{AT}/pair" in shown(tested)
    tested.selectbox[0].select("http://shop.test:8501").run()
    assert "http://shop.test:8501/pair" in shown(tested)
    tested.button(key="end_code").click().run()
    assert here.code() is None
    assert labels(tested) == ["Make a code"]


@pytest.mark.parametrize(
    ("left", "told"),
    [
        (timedelta(minutes=10), "10 more minutes"),
        (timedelta(minutes=9, seconds=1), "10 more minutes"),
        (timedelta(minutes=9), "9 more minutes"),
        (timedelta(seconds=60), "1 more minute or"),
        (timedelta(seconds=1), "1 more minute or"),
    ],
)
def test_the_code_says_how_long_it_counts(left: timedelta, told: str) -> None:
    block = phones.code_block(Code("ABCD2345", datetime.now(UTC)), left, AT)
    assert told in block
    assert "ABCD 2345" in block
    assert "svg" in unquote(block)


def test_a_name_is_text_and_unpairing_is_told(
    caller: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    here = set_up(monkeypatch, AT)
    here.pair(here.make_code().text, "<b>*B*</b> [x](y)")
    tested = draw()
    assert "1 phone is paired" in shown(tested)
    assert "<strong>&lt;b&gt;*B*&lt;/b&gt; [x](y)</strong>" in shown(tested)
    assert "<b>" not in shown(tested)
    assert labels(tested) == ["Make a code", "Unpair"]
    tested.button[1].click().run()
    assert here.phones() == ()
    assert "The phone of &lt;b&gt;*B*&lt;/b&gt; [x](y) is unpaired" in shown(tested)
    assert "No phone is paired" in shown(tested)


def test_unpairing_that_cannot_be_written_says_what_holds(
    caller: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    here = set_up(monkeypatch, AT, sessions=NotRevoking())
    here.pair(here.make_code().text, "B. Tester")
    tested = draw()
    tested.button[1].click().run()
    assert "is out now, but that could not be written: it is let in again when the program" in shown(tested)
    assert "shop.sqlite: the disk is full. Make room." in shown(tested)
    assert here.phones() == ()


def test_an_expired_phone_is_not_listed(caller: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    kept = SessionsInMemory()
    here = set_up(monkeypatch, AT, sessions=kept)
    here.pair(here.make_code().text, "B. Tester")
    kept.add(replace(kept.all()[0], expires=datetime.now(UTC)))
    assert "No phone is paired" in shown(draw())


def test_the_start_says_where_and_what_it_means() -> None:
    assert announcement(8501, (), share=False) == "Open http://localhost:8501  (Ctrl-C stops it)"
    assert announcement(8501, (), share=True).splitlines()[1:] == [
        "Shared, but this machine has no address in any network: no phone can reach it."
    ]
    assert announcement(8501, (AT, "http://10.0.0.2:8501"), share=True).splitlines()[1:] == [
        "Shared: a phone in the same network, once it is paired on the page Phones, opens",
        f"  {AT}",
        "  http://10.0.0.2:8501",
        "This is plain http: whoever can listen in that network can read along, photos and session too.",
        "Share in the shop's own network only, never in a guest's or a public one.",
    ]


def test_own_addresses_are_those_that_can_be_bound_and_reached() -> None:
    for address in addresses.own_addresses():
        assert not address.startswith("127.")
        with socket.socket() as trial:
            trial.bind((address, 0))
    assert all(name == name.lower() for name in addresses.own_names())


def test_a_port_to_share_must_be_free_on_every_address() -> None:
    with socket.socket() as taken:
        taken.bind((FOREIGN, 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert free_port(port) == port
        with pytest.raises(Problems, match=f"port {port} cannot be used"):
            free_port(port, share=True)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[SharedServer]:
    started = SharedServer(tmp_path_factory.mktemp("shared"))
    yield started
    started.stop()


def test_no_header_of_a_proxy_counts_on_a_served_app(server: SharedServer) -> None:
    forwarded = {"x-forwarded-for": "127.0.0.1", "x-forwarded-proto": "https"}
    assert httpx.get(server.there, headers=forwarded).status_code == 401
    if not FOREIGN.startswith("127."):
        host = {"host": f"localhost:{server.port}"}
        assert httpx.get(server.there, headers=forwarded | host).status_code == 401
    assert httpx.get(server.here, headers={"x-forwarded-for": "192.0.2.99"}).status_code == 200


@pytest.mark.parametrize("path", ["/", "/_stcore/health", "/app/static/fonts/IBMPlexSans-Regular.woff2"])
def test_a_served_app_keeps_everything_from_who_is_not_paired(server: SharedServer, path: str) -> None:
    assert httpx.get(server.here + path).status_code == 200
    assert httpx.get(server.there + path).status_code == 401


def test_a_served_app_opens_no_live_connection_to_who_is_not_paired(server: SharedServer) -> None:
    with (
        pytest.raises(InvalidStatus) as refused,
        connect(server.there.replace("http", "ws") + "/_stcore/stream", origin=server.there),  # type: ignore[arg-type]
    ):
        pass
    assert refused.value.response.status_code == 401
