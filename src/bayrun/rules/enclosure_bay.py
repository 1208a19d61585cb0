"""The flush enclosure in its bay: clear width, depth, height, the wall it hangs in, nothing passing by."""

from __future__ import annotations

import itertools
from dataclasses import replace

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import Box, below, near
from bayrun.house import (
    Enclosure,
    Wall,
    above_finished_floor_in,
    enclosure_bottom_in,
    enclosure_top_in,
    wall_name,
    wall_point,
)
from bayrun.rules.case import Case
from bayrun.rules.words import found, level_name
from bayrun.units import tape

WIDTH, DEPTH, HEIGHT = "enclosure-bay-width", "enclosure-depth", "enclosure-height"
WALL, PASSED, MISSING = "enclosure-wall", "enclosure-passed", "enclosure-missing"


def place_of(case: Case, box: Enclosure) -> str:
    """Where the enclosure hangs, in words."""
    wall = case.walls[box.wall]
    middle_in = sum(box.bay_studs_in) / 2
    return (
        f"{level_name(case.job, box.level)}, {wall_name(wall, middle_in)}, {box.room} side, "
        f"bay at {tape(middle_in)} from the wall's start"
    )


def _chosen(case: Case) -> Enclosure | None:
    box = case.job.chosen_enclosure
    return box if box is not None and box.wall in case.walls else None


def other_places(case: Case) -> tuple[Fix, ...]:
    """The job's other candidates that no rule of this file stops, in the job's order."""
    now = _chosen(case)
    fixes = []
    for other in case.job.enclosures:
        if now is None or other.id == now.id or other.wall not in case.walls:
            continue
        tried = replace(case, job=replace(case.job, enclosure=other.id))
        found_ = [finding for check in _OWN_CHECKS for finding in check(tried, offer=False)]
        if any(finding.severity in (Severity.STOP, Severity.CANNOT_TELL) for finding in found_):
            continue
        says = f"Choose {other.id} instead: {place_of(case, other)}."
        fixes.append(Fix("choose_enclosure", (other.id,), says))
    return tuple(fixes)


def clear_width_in(case: Case, box: Enclosure) -> float:
    """Clear width of the enclosure's bay: as framed, else between the two studs named in the job [in]."""
    middle_in = sum(box.bay_studs_in) / 2
    bottom_in, top_in = enclosure_bottom_in(case.job, box), enclosure_top_in(case.job, box)
    for bay in case.bays_of.get(box.wall, ()):
        clear = bay.clear
        if (
            below(clear.u0, middle_in)
            and below(middle_in, clear.u1)
            and below(clear.v0, top_in)
            and below(bottom_in, clear.v1)
        ):
            return bay.clear_width_in
    wall = case.walls[box.wall]
    return abs(box.bay_studs_in[1] - box.bay_studs_in[0]) - wall.stud_width_in


def check_width(case: Case, *, offer: bool = True) -> tuple[Finding, ...]:
    """The bay is wide enough for the box, with a little room for crowned studs. Source: common practice."""
    box = _chosen(case)
    if box is None:
        return ()
    clause = case.adopted.clause("enclosure-place")
    clear_in = clear_width_in(case, box)
    spare_in = clear_in - box.width_in
    room_in = 2 * float(clause.value("side_in"))
    if below(spare_in, 0.0):
        says = (
            f"The bay is {found(clear_in)} clear and the enclosure {found(box.width_in)} wide: it does not "
            "go in. Choose another bay or a narrower box."
        )
        severity = Severity.STOP
    elif below(spare_in, room_in):
        says = (
            f"The bay is {found(clear_in)} clear for a box of {found(box.width_in)}: {found(spare_in)} to "
            "spare. Measure it at top, middle and bottom; a crowned stud stops it."
        )
        severity = Severity.FIX_SOON
    elif below(box.width_in / 4, spare_in):
        says = (
            f"The bay is {found(clear_in)} clear for a box of {found(box.width_in)}: add a stud or blocking "
            f"to fill {found(spare_in)}."
        )
        severity = Severity.NOTE
    else:
        return ()
    return (
        Finding(
            WIDTH,
            severity,
            (box.id,),
            place_of(case, box),
            says,
            clear_in,
            box.width_in,
            source=clause.source,
            fixes=_offered(case, severity, offer),
        ),
    )


