"""Jobs over HTTP: the list, a new one, edits, undo and redo, the file itself, named saves."""

from __future__ import annotations

import datetime
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path
from fastapi.responses import Response

from bayrun import store as kept
from bayrun.jobs import Job
from bayrun.jobs.desk import EditRefused, apply_fix, demo_text, edit_job, empty_text, read_text, starter_text
from bayrun.jobs.house_view import house_view
from bayrun.units import LengthError, parse_length, tape
from bayrun.web import shapes
from bayrun.web.app import Bench, bench_of

ROUTER = APIRouter(tags=["jobs"])
OnBench = Annotated[Bench, Depends(bench_of)]
JobId = Annotated[str, Path(pattern=r"^[0-9a-f]{16}$")]
Plain = dict[str, Any]


def row_view(row: kept.JobRow) -> Plain:
    """A kept job as the page lists it."""
    return {
        "id": row.id,
        "name": row.name,
        "version": row.version,
        "can_undo": row.can_undo,
        "can_redo": row.can_redo,
        "changed": row.changed.isoformat(),
    }


def _opened(row: kept.JobRow, job: Job) -> Plain:
    return {"job": row_view(row), "house": house_view(job)}


def _today() -> str:
    return datetime.datetime.now(datetime.UTC).astimezone().date().isoformat()


@ROUTER.get("/jobs")
def jobs(bench: OnBench) -> Plain:
    """Every job kept, the one changed last first."""
    return {"jobs": [row_view(row) for row in kept.jobs_kept(bench.store)]}


@ROUTER.post("/jobs", status_code=201)
def new_job(bench: OnBench, asked: shapes.NewJob) -> Plain:
    """A new job from a demo house, a starter, or a job file's text."""
    if asked.start.startswith("demo"):
        letter = asked.start[-1]
        try:
            text = demo_text(letter)
        except FileNotFoundError as error:
            raise EditRefused(f"{error}: the demo houses come with the project's own folder.") from None
        says = f"demo house {letter.upper()}"
    elif asked.start == "empty":
        text, says = empty_text(asked.name or "A new house", _today()), "an empty house"
    elif asked.start == "starter":
        text, says = starter_text(asked.name or "A new house", _today()), "a small house to start from"
    else:
        text, says = asked.text, "a job file"
    job = read_text(text, asked.name or "the job file")
    row = kept.add_job(bench.store, job.name, text, says=says)
    bench.desks.of(row.id).remember(row.version, job)
    return _opened(row, job)


@ROUTER.get("/jobs/{job_id}")
def one_job(bench: OnBench, job_id: JobId) -> Plain:
    """One job with its house."""
    row, text = kept.text_of(bench.store, job_id)
    return _opened(row, bench.desks.of(job_id).job(row, text))


@ROUTER.get("/jobs/{job_id}/version")
def version(bench: OnBench, job_id: JobId) -> Plain:
    """The version of a job: whether another window changed it."""
    return {"version": kept.job_by_id(bench.store, job_id).version}


@ROUTER.delete("/jobs/{job_id}", status_code=204)
def forget(bench: OnBench, job_id: JobId) -> Response:
    """Take a job away with all its steps and saves."""
    kept.forget_job(bench.store, job_id)
    return Response(status_code=204)


@ROUTER.get("/jobs/{job_id}/file")
def file_of(bench: OnBench, job_id: JobId) -> Response:
    """The job file as it stands."""
    _, text = kept.text_of(bench.store, job_id)
    return Response(
        text.encode("utf-8"),
        media_type="application/yaml; charset=utf-8",
        headers={"content-disposition": 'attachment; filename="job.yaml"'},
    )


@ROUTER.put("/jobs/{job_id}/file")
def put_file(bench: OnBench, job_id: JobId, asked: shapes.Replace) -> Plain:
    """Replace the whole job file; one step to undo."""
    job = read_text(asked.text, "job.yaml")
    row = kept.record_step(
        bench.store,
        job_id,
        asked.version,
        asked.text,
        says="changed the job file",
        by=asked.by,
        name=job.name,
    )
    return _opened(row, bench.desks.of(job_id).remember(row.version, job))


