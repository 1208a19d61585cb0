"""Faults planted in plan.json: one function a fault, each names the kind the audit must find.

A mutation takes the plan (plain data, its own copy) and a seeded ``random.Random``; it changes the plan
in place and returns True, or False where this house has nothing to change that way.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

Plan = dict[str, Any]
Mutation = Callable[[Plan, random.Random], bool]
PLANTED: list[tuple[str, str, Mutation]] = []
"""(name, kind that must be found, mutation)."""


def planted(kind: str) -> Callable[[Mutation], Mutation]:
    """Enter a mutation in the list under the kind it must be found as."""

    def enter(function: Mutation) -> Mutation:
        PLANTED.append((function.__name__, kind, function))
        return function

    return enter


def _pick(rng: random.Random, items: list[Any]) -> Any:
    return items[rng.randrange(len(items))] if items else None


def _member(plan: Plan, member_id: str) -> dict[str, Any]:
    return next(m for m in plan["members"] if m["id"] == member_id)


def _drilled(plan: Plan, axis: str = "") -> list[Any]:
    return [h for h in plan["holes"] if not h["open_passage"] and (not axis or h["axis"] == axis)]


@planted("member-missing")
def member_removed(plan: Plan, rng: random.Random) -> bool:
    plan["members"].pop(rng.randrange(len(plan["members"])))
    return True


@planted("member-extra")
def stud_added(plan: Plan, rng: random.Random) -> bool:
    stud = dict(_pick(rng, [m for m in plan["members"] if m["role"] == "stud"]))
    stud["id"] += "-again"
    plan["members"].append(stud)
    return True


@planted("member-moved")
def stud_moved(plan: Plan, rng: random.Random) -> bool:
    stud = _pick(
        rng, [m for m in plan["members"] if m["role"] in ("stud", "king", "cripple", "joist", "I-joist")]
    )
    by = rng.choice((-2.0, -0.25, 0.0625, 1.5))
    stud["along"] = [v + by for v in stud["along"]]
    return True


@planted("member-moved")
def header_lifted(plan: Plan, rng: random.Random) -> bool:
    header = _pick(rng, [m for m in plan["members"] if m["role"] in ("header", "sill")])
    header["up"] = [v + 0.5 for v in header["up"]]
    return True


@planted("member-mistold")
def wall_called_free(plan: Plan, rng: random.Random) -> bool:
    member = _pick(rng, [m for m in plan["members"] if m["bearing"]])
    member["bearing"] = False
    return True


@planted("member-mistold")
def truss_called_wood(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, [m for m in plan["members"] if m["material"] == "truss"])["material"] = "wood"
    return True


@planted("bay-wrong")
def bay_widened(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["bays"])["clear"][rng.choice((0, 2))] += rng.choice((-0.5, 0.25))
    return True


@planted("bay-missing")
def bay_removed(plan: Plan, rng: random.Random) -> bool:
    plain = [b for b in plan["bays"] if b["id"].rsplit("-", 1)[1].isdigit() and b["over"].endswith("/top")]
    wide = [b for b in plain if b["clear"][2] - b["clear"][0] > 12 and "bottom" in b["under"]]
    plan["bays"].remove(_pick(rng, wide))
    return True


@planted("hole-misplaced")
def hole_moved(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, plan["holes"])
    hole[rng.choice(("along_in", "up_in"))] += rng.choice((-3.0, 0.5, 2.0))
    return True


@planted("path-misses-hole")
def hole_moved_whole(plan: Plan, rng: random.Random) -> bool:
    """Tape and world agree, but the paths still go the old way."""
    hole = _pick(rng, _drilled(plan, "up"))
    wall = next(w for w in plan["job"]["walls"] if w["id"] == hole["wall"])
    (x0, y0), (x1, y1) = wall["start"], wall["end"]
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    by = rng.choice((-1.5, 1.5))
    hole["along_in"] += by
    hole["x"] += by * (x1 - x0) / length
    hole["y"] += by * (y1 - y0) / length
    return True


@planted("hole-not-a-bit")
def odd_diameter(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, _drilled(plan))["diameter_in"] += 0.03
    return True


@planted("hole-too-full")
def hole_shrunk(plan: Plan, rng: random.Random) -> bool:
    full = [h for h in _drilled(plan) if len(h["occupants"]) >= 3]
    if not full:
        return False
    _pick(rng, full)["diameter_in"] = 0.5
    return True


@planted("hole-near-edge")
def hole_at_edge(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, _drilled(plan, "up"))
    member = _member(plan, hole["member"])
    hole["across_in"] = member["across"][1] - hole["diameter_in"] / 2 - 0.25
    return _again(plan, hole)


@planted("plate-missing")
def hole_toward_face(plan: Plan, rng: random.Random) -> bool:
    """The hole is moved by tape and world alike until a face is near; nobody adds the plate."""
    plain = [h for h in _drilled(plan, "up") if not any(p["hole"] == h["id"] for p in plan["plates"])]
    if not plain:
        return False
    hole = _pick(rng, plain)
    member = _member(plan, hole["member"])
    hole["across_in"] = member["across"][1] - hole["diameter_in"] / 2 - 1.0
    return _again(plan, hole)


def _again(plan: Plan, hole: dict[str, Any]) -> bool:
    """World coordinates of a plate hole from its tape coordinates."""
    wall = next(w for w in plan["job"]["walls"] if w["id"] == hole["wall"])
    (x0, y0), (x1, y1) = wall["start"], wall["end"]
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    hole["x"] = x0 + ux * hole["along_in"] - uy * hole["across_in"]
    hole["y"] = y0 + uy * hole["along_in"] + ux * hole["across_in"]
    return True


@planted("hole-never")
def hole_in_never_member(plan: Plan, rng: random.Random) -> bool:
    """The hole is said to be in a truss, a beam or a header."""
    never = [m for m in plan["members"] if m["role"] in ("header", "beam") or m["material"] == "truss"]
    member = _pick(rng, never)
    hole = _pick(rng, _drilled(plan))
    old = hole["member"]
    hole["member"] = member["id"]
    for run in plan["runs"]:
        for i, name in enumerate(run["path_holes"]):
            if name == hole["id"]:
                run["path"][i][3] = member["id"]
    return old != member["id"]


@planted("hole-in-nothing")
def hole_in_no_member(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["holes"])["member"] = "A-W99/stud-1"
    return True


@planted("knockout-moved")
def knockout_moved(plan: Plan, rng: random.Random) -> bool:
    """A knockout hole and the paths through it move along the joist together."""
    joists = {m["id"]: m for m in plan["members"] if m["role"] == "I-joist"}
    holes = [h for h in plan["holes"] if h["member"] in joists]
    if not holes:
        return False
    hole = _pick(rng, holes)
    by = rng.choice((-3.0, 1.0, 4.5))
    box = joists[hole["member"]]["box"]
    axis = "x" if box[3] - box[0] > box[4] - box[1] else "y"
    hole["along_in"] += by
    hole[axis] += by
    for run in plan["runs"]:
        for i, name in enumerate(run["path_holes"]):
            if name == hole["id"]:
                run["path"][i][0 if axis == "x" else 1] += by
    return True


@planted("knockout-moved")
def opening_invented(plan: Plan, rng: random.Random) -> bool:
    """A hole to drill is told as one that is there already."""
    wood = {m["id"] for m in plan["members"] if m["material"] == "wood"}
    _pick(rng, [h for h in _drilled(plan) if h["member"] in wood])["open_passage"] = True
    return True


@planted("holes-too-near")
def hole_doubled(plan: Plan, rng: random.Random) -> bool:
    hole = dict(_pick(rng, _drilled(plan)))
    hole["id"] = "H999"
    plan["holes"].append(hole)
    return True


@planted("id-twice")
def hole_id_twice(plan: Plan, rng: random.Random) -> bool:
    a, b = rng.sample(plan["holes"], 2)
    b["id"] = a["id"]
    return True


@planted("occupants-differ")
def occupant_missing(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, [h for h in plan["holes"] if h["occupants"]])
    i = rng.randrange(len(hole["occupants"]))
    hole["occupants"].pop(i)
    hole["circles"].pop(i)
    return True


@planted("occupants-differ")
def occupant_stray(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, plan["holes"])
    others = [r["id"] for r in plan["runs"] if r["id"] not in hole["occupants"]]
    if not others:
        return False
    hole["occupants"][rng.randrange(len(hole["occupants"]))] = _pick(rng, others)
    return True


@planted("circles-overlap")
def circles_overlap(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, [h for h in plan["holes"] if len(h["circles"]) > 1])
    if hole is None:
        return False
    hole["circles"][0][:2] = hole["circles"][1][:2]
    return True


@planted("circle-outside")
def circle_outside(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, plan["holes"])
    hole["circles"][0][0] = hole["diameter_in"] / 2
    return True


@planted("circle-wrong")
def circle_thin(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, _pick(rng, plan["holes"])["circles"])[2] *= 0.8
    return True


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
    run, i = _pick(rng, turns)
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
    body = _pick(rng, bodies)
    x, y = body["center"] or [
        (body["rect"][0] + body["rect"][2]) / 2,
        (body["rect"][1] + body["rect"][3]) / 2,
    ]
    z = sum(body["z_in"]) / 2
    run = _pick(
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
    run = _pick(rng, [r for r in plan["runs"] if len(r["path"]) > 2])
    i = rng.randrange(1, len(run["path"]))
    room = _pick(rng, plan["job"]["rooms"])
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
    run = _pick(rng, [r for r in plan["runs"] if any(r["path_holes"])])
    wood = {h["id"] for h in plan["holes"] if h["axis"] != "across"}
    passed = [i for i, h in enumerate(run["path_holes"]) if h in wood]
    if not passed:
        return False
    i = _pick(rng, passed)
    run["path_holes"][i], run["path"][i][3] = None, None
    return True


@planted("crosses-never-member")
def path_through_chord(plan: Plan, rng: random.Random) -> bool:
    """A detour lengthwise through a truss chord, a header or a beam."""
    never = [m for m in plan["members"] if m["role"] in ("header", "beam") or m["material"] == "truss"]
    box = _pick(rng, never)["box"]
    run = _pick(rng, plan["runs"])
    a = run["path"][0][:3]
    middle = [(box[k] + box[k + 3]) / 2 for k in range(3)]
    there = [[*a[:2], middle[2]], [middle[0], a[1], middle[2]], middle]
    detour = [[*p, None] for p in (*there, *reversed(there[:-1]), a)]
    run["path"][1:1] = detour
    run["path_holes"][1:1] = [None] * len(detour)
    return True


@planted("end-misplaced")
def endpoint_moved(plan: Plan, rng: random.Random) -> bool:
    run = _pick(rng, plan["runs"])
    run["path"][rng.choice((0, -1))][2] += rng.choice((-2.0, 1.0))
    return True


@planted("end-misplaced")
def entry_changed(plan: Plan, rng: random.Random) -> bool:
    runs = [r for r in plan["runs"] if r["entry"]]
    run = _pick(rng, runs)
    run["entry"] = "bottom" if run["entry"] == "top" else "top"
    return True


@planted("run-lost")
def run_forgotten(plan: Plan, rng: random.Random) -> bool:
    plan["runs"].pop(rng.randrange(len(plan["runs"])))
    return True


@planted("run-not-wished")
def kind_changed(plan: Plan, rng: random.Random) -> bool:
    run = _pick(rng, plan["runs"])
    run["kind"] = "X" if run["kind"] != "X" else "D"
    return True


@planted("length-wrong")
def length_shortened(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["runs"])["length_in"] -= rng.choice((0.5, 12.0, 120.0))
    return True


@planted("length-wrong")
def length_list_shortened(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["lengths"])["length_in"] -= 6.0
    return True


@planted("slack-wrong")
def slack_stolen(plan: Plan, rng: random.Random) -> bool:
    run = _pick(rng, plan["runs"])
    run[rng.choice(("slack_from_in", "slack_to_in"))] -= 6.0
    return True


@planted("cut-short")
def cut_shortened(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, _pick(rng, plan["boxes"])["cuts"])[1] -= 12.0
    return True


@planted("plate-missing")
def plate_removed(plan: Plan, rng: random.Random) -> bool:
    if not plan["plates"]:
        return False
    plan["plates"].pop(rng.randrange(len(plan["plates"])))
    return True


@planted("plate-extra")
def plate_added(plan: Plan, rng: random.Random) -> bool:
    plated = {(p["hole"], p["side"]) for p in plan["plates"]}
    hole = _pick(rng, [h for h in plan["holes"] if (h["id"], "left") not in plated])
    plan["plates"].append(
        {
            "id": "P999", "hole": hole["id"], "member": hole["member"], "side": "left", "face": "Hall",
            "length_in": 5.0, "width_in": 1.5, "pieces": 1, "reason": "",
        }
    )  # fmt: skip
    return True


@planted("strap-missing")
def strap_removed(plan: Plan, rng: random.Random) -> bool:
    if not plan["straps"]:
        return False
    plan["straps"].pop(rng.randrange(len(plan["straps"])))
    return True


@planted("strap-missing")
def cut_widened(plan: Plan, rng: random.Random) -> bool:
    """A hole of a loaded top plate grows past half of it and gets no strap."""
    loaded = {
        m["id"]: m["across"][1] - m["across"][0]
        for m in plan["members"]
        if m["role"] == "top plate" and m["material"] == "wood" and (m["bearing"] or m["exterior"])
    }
    bare = {w["id"] for w in plan["job"]["walls"] if not w["sheathed"]}
    holes = [h for h in _drilled(plan, "up") if h["member"] in loaded and h["wall"] in bare]
    if not holes:
        return False
    hole = _pick(rng, holes)
    hole["diameter_in"] = loaded[hole["member"]] / 2 + 0.25
    return not any(s["hole"] == hole["id"] for s in plan["straps"])


@planted("strap-extra")
def strap_added(plan: Plan, rng: random.Random) -> bool:
    strapped = {s["hole"] for s in plan["straps"]}
    hole = _pick(rng, [h for h in plan["holes"] if h["id"] not in strapped])
    plan["straps"].append(
        {"id": "ST999", "hole": hole["id"], "member": hole["member"], "length_in": 14.0, "reason": ""}
    )
    return True


@planted("seal-missing")
def seal_removed(plan: Plan, rng: random.Random) -> bool:
    plan["seals"].remove(_pick(rng, [s for s in plan["seals"] if s["hole"]]))
    return True


@planted("seal-extra")
def seal_doubled(plan: Plan, rng: random.Random) -> bool:
    plan["seals"].append(dict(_pick(rng, [s for s in plan["seals"] if s["hole"]])))
    return True


@planted("grommet-wrong")
def grommet_added(plan: Plan, rng: random.Random) -> bool:
    hole = _pick(rng, plan["holes"])
    plan["grommets"].append({"id": "G999", "hole": hole["id"], "member": hole["member"], "size_in": 1.0})
    return True


@planted("pull-wrong")
def run_in_two_pulls(plan: Plan, rng: random.Random) -> bool:
    a, b = rng.sample(plan["pulls"], 2)
    b["runs"].append(_pick(rng, a["runs"]))
    return True


@planted("pull-wrong")
def run_in_no_pull(plan: Plan, rng: random.Random) -> bool:
    pull = _pick(rng, plan["pulls"])
    pull["runs"].pop(rng.randrange(len(pull["runs"])))
    return True


@planted("box-wrong")
def box_overdrawn(plan: Plan, rng: random.Random) -> bool:
    """The box starts with what its cuts take, so that no reserve is left; its rest adds up."""
    box = _pick(rng, plan["boxes"])
    box["start_ft"] = sum(length for _, length in box["cuts"]) / 12 + 1.0
    box["left_ft"] = 1.0
    return True


@planted("box-wrong")
def rest_wrong(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["boxes"])["left_ft"] += rng.choice((-20.0, 15.0))
    return True


@planted("run-cut-wrong")
def run_cut_twice(plan: Plan, rng: random.Random) -> bool:
    box = _pick(rng, plan["boxes"])
    box["cuts"].append(list(_pick(rng, box["cuts"])))
    return True


@planted("label-wrong")
def label_twice(plan: Plan, rng: random.Random) -> bool:
    a, b = rng.sample(plan["labels"], 2)
    b["mark"] = a["mark"]
    return True


@planted("label-wrong")
def label_lost(plan: Plan, rng: random.Random) -> bool:
    plan["labels"].pop(rng.randrange(len(plan["labels"])))
    return True


@planted("drill-row-wrong")
def bit_mistold(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["drill"])["bit_in"] += 0.125
    return True


@planted("location-misplaced")
def location_shifted(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, [q for q in plan["locations"] if q["at"]])["at"][rng.randrange(3)] += 1.0
    return True


@planted("totals-wrong")
def total_wrong(plan: Plan, rng: random.Random) -> bool:
    names = sorted(k for k, v in plan["totals"].items() if isinstance(v, int | float))
    plan["totals"][_pick(rng, names)] += 1
    return True


@planted("totals-wrong")
def feet_wrong(plan: Plan, rng: random.Random) -> bool:
    _pick(rng, plan["totals"]["feet_by_kind"])[1] += 3.0
    return True


@planted("other-job")
def other_revision(plan: Plan, rng: random.Random) -> bool:
    plan["job"]["revision"]["number"] = f"{plan['job']['revision']['number']}{rng.randrange(9)}"
    return True
