"""Conduits on one page: the way of each, its holes, its bends, and what is not known."""

from __future__ import annotations

from bayrun.drawings import cautions
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.house import Job
from bayrun.jobs.plan import Plan
from bayrun.routing.conduits import ConduitWay, conduit_ways
from bayrun.rules.words import count_of
from bayrun.tables import adopt_careful
from bayrun.units import feet_and_inches, tape


def conduit_sheet(plan: Plan) -> ListSheet | None:
    """Every conduit with its way; None where the job wishes none."""
    if not plan.job.conduits:
        return None
    ways = conduit_ways(plan.job, plan.frame, plan.wiring.holes)
    clause = adopt_careful(plan.job.practice.editions, plan.job.practice.amendments).clause("conduit-bends")
    most, advised = clause.value("most_deg"), clause.value("advised_deg")
    known = sum(1 for w in ways if w.points)
    return ListSheet(
        "conduits",
        f"Conduits: {known} of {count_of(len(ways), 'way')} known",
        (
            Column("conduit", "id"),
            Column("from, to", share=0.7),
            Column("hole"),
            Column("length", "number"),
            Column("bends", "number"),
            Column("tube", share=1.3),
        ),
        tuple(_row(plan.job, w, float(advised)) for w in ways),
        note=(
            f"At most {most} degrees of bends between pull points, {advised} is the advice "
            f"({clause.source}). Leave a pull string in each. Seal where it passes a plate."
        ),
        caution=cautions.DRILL,
        wide=True,
    )


def _row(job: Job, way: ConduitWay, advised_deg: float) -> ListRow:
    c = way.conduit
    told = [way.way] if way.way else []
    told += [way.why] if way.why else []
    told += [f"drill {tape(h.diameter_in)}: {h.place}" for h in way.holes if not h.why_not]
    told += [f"not legal: {h.place}: {h.why_not}" for h in way.holes if h.why_not]
    if way.pull_points:
        told.append(f"set {count_of(way.pull_points, 'pull box', 'pull boxes')} between")
    elif way.bends_deg > advised_deg:
        told.append("more bends than the advice: pull early, or bend wider")
    told += way.near
    told += [c.note] if c.note else []
    hole = f"{tape(way.holes[0].diameter_in)}" if way.holes else ""
    return ListRow(
        (
            c.id,
            f"{c.from_place} to {c.to_place}",
            hole,
            feet_and_inches(way.length_in) if way.points else "",
            f"{way.bends_deg:.0f}°" if way.points else "",
            f"{c.size}, {tape(c.outside_diameter_in)} outside",
        ),
        "; ".join(part.strip().rstrip(".") for part in told) + ".",
    )
