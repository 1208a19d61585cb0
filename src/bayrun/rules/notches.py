"""Notches somebody wants or found: depth, length, zone, holes beside them, steel over the cable."""

from __future__ import annotations

import math
from dataclasses import replace

from bayrun.findings import Finding, Fix, Severity
from bayrun.framing.records import Member
from bayrun.geometry import at_least, at_most, below
from bayrun.house.hole_choices import ChoiceError, Notch, notches
from bayrun.limits import Piece, hole_limits, notch_limits, strap_needed
from bayrun.rules.case import Case, spot_at
from bayrun.rules.cures import base_in, is_clean
from bayrun.rules.words import cap, found, percent, place_of_hole, place_of_member
from bayrun.tables import Clause
from bayrun.units import tape
from bayrun.wiring import Hole

SIZE, ZONE, SECTION, NEVER, STEEL = (
    "notch-size",
    "notch-zone",
    "notch-beside-hole",
    "notch-never",
    "notch-steel",
)
SIXTEENTH_IN = 1 / 16


def check(case: Case) -> tuple[Finding, ...]:
    """Every notch of the job's choices against its member and the holes beside it.

    Source: IRC R602.6 (studs), R602.6.1 (plates), R502.8.1 and R802.7.1 (joists, rafters), NEC 300.4(A)(2).
    """
    try:
        wanted = notches(case.job)
    except ChoiceError:
        return ()  # told by the rule of choices that cannot be followed
    findings: list[Finding] = []
    for notch in wanted:
        member = case.members.get(notch.spot.member)
        if member is None:
            says = f"Cannot tell: the frame has no member {notch.spot.member} for this notch."
            findings.append(Finding(SIZE, Severity.CANNOT_TELL, (str(notch.spot),), "the house", says))
            continue
        findings += _one(case, notch, member)
    return tuple(findings)


def place_of_notch(case: Case, notch: Notch, member: Member) -> str:
    """Where a notch is, so that a person can put a tape on it."""
    at_in = notch.spot.at_in
    if member.host in case.walls:
        upright = "plate" not in member.role
        where = place_of_member(case.job, member, None if upright else at_in)
        counted = "above subfloor" if upright else "from the wall's start"
        return f"{where}, {tape(at_in)} {counted}"
    return f"{place_of_member(case.job, member)}, {tape(at_in - member.along[0])} from its end"


def _stop(
    rule: str,
    about: tuple[str, ...],
    place: str,
    says: str,
    clause: Clause,
    fixes: tuple[Fix, ...],
    measured_in: float | None = None,
    limit_in: float | None = None,
) -> Finding:
    stop = Severity.STOP
    return Finding(rule, stop, about, place, says, measured_in, limit_in, source=clause.source, fixes=fixes)


def _take_out(notch: Notch) -> Fix:
    says = "Cut no notch here; drill instead."
    return Fix("notch", (str(notch.spot), 0.0, notch.length_in, notch.face), says)


def _one(case: Case, notch: Notch, member: Member) -> list[Finding]:
    piece, place, about = case.piece(member), place_of_notch(case, notch, member), (str(notch.spot),)
    limits = notch_limits(piece, case.adopted)
    if limits.why_never:
        says = f"No notch here: {limits.why_never}."
        clause = case.adopted.clause(_never_slug(piece))
        return [_stop(NEVER, about, place, says, clause, (_take_out(notch),), notch.depth_in, 0.0)]
    made = [
        *_depth(case, notch, member, piece, place),
        *_zone(case, notch, member, piece, place),
        *_section(case, notch, member, place),
    ]
    return [*made, *_steel(case, notch, member, place)]


def _never_slug(piece: Piece) -> str:
    return "engineered" if piece.kind in ("I-joist", "engineered") else "built-up"


