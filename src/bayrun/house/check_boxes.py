"""Contradictions about the enclosure candidates: bay, depth, height, knockouts, and which the runs mean."""

from __future__ import annotations

from itertools import pairwise

from bayrun.findings import Finding, Severity
from bayrun.geometry import below
from bayrun.house.building import Wall
from bayrun.house.job import Job
from bayrun.house.places import enclosure_bottom_in, enclosure_top_in, face_room, wall_name
from bayrun.house.solids import fixed_solids, layout_stud_centers_in, openings_of
from bayrun.house.wished import Enclosure
from bayrun.units import tape

_ON_STUD_IN = 0.75
"""A bay stud farther than this from any stud of the layout is not that stud [in]."""
_PROUD_IN = 0.75
"""How far a flush box may stand past studs and board into its trim (common practice, no source) [in]."""


def check_boxes(job: Job) -> list[Finding]:
    """Findings about every enclosure candidate."""
    found: list[Finding] = []
    for box in job.enclosures:
        wall = job.wall(box.wall)
        middle_in = sum(box.bay_studs_in) / 2
        place = f"{box.room}, {wall_name(wall, middle_in)}, enclosure {box.id} at {tape(middle_in)}"
        found += _bay(job, box, wall, place)
        found += _size(job, box, wall, place)
        found += _knockouts(box, place)
        room = face_room(wall, box.side, middle_in)
        if room and room != box.room:
            says = f"It is said to open to {box.room}, but that face of the wall shows to {room}."
            found.append(
                Finding("enclosure-on-other-face", Severity.FIX_SOON, (box.id, wall.id), place, says)
            )
        if wall.level != box.level:
            says = f"It is on level {box.level}, its wall on level {wall.level}."
            found.append(Finding("enclosure-off-level", Severity.STOP, (box.id, wall.id), place, says))
    return found + _choice(job)


def _bay(job: Job, box: Enclosure, wall: Wall, place: str) -> list[Finding]:
    """The bay is real, whole, and wide enough."""
    found = []
    low_in, high_in = box.bay_studs_in
    about = (box.id, wall.id)
    clear_in = high_in - low_in - wall.stud_width_in
    if not wall.framed:
        says = f"Wall {wall.id} ({wall.core}) has no studs: a flush box has no bay there."
        return [Finding("enclosure-without-bay", Severity.STOP, about, place, says)]
    if below(clear_in, box.width_in):
        says = f"The box is {tape(box.width_in)} wide; its bay is {tape(clear_in)} clear."
        found.append(
            Finding("enclosure-wider-than-bay", Severity.STOP, about, place, says, box.width_in, clear_in)
        )
    if below(low_in, wall.plate_start_in) or below(wall.plate_end_in, high_in):
        says = f"Its bay, {tape(low_in)} to {tape(high_in)}, leaves the wall's plates."
        return [*found, Finding("enclosure-outside-wall", Severity.STOP, about, place, says)]
    inner_low_in, inner_high_in = low_in + wall.stud_width_in / 2, high_in - wall.stud_width_in / 2
    bottom_in, top_in = enclosure_bottom_in(job, box), enclosure_top_in(job, box)
    inside = [
        solid.what
        for solid in fixed_solids(job, wall)
        if below(solid.from_in, inner_high_in) and below(inner_low_in, solid.to_in)
    ]
    inside += [
        f"{opening.kind} {opening.id}"
        for opening in openings_of(job, wall)
        if below(opening.offset_in, inner_high_in)
        and below(inner_low_in, opening.offset_in + opening.width_in)
        and below(opening.sill_in, top_in)
        and below(bottom_in, opening.head_in + opening.header_depth_in)
    ]
    inside += [
        f"the layout stud at {tape(at)}"
        for at in layout_stud_centers_in(wall)
        if below(inner_low_in, at) and below(at, inner_high_in)
    ]
    if inside:
        what = "; ".join(dict.fromkeys(inside))
        says = f"In its bay stands {what}."
        found.append(Finding("enclosure-bay-taken", Severity.STOP, about, place, says))
    studs = [*layout_stud_centers_in(wall), *wall.wood_studs_in]
    studs += [(solid.from_in + solid.to_in) / 2 for solid in fixed_solids(job, wall)]
    off = [at for at in (low_in, high_in) if all(below(_ON_STUD_IN, abs(at - stud)) for stud in studs)]
    if off:
        says = f"By the wall's layout there is no stud at {' and '.join(tape(at) for at in off)}."
        found.append(Finding("enclosure-bay-off-layout", Severity.FIX_SOON, about, place, says))
    return found


