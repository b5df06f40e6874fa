"""The gate: one check before everything the server offers, pages, routes, media and websocket alike.

A page of a foreign site that the same browser has open can send requests here. Two things give
it away and cannot be set by its script: the Host it asked for and the Origin it comes from.
"""

import logging
from collections.abc import Iterable

from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from starlette.websockets import WebSocket

from inspect_app.ui import policy

LOCAL_NAMES = ("localhost", "127.0.0.1", "[::1]")
_READING = frozenset({"GET", "HEAD"})
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
    """ASGI middleware that lets a request through only from a listed Host and no foreign Origin.

    `hosts` are Host header values with their port, as `allowed_hosts` returns them. Refused: any
    other Host (421); a foreign Origin on a websocket handshake or on a method that writes (403);
    a websocket handshake without an Origin (403).
    """

    def __init__(self, app: ASGIApp, hosts: frozenset[str]) -> None:
        self._app = app
        self._hosts = hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or answer it with the words of the refusal."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
        elif refusal := self._refusal(scope):
            await _refuse(refusal, scope, receive, _with_headers(send))
        elif scope["type"] == "websocket":
            await self._app(scope, receive, send)
        else:
            await self._answer(scope, receive, send)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        hosts = _values(scope, b"host")
        if len(hosts) != 1 or hosts[0].lower() not in self._hosts:
            asked = f'"{hosts[0]}"' if len(hosts) == 1 else f"{len(hosts)} host names"
            return 421, f"This server does not answer to {asked}. Use the address it printed when it started."
        origins = _values(scope, b"origin")
        if scope["type"] == "websocket" and not origins:
            return 403, "A live connection without an Origin header is refused. Open the page in a browser."
        writes = scope["type"] == "websocket" or scope["method"] not in _READING
        foreign = [origin for origin in origins if not self._is_ours(origin)]
        if writes and foreign:
            words = f'A request from "{foreign[0]}" may not change anything here.'
            return 403, f"{words} Open this server's own page."
        return None

    def _is_ours(self, origin: str) -> bool:
        scheme, _, host = origin.lower().partition("://")
        return scheme in ("http", "https") and host in self._hosts

    async def _answer(self, scope: Scope, receive: Receive, send: Send) -> None:
        started = False

        async def watched(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await secured(message)

        secured = _with_headers(send)
        try:
            await self._app(scope, receive, watched)
        except Exception:
            _log.exception("%s %s failed", scope["method"], scope["path"])
            if not started:
                failed = (500, "The server failed on this request. Its log says why.")
                await _refuse(failed, scope, receive, secured)


def _values(scope: Scope, name: bytes) -> list[str]:
    return [value.decode("latin-1").strip() for key, value in scope["headers"] if key == name]


def _with_headers(send: Send) -> Send:
    ours = policy.headers()
    names = {name for name, _ in ours}

    async def secured(message: Message) -> None:
        if message["type"] in ("http.response.start", "websocket.http.response.start"):
            kept = [item for item in message.get("headers", ()) if item[0].lower() not in names]
            message = {**message, "headers": [*kept, *ours]}
        await send(message)

    return secured


async def _refuse(refusal: tuple[int, str], scope: Scope, receive: Receive, send: Send) -> None:
    status, words = refusal
    response = PlainTextResponse(f"{words}\n", status_code=status)
    if scope["type"] == "http":
        await response(scope, receive, send)
    elif "websocket.http.response" in scope.get("extensions", {}):
        await WebSocket(scope, receive, send).send_denial_response(response)
    else:
        await send({"type": "websocket.close", "code": 1008, "reason": words[:120]})
