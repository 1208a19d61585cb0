"""Fixes for holes of a plan, each tried on the same limits before it is offered."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix, Severity
from bayrun.framing.records import Member
from bayrun.geometry import at_least, at_most, below, cut_interval, near
from bayrun.limits import across_span, hole_limits, too_near
from bayrun.rules.case import Case, spot_at
from bayrun.rules.judge import Cure, judge
from bayrun.rules.words import faces_of, found, member_says
from bayrun.wiring import Hole

ALWAYS_PACKS = 0.5
"""Circles that fill at most half of a round hole always fit it, whatever their sizes.
Source: Fekete, Keldenich, Scheffer, "Packing disks into disks with optimal worst-case density", SoCG 2019."""


def least_hole_in(case: Case, hole: Hole) -> float:
    """The smallest hole that surely takes the hole's cables at the firm's fill [in]."""
    square = sum(diameter * diameter for diameter in occupant_diameters(case, hole))
    return float((square / min(case.job.practice.fill_max, ALWAYS_PACKS)) ** 0.5)


def occupant_diameters(case: Case, hole: Hole) -> tuple[float, ...]:
    """Outside diameters of the cables in a hole, by the firm's table; unknown cables are left out [in]."""
    sizes = {kind.letter: kind.diameter_in for kind in case.job.practice.cables}
    kinds = (case.runs[run].kind for run in hole.occupants if run in case.runs)
    return tuple(sizes[kind] for kind in kinds if kind in sizes)


def spot_text(hole: Hole) -> str:
    """The hole's place on the wood, as a choice names it."""
    return str(spot_at(hole))


def base_in(member: Member) -> float:
    """Where the depth of a member begins in the coordinate of ``Hole.across_in`` [in]."""
    return 0.0 if member.role in ("joist", "rafter", "I-joist") else member.across[0]


def face_names(case: Case, hole: Hole, member: Member) -> tuple[str, str]:
    """Words for the near (right, bottom) and the far (left, top) face of a member at a hole."""
    if member.host not in case.walls:
        return "bottom", "top"
    named = (faces_of(case.job, hole, member, (face,)) for face in ("right", "left"))
    right, left = (name.removeprefix("the ") for name in named)
    return right, left


def breaches_of(case: Case, hole: Hole, member: Member) -> tuple[str, ...]:
    """Slugs of what a hole breaks in one member by itself (stops and cannot-tells)."""
    judged = judge(
        case.piece(member),
        hole.diameter_in,
        hole.across_in - base_in(member),
        case.adopted,
        factory=hole.open_passage,
    )
    return tuple(b.rule for b in judged)


def is_clean(case: Case, hole: Hole) -> bool:
    """True where a hole, as drawn, keeps the limits of its members, neighbors and what lies over them."""
    for name in (hole.member, *hole.plies):
        member = case.members.get(name)
        if member is None or breaches_of(case, hole, member):
            return False
        for other in case.holes_of.get(name, ()):
            if other.id != hole.id and too_near(hole, other, gap_in(case, member)):
                return False
        if covered_by(case, hole, member):
            return False
    return True


def gap_in(case: Case, member: Member) -> float:
    """Least wood between two holes of a member: the code's or the firm's, whichever is more [in]."""
    return max(float(hole_limits(case.piece(member), case.adopted).gap_min), case.job.practice.hole_gap_in)


def covered_by(case: Case, hole: Hole, member: Member) -> str:
    """Id of what lies over or under a plate in the way of a hole, or empty."""
    if hole.axis != "up" or hole.open_passage:
        return ""
    r = hole.diameter_in / 2
    for cover in case.covers.get(member.id, ()):
        rect = cover.rect
        du = max(rect.u0 - hole.along_in, 0.0, hole.along_in - rect.u1)
        dv = max(rect.v0 - hole.across_in, 0.0, hole.across_in - rect.v1)
        if below((du * du + dv * dv) ** 0.5, r):
            return cover.member
    return ""


def redrill(case: Case, hole: Hole, diameter_in: float, across_in: float, says: str) -> tuple[Fix, ...]:
    """The fix, where the hole so changed is clean; else nothing."""
    changed = replace(hole, diameter_in=diameter_in, across_in=across_in)
    if near(diameter_in, hole.diameter_in) and near(across_in, hole.across_in):
        return ()
    if not is_clean(case, changed):
        return ()
    return (Fix("redrill_hole", (hole.id, diameter_in, across_in, spot_text(hole)), says),)


