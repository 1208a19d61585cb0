"""What is done with kept jobs: add, step, undo, redo, name a save, restore it.

Every function is one transaction. A change names the version it saw; where somebody else changed the job
meanwhile, ``Changed`` says what was done and nothing is written. Job files are kept whole and packed (zlib).
"""

from __future__ import annotations

import datetime
import secrets
import zlib
from typing import Any

from sqlalchemy import Connection, Row, delete, func, insert, select, update

from bayrun.store.open import Store
from bayrun.store.records import Changed, JobRow, NotKept, RevisionRow, StepRow
from bayrun.store.tables import jobs, revisions, steps


def _now() -> datetime.datetime:
    return datetime.datetime.now(datetime.UTC)


def _packed(text: str) -> bytes:
    return zlib.compress(text.encode("utf-8"), 6)


def _unpacked(body: bytes) -> str:
    return zlib.decompress(body).decode("utf-8")


def _last_step() -> Any:
    return select(func.max(steps.c.number)).where(steps.c.job == jobs.c.id).scalar_subquery()


def _row(found: Row[Any]) -> JobRow:
    return JobRow(found.id, found.name, found.version, found.step, found.last_step, found.made, found.changed)


def _job(connection: Connection, job: str) -> JobRow:
    query = select(jobs, _last_step().label("last_step")).where(jobs.c.id == job)
    found = connection.execute(query).one_or_none()
    if found is None:
        raise NotKept("This job is not kept here: it was forgotten, or the address is wrong.")
    return _row(found)


def _steps_since(connection: Connection, job: str, version: int) -> tuple[StepRow, ...]:
    query = select(steps).where(steps.c.job == job, steps.c.version > version).order_by(steps.c.number)
    return tuple(StepRow(s.number, s.says, s.by, s.at) for s in connection.execute(query))


def _claim(connection: Connection, job: str, version: int, **changes: object) -> JobRow:
    """Change a job only where nobody else did since ``version``."""
    query = (
        update(jobs)
        .where(jobs.c.id == job, jobs.c.version == version)
        .values(version=version + 1, changed=_now(), **changes)
    )
    if connection.execute(query).rowcount != 1:
        raise Changed(_job(connection, job), _steps_since(connection, job, version))
    return _job(connection, job)


def add_job(store: Store, name: str, text: str, *, says: str, by: str = "") -> JobRow:
    """Keep a new job.

    Args:
        name: As the job file names it.
        text: The job file.
        says: Where it comes from, in words: ``demo house A``.
    """
    made, at = secrets.token_hex(8), _now()
    with store.engine.begin() as connection:
        connection.execute(insert(jobs).values(id=made, name=name, version=1, step=0, made=at, changed=at))
        connection.execute(
            insert(steps).values(job=made, number=0, version=1, says=says, by=by, at=at, body=_packed(text))
        )
        return _job(connection, made)


def jobs_kept(store: Store) -> tuple[JobRow, ...]:
    """Every job, the one changed last first."""
    query = select(jobs, _last_step().label("last_step")).order_by(jobs.c.changed.desc(), jobs.c.id)
    with store.engine.begin() as connection:
        return tuple(_row(found) for found in connection.execute(query))


def job_by_id(store: Store, job: str) -> JobRow:
    """One job.

    Raises:
        NotKept: There is none of this id.
    """
    with store.engine.begin() as connection:
        return _job(connection, job)


def forget_job(store: Store, job: str) -> None:
    """Take a job away with all its steps and saves.

    Raises:
        NotKept: There is none of this id.
    """
    with store.engine.begin() as connection:
        if connection.execute(delete(jobs).where(jobs.c.id == job)).rowcount != 1:
            raise NotKept("This job is not kept here: it was forgotten already.")


def text_of(store: Store, job: str, step: int | None = None) -> tuple[JobRow, str]:
    """A job and its file as it stands now, or as it stood after a step.

    Raises:
        NotKept: There is no such job or step.
    """
    with store.engine.begin() as connection:
        found = _job(connection, job)
        number = found.step if step is None else step
        body = connection.execute(
            select(steps.c.body).where(steps.c.job == job, steps.c.number == number)
        ).scalar_one_or_none()
        if body is None:
            raise NotKept(f"{found.name} has no step {number}.")
        return found, _unpacked(body)


