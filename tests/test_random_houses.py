"""The random houses are consistent: rooms tile, openings stand in walls, locations in bays."""

from __future__ import annotations

import math
import random

import pytest

from bayrun.house import Job
from conftest import count
from random_houses import clear_at, frame_rects, random_house, stud_centers


def defects_of(job: Job) -> list[str]:
    """Everything that contradicts itself in a job, in words; written apart from the generator's own steps."""
    found: list[str] = []
    walls = {w.id: w for w in job.walls}
    for level in job.levels:
        rooms = [r for r in job.rooms if r.level == level.id]
        here = [w for w in job.walls if w.level == level.id]
        low_x, high_x = min(w.start[0] for w in here), max(w.end[0] for w in here)
        low_y, high_y = min(w.start[1] for w in here), max(w.end[1] for w in here)
        area = sum((r.polygon[2][0] - r.polygon[0][0]) * (r.polygon[2][1] - r.polygon[0][1]) for r in rooms)
        if not math.isclose(area, (high_x - low_x) * (high_y - low_y), abs_tol=1e-6):
            found.append(f"{level.id}: rooms do not tile the outline")
        for i, a in enumerate(rooms):
            for b in rooms[i + 1 :]:
                if (
                    a.polygon[0][0] < b.polygon[2][0]
                    and b.polygon[0][0] < a.polygon[2][0]
                    and a.polygon[0][1] < b.polygon[2][1]
                    and b.polygon[0][1] < a.polygon[2][1]
                ):
                    found.append(f"{a.name} and {b.name} overlap")
    for wall in job.walls:
        for pieces in (wall.left, wall.right):
            at = 0.0
            for piece in pieces:
                if piece.from_in != at:
                    found.append(f"{wall.id}: a gap in its faces at {at}")
                at = piece.to_in
            if at != wall.length_in:
                found.append(f"{wall.id}: its faces end at {at}")
        if wall.framed and len(stud_centers(wall)) < 1:
            found.append(f"{wall.id}: no stud")
        if {j.end for j in job.joints if j.wall == wall.id} != {"start", "end"}:
            found.append(f"{wall.id}: its joints are not two")
    for opening in job.openings:
        wall = walls[opening.wall]
        a, b = opening.offset_in - 3, opening.offset_in + opening.width_in + 3
        if a < wall.plate_start_in + 1.5 or b > wall.plate_end_in - 1.5:
            found.append(f"{opening.id} does not fit {wall.id}")
        if opening.head_in + opening.header_depth_in > job.level(wall.level).plate_top_in - 3:
            found.append(f"{opening.id}: its header does not fit under the plates")
        for joint in job.joints:
            if (
                joint.on_wall == wall.id
                and joint.kind == "tee"
                and (
                    joint.on_offset_in - joint.width_in / 2 < b
                    and a < joint.on_offset_in + joint.width_in / 2
                )
            ):
                found.append(f"{opening.id} runs into the tee of {joint.wall}")
        for other in job.openings:
            later = other.wall == wall.id and other.id > opening.id
            if later and other.offset_in - 3 < b and a < other.offset_in + other.width_in + 3:
                found.append(f"{opening.id} overlaps {other.id}")
    joined = {("x", "outside")}
    for _ in job.rooms:
        for opening in job.openings:
            if opening.kind == "window":
                continue
            ends = {("x", r) if r == "outside" else (walls[opening.wall].level, r) for r in opening.rooms}
            joined |= ends if ends & joined else set()
        for stair in job.stairs:
            joined |= set(stair.rooms) if set(stair.rooms) & joined else set()
    found += [f"{r.name} cannot be reached" for r in job.rooms if (r.level, r.name) not in joined]
    for frame in job.frames:
        repeated = frame_rects(job, frame)[: len(frame.members_in())]
        edges = [edge.rect for edge in frame.edge_members if edge.name != "stair header"]
        for i, a in enumerate(repeated):
            for b in repeated[i + 1 :] + edges:
                if min(a[2], b[2]) > max(a[0], b[0]) and min(a[3], b[3]) > max(a[1], b[1]):
                    found.append(f"{frame.id}: members overlap at {a} and {b}")
    ids = [location.id for location in job.locations]
    if len(ids) != len(set(ids)) or not 10 <= len(ids) <= 60:
        found.append("locations are not 10 to 60 with ids of their own")
    for location in job.locations:
        room = job.room(location.room, location.level)
        if location.wall is None:
            (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
            if not (x0 < location.x_in < x1 and y0 < location.y_in < y1):
                found.append(f"{location.id} is outside {room.name}")
            continue
        wall = walls[location.wall]
        up_in = location.height_in + room.floor_finish_in - room.floor_drop_in
        gap = clear_at(job, wall, up_in, location.offset_in)
        if gap is None or min(location.offset_in - gap[0], gap[1] - location.offset_in) < 2:
            found.append(f"{location.id} stands on wood or in an opening of {wall.id}")
        pieces = wall.left if location.side == "left" else wall.right if location.side == "right" else ()
        if pieces and not any(
            p.room == room.name and p.from_in < location.offset_in < p.to_in for p in pieces
        ):
            found.append(f"{location.id} does not show to {room.name}")
    enclosure = job.enclosures[0]
    low, high = enclosure.bay_studs_in
    centers = stud_centers(walls[enclosure.wall])
    if low not in centers or high not in centers or high - low != 16:
        found.append("the enclosure is not between two layout studs")
    for run in job.runs:
        for end in (run.from_end, run.to_end):
            known = {"location": ids, "enclosure": [enclosure.id], "device": [g.id for g in job.gear]}[
                end.type
            ]
            if end.id not in known:
                found.append(f"{run.id} ends on {end.id}, which is nowhere")
    return found


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_random_houses_are_consistent(first: int) -> None:
    for seed in range(first, first + count(50, 200)):
        job = random_house(seed)
        assert defects_of(job) == [], f"seed {seed}"


def test_the_same_seed_gives_the_same_house() -> None:
    state = random.getstate()
    assert random_house(7) == random_house(7)
    assert random_house(7) != random_house(8)
    assert random.getstate() == state


def test_every_length_is_a_sixteenth() -> None:
    for seed in range(20):
        job = random_house(seed)
        for wall in job.walls:
            for value in (*wall.start, *wall.end, wall.plate_start_in, wall.plate_end_in):
                assert value * 16 == round(value * 16)
        for location in job.locations:
            for value in (location.offset_in, location.x_in, location.y_in, location.height_in):
                assert value is None or value * 16 == round(value * 16)


def test_the_houses_differ_in_what_matters() -> None:
    jobs = [random_house(seed) for seed in range(60)]
    kinds = {frame.kind for job in jobs for frame in job.frames}
    assert kinds == {"sawn joists", "I-joists", "open-web floor trusses", "roof trusses", "ceiling joists"}
    assert {len(job.levels) for job in jobs} >= {1, 2, 3}
    assert {frame.direction for job in jobs for frame in job.frames} == {"x", "y"}
    assert {w.spacing_in for job in jobs for w in job.walls} == {16.0, 24.0}
    assert {w.bearing for job in jobs for w in job.walls} == {True, False, None}
    assert any(job.barriers for job in jobs)
    assert any(job.obstacles for job in jobs)
    assert any(r.from_end.type == "device" for job in jobs for r in job.runs)
    assert any(r.kind == "S2" for job in jobs for r in job.runs)
    assert min(len(job.locations) for job in jobs) < 20 < 50 < max(len(job.locations) for job in jobs)
