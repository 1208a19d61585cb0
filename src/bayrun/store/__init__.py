"""Where jobs are kept: SQLite in the user's data folder by default, PostgreSQL by URL; one set of tables."""

from bayrun.store.jobs import (
    add_job,
    forget_job,
    job_by_id,
    jobs_kept,
    keep_revision,
    record_step,
    restore_revision,
    revision_text,
    revisions_of,
    step_back,
    step_forward,
    steps_since,
    text_of,
)
from bayrun.store.open import Store, StoreError, data_folder, open_store
from bayrun.store.records import Changed, JobRow, NotKept, RevisionRow, StepRow

__all__ = [
    "Changed",
    "JobRow",
    "NotKept",
    "RevisionRow",
    "StepRow",
    "Store",
    "StoreError",
    "add_job",
    "data_folder",
    "forget_job",
    "job_by_id",
    "jobs_kept",
    "keep_revision",
    "open_store",
    "record_step",
    "restore_revision",
    "revision_text",
    "revisions_of",
    "step_back",
    "step_forward",
    "steps_since",
    "text_of",
]