@ROUTER.post("/jobs/{job_id}/edits")
def edit(bench: OnBench, job_id: JobId, asked: shapes.Edit) -> Plain:
    """One edit by its verb."""
    row, text = kept.text_of(bench.store, job_id)
    desk = bench.desks.of(job_id)
    made = edit_job(
        desk.job(row, text),
        text,
        asked.verb,
        tuple(asked.arguments),
        by=asked.by,
        date=_today(),
        reason=asked.reason,
    )
    row = kept.record_step(bench.store, job_id, asked.version, made.text, says=made.says, by=asked.by)
    return _opened(row, desk.remember(row.version, made.job)) | {"says": made.says}


@ROUTER.post("/jobs/{job_id}/fixes")
def fix(bench: OnBench, job_id: JobId, asked: shapes.ApplyFix) -> Plain:
    """One of a finding's fixes, on the plan the page saw."""
    row, text = kept.text_of(bench.store, job_id)
    desk = bench.desks.of(job_id)
    plan = desk.made(asked.version)
    if plan is None:
        raise EditRefused(
            "The plan this finding belongs to is not at hand any more: look at the new plan first."
        )
    finding = next((f for f in plan.findings if f.id == asked.finding), None)
    if finding is None:
        raise EditRefused("This finding is not in the plan any more: nothing was changed.")
    made = apply_fix(
        desk.job(row, text), text, finding, asked.fix, by=asked.by, date=_today(), reason=asked.reason
    )
    row = kept.record_step(bench.store, job_id, asked.version, made.text, says=made.says, by=asked.by)
    return _opened(row, desk.remember(row.version, made.job)) | {"says": made.says}


@ROUTER.post("/jobs/{job_id}/undo")
def undo(bench: OnBench, job_id: JobId, asked: shapes.Seen) -> Plain:
    """Take one step back."""
    kept.step_back(bench.store, job_id, asked.version)
    return one_job(bench, job_id)


@ROUTER.post("/jobs/{job_id}/redo")
def redo(bench: OnBench, job_id: JobId, asked: shapes.Seen) -> Plain:
    """Take one step forward again."""
    kept.step_forward(bench.store, job_id, asked.version)
    return one_job(bench, job_id)


@ROUTER.get("/jobs/{job_id}/steps")
def steps(bench: OnBench, job_id: JobId) -> Plain:
    """What was done to a job, oldest first; the one it stands at is marked."""
    row = kept.job_by_id(bench.store, job_id)
    return {
        "now": row.step,
        "steps": [
            {"number": s.number, "says": s.says, "by": s.by, "at": s.at.isoformat()}
            for s in kept.steps_since(bench.store, job_id)
        ],
    }


@ROUTER.get("/jobs/{job_id}/saves")
def saves(bench: OnBench, job_id: JobId) -> Plain:
    """The saves with a name, newest first."""
    return {
        "saves": [
            {"number": r.number, "name": r.name, "by": r.by, "at": r.at.isoformat()}
            for r in kept.revisions_of(bench.store, job_id)
        ]
    }


@ROUTER.post("/jobs/{job_id}/saves", status_code=201)
def save(bench: OnBench, job_id: JobId, asked: shapes.Save) -> Plain:
    """Name the job as it stands."""
    try:
        made = kept.keep_revision(bench.store, job_id, asked.name, by=asked.by)
    except ValueError as error:
        raise EditRefused(str(error)) from None
    return {"number": made.number, "name": made.name}


@ROUTER.post("/jobs/{job_id}/restore")
def restore(bench: OnBench, job_id: JobId, asked: shapes.Restore) -> Plain:
    """Back to a named save: a step like any other."""
    kept.restore_revision(bench.store, job_id, asked.version, asked.number, by=asked.by)
    return one_job(bench, job_id)


@ROUTER.post("/length")
def length(asked: shapes.Length) -> Plain:
    """Read a length as a person types it: ``7' 3-1/2``, ``87.5``, ``2222 mm``."""
    try:
        value = parse_length(asked.text)
    except LengthError as error:
        raise EditRefused(str(error)) from None
    return {"inches": value, "says": tape(value)}
