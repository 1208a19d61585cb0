"""Laws that hold for every plan of every house, wrapped around every planning test.

Each law is a function that raises AssertionError with the house, run and hole it speaks of. The
arithmetic here is the laws' own: it uses the records, never the code of framing, routing, limits,
cables or takeoff, so that a slip there does not hide itself here.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from typing import Any

from bayrun.findings import Finding
from bayrun.framing import Frame
from bayrun.house import End, Job
from bayrun.wiring import Hole, Run, Wiring
from laws_holes import (
    holes_are_inside_their_members,
    holes_are_legal_or_told,
    holes_keep_their_distance,
    occupants_fit,
    unlawful,
)
from laws_places import (
    LOOSE,
    TOUCH,
    V3,
    broken,
    entry_points,
    point_of_location,
    tell,
    xyz,
)
from laws_wood import (
    barriers_are_kept,
    members_are_crossed_only_at_holes,
    obstacles_are_never_crossed,
    runs_stay_in_walls_floors_and_attics,
)

__all__ = [
    "barriers_are_kept",
    "check_laws",
    "each_run_is_in_one_pull",
    "every_wish_is_planned_or_told",
    "faces_to_plate",
    "holes_and_runs_agree",
    "holes_are_inside_their_members",
    "holes_are_legal_or_told",
    "holes_keep_their_distance",
    "ids_are_unique",
    "labels_are_unique",
    "lengths_are_segments_plus_slack",
    "members_are_crossed_only_at_holes",
    "no_run_is_shorter_than_square",
    "obstacles_are_never_crossed",
    "occupants_fit",
    "paths_are_continuous",
    "plates_equal_near_faces",
    "runs_end_where_they_should",
    "runs_stay_in_walls_floors_and_attics",
    "slacks_are_the_firms",
    "unlawful",
]


def check_laws(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    takeoff: Any = None,
    findings: Iterable[Finding] | None = None,
) -> None:
    """Every law on one plan.

    Args:
        takeoff: Has ``pulls``, ``plates``, ``labels``; laws about them are skipped where it is None.
        findings: Findings of the rules; an illegal hole that one of them names is told, so it passes.
    Raises:
        AssertionError: The first law that is broken, naming house, run and hole.
    """
    every_wish_is_planned_or_told(job, wiring)
    ids_are_unique(job, wiring)
    paths_are_continuous(job, wiring)
    runs_end_where_they_should(job, wiring)
    holes_and_runs_agree(job, wiring)
    runs_stay_in_walls_floors_and_attics(job, wiring)
    members_are_crossed_only_at_holes(job, frame, wiring)
    obstacles_are_never_crossed(job, wiring)
    barriers_are_kept(job, wiring)
    holes_are_inside_their_members(job, frame, wiring)
    holes_are_legal_or_told(job, frame, wiring, findings)
    holes_keep_their_distance(job, wiring)
    occupants_fit(job, wiring)
    slacks_are_the_firms(job, wiring)
    lengths_are_segments_plus_slack(job, wiring, takeoff)
    no_run_is_shorter_than_square(job, wiring)
    if takeoff is not None:
        each_run_is_in_one_pull(job, wiring, takeoff.pulls)
        labels_are_unique(job, wiring, takeoff.labels)
        plates_equal_near_faces(job, frame, wiring, takeoff.plates)


def every_wish_is_planned_or_told(job: Job, wiring: Wiring) -> None:
    """Each wished run is either a run or told as unreached, once; nothing else is planned."""
    law = "every wish is planned or told"
    planned = Counter(r.id for r in wiring.runs) + Counter(u.run for u in wiring.unreached)
    wished = Counter(r.id for r in job.runs)
    if planned != wished:
        lost, extra = sorted((wished - planned).elements()), sorted((planned - wished).elements())
        raise broken(job, law, f"lost {lost}, twice or never wished {extra}")
    wishes = {r.id: r for r in job.runs}
    for run in wiring.runs:
        wish = wishes[run.id]
        if (run.kind, run.from_end, run.to_end) != (wish.kind, wish.from_end, wish.to_end):
            raise broken(job, law, f"run {run.id} is not the run that was wished")
    for told in wiring.unreached:
        if not told.last_place or not told.barred_by:
            raise broken(job, law, f"unreached run {told.run} does not say how far it came and what bars it")


def ids_are_unique(job: Job, wiring: Wiring) -> None:
    """No two holes share an id, no two runs."""
    for what, ids in (("hole", [h.id for h in wiring.holes]), ("run", [r.id for r in wiring.runs])):
        twice = [i for i, n in Counter(ids).items() if n > 1]
        if twice:
            raise broken(job, "ids are unique", f"{what} {twice[0]} stands twice")


def paths_are_continuous(job: Job, wiring: Wiring) -> None:
    """A path has two points or more, all of them numbers, and its places follow without a jump.

    A polyline cannot jump by itself; a missing point shows as a segment that is not square to the
    house. So where the firm runs square, every segment runs along one axis of the house.
    """
    law = "a path is continuous"
    square = not job.practice.straight_in_open_space and all(
        w.start[0] == w.end[0] or w.start[1] == w.end[1] for w in job.walls
    )
    for run in wiring.runs:
        if len(run.path) < 2:
            raise broken(job, law, f"run {run.id} has {len(run.path)} points")
        for a, b in zip(run.path, run.path[1:], strict=False):
            p, q = xyz(a), xyz(b)
            if not all(map(math.isfinite, (*p, *q))):
                raise broken(job, law, f"run {run.id} has a point that is no number: {p} {q}")
            moves = sum(abs(u - v) > TOUCH for u, v in zip(p, q, strict=True))
            if square and moves > 1:
                raise broken(job, law, f"run {run.id} jumps from {tell(p)} to {tell(q)}")


def _end_points(job: Job, end: End, entry: str) -> list[V3]:
    if end.type == "location":
        return [point_of_location(job, next(q for q in job.locations if q.id == end.id))]
    gear = next((g for g in job.gear if g.id == end.id), None)
    if end.type == "device" and gear is not None and not gear.in_enclosure:
        assert gear.x_in is not None
        assert gear.y_in is not None
        assert gear.z_in is not None
        return [(gear.x_in, gear.y_in, gear.z_in)]
    name = gear.enclosure if end.type == "device" and gear is not None else end.id
    built = {job.enclosure, *job.second_enclosures}
    box = next((e for e in job.enclosures if e.id == name and e.id in built), job.chosen_enclosure)
    assert box is not None
    points = entry_points(job, box)
    return [points[entry]] if entry in points else []


def runs_end_where_they_should(job: Job, wiring: Wiring) -> None:
    """A path starts and ends at its location's box, its device, or the enclosure's entry."""
    for run in wiring.runs:
        entries = run.entry.split("/")  # two of them between two enclosures
        for which, end, point, entry in (
            ("start", run.from_end, run.path[0], entries[0]),
            ("end", run.to_end, run.path[-1], entries[-1]),
        ):
            if not any(math.dist(xyz(point), p) <= LOOSE for p in _end_points(job, end, entry)):
                where = _end_points(job, end, entry)
                raise broken(
                    job,
                    "a run ends where it should",
                    f"run {run.id}: its {which} is {tell(xyz(point))}, {end.type} {end.id} is {where} "
                    f"(entry {run.entry or 'not named'})",
                )


def holes_and_runs_agree(job: Job, wiring: Wiring) -> None:
    """A run passes a hole exactly where the hole lists it, once, and at the hole's own place."""
    law = "holes and runs agree"
    holes = {h.id: h for h in wiring.holes}
    passes: dict[str, list[str]] = {h: [] for h in holes}
    for run in wiring.runs:
        for point in run.path:
            if not point.hole:
                continue
            hole = holes.get(point.hole)
            if hole is None:
                raise broken(job, law, f"run {run.id} passes hole {point.hole}, which is nowhere")
            passes[hole.id].append(run.id)
            if point.member and point.member not in (hole.member, *hole.plies):
                raise broken(
                    job, law, f"run {run.id}: hole {hole.id} is in {hole.member}, not in {point.member}"
                )
            if (
                math.dist(xyz(point), (hole.x, hole.y, hole.z))
                > hole.diameter_in / 2 + _hole_depth(hole) + LOOSE
            ):
                raise broken(
                    job, law, f"run {run.id} says it passes hole {hole.id} but stands at {tell(xyz(point))}"
                )
    for hole in wiring.holes:
        listed = Counter(hole.occupants)
        if len(listed) != len(hole.occupants):
            raise broken(job, law, f"hole {hole.id} lists a run twice")
        if set(listed) != set(passes[hole.id]):
            odd = sorted(set(listed) ^ set(passes[hole.id]))
            raise broken(job, law, f"hole {hole.id} and the paths differ about {odd}")
        if not hole.occupants and hole.set_by != "done" and not hole.open_passage:
            raise broken(job, law, f"hole {hole.id} is drilled for nobody")


