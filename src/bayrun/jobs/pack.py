"""The whole pack of a plan as named bytes: PDF, drawings, lists, workbook, job file, plan file."""

from __future__ import annotations

from bayrun.findings import Finding
from bayrun.jobs.plan import Plan, Progress
from bayrun.jobs.sheets import list_sheets, numbers, plan_tables, said, walk


def make_pack(plan: Plan, job_text: str, progress: Progress | None = None) -> dict[str, bytes]:
    """Every file of the out folder.

    Args:
        plan: As planned.
        job_text: The job file's own text, so that the pack carries it with its comments.
        progress: Told of each part.
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

    def tell(what: str, done: int) -> None:
        if progress is not None:
            progress(what, done, 4)

    tables = plan_tables(plan)
    files = {
        "job.yaml": job_text.encode("utf-8"),
        "plan.json": plan_json(plan.job, plan.frame, plan.wiring, plan.counted, _told(plan)),
    }
    tell("plan file written", 1)
    files |= {f"lists/{name}": data for name, data in csv_lists(tables).items()}
    files["lists.xlsx"] = workbook(plan.job, tables)
    tell("lists written", 2)
    files |= build_pack(
        plan.job,
        plan.frame,
        plan.wiring,
        typeset=typeset,
        numbers=numbers(plan),
        walk=walk(plan),
        lists=list_sheets(plan),
        findings=plan.findings,
        said=said(plan),
    )
    tell("sheets set", 4)
    return dict(sorted(files.items()))


def _told(plan: Plan) -> tuple[Finding, ...]:  # the counting's own findings are added by the plan file
    return tuple(f for f in plan.findings if f not in plan.counted.findings)
