"""The starter job file: one small house, written to be read, changed and grown."""

from __future__ import annotations

from importlib.resources import files

from bayrun.files.jobwrite import scalar


def starter_job(job_id: str, name: str, date: str) -> str:
    """Text of a starter job file.

    Args:
        job_id: Short id: letters, digits, dots and dashes.
        name: What people call the job.
        date: Date of revision 1, ``2026-11-25``; empty where nobody said.
    """
    text = (files("bayrun.files") / "starter.yaml").read_text(encoding="utf-8")
    changes = {
        "id: starter\n": f"id: {scalar(job_id)}\n",
        "name: A new job\n": f"name: {scalar(name)}\n",
        'date: ""': f"date: {scalar(date)}",
    }
    for old, new in changes.items():
        text = text.replace(old, new, 1)
    return text
