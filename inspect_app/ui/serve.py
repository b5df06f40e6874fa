"""Serve the screens on this machine only, until Ctrl-C."""

import socket
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware

from inspect_app.model.problems import Problem, Problems
from inspect_app.ui import shelf, theme
from inspect_app.ui.gate import Gate, allowed_hosts
from inspect_app.ui.routes import ROUTES

ADDRESS = "127.0.0.1"
FIRST_PORT = 8501
TRIES = 20
_MAIN = Path(__file__).with_name("main.py")


def serve(cores: shelf.Shelf, port: int | None = None, *, extra_hosts: Iterable[str] = ()) -> None:
    """Serve the cores of a shelf, print the address, and return after Ctrl-C.

    `port`, 1 to 65535, is used as given; without one the first free of 8501 to 8520. `extra_hosts` are
    further names by which this server may be asked. Raises `Problems` when no port is free.
    """
    chosen = free_port(port)
    shelf.use(cores)
    try:
        _app(chosen, extra_hosts).run(config=_options(chosen))
    except KeyboardInterrupt:
        print("Stopped.")


def free_port(port: int | None = None) -> int:
    """Return `port` if it is free, or without one the first free of 8501 to 8520; raises `Problems`."""
    wanted = range(FIRST_PORT, FIRST_PORT + TRIES) if port is None else [port]
    for candidate in wanted:
        if _is_free(candidate):
            return candidate
    if port is None:
        what, advice = f"ports {FIRST_PORT} to {wanted[-1]} are all taken.", "Name a free one with --port."
    else:
        what, advice = f"port {port} cannot be used.", "Name another with --port, or none."
    raise Problems([Problem("serve", what, advice)])


def _is_free(port: int) -> bool:
    with socket.socket() as trial:
        # As the server itself binds: a port whose last connections are still winding down is free.
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((ADDRESS, port))
        except (OSError, OverflowError):
            return False
    return True


def _app(port: int, extra_hosts: Iterable[str]) -> st.App:
    gate = Middleware(Gate, hosts=allowed_hosts(port, extra_hosts))

    @asynccontextmanager
    async def announced(_: st.App) -> AsyncIterator[None]:
        print(f"Open http://localhost:{port}  (Ctrl-C stops it)", flush=True)
        yield

    return st.App(_MAIN, routes=ROUTES, middleware=[gate], lifespan=announced)


def _options(port: int) -> dict[str, theme.Option]:
    return {
        "server.address": ADDRESS,
        "server.port": port,
        "server.headless": True,
        "server.fileWatcherType": "none",
        "browser.gatherUsageStats": False,
        "client.toolbarMode": "minimal",
        "client.showErrorDetails": "none",
        "client.showErrorLinks": False,
        "runner.magicEnabled": False,
        "logger.hideWelcomeMessage": True,
        **theme.streamlit_options(),
    }
