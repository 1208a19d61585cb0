"""Wall spaces against a floor line measured by hand."""

from __future__ import annotations

import dataclasses

from test_propose import one_room

from bayrun.house import Location, Port
from bayrun.wishes import dark_wall_spaces, wall_spaces

replace = dataclasses.replace


def _at(name: str, wall: str, offset: float, side: str) -> Location:
    return Location(name, "Den", "1", "wall", 14.0, wall, offset, side, ports=(Port("D", 1),))  # type: ignore[arg-type]


def test_a_wall_of_twelve_feet_without_a_location_is_told_and_a_door_breaks_it() -> None:
    # W1 is 12 ft unbroken; W2 has a door of 32-1/2 in at 16 in, so 16 and 95-1/2 in are left
    job = one_room()
    spaces = {(s.wall, s.from_in): s.length_in for s in wall_spaces(job, job.rooms[0])}
    assert spaces == {
        ("W1", 0.0): 144.0,
        ("W2", 0.0): 16.0,
        ("W2", 48.5): 95.5,
        ("W3", 0.0): 120.0,
        ("W4", 0.0): 120.0,
    }
    (dark,) = dark_wall_spaces(job)
    assert dark.wall == "W1"
    assert dark.advice == "Den, wall Den / outside (W1): 12' 0\" of unbroken wall without a location"
    served = replace(job, locations=(_at("L1", "W1", 40.0, "left"),))
    assert dark_wall_spaces(served) == ()
    elsewhere = replace(job, locations=(_at("L1", "W1", 40.0, "exterior"),))
    assert [s.wall for s in dark_wall_spaces(elsewhere)] == ["W1"]


def test_no_point_of_the_floor_line_is_over_twenty_five_feet_from_a_location() -> None:
    # a wall of 60 ft with locations at 10 and 30 ft: the far end is 30 ft away; with one at 36 ft it is 24
    job = one_room()
    long = tuple(
        replace(w, end=(720.0, 0.0), plate_end_in=720.0, left=(replace(w.left[0], to_in=720.0),))
        if w.id == "W1"
        else w
        for w in job.walls
    )
    job = replace(job, walls=long)
    far = replace(job, locations=(_at("L1", "W1", 120.0, "left"), _at("L2", "W1", 360.0, "left")))
    (dark,) = dark_wall_spaces(far)
    assert dark.farthest_in == 360.0
    assert "30' 0\" from the nearest location, over 25 ft" in dark.advice
    near = replace(job, locations=(_at("L1", "W1", 120.0, "left"), _at("L2", "W1", 432.0, "left")))
    assert dark_wall_spaces(near) == ()
    limit = replace(job, locations=(_at("L1", "W1", 300.0, "left"), _at("L2", "W1", 420.0, "left")))
    assert dark_wall_spaces(limit) == ()
