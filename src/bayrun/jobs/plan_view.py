"""A plan as plain data for a page: runs, bundles, holes, findings with places and fixes, totals."""

from __future__ import annotations

from typing import Any

from bayrun.drawings.building import level_of
from bayrun.drawings.bundles import count_words, stretches
from bayrun.findings import Finding, Fix
from bayrun.house import Job, location_point, wall_point
from bayrun.jobs.house_view import Plain, r3
from bayrun.jobs.plan import Plan
from bayrun.rules.words import count_of
from bayrun.takeoff.words import end_place, hole_level, hole_place
from bayrun.units import feet_and_inches, fraction, tape
from bayrun.wiring import Run


def plan_view(plan: Plan, before: Plan | None = None) -> Plain:
    """Everything a page shows of a plan.

    Args:
        before: The plan before the last edit: then ``change`` says what the edit did, and each finding says
            whether it was already so.
    """
    job, wiring = plan.job, plan.wiring
    members = {member.id: member for member in plan.frame.members}
    known = set() if before is None else {f.id for f in before.findings}
    places = _Places(plan)
    steel: dict[str, list[str]] = {}
    for plate in plan.counted.plates:
        steel.setdefault(plate.hole, []).append(f"nail plate on the {plate.face} side")
    for strap in plan.counted.straps:
        steel.setdefault(strap.hole, []).append(f"strap {tape(strap.length_in)} long")
    return {
        "totals": totals_view(plan),
        "change": None if before is None else change_words(before, plan),
        "runs": [_run(job, run) for run in wiring.runs],
        "unreached": [
            {"run": u.run, "last_place": u.last_place, "barred_by": u.barred_by} for u in wiring.unreached
        ],
        "bundles": {level.id: _bundles(job, wiring.runs, level.id) for level in job.levels},
        "holes": [
            {
                "id": hole.id,
                "level": hole_level(job, hole),
                "at": [r3(hole.x), r3(hole.y), r3(hole.z)],
                "diameter": r3(hole.diameter_in),
                "size": fraction(hole.diameter_in),
                "axis": hole.axis,
                "open": hole.open_passage,
                "place": hole_place(job, members[hole.member], hole) if hole.member in members else hole.room,
                "occupants": list(hole.occupants),
                "circles": [[r3(c.x), r3(c.y), r3(c.r)] for c in hole.circles],
                "steel": steel.get(hole.id, []),
            }
            for hole in wiring.holes
        ],
        "findings": [_finding(finding, places, known, before is not None) for finding in plan.findings],
    }


def totals_view(plan: Plan) -> Plain:
    """The numbers of the result strip, each with its words and where it comes from."""
    t = plan.totals
    kinds = ", ".join(f"{feet:,.0f} ft of {kind}" for kind, feet in t.feet_by_kind)
    return {
        "runs": t.runs,
        "unreached": t.unreached,
        "feet": round(t.feet, 1),
        "holes": t.holes,
        "plates": t.plates,
        "stops": t.stops,
        "fix_soon": t.fix_soon,
        "cannot_tell": t.cannot_tell,
        "notes": t.notes,
        "price": f"{t.price:,.2f}",
        "currency": t.currency,
        "unpriced": t.unpriced,
        "why": {
            "runs": f"{count_of(t.runs, 'cable')} planned end to end; no way was found for {t.unreached}.",
            "feet": f"Way plus slack at both ends of every run: {kinds or 'nothing yet'}.",
            "holes": f"Holes to drill; {t.open_passages} more ways through factory openings and sleeves.",
            "plates": f"Steel where a hole is nearer than 1-1/4 in to a face; {t.straps} straps besides.",
            "price": (
                f"Material lines added up, each rounded to the cent; {t.unpriced} lines have no price yet. "
                "No hours in it."
            ),
            "stops": "Findings that are unsafe or against the adopted code.",
        },
    }


def change_words(before: Plan, after: Plan) -> str:
    """What an edit did to the result, in a line: ``+14 ft, 2 holes more, 1 other run moved``."""
    a, b = before.totals, after.totals
    parts = []
    feet = round(b.feet - a.feet)
    if feet:
        parts.append(f"{feet:+,d} ft")
    for name, old, new in (
        ("run", a.runs, b.runs),
        ("hole", a.holes, b.holes),
        ("nail plate", a.plates, b.plates),
        ("stop", a.stops, b.stops),
    ):
        if new != old:
            parts.append(f"{count_of(abs(new - old), name)} {'more' if new > old else 'fewer'}")
    moved = _moved(before, after)
    parts.append(f"{count_of(moved, 'run')} took another way" if moved else "no run took another way")
    return ", ".join(parts)


def _moved(before: Plan, after: Plan) -> int:
    old = {run.id: run.path for run in before.wiring.runs}
    return sum(1 for run in after.wiring.runs if run.id in old and old[run.id] != run.path)


