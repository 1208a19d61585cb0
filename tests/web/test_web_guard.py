"""Who is let in: a table of requests; and what stands in every answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from bayrun.web.guard import COOKIE, HEADERS, POLICY, Door, decide
from bayrun.web.serve import ServeError, free_port
from web.serving import KEY, client

DOOR = Door("k3y", frozenset({"127.0.0.1:8710", "localhost:8710"}), 1000)
HOST = {"host": "127.0.0.1:8710"}
IN = {**HOST, "cookie": f"{COOKIE}=k3y"}
OWN = {**IN, "origin": "http://127.0.0.1:8710", "sec-fetch-site": "same-origin"}

CASES = [
    ("the page with its key", "GET", "/", IN, 0),
    ("a cookie beside others", "GET", "/", {**HOST, "cookie": f"a=b; {COOKIE}=k3y; c=d"}, 0),
    ("no key", "GET", "/", HOST, 401),
    ("no key, the interface", "GET", "/api/jobs", HOST, 401),
    ("no key, a file", "GET", "/static/main.js", HOST, 401),
    ("a wrong key", "GET", "/", {**HOST, "cookie": f"{COOKIE}=k3z"}, 401),
    ("an empty key", "GET", "/", {**HOST, "cookie": f"{COOKIE}="}, 401),
    ("a broken cookie", "GET", "/", {**HOST, "cookie": "\x00=;;=,"}, 401),
    ("the door itself", "GET", "/enter", HOST, 0),
    ("another host", "GET", "/", {**IN, "host": "evil.example"}, 421),
    ("another host at the door", "GET", "/enter", {"host": "evil.example"}, 421),
    ("a host without its port", "GET", "/", {**IN, "host": "127.0.0.1"}, 421),
    ("no host", "GET", "/", {"cookie": f"{COOKIE}=k3y"}, 421),
    ("a write of our own", "POST", "/api/jobs", OWN, 0),
    ("a write by a program, without origin", "POST", "/api/jobs", IN, 0),
    ("a write from another site", "POST", "/api/jobs", {**OWN, "origin": "http://evil.example"}, 403),
    ("a write from a page without origin", "POST", "/api/jobs", {**OWN, "origin": "null"}, 403),
    (
        "a write the browser calls cross-site",
        "POST",
        "/api/jobs",
        {**OWN, "sec-fetch-site": "cross-site"},
        403,
    ),
    ("a write from another port here", "POST", "/api/jobs", {**OWN, "sec-fetch-site": "same-site"}, 403),
    ("a delete from another site", "DELETE", "/api/jobs/1", {**OWN, "origin": "http://evil.example"}, 403),
    ("a body of unknown length", "POST", "/api/jobs", {**OWN, "transfer-encoding": "chunked"}, 411),
    ("a body just small enough", "POST", "/api/jobs", {**OWN, "content-length": "1000"}, 0),
    ("a body too large", "POST", "/api/jobs", {**OWN, "content-length": "1001"}, 413),
    ("a length that is no number", "POST", "/api/jobs", {**OWN, "content-length": "-1"}, 400),
    ("a length in other digits", "POST", "/api/jobs", {**OWN, "content-length": "١٢"}, 400),
]


@pytest.mark.parametrize(("what", "method", "path", "headers", "status"), CASES, ids=[c[0] for c in CASES])
def test_the_guard(what: str, method: str, path: str, headers: dict[str, str], status: int) -> None:
    decision = decide(DOOR, method, path, headers)
    assert decision.status == status, what
    assert bool(decision.says) == bool(status)


def test_every_answer_carries_the_policy(tmp_path: Path) -> None:
    with client(tmp_path) as page:
        for path in ("/", "/api/jobs", "/static/main.js", "/nothing-here", "/api/nothing-here"):
            answer = page.get(path)
            for name, value in HEADERS:
                assert answer.headers[name] == value, (path, name)
    assert "unsafe" not in POLICY
    assert "default-src 'none'" in POLICY


def test_the_key_becomes_a_cookie_no_script_reads(tmp_path: Path) -> None:
    with client(tmp_path) as page:
        page.cookies.clear()
        assert page.get("/").status_code == 401
        assert "carries the key" in page.get("/").text
        wrong = page.get("/enter?key=other", follow_redirects=False)
        assert wrong.status_code == 401
        right = page.get(f"/enter?key={KEY}", follow_redirects=False)
        assert right.status_code == 303
        assert right.headers["location"] == "/", "the key does not stay in the address"
        cookie = right.headers["set-cookie"].lower()
        assert "httponly" in cookie
        assert "samesite=strict" in cookie
        assert page.get("/").status_code == 200


def test_the_page_has_no_inline_script_or_style() -> None:
    from bayrun.web.app import STATIC

    for page in STATIC.glob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert "<script>" not in text
        assert " style=" not in text
        assert " on" not in text.replace(" only", "").split("<body>")[0], "no handler attributes"
    for script in (p for p in STATIC.rglob("*.js") if "vendor" not in p.parts):
        text = script.read_text(encoding="utf-8")
        for word in ("eval(", "innerHTML", "document.write", "new Function"):
            assert word not in text, (script.name, word)


def test_two_servers_never_share_a_port() -> None:
    found = [free_port(None) for _ in range(4)]
    try:
        ports = [one.getsockname()[1] for one in found]
        assert len(set(ports)) == 4
        with pytest.raises(ServeError, match=f"port {ports[0]} is taken by another program"):
            free_port(ports[0])
    finally:
        for one in found:
            one.close()
