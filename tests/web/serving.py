"""A server of the page for tests: a store in a temp folder, a free port on loopback, a known key."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import uvicorn
from starlette.testclient import TestClient

from bayrun import store as kept
from bayrun.web.app import make_app
from bayrun.web.guard import COOKIE, Door
from bayrun.web.serve import free_port

KEY = "a-key-for-tests"


@contextmanager
def client(folder: Path) -> Iterator[TestClient]:
    """A client that has been let in."""
    store = kept.open_store(f"sqlite:///{folder / 'jobs.db'}")
    app = make_app(store, Door(KEY, frozenset({"testserver"})))
    with TestClient(app, cookies={COOKIE: KEY}) as made:
        yield made
    store.close()


@contextmanager
def server(folder: Path) -> Iterator[str]:
    """The address, key included, of a running server."""
    store = kept.open_store(f"sqlite:///{folder / 'jobs.db'}")
    bound = free_port(None)
    port = bound.getsockname()[1]
    app = make_app(store, Door(KEY, frozenset({f"127.0.0.1:{port}"})))
    running = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="on"))
    thread = threading.Thread(target=running.run, kwargs={"sockets": [bound]}, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{port}/enter?key={KEY}"
    finally:
        running.should_exit = True
        thread.join(20)
        store.close()
