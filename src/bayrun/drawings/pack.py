"""The pack: cover, walk sheet, drawings and lists as one PDF, every drawing as SVG and DXF beside it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from bayrun.drawings import cautions
from bayrun.drawings.bay_sheet import bay_sheet
from bayrun.drawings.coverage_sheet import coverage_sheets
from bayrun.drawings.dxf import dxf
from bayrun.drawings.enclosure_sheet import enclosure_sheets
from bayrun.drawings.findings_list import findings_sheet
from bayrun.drawings.hole_sheet import hole_sheets
from bayrun.drawings.lists import BigNumber, Column, ListRow, ListSheet, WalkFact
from bayrun.drawings.mark_out import mark_out_list
from bayrun.drawings.plan_sheet import plan_sheet
from bayrun.drawings.riser_sheet import riser_sheets
from bayrun.drawings.scene import lost_letters, plain_text, text_width_pt
from bayrun.drawings.sheets import Sheet
from bayrun.drawings.style import LETTER
from bayrun.drawings.svg import svg
from bayrun.findings import Finding
from bayrun.framing.records import Frame
from bayrun.house import Job
from bayrun.wiring import Wiring

Typeset = Callable[[str, Mapping[str, bytes]], bytes]
"""Turns a template and the files it reads into a PDF: ``workers.typst_worker.typeset``."""


def drawing_sheets(job: Job, frame: Frame, wiring: Wiring) -> tuple[Sheet, ...]:
    """Every drawing of a job: plans from the lowest level up, each enclosure, risers, holes, radio."""
    levels = sorted(job.levels, key=lambda level: level.subfloor_z_in)
    sheets = [plan_sheet(job, frame, wiring, level.id) for level in levels]
    for number, box in enumerate(job.built_enclosures):
        sheet = bay_sheet(replace(job, enclosure=box.id), frame, wiring)
        sheets.append(sheet if number == 0 else replace(sheet, name=f"{sheet.name}-{number + 1}"))
    sheets += (*enclosure_sheets(job, wiring), *riser_sheets(job, wiring))
    return (*sheets, *hole_sheets(job, wiring), *coverage_sheets(job, frame))


def build_pack(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    *,
    typeset: Typeset,
    numbers: Sequence[BigNumber] = (),
    walk: Sequence[WalkFact] = (),
    lists: Sequence[ListSheet] = (),
    findings: Sequence[Finding] = (),
    sheets: Sequence[Sheet] | None = None,
    said: str = "",
) -> dict[str, bytes]:
    """The whole pack of a job.

    Args:
        typeset: ``workers.typst_worker.typeset``, given by the caller because drawings touch no disk.
        numbers: Totals of the cover.
        walk: The facts to settle on the walk, the most at stake first.
        lists: Drill, pull, label, plate, material … in the order of use; the mark-out list goes before them.
        findings: All findings; they close the pack.
        sheets: Drawings; None makes all of ``drawing_sheets``.
        said: A sentence or two of the cover, such as what could not be planned.
    Returns:
        File name → bytes: ``pack.pdf``, and ``drawings/NAME.svg`` and ``.dxf`` of each drawing. The same
        bytes for the same input: the only date is the revision's.
    """
    made = tuple(drawing_sheets(job, frame, wiring) if sheets is None else sheets)
    lists = (mark_out_list(job), *lists, findings_sheet(findings))
    sections = [_walk(walk)] if walk else []
    files: dict[str, bytes] = {}
    out: dict[str, bytes] = {}
    for sheet in made:
        image = svg(sheet.scene)
        files[f"{sheet.name}.svg"] = image
        out[f"drawings/{sheet.name}.svg"] = image
        out[f"drawings/{sheet.name}.dxf"] = dxf(sheet.scene)
        sections.append(_drawing(sheet))
        if sheet.left_over:
            sections.append(_list(_left_over(sheet)))
    sections += [_list(item) for item in lists if item.rows]
    for index, section in enumerate(sections):
        section["label"] = f"s{index + 1}"
    cover = _cover(job, numbers, _with_lost_letters(job, lists, said), sections)
    files["data.json"] = _json(_document(job, [cover, *sections]))
    out["pack.pdf"] = typeset("pack.typ", files)
    return out


def _json(data: object) -> bytes:
    return json.dumps(data, ensure_ascii=False, sort_keys=True).encode("utf-8")


def stamp(job: Job) -> str:
    """Revision and its date, as printed in the top line."""
    day = f", {job.revision.date}" if job.revision.date else ""
    return f"revision {job.revision.number}{day}"


def _document(job: Job, sections: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "title": plain_text(f"{job.name}: job pack, {stamp(job)}"),
        "author": "Bayrun",
        "keywords": ["low-voltage rough-in", "job pack"],
        "date": _day(job.revision.date),
        "language": "en",
        "job": _fit(plain_text(job.name), 5.4),
        "stamp": plain_text(stamp(job)),
        "sections": sections,
    }


def _day(text: str) -> list[int] | None:
    """Year, month, day of a date as the job file writes it; None where it is no day of the calendar."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return [day.year, day.month, day.day]


