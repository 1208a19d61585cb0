"""Room rules: counts by hand from the firm's table, places against the generator's own wall arithmetic."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from bayrun.files import read_job
from bayrun.house import Gear, Job, Layout, Opening, Plates, Room, Wall
from bayrun.wishes import (
    ROOM_RULES,
    kind_of_room,
    left_out,
    plan_wishes,
    propose,
    runs_for,
    spots,
    walking_order,
)
from random_houses import clear_at, frame_rects, random_house

replace = dataclasses.replace
EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def bare(job: Job) -> Job:
    return replace(job, locations=(), runs=())


def house_a() -> Job:
    return bare(read_job(EXAMPLES / "house-a.yaml"))


def by_rule(job: Job) -> dict[str, int]:
    counts: dict[str, int] = {}
    for proposal in propose(job):
        counts[proposal.rule] = counts.get(proposal.rule, 0) + 1
    return counts


def test_house_a_gets_what_a_hand_count_of_the_table_gives() -> None:
    # By hand from the rooms of house A (its rooms are listed in the example): one great room, three bedrooms
    # (one is called an office), one kitchen, one garage; Dining and Foyer have no rule of their own.
    # 1,560 ft2 on one floor at 1,500 a point makes two access points. It has an air handler.
    job = house_a()
    kinds = [kind_of_room(r) for r in job.rooms]
    counts = by_rule(job)
    assert counts["living-tv-high"] == counts["living-tv-low"] == kinds.count("living") == 1
    assert counts["bed-tv"] == counts["bed-desk"] == kinds.count("bed") == 3
    assert counts["kitchen-counter"] == counts["garage-wall"] == 1
    assert counts["access-point"] == 2
    assert counts["doorbell"] == counts["service-entry"] == counts["thermostat"] == 1
    assert left_out(job) == ()


def test_house_a_front_door_and_service_entry_stand_where_the_trade_puts_them() -> None:
    found = {p.rule: p.location for p in propose(house_a())}
    bell = found["doorbell"]
    assert (bell.wall, bell.mount, bell.height_in, bell.side) == ("A-W01", "exterior", 48.0, "exterior")
    # the front door's rough opening is 23' 10" to 27' 1/2"; hinged at its high end
    assert bell.offset_in is not None
    assert 286 - 36 <= bell.offset_in <= 286 - 6
    service = found["service-entry"]
    assert service.room == "Garage"
    assert service.mount == "exterior"
    assert service.height_in == 36
    assert [(p.kind, p.count) for p in service.ports] == [("D", 2), ("X", 1)]


def test_every_place_keeps_clear_on_two_hundred_random_houses() -> None:
    """Against the generator's own arithmetic of studs, openings and tees, not the one under test."""
    seen = 0
    for seed in range(60):
        job = bare(random_house(seed))
        for proposal in propose(job):
            location = proposal.location
            room = job.room(location.room, location.level)
            assert location.reason
            assert proposal.why
            if location.wall is None:
                frame = next(f for f in job.frames if f.above_level == location.level)
                assert not any(
                    a - 4 < location.x_in < c + 4 and b - 4 < location.y_in < d + 4
                    for a, b, c, d in frame_rects(job, frame)
                ), (seed, location.id)
                continue
            wall = job.wall(location.wall)
            up = location.height_in + room.floor_finish_in - room.floor_drop_in
            gap = clear_at(job, wall, up, location.offset_in)
            assert gap is not None, (seed, location.id)
            assert min(location.offset_in - gap[0], gap[1] - location.offset_in) >= 1.74, (seed, location.id)
            for o in job.openings:
                if o.wall == wall.id:
                    away = max(
                        o.offset_in - location.offset_in, location.offset_in - o.offset_in - o.width_in
                    )
                    assert away >= 6 - 1e-6, (seed, location.id, o.id)
            assert not wall.wet
            seen += 1
    assert seen > 600


