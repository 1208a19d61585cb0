"""Faults planted in lengths, steel, seals, pulls, boxes, labels, totals."""

from __future__ import annotations

import random

from audit.planting import Plan, drilled, pick, planted


@planted("length-wrong")
def length_shortened(plan: Plan, rng: random.Random) -> bool:
    pick(rng, plan["runs"])["length_in"] -= rng.choice((0.5, 12.0, 120.0))
    return True


@planted("length-wrong")
def length_list_shortened(plan: Plan, rng: random.Random) -> bool:
    pick(rng, plan["lengths"])["length_in"] -= 6.0
    return True


@planted("slack-wrong")
def slack_stolen(plan: Plan, rng: random.Random) -> bool:
    run = pick(rng, plan["runs"])
    run[rng.choice(("slack_from_in", "slack_to_in"))] -= 6.0
    return True


@planted("cut-short")
def cut_shortened(plan: Plan, rng: random.Random) -> bool:
    pick(rng, pick(rng, plan["boxes"])["cuts"])[1] -= 12.0
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
    hole = pick(rng, [h for h in plan["holes"] if (h["id"], "left") not in plated])
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
    holes = [h for h in drilled(plan, "up") if h["member"] in loaded and h["wall"] in bare]
    if not holes:
        return False
    hole = pick(rng, holes)
    hole["diameter_in"] = loaded[hole["member"]] / 2 + 0.25
    return not any(s["hole"] == hole["id"] for s in plan["straps"])


@planted("strap-extra")
def strap_added(plan: Plan, rng: random.Random) -> bool:
    strapped = {s["hole"] for s in plan["straps"]}
    hole = pick(rng, [h for h in plan["holes"] if h["id"] not in strapped])
    plan["straps"].append(
        {"id": "ST999", "hole": hole["id"], "member": hole["member"], "length_in": 14.0, "reason": ""}
    )
    return True


@planted("seal-missing")
def seal_removed(plan: Plan, rng: random.Random) -> bool:
    plan["seals"].remove(pick(rng, [s for s in plan["seals"] if s["hole"]]))
    return True


@planted("seal-extra")
def seal_doubled(plan: Plan, rng: random.Random) -> bool:
    plan["seals"].append(dict(pick(rng, [s for s in plan["seals"] if s["hole"]])))
    return True


@planted("grommet-wrong")
def grommet_added(plan: Plan, rng: random.Random) -> bool:
    hole = pick(rng, plan["holes"])
    plan["grommets"].append({"id": "G999", "hole": hole["id"], "member": hole["member"], "size_in": 1.0})
    return True


@planted("pull-wrong")
def run_in_two_pulls(plan: Plan, rng: random.Random) -> bool:
    a, b = rng.sample(plan["pulls"], 2)
    b["runs"].append(pick(rng, a["runs"]))
    return True


@planted("pull-wrong")
def run_in_no_pull(plan: Plan, rng: random.Random) -> bool:
    pull = pick(rng, plan["pulls"])
    pull["runs"].pop(rng.randrange(len(pull["runs"])))
    return True


@planted("box-wrong")
def box_overdrawn(plan: Plan, rng: random.Random) -> bool:
    """The box starts with what its cuts take, so that no reserve is left; its rest adds up."""
    box = pick(rng, plan["boxes"])
    box["start_ft"] = sum(length for _, length in box["cuts"]) / 12 + 1.0
    box["left_ft"] = 1.0
    return True


@planted("box-wrong")
def rest_wrong(plan: Plan, rng: random.Random) -> bool:
    pick(rng, plan["boxes"])["left_ft"] += rng.choice((-20.0, 15.0))
    return True


@planted("run-cut-wrong")
def run_cut_twice(plan: Plan, rng: random.Random) -> bool:
    box = pick(rng, plan["boxes"])
    box["cuts"].append(list(pick(rng, box["cuts"])))
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
    pick(rng, plan["drill"])["bit_in"] += 0.125
    return True


@planted("location-misplaced")
def location_shifted(plan: Plan, rng: random.Random) -> bool:
    pick(rng, [q for q in plan["locations"] if q["at"]])["at"][rng.randrange(3)] += 1.0
    return True


@planted("totals-wrong")
def total_wrong(plan: Plan, rng: random.Random) -> bool:
    names = sorted(k for k, v in plan["totals"].items() if isinstance(v, int | float))
    plan["totals"][pick(rng, names)] += 1
    return True


@planted("totals-wrong")
def feet_wrong(plan: Plan, rng: random.Random) -> bool:
    pick(rng, plan["totals"]["feet_by_kind"])[1] += 3.0
    return True


@planted("other-job")
def other_revision(plan: Plan, rng: random.Random) -> bool:
    plan["job"]["revision"]["number"] = f"{plan['job']['revision']['number']}{rng.randrange(9)}"
    return True
