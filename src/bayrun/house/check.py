"""Contradictions of a job that need no framing and no route: what a person should mend before planning.

A readable file may still say things that cannot all be true: a location on a stud, a box wider than its
bay, a run of a cable the firm does not have. Each is a finding with its place and, where there is one,
the nearest place that works. What framing, routing and the code say comes later, from their own rules.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from bayrun.findings import Finding, Severity
from bayrun.geometry import Rect, at_most, below, near
from bayrun.house.building import Joint, Opening, Wall
from bayrun.house.check_boxes import check_boxes
from bayrun.house.job import Job
from bayrun.house.places import (
    above_finished_floor_in,
    face_room,
    place_of_location,
    room_at,
    wall_name,
    wall_point,
)
from bayrun.house.solids import nearest_clear_in, openings_of, solids_at
from bayrun.house.wished import Location
from bayrun.units import tape

HALF_BOX_IN = 1.125
"""Half of a one-gang ring, to find the nearest place clear of wood (common practice, no source) [in]."""
_JACK_AND_KING_IN = 3.0
_REACH_IN = 0.5
"""How far a wall's end may miss the point its joint names; more is another place [in]."""


_BESIDE_IN = 12.0
"""Levels whose walls share no more than this of one direction lie beside each other [in]."""


def check_job(job: Job) -> tuple[Finding, ...]:
    """Every contradiction in a job, worst first.

    Returns:
        Findings whose rules end in a word of the thing: ``location-on-member``, ``opening-outside-wall`` …
        Missing facts are not judged here.
    """
    found: list[Finding] = []
    for level_check in (_levels, _joints, _openings, _locations, _runs, _conduits, _frames):
        found += level_check(job)
    found += check_boxes(job)
    return tuple(sorted(found, key=lambda f: f.order))


def _stop(rule: str, about: tuple[str, ...], place: str, says: str) -> Finding:
    return Finding(rule, Severity.STOP, about, place, says)


def _levels(job: Job) -> list[Finding]:
    """Stories stand one over another."""
    found = []
    levels = sorted(job.levels, key=lambda level: level.subfloor_z_in)
    for low, high in pairwise(levels):
        top_in = low.subfloor_z_in + low.plate_top_in
        if below(high.subfloor_z_in, top_in) and _one_over_other(job, low.id, high.id):
            says = (
                f"The plates of level {low.id} end {tape(top_in - high.subfloor_z_in)} above the "
                "subfloor of level "
                f"{high.id}. Check subfloor_z and plate_top of both."
            )
            found.append(_stop("levels-overlap", (low.id, high.id), f"levels {low.id} and {high.id}", says))
    return found


def _one_over_other(job: Job, low: str, high: str) -> bool:
    """False for the halves of a split level: their walls stand on ground of their own."""
    boxes = []
    for level in (low, high):
        points = [p for w in job.walls if w.level == level for p in (w.start, w.end)]
        if not points:
            return True
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        boxes.append((min(xs), min(ys), max(xs), max(ys)))
    a, b = boxes
    return all(below(max(a[i], b[i]) + _BESIDE_IN, min(a[i + 2], b[i + 2])) for i in (0, 1))


def _joints(job: Job) -> list[Finding]:
    """A joint names the point where its wall really ends."""
    found = []
    walls = {wall.id: wall for wall in job.walls}
    for joint in job.joints:
        wall, other = walls.get(joint.wall), walls.get(joint.on_wall)
        if wall is None or other is None:
            continue
        place = f"{wall_name(wall)}, its {joint.end}"
        about = (joint.wall, joint.end, joint.on_wall)
        if wall.level != other.level:
            says = (
                f"It is joined to {wall_name(other)}, which stands on level {other.level}, not {wall.level}."
            )
            found.append(_stop("joint-between-levels", about, place, says))
        elif not _meets(joint, wall, other):
            says = (
                f"It does not reach {wall_name(other)} at {tape(joint.on_offset_in)}: the plan points "
                "differ. "
                "Check the wall's ends and the joint's on_offset."
            )
            found.append(_stop("joint-does-not-meet", about, place, says))
    return found


def _meets(joint: Joint, wall: Wall, other: Wall) -> bool:
    at = wall.start if joint.end == "start" else wall.end
    there = wall_point(other, joint.on_offset_in)
    return at_most(abs(at[0] - there[0]), _REACH_IN) and at_most(abs(at[1] - there[1]), _REACH_IN)