def _run(job: Job, run: Run) -> Plain:
    return {
        "id": run.id,
        "kind": run.kind,
        "from": end_place(job, run.from_end),
        "to": end_place(job, run.to_end),
        "ends": [run.from_end.id, run.to_end.id],
        "path": [[r3(p.x), r3(p.y), r3(p.z)] for p in run.path],
        "holes": list(run.holes),
        "length": feet_and_inches(run.length_in),
        "length_in": r3(run.length_in),
        "why": (
            f"{feet_and_inches(run.path_in)} of way, {feet_and_inches(run.slack_from_in)} and "
            f"{feet_and_inches(run.slack_to_in)} of slack at its ends"
        ),
        "way": run.way,
        "reason": run.reason,
    }


def _bundles(job: Job, runs: tuple[Run, ...], level: str) -> list[Plain]:
    by_id = {run.id: run for run in runs}
    return [
        {
            "line": [[r3(s.a[0]), r3(s.a[1])], [r3(s.b[0]), r3(s.b[1])]],
            "runs": list(s.runs),
            "kinds": sorted({by_id[name].kind for name in s.runs}),
            "says": count_words(by_id[name] for name in s.runs),
        }
        for s in stretches(job, runs, level)
    ]


class _Places:
    """Where the ids of a finding stand: level and plan point."""

    def __init__(self, plan: Plan) -> None:
        job = plan.job
        self.at: dict[str, tuple[str, float, float]] = {}
        for room in job.rooms:
            xs, ys = [p[0] for p in room.polygon], [p[1] for p in room.polygon]
            if xs:
                middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
                self.at.setdefault(room.name, (room.level, *middle))
        for member in plan.frame.members:
            box = member.box
            self.at[member.id] = (member.level, (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2)
        for wall in job.walls:
            self.at[wall.id] = (wall.level, *wall_point(wall, wall.length_in / 2))
        for opening in job.openings:
            wall = job.wall(opening.wall)
            self.at[opening.id] = (wall.level, *wall_point(wall, opening.offset_in + opening.width_in / 2))
        for run in plan.wiring.runs:
            end = run.path[-1] if run.path else None
            if end is not None:
                self.at[run.id] = (level_of(job, end.z).id, end.x, end.y)
        for location in job.locations:
            x, y, _ = location_point(job, location)
            self.at[location.id] = (location.level, x, y)
        for place in job.enclosures:
            middle_in = sum(place.bay_studs_in) / 2
            self.at[place.id] = (place.level, *wall_point(job.wall(place.wall), middle_in))
        for hole in plan.wiring.holes:
            self.at[hole.id] = (hole_level(job, hole), hole.x, hole.y)

    def of(self, finding: Finding) -> Plain | None:
        """The first thing it speaks of that has a place; holes and locations before walls."""
        found = [(name, self.at[name]) for name in finding.about if name in self.at]
        if not found:
            return None
        name, (level, x, y) = found[-1] if len(found) > 1 else found[0]
        return {"level": level, "at": [r3(x), r3(y)], "id": name}


def _finding(finding: Finding, places: _Places, known: set[str], compared: bool) -> Plain:
    return {
        "id": finding.id,
        "rule": finding.rule,
        "severity": str(finding.severity),
        "place": finding.place,
        "says": finding.says,
        "measured": _amount(finding.measured, finding.unit),
        "limit": _amount(finding.limit, finding.unit),
        "source": "" if finding.source is None else str(finding.source),
        "about": list(finding.about),
        "where": places.of(finding),
        "since": ("already so" if finding.id in known else "by your edit") if compared else "",
        "fixes": [fix_view(fix) for fix in finding.fixes],
    }


def fix_view(fix: Fix) -> dict[str, Any]:
    """A fix as a page sends it back."""
    return {
        "verb": fix.verb,
        "arguments": list(fix.arguments),
        "says": fix.says,
        "request_to": fix.request_to,
    }


def _amount(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    return tape(value) if unit == "in" else f"{value:g} {unit}"


def frame_view(plan: Plan) -> Plain:
    """Members as boxes for a turning view: ``[x0, y0, z0, x1, y1, z1]`` and what they are."""
    walls = {wall.id: wall for wall in plan.job.walls}
    boxes, skew = [], []
    for member in plan.frame.members:
        wall = walls.get(member.host)
        square = wall is None or wall.start[0] == wall.end[0] or wall.start[1] == wall.end[1]
        b = member.box
        row = {"role": member.role, "material": member.material, "level": member.level}
        if square:
            boxes.append({**row, "box": [r3(v) for v in (b.x0, b.y0, b.z0, b.x1, b.y1, b.z1)]})
        else:
            assert wall is not None
            subfloor = plan.job.level(wall.level).subfloor_z_in
            (a0, a1), (c0, c1) = member.along, member.across
            corners = [wall_point(wall, a, c) for a, c in ((a0, c0), (a1, c0), (a1, c1), (a0, c1))]
            skew.append(
                {
                    **row,
                    "base": [[r3(x), r3(y)] for x, y in corners],
                    "z": [r3(subfloor + member.up[0]), r3(subfloor + member.up[1])],
                }
            )
    return {"boxes": boxes, "prisms": skew}
