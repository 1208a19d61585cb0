"""Start the server on loopback with a random key, and open the page."""

from __future__ import annotations

import os
import secrets
import socket
import threading
import webbrowser
from collections.abc import Callable
from contextlib import suppress

import uvicorn

from bayrun import store as kept
from bayrun.web.guard import Door

FIRST_PORT = 8710
TRIES = 20


class ServeError(RuntimeError):
    """The server cannot be started; the message says why."""


def free_port(wanted: int | None) -> socket.socket:
    """A listening loopback socket: the wanted port, else the first free one from 8710 on.

    Raises:
        ServeError: The wanted port is taken, or none is free.
    """
    ports = [wanted] if wanted is not None else [*range(FIRST_PORT, FIRST_PORT + TRIES), 0]
    for port in ports:
        bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":  # elsewhere it would let two programs share one port
            bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            # Listening at once: two that only bound would both believe the port theirs.
            bound.bind(("127.0.0.1", port))
            bound.listen()
        except OSError:
            bound.close()
            continue
        return bound
    raise ServeError(f"port {wanted} is taken by another program: leave --port away, or name another one.")


def serve(
    *,
    port: int | None = None,
    store_url: str | None = None,
    open_page: bool = True,
    key: str | None = None,
    say: Callable[[str], None] = print,
) -> None:
    """Serve the page until it is stopped (Ctrl-C).

    Args:
        port: On loopback; None takes the first free one from 8710 on.
        store_url: Where jobs are kept; None is the user's data folder.
        open_page: Also open the page in the browser.
        key: Of the opened address; None makes a random one.
        say: Told the address, once the server answers.
    Raises:
        ServeError: The port is taken. StoreError: the store cannot be opened.
    """
    from bayrun.web.app import make_app

    store = kept.open_store(store_url)
    bound = free_port(port)
    number = bound.getsockname()[1]
    made = key or secrets.token_urlsafe(24)
    hosts = frozenset(f"{name}:{number}" for name in ("127.0.0.1", "localhost"))
    address = f"http://127.0.0.1:{number}/enter?key={made}"
    app = make_app(store, Door(made, hosts))
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, date_header=False, lifespan="on"
    )
    server = _Announcing(config, lambda: _begin(address, open_page, say))
    try:
        server.run(sockets=[bound])
    finally:
        store.close()


def _begin(address: str, open_page: bool, say: Callable[[str], None]) -> None:
    say(f"The page:  {address}")
    say("Only this computer can open it; the key in the address is new every time. Ctrl-C ends it.")
    if open_page:
        threading.Thread(target=_open, args=(address,), daemon=True).start()


def _open(address: str) -> None:
    with suppress(webbrowser.Error):
        webbrowser.open(address)


class _Announcing(uvicorn.Server):
    """A server that tells when it answers."""

    def __init__(self, config: uvicorn.Config, started: Callable[[], None]) -> None:
        super().__init__(config)
        self._tell = started

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._tell()
