"""A live connection that hangs on a session: it ends with it, whatever the app would still send."""

import asyncio
import time
from collections.abc import Awaitable, Callable

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from inspect_app.ui.pairing import EVERY, Pairing
from inspect_app.ui.sessions import Paired

GONE = {"type": "websocket.close", "code": 1008, "reason": "This phone is no longer paired."}
_LEFT: Message = {"type": "websocket.disconnect", "code": 1008}


async def run_live(
    app: ASGIApp, scope: Scope, receive: Receive, send: Send, pairing: Pairing, paired: Paired
) -> None:
    """Run the app on a live connection of a session; close it at once when the session ends.

    What the phone sends counts as hearing of it; the connection alone does not.
    """
    live = _Live(receive, send, pairing, paired)
    loop = asyncio.get_running_loop()

    def end() -> None:
        loop.call_soon_threadsafe(live.gone.set)

    with pairing.open(paired.token_sha256, end):
        try:
            await app(scope, live.receive, live.send)
        finally:
            live.stop()


class _Live:
    def __init__(self, receive: Receive, send: Send, pairing: Pairing, paired: Paired) -> None:
        self.gone = asyncio.Event()
        self._receive, self._send = receive, send
        self._pairing, self._paired = pairing, paired
        self._looked = time.monotonic()
        self._heard = self._closed = False
        self._message: asyncio.Task[Message] | None = None
        self._end: asyncio.Task[bool] = asyncio.create_task(self.gone.wait())

    async def receive(self) -> Message:
        """The next message; that the phone has left, once the session has ended."""
        while not self.gone.is_set():
            self._message = self._message or asyncio.create_task(_as_coroutine(self._receive))
            waits = max(0.0, min(self._pairing.left(self._paired), EVERY).total_seconds())
            await asyncio.wait({self._message, self._end}, timeout=waits, return_when=asyncio.FIRST_COMPLETED)
            come = self._message.done()
            self._heard = self._heard or come
            if not self.gone.is_set() and await self._goes_on() and come:
                message, self._message = self._message.result(), None
                return message
        await self._close()
        return _LEFT

    async def send(self, message: Message) -> None:
        """Pass a message on to the phone, unless the session has ended."""
        if not self._closed and not self.gone.is_set():
            await self._send(message)

    def stop(self) -> None:
        """Leave nothing running."""
        for task in (self._message, self._end):
            if task is not None:
                task.cancel()

    async def _goes_on(self) -> bool:
        """Whether the session counts still; looked up again once in a while, with what was heard since."""
        short = self._pairing.left(self._paired).total_seconds() <= 0
        if time.monotonic() - self._looked < EVERY.total_seconds() and not short:
            return True
        self._looked, heard, self._heard = time.monotonic(), self._heard, False
        try:
            found = await run_in_threadpool(self._pairing.admitted, self._paired.token_sha256, heard=heard)
        except Exception:
            # What cannot be read now is looked up again; only an end that is known closes.
            found = None if short else self._paired
        if found is None:
            self.gone.set()
            return False
        self._paired = found
        return True

    async def _close(self) -> None:
        if not self._closed:
            self._closed = True
            await self._send(dict(GONE))


async def _as_coroutine(receive: Callable[[], Awaitable[Message]]) -> Message:
    return await receive()
