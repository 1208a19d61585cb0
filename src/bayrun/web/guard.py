"""Who may speak to the server, and what a browser may do with its answers.

Decided by how the server was started, never by the address a request comes from. ``serve`` listens on
loopback and puts a random key into the address it opens; the key becomes a cookie, and without it nothing but
the sign on the door is answered. Hosts are named, so that a page of another site cannot reach us by a name it
points at loopback; writes must come from our own pages.
"""

from __future__ import annotations

import hmac
import json
from collections.abc import Awaitable, Callable, MutableMapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from typing import Any

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

COOKIE = "bayrun-key"
POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
"""Content security policy of every answer: nothing from elsewhere, no inline script, no inline style."""

HEADERS = (
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
)
LARGEST_BODY = 32 * 1024 * 1024
"""Largest request that is read at all [bytes]."""


@dataclass(frozen=True, slots=True)
class Door:
    """What a server was started with.

    Args:
        key: The random key of the opened address.
        hosts: Names it answers to, as in the Host header, port included.
        largest_body: Of a request [bytes].
    """

    key: str
    hosts: frozenset[str]
    largest_body: int = LARGEST_BODY


@dataclass(frozen=True, slots=True)
class Decision:
    """What the guard decides about a request: 0 lets it in, else the status and why."""

    status: int
    says: str = ""


def decide(door: Door, method: str, path: str, headers: dict[str, str]) -> Decision:
    """Let a request in, or say why not. A table of cases is its test.

    Args:
        headers: Names in small letters; of several of one name the last.
    """
    if headers.get("host", "") not in door.hosts:
        return Decision(421, "This address is not one the program was started with.")
    length = headers.get("content-length", "0")
    if not length.isascii() or not length.isdigit():
        return Decision(400, "The request does not say how long it is.")
    if int(length) > door.largest_body:
        most = door.largest_body // (1024 * 1024)
        return Decision(413, f"That is more than {most} MB: the largest file this page takes.")
    if method not in ("GET", "HEAD"):
        origin = headers.get("origin")
        site = headers.get("sec-fetch-site")
        own = origin is None or origin.partition("://")[2] in door.hosts
        if not own or site not in (None, "same-origin", "none"):
            return Decision(403, "A page of another site may not change anything here.")
        if "transfer-encoding" in headers:
            return Decision(411, "The request does not say how long it is.")
    if path == "/enter":
        return Decision(0)
    if not hmac.compare_digest(_key(headers.get("cookie", "")).encode(), door.key.encode()):
        return Decision(401, "Open the address that “bayrun serve” printed: it carries the key to this page.")
    return Decision(0)


def _key(cookie: str) -> str:
    try:
        found = SimpleCookie(cookie).get(COOKIE)
    except CookieError:
        return ""
    return found.value if found is not None else ""


class Guard:
    """The guard as a layer around an application."""

    def __init__(self, app: App, door: Door) -> None:
        """Around ``app``."""
        self.app, self.door = app, door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or pass on with our headers added to what comes back."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        decision = decide(self.door, scope["method"], scope["path"], headers)

        async def with_headers(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                given = [(k, v) for k, v in message.get("headers", [])]
                names = {k.lower() for k, _ in given}
                given += [(k.encode(), v.encode()) for k, v in HEADERS if k.encode() not in names]
                if b"cache-control" not in names:
                    given.append((b"cache-control", b"no-store"))
                message["headers"] = given
            await send(message)

        if decision.status:
            await _refuse(decision, scope["path"], with_headers)
            return
        await self.app(scope, _bounded(receive, self.door.largest_body), with_headers)


def _bounded(receive: Receive, most: int) -> Receive:
    """A body that says one length and sends another is cut off."""
    seen = 0

    async def counted() -> MutableMapping[str, Any]:
        nonlocal seen
        message = await receive()
        if message["type"] == "http.request":
            seen += len(message.get("body", b""))
            if seen > most:
                return {"type": "http.disconnect"}
        return message

    return counted


async def _refuse(decision: Decision, path: str, send: Send) -> None:
    if path.startswith("/api/"):
        body = json.dumps({"error": {"kind": "not let in", "says": decision.says}}).encode()
        kind = b"application/json"
    else:
        body = (
            '<!doctype html><html lang="en"><meta charset="utf-8"><title>Bayrun</title>'
            f"<h1>Bayrun</h1><p>{decision.says}</p></html>"
        ).encode()
        kind = b"text/html; charset=utf-8"
    start = {
        "type": "http.response.start",
        "status": decision.status,
        "headers": [(b"content-type", kind), (b"content-length", str(len(body)).encode())],
    }
    await send(start)
    await send({"type": "http.response.body", "body": body})
