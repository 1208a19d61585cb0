"""Drawings and lists of a plan, one at a time, for a page."""

from __future__ import annotations

from bayrun.drawings.sheets import Sheet
from bayrun.jobs.house_view import Plain
from bayrun.jobs.plan import Plan
from bayrun.jobs.sheets import plan_tables
from bayrun.units import tape

__all__ = ["Sheet", "drawing_svg", "drawings_view", "list_names", "list_view", "sheets_of"]


def sheets_of(plan: Plan) -> tuple[Sheet, ...]:
    """All drawings of the pack; takes a moment, so keep them while the plan stands."""
    from bayrun.drawings.pack import drawing_sheets

    return drawing_sheets(plan.job, plan.frame, plan.wiring)


def drawings_view(sheets: tuple[Sheet, ...]) -> list[Plain]:
    """Every drawing: name, kind, what it shows, its words for who cannot see it, its size on paper [in]."""
    return [
        {
            "name": sheet.name,
            "kind": sheet.kind,
            "where": sheet.where,
            "heading": sheet.heading,
            "says": sheet.scene.says,
            "scale": sheet.scale.says,
            "width": round(sheet.scene.frame.width / sheet.scene.per_paper_in, 2),
            "height": round(sheet.scene.frame.height / sheet.scene.per_paper_in, 2),
            "caution": sheet.caution,
            "notes": list(sheet.left_over),
        }
        for sheet in sheets
    ]


def drawing_svg(sheets: tuple[Sheet, ...], name: str) -> bytes | None:
    """One drawing as SVG; None where there is none of this name."""
    from bayrun.drawings.svg import svg

    return next((svg(sheet.scene) for sheet in sheets if sheet.name == name), None)


def list_names(plan: Plan) -> list[Plain]:
    """The lists of the pack: name, title, how many rows."""
    return [{"name": t.name, "title": t.title, "rows": len(t.rows)} for t in plan_tables(plan)]


def list_view(plan: Plan, name: str) -> Plain | None:
    """One list: heads, and rows of ``[text, sort key]``; None where there is none of this name."""
    table = next((t for t in plan_tables(plan) if t.name == name), None)
    if table is None:
        return None
    shown = [i for i, column in enumerate(table.columns) if column.kind != "blank"]
    return {
        "name": table.name,
        "title": table.title,
        "heads": [table.columns[i].head for i in shown],
        "numbers": [table.columns[i].kind != "text" for i in shown],
        "rows": [[_cell(row[i], table.columns[i].kind) for i in shown] for row in table.rows],
    }


def _cell(cell: object, kind: str) -> list[str | float]:
    """A cell as ``[text, sort key]``."""
    if cell is None:
        return ["", ""]
    if isinstance(cell, str):
        return [cell, cell]
    value = float(str(cell))
    return [tape(value) if kind == "length" else f"{cell:,}" if isinstance(cell, int) else str(cell), value]