def fixes_from(case: Case, hole: Hole, member: Member, cures: tuple[Cure, ...]) -> tuple[Fix, ...]:
    """The judge's cures as fixes of this plan, each tried with its neighbors; then several smaller holes."""
    fixes: list[Fix] = []
    for cure in cures:
        if cure.verb == "ask":
            about = member.id if cure.answer == "doubled" else member.host
            fixes.append(Fix("ask", (about, cure.answer), cure.says, cure.request_to))
        else:
            across_in = base_in(member) + cure.center_in
            fixes += redrill(case, hole, cure.diameter_in, across_in, cure.says)
    requests = [fix for fix in fixes if fix.request_to]
    own = [fix for fix in fixes if not fix.request_to]
    return (*own, *split_hole(case, hole, member), *requests)


def split_hole(case: Case, hole: Hole, member: Member) -> tuple[Fix, ...]:
    """Two to six smaller holes in the same member instead of one, where they fit and each is legal.

    The fix names bit, count and step: along a stud upward, along a joist toward its far end.
    """
    cables = sorted(occupant_diameters(case, hole), reverse=True)
    if hole.axis == "up" or hole.open_passage or len(cables) < 2 or len(cables) != len(hole.occupants):
        return ()
    practice = case.job.practice
    for bit_in in sorted((b for b in practice.bits_in if below(b, hole.diameter_in)), reverse=True):
        span = across_span(member, bit_in, case.adopted)
        count = _bins(cables, min(practice.fill_max, ALWAYS_PACKS) * bit_in * bit_in)
        if count is None or span is None or not 2 <= count <= 6:
            continue
        across_in = min(max(hole.across_in, span[0]), span[1])
        step_in = bit_in + gap_in(case, member)
        for first in range(0, -count, -1):
            drawn = [_moved(hole, (first + i) * step_in, bit_in, across_in) for i in range(count)]
            others = [h for h in case.holes_of.get(member.id, ()) if h.id != hole.id]
            if all(_stands(case, one, member, others) for one in drawn):
                says = (
                    f"Drill {count} holes with the {found(bit_in)} bit instead, "
                    f"{found(step_in)} apart on center."
                )
                placed = (float(count), bit_in, across_in, first * step_in, step_in)
                return (Fix("split_hole", (hole.id, *placed, spot_text(hole)), says),)
    return ()


def _bins(cables: list[float], room: float) -> int | None:
    """How many holes first fit needs for the cables' squared diameters; None where one alone is too big."""
    left: list[float] = []
    for diameter in cables:
        square = diameter * diameter
        if below(room, square):
            return None
        for i, free in enumerate(left):
            if at_most(square, free):
                left[i] = free - square
                break
        else:
            left.append(room - square)
    return len(left)


def _moved(hole: Hole, by_in: float, diameter_in: float, across_in: float) -> Hole:
    if hole.axis == "along":
        return replace(hole, up_in=hole.up_in + by_in, diameter_in=diameter_in, across_in=across_in)
    return replace(hole, along_in=hole.along_in + by_in, diameter_in=diameter_in, across_in=across_in)


def _stands(case: Case, hole: Hole, member: Member, others: list[Hole]) -> bool:
    low, high = member.up if hole.axis == "along" else member.along
    at = hole.up_in if hole.axis == "along" else hole.along_in
    r = hole.diameter_in / 2
    if not (at_least(at - r, low) and at_most(at + r, high)) or breaches_of(case, hole, member):
        return False
    return not any(too_near(hole, other, gap_in(case, member)) for other in others)


def clear_of_covers(case: Case, hole: Hole, member: Member) -> tuple[Fix, ...]:
    """A move across the plate that has clear way over and under, same bit; nothing where there is none."""
    span = across_span(member, hole.diameter_in, case.adopted)
    if span is None:
        return ()
    r = hole.diameter_in / 2
    blocked = [
        (c.rect.v0 - r, c.rect.v1 + r)
        for c in case.covers.get(member.id, ())
        if below(c.rect.u0 - r, hole.along_in) and below(hole.along_in, c.rect.u1 + r)
    ]
    free = cut_interval(span[0], span[1], blocked)
    ends = [min(max(hole.across_in, low), high) for low, high in free]
    for across_in in sorted(ends, key=lambda a: (abs(a - hole.across_in), a)):
        by_in = across_in - hole.across_in
        right, left = face_names(case, hole, member)
        says = f"Move the hole {found(abs(by_in))} toward the {left if by_in > 0 else right}."
        fix = redrill(case, hole, hole.diameter_in, across_in, says)
        if fix:
            return fix
    return ()


def worst(severities: tuple[Severity, ...]) -> Severity:
    """The gravest of some severities."""
    return min(severities, key=lambda severity: severity.rank)


def member_words(case: Case, member_id: str) -> str:
    """A member or obstacle in words, for what bars the way."""
    member = case.members.get(member_id)
    if member is not None:
        return member_says(member)
    return next((o.kind for o in case.job.obstacles if o.id == member_id), member_id)