def test_ids_count_on_in_walking_order_and_repeat() -> None:
    job = bare(random_house(7))
    found = propose(job)
    assert [p.location.id for p in found] == [f"L{n:02d}" for n in range(1, len(found) + 1)]
    assert found == propose(job)
    order = {(r.level, r.name): i for i, r in enumerate(walking_order(job))}
    places = [order[p.location.level, p.location.room] for p in found]
    assert places == sorted(places)
    taken = replace(job, locations=tuple(p.location for p in found))
    again = propose(taken)
    assert all(int(p.location.id[1:]) > len(found) for p in again)


def test_nothing_is_proposed_twice_when_the_proposals_were_taken() -> None:
    for seed in range(10):
        job = bare(random_house(seed))
        taken = replace(job, locations=tuple(p.location for p in propose(job)))
        rules = {p.rule for p in propose(taken)}
        assert rules <= {"office-second"}, (seed, rules)


def test_the_walk_goes_through_doors() -> None:
    job = random_house(3)
    doors = {frozenset(o.rooms) for o in job.openings if o.kind == "door"}
    order = walking_order(job)
    assert sorted((r.level, r.name) for r in order) == sorted((r.level, r.name) for r in job.rooms)
    for level in job.levels:
        rooms = [r.name for r in order if r.level == level.id]
        for i, name in enumerate(rooms[1:], start=1):
            assert any(frozenset((name, before)) in doors for before in rooms[:i])


# ---------------------------------------------------------------- one room, by hand


def one_room(**change: object) -> Job:
    """A den 12 by 10 ft in the corner of a slab; a door in the wall to the hall."""
    from bayrun.house import FacePiece, Level, Revision

    def wall(name: str, start: tuple[float, float], end: tuple[float, float], exterior: bool) -> Wall:
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        flip = start[1] != end[1]
        inside, outside = (
            (FacePiece("Den", 0.0, length),),
            (FacePiece("outside" if exterior else "Hall", 0.0, length),),
        )
        left_is_inside = (start == (0.0, 0.0) and not flip) or start == (144.0, 0.0)
        left, right = (inside, outside) if left_is_inside else (outside, inside)
        return Wall(
            name, "1", start, end, "2x4", 3.5, 0.0, length, bearing=False, exterior=exterior, layout=Layout(),
            plates=Plates(), left=left, right=right,
        )  # fmt: skip

    walls = (
        wall("W1", (0.0, 0.0), (144.0, 0.0), True),
        wall("W2", (0.0, 120.0), (144.0, 120.0), False),
        wall("W3", (0.0, 0.0), (0.0, 120.0), True),
        wall("W4", (144.0, 0.0), (144.0, 120.0), False),
    )
    job = Job(
        id="D",
        name="den",
        revision=Revision(),
        levels=(Level("1", 0.0, 97.125, slab=True),),
        rooms=(Room("Den", "1", "office", ((0, 0), (144, 0), (144, 120), (0, 120))),),
        walls=walls,
        openings=(Opening("D1", "W2", "door", 16.0, 32.5, 0.0, 82.5, 5.5, ("Den", "Hall"), "Den", "low"),),
    )
    return replace(job, **change)  # type: ignore[arg-type]


def offsets(job: Job, wall: str) -> list[float]:
    return [s.offset_in for s in spots(job, job.rooms[0]) if s.wall == wall]


def test_boxes_stand_beside_studs_six_inches_from_jambs_and_corners() -> None:
    # studs at 16, 32 … 128; the face runs 0 to 144, so a box may stand from 7-3/4 in (6 + half a 2x4) on.
    # The door is 16 to 48-1/2 on W2: nothing under 48-1/2 + 6, and its hinge is at its low end.
    both_sides = [stud + side for stud in range(16, 129, 16) for side in (-2.5, 2.5)]
    assert offsets(one_room(), "W1") == both_sides
    assert offsets(one_room(), "W2")[0] == 61.5


