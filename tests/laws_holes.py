"""Laws of holes: inside their members, legal or told, apart, and filled no more than they hold."""

from __future__ import annotations

import math
from collections.abc import Iterable

from bayrun.findings import Finding
from bayrun.framing import Frame, Member
from bayrun.house import Job
from bayrun.wiring import Hole, Wiring
from laws_places import (
    LOOSE,
    TOUCH,
    axis_of,
    broken,
    tell,
    wall_to_world,
)


def _across_room(member: Member, hole: Hole) -> list[tuple[str, float, tuple[float, float]]]:
    """(direction, center, extent of the member) in the two directions that a hole's circle spans."""
    if hole.axis == "along":
        return [("up", hole.up_in, member.up), ("across", hole.across_in, member.across)]
    if hole.axis == "up":
        return [("along", hole.along_in, member.along), ("across", hole.across_in, member.across)]
    low = member.box.z0
    return [("up", hole.across_in + low, (low, member.box.z1))]


def holes_are_inside_their_members(job: Job, frame: Frame, wiring: Wiring) -> None:
    """The whole circle lies in the wood, and member coordinates and world coordinates say the same."""
    law = "a hole is inside its member"
    members = {m.id: m for m in frame.members}
    walls = {w.id: w for w in job.walls}
    for hole in wiring.holes:
        radius = hole.diameter_in / 2
        if radius <= 0:
            raise broken(job, law, f"hole {hole.id} has no size")
        for name in (hole.member, *hole.plies):
            member = members.get(name)
            if member is None:
                if hole.open_passage:
                    continue
                raise broken(job, law, f"hole {hole.id} is in {name}, which is no member")
            b, center = member.box, (hole.x, hole.y, hole.z)
            wall = walls.get(member.host)
            if wall is None or wall.start[0] == wall.end[0] or wall.start[1] == wall.end[1]:
                axis = axis_of(job, member, hole)
                for c, lo, hi, along_axis, word in zip(
                    center, (b.x0, b.y0, b.z0), (b.x1, b.y1, b.z1), axis, "xyz", strict=True
                ):
                    if abs(along_axis) < 0.5 and not lo + radius - TOUCH <= c <= hi - radius + TOUCH:
                        raise broken(
                            job, law, f"hole {hole.id} leaves {name}: {word} {c:.4f} in {lo:.4f} to {hi:.4f}"
                        )
        _lies_along_its_axis(job, hole, [members[n] for n in (hole.member, *hole.plies) if n in members])
        member = members.get(hole.member)
        if member is None:
            continue
        wall = walls.get(member.host)
        if wall is not None:
            level_z = next(q.subfloor_z_in for q in job.levels if q.id == wall.level)
            x, y = wall_to_world(wall, hole.along_in, hole.across_in)
            told = (x, y, level_z + hole.up_in)
            if math.dist(told, (hole.x, hole.y, hole.z)) > LOOSE:
                raise broken(
                    job,
                    law,
                    f"hole {hole.id}: tape says {tell(told)}, world {tell((hole.x, hole.y, hole.z))}",
                )
            for word, at, (lo, hi) in _across_room(member, hole):
                if not lo + radius - TOUCH <= at <= hi - radius + TOUCH:
                    raise broken(
                        job, law, f"hole {hole.id} leaves {member.id} {word}: {at:.4f} in {lo} to {hi}"
                    )
        elif (
            hole.axis == "across"
            and member.role != "barrier"
            and abs(hole.z - member.box.z0 - hole.across_in) > LOOSE
        ):
            raise broken(
                job,
                law,
                f"hole {hole.id}: {hole.across_in} above the bottom of {member.id}, world z {hole.z}",
            )


def _lies_along_its_axis(job: Job, hole: Hole, pieces: list[Member]) -> None:
    """The center named for a hole lies between the mouths of its bore through all plies."""
    if not pieces:
        return
    axis = axis_of(job, pieces[0], hole)
    mouths: list[float] = []
    for member in pieces:
        b = member.box
        mouths += [
            sum(k * c for k, c in zip(axis, p, strict=True)) for p in ((b.x0, b.y0, b.z0), (b.x1, b.y1, b.z1))
        ]
    at = sum(k * c for k, c in zip(axis, (hole.x, hole.y, hole.z), strict=True))
    askew = sum(abs(k) > TOUCH for k in axis) > 1
    if not askew and not min(mouths) - TOUCH <= at <= max(mouths) + TOUCH:
        raise broken(
            job,
            "a hole is inside its member",
            f"hole {hole.id} stands at {at:.4f} along its axis, outside {pieces[0].id} and its plies",
        )


