"""Faults planted in paths and ends."""

from __future__ import annotations

import random

from audit.planting import Plan, pick, planted


@planted("path-broken")
def point_lost(plan: Plan, rng: random.Random) -> bool:
    """A turn of a path is left out, so that it jumps."""
    turns = [
        (run, i)
        for run in plan["runs"]
        for i in range(1, len(run["path"]) - 1)
        if sum(abs(a - b) > 0.01 for a, b in zip(run["path"][i - 1][:3], run["path"][i + 1][:3], strict=True))
        > 1
    ]
    run, i = pick(rng, turns)
    run["path"].pop(i)
    run["path_holes"].pop(i)
    return True


@planted("obstacle-entered")
def path_through_obstacle(plan: Plan, rng: random.Random) -> bool:
    """A detour square to the house through the middle of a duct, tank or cabinet."""
    bodies = [o for o in plan["job"]["obstacles"] if o["z_in"] and o["z_in"][1] - o["z_in"][0] > 1]
    bodies = [
        o for o in bodies if o["rect"] or (o["center"] and None not in o["center"] and o["diameter_in"])
    ]
    if not bodies:
        return False
    body = pick(rng, bodies)
    x, y = body["center"] or [
        (body["rect"][0] + body["rect"][2]) / 2,
        (body["rect"][1] + body["rect"][3]) / 2,
    ]
    z = sum(body["z_in"]) / 2
    run = pick(
        rng, [r for r in plan["runs"] if r["from"]["type"] != "device" and r["to"]["type"] != "device"]
    )
    a = run["path"][0][:3]
    there = [[*a[:2], z], [x, a[1], z], [x, y, z]]
    detour = [[*p, None] for p in (*there, *reversed(there[:-1]), a)]
    run["path"][1:1] = detour
    run["path_holes"][1:1] = [None] * len(detour)
    return True


@planted("path-in-open-room")
def path_through_room(plan: Plan, rng: random.Random) -> bool:
    """A detour into the middle of a room at knee height."""
    run = pick(rng, [r for r in plan["runs"] if len(r["path"]) > 2])
    i = rng.randrange(1, len(run["path"]))
    room = pick(rng, plan["job"]["rooms"])
    xs, ys = [p[0] for p in room["polygon"]], [p[1] for p in room["polygon"]]
    level = next(lv for lv in plan["job"]["levels"] if lv["id"] == room["level"])
    z = level["subfloor_z_in"] + 40.0
    a = run["path"][i - 1][:3]
    x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    there = [[*a[:2], z], [x, a[1], z], [x, y, z]]
    detour = [[*p, None] for p in (*there, *reversed(there[:-1]), a)]
    run["path"][i:i] = detour
    run["path_holes"][i:i] = [None] * len(detour)
    return True


@planted("crosses-without-hole")
def hole_not_named(plan: Plan, rng: random.Random) -> bool:
    """The path still goes through the wood, but no longer by a hole."""
    run = pick(rng, [r for r in plan["runs"] if any(r["path_holes"])])
    wood = {h["id"] for h in plan["holes"] if h["axis"] != "across"}
    passed = [i for i, h in enumerate(run["path_holes"]) if h in wood]
    if not passed:
        return False
    i = pick(rng, passed)
    run["path_holes"][i], run["path"][i][3] = None, None
    return True


@planted("crosses-never-member")
def path_through_chord(plan: Plan, rng: random.Random) -> bool:
    """A detour lengthwise through a truss chord, a header or a beam."""
    never = [m for m in plan["members"] if m["role"] in ("header", "beam") or m["material"] == "truss"]
    box = pick(rng, never)["box"]
    run = pick(rng, plan["runs"])
    a = run["path"][0][:3]
    middle = [(box[k] + box[k + 3]) / 2 for k in range(3)]
    there = [[*a[:2], middle[2]], [middle[0], a[1], middle[2]], middle]
    detour = [[*p, None] for p in (*there, *reversed(there[:-1]), a)]
    run["path"][1:1] = detour
    run["path_holes"][1:1] = [None] * len(detour)
    return True


@planted("end-misplaced")
def endpoint_moved(plan: Plan, rng: random.Random) -> bool:
    run = pick(rng, plan["runs"])
    run["path"][rng.choice((0, -1))][2] += rng.choice((-2.0, 1.0))
    return True


@planted("end-misplaced")
def entry_changed(plan: Plan, rng: random.Random) -> bool:
    runs = [r for r in plan["runs"] if r["entry"]]
    run = pick(rng, runs)
    run["entry"] = "bottom" if run["entry"] == "top" else "top"
    return True


@planted("run-lost")
def run_forgotten(plan: Plan, rng: random.Random) -> bool:
    plan["runs"].pop(rng.randrange(len(plan["runs"])))
    return True


@planted("run-not-wished")
def kind_changed(plan: Plan, rng: random.Random) -> bool:
    run = pick(rng, plan["runs"])
    run["kind"] = "X" if run["kind"] != "X" else "D"
    return True
