"""The house is changed under a plan, or one path is led astray: each change is found for what it is."""

from __future__ import annotations

import dataclasses
import json
from typing import Any

from audit.plans import example
from bayrun.audit import Defect, audit
from bayrun.house import Job, Obstacle


def kinds(found: tuple[Defect, ...]) -> set[str]:
    return {d.kind for d in found}


def plan_of(house: str) -> tuple[Job, dict[str, Any]]:
    job, text = example(house)
    return job, json.loads(text)


def led_by(plan: dict[str, Any], run_id: str, *points: tuple[float, float, float]) -> None:
    """Lead a run from its start to a point and back, square to the house."""
    run = next(r for r in plan["runs"] if r["id"] == run_id)
    way = [[*p, None] for p in (*points, *reversed(points[:-1]), tuple(run["path"][0][:3]))]
    run["path"][1:1] = way
    run["path_holes"][1:1] = [None] * len(way)


def a_run_from_the_box(plan: dict[str, Any]) -> tuple[str, tuple[float, float, float]]:
    run = next(r for r in plan["runs"] if r["from"]["type"] == "enclosure")
    x, y, z = run["path"][0][:3]
    return run["id"], (x, y, z)


def test_a_party_wall_is_never_crossed() -> None:
    job, plan = plan_of("c")
    name, (x, y, z) = a_run_from_the_box(plan)
    led_by(plan, name, (x, y, z), (-20.0, y, z))
    found = [d for d in audit(job, plan) if d.kind == "separation-crossed"]
    assert found
    assert "party walls" in found[0].says


def test_a_sprinkler_main_is_not_touched() -> None:
    """C-O1: center 4 in above the joists' bottom at 109-1/8, along y = 240 (demo house C)."""
    job, plan = plan_of("c")
    name, (x, y, _) = a_run_from_the_box(plan)
    led_by(plan, name, (x, y, 113.125), (x, 250.0, 113.125))
    found = [d for d in audit(job, plan) if d.kind == "obstacle-entered" and "C-O1" in d.about]
    assert found
    assert "sprinkler main" in found[0].says


def test_a_sprinkler_main_is_crossed_two_inches_above() -> None:
    """Its top is at 109.125 + 4 + 1.6875 / 2 = 113.96875; one inch over it is too near, by its own rule."""
    job, plan = plan_of("c")
    name, (x, y, _) = a_run_from_the_box(plan)
    led_by(plan, name, (x, y, 115.0), (x, 250.0, 115.0))
    found = [d for d in audit(job, plan) if d.kind == "obstacle-entered" and "C-O1" in d.about]
    assert found
    assert 'less than 2" above' in found[0].says


def test_nothing_passes_through_the_enclosure() -> None:
    job, plan = plan_of("a")
    name, (x, y, z) = a_run_from_the_box(plan)
    led_by(plan, name, (x, y, z - 10.0))
    assert any("enclosure itself" in d.says for d in audit(job, plan))


def test_a_door_is_no_way_through_a_wall() -> None:
    """Along the wall's own middle, but across the door opening: the air of a doorway."""
    job, plan = plan_of("a")
    door = next(o for o in job.openings if o.kind == "door" and job.wall(o.wall).bearing is False)
    wall = job.wall(door.wall)
    ux, uy = wall.direction
    at = door.offset_in + door.width_in / 2
    x, y = wall.start[0] + ux * at, wall.start[1] + uy * at
    name, (sx, sy, _) = a_run_from_the_box(plan)
    led_by(plan, name, (sx, sy, 40.0), (x, sy, 40.0), (x, y, 40.0), (x, y, 30.0))
    found = [d for d in audit(job, plan) if d.kind == "path-in-open-room" and d.about == (name,)]
    assert any(abs(float(d.measured or 0) - 10.0) < 0.01 for d in found)


def test_a_pipe_set_over_a_hole_bars_it() -> None:
    job, plan = plan_of("a")
    hole = next(h for h in plan["holes"] if h["axis"] == "up")
    pipe = Obstacle(
        id="NEW",
        kind="vent pipe 2 in",
        center=(hole["x"] + 1.0, hole["y"]),
        diameter_in=2.375,
        z_in=(hole["z"] + 1.5, hole["z"] + 40.0),
    )
    found = audit(dataclasses.replace(job, obstacles=(*job.obstacles, pipe)), plan)
    assert {"plate-hole-barred", "obstacle-entered"} <= kinds(found)


