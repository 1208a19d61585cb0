"""A seeded generator of plausible random houses, for laws that must hold in any house.

``random_house(seed)`` gives the same house for the same seed on every machine. Every length is a
multiple of 1/16 in, so coordinates compare exactly. The house is drawn in canonical coordinates
(``u`` along the spine wall, ``v`` across it) and turned by swapping the axes in half of the cases.
Sizes and habits follow the demo houses (common practice, no source); nothing here is imported from
framing or routing, so that it can serve as their outside check.
"""

from __future__ import annotations

import dataclasses
import random
from decimal import Decimal

from bayrun.house import (
    CableKind,
    Job,
    Joint,
    Opening,
    Practice,
    Revision,
    Room,
    SiteFacts,
    Wall,
)
from random_floors import make_barriers, make_frames, make_roof
from random_shell import (
    Cell,
    cut_basement,
    cut_level,
    make_draft,
    make_levels,
    make_room,
    name_rooms,
    pick_garage,
)
from random_walls import make_openings, make_walls
from random_wishes import make_enclosure, with_locations
from random_wood import clear_at, frame_rects, make_obstacles, stud_centers

__all__ = ["DEMO_CABLES", "clear_at", "frame_rects", "random_house", "stud_centers"]

DEMO_CABLES: tuple[CableKind, ...] = tuple(
    CableKind(letter, name, thousandths / 1000, line, Decimal(price), box_ft)
    for letter, name, thousandths, line, price, box_ft in (
        ("D", "data four-pair", 230, "solid", "0.22", 1000.0),
        ("X", "coax series 6", 275, "long dash", "0.18", 1000.0),
        ("S", "speaker 16/4", 360, "dash dot", "0.45", 500.0),
        ("S2", "speaker 16/2 second leg", 260, "dash dot", "0.28", 500.0),
        ("B", "bell pair 18/2", 180, "short dash", "0.12", 500.0),
        ("K", "keypad 22/4", 160, "short dash", "0.14", 500.0),
        ("A", "contact 22/2", 130, "short dash", "0.09", 500.0),
        ("H", "shade 16/2", 240, "dotted double", "0.27", 500.0),
        ("T", "thermostat 18/8", 260, "short dash", "0.31", 250.0),
    )
)


def random_house(seed: int) -> Job:
    """A plausible house of one to three stories on a slab or basement, with 10 to 60 locations.

    Args:
        seed: Any whole number; the same seed gives the same job.
    """
    for attempt in range(200):
        job = _attempt(random.Random(seed * 1009 + attempt), seed)
        if job is not None:
            return job
    raise AssertionError(f"seed {seed}: no consistent house in 200 attempts")


def _attempt(rng: random.Random, seed: int) -> Job | None:
    draft = make_draft(rng)
    stories = rng.choices((1, 2, 3), (5, 4, 1))[0]
    basement = rng.random() < 0.4
    if stories == 1 and not basement:
        draft.stair = None
    levels, frames_z = make_levels(rng, stories, basement)
    rooms: list[Room] = []
    walls: list[Wall] = []
    joints: list[Joint] = []
    openings: list[Opening] = []
    garage: Cell | None = None
    for level in levels:
        top = level is levels[-1]
        if level.id == "B":
            cut_basement(draft)
        else:
            cut_level(draft, level.id)
        cells = draft.cells[level.id]
        if level.id == "1" and rng.random() < 0.5:
            garage = pick_garage(draft, cells)
        name_rooms(rng, level.id, cells, garage if level.id == "1" else None)
        rooms += [make_room(draft, level, cell) for cell in cells]
        level_walls, level_joints = make_walls(draft, level, top)
        level_openings = make_openings(draft, level, level_walls, level_joints)
        if level_openings is None:
            return None
        walls += level_walls
        joints += level_joints
        openings += level_openings
    frames, beams, floor_openings, stairs = make_frames(draft, levels, frames_z)
    job = Job(
        id=f"R{seed}",
        name=f"Random house {seed} (invented)",
        revision=Revision("1", "2026-01-05"),
        levels=tuple(levels),
        rooms=tuple(rooms),
        walls=tuple(walls),
        joints=tuple(joints),
        openings=tuple(openings),
        frames=tuple(frames),
        floor_openings=tuple(floor_openings),
        beams=tuple(beams),
        stairs=tuple(stairs),
        roofs=(make_roof(draft),),
        barriers=make_barriers(draft, garage),
        practice=Practice(cables=DEMO_CABLES),
        facts=SiteFacts(cover="1/2 in gypsum", fireblock_material="mineral wool and sealant"),
    )
    job = dataclasses.replace(job, obstacles=tuple(make_obstacles(draft, job)))
    enclosure = make_enclosure(rng, job)
    if enclosure is None:
        return None
    job = dataclasses.replace(job, enclosures=(enclosure,), enclosure=enclosure.id)
    job = with_locations(rng, job)
    return job if len(job.locations) >= 10 else None
