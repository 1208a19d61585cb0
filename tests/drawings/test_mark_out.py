"""The mark-out list: each box once, and a tape hooked where it says lands on the box."""

from __future__ import annotations

import math
import re

import pytest
from hand_made import planned

from bayrun.drawings.mark_out import mark_out_list, place_from_corner
from bayrun.house import Job, Wall, location_point, wall_point
from bayrun.units import parse_length


def on_a_face(job: Job, here: Wall, point: tuple[float, float]) -> bool:
    """Whether a point lies on a side face or beside the end of another wall of the level."""
    for wall in job.walls:
        if wall.id == here.id or wall.level != here.level:
            continue
        dx, dy = wall.direction
        rx, ry = point[0] - wall.start[0], point[1] - wall.start[1]
        along, across = rx * dx + ry * dy, abs(rx * -dy + ry * dx)
        depth = wall.thickness_in / 2 + wall.membrane_in
        if -8 < along < wall.length_in + 8 and wall.thickness_in / 2 - 0.1 < across < depth + 0.1:
            return True
    return False


@pytest.mark.parametrize("house", ["a", "b", "c"])
def test_every_location_is_there_once(house: str) -> None:
    job, _, _ = planned(house)
    sheet = mark_out_list(job)
    assert sorted(row.cells[0] for row in sheet.rows) == sorted(loc.id for loc in job.locations)
    cables = " ".join(row.cells[5] for row in sheet.rows)
    ends = sum(e.type == "location" for run in job.runs for e in (run.from_end, run.to_end))
    assert sum(int(n) for n in re.findall(r"(\d+)[A-Z]", cables)) == ends


@pytest.mark.parametrize("house", ["a", "b", "c"])
def test_a_tape_hooked_at_the_corner_lands_on_the_box(house: str) -> None:
    # Outside: from the box, walk the printed distance toward the printed hand of a person who faces the
    # wall; what is found there must be the face of another wall.
    job, _, _ = planned(house)
    tried = 0
    for location in job.locations:
        if location.wall is None or location.offset_in is None or location.side not in ("left", "right"):
            continue
        wall = job.wall(location.wall)
        words, distance = place_from_corner(job, location)
        if "corner" not in words:
            continue
        x, y, _ = location_point(job, location)
        viewer = wall_point(wall, location.offset_in, 30.0 if location.side == "left" else -30.0)
        sight = (x - viewer[0], y - viewer[1])
        length = math.hypot(*sight)
        right = (sight[1] / length, -sight[0] / length)
        sign = 1.0 if "from the right corner" in words else -1.0
        far = parse_length(distance)
        corner = (x + sign * right[0] * far, y + sign * right[1] * far)
        assert on_a_face(job, wall, corner), (location.id, words, distance)
        tried += 1
    assert tried > 5


def test_house_a_by_hand() -> None:
    # By hand: A09 is 72 in along the left wall; the front wall's face is 2-3/4 in from its start: 69-1/4.
    # A20 is 36 in over the garage slab, which lies 4 in lower than the house.
    job, _, _ = planned("a")
    rows = {row.cells[0]: row for row in mark_out_list(job).rows}
    assert rows["A09"].cells[1].endswith("seen from Bed 2: from the left corner")
    assert rows["A09"].cells[2:6] == ("5' 9-1/4\"", '14"', '14-1/4"', "2D")
    assert rows["A20"].cells[3:5] == ("3' 0\"", "2' 8\"")
    assert rows["A05"].cells[5] == "1S2"


def test_ceiling_places_are_told_from_two_walls() -> None:
    # By hand: A03 stands at x 384, y 252; the great room's right wall has its face at 478-1/4, the back
    # wall's at 357-1/4.
    job, _, _ = planned("a")
    words, distance = place_from_corner(job, job.location("A03"))
    assert (
        words == "ceiling: from wall Great room / Kitchen (A-W27), and from wall outside / Great room (A-W03)"
    )
    assert distance == "7' 10-1/4\"; 8' 9-1/4\""
