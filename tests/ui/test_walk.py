"""Every address that the app answers, asked for by somebody who may not: none answers with content.

The addresses come from the app itself: its routes, its pages, its fonts and component files, a picture of
a page, an uploaded file. A route of a kind that the walk does not know how to ask for fails it.
"""

import asyncio
import re
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
import pytest
import streamlit as st
from starlette.applications import Starlette
from starlette.routing import BaseRoute, Match, Mount, Route, WebSocketRoute
from streamlit import config
from streamlit.runtime import Runtime

from inspect_app import store
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.ui import pair_page, pairing, shelf
from inspect_app.ui.serve import app as build

PORT = 8501
HERE, THERE = f"localhost:{PORT}", f"shop.test:{PORT}"
FOREIGN, MACHINE = "192.0.2.7", "127.0.0.1"
OURS = Path(pair_page.__file__).parent
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")
SECRET = b"what only the shop may see"
CORE = "brackwater-four"
SAMPLES = ("some/file.js", "drawings.js", "fonts/IBMPlexSans-Regular.woff2")


@dataclass(frozen=True)
class Walked:
    """The app with a picture shown and what the walk knows of it."""

    app: st.App
    starlette: Starlette
    picture: str
    run: Callable[[Any], Any]


@pytest.fixture(scope="module", autouse=True)
def cores(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(tmp_path_factory.mktemp("walked") / "shop.sqlite") as shop:
        store.import_bundle(shop, book, shipped("demo_cores") / CORE, "A.T.")
        shelf.use(shelf.Shelf(shop, lambda: book))
        yield
        shelf._current = None


@pytest.fixture(scope="module")
def walked() -> Iterator[Walked]:
    before, Runtime._instance = Runtime._instance, None
    kept = config.get_option("server.enableStaticServing")
    config.set_option("server.enableStaticServing", True)
    app = build(PORT, ["shop.test"], share=True)
    app._starlette_app = app._build_starlette_app()
    runtime = app._runtime
    assert runtime is not None
    shown = runtime.media_file_mgr.add(SECRET, "image/png", "0.0")
    # A thread of its own: the one of the tests may hold the loop of a browser.
    with ThreadPoolExecutor(1) as alone, asyncio.Runner() as runner:
        yield Walked(app, app._starlette_app, shown, lambda work: alone.submit(runner.run, work).result())
        alone.submit(runner.run, stopped(runtime)).result()
        alone.submit(runner.close).result()
    config.set_option("server.enableStaticServing", kept)
    Runtime._instance = before


async def stopped(runtime: Runtime) -> None:
    runtime.stop()
    await runtime.stopped


def pages() -> list[str]:
    return re.findall(r'url_path="([^"]+)"', (OURS / "main.py").read_text("utf-8"))


def paths_of(route: BaseRoute) -> list[str]:
    """Addresses that this route answers; fails for a kind of route that nobody thought of."""
    if isinstance(route, Mount) and not route.routes:
        index = ["/", "/index.html", *(f"/{page}" for page in pages())]
        return [f"{route.path}{path}" for path in index] if route.path else [*index, "/static/js/index.js"]
    if isinstance(route, Route | WebSocketRoute):
        return list(dict.fromkeys(_filled(route.path, sample) for sample in SAMPLES))
    pytest.fail(f"the walk does not know how to ask for {route!r}")


def _filled(path: str, sample: str) -> str:
    """The path with something in each of its gaps; only a gap for a whole path takes one."""
    path = path.replace("{core_id}", CORE)
    return re.sub(r"{\w+}", "some-name", re.sub(r"{\w+:path}", sample, path))


def routes(walked: Walked) -> list[BaseRoute]:
    return list(walked.starlette.routes)


def addresses(walked: Walked) -> list[str]:
    found = [
        path for route in routes(walked) if not isinstance(route, WebSocketRoute) for path in paths_of(route)
    ]
    return [*dict.fromkeys([*found, walked.picture, "/nowhere", "/pair/", "/pair/x", "//pair", "/PAIR"])]


async def ask(
    walked: Walked, method: str, path: str, client: str, host: str, **headers: str
) -> httpx.Response:
    transport = httpx.ASGITransport(walked.app, client=(client, 50_000), raise_app_exceptions=False)
    async with httpx.AsyncClient(transport=transport, base_url=f"http://{host}") as asking:
        return await asking.request(method, f"http://{host}{path}", headers=headers)


def all_asked(
    walked: Walked, one: Callable[[str, str], Awaitable[httpx.Response]], skip: str = ""
) -> dict[tuple[str, str], httpx.Response]:
    async def each() -> dict[tuple[str, str], httpx.Response]:
        return {
            (method, path): await one(method, path)
            for method in METHODS
            for path in addresses(walked)
            if path != skip
        }

    return walked.run(each())


def test_every_route_is_walked(walked: Walked) -> None:
    for route in routes(walked):
        kind = "websocket" if isinstance(route, WebSocketRoute) else "http"
        for path in paths_of(route):
            method = next(iter(getattr(route, "methods", None) or {"GET"}))
            scope = {"type": kind, "method": method, "path": path, "root_path": "", "headers": []}
            assert route.matches(scope)[0] == Match.FULL, (route, path)
    assert {"/", "/rack", "/phones", "/verdict", "/answer/brackwater-four.json", "/_stcore/health"} <= set(
        addresses(walked)
    )
    assert any(path.startswith("/media/") for path in addresses(walked))
    assert any(isinstance(route, WebSocketRoute) for route in routes(walked))


@pytest.mark.parametrize("route", [BaseRoute(), Mount("/more", routes=[BaseRoute()])])
def test_a_route_of_another_kind_fails_the_walk(route: BaseRoute) -> None:
    with pytest.raises(pytest.fail.Exception, match="does not know how to ask"):
        paths_of(route)


def test_this_machine_is_answered(walked: Walked) -> None:
    async def one(method: str, path: str) -> httpx.Response:
        return await ask(walked, method, path, MACHINE, HERE)

    given = all_asked(walked, one)
    assert not {answer.status_code for answer in given.values()} & {401, 421}
    assert given["GET", walked.picture].content == SECRET
    assert "<html" in given["GET", "/verdict"].text
    assert given["GET", "/answer/brackwater-four.json"].json()["core"]["id"] == CORE
    assert sum(answer.status_code == 200 for answer in given.values()) > 25


def test_nothing_answers_without_a_session(walked: Walked) -> None:
    async def one(method: str, path: str) -> httpx.Response:
        return await ask(walked, method, path, FOREIGN, THERE)

    for asked, answer in all_asked(walked, one, skip=pair_page.PATH).items():
        assert answer.status_code == 401, asked
        assert answer.content in (b"", pair_page.refused().body), asked


@pytest.mark.parametrize("value", ["", "x", "a" * 43, "a; inspect_8501=b", "\u00e9"])
def test_nothing_answers_with_the_cookie_of_no_session(walked: Walked, value: str) -> None:
    async def one(method: str, path: str) -> httpx.Response:
        return await ask(walked, method, path, FOREIGN, THERE, cookie=f"inspect_8501={value}".encode())  # type: ignore[arg-type]

    for asked, answer in all_asked(walked, one, skip=pair_page.PATH).items():
        assert answer.status_code == 401, asked
        assert ('inspect_8501="";' in answer.headers.get("set-cookie", "")) == bool(value), asked


@pytest.mark.parametrize("client", [FOREIGN, MACHINE])
@pytest.mark.parametrize(
    "host", ["evil.test", f"evil.test:{PORT}", "shop.test", "localhost", f"{FOREIGN}:{PORT}"]
)
def test_nothing_answers_to_a_foreign_host(walked: Walked, client: str, host: str) -> None:
    async def one(method: str, path: str) -> httpx.Response:
        return await ask(walked, method, path, client, host)

    for asked, answer in all_asked(walked, one).items():
        assert answer.status_code == 421, asked
        assert SECRET not in answer.content


@pytest.mark.parametrize("paired", [True, False])
@pytest.mark.parametrize("origin", ["http://evil.test", "null", f"http://evil.test:{PORT}"])
def test_nothing_is_changed_by_a_foreign_origin(walked: Walked, paired: bool, origin: str) -> None:
    headers = {"cookie": cookie()} if paired else {}
    client, host = (FOREIGN, THERE) if paired else (MACHINE, HERE)

    async def one(method: str, path: str) -> httpx.Response:
        return await ask(walked, method, path, client, host, origin=origin, **headers)

    for (method, path), answer in all_asked(walked, one).items():
        if method not in ("GET", "HEAD"):
            assert answer.status_code == 403, (method, path)


def test_a_paired_phone_is_answered_until_it_is_revoked(walked: Walked) -> None:
    sent = cookie()

    async def one(method: str, path: str) -> httpx.Response:
        return await ask(walked, method, path, FOREIGN, THERE, cookie=sent)

    given = all_asked(walked, one)
    assert not {answer.status_code for answer in given.values()} & {401, 421}
    assert given["GET", walked.picture].content == SECRET
    pairing.current().revoke(pairing.digest_of(sent.partition("=")[2]))
    for asked, answer in all_asked(walked, one, skip=pair_page.PATH).items():
        assert answer.status_code == 401, asked
        assert 'inspect_8501="";' in answer.headers["set-cookie"]


def cookie() -> str:
    here = pairing.current()
    return f"{here.cookie}={here.pair(here.make_code().text, 'B. Tester')}"


@pytest.mark.parametrize(
    ("client", "host", "origin", "sent", "status"),
    [
        (FOREIGN, THERE, f"http://{THERE}", "", 401),
        (FOREIGN, THERE, f"http://{THERE}", "inspect_8501=none", 401),
        (FOREIGN, HERE, f"http://{HERE}", "", 401),
        (FOREIGN, THERE, "http://evil.test", "", 403),
        (FOREIGN, THERE, "", "", 403),
        (FOREIGN, "evil.test", "http://evil.test", "", 421),
        (MACHINE, "evil.test", "http://evil.test", "", 421),
        (MACHINE, HERE, "http://evil.test", "", 403),
        (MACHINE, THERE, f"http://{THERE}", "", 401),
    ],
)
def test_no_live_connection_is_opened(
    walked: Walked, client: str, host: str, origin: str, sent: str, status: int
) -> None:
    for route in routes(walked):
        if isinstance(route, WebSocketRoute):
            (path,) = paths_of(route)
            assert walked.run(shake_hands(walked, path, client, host, origin, sent)) == status


async def shake_hands(walked: Walked, path: str, client: str, host: str, origin: str, sent: str) -> int:
    """The status with which a handshake is denied; 101 if it is accepted."""
    said: list[Any] = []
    headers = [(b"host", host.encode()), (b"cookie", sent.encode())]
    scope = {
        "type": "websocket",
        "path": path,
        "raw_path": path.encode(),
        "root_path": "",
        "query_string": b"",
        "headers": headers + ([(b"origin", origin.encode())] if origin else []),
        "client": (client, 50_000),
        "server": (host, PORT),
        "scheme": "ws",
        "subprotocols": [],
        "extensions": {"websocket.http.response": {}},
    }
    come = iter([{"type": "websocket.connect"}])

    async def receive() -> Any:
        return next(come, {"type": "websocket.disconnect", "code": 1000})

    async def send(message: Any) -> None:
        said.append(message)

    await walked.app(scope, receive, send)
    return 101 if said[0]["type"] == "websocket.accept" else int(said[0]["status"])