def unlawful(job: Job, member: Member, hole: Hole, ply: bool = False) -> str:
    """Why one hole in one member is against the numbers, or empty. Open passages are not drilled.

    Source: IRC 2021 R602.6 (studs: 40 % bearing or exterior, 60 % otherwise, 5/8 in of edge), R502.8.1 and
    R802.7.1 (joists: depth / 3, 2 in of edge), makers' rule for flanges and trusses, as in BUILDING 2.
    """
    diameter, radius = hole.diameter_in, hole.diameter_in / 2
    if member.never_drilled:
        return f"{member.id} is a {member.role} of {member.material}: never drilled"
    if member.material == "steel" and not hole.open_passage:
        return "" if "plate" in member.role else f"{member.id} is steel: its punched holes only"
    if member.material == "I-joist":
        frame = next((f for f in job.frames if f.id == member.host), None)
        edge = min(hole.z - member.box.z0, member.box.z1 - hole.z) - radius
        flange = (frame.flange_depth_in if frame else None) or 1.5
        if edge < flange - TOUCH:
            return f"it cuts the flange of {member.id}"
        if not hole.open_passage:
            return f"{member.id} takes factory knockouts only"
        if frame is None or frame.knockouts is None or diameter > frame.knockouts.diameter_in + TOUCH:
            return f"nobody has a chart that gives {member.id} such a knockout"
        return ""
    if hole.open_passage:
        return ""
    if hole.axis == "along":
        width = member.across[1] - member.across[0]
        share = 0.4 if member.bearing or member.exterior else 0.6
        edge = min(hole.across_in - member.across[0], member.across[1] - hole.across_in) - radius
        if diameter > share * width + TOUCH:
            return f"{diameter} in is over {share:.0%} of {width} in ({member.id})"
        if edge < 0.625 - TOUCH:
            return f"its edge is {edge:.4f} in from the edge of {member.id}, under 5/8 in"
    elif hole.axis == "across" and member.role in ("joist", "rafter"):
        depth = member.box.z1 - member.box.z0
        edge = min(hole.z - member.box.z0, member.box.z1 - hole.z) - radius
        if diameter > depth / 3 + TOUCH:
            return f"{diameter} in is over a third of {depth} in ({member.id})"
        if edge < 2 - TOUCH:
            return f"its edge is {edge:.4f} in from the edge of {member.id}, under 2 in"
    return ""


def holes_are_legal_or_told(
    job: Job, frame: Frame, wiring: Wiring, findings: Iterable[Finding] | None
) -> None:
    """Each hole keeps the code's numbers, or a finding names it."""
    members = {m.id: m for m in frame.members}
    told = {name for f in findings or () for name in f.about}
    for hole in wiring.holes:
        for name in (hole.member, *hole.plies):
            member = members.get(name)
            why = unlawful(job, member, hole, name != hole.member) if member else ""
            if why and hole.id not in told:
                raise broken(job, "a hole is legal or told", f"hole {hole.id} of {hole.occupants[:1]}: {why}")


def holes_keep_their_distance(job: Job, wiring: Wiring) -> None:
    """Two holes of one member never cut into each other."""
    by_member: dict[str, list[Hole]] = {}
    for hole in wiring.holes:
        for name in {hole.member, *hole.plies}:
            by_member.setdefault(name, []).append(hole)
    for name, holes in by_member.items():
        for i, a in enumerate(holes):
            for b in holes[i + 1 :]:
                if a.axis != b.axis:
                    continue
                apart = _apart(a, b)
                if apart < (a.diameter_in + b.diameter_in) / 2 - TOUCH:
                    raise broken(
                        job,
                        "holes keep their distance",
                        f"holes {a.id} and {b.id} in {name} are {apart:.4f} in apart, center to center",
                    )


def _apart(a: Hole, b: Hole) -> float:
    """Center to center in the plane of two holes of one axis in one member."""
    if a.axis == "up":
        return math.hypot(a.x - b.x, a.y - b.y)
    if a.axis == "along":
        return math.hypot(a.up_in - b.up_in, a.across_in - b.across_in)
    return math.hypot(a.along_in - b.along_in, a.z - b.z)


def occupants_fit(job: Job, wiring: Wiring) -> None:
    """Cables lie in a hole as circles that do not overlap, inside it, with the firm's fill, 60 % at most."""
    law = "occupants fit"
    kinds = {k.letter: k.diameter_in for k in job.practice.cables}
    runs = {r.id: r for r in wiring.runs}
    for hole in wiring.holes:
        if len(hole.circles) != len(hole.occupants):
            raise broken(
                job, law, f"hole {hole.id} has {len(hole.occupants)} runs and {len(hole.circles)} circles"
            )
        for name, c in zip(hole.occupants, hole.circles, strict=True):
            wanted = kinds[runs[name].kind] / 2
            if abs(c.r - wanted) > TOUCH:
                raise broken(
                    job, law, f"hole {hole.id}: run {name} is drawn {2 * c.r} in thick, it is {2 * wanted}"
                )
            if math.hypot(c.x, c.y) + c.r > hole.diameter_in / 2 + LOOSE:
                raise broken(job, law, f"hole {hole.id}: run {name} does not lie inside it")
        for i, a in enumerate(hole.circles):
            for j in range(i + 1, len(hole.circles)):
                b = hole.circles[j]
                if math.hypot(a.x - b.x, a.y - b.y) < a.r + b.r - LOOSE:
                    raise broken(
                        job, law, f"hole {hole.id}: runs {hole.occupants[i]} and {hole.occupants[j]} overlap"
                    )
        fill = sum(4 * c.r * c.r for c in hole.circles) / hole.diameter_in**2
        most = min(job.practice.fill_max, 0.60)
        if fill > most + 1e-9:
            raise broken(job, law, f"hole {hole.id} is {fill:.1%} full, the firm's most is {most:.0%}")
