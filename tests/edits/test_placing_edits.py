"""Edits that place boxes and name rooms: what they change, what they leave, why they refuse."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.files import parse_job, write_job
from bayrun.house.check import check_job
from bayrun.house.edits import VERBS
from edits.hands import edit, house, refused


def test_a_box_is_placed_with_its_run_and_read_back() -> None:
    job = house("a")
    made = edit(job, "add_location", "A-W26", 100.0, "left", 18.0, "D")
    (box,) = [q for q in made.locations if q not in job.locations]
    (run,) = [r for r in made.runs if r not in job.runs]
    assert (box.wall, box.offset_in, box.side, box.height_in) == ("A-W26", 100.0, "left", 18.0)
    assert box.room == "Dining", "the face it shows to gives the room"
    assert int(box.id[1:]) == 1 + max(int(q.id[1:]) for q in job.locations)
    assert (run.id, run.from_end.id, run.to_end.id, run.gear) == (f"{box.id}-D1", "A-ENC", box.id, "PATCH")
    assert parse_job(write_job(made)) == made
    assert check_job(made) == check_job(job), "the box opens no contradiction"
    assert edit(made, "remove_location", box.id) == job


def test_a_box_is_refused_where_no_wall_holds_it() -> None:
    job = house("a")
    door = next(o for o in job.openings if o.kind == "door")
    middle = door.offset_in + door.width_in / 2
    wall = job.wall(door.wall)
    assert f"in the door {door.id}" in refused(job, "add_location", wall.id, middle, "left", 18.0, "D")
    assert "shows to no room" in refused(job, "add_location", "A-W26", 4000.0, "left", 18.0, "D")
    edge = job.wall("A-W26").plate_end_in - 0.5
    assert "off the wall: a box fits from" in refused(job, "add_location", "A-W26", edge, "left", 18.0, "D")
    assert refused(job, "add_location", "W99", 10.0, "left", 18.0, "D") == "wall W99 is not in the job"
    assert "left or right face" in refused(job, "add_location", "A-W26", 100.0, "up", 18.0, "D")
    assert "expected a height" in refused(job, "add_location", "A-W26", 100.0, "left", 0.0, "D")
    assert "the firm has no cable 'Q'" in refused(job, "add_location", "A-W26", 100.0, "left", 18.0, "Q")
    outer = next(w for w in job.walls if any(p.room == "outside" for p in w.left))
    assert "shows to no room" in refused(job, "add_location", outer.id, 60.0, "left", 18.0, "D")


def test_ports_add_and_take_runs_at_the_end_and_never_reuse_a_name_in_use() -> None:
    job = house("a")
    two = edit(job, "set_ports", "A03", "D", 3)
    assert [r.id for r in two.runs if r.to_end.id == "A03"] == ["A03-D1", "A03-D2", "A03-D3"]
    one = edit(two, "set_ports", "A03", "D", 1)
    assert [r.id for r in one.runs if r.to_end.id == "A03"] == ["A03-D1"]
    assert one.location("A03").ports == job.location("A03").ports
    coax = edit(job, "set_ports", "A03", "X", 1)
    assert [p.kind for p in coax.location("A03").ports] == ["D", "X"]
    none = edit(job, "set_ports", "A03", "D", 0)
    assert none.location("A03").ports == ()
    # A run that stays under a later number keeps it; the next one takes the number that is free.
    gap = replace(two, runs=tuple(r for r in two.runs if r.id != "A03-D2"))
    assert [r.id for r in edit(gap, "set_ports", "A03", "D", 3).runs if r.to_end.id == "A03"] == [
        "A03-D1", "A03-D3", "A03-D2",
    ]  # fmt: skip
    assert "expected 0 to 12 cables D at A03, got 13" in refused(job, "set_ports", "A03", "D", 13)
    assert "whole number" in refused(job, "set_ports", "A03", "D", 1.5)


def test_without_an_enclosure_a_run_has_nowhere_to_start() -> None:
    job = replace(house("a"), enclosures=(), enclosure="", runs=())
    assert "place the enclosure first" in refused(job, "set_ports", "A03", "D", 2)


def test_a_height_is_set_within_the_wall() -> None:
    job = house("a")
    up = edit(job, "set_height", "A03", 60.0)
    assert up.location("A03").height_in == 60.0
    assert replace(up, locations=job.locations) == job
    assert "under 8' 1-1/8\", got 12' 6\"" in refused(job, "set_height", "A03", 150.0)


def test_a_box_turns_to_the_other_room_and_back() -> None:
    job = house("a")
    two_rooms = next(
        q
        for q in job.locations
        if q.wall
        and q.offset_in is not None
        and q.side in ("left", "right")
        and not job.wall(q.wall).exterior
    )
    turned = edit(job, "turn_location", two_rooms.id)
    assert turned.location(two_rooms.id).room != two_rooms.room
    assert edit(turned, "turn_location", two_rooms.id) == job
    outside = next(
        q for q in job.locations if q.wall and q.side in ("left", "right") and job.wall(q.wall).exterior
    )
    assert "no room: the other face shows outside" in refused(job, "turn_location", outside.id)


@pytest.mark.parametrize("letter", ["a", "b", "c"])
def test_a_room_gets_another_name_everywhere(letter: str) -> None:
    job = house(letter)
    for room in job.rooms:
        made = edit(job, "name_room", room.level, room.name, "Sewing nook", "bed")
        assert made.room("Sewing nook", room.level).kind == "bed"
        level_walls = {w.id for w in made.walls if w.level == room.level}
        named = [p.room for w in made.walls if w.id in level_walls for p in (*w.left, *w.right)]
        named += [n for o in made.openings if o.wall in level_walls for n in (*o.rooms, o.swings_into)]
        named += [q.room for q in made.locations if q.level == room.level]
        assert room.name not in named
        assert [f.rule for f in check_job(made)] == [f.rule for f in check_job(job)]
        assert edit(made, "name_room", room.level, "Sewing nook", room.name, room.kind) == job
    assert "there is no room Nowhere" in refused(job, "name_room", "1", "Nowhere", "X", "bed")
    a, b = job.rooms[0], job.rooms[1]
    assert f"there is a room {b.name} already" in refused(job, "name_room", a.level, a.name, b.name, a.kind)


def test_every_edit_says_what_it_takes() -> None:
    names = [verb.name for verb in VERBS]
    assert len(set(names)) == len(names)
    for verb in VERBS:
        assert verb.says.endswith("."), verb.name
        assert verb.takes, verb.name
