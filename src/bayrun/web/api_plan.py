"""Plans over HTTP: the plan of a version, its members, drawings and lists, and the pack with its progress."""

from __future__ import annotations

import asyncio
import io
import zipfile
from concurrent.futures import TimeoutError as NotYet
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query
from fastapi.responses import JSONResponse, Response

from bayrun import store as kept
from bayrun.jobs import Plan
from bayrun.jobs.desk import EditRefused
from bayrun.jobs.plan_view import frame_view, plan_view
from bayrun.jobs.sheet_view import drawing_svg, drawings_view, list_names, list_view
from bayrun.web.api_jobs import JobId, OnBench
from bayrun.web.app import Bench, error_body
from bayrun.web.desks import Stopped, Task

ROUTER = APIRouter(tags=["plans"])
Plain = dict[str, Any]
Wait = Annotated[float, Query(ge=0, le=20)]
DrawingName = Annotated[str, Path(pattern=r"^[A-Za-z0-9._-]{1,80}$")]


async def _plan(bench: Bench, job_id: str, wait: float) -> tuple[kept.JobRow, Plan] | JSONResponse:
    """The plan of the job as it stands; a 202 with how far it is where it is not made yet."""
    row, text = await asyncio.to_thread(kept.text_of, bench.store, job_id)
    planning = bench.desks.of(job_id).planning(row, text)
    try:
        plan = await asyncio.wait_for(asyncio.shield(asyncio.wrap_future(planning.future)), wait)
    except (TimeoutError, NotYet):
        w = planning.work
        return JSONResponse({"working": {"says": w.says, "done": w.done, "of": w.of}}, status_code=202)
    except Exception as error:
        if type(error).__name__ not in ("ModelError", "TextRefused"):
            raise
        return JSONResponse(
            error_body("cannot be planned", f"The house cannot be planned: {error}."), status_code=422
        )
    return row, plan


@ROUTER.get("/jobs/{job_id}/plan")
async def plan_of(
    bench: OnBench, job_id: JobId, wait: Wait = 5.0, since: Annotated[int | None, Query(ge=0)] = None
) -> Response:
    """The plan of the job as it stands now.

    202 with how far it is, where it takes longer than ``wait`` seconds. ``since`` names the version to
    compare with: then the plan says what changed, where that version's plan is at hand still.
    """
    found = await _plan(bench, job_id, wait)
    if isinstance(found, Response):
        return found
    row, plan = found
    before = None if since is None else bench.desks.of(job_id).made(since)
    view = await asyncio.to_thread(plan_view, plan, before)
    return JSONResponse({"version": row.version, "plan": view})


@ROUTER.get("/jobs/{job_id}/frame")
async def frame_of(bench: OnBench, job_id: JobId, wait: Wait = 5.0) -> Response:
    """Every member as a box, for a turning view."""
    found = await _plan(bench, job_id, wait)
    if isinstance(found, Response):
        return found
    return JSONResponse(await asyncio.to_thread(frame_view, found[1]))


@ROUTER.get("/jobs/{job_id}/drawings")
async def drawings_of(bench: OnBench, job_id: JobId, wait: Wait = 5.0) -> Response:
    """The drawings of the pack by name: plans, enclosure bay, shared holes …"""
    found = await _plan(bench, job_id, wait)
    if isinstance(found, Response):
        return found
    row, plan = found
    return JSONResponse(
        {"version": row.version, "drawings": await asyncio.to_thread(_drawings, bench, row, plan)}
    )


def _drawings(bench: Bench, row: kept.JobRow, plan: Plan) -> list[Plain]:
    return drawings_view(bench.desks.of(row.id).drawings(row.version, plan))


@ROUTER.get("/jobs/{job_id}/drawings/{name}")
async def drawing_of(bench: OnBench, job_id: JobId, name: DrawingName, wait: Wait = 20.0) -> Response:
    """One drawing as SVG."""
    found = await _plan(bench, job_id, wait)
    if isinstance(found, Response):
        return found
    row, plan = found
    sheets = await asyncio.to_thread(bench.desks.of(job_id).drawings, row.version, plan)
    image = await asyncio.to_thread(drawing_svg, sheets, name)
    if image is None:
        raise kept.NotKept(f"There is no drawing {name} in this plan.")
    return Response(image, media_type="image/svg+xml")


@ROUTER.get("/jobs/{job_id}/lists")
async def lists_of(bench: OnBench, job_id: JobId, wait: Wait = 5.0) -> Response:
    """The lists of the pack by name."""
    found = await _plan(bench, job_id, wait)
    if isinstance(found, Response):
        return found
    row, plan = found
    return JSONResponse({"version": row.version, "lists": await asyncio.to_thread(list_names, plan)})