def _hole_depth(hole: Hole) -> float:
    """A point on a hole's axis may stand at either mouth: no member of a house is thicker than this [in]."""
    return 6.0 + 3.0 * len(hole.plies)


def _slack(job: Job, end: End) -> float:
    slack = job.practice.slack
    if end.type == "location":
        location = next(q for q in job.locations if q.id == end.id)
        if location.slack_in is not None:
            return location.slack_in
        return float(getattr(slack, f"{location.mount}_in"))
    gear = next((g for g in job.gear if g.id == end.id), None)
    if end.type == "device" and gear is not None and not gear.in_enclosure:
        return slack.gear_in if gear.slack_in is None else gear.slack_in
    box = next((e for e in job.enclosures if e.id == end.id), job.chosen_enclosure)
    assert box is not None
    return slack.enclosure_in + box.height_in + box.width_in / 2


def slacks_are_the_firms(job: Job, wiring: Wiring) -> None:
    """Slack at each end is the firm's; at the enclosure past its far corner from the entry."""
    for run in wiring.runs:
        for end, got in ((run.from_end, run.slack_from_in), (run.to_end, run.slack_to_in)):
            wanted = _slack(job, end)
            if abs(got - wanted) > TOUCH:
                raise broken(
                    job,
                    "slack is the firm's",
                    f"run {run.id} leaves {got} in at {end.type} {end.id}, not {wanted}",
                )