def test_a_box_never_hides_behind_an_open_door() -> None:
    # hinged at its low end, the leaf folds back over W2 from its hinge and stands against W3 within a foot
    hidden = one_room()
    low = replace(hidden.openings[0], offset_in=8.0)
    job = replace(hidden, openings=(low,))
    # W3 is 8 in from the hinge: the leaf covers W3 from 120 - 1-3/4 - 32-1/2 to the corner
    assert max(offsets(job, "W3")) < 120 - 32.5
    other = replace(hidden, openings=(replace(low, hinge_end="high"),))
    assert max(offsets(other, "W3")) > 120 - 32.5
    # hinged at its high end it folds over W2 as far as it is wide: to 8 + 2 x 32-1/2 = 73 in
    assert min(offsets(other, "W2")) >= 73.0
    assert min(offsets(job, "W2")) < 73.0
    unknown = replace(hidden, openings=(replace(low, hinge_end=None, swings_into=None),))
    assert max(offsets(unknown, "W3")) < 120 - 32.5
    assert min(offsets(unknown, "W2")) >= 73.0


def test_an_inside_wall_is_preferred_and_an_outside_one_taken_when_there_is_no_other() -> None:
    job = one_room()
    first = next(p.location for p in propose(job) if p.rule == "office-desk")
    assert first.wall in ("W2", "W4")
    rated = tuple(replace(w, rated="1-hour") if w.id in ("W2", "W4") else w for w in job.walls)
    outside = next(p for p in propose(replace(job, walls=rated)) if p.rule == "office-desk")
    assert outside.location.wall in ("W1", "W3")
    assert "outside wall" in outside.why


def test_what_cannot_be_placed_is_said() -> None:
    job = one_room()
    rated = replace(job, walls=tuple(replace(w, rated="1-hour") for w in job.walls))
    wishes = plan_wishes(rated)
    assert not [p for p in wishes.proposals if p.location.wall]
    said = "\n".join(wishes.left_out)
    assert "office-desk in Den: no wall has a place beside a stud, 6 in clear of openings and corners" in said
    assert "doorbell: no outside door of a hall or living room is in the plan" in said


def test_a_thermostat_without_an_air_handler_gets_no_cable_and_says_so() -> None:
    job = one_room(rooms=(replace(one_room().rooms[0], kind="hall"),))
    place = next(p.location for p in propose(job) if p.rule == "thermostat")
    assert place.ports == ()
    assert place.note == "no cable yet: the job does not say where the air handler stands"
    gear = Gear("AIR", "air handler", False, "Hall", "1", 300.0, 60.0, 60.0)
    with_air = next(p.location for p in propose(replace(job, gear=(gear,))) if p.rule == "thermostat")
    assert [(p.kind, p.count) for p in with_air.ports] == [("T", 1)]
    (run,) = runs_for([with_air], "ENC", "AIR")
    assert (run.id, run.from_end.type, run.from_end.id) == (f"{with_air.id}-T1", "device", "AIR")
    assert runs_for([with_air], "ENC") == ()


def test_runs_are_named_after_their_location_and_count_each_kind() -> None:
    tv = next(p.location for p in propose(house_a()) if p.rule == "living-tv-high")
    runs = runs_for([tv], "A-ENC")
    assert [r.id for r in runs] == [f"{tv.id}-D1", f"{tv.id}-D2", f"{tv.id}-X1"]
    assert {(r.from_end.type, r.from_end.id, r.to_end.id) for r in runs} == {("enclosure", "A-ENC", tv.id)}


@pytest.mark.parametrize(
    ("kind", "name", "wanted"),
    [
        ("bed", "Bed 2", "bed"),
        ("", "Bathroom 1", "bath"),
        ("room", "Master Bedroom", "bed"),
        ("", "Foyer", "hall"),
        ("", "Room 12", ""),
        ("", "Stair", "hall"),
        ("", "Utility", "utility"),
    ],
)
def test_rooms_of_other_plans_are_known_by_their_names(kind: str, name: str, wanted: str) -> None:
    assert kind_of_room(Room(name, "1", kind, ((0, 0), (1, 0), (1, 1)))) == wanted


def test_a_firm_hands_its_own_table() -> None:
    own = tuple(replace(r, height_in=18.0) if r.name == "office-desk" else r for r in ROOM_RULES)
    first = next(p.location for p in propose(one_room(), own) if p.rule == "office-desk")
    assert first.height_in == 18.0
