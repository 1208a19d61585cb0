"""Drawing a house by edits: joints, rooms and faces follow the walls; there and back is where it was."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from functools import cache

import pytest

from bayrun.files import parse_job, write_job
from bayrun.findings import Severity
from bayrun.house import Job, Wall
from bayrun.house.check import check_job
from bayrun.house.edits import Refused
from bayrun.house.edits.reshaping import settled
from bayrun.house.joining import rejoined
from bayrun.house.rooming import outlines, roomed
from bayrun.jobs import plan
from bayrun.jobs.desk import EditRefused, edit_job, empty_text, read_text
from conftest import count
from edits.hands import edit, house, refused

W, D = 480.0, 336.0


@cache
def empty() -> Job:
    return read_text(empty_text("Try it", "2026-11-25"), "empty")


def box(job: Job, *corners: tuple[float, float], kind: str = "outside 2x6") -> Job:
    for (x0, y0), (x1, y1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        job = edit(job, "add_wall", "1", x0, y0, x1, y1, kind)
    return job


@cache
def drawn() -> Job:
    """Four rooms: two in front, two at the back."""
    job = box(empty(), (0.0, 0.0), (W, 0.0), (W, D), (0.0, D))
    job = edit(job, "add_wall", "1", 0.0, 192.0, W, 192.0, "inside 2x4")
    job = edit(job, "add_wall", "1", 252.0, 0.0, 252.0, 192.0, "inside 2x4")
    job = edit(job, "add_wall", "1", 300.0, 192.0, 300.0, D, "inside 2x4")
    job = edit(job, "add_opening", "W05", "door", 60.0, 32.0)
    job = edit(job, "add_opening", "W02", "window", 90.0, 48.0)
    job = edit(job, "lay_frame", "1", "roof trusses", "y", 24.0)
    return edit(job, "place_enclosure", "W06", 56.0, "left")


@pytest.mark.parametrize("letter", ["a", "b", "c"])
def test_joints_and_rooms_of_the_demo_houses_are_found_as_they_were_told(letter: str) -> None:
    """Source: tests/data/demo-houses.json, whose joints, outlines and faces were written by hand."""
    job = house(letter)
    for level in job.levels:
        assert rejoined(job, level.id) == job
        assert roomed(job, level.id, job) == job
        # Told or not: the same joints are found from nothing.
        bare = rejoined(replace(job, joints=()), level.id)
        here = {w.id for w in job.walls if w.level == level.id}
        told = {(j.wall, j.end, j.on_wall, j.plate_shift_in) for j in job.joints if j.wall in here}
        found = {(j.wall, j.end, j.on_wall, j.plate_shift_in) for j in bare.joints}
        corners = {(j.wall, j.end) for j in job.joints if j.kind.startswith("corner")}
        assert {t[:3] for t in told} == {f[:3] for f in found}
        assert {t for t in told if t[:2] not in corners} == {f for f in found if f[:2] not in corners}


def test_a_house_is_drawn_from_nothing_and_planned() -> None:
    job = drawn()
    assert len(job.rooms) == 4
    assert sum(_area(r.polygon) for r in job.rooms) == pytest.approx(W * D), "the rooms fill the house"
    assert {j.kind for j in job.joints} == {"corner, runs through", "corner, butts", "tee"}
    front = job.wall("W01")
    assert front.plate_start_in == -2.75, "it runs through to the outer face of the wall beside it"
    assert job.wall("W05").plate_start_in == 2.75, "it butts against the studs of the outside wall"
    assert [p.room for p in front.right] == ["outside"]
    job = edit(job, "add_location", "W05", 140.0, "left", 18.0, "D")
    job = edit(job, "add_location", "W03", 200.0, "left", 18.0, "D")
    assert [f for f in check_job(job) if f.severity is Severity.STOP] == []
    assert parse_job(write_job(job)) == job
    made = plan(job)
    assert made.totals.runs == 2
    assert made.totals.unreached == 0


def _area(points: tuple[tuple[float, float], ...]) -> float:
    turns = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in turns)) / 2


def test_a_wall_moves_and_what_ends_on_it_follows() -> None:
    job = drawn()
    moved = edit(job, "move_wall", "W05", -24.0)
    assert moved.wall("W05").start == (0.0, 168.0)
    assert moved.wall("W06").end == (252.0, 168.0), "the wall below grows shorter"
    assert moved.wall("W07").start == (300.0, 168.0), "the one above grows longer"
    assert next(j for j in moved.joints if j.wall == "W05" and j.end == "start").on_offset_in == D - 168.0
    back = next(r for r in moved.rooms if r.name == "Room 2")
    assert min(y for _, y in back.polygon) == 168.0
    assert edit(moved, "move_wall", "W05", 24.0) == job


def test_there_and_back_again_is_where_it_was() -> None:
    """Every wall of the demo houses that may move, by a seeded distance; a law, not an example."""
    rng, moved = random.Random(5), 0
    for letter in "abc":
        job = house(letter)
        for wall in rng.sample(job.walls, min(len(job.walls), count(12, 1000))):
            by = rng.choice((-9.0, -4.0, 3.5, 8.0))
            try:
                there = edit(job, "move_wall", wall.id, by)
            except Refused:
                continue
            again = edit(there, "move_wall", wall.id, -by)
            assert {w.id: (w.start, w.end, w.plate_start_in, w.plate_end_in) for w in again.walls} == {
                w.id: (w.start, w.end, w.plate_start_in, w.plate_end_in) for w in job.walls
            }, (letter, wall.id)
            assert again.openings == job.openings
            assert [(q.id, q.wall, q.offset_in) for q in again.locations] == [
                (q.id, q.wall, q.offset_in) for q in job.locations
            ]
            assert {r.name for r in again.rooms} == {r.name for r in job.rooms}
            rejoined_there = rejoined(there, wall.level)
            assert rejoined_there == there, "settled stays settled"
            stops = {
                f.id for f in check_job(there) if f.severity is Severity.STOP and f.rule.startswith("joint")
            }
            assert not stops, (letter, wall.id, by)
            moved += 1
    assert moved > 10


def test_what_stands_on_a_wall_keeps_its_place_in_the_house() -> None:
    job = drawn()
    job = edit(job, "add_location", "W05", 140.0, "left", 18.0, "D")
    longer = edit(job, "move_wall", "W04", 24.0)  # the left wall runs toward the front: its left is inside
    wall, was = longer.wall("W05"), job.wall("W05")
    assert math.dist(wall.start, was.start) == 24.0
    for before, after in zip(job.openings, longer.openings, strict=True):
        if before.wall == "W05":
            assert wall.start[0] + after.offset_in == was.start[0] + before.offset_in
    q = longer.location("L01")
    assert wall.start[0] + (q.offset_in or 0) == was.start[0] + 140.0


def test_moves_that_would_lose_something_are_refused() -> None:
    job = drawn()
    assert "would lose its door D01" in refused(job, "move_wall", "W04", 100.0)
    assert "would be" in refused(job, "move_wall", "W05", -190.0)
    assert "expected a distance" in refused(job, "move_wall", "W05", 0.0)
    assert "would turn with what stands on it" in refused(job, "move_wall_end", "W02", "end", 500.0, 330.0)
    assert "ENC stand on it" in refused(job, "remove_wall", "W06")
    assert "too short for a bay" in refused(job, "add_wall", "1", 0.0, 0.0, 3.0, 0.0, "inside 2x4")
    assert "a wall is there already" in refused(job, "add_wall", "1", 60.0, 192.0, 120.0, 192.0, "inside 2x4")
    assert "expected a kind of wall, one of outside 2x6" in refused(
        job, "add_wall", "1", 9.0, 9.0, 99.0, 9.0, "brick"
    )
    assert "there is no level 7" in refused(job, "add_wall", "7", 9.0, 9.0, 99.0, 9.0, "inside 2x4")
    assert "does not fit there" in refused(job, "add_opening", "W07", "door", 142.0, 32.0)
    assert "runs into the door D01" in refused(job, "add_opening", "W05", "door", 90.0, 32.0)
    assert "one of door, outside door" in refused(job, "add_opening", "W05", "gate", 90.0, 32.0)
    assert "would reach over" in refused(job, "set_opening", "N01", "height", "7'")
    assert 'between its studs; the box takes 14-1/4"' in refused(job, "place_enclosure", "W06", 184.0, "left")
    assert "shows to no room" in refused(job, "place_enclosure", "W01", 56.0, "right")
    assert "choose a bay beside it" in refused(job, "place_enclosure", "W06", 50.75, "left")
    assert "expected roof trusses or ceiling joists" in refused(
        job, "lay_frame", "1", "sawn joists", "x", 16.0
    )
    assert "draw its outside walls first" in refused(empty(), "lay_frame", "1", "roof trusses", "x", 24.0)
    with pytest.raises(EditRefused, match="wall W99 is not in the job"):
        edit_job(job, write_job(job), "remove_wall", ("W99",))


def test_facts_of_many_walls_change_at_once() -> None:
    job = drawn()
    made = edit(job, "set_wall", "W05, W06, W07", "spacing", '24"')
    assert {w.spacing_in for w in made.walls} == {16.0, 24.0}
    thicker = edit(job, "set_wall", "W05", "kind", "inside 2x6")
    assert thicker.wall("W05").thickness_in == 5.5
    tee = next(j for j in thicker.joints if j.wall == "W06" and j.end == "end")
    assert (tee.on_wall, tee.plate_shift_in) == ("W05", 2.75), "what butts against it gives way"
    assert thicker.wall("W06").plate_end_in == 192.0 - 2.75
    assert edit(job, "set_wall", "W05", "bearing", "no").wall("W05").bearing is False
    assert edit(job, "set_wall", "W05", "laid out from", "end").wall("W05").layout is not None
    assert "expected a fact of a wall, one of kind" in refused(job, "set_wall", "W05", "color", "red")
    assert "expected yes, no or nobody said" in refused(job, "set_wall", "W05", "bearing", "maybe")


def test_rooms_join_when_a_wall_goes_and_keep_the_larger_name() -> None:
    job = drawn()
    names = {r.name: _area(r.polygon) for r in job.rooms}
    struck = edit(edit(job, "remove_opening", "D01"), "remove_wall", "W07")
    assert len(struck.rooms) == 3
    gone = set(names) - {r.name for r in struck.rooms}
    back = [
        n
        for n in names
        if n not in {r.name for r in struck.rooms if r.polygon in {q.polygon for q in job.rooms}}
    ]
    assert names[gone.pop()] == min(names[n] for n in back)


def test_a_second_story_stands_on_the_first() -> None:
    job = edit(drawn(), "add_level", "2", 97.125)
    assert "joists or floor trusses" in refused(job, "lay_frame", "1", "roof trusses", "y", 24.0)
    job = edit(job, "lay_frame", "1", "sawn joists", "y", 16.0)
    floor = next(f for f in job.frames if f.above_level == "1")
    assert floor.below_level == "2"
    assert len(floor.edge_members) == 4
    for x0, y0, x1, y1 in ((0.0, 0.0, W, 0.0), (W, 0.0, W, D), (W, D, 0.0, D), (0.0, D, 0.0, 0.0)):
        job = edit(job, "add_wall", "2", x0, y0, x1, y1, "outside 2x6")
    job = edit(job, "lay_frame", "2", "roof trusses", "y", 24.0)
    assert [f for f in check_job(job) if f.severity is Severity.STOP] == []
    higher = edit(job, "set_level", "1", "plates at", "9' 1-1/8\"")
    assert higher.level("2").subfloor_z_in == job.level("2").subfloor_z_in + 12.0
    assert edit(higher, "set_level", "1", "plates at", "8' 1-1/8\"") == job
    assert plan(job).totals.unreached == 0


def test_turned_houses_lose_no_room() -> None:
    """Walls drawn at an angle meet only within a float; their rooms are found all the same."""
    for degrees in (7.0, 30.0, 45.0, 61.3):
        turn = math.radians(degrees)

        def turned(p: tuple[float, float], turn: float = turn) -> tuple[float, float]:
            return p[0] * math.cos(turn) - p[1] * math.sin(turn), p[0] * math.sin(turn) + p[1] * math.cos(
                turn
            )

        walls = tuple(_turned(w, turned(w.start), turned(w.end)) for w in drawn().walls)
        job = settled(replace(empty(), walls=walls), "1", empty())
        assert len(outlines(job, "1")) == 4, degrees
        assert len(job.joints) == len(drawn().joints)


def _turned(wall: Wall, start: tuple[float, float], end: tuple[float, float]) -> Wall:
    return replace(wall, start=start, end=end, left=(), right=())