def _fit(text: str, width_in: float) -> str:
    """A text that fits one line of the top line; the end is left out with three dots."""
    while len(text) > 4 and text_width_pt(text, 11.0, bold=True) > width_in * 72:
        text = text[:-4].rstrip() + "..."
    return text


def _section(
    kind: str, sheet: str, where: str, heading: str, caution: str, paper: tuple[float, float]
) -> dict[str, Any]:
    return {
        "kind": kind,
        "sheet": plain_text(sheet),
        "where": _fit(plain_text(where), 6.0 if paper[0] > LETTER.height_in else 4.6),
        "where-whole": plain_text(where),
        "heading": plain_text(heading),
        "caution": plain_text(caution),
        "scale": "",
        "paper": list(paper),
        "one-line": False,
        "label": "s0",
    }


def _letter(wide: bool = False) -> tuple[float, float]:
    return (LETTER.height_in, LETTER.width_in) if wide else (LETTER.width_in, LETTER.height_in)


def _drawing(sheet: Sheet) -> dict[str, Any]:
    paper = (sheet.paper.width_in, sheet.paper.height_in)
    section = _section("drawing", sheet.kind, sheet.where, sheet.heading, sheet.caution, paper)
    section |= {
        "image": f"{sheet.name}.svg",
        "width": round(sheet.scene.frame.width / sheet.scene.per_paper_in, 4),
        "alt": plain_text(sheet.scene.says),
        "scale": plain_text(f"Scale {sheet.scale.says}."),
        "one-line": True,
    }
    return section


def _list(item: ListSheet) -> dict[str, Any]:
    section = _section("list", item.title, item.where, item.heading, item.caution, _letter(item.wide))
    section |= {
        "note": plain_text(item.note),
        "tick": item.tick,
        "field": item.field,
        "long": any(len(cell) > 90 for row in item.rows for cell in row.cells),
        "field-width": 0.9,
        "columns": [{"title": c.title, "kind": c.kind, "share": c.share} for c in item.columns],
        "rows": [
            {
                "cells": [plain_text(cell) for cell in row.cells],
                "detail": plain_text(row.detail),
                "group": plain_text(row.group),
            }
            for row in item.rows
        ],
    }
    return section


def _left_over(sheet: Sheet) -> ListSheet:
    return ListSheet(
        f"{sheet.kind}, notes",
        f"Notes of the drawing before this page: {sheet.where}",
        (Column("note", share=1.0),),
        tuple(ListRow((words,)) for words in sheet.left_over),
        where=sheet.where,
        caution=sheet.caution,
        tick=False,
        field="",
    )


def _with_lost_letters(job: Job, lists: Sequence[ListSheet], said: str) -> str:
    """What the cover says, with a word about letters that the sheets cannot print."""
    texts = [job.name, *(room.name for room in job.rooms)]
    for item in lists:
        for row in item.rows:
            texts += [*row.cells, row.detail, row.group]
    if not any(lost_letters(text) for text in texts):
        return said
    return f"{said} Letters that the font of these sheets lacks print as ?; the job file keeps them.".strip()


def _walk(facts: Sequence[WalkFact]) -> dict[str, Any]:
    count = len(facts)
    heading = f"Walk the house first: {count} {'fact' if count == 1 else 'facts'} that would change this plan"
    section = _section("walk", "walk sheet", "", heading, cautions.WALK, _letter())
    section |= {
        "note": "Most at stake first. Write what the tape or the eye says. "
        "A different answer means plan again.",
        "facts": [
            {
                "place": plain_text(f.place),
                "question": plain_text(f.question),
                "planned": plain_text(f.planned),
                "stake": _stake(f),
                "answer": f.answer,
            }
            for f in facts
        ],
    }
    return section


def _stake(fact: WalkFact) -> str:
    holes = "hole" if fact.stake_holes == 1 else "holes"
    return f"{fact.stake_ft:,.0f} ft of cable, {fact.stake_holes} {holes}"


def _cover(
    job: Job, numbers: Sequence[BigNumber], said: str, sections: Sequence[dict[str, Any]]
) -> dict[str, Any]:
    section = _section("cover", "cover", "", job.name, cautions.COVER_LINE, _letter())
    section |= {
        "stamp": plain_text(stamp(job)),
        "numbers": [{"value": plain_text(n.value), "words": plain_text(n.words)} for n in numbers],
        "said": plain_text(said),
        "contents": [
            {
                "words": plain_text(", ".join(t for t in (s["sheet"], s["where-whole"]) if t)),
                "label": s["label"],
            }
            for s in sections
        ],
        "cautions": [plain_text(c) for c in cautions.COVER],
        "assumptions": [plain_text(f"{a.says}{f' ({a.where})' if a.where else ''}") for a in job.assumptions],
    }
    return section
