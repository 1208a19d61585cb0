"""The application: routes put together, one shape for every refusal, the page's own files."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import FileResponse, JSONResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from bayrun import store as kept
from bayrun.jobs.desk import EditRefused, TextRefused
from bayrun.web.desks import Desks, Tasks
from bayrun.web.guard import COOKIE, Door, Guard

STATIC = Path(str(files("bayrun.web") / "static"))
FONTS = Path(str(files("bayrun") / "drawings" / "fonts"))


@dataclass(frozen=True, slots=True)
class Bench:
    """What every route works with."""

    store: kept.Store
    desks: Desks
    tasks: Tasks
    door: Door


def error_body(kind: str, says: str, **more: Any) -> dict[str, Any]:
    """The one shape of a refusal: ``{"error": {"kind": …, "says": …}}``."""
    return {"error": {"kind": kind, "says": says, **more}}


def make_app(store: kept.Store, door: Door) -> Guard:
    """The application behind its guard.

    Args:
        store: Open; closed by whoever opened it.
        door: The key and the hosts it answers to.
    """
    bench = Bench(store, Desks(), Tasks(), door)

    @asynccontextmanager
    async def living(app: FastAPI) -> AsyncIterator[None]:
        yield
        bench.tasks.close()
        bench.desks.close()

    app = FastAPI(
        title="Bayrun", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json", lifespan=living
    )
    app.state.bench = bench
    _refusals(app)
    _pages(app, door)

    from bayrun.web import api_imports, api_jobs, api_plan

    app.include_router(api_jobs.ROUTER, prefix="/api")
    app.include_router(api_plan.ROUTER, prefix="/api")
    app.include_router(api_imports.ROUTER, prefix="/api")
    app.mount("/fonts", StaticFiles(directory=FONTS), name="fonts")
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    return Guard(app, door)


def bench_of(request: Request) -> Bench:
    """The bench of the application that a request came to."""
    bench = request.app.state.bench
    assert isinstance(bench, Bench)
    return bench


def _pages(app: FastAPI, door: Door) -> None:
    import hmac

    @app.get("/enter", include_in_schema=False)
    def enter(key: str = "") -> Response:
        """Turn the key of the opened address into a cookie, and show the page without the key in it."""
        if not hmac.compare_digest(key.encode(), door.key.encode()):
            return JSONResponse(
                error_body(
                    "not let in", "This address carries no key, or an old one: open the one printed last."
                ),
                status_code=401,
            )
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(COOKIE, door.key, httponly=True, samesite="strict", path="/")
        return answer

    @app.get("/", include_in_schema=False)
    def page() -> Response:
        """The page."""
        return FileResponse(STATIC / "index.html", media_type="text/html; charset=utf-8")

    @app.get("/favicon.ico", include_in_schema=False)
    def icon() -> Response:
        """The page's mark."""
        return FileResponse(STATIC / "mark.svg", media_type="image/svg+xml")


def _refusals(app: FastAPI) -> None:
    def answer(status: int, body: dict[str, Any]) -> JSONResponse:
        return JSONResponse(body, status_code=status)

    @app.exception_handler(kept.NotKept)
    def not_kept(_: Request, error: kept.NotKept) -> JSONResponse:
        return answer(404, error_body("not here", str(error)))

    @app.exception_handler(kept.Changed)
    def changed(_: Request, error: kept.Changed) -> JSONResponse:
        steps = [{"says": s.says, "by": s.by, "at": s.at.isoformat()} for s in error.steps]
        return answer(409, error_body("changed", str(error), version=error.job.version, steps=steps))

    @app.exception_handler(EditRefused)
    def refused(_: Request, error: EditRefused) -> JSONResponse:
        return answer(422, error_body("refused", str(error)))

    @app.exception_handler(TextRefused)
    def unreadable(_: Request, error: TextRefused) -> JSONResponse:
        return answer(422, error_body("job file", str(error)))

    @app.exception_handler(RequestValidationError)
    def invalid(_: Request, error: RequestValidationError) -> JSONResponse:
        told = "; ".join(
            f"{'.'.join(str(part) for part in e['loc'][1:]) or 'the request'}: {e['msg']}"
            for e in error.errors()
        )
        return answer(422, error_body("not understood", told))

    @app.exception_handler(HTTPException)
    def other(_: Request, error: HTTPException) -> JSONResponse:
        says = {404: "There is nothing at this address.", 405: "That cannot be done here."}
        return answer(
            error.status_code, error_body("not here", says.get(error.status_code, str(error.detail)))
        )