def check_depth(case: Case, *, offer: bool = True) -> tuple[Finding, ...]:
    """The box ends flush with the finish and does not touch the board behind. Source: arithmetic."""
    box = _chosen(case)
    if box is None:
        return ()
    clause = case.adopted.clause("enclosure-place")
    wall, level = case.walls[box.wall], case.job.level(box.level)
    have_in = wall.thickness_in + level.wall_board_in
    if not below(have_in, box.depth_in):
        return ()
    says = (
        f"The enclosure is {found(box.depth_in)} deep; the wall gives {found(wall.thickness_in)} of stud and "
        f"{found(level.wall_board_in)} of board, {found(have_in)} together: it stands proud of the finish."
    )
    return (
        Finding(
            DEPTH, Severity.STOP, (box.id,), place_of(case, box), says, have_in, box.depth_in,
            source=clause.source, fixes=_offered(case, Severity.STOP, offer),
        ),
    )  # fmt: skip


def check_height(case: Case, *, offer: bool = True) -> tuple[Finding, ...]:
    """Bottom and top of the box above the finished floor, and between the plates. Source: common practice."""
    box = _chosen(case)
    if box is None:
        return ()
    clause = case.adopted.clause("enclosure-place")
    wall, level = case.walls[box.wall], case.job.level(box.level)
    add_in = above_finished_floor_in(case.job, box.level, box.room)
    bottom_in, top_in = enclosure_bottom_in(case.job, box), enclosure_top_in(case.job, box)
    low_in, high_in = float(clause.value("bottom_in")), float(clause.value("top_in"))
    under_in = 1.5 * wall.plates.bottom
    over_in = level.plate_top_in - 1.5 * wall.plates.top
    where = (
        f"bottom {tape(bottom_in - add_in)} and top {tape(top_in - add_in)} above finished floor "
        f"({tape(bottom_in)} and {tape(top_in)} above subfloor)"
    )
    findings = []
    if below(bottom_in, under_in) or below(over_in, top_in):
        says = (
            f"The enclosure does not stay between the plates: {where}; the bay is clear from "
            f"{tape(under_in)} to {tape(over_in)} above subfloor."
        )
        bad_in, limit_in = (bottom_in, under_in) if below(bottom_in, under_in) else (top_in, over_in)
        findings.append((Severity.STOP, says, bad_in, limit_in))
    elif below(high_in, top_in - add_in):
        says = (
            f"The top of the enclosure is out of easy reach: {where}; the habit is at most {tape(high_in)}."
        )
        findings.append((Severity.FIX_SOON, says, top_in - add_in, high_in))
    elif below(bottom_in - add_in, low_in):
        says = f"The bottom of the enclosure is low: {where}; the habit is at least {tape(low_in)}."
        findings.append((Severity.FIX_SOON, says, bottom_in - add_in, low_in))
    place = place_of(case, box)
    return tuple(
        Finding(
            HEIGHT,
            severity,
            (box.id,),
            place,
            says,
            measured_in,
            limit_in,
            source=clause.source,
            fixes=_offered(case, severity, offer),
        )
        for severity, says, measured_in, limit_in in findings
    )


def check_wall(case: Case, *, offer: bool = True) -> tuple[Finding, ...]:
    """Not in a rated, exterior or wet wall, nor in an opening. Source: IRC R302.4.2 (rated); practice."""
    box = _chosen(case)
    if box is None:
        return ()
    wall, place = case.walls[box.wall], place_of(case, box)
    fixes = other_places(case) if offer else ()
    practice = case.adopted.clause("enclosure-place")
    findings = []
    if wall.rated or wall.separation:
        clause = case.adopted.clause("rated-membrane" if wall.rated else "garage-separation")
        area = box.width_in * box.height_in
        limit = float(case.adopted.value("rated-membrane", "area_in2"))
        says = (
            f"The enclosure opens {area:.0f} sq in of a {wall.rated or wall.separation} wall; "
            f"a box there may open {limit:g} sq in. Choose another wall."
        )
        severity = Severity.STOP if wall.rated else Severity.FIX_SOON
        findings.append(
            Finding(
                WALL, severity, (box.id, wall.id), place, says, area, limit, "sq in", clause.source, fixes
            )
        )
    for wrong, why in (
        (wall.exterior, "an exterior wall: the box takes the place of all the insulation"),
        (wall.wet, "a wet wall: pipes and screws share its bays"),
    ):
        if wrong:
            says = f"The enclosure stands in {why}. Choose a dry inside wall."
            findings.append(
                Finding(
                    WALL,
                    Severity.FIX_SOON,
                    (box.id, wall.id),
                    place,
                    says,
                    source=practice.source,
                    fixes=fixes,
                )
            )
    findings += _openings(case, box, wall, place, fixes)
    return tuple(findings)


