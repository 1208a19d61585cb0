"""Houses drawn by others over HTTP: bytes in, a task with its progress, a job and its report out."""

from __future__ import annotations

import datetime
import re
import secrets
import tempfile
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi import Path as InPath
from fastapi.responses import Response

from bayrun import store as kept
from bayrun.jobs.desk import EditRefused, TextRefused, import_file
from bayrun.web.api_jobs import OnBench, row_view
from bayrun.web.desks import Stopped, Task

ROUTER = APIRouter(tags=["imports"])
Plain = dict[str, Any]
TaskId = Annotated[str, InPath(pattern=r"^[0-9a-f]{16}$")]
FileName = Annotated[str, Query(min_length=1, max_length=200)]
JobName = Annotated[str, Query(max_length=80)]


@ROUTER.post("/imports", status_code=202)
async def begin_import(bench: OnBench, request: Request, file: FileName, name: JobName = "") -> Plain:
    """Begin to read a house file: its bytes are the body, ``file`` its name (the ending says its kind)."""
    data = await request.body()
    if not data:
        raise EditRefused("The file is empty.")
    ending = re.search(r"\.[A-Za-z0-9]{1,8}$", file)
    task_id = secrets.token_hex(8)
    today = datetime.datetime.now(datetime.UTC).astimezone().date().isoformat()
    title = name.strip() or "Imported house"

    def make(task: Task) -> dict[str, bytes]:
        with tempfile.TemporaryDirectory(prefix="bayrun-import-") as folder:
            path = Path(folder) / f"house{ending[0].lower() if ending else ''}"
            path.write_bytes(data)
            found = import_file(path, title, today, task.tell)
        task.tell("keeping the job", 1, 1)
        row = kept.add_job(bench.store, found.job.name, found.text, says="a house drawn elsewhere")
        return {
            "job": row.id.encode(),
            "report.html": found.report.encode("utf-8"),
            "said": "\n".join(found.said).encode("utf-8"),
        }

    return _view(bench.tasks.begin(task_id, title, make), bench)


@ROUTER.get("/imports/{task_id}")
def import_state(bench: OnBench, task_id: TaskId) -> Plain:
    """How far an import is; with its job once it is made."""
    return _view(_task(bench, task_id), bench)


@ROUTER.delete("/imports/{task_id}")
def stop_import(bench: OnBench, task_id: TaskId) -> Plain:
    """Stop an import."""
    task = _task(bench, task_id)
    task.stop.set()
    return _view(task, bench)


@ROUTER.get("/imports/{task_id}/report")
def report(bench: OnBench, task_id: TaskId) -> Response:
    """The import report: what was understood of the file and what was not."""
    task = _task(bench, task_id)
    if not task.future.done() or task.future.exception() is not None:
        raise kept.NotKept("There is no report of this import.")
    headers = {"content-disposition": 'attachment; filename="import-report.html"'}
    return Response(task.future.result()["report.html"], media_type="text/html", headers=headers)


def _task(bench: OnBench, task_id: str) -> Task:
    task = bench.tasks.get(task_id)
    if task is None:
        raise kept.NotKept("This import is not known any more: read the file again.")
    return task


def _view(task: Task, bench: OnBench) -> Plain:
    view: Plain = {
        "id": task.id,
        "working": {"says": task.work.says, "done": task.work.done, "of": task.work.of},
        "failed": "",
        "job": None,
        "said": [],
    }
    if task.future.done():
        error = task.future.exception()
        if error is None:
            made = task.future.result()
            view["job"] = row_view(kept.job_by_id(bench.store, made["job"].decode()))
            view["said"] = made["said"].decode("utf-8").splitlines()
        elif isinstance(error, Stopped):
            view["failed"] = "Stopped, as you asked. Nothing was kept."
        elif isinstance(error, TextRefused):
            view["failed"] = str(error)
        else:
            view["failed"] = (
                f"A fault of Bayrun's own while reading the file: {type(error).__name__}: {error}"
            )
    return view