def _ends(case: Case, notch: Notch, member: Member) -> bool:
    """True where a notch begins at the very end of a joist, over its bearing."""
    low, high = notch.spot.at_in - notch.length_in / 2, notch.spot.at_in + notch.length_in / 2
    return at_most(low, member.along[0]) or at_least(high, member.along[1])


def _clause_of(case: Case, piece: Piece) -> Clause:
    if piece.role in ("joist", "rafter"):
        return case.adopted.clause(f"{piece.role}-notch")
    return case.adopted.clause("plate-tie" if piece.role == "plate" else "stud-notch")


def _depth(case: Case, notch: Notch, member: Member, piece: Piece, place: str) -> list[Finding]:
    limits, clause = notch_limits(piece, case.adopted), _clause_of(case, piece)
    if piece.role == "plate" and not strap_needed(piece, member.depth_in, case.adopted):
        return []  # no code limits a notch in a plate that carries nothing, or whose side is sheathed
    most_in = limits.depth_in
    if limits.end_depth_in is not None and _ends(case, notch, member):
        most_in = limits.end_depth_in
    if at_most(notch.depth_in, most_in):
        return []
    less_in = math.floor((most_in + 1e-9) / SIXTEENTH_IN) * SIXTEENTH_IN
    says = (
        f"A notch {found(notch.depth_in)} deep takes {percent(notch.depth_in / piece.depth_in)} of this "
        f"{found(piece.depth_in)} {member.role}; the limit is {percent(most_in / piece.depth_in)}, "
        f"{cap(most_in)}."
    )
    if piece.role == "plate":
        says += " Deeper takes a steel strap across it."
    fixes: tuple[Fix, ...] = (_take_out(notch),)
    if below(0.0, less_in):
        shallow = (str(notch.spot), less_in, notch.length_in, notch.face)
        fixes = (Fix("notch", shallow, f"Cut it {found(less_in)} deep at most."), *fixes)
    about = (str(notch.spot), "depth")
    return [_stop(SIZE, about, place, says, clause, fixes, notch.depth_in, most_in)]


def _zone(case: Case, notch: Notch, member: Member, piece: Piece, place: str) -> list[Finding]:
    """Length of a joist's notch, and none in the middle third of its span."""
    limits, clause = notch_limits(piece, case.adopted), _clause_of(case, piece)
    if limits.no_notch is None or limits.length_in is None or _ends(case, notch, member):
        return []
    findings = []
    if below(limits.length_in, notch.length_in):
        says = (
            f"A notch {found(notch.length_in)} long is longer than a third of this {member.role}'s depth, "
            f"{cap(limits.length_in)}."
        )
        less_in = math.floor((limits.length_in + 1e-9) / SIXTEENTH_IN) * SIXTEENTH_IN
        short = (str(notch.spot), notch.depth_in, less_in, notch.face)
        fixes = (Fix("notch", short, f"Cut it {found(less_in)} long at most."), _take_out(notch))
        long = (str(notch.spot), "length")
        most_in = limits.length_in
        findings.append(_stop(SIZE, long, place, says, clause, fixes, notch.length_in, most_in))
    span = _span(case, notch, member)
    about = (str(notch.spot),)
    if span is None:
        says = (
            f"Cannot tell: nobody said where this {member.role} bears; none in the middle third of its span."
        )
        fix = (_take_out(notch),)
        findings.append(
            Finding(ZONE, Severity.CANNOT_TELL, about, place, says, source=clause.source, fixes=fix)
        )
        return findings
    start_in, end_in = span
    low_in = start_in + limits.no_notch[0] * (end_in - start_in)
    high_in = start_in + limits.no_notch[1] * (end_in - start_in)
    half_in, at_in = notch.length_in / 2, notch.spot.at_in
    if below(low_in, at_in + half_in) and below(at_in - half_in, high_in):
        says = (
            f"This notch lies in the middle third of the span ({tape(low_in - start_in)} to "
            f"{tape(high_in - start_in)} from its bearing): none is cut there."
        )
        fix = (_take_out(notch),)
        findings.append(_stop(ZONE, about, place, says, clause, fix, at_in - start_in))
    return findings