def _way(run: Run) -> float:
    return math.fsum(math.dist(xyz(a), xyz(b)) for a, b in zip(run.path, run.path[1:], strict=False))


def lengths_are_segments_plus_slack(job: Job, wiring: Wiring, takeoff: Any = None) -> None:
    """The length of a run is its segments and both slacks, in the plan and on the list."""
    law = "a length is its segments plus slack"
    rows = {row.run: row for row in takeoff.lengths} if takeoff is not None else {}
    for run in wiring.runs:
        wanted = _way(run) + run.slack_from_in + run.slack_to_in
        if abs(run.length_in - wanted) > LOOSE:
            raise broken(job, law, f"run {run.id} says {run.length_in}, its segments and slack are {wanted}")
        if takeoff is None:
            continue
        if run.id not in rows:
            raise broken(job, law, f"run {run.id} is on no length list")
        row = rows[run.id]
        if abs(row.length_in - wanted) > LOOSE or row.cut_in < wanted - LOOSE:
            raise broken(
                job, law, f"run {run.id}: the list says {row.length_in}, cut {row.cut_in}, not {wanted}"
            )


def no_run_is_shorter_than_square(job: Job, wiring: Wiring) -> None:
    """Where the firm runs square, no way is under the rectilinear distance of its ends."""
    if job.practice.straight_in_open_space:
        return
    for run in wiring.runs:
        a, b = xyz(run.path[0]), xyz(run.path[-1])
        least = sum(abs(u - v) for u, v in zip(a, b, strict=True))
        if run.length_in < least + run.slack_from_in + run.slack_to_in - LOOSE:
            raise broken(
                job,
                "no run is shorter than square",
                f"run {run.id}: way {run.path_in:.4f}, square {least:.4f}",
            )


