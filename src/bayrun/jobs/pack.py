"""The whole pack of a plan as named bytes: PDF, drawings, lists, workbook, job file, plan file."""

from __future__ import annotations

from collections.abc import Mapping

from bayrun.findings import Finding
from bayrun.jobs.candidates import candidate_sheet
from bayrun.jobs.changes import change_sheet, change_table, changes_json
from bayrun.jobs.conduit_sheet import conduit_sheet
from bayrun.jobs.plan import Plan, Progress
from bayrun.jobs.sheets import list_sheets, numbers, plan_tables, said, walk


def make_pack(plan: Plan, job_file: bytes, progress: Progress | None = None) -> dict[str, bytes]:
    """Every file of the out folder.

    Args:
        plan: As planned.
        job_file: The job file's own bytes, so that the pack carries it as it is, comments and all.
        progress: Told of each part as it begins.
    Returns:
        File name → bytes, the same for the same job.
    Raises:
        TypesettingError: The pages could not be set.
    """
    from bayrun.drawings.pack import build_pack
    from bayrun.files.csvlists import csv_lists
    from bayrun.files.planjson import plan_json
    from bayrun.files.workbook import workbook
    from bayrun.workers.typst_worker import typeset

    def tell(what: str) -> None:
        if progress is not None:
            progress(what, 1, 1)

    def set_pages(template: str, parts: Mapping[str, bytes]) -> bytes:
        tell("setting the pages")
        return typeset(template, parts)

    tell("writing the lists")
    moved = change_table(plan)
    tables = (*plan_tables(plan), *([moved] if moved is not None else []))
    files = {
        "job.yaml": job_file,
        "plan.json": plan_json(plan.job, plan.frame, plan.wiring, plan.counted, _told(plan)),
    }
    files |= {f"lists/{name}": data for name, data in csv_lists(tables).items()}
    files["lists.xlsx"] = workbook(plan.job, tables)
    changed = changes_json(plan)
    if changed is not None:
        files["changes.json"] = changed
    if plan.wiring.certificate is not None:
        files["cost-check.json"] = (plan.wiring.certificate.proof + "\n").encode("utf-8")
    places = candidate_sheet(plan, progress)
    own = (change_sheet(plan), *list_sheets(plan), conduit_sheet(plan), places)
    tell("drawing the sheets")
    files |= build_pack(
        plan.job,
        plan.frame,
        plan.wiring,
        typeset=set_pages,
        numbers=numbers(plan),
        walk=walk(plan),
        lists=tuple(sheet for sheet in own if sheet is not None),
        findings=plan.findings,
        said=said(plan),
    )
    return dict(sorted(files.items()))


def _told(plan: Plan) -> tuple[Finding, ...]:  # the counting's own findings are added by the plan file
    return tuple(f for f in plan.findings if f not in plan.counted.findings)