def _span(case: Case, notch: Notch, member: Member) -> tuple[float, float] | None:
    frame = case.frames.get(member.host)
    spans = () if frame is None else frame.spans_in
    holding = [s for s in spans if at_most(s[0], notch.spot.at_in) and at_most(notch.spot.at_in, s[1])]
    return holding[0] if holding else None


def _clear_in(case: Case, notch: Notch, hole: Hole, member: Member) -> float:
    """Wood between a hole and a notch of one member; in a stud only along it: the section counts [in]."""
    r, spot = hole.diameter_in / 2, spot_at(hole)
    along_in = abs(spot.at_in - notch.spot.at_in) - notch.length_in / 2
    if member.host in case.walls:
        return along_in - r
    center_in = hole.across_in - base_in(member)
    top = notch.face == "top"
    beyond_in = (member.depth_in - notch.depth_in - center_in) if top else (center_in - notch.depth_in)
    return math.hypot(max(0.0, along_in), max(0.0, beyond_in)) - r


def _section(case: Case, notch: Notch, member: Member, place: str) -> list[Finding]:
    """Holes in a stud's notched section, or nearer than 2 in to a joist's notch."""
    bore = hole_limits(case.piece(member), case.adopted)
    least_in = float(bore.gap_min)
    findings = []
    for hole in case.holes_of.get(member.id, ()):
        clear_in = _clear_in(case, notch, hole, member)
        if hole.open_passage or at_least(clear_in, least_in):
            continue
        if member.host in case.walls:
            says = f"Hole {hole.id} and a notch share one section of this {member.role}: move one of them."
        else:
            says = (
                f"Hole {hole.id} is {found(max(0.0, clear_in))} from a notch of this {member.role}; at least "
                f"{found(least_in)} must stay."
            )
        about = (hole.id, str(notch.spot))
        fixes = (*_moved(case, notch, hole, member, least_in), _take_out(notch))
        findings.append(_stop(SECTION, about, place, says, bore.clause, fixes, clear_in, least_in))
    return findings


def _moved(case: Case, notch: Notch, hole: Hole, member: Member, least_in: float) -> tuple[Fix, ...]:
    """The hole moved along the member until it is clear of the notch, where it stays clean."""
    spot = spot_at(hole)
    by_in = notch.length_in / 2 + hole.diameter_in / 2 + least_in
    low, high = member.up if hole.axis == "along" else member.along
    order = (1.0, -1.0) if at_least(spot.at_in, notch.spot.at_in) else (-1.0, 1.0)
    for sign in order:
        to_in = notch.spot.at_in + sign * by_in
        if not (at_least(to_in - hole.diameter_in / 2, low) and at_most(to_in + hole.diameter_in / 2, high)):
            continue
        moved = replace(hole, up_in=to_in) if hole.axis == "along" else replace(hole, along_in=to_in)
        if is_clean(case, moved):
            says = f"Move hole {hole.id} clear of the notch: {place_of_hole(case.job, moved, member)}."
            return (Fix("shift_hole", (hole.id, to_in, str(spot)), says),)
    return ()


def _steel(case: Case, notch: Notch, member: Member, place: str) -> list[Finding]:
    """Cable in a notch is always covered by steel: a stop until a plate is written down."""
    wanted = f"{notch.spot}/{notch.face}"
    if any(choice.about == wanted for choice in case.added.get("nail plate", ())):
        return []
    clause = case.adopted.clause("notch-plate")
    thick_in = float(clause.value("thickness_in"))
    says = f"Cable in a notch is always covered by a steel plate of {found(thick_in)}, before the finish."
    put = ("notch", notch.face, str(notch.spot))
    fix = Fix("add_nail_plate", put, "Add a steel plate over the notch.")
    return [_stop(STEEL, (wanted,), place, says, clause, (fix, _take_out(notch)))]
