"""Serve the screens until Ctrl-C: to this machine alone, or to paired phones in its networks too."""

import os
import socket
from collections.abc import AsyncIterator, Iterable, Sequence
from contextlib import asynccontextmanager
from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware

from inspect_app.model.problems import Problem, Problems
from inspect_app.ui import pairing, shelf, theme
from inspect_app.ui.addresses import own_addresses, own_names
from inspect_app.ui.gate import Gate, allowed_hosts
from inspect_app.ui.pairing import Pairing
from inspect_app.ui.routes import ROUTES
from inspect_app.ui.sessions import Sessions, SessionsInMemory

ADDRESS = "127.0.0.1"
EVERY_ADDRESS = "0.0.0.0"
FIRST_PORT = 8501
TRIES = 20
_MAIN = Path(__file__).with_name("main.py")


def serve(
    cores: shelf.Shelf,
    port: int | None = None,
    *,
    extra_hosts: Iterable[str] = (),
    share: bool = False,
    sessions: Sessions | None = None,
) -> None:
    """Serve the cores of a shelf, print the addresses, and return after Ctrl-C.

    `port`, 1 to 65535, is used as given; without one the first free of 8501 to 8520. `extra_hosts` are
    further names by which this server may be asked. With `share` phones in the networks of this machine
    are served once they are paired; `sessions` keeps them, without it they end with the program. Raises
    `Problems` when no port is free.
    """
    chosen = free_port(port, share)
    shelf.use(cores)
    # The server would take a proxy's word for who asks; whoever the operating system names is asked.
    os.environ["FORWARDED_ALLOW_IPS"] = ""
    try:
        app(chosen, extra_hosts, share=share, sessions=sessions).run(config=_options(chosen, share))
    except KeyboardInterrupt:
        print("Stopped.")


def free_port(port: int | None = None, share: bool = False) -> int:
    """Return `port` if it is free, or without one the first free of 8501 to 8520; raises `Problems`.

    With `share` it must be free on every address of this machine.
    """
    wanted = range(FIRST_PORT, FIRST_PORT + TRIES) if port is None else [port]
    for candidate in wanted:
        if _is_free(candidate, _address(share)):
            return candidate
    if port is None:
        what, advice = f"ports {FIRST_PORT} to {wanted[-1]} are all taken.", "Name a free one with --port."
    else:
        what, advice = f"port {port} cannot be used.", "Name another with --port, or none."
    raise Problems([Problem("serve", what, advice)])


def _address(share: bool) -> str:
    return EVERY_ADDRESS if share else ADDRESS


def _is_free(port: int, address: str) -> bool:
    with socket.socket() as trial:
        # As the server itself binds: a port whose last connections are still winding down is free.
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((address, port))
        except (OSError, OverflowError):
            return False
    return True


def app(
    port: int, extra_hosts: Iterable[str] = (), *, share: bool = False, sessions: Sessions | None = None
) -> st.App:
    """Build what is served, behind its gate, and set its pairing as that of this process."""
    extra = tuple(extra_hosts)
    reached = tuple(dict.fromkeys((*own_addresses(), *extra))) if share else ()
    names = own_names() if share else ()
    addresses = [f"http://{host if ':' in host else f'{host}:{port}'}" for host in reached]
    paired = Pairing(sessions or SessionsInMemory(), port, addresses)
    pairing.use(paired)
    gate = Middleware(Gate, hosts=allowed_hosts(port, [*reached, *names, *extra]), pairing=paired)

    @asynccontextmanager
    async def announced(_: st.App) -> AsyncIterator[None]:
        print(announcement(port, paired.addresses, share=share), flush=True)
        yield

    return st.App(_MAIN, routes=ROUTES, middleware=[gate], lifespan=announced)


def announcement(port: int, addresses: Sequence[str], *, share: bool) -> str:
    """Say where the screens are and what sharing them means, in lines."""
    here = f"Open http://localhost:{port}  (Ctrl-C stops it)"
    if not share:
        return here
    if not addresses:
        return f"{here}\nShared, but this machine has no address in any network: no phone can reach it."
    return "\n".join(
        (
            here,
            "Shared: a phone in the same network, once it is paired on the page Phones, opens",
            *(f"  {address}" for address in addresses),
            "This is plain http: whoever can listen in that network can read along, photos and session too.",
            "Share in the shop's own network only, never in a guest's or a public one.",
        )
    )


def _options(port: int, share: bool) -> dict[str, theme.Option]:
    return {
        "server.address": _address(share),
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