_OWN_CHECKS = (check_width, check_depth, check_height, check_wall)


def _offered(case: Case, severity: Severity, offer: bool) -> tuple[Fix, ...]:
    return other_places(case) if offer and severity is not Severity.NOTE else ()


def _openings(case: Case, box: Enclosure, wall: Wall, place: str, fixes: tuple[Fix, ...]) -> list[Finding]:
    low_in, high_in = sorted(box.bay_studs_in)
    bottom_in, top_in = enclosure_bottom_in(case.job, box), enclosure_top_in(case.job, box)
    findings = []
    for o in case.job.openings:
        if o.wall != wall.id or not (below(o.offset_in, high_in) and below(low_in, o.offset_in + o.width_in)):
            continue
        if below(o.sill_in, top_in) and below(bottom_in, o.head_in + o.header_depth_in):
            says = (
                f"The enclosure's bay lies in the {o.kind} opening or under its header. Choose another bay."
            )
            source = case.adopted.clause("enclosure-place").source
            findings.append(
                Finding(WALL, Severity.STOP, (box.id, o.id), place, says, source=source, fixes=fixes)
            )
    return findings


def body_of(case: Case, box: Enclosure) -> Box:
    """The enclosure's body in the world: the whole depth of its bay, between its bottom and top [in]."""
    wall, level = case.walls[box.wall], case.job.level(box.level)
    middle_in, half_in = sum(box.bay_studs_in) / 2, wall.thickness_in / 2
    corners = [
        wall_point(wall, middle_in + along, across)
        for along in (-box.width_in / 2, box.width_in / 2)
        for across in (-half_in, half_in)
    ]
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    z = level.subfloor_z_in
    bottom_in, top_in = enclosure_bottom_in(case.job, box), enclosure_top_in(case.job, box)
    return Box(min(xs), min(ys), z + bottom_in, max(xs), max(ys), z + top_in)


def check_passed(case: Case) -> tuple[Finding, ...]:
    """No run goes behind, beside or through the body of the enclosure. Source: arithmetic of the bay."""
    box = _chosen(case)
    if box is None:
        return ()
    wall = case.walls[box.wall]
    if not (near(wall.direction[0], 0.0) or near(wall.direction[1], 0.0)):
        return ()  # the box around a skew body would give false alarms
    body, source = body_of(case, box), case.adopted.clause("enclosure-place").source
    findings = []
    for run in case.wiring.runs:
        for a, b in itertools.pairwise(run.path):
            if _through(body, (a.x, a.y, a.z), (b.x, b.y, b.z)):
                says = (
                    f"Run {run.id} passes through the enclosure's place: the box fills its bay; everything "
                    "enters at its top or bottom."
                )
                findings.append(
                    Finding(PASSED, Severity.STOP, (run.id, box.id), place_of(case, box), says, source=source)
                )
                break
    return tuple(findings)


def _through(body: Box, a: tuple[float, float, float], b: tuple[float, float, float]) -> bool:
    """True where a segment passes through the inside of a box; along its skin does not count."""
    t0, t1 = 0.0, 1.0
    for start, end, low, high in zip(
        a, b, (body.x0, body.y0, body.z0), (body.x1, body.y1, body.z1), strict=True
    ):
        step = end - start
        if abs(step) < 1e-9:
            if not (below(low, start) and below(start, high)):
                return False
            continue
        ts = sorted(((low - start) / step, (high - start) / step))
        t0, t1 = max(t0, ts[0]), min(t1, ts[1])
    return t1 - t0 > 1e-6


def check_missing(case: Case) -> tuple[Finding, ...]:
    """Runs wish an enclosure and there is none, or its wall is unknown."""
    wanted = [r.id for r in case.job.runs if "enclosure" in (r.from_end.type, r.to_end.type)]
    if not wanted or _chosen(case) is not None:
        return ()
    says = f"Cannot tell: {len(wanted)} runs go to an enclosure, and no bay is chosen for it."
    source = case.adopted.clause("enclosure-place").source
    return (Finding(MISSING, Severity.CANNOT_TELL, ("enclosure",), "the house", says, source=source),)