def _size(job: Job, box: Enclosure, wall: Wall, place: str) -> list[Finding]:
    """The box fits the wall's depth and stands between the plates."""
    found = []
    about = (box.id, wall.id)
    level = job.level(wall.level)
    deepest_in = wall.thickness_in + level.wall_board_in + _PROUD_IN
    if below(deepest_in, box.depth_in):
        says = (
            f"The box is {tape(box.depth_in)} deep; the wall has {tape(wall.thickness_in)} of stud and "
            f"{tape(level.wall_board_in)} of board."
        )
        found.append(
            Finding("enclosure-too-deep", Severity.STOP, about, place, says, box.depth_in, deepest_in)
        )
    bottom_in, top_in = enclosure_bottom_in(job, box), enclosure_top_in(job, box)
    floor_in = 1.5 * wall.plates.bottom
    ceiling_in = level.plate_top_in - 1.5 * wall.plates.top
    if below(bottom_in, floor_in) or below(ceiling_in, top_in):
        says = (
            f"The box reaches from {tape(bottom_in)} to {tape(top_in)} above the subfloor; between the "
            "plates there is "
            f"{tape(floor_in)} to {tape(ceiling_in)}."
        )
        found.append(Finding("enclosure-past-plates", Severity.STOP, about, place, says))
    return found


def _knockouts(box: Enclosure, place: str) -> list[Finding]:
    """Knockouts lie in their edge and apart."""
    found = []
    for edge in ("top", "bottom"):
        ones = sorted(
            (k for k in box.knockouts if k.edge == edge), key=lambda k: (k.from_left_in, k.diameter_in)
        )
        for one in ones:
            radius_in = one.diameter_in / 2
            if below(one.from_left_in, radius_in) or below(box.width_in, one.from_left_in + radius_in):
                says = f"Its {edge} knockout at {tape(one.from_left_in)} leaves the box."
                names = (box.id, edge, tape(one.from_left_in))
                found.append(Finding("knockout-outside-box", Severity.FIX_SOON, names, place, says))
        for low, high in pairwise(ones):
            if below(high.from_left_in - low.from_left_in, (low.diameter_in + high.diameter_in) / 2):
                says = (
                    f"Its {edge} knockouts at {tape(low.from_left_in)} and {tape(high.from_left_in)} overlap."
                )
                about = (box.id, edge, tape(low.from_left_in), tape(high.from_left_in))
                found.append(Finding("knockouts-overlap", Severity.FIX_SOON, about, place, says))
    return found


def _choice(job: Job) -> list[Finding]:
    """Runs end at the box the job goes with, or at a second one that is built."""
    chosen = job.chosen_enclosure
    if chosen is None:
        return []
    built = {box.id for box in job.built_enclosures}
    others: dict[str, int] = {}
    for run in job.runs:
        for end in (run.from_end, run.to_end):
            if end.type == "enclosure" and end.id not in built:
                others[end.id] = others.get(end.id, 0) + 1
    return [
        Finding(
            "run-to-other-enclosure",
            Severity.FIX_SOON,
            (other, chosen.id),
            f"enclosure {other}",
            f"{count} {'run ends' if count == 1 else 'runs end'} at {other}, but the job goes with "
            f"{chosen.id} and does not build {other} as a second one.",
        )
        for other, count in sorted(others.items())
    ]