def test_a_joist_over_a_hole_bars_it() -> None:
    """The roof's trusses stand an inch beside a hole's middle once the layout is shifted there."""
    job, plan = plan_of("a")
    hole = next(h for h in plan["holes"] if h["axis"] == "up" and h["wall"] == "A-W01")
    roof = job.frame("A-roof")
    moved = dataclasses.replace(roof, first_member_in=hole["x"] % 24.0, last_member_in=612.0)
    frames = tuple(moved if f.id == roof.id else f for f in job.frames)
    found = audit(dataclasses.replace(job, frames=frames), plan)
    assert any(d.kind == "plate-hole-barred" and hole["id"] in d.about for d in found)
    assert "member-moved" in kinds(found)


def test_a_rated_wall_takes_a_listed_firestop() -> None:
    job, plan = plan_of("a")
    hole = next(h for h in plan["holes"] if h["axis"] == "up")
    walls = tuple(dataclasses.replace(w, rated="1 hour") if w.id == hole["wall"] else w for w in job.walls)
    found = audit(dataclasses.replace(job, walls=walls), plan)
    assert any(d.kind == "seal-weak" and d.about == (hole["id"],) for d in found)


def test_small_plates_do_not_cover() -> None:
    job, plan = plan_of("heavy")
    plan["plates"][0] |= {"width_in": 1.0, "length_in": 1.0}
    assert "plate-small" in kinds(audit(job, plan))


def test_a_short_strap_does_not_hold() -> None:
    """R602.6.1: 6 in past the cut at each side; a 2 in hole asks 14 in."""
    job, plan = plan_of("heavy")
    strap = plan["straps"][0]
    assert strap["length_in"] >= 14.0
    strap["length_in"] = 13.9
    assert "strap-missing" in kinds(audit(job, plan))


def test_sheathing_waives_the_strap() -> None:
    job, plan = plan_of("heavy")
    hole = next(h for h in plan["holes"] if h["id"] == plan["straps"][0]["hole"])
    walls = tuple(dataclasses.replace(w, sheathed=True) if w.id == hole["wall"] else w for w in job.walls)
    assert "strap-extra" in kinds(audit(dataclasses.replace(job, walls=walls), plan))


def test_a_wall_found_bearing_makes_a_stud_hole_too_big() -> None:
    """R602.6 on a 2x6: 60 % of 5-1/2 in is 3.3 in, 40 % is 2.2 in; 2-1/4 in is over in a bearing wall."""
    job, plan = plan_of("heavy")
    hole = next(h for h in plan["holes"] if h["axis"] == "along")
    hole["diameter_in"] = 2.25
    found = [d for d in audit(job, plan) if d.kind == "hole-too-big"]
    assert found
    assert found[0].about == (hole["id"],)
    assert abs(float(found[0].expected or 0) - 2.2) < 1e-9


def test_a_hole_of_exactly_the_limit_passes() -> None:
    job, plan = plan_of("heavy")
    hole = next(h for h in plan["holes"] if h["axis"] == "along")
    hole["diameter_in"] = 2.2
    assert "hole-too-big" not in kinds(audit(job, plan))


def test_a_run_moved_to_another_box_is_found() -> None:
    job, plan = plan_of("a")
    first, other = plan["boxes"][0], next(b for b in plan["boxes"] if b["kind"] != plan["boxes"][0]["kind"])
    other["cuts"].append(first["cuts"].pop())
    assert {"run-cut-wrong", "box-wrong"} <= kinds(audit(job, plan))


def test_a_plan_without_its_runs_cannot_hide_them_behind_a_finding() -> None:
    """A stop about a run is not a report that it could not be reached."""
    job, plan = plan_of("a")
    gone = plan["runs"].pop()
    plan["findings"].append({"rule": "bend-radius", "severity": "stop", "about": [gone["id"]]})
    assert "run-lost" in kinds(audit(job, plan))