@ROUTER.get("/jobs/{job_id}/lists/{name}")
async def list_of(bench: OnBench, job_id: JobId, name: DrawingName, wait: Wait = 5.0) -> Response:
    """One list as a table: heads and rows."""
    found = await _plan(bench, job_id, wait)
    if isinstance(found, Response):
        return found
    table = await asyncio.to_thread(list_view, found[1], name)
    if table is None:
        raise kept.NotKept(f"There is no list {name} in this plan.")
    return JSONResponse(table)


# ---------------------------------------------------------------- the pack


_NOT_BEGUN: Plain = {
    "begun": False,
    "working": {"says": "", "done": 0, "of": 1},
    "made": False,
    "failed": "",
    "files": [],
}


def _task_id(row: kept.JobRow) -> str:
    return f"{row.id}-{row.version}"


@ROUTER.post("/jobs/{job_id}/pack", status_code=202)
def make_pack_of(bench: OnBench, job_id: JobId) -> Plain:
    """Begin the pack of the job as it stands; asking again joins the one being made."""
    from bayrun.jobs.pack import make_pack

    row, text = kept.text_of(bench.store, job_id)
    planning = bench.desks.of(job_id).planning(row, text)

    def make(task: Task) -> dict[str, bytes]:
        while True:
            try:
                plan = planning.future.result(timeout=0.2)
                break
            except NotYet:
                work = planning.work
                task.tell(work.says, work.done, work.of)
        return make_pack(plan, text.encode("utf-8"), task.tell)

    return _task_view(bench.tasks.begin(_task_id(row), row.name, make))


@ROUTER.get("/jobs/{job_id}/pack")
def pack_state(bench: OnBench, job_id: JobId) -> Plain:
    """How far the pack of the job as it stands is; ``begun`` is false where nobody asked for it yet."""
    task = bench.tasks.get(_task_id(kept.job_by_id(bench.store, job_id)))
    return _NOT_BEGUN if task is None else _task_view(task)


@ROUTER.delete("/jobs/{job_id}/pack")
def stop_pack(bench: OnBench, job_id: JobId) -> Plain:
    """Stop the pack being made."""
    task = _task(bench, job_id)
    task.stop.set()
    return _task_view(task)


@ROUTER.get("/jobs/{job_id}/pack/files/{name:path}")
def pack_file(bench: OnBench, job_id: JobId, name: str) -> Response:
    """One file of the pack, or ``pack.zip`` with all of them."""
    made = _made(bench, job_id)
    if name == "pack.zip":
        return _attached(_zipped(made), "application/zip", "pack.zip")
    if name not in made:
        raise kept.NotKept(f"The pack has no file {name}.")
    kinds = {"pdf": "application/pdf", "svg": "image/svg+xml", "json": "application/json"}
    ending = name.rpartition(".")[2]
    return _attached(made[name], kinds.get(ending, "application/octet-stream"), name.rpartition("/")[2])


def _task(bench: Bench, job_id: str) -> Task:
    row = kept.job_by_id(bench.store, job_id)
    task = bench.tasks.get(_task_id(row))
    if task is None:
        raise kept.NotKept("No pack was made of the job as it stands now: make it first.")
    return task


def _made(bench: Bench, job_id: str) -> dict[str, bytes]:
    task = _task(bench, job_id)
    if not task.future.done():
        raise EditRefused("The pack is being made still.")
    if task.future.exception() is not None:
        raise EditRefused(str(_task_view(task)["failed"]))
    return task.future.result()


def _task_view(task: Task) -> Plain:
    view: Plain = {
        "begun": True,
        "working": {"says": task.work.says, "done": task.work.done, "of": task.work.of},
        "made": False,
        "failed": "",
        "files": [],
    }
    if task.future.done():
        error = task.future.exception()
        if error is None:
            view["made"] = True
            view["files"] = [{"name": n, "bytes": len(d)} for n, d in task.future.result().items()]
        elif isinstance(error, Stopped):
            view["failed"] = "Stopped, as you asked. Nothing was written."
        else:
            view["failed"] = f"The pack could not be made: {error}."
    return view


def _zipped(made: dict[str, bytes]) -> bytes:
    """The same bytes for the same pack: entries in order, one fixed time."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(made):
            entry = zipfile.ZipInfo(name, (2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, made[name])
    return out.getvalue()


def _attached(data: bytes, media_type: str, name: str) -> Response:
    safe = "".join(c if c.isascii() and (c.isalnum() or c in "._-") else "-" for c in name)
    return Response(
        data, media_type=media_type, headers={"content-disposition": f'attachment; filename="{safe}"'}
    )