def record_step(
    store: Store, job: str, version: int, text: str, *, says: str, by: str = "", name: str | None = None
) -> JobRow:
    """Keep the job file after an edit; steps taken back before it are gone with their redo.

    Args:
        version: The version the edit was made on.
        says: What the edit did, in words.
        name: The job's name where the edit changed it.
    Raises:
        Changed: Somebody else was quicker; nothing was written.
        NotKept: There is no such job.
    """
    with store.engine.begin() as connection:
        before = _job(connection, job)
        number = before.step + 1
        renamed = {} if name is None else {"name": name}
        _claim(connection, job, version, step=number, **renamed)
        connection.execute(delete(steps).where(steps.c.job == job, steps.c.number >= number))
        connection.execute(
            insert(steps).values(
                job=job, number=number, version=version + 1, says=says, by=by, at=_now(), body=_packed(text)
            )
        )
        return _job(connection, job)


def _step_to(store: Store, job: str, version: int, by: int, refusal: str) -> JobRow:
    with store.engine.begin() as connection:
        before = _job(connection, job)
        if before.version == version and not 0 <= before.step + by <= before.last_step:
            raise NotKept(refusal)
        return _claim(connection, job, version, step=before.step + by)


def step_back(store: Store, job: str, version: int) -> JobRow:
    """Undo one step; it stays for redo.

    Raises:
        NotKept: There is nothing to undo. Changed: somebody else was quicker.
    """
    return _step_to(store, job, version, -1, "There is nothing to undo.")


def step_forward(store: Store, job: str, version: int) -> JobRow:
    """Redo one step.

    Raises:
        NotKept: There is nothing to redo. Changed: somebody else was quicker.
    """
    return _step_to(store, job, version, 1, "There is nothing to redo.")


def steps_since(store: Store, job: str, version: int = 0) -> tuple[StepRow, ...]:
    """The steps made after a version, oldest first; all of them with 0.

    Raises:
        NotKept: There is no such job.
    """
    with store.engine.begin() as connection:
        _job(connection, job)
        return _steps_since(connection, job, version)


def keep_revision(store: Store, job: str, name: str, *, by: str = "") -> RevisionRow:
    """Name the job as it stands now, so that it can be compared and restored.

    Raises:
        NotKept: There is no such job. ValueError: the name is empty or taken.
    """
    name = " ".join(name.split())
    if not name:
        raise ValueError("A save needs a name, such as “before the framing walk”.")
    with store.engine.begin() as connection:
        found = _job(connection, job)
        taken = select(revisions.c.number).where(revisions.c.job == job, revisions.c.name == name)
        if connection.execute(taken).one_or_none() is not None:
            raise ValueError(f"There is a save “{name}” already: choose another name.")
        last = connection.execute(
            select(func.max(revisions.c.number)).where(revisions.c.job == job)
        ).scalar_one()
        number, at = (last or 0) + 1, _now()
        body = select(steps.c.body).where(steps.c.job == job, steps.c.number == found.step).scalar_subquery()
        connection.execute(
            insert(revisions).values(job=job, number=number, name=name, by=by, at=at, body=body)
        )
        return RevisionRow(number, name, by, at)


def revisions_of(store: Store, job: str) -> tuple[RevisionRow, ...]:
    """The named saves of a job, newest first.

    Raises:
        NotKept: There is no such job.
    """
    with store.engine.begin() as connection:
        _job(connection, job)
        query = select(revisions).where(revisions.c.job == job).order_by(revisions.c.number.desc())
        return tuple(RevisionRow(r.number, r.name, r.by, r.at) for r in connection.execute(query))


def revision_text(store: Store, job: str, number: int) -> tuple[RevisionRow, str]:
    """One named save and its job file.

    Raises:
        NotKept: There is no such job or save.
    """
    with store.engine.begin() as connection:
        found = _job(connection, job)
        query = select(revisions).where(revisions.c.job == job, revisions.c.number == number)
        row = connection.execute(query).one_or_none()
        if row is None:
            raise NotKept(f"{found.name} has no save number {number}.")
        return RevisionRow(row.number, row.name, row.by, row.at), _unpacked(row.body)


def restore_revision(store: Store, job: str, version: int, number: int, *, by: str = "") -> JobRow:
    """Go back to a named save: a step like any other, so that it can be undone.

    Raises:
        NotKept: There is no such job or save. Changed: somebody else was quicker.
    """
    row, text = revision_text(store, job, number)
    return record_step(store, job, version, text, says=f"went back to “{row.name}”", by=by)
