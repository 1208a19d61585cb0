"""Faults planted in members, bays, holes and bundles."""

from __future__ import annotations

import random
from typing import Any

from audit.planting import Plan, drilled, member_of, pick, planted


@planted("member-missing")
def member_removed(plan: Plan, rng: random.Random) -> bool:
    plan["members"].pop(rng.randrange(len(plan["members"])))
    return True


@planted("member-extra")
def stud_added(plan: Plan, rng: random.Random) -> bool:
    stud = dict(pick(rng, [m for m in plan["members"] if m["role"] == "stud"]))
    stud["id"] += "-again"
    plan["members"].append(stud)
    return True


@planted("member-moved")
def stud_moved(plan: Plan, rng: random.Random) -> bool:
    stud = pick(
        rng, [m for m in plan["members"] if m["role"] in ("stud", "king", "cripple", "joist", "I-joist")]
    )
    by = rng.choice((-2.0, -0.25, 0.0625, 1.5))
    stud["along"] = [v + by for v in stud["along"]]
    return True


@planted("member-moved")
def header_lifted(plan: Plan, rng: random.Random) -> bool:
    header = pick(rng, [m for m in plan["members"] if m["role"] in ("header", "sill")])
    header["up"] = [v + 0.5 for v in header["up"]]
    return True


@planted("member-mistold")
def wall_called_free(plan: Plan, rng: random.Random) -> bool:
    member = pick(rng, [m for m in plan["members"] if m["bearing"]])
    member["bearing"] = False
    return True


@planted("member-mistold")
def truss_called_wood(plan: Plan, rng: random.Random) -> bool:
    pick(rng, [m for m in plan["members"] if m["material"] == "truss"])["material"] = "wood"
    return True


@planted("bay-wrong")
def bay_widened(plan: Plan, rng: random.Random) -> bool:
    pick(rng, plan["bays"])["clear"][rng.choice((0, 2))] += rng.choice((-0.5, 0.25))
    return True


@planted("bay-missing")
def bay_removed(plan: Plan, rng: random.Random) -> bool:
    plain = [b for b in plan["bays"] if b["id"].rsplit("-", 1)[1].isdigit() and b["over"].endswith("/top")]
    wide = [b for b in plain if b["clear"][2] - b["clear"][0] > 12 and "bottom" in b["under"]]
    plan["bays"].remove(pick(rng, wide))
    return True


@planted("hole-misplaced")
def hole_moved(plan: Plan, rng: random.Random) -> bool:
    hole = pick(rng, plan["holes"])
    hole[rng.choice(("along_in", "up_in"))] += rng.choice((-3.0, 0.5, 2.0))
    return True


@planted("path-misses-hole")
def hole_moved_whole(plan: Plan, rng: random.Random) -> bool:
    """Tape and world agree, but the paths still go the old way."""
    hole = pick(rng, drilled(plan, "up"))
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
    pick(rng, drilled(plan))["diameter_in"] += 0.03
    return True


@planted("hole-too-full")
def hole_shrunk(plan: Plan, rng: random.Random) -> bool:
    full = [h for h in drilled(plan) if len(h["occupants"]) >= 3]
    if not full:
        return False
    pick(rng, full)["diameter_in"] = 0.5
    return True


@planted("hole-near-edge")
def hole_at_edge(plan: Plan, rng: random.Random) -> bool:
    hole = pick(rng, drilled(plan, "up"))
    member = member_of(plan, hole["member"])
    hole["across_in"] = member["across"][1] - hole["diameter_in"] / 2 - 0.25
    return _again(plan, hole)


@planted("plate-missing")
def hole_toward_face(plan: Plan, rng: random.Random) -> bool:
    """The hole is moved by tape and world alike until a face is near; nobody adds the plate."""
    plain = [h for h in drilled(plan, "up") if not any(p["hole"] == h["id"] for p in plan["plates"])]
    if not plain:
        return False
    hole = pick(rng, plain)
    member = member_of(plan, hole["member"])
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
def hole_in_nevermember_of(plan: Plan, rng: random.Random) -> bool:
    """The hole is said to be in a truss, a beam or a header."""
    never = [m for m in plan["members"] if m["role"] in ("header", "beam") or m["material"] == "truss"]
    member = pick(rng, never)
    hole = pick(rng, drilled(plan))
    old = hole["member"]
    hole["member"] = member["id"]
    for run in plan["runs"]:
        for i, name in enumerate(run["path_holes"]):
            if name == hole["id"]:
                run["path"][i][3] = member["id"]
    return old != member["id"]


@planted("hole-in-nothing")
def hole_in_nomember_of(plan: Plan, rng: random.Random) -> bool:
    pick(rng, plan["holes"])["member"] = "A-W99/stud-1"
    return True


@planted("knockout-moved")
def knockout_moved(plan: Plan, rng: random.Random) -> bool:
    """A knockout hole and the paths through it move along the joist together."""
    joists = {m["id"]: m for m in plan["members"] if m["role"] == "I-joist"}
    holes = [h for h in plan["holes"] if h["member"] in joists]
    if not holes:
        return False
    hole = pick(rng, holes)
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
    pick(rng, [h for h in drilled(plan) if h["member"] in wood])["open_passage"] = True
    return True


@planted("holes-too-near")
def hole_doubled(plan: Plan, rng: random.Random) -> bool:
    hole = dict(pick(rng, drilled(plan)))
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
    hole = pick(rng, [h for h in plan["holes"] if h["occupants"]])
    i = rng.randrange(len(hole["occupants"]))
    hole["occupants"].pop(i)
    hole["circles"].pop(i)
    return True


@planted("occupants-differ")
def occupant_stray(plan: Plan, rng: random.Random) -> bool:
    hole = pick(rng, plan["holes"])
    others = [r["id"] for r in plan["runs"] if r["id"] not in hole["occupants"]]
    if not others:
        return False
    hole["occupants"][rng.randrange(len(hole["occupants"]))] = pick(rng, others)
    return True


@planted("circles-overlap")
def circles_overlap(plan: Plan, rng: random.Random) -> bool:
    hole = pick(rng, [h for h in plan["holes"] if len(h["circles"]) > 1])
    if hole is None:
        return False
    hole["circles"][0][:2] = hole["circles"][1][:2]
    return True


@planted("circle-outside")
def circle_outside(plan: Plan, rng: random.Random) -> bool:
    hole = pick(rng, plan["holes"])
    hole["circles"][0][0] = hole["diameter_in"] / 2
    return True


@planted("circle-wrong")
def circle_thin(plan: Plan, rng: random.Random) -> bool:
    pick(rng, pick(rng, plan["holes"])["circles"])[2] *= 0.8
    return True