def each_run_is_in_one_pull(job: Job, wiring: Wiring, pulls: Iterable[Any]) -> None:
    """Every planned run is pulled once, nothing else is."""
    pulled = Counter(run for pull in pulls for run in pull.runs)
    for run in wiring.runs:
        if pulled[run.id] != 1:
            raise broken(job, "each run is in one pull", f"run {run.id} is in {pulled[run.id]} pulls")
    extra = sorted(set(pulled) - {r.id for r in wiring.runs})
    if extra:
        raise broken(job, "each run is in one pull", f"run {extra[0]} is pulled but not planned")


def labels_are_unique(job: Job, wiring: Wiring, labels: Iterable[Any]) -> None:
    """Each run has one label pair, and no two pairs can be read as one another."""
    law = "label pairs are unique"
    labels = tuple(labels)
    for word, values in (
        ("run", [label.run for label in labels]),
        ("mark", [label.mark.casefold().replace("O", "0") for label in labels]),
        ("pair", [(label.mark, label.from_text, label.to_text) for label in labels]),
    ):
        twice = [v for v, n in Counter(values).items() if n > 1]
        if twice:
            raise broken(job, law, f"{word} {twice[0]} stands on two label pairs")
    missing = sorted({r.id for r in wiring.runs} - {label.run for label in labels})
    if missing:
        raise broken(job, law, f"run {missing[0]} has no labels")


def faces_to_plate(frame: Frame, wiring: Wiring) -> set[tuple[str, str]]:
    """(hole, side) wherever a drilled hole leaves under 1-1/4 in of wood before a wall's face.

    Source: NEC 300.4(A)(1), as in BUILDING 3: the edge of the hole to the nearest edge of the member.
    """
    members = {m.id: m for m in frame.members}
    found = set()
    for hole in wiring.holes:
        names = [n for n in (hole.member, *hole.plies) if n in members]
        wood = [members[n] for n in names if members[n].material in ("wood", "engineered", "I-joist")]
        if hole.open_passage or not wood or members[names[0]].role == "barrier":
            continue
        radius = hole.diameter_in / 2
        for member in wood:
            if hole.axis == "across":
                sides = (
                    ("bottom", hole.z - member.box.z0),
                    ("top", member.box.z1 - hole.z),
                )
            else:
                sides = (
                    ("left", member.across[1] - hole.across_in),
                    ("right", hole.across_in - member.across[0]),
                )
            found |= {(hole.id, side) for side, to_face in sides if to_face - radius < 1.25 - TOUCH}
    return found


def plates_equal_near_faces(job: Job, frame: Frame, wiring: Wiring, plates: Iterable[Any]) -> None:
    """A nail plate stands on every face under 1-1/4 in from a hole, and nowhere else."""
    law = "plates equal faces with a margin under 1-1/4 in"
    wanted = faces_to_plate(frame, wiring)
    got = Counter((plate.hole, plate.side) for plate in plates)
    if set(got) != wanted:
        lost, extra = sorted(wanted - set(got)), sorted(set(got) - wanted)
        raise broken(job, law, f"faces without a plate {lost[:3]}, plates without a reason {extra[:3]}")
    twice = [k for k, n in got.items() if n > 1]
    if twice:
        raise broken(job, law, f"hole {twice[0][0]} has two plates on its {twice[0][1]} face")
