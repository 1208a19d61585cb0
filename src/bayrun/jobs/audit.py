"""The second opinion on a pack: its job file and its plan file, held against each other."""

from __future__ import annotations

import json
from dataclasses import dataclass
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


def audit_pack(job_file: bytes, plan_file: bytes, folder: str) -> Audited:
    """Audit the two files of a pack that ``bayrun plan`` writes.

    Args:
        job_file: Bytes of ``job.yaml``.
        plan_file: Bytes of ``plan.json``.
        folder: Stands in every message as the pack's name.
    Raises:
        PackError: A file cannot be read; every fault at once.
    """
    from bayrun.files import JobFileError, parse_job
    from bayrun.files.yaml_text import decode

    faults: list[str] = []
    job_name, plan_name = f"{folder}/job.yaml", f"{folder}/plan.json"
    job = None
    try:
        job = parse_job(decode(job_file, job_name), job_name)
    except JobFileError as error:
        faults += str(error).splitlines()
    plan: Any = None
    try:
        plan = json.loads(plan_file.decode("utf-8"))
    except json.JSONDecodeError as error:
        faults.append(f"{plan_name}:{error.lineno}:{error.colno}: expected JSON, got a fault: {error.msg}")
    except UnicodeDecodeError:
        faults.append(f"{plan_name}: expected JSON in UTF-8, got other bytes")
    except RecursionError:
        faults.append(f"{plan_name}: expected a plan, got data nested too deep")
    if job is None or faults:
        raise PackError(tuple(faults))
    try:
        defects = audit(job, plan)
    except PlanError as error:
        raise PackError(tuple(f"{plan_name}: {fault}" for fault in error.faults)) from None
    return Audited(
        job=job.name,
        members=len(plan["members"]),
        holes=len(plan["holes"]),
        runs=len(plan["runs"]),
        defects=defects,
    )
