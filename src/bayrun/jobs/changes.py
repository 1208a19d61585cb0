"""What changed since the plan last issued: a sheet of the pack, a table, and data beside plan.json."""

from __future__ import annotations

import json
from typing import Any

from bayrun.drawings import cautions
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.jobs.plan import Plan
from bayrun.rules.words import count_of
from bayrun.takeoff.change import Planned
from bayrun.takeoff.changes import Change, Changes, what_changed
from bayrun.takeoff.lists import Column as TableColumn
from bayrun.takeoff.lists import ListTable


def plan_changes(plan: Plan, when: str = "before drywall") -> Changes | None:
    """The plan against the one it stands on; None where no whole plan was given as its base."""
    base = plan.base
    if base is None or base.counted is None or base.job is None:
        return None
    before = Planned(base.job, base.wiring, base.counted)
    after = Planned(plan.job, plan.wiring, plan.counted)
    return what_changed(before, after, plan.prices, (base.frame, plan.frame), when)


def _signed(number: float, unit: str, places: int = 0) -> str:
    return f"{number:+,.{places}f} {unit}".strip() if round(number, places) else f"no more {unit}".strip()


def sums(changes: Changes) -> str:
    """What all of it comes to, in one sentence."""
    parts = [
        _signed(changes.feet, "ft of cable"),
        _signed(changes.holes, "holes"),
        _signed(changes.plates, "nail plates"),
        _signed(changes.straps, "straps"),
        _signed(changes.seals, "seals"),
        _signed(float(changes.hours), "hours", 2),
    ]
    return ", ".join(parts)


def heading(changes: Changes) -> str:
    """What stands over the list: how much moved, asked for or not."""
    if not changes.items:
        return "Nothing in the plan is different"
    runs = [c for c in changes.items if c.thing == "run"]
    forced = len(changes.moved_runs)
    return (
        f"Carry over {count_of(len(runs), 'changed run')} and "
        f"{count_of(len(changes.items) - len(runs), 'changed hole')}; {forced} of the runs moved unasked"
    )


_WORDS = {"added": "new", "removed": "gone", "moved": "moved"}


def change_sheet(plan: Plan) -> ListSheet | None:
    """The sheet “what changed”; None where the plan stands on no other."""
    changes = plan_changes(plan)
    if changes is None:
        return None
    rows = [ListRow((a.id, "", a.says, ""), "", "Asked for in the job") for a in changes.asked]
    rows += [
        ListRow((c.id, _WORDS[c.what], c.place, _feet(c)), f"{c.says}; {c.why}", _group(c))
        for c in changes.items
    ]
    done = plan.wiring.frozen
    stands = (
        f" Done and left as it is: {count_of(len(done.runs), 'pulled run')}, "
        f"{count_of(len(done.holes), 'drilled hole')}."
        if done
        else ""
    )
    return ListSheet(
        f"what changed since revision {changes.since}",
        heading(changes),
        (Column("name", "id"), Column("is"), Column("where", share=1.6), Column("length", "number")),
        tuple(rows),
        note=f"In all {sums(changes)}.{stands} Names on wood and labels stay; one that is gone is never "
        "used again.",
        caution=cautions.DRILL,
        field="done",
        wide=True,
    )


def _feet(change: Change) -> str:
    return f"{change.feet:+,.0f} ft" if change.thing == "run" and round(change.feet) else ""


def _group(change: Change) -> str:
    what = {"run": "Runs", "hole": "Holes"}[change.thing]
    return f"{what}: {'as asked' if change.asked else 'moved because of it'}"


def change_table(plan: Plan) -> ListTable | None:
    """The same as a table, for CSV and workbook."""
    changes = plan_changes(plan)
    if changes is None:
        return None
    columns = (
        TableColumn("Thing", width=10),
        TableColumn("Name", width=14),
        TableColumn("Is", width=10),
        TableColumn("Where", width=40),
        TableColumn("What", width=50),
        TableColumn("Why", width=50),
        TableColumn("Asked", width=8),
        TableColumn("Feet", "number", 8),
    )
    rows: list[tuple[str | float, ...]] = [
        (a.kind, a.id, "changed", "", a.says, "asked in the job", "yes", 0.0) for a in changes.asked
    ]
    rows += [
        (c.thing, c.id, _WORDS[c.what], c.place, c.says, c.why, "yes" if c.asked else "no", round(c.feet, 1))
        for c in changes.items
    ]
    return ListTable("changes", f"What changed since revision {changes.since}", columns, tuple(rows))


def changes_json(plan: Plan) -> bytes | None:
    """The change list as data; None where the plan stands on no other."""
    from bayrun.files.planjson import to_plain

    changes = plan_changes(plan)
    if changes is None:
        return None
    data: dict[str, Any] = to_plain(changes)
    data["moved_unasked"] = list(changes.moved_runs)
    return (json.dumps(data, ensure_ascii=False, sort_keys=True, indent=1) + "\n").encode("utf-8")
