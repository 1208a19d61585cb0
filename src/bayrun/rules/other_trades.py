"""Runs and bits near pipes, ducts, flues and other things of another trade."""

from __future__ import annotations

from bayrun.findings import Finding, Severity
from bayrun.framing.records import Member
from bayrun.geometry import at_most, below
from bayrun.house import Obstacle, Wall
from bayrun.rules.case import Case
from bayrun.rules.lines import Piece3, pieces_of
from bayrun.rules.pipe_contact import is_cpvc
from bayrun.rules.shapes import gaps_of, nearest_in
from bayrun.rules.words import count_of, found, level_name, place_of_hole
from bayrun.units import tape
from bayrun.wiring import Hole

INSIDE, NEAR, IN_WAY, LOOK = (
    "run-in-obstacle",
    "run-near-obstacle",
    "obstacle-in-bit-way",
    "look-before-drilling",
)
FURNITURE = ("cabinet", "vanity", "mirror", "built-in", "scuttle")
"""Things that hang on a wall or are walked through: told by other rules, not met by a run in the wall."""
TOLD_HOLES = 4


def _solid(thing: Obstacle) -> bool:
    return not any(word in thing.kind for word in FURNITURE)


def place_of_thing(case: Case, thing: Obstacle) -> str:
    """A thing of another trade with the level or wall it is on, as a place."""
    wall = case.walls.get(thing.wall or "")
    if wall is not None:
        return f"{thing.kind} {thing.id}, {level_name(case.job, wall.level)}"
    levels = " and ".join(level_name(case.job, level) for level in thing.levels)
    return f"{thing.kind} {thing.id}{f', {levels}' if levels else ''}"


def check_runs(case: Case) -> tuple[Finding, ...]:
    """Runs inside a thing of another trade, or nearer to it than its clearance. CPVC has its own rule.

    Source: common practice; the clearance is the job's own figure (a flue's listing, the firm's margin).
    """
    clause = case.adopted.clause("other-trades")
    radius_of = {kind.letter: kind.diameter_in / 2 for kind in case.job.practice.cables}
    findings = []
    for thing in case.job.obstacles:
        gaps = () if is_cpvc(thing) or not _solid(thing) else gaps_of(case.job, thing)
        if not gaps:
            continue
        for run in case.wiring.runs:
            radius_in = radius_of.get(run.kind, 0.0)
            pieces = pieces_of(run)
            ends = ((run.path[0], run.path[-1])) if run.path else ()
            if any(at_most(gap((p.x, p.y, p.z)), radius_in) for p in ends for gap in gaps):
                continue  # the run ends in it: that is the device it goes to
            near_in = radius_in + thing.clearance_in
            least_in = min(
                (nearest_in(p, gap, near_in) for p in pieces for gap in gaps), default=float("inf")
            )
            have_in = least_in - radius_in
            if below(have_in, 0.0):
                says = f"Run {run.id} goes through the {thing.kind}, or lies against it: lead it around."
                severity, rule, limit_in = Severity.STOP, INSIDE, 0.0
            elif below(have_in, thing.clearance_in):
                says = (
                    f"Run {run.id} passes the {thing.kind} with {found(have_in)}; "
                    f"{found(thing.clearance_in)} is wanted around it."
                )
                severity, rule, limit_in = Severity.STOP, NEAR, thing.clearance_in
            else:
                continue
            about, place = (run.id, thing.id), place_of_thing(case, thing)
            findings.append(
                Finding(rule, severity, about, place, says, have_in, limit_in, source=clause.source)
            )
    return tuple(findings)


def bit_way(hole: Hole, member: Member, wall: Wall | None, past_in: float) -> Piece3:
    """The line a bit goes: through the member and ``past_in`` beyond it at both ends [in]."""
    if hole.axis == "up":
        half_in, step = (member.up[1] - member.up[0]) / 2, (0.0, 0.0, 1.0)
    elif hole.axis == "along":
        half_in = (member.along[1] - member.along[0]) / 2
        dx, dy = wall.direction if wall is not None else (1.0, 0.0)
        step = (dx, dy, 0.0)
    else:
        half_in = (member.across[1] - member.across[0]) / 2
        # A joist's bit goes across it: the axis in which the joist is thin.
        thin_x = below(member.box.x1 - member.box.x0, member.box.y1 - member.box.y0)
        step = (1.0, 0.0, 0.0) if thin_x else (0.0, 1.0, 0.0)
    reach_in = half_in + past_in
    return (
        (hole.x - reach_in * step[0], hole.y - reach_in * step[1], hole.z - reach_in * step[2]),
        (hole.x + reach_in * step[0], hole.y + reach_in * step[1], hole.z + reach_in * step[2]),
    )


def check_bits(case: Case) -> tuple[Finding, ...]:
    """Look first: what lies in the way of a bit, or within 12 in of it over, under and behind the wood.

    A thing the bit meets in the wood or within an inch behind it is a stop; others are one note each with
    the holes it is near. Source: common practice; a nail plate does not protect a pipe the bit hits.
    """
    clause = case.adopted.clause("look-first")
    past_in, hit_in = float(clause.value("look_in")), float(clause.value("hit_in"))
    findings = []
    for thing in case.job.obstacles:
        gaps = gaps_of(case.job, thing) if _solid(thing) else ()
        close: list[tuple[float, Hole, Member]] = []
        for hole, member in _bored(case) if gaps else ():
            wall = case.walls.get(hole.wall or member.host)
            r = hole.diameter_in / 2
            hit = bit_way(hole, member, wall, hit_in)
            if below(min(nearest_in(hit, gap, r) for gap in gaps) - r, 0.0):
                says = (
                    f"The bit of hole {hole.id} meets the {thing.kind} in the wood or within "
                    f"{found(hit_in)} behind it: do not drill here."
                )
                place = place_of_hole(case.job, hole, member)
                about = (hole.id, thing.id)
                findings.append(
                    Finding(IN_WAY, Severity.STOP, about, place, says, 0.0, hit_in, source=clause.source)
                )
                continue
            way = bit_way(hole, member, wall, past_in)
            gap_in = min(nearest_in(way, gap, past_in + r) for gap in gaps) - r
            if below(gap_in, past_in):
                close.append((max(0.0, gap_in), hole, member))
        if close:
            findings.append(_look(case, thing, close, past_in))
    return tuple(findings)


def _bored(case: Case) -> tuple[tuple[Hole, Member], ...]:
    """Holes that are drilled, each once, with the member it is named by."""
    return tuple(
        (hole, case.members[hole.member])
        for hole in case.wiring.holes
        if hole.member in case.members and not hole.open_passage
    )


def _look(case: Case, thing: Obstacle, close: list[tuple[float, Hole, Member]], past_in: float) -> Finding:
    nearest, hole, member = min(close, key=lambda one: (one[0], one[1].id))
    names = [one.id for _, one, _ in close]
    told = ", ".join(names[:TOLD_HOLES]) + (
        f" and {len(names) - TOLD_HOLES} more" if len(names) > TOLD_HOLES else ""
    )
    says = (
        f"Check above, below and behind before drilling {count_of(len(names), 'hole')} ({told}): the "
        f"{thing.kind} lies within {found(past_in)} of the bit's way, nearest {tape(nearest)} at "
        f"{hole.id} ({place_of_hole(case.job, hole, member)})."
    )
    source = case.adopted.clause("look-first").source
    place = place_of_thing(case, thing)
    return Finding(LOOK, Severity.NOTE, (thing.id,), place, says, nearest, past_in, source=source)
