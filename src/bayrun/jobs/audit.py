"""The second opinion on a pack: its job file and its plan file, held against each other."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bayrun.audit import Defect, PlanError, audit


class PackError(ValueError):
    """A pack that cannot be read; one line for each fault: expected, got, where."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        """Keep every fault, in the order found."""
        self.faults = faults
        super().__init__("\n".join(faults))


@dataclass(frozen=True, slots=True)
class Audited:
    """What was held against what, and what was found."""

    job: str
    members: int
    holes: int
    runs: int
    defects: tuple[Defect, ...]


def audit_pack(folder: Path) -> Audited:
    """Audit a pack folder: ``job.yaml`` and ``plan.json`` as ``bayrun plan`` writes them.

    Raises:
        PackError: A file is missing or cannot be read; every fault at once.
    """
    from bayrun.files import JobFileError, read_job

    if not folder.is_dir():
        what = "a file" if folder.exists() else "nothing"
        raise PackError((f"{folder}: expected a pack folder with job.yaml and plan.json, got {what}",))
    faults: list[str] = []
    for name in ("job.yaml", "plan.json"):
        if not (folder / name).is_file():
            faults.append(f"{folder / name}: expected this file of the pack, got none")
    if faults:
        raise PackError(tuple(faults))
    job = None
    try:
        job = read_job(folder / "job.yaml")
    except JobFileError as error:
        faults += str(error).splitlines()
    path = folder / "plan.json"
    plan: Any = None
    try:
        plan = json.loads(path.read_text(encoding="utf-8"))
    except json.JSONDecodeError as error:
        faults.append(f"{path}:{error.lineno}:{error.colno}: expected JSON, got a fault: {error.msg}")
    except UnicodeDecodeError:
        faults.append(f"{path}: expected JSON in UTF-8, got other bytes")
    except RecursionError:
        faults.append(f"{path}: expected a plan, got data nested too deep")
    except OSError as error:
        faults.append(f"{path} cannot be read: {(error.strerror or str(error)).lower()}")
    if job is None or faults:
        raise PackError(tuple(faults))
    try:
        defects = audit(job, plan)
    except PlanError as error:
        raise PackError(tuple(f"{path}: {fault}" for fault in error.faults)) from None
    return Audited(
        job=job.name,
        members=len(plan["members"]),
        holes=len(plan["holes"]),
        runs=len(plan["runs"]),
        defects=defects,
    )
