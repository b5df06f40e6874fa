"""The gate: one check before everything the server offers, pages, routes, media and websocket alike.

A page of a foreign site that the same browser has open can send requests here. Two things give
it away and cannot be set by its script: the Host it asked for and the Origin it comes from.
Whoever asks from another machine needs a session besides, which pairing begins.
"""

import ipaddress
import logging
from collections.abc import Iterable

from starlette.concurrency import run_in_threadpool
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from starlette.websockets import WebSocket

from inspect_app.ui import pair_page, pairing, policy
from inspect_app.ui.pair_live import run_live
from inspect_app.ui.pairing import Pairing, digest_of
from inspect_app.ui.sessions import Paired

LOCAL_NAMES = ("localhost", "127.0.0.1", "[::1]")
_READING = frozenset({"GET", "HEAD"})
_AT_MOST = 4
_log = logging.getLogger(__name__)


def allowed_hosts(port: int, extra: Iterable[str] = ()) -> frozenset[str]:
    """Return the Host values let through: this machine's names with `port`, and `extra` as written.

    An extra without a port gets `port`.
    """
    local = {f"{name}:{port}" for name in LOCAL_NAMES}
    if port == 80:
        local |= set(LOCAL_NAMES)
    more = {host if _has_port(host) else f"{host}:{port}" for host in extra}
    return frozenset(host.lower() for host in local | more)


def _has_port(host: str) -> bool:
    return host.rpartition(":")[2].isdigit() and not host.endswith("]")


class Gate:
    """ASGI middleware that lets a request through only from a listed Host, no foreign Origin, and a caller.

    `hosts` are Host header values with their port, as `allowed_hosts` returns them. Refused: any
    other Host (421); a foreign Origin on a websocket handshake or on a method that writes (403);
    a websocket handshake without an Origin (403). A caller is this machine, or whoever sends the cookie
    of a session of `pairing`; anybody else (401) gets the page on which phones are paired, and no other.
    """

    def __init__(self, app: ASGIApp, hosts: frozenset[str], pairing: Pairing) -> None:
        self._app = app
        self._hosts = hosts
        self._pairing = pairing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or answer it with the words of the refusal."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        secured = _with_headers(send, policy.headers())
        if refusal := self._refusal(scope):
            await _refuse(refusal, scope, receive, secured)
        elif _is_pairing(scope):
            await self._answer(_marked(scope, ""), receive, _with_headers(send, pair_page.HEADERS))
        elif _is_this_machine(scope):
            await self._answer(_marked(scope, pairing.MACHINE), receive, secured)
        else:
            paired = await self._caller(_cookies(scope, self._pairing.cookie))
            if isinstance(paired, Response):
                await _refuse(paired, scope, receive, _with_headers(send, pair_page.HEADERS))
            elif scope["type"] == "websocket":
                marked = _marked(scope, pairing.PHONE)
                await run_live(self._app, marked, receive, secured, self._pairing, paired)
            else:
                await self._answer(_marked(scope, pairing.PHONE), receive, secured)

    async def _caller(self, sent: list[str]) -> Paired | Response:
        """The session of one of the secrets that were sent, or the answer to whoever has none."""
        try:
            for secret in sent[:_AT_MOST]:
                if paired := await run_in_threadpool(self._pairing.admitted, digest_of(secret)):
                    return paired
        except Exception:
            _log.exception("the sessions of paired phones cannot be read")
            return pair_page.unreadable()
        return pair_page.refused(self._pairing.cookie if sent else None)

    def _refusal(self, scope: Scope) -> Response | None:
        hosts = _values(scope, b"host")
        if len(hosts) != 1 or hosts[0].lower() not in self._hosts:
            asked = f'"{hosts[0]}"' if len(hosts) == 1 else f"{len(hosts)} host names"
            return _words(
                421, f"This server does not answer to {asked}. Use the address it printed when it started."
            )
        origins = _values(scope, b"origin")
        if scope["type"] == "websocket" and not origins:
            return _words(
                403, "A live connection without an Origin header is refused. Open the page in a browser."
            )
        writes = scope["type"] == "websocket" or scope["method"] not in _READING
        foreign = [origin for origin in origins if not self._is_ours(origin)]
        if writes and foreign:
            words = f'A request from "{foreign[0]}" may not change anything here.'
            return _words(403, f"{words} Open this server's own page.")
        return None

    def _is_ours(self, origin: str) -> bool:
        scheme, _, host = origin.lower().partition("://")
        return scheme in ("http", "https") and host in self._hosts

    async def _answer(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "websocket":
            await self._app(scope, receive, send)
            return
        started = False

        async def watched(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await send(message)

        try:
            await self._app(scope, receive, watched)
        except Exception:
            _log.exception("%s %s failed", scope["method"], scope["path"])
            if not started:
                failed = _words(500, "The server failed on this request. Its log says why.")
                await _refuse(failed, scope, receive, send)


def _is_this_machine(scope: Scope) -> bool:
    """Both must be so: a phone can ask for "localhost", and a page can be led to a local address.

    What a proxy says of the machine behind it is not looked at: anybody can write that header.
    """
    (host,) = _values(scope, b"host")
    name = host.rpartition(":")[0] if _has_port(host) else host
    return name.lower() in LOCAL_NAMES and _is_loopback(scope.get("client"))


def _is_loopback(client: tuple[str, int] | None) -> bool:
    try:
        address = ipaddress.ip_address(client[0] if client else "")
    except ValueError:
        return False
    # A socket for both kinds writes 127.0.0.1 as ::ffff:127.0.0.1.
    mapped = getattr(address, "ipv4_mapped", None)
    return bool((mapped or address).is_loopback)


def _is_pairing(scope: Scope) -> bool:
    return scope["type"] == "http" and bool(scope["path"] == pair_page.PATH)


def _marked(scope: Scope, caller: str) -> Scope:
    """The request with what the gate found out about its caller, in place of what it says itself."""
    name = pairing.FROM.encode()
    kept = [item for item in scope["headers"] if item[0].lower() != name]
    return {**scope, "headers": [*kept, (name, caller.encode())]}


def _values(scope: Scope, name: bytes) -> list[str]:
    return [value.decode("latin-1").strip() for key, value in scope["headers"] if key == name]


def _cookies(scope: Scope, name: str) -> list[str]:
    """Every value sent for a cookie: another program on the same host may have set one of that name."""
    pairs = (pair.partition("=") for sent in _values(scope, b"cookie") for pair in sent.split(";"))
    return [value.strip() for key, _, value in pairs if key.strip() == name and value.strip()]


def _with_headers(send: Send, ours: policy.Headers) -> Send:
    names = {name for name, _ in ours}

    async def secured(message: Message) -> None:
        if message["type"] in ("http.response.start", "websocket.http.response.start"):
            kept = [item for item in message.get("headers", ()) if item[0].lower() not in names]
            message = {**message, "headers": [*kept, *ours]}
        await send(message)

    return secured


def _words(status: int, words: str) -> Response:
    return PlainTextResponse(f"{words}\n", status_code=status)


async def _refuse(response: Response, scope: Scope, receive: Receive, send: Send) -> None:
    if scope["type"] == "http":
        await response(scope, receive, send)
    elif "websocket.http.response" in scope.get("extensions", {}):
        await WebSocket(scope, receive, send).send_denial_response(response)
    else:
        await send({"type": "websocket.close", "code": 1008})