def _openings(job: Job) -> list[Finding]:
    """Openings fit their walls, with their studs and headers, and do not share wood."""
    found = []
    for wall in job.walls:
        before: Opening | None = None
        plate_top_in = job.level(wall.level).plate_top_in - 1.5 * wall.plates.top
        for opening in openings_of(job, wall):
            low_in, high_in = opening.offset_in, opening.offset_in + opening.width_in
            place = f"{wall_name(wall, low_in + opening.width_in / 2)}, {opening.kind} {opening.id}"
            room_in = _JACK_AND_KING_IN if wall.framed else 0.0
            if below(low_in - room_in, wall.plate_start_in) or below(wall.plate_end_in, high_in + room_in):
                says = (
                    f"The rough opening runs from {tape(low_in)} to {tape(high_in)}; with its jack and "
                    "king studs it "
                    f"leaves the plates, {tape(wall.plate_start_in)} to {tape(wall.plate_end_in)}."
                )
                found.append(_stop("opening-outside-wall", (opening.id, wall.id), place, says))
            if wall.framed and below(plate_top_in, opening.head_in + opening.header_depth_in):
                says = (
                    f"Its header ends {tape(opening.head_in + opening.header_depth_in)} above the "
                    "subfloor, over the "
                    f"underside of the top plates at {tape(plate_top_in)}."
                )
                found.append(_stop("opening-header-too-high", (opening.id, wall.id), place, says))
            if before is not None and below(low_in, before.offset_in + before.width_in):
                says = f"It overlaps {before.kind} {before.id} in the same wall."
                found.append(_stop("openings-overlap", (before.id, opening.id), place, says))
            before = opening
    return found


def _locations(job: Job) -> list[Finding]:
    """A location stands on its wall, in clear space, on the face of its room."""
    found = []
    for location in job.locations:
        place = place_of_location(job, location)
        if location.wall is None or location.offset_in is None:
            found += _in_ceiling(job, location, place)
            continue
        wall = job.wall(location.wall)
        if wall.level != location.level:
            says = f"{location.id} is on level {location.level}, its wall {wall.id} on level {wall.level}."
            found.append(_stop("location-off-level", (location.id, wall.id), place, says))
        elif below(location.offset_in, wall.plate_start_in) or below(wall.plate_end_in, location.offset_in):
            says = (
                f"{location.id} is at {tape(location.offset_in)}; the wall runs from "
                f"{tape(wall.plate_start_in)} "
                f"to {tape(wall.plate_end_in)}."
            )
            found.append(_stop("location-outside-wall", (location.id, wall.id), place, says))
        else:
            found += _on_wall(job, location, wall, location.offset_in, place)
    return found


def _in_ceiling(job: Job, location: Location, place: str) -> list[Finding]:
    x_in, y_in = location.x_in or 0.0, location.y_in or 0.0
    if not any(room.name == location.room and room.level == location.level for room in job.rooms):
        return []
    here = room_at(job, location.level, x_in, y_in)
    if location.mount != "ceiling" or (here is not None and here.name == location.room):
        return []
    where = f"in {here.name}" if here is not None else "in no room"
    says = f"{location.id} belongs to {location.room}, but x {tape(x_in)}, y {tape(y_in)} is {where}."
    return [Finding("location-in-other-room", Severity.FIX_SOON, (location.id,), place, says)]


def _on_wall(job: Job, location: Location, wall: Wall, offset_in: float, place: str) -> list[Finding]:
    found = []
    if location.side in ("left", "right"):
        room = face_room(wall, "left" if location.side == "left" else "right", offset_in)
        faces = {piece.room for piece in (wall.left if location.side == "left" else wall.right)}
        if faces and room and room != location.room and not _at_a_seam(wall, location, offset_in):
            says = (
                f"{location.id} belongs to {location.room}, but at {tape(offset_in)} that face of the "
                "wall shows to "
                f"{room}. Check its side, offset or room."
            )
            found.append(
                Finding("location-on-other-face", Severity.FIX_SOON, (location.id, wall.id), place, says)
            )
    above_in = location.height_in + above_finished_floor_in(job, location.level, location.room)
    plate_top_in = job.level(wall.level).plate_top_in
    if location.mount == "soffit" or not wall.framed:
        return found
    if below(plate_top_in, above_in):
        says = (
            f"{location.id} is {tape(above_in)} above the subfloor; the wall's plates end at "
            f"{tape(plate_top_in)}."
        )
        return [*found, _stop("location-above-wall", (location.id, wall.id), place, says)]
    solids = solids_at(job, wall, above_in)
    hit = next((solid for solid in solids if solid.holds(offset_in)), None)
    if hit is not None:
        nearest_in = nearest_clear_in(solids, wall, offset_in, HALF_BOX_IN)
        way = f" The nearest clear place is {tape(nearest_in)}." if nearest_in is not None else ""
        says = f"{location.id} at {tape(offset_in)} stands on {hit.what}.{way}"
        found.append(_stop("location-on-member", (location.id, wall.id), place, says))
    return found


