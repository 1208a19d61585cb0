"""What the wishes leave open: wall spaces without a location, spares that need a tag."""

from __future__ import annotations

from bayrun.findings import Finding, Severity
from bayrun.rules.case import Case
from bayrun.rules.words import count_of
from bayrun.units import tape
from bayrun.wishes import dark_wall_spaces

SPACE, SPARE = "wall-space", "spare-tagged"


def check_space(case: Case) -> tuple[Finding, ...]:
    """One note with every wall space the recommendation would give a location; rated walls are left out.

    Source: TIA-570.
    """
    if not case.job.locations:
        return ()
    clause = case.adopted.clause("wall-space")
    rated = {wall.id for wall in case.job.walls if wall.rated}
    spaces = [space for space in dark_wall_spaces(case.job) if space.wall not in rated]
    if not spaces:
        return ()
    told = "; ".join(f"{space.room} {tape(space.length_in)} ({space.wall})" for space in spaces)
    says = (
        f"{count_of(len(spaces), 'wall space')} would get a location by the recommendation (12 ft without "
        f"one, or over 25 ft from it): {told}. Advice: the owner decides."
    )
    source = clause.source
    return (
        Finding(
            SPACE, Severity.NOTE, ("wall-spaces",), "the house", says, float(len(spaces)), None, "spaces",
            source,
        ),
    )  # fmt: skip


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
