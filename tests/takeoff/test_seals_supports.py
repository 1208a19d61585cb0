"""Seals, one a hole, and supports, as many as the spacing asks."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bayrun.house import Barrier, FacePiece, Location, PassPoint, Room, SiteFacts
from bayrun.takeoff.seals import DRAFTSTOP, EXTERIOR, FIREBLOCK, FIRESTOP, SLEEVE, seals
from bayrun.takeoff.supports import supports
from bayrun.wiring import PathPoint
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


@every_house
def test_each_plate_hole_and_barrier_hole_is_sealed_once(letter: str) -> None:
    house = planned(letter)
    members = {m.id: m for m in house.frame.members}
    wanted = {
        hole.id
        for hole in house.wiring.holes
        if any(members[i].role == "barrier" for i in (hole.member, *hole.plies))
        or (hole.axis == "up" and members[hole.member].role in ("top plate", "bottom plate", "subfloor"))
    }
    sealed = [seal.hole for seal in house.counted.seals if seal.hole]
    assert sorted(sealed) == sorted(wanted)
    assert wanted
    ids = [seal.id for seal in house.counted.seals]
    assert len(set(ids)) == len(ids)


def test_the_demo_house_seals_its_sleeve_its_garage_and_its_outer_boxes() -> None:
    # Source: demo house A's own facts: sleeve A-P1 in the gable, separation on A-W06 along the garage only,
    # exterior locations A12 and A20, garage ceiling location A18.
    found = {seal.location or seal.hole: seal for seal in planned("a").counted.seals}
    assert [s.material for s in found.values() if "sleeve A-P1" in s.assembly] == [SLEEVE]
    assert {name for name, s in found.items() if s.material == EXTERIOR} == {"A12", "A20"}
    assert found["A18"].assembly == "garage ceiling, 5/8 in gypsum, box opening"
    assert found["A25"].assembly == "dwelling-garage separation, contact hole"
    assert "A06" not in found  # on the same wall, but past the garage


def test_material_follows_the_assembly() -> None:
    hole = small.plate_hole("H1", 100.0, 0.75)
    wiring, frame = small.wiring(holes=(hole,)), small.frame()
    (plain,) = seals(small.job(), frame, wiring)
    assert (plain.id, plain.assembly, plain.material) == ("F1", "top plate to the attic", FIREBLOCK)
    told = small.job(facts=SiteFacts(fireblock_material="mineral wool"))
    assert seals(told, frame, wiring)[0].material == "mineral wool"
    (rated,) = seals(small.job(walls=(small.wall(rated="1-hour"),)), frame, wiring)
    assert (rated.assembly, rated.material) == ("rated wall (1-hour), top plate to the attic", FIRESTOP)
    garage = small.job(
        walls=(
            small.wall(separation="dwelling to garage: gypsum", right=(FacePiece("Garage", 0.0, 192.0),)),
        ),
        rooms=(Room("Garage", "1", "garage", ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))),),
    )
    assert seals(garage, frame, wiring)[0].assembly == "dwelling-garage separation, top plate to the attic"


@pytest.mark.parametrize(
    ("kind", "sleeve", "material"),
    [
        ("draftstop in the floor", False, DRAFTSTOP),
        ("2-hour party wall", False, FIRESTOP),
        ("gable between attics", True, SLEEVE),
        ("dwelling-garage separation", False, FIREBLOCK),
    ],
)
def test_barriers(kind: str, sleeve: bool, material: str) -> None:
    point = PassPoint("P1", 0.0, 100.0, 120.0, 2.0) if sleeve else None
    job = small.job(barriers=(Barrier("BAR", kind, pass_point=point),))
    board = replace(small.stud(9, 100.0, "gypsum"), id="BAR", host="BAR", role="barrier")
    hole = replace(small.stud_hole("H8", 9, 100.0, 2.0), member="BAR", wall="", open_passage=True)
    (seal,) = seals(job, small.frame(board), small.wiring(holes=(hole,)))
    assert seal.material == material
    assert seal.assembly.startswith(kind)


def test_a_location_nobody_pulls_to_is_not_sealed() -> None:
    outside = Location("L9", "Dining", "1", "exterior", 48.0, wall="W1", offset_in=50.0, side="left")
    job = small.job(locations=(*small.job().locations, outside))
    assert seals(job, small.frame(), small.wiring((small.run(),))) == ()


def counted(path: tuple[PathPoint, ...], runs: int = 1, **changes: object) -> dict[str, int]:
    wiring = small.wiring(tuple(small.run(f"L1-D{i}", path=path) for i in range(1, runs + 1)))
    return {one.kind: one.count for one in supports(small.job(**changes), wiring)}


def test_staples_up_a_wall_by_hand() -> None:
    # 14 to 95.625 in: a staple by the box, the plate's hole holds the top; between, 81.6 in at 54 in: one.
    path = (PathPoint(0.0, 140.0, 14.0), PathPoint(0.0, 140.0, 95.625, "H2", "W1/top"))
    assert counted(path) == {"staple": 2}
    assert counted(path, runs=2) == {"staple": 2}  # two cables to a staple
    assert counted(path, runs=3) == {"staple": 4}


def test_hangers_in_the_attic_by_hand() -> None:
    # 10 ft of attic between two plate holes: 120 / 54 = 2.2: two hangers between; a bundle shares them.
    path = (
        PathPoint(0.0, 20.0, 97.125, "H1", "W1/top"),
        PathPoint(0.0, 20.0, 100.0),
        PathPoint(0.0, 140.0, 100.0),
        PathPoint(0.0, 140.0, 97.125, "H2", "W1/top"),
    )
    assert counted(path) == {"hanger": 2}
    assert counted(path, runs=25) == {"hanger": 2}
    assert counted(path, runs=26) == {"hanger": 4}


def test_holes_through_studs_hold_a_cable() -> None:
    studs = tuple(PathPoint(0.0, 18.75 + 16 * i, 48.0, f"H{i}", "stud") for i in range(8))
    assert counted(studs) == {}


@every_house
def test_no_stretch_hangs_farther_than_the_spacing(letter: str) -> None:
    """By another way of counting: feet of way over the spacing is the least that can hold it all."""
    house = planned(letter)
    every_in = house.job.practice.support_every_in
    for kind in ("staple", "hanger"):
        total = sum(one.count for one in house.counted.supports if one.kind == kind)
        assert total > 0
    longest_in = max(
        math.dist((a.x, a.y, a.z), (b.x, b.y, b.z))
        for run in house.wiring.runs
        for a, b in zip(run.path, run.path[1:], strict=False)
    )
    hangers = sum(one.count for one in house.counted.supports if one.kind == "hanger")
    assert hangers >= longest_in / every_in - 1
    assert {run for one in house.counted.supports for run in one.runs} <= {
        run.id for run in house.wiring.runs
    }
    assert len({one.id for one in house.counted.supports}) == len(house.counted.supports)