def _at_a_seam(wall: Wall, location: Location, offset_in: float) -> bool:
    """True where two rooms of one face meet at the very offset, and one of them is the location's."""
    return any(
        piece.room == location.room and (near(piece.from_in, offset_in) or near(piece.to_in, offset_in))
        for piece in (*wall.left, *wall.right)
    )


def _runs(job: Job) -> list[Finding]:
    """Runs are of cables the firm has, join two ends, and fill the ports of their locations."""
    found = []
    letters = {kind.letter for kind in job.practice.cables}
    known = ", ".join(sorted(letters)) or "none"
    places = {location.id: place_of_location(job, location) for location in job.locations}
    made: Counter[tuple[str, str]] = Counter()
    missing: dict[str, list[str]] = {}
    for run in job.runs:
        at = next((e.id for e in (run.to_end, run.from_end) if e.type == "location"), "")
        place = places.get(at, f"run {run.id}")
        if run.kind not in letters:
            missing.setdefault(run.kind, []).append(run.id)
        if run.from_end == run.to_end:
            says = f"Run {run.id} begins and ends at {run.from_end.type} {run.from_end.id}."
            found.append(_stop("run-to-itself", (run.id,), place, says))
        if run.gear and "enclosure" not in (run.from_end.type, run.to_end.type):
            says = f"Run {run.id} names gear {run.gear} in the enclosure, but neither of its ends is there."
            found.append(Finding("run-gear-elsewhere", Severity.FIX_SOON, (run.id, run.gear), place, says))
        for end in {run.from_end, run.to_end}:
            if end.type == "location":
                made[end.id, run.kind] += 1
    for location in job.locations:
        for port in location.ports:
            count = made[location.id, port.kind]
            if port.kind not in letters:
                missing.setdefault(port.kind, []).append(location.id)
            if count < port.count:
                says = f"{location.id} asks for {port.count}{port.kind}, but {_runs_end(count)} there."
                about = (location.id, port.kind)
                found.append(Finding("port-without-run", Severity.FIX_SOON, about, places[location.id], says))
    for letter, ids in sorted(missing.items()):
        says = (
            f"The firm has no cable kind {letter} (it has {known}), but {_listed(ids)} {_ask(ids)} it. "
            "Add it under "
            "practice, cables, with its diameter."
        )
        found.append(_stop("run-kind-unknown", (letter, *sorted(set(ids))), "the firm's cable kinds", says))
    return found


def _runs_end(count: int) -> str:
    return {0: "no run ends", 1: "1 run ends"}.get(count, f"{count} runs end")


def _ask(ids: list[str]) -> str:
    return "asks for" if len(set(ids)) == 1 else "ask for"


def _listed(ids: list[str]) -> str:
    """Ids in words, the first few of many."""
    names = list(dict.fromkeys(ids))
    if len(names) > 4:
        return f"{', '.join(names[:3])} and {len(names) - 3} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _conduits(job: Job) -> list[Finding]:
    """A conduit passes its own hole."""
    found = []
    for conduit in job.conduits:
        if conduit.hole_in is not None and below(conduit.hole_in, conduit.outside_diameter_in):
            says = (
                f"Conduit {conduit.id} is {tape(conduit.outside_diameter_in)} outside; its hole is "
                f"{tape(conduit.hole_in)}."
            )
            place = f"{conduit.from_place} to {conduit.to_place}"
            found.append(_stop("conduit-hole-too-small", (conduit.id,), place, says))
    return found


def _frames(job: Job) -> list[Finding]:
    """Frames lie over the plates they bear on, and their members in their area."""
    found = []
    levels = {level.id: level for level in job.levels}
    for frame in job.frames:
        place = f"frame {frame.id}, {frame.kind}"
        above = levels.get(frame.above_level or "")
        if above is not None:
            top_in = above.subfloor_z_in + above.plate_top_in
            if below(frame.z_bottom_in, top_in):
                says = (
                    f"Its members begin {tape(top_in - frame.z_bottom_in)} below the plates of level "
                    f"{above.id} that "
                    "they lie on. Check z_bottom."
                )
                found.append(_stop("frame-below-plates", (frame.id, above.id), place, says))
        on = levels.get(frame.below_level or "")
        if on is not None and below(on.subfloor_z_in, frame.z_top_in):
            says = f"Its members end above the subfloor of level {on.id}. Check z_top and subfloor_z."
            found.append(_stop("frame-above-subfloor", (frame.id, on.id), place, says))
        rect, half_in = Rect(*frame.area), frame.member_width_in / 2
        low_in, high_in = (rect.u0, rect.u1) if frame.direction == "y" else (rect.v0, rect.v1)
        outside = [
            at for at in frame.members_in() if below(at, low_in - half_in) or below(high_in + half_in, at)
        ]
        if outside:
            says = f"{len(outside)} of its members stand outside its area, the first at {tape(outside[0])}."
            found.append(_stop("frame-member-outside", (frame.id,), place, says))
    return found
