"""Totals, the drill list, locations and the job named: the plan against its own records."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from bayrun.audit.defects import Defect
from bayrun.audit.places import LOOSE_IN, location_at
from bayrun.audit.site import Site
from bayrun.geometry import near


def check_job_named(site: Site) -> Iterator[Defect]:
    """The plan carries the job it was made for."""
    told, job = site.plan.job, site.job
    revision = told.get("revision")
    number = revision.get("number") if isinstance(revision, dict) else None
    if told.get("id") != job.id or number != job.revision.number:
        got = f"{told.get('id')}, revision {number}"
        want = f"{job.id}, revision {job.revision.number}"
        yield Defect(
            "other-job", (job.id,), job.name, f"the plan was made for {got}; the job is {want}", got, want
        )
    for name, n in Counter(r.id for r in site.plan.runs).items():
        if n > 1:
            yield Defect("id-twice", (name,), "runs", f"{n} runs are called {name}")


def check_locations(site: Site) -> Iterator[Defect]:
    """Each location of the job stands in the plan, at its place, with its runs."""
    rows = {str(row["id"]): row for row in site.plan.list("locations")}
    runs: dict[str, set[str]] = {}
    for run in site.plan.runs:
        for kind, name in run.ends:
            if kind == "location":
                runs.setdefault(name, set()).add(run.id)
    for location in site.job.locations:
        place = f"level {location.level}, {location.room}"
        row = rows.pop(location.id, None)
        if row is None:
            says = f"location {location.id} is not in the plan"
            yield Defect("location-misplaced", (location.id,), place, says)
            continue
        at, told = location_at(site.job, location), row.get("at")
        if at is not None and (
            not isinstance(told, list) or len(told) != 3 or math.dist(at, [float(v) for v in told]) > LOOSE_IN
        ):
            says = (
                f"location {location.id} is told at {told}, by the job it is at {[round(v, 4) for v in at]}"
            )
            yield Defect("location-misplaced", (location.id,), place, says)
        if set(row["runs"]) != runs.get(location.id, set()):
            odd = sorted(set(row["runs"]) ^ runs.get(location.id, set()))
            says = f"location {location.id} and the runs differ about {', '.join(odd)}"
            yield Defect("location-misplaced", (location.id,), place, says)
    for name in sorted(rows):
        yield Defect("location-misplaced", (name,), "locations", f"location {name} is not in the job")


def check_drill_list(site: Site) -> Iterator[Defect]:
    """One row a hole, with its bit and its runs."""
    rows = site.plan.list("drill")
    count = Counter(str(row["hole"]) for row in rows)
    for hole in site.plan.holes:
        place = site.place_of_hole(hole)
        if count[hole.id] != 1:
            says = f"hole {hole.id} stands {count[hole.id]} times on the drill list"
            yield Defect("drill-row-wrong", (hole.id,), place, says, count[hole.id], 1)
    for row in rows:
        listed = site.holes.get(str(row["hole"]))
        if listed is None:
            says = f"hole {row['hole']} is on the drill list and not in the plan"
            yield Defect("drill-row-wrong", (str(row["hole"]),), "drill list", says)
            continue
        place = site.place_of_hole(listed)
        if not near(float(row["bit_in"]), listed.diameter_in) or row["drilled"] == listed.open_passage:
            says = f"the drill list says {row['bit_in']} in for hole {listed.id} of {listed.diameter_in} in"
            yield Defect(
                "drill-row-wrong", (listed.id,), place, says, float(row["bit_in"]), listed.diameter_in
            )
        if set(row["runs"]) != set(listed.occupants):
            says = f"the drill list and hole {listed.id} differ about its runs"
            yield Defect("drill-row-wrong", (listed.id,), place, says)


def check_totals(site: Site) -> Iterator[Defect]:
    """Every total is the sum of its records."""
    plan, totals = site.plan, site.plan.totals
    drilled = sum(1 for h in plan.holes if not h.open_passage)
    severities = Counter(str(f["severity"]) for f in plan.list("findings"))
    feet = Counter[str]()
    for run in plan.runs:
        feet[run.kind] += run.length_in / 12  # type: ignore[assignment]
    prices = [Decimal(str(row["price"])) for row in plan.list("material") if row["price"] is not None]
    wanted: dict[str, float] = {
        "locations": len(site.job.locations),
        "runs": len(plan.runs),
        "unreached": len(plan.list("unreached")),
        "feet": math.fsum(feet.values()),
        "holes": drilled,
        "open_passages": len(plan.holes) - drilled,
        "plates": sum(row["pieces"] for row in plan.list("plates")),
        "straps": len(plan.list("straps")),
        "grommets": len(plan.list("grommets")),
        "supports": sum(row["count"] for row in plan.list("supports")),
        "seals": len(plan.list("seals")),
        "pulls": len(plan.list("pulls")),
        "boxes": len(plan.list("boxes")),
        "stops": severities["stop"],
        "fix_soon": severities["fix soon"],
        "notes": severities["note"],
        "cannot_tell": severities["cannot tell"],
        "unpriced": len(plan.list("material")) - len(prices),
    }
    for name, want in wanted.items():
        got = float(totals[name])
        if abs(got - want) > 1e-4:
            says = f"the total of {name.replace('_', ' ')} is told as {got:g}; the records give {want:g}"
            yield Defect("totals-wrong", (name,), "totals", says, got, float(want))
    told = {str(kind): float(length) for kind, length in totals["feet_by_kind"]}
    for kind in sorted(set(told) | set(feet)):
        if abs(told.get(kind, 0.0) - feet[kind]) > 1e-4:
            got = told.get(kind, 0.0)
            says = f"the total of {kind} is told as {got:.2f} ft; the runs give {feet[kind]:.2f} ft"
            yield Defect("totals-wrong", (kind,), "totals", says, told.get(kind, 0.0), float(feet[kind]))
    if Decimal(str(totals["price"])) != sum(prices, Decimal(0)):
        says = f"the price is told as {totals['price']}; the lines add up to {sum(prices, Decimal(0))}"
        yield Defect("totals-wrong", ("price",), "totals", says)
