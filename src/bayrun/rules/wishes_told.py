"""What the wishes leave open: wall spaces without a location, spares that need a tag."""

from __future__ import annotations

from bayrun.findings import Finding, Severity
from bayrun.house import wall_name
from bayrun.rules.case import Case
from bayrun.rules.words import count_of, level_name
from bayrun.units import tape
from bayrun.wishes import WallSpace, dark_wall_spaces

SPACE, SPARE = "wall-space", "spare-tagged"


def check_space(case: Case) -> tuple[Finding, ...]:
    """One short note for each room with wall spaces that have no location; rated walls are left out.

    Source: TIA-570.
    """
    if not case.job.locations:
        return ()
    clause = case.adopted.clause("wall-space")
    spaces: dict[tuple[str, str], list[WallSpace]] = {}
    for space in dark_wall_spaces(case.job):
        wall = case.walls.get(space.wall)
        if wall is None or not wall.rated:
            level = "" if wall is None else wall.level
            spaces.setdefault((level, space.room), []).append(space)
    findings = []
    for (level, room), here in spaces.items():
        longest_in = max(space.length_in for space in here)
        told = "; ".join(f"{tape(space.length_in)} along {_wall_words(case, space.wall)}" for space in here)
        says = (
            f"No location in {told}. Advice, not code: one where "
            f"{tape(float(clause.value('unbroken_in')))} of wall is unbroken, or a point is over "
            f"{tape(float(clause.value('reach_in')))} from one. The owner decides."
        )
        place = f"{room}{f', {level_name(case.job, level)}' if level else ''}"
        about = (room, *(space.wall for space in here))
        findings.append(
            Finding(SPACE, Severity.NOTE, about, place, says, longest_in, None, "in", clause.source)
        )
    return tuple(findings)


def _wall_words(case: Case, wall_id: str) -> str:
    wall = case.walls.get(wall_id)
    return wall_id if wall is None else wall_name(wall)


def check_spare(case: Case) -> tuple[Finding, ...]:
    """Spares are tagged at both ends: an untagged one counts as abandoned. Source: NEC 800.25."""
    spares = [run.id for run in case.job.runs if run.spare and "tag" not in run.note.lower()]
    if not spares:
        return ()
    says = (
        f"Tag {count_of(len(spares), 'spare')} for later use at both ends: {', '.join(spares)}. An "
        "unconnected cable without a tag counts as abandoned and may have to come out."
    )
    source = case.adopted.clause("spare-tagged").source
    return (Finding(SPARE, Severity.NOTE, ("spares",), "the house", says, source=source),)
