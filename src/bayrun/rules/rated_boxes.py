"""Boxes in rated walls: size, sum, and none back to back."""

from __future__ import annotations

import itertools

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.house import Location, Wall, place_of_location
from bayrun.house.places import finish_in
from bayrun.rules.case import Case
from bayrun.rules.location_place import stands_clear
from bayrun.rules.words import found

BOX, BACK, TOTAL = "box-in-rated-wall", "boxes-back-to-back", "rated-wall-boxes"


def _boxes(case: Case) -> list[tuple[Wall, list[Location]]]:
    """Each rated wall with the locations whose boxes stand in it, in the job's order."""
    found_ = []
    for wall in case.job.walls:
        here = [q for q in case.job.locations if q.wall == wall.id and q.mount == "wall"]
        here = [q for q in here if q.offset_in is not None]
        if wall.rated and here:
            found_.append((wall, here))
    return found_


def check_box(case: Case) -> tuple[Finding, ...]:
    """A box in a rated wall: nobody said that it is steel or listed, so nothing passes it.

    Source: IRC R302.4.2.
    """
    clause = case.adopted.clause("rated-membrane")
    area = float(clause.value("area_in2"))
    findings = []
    for wall, here in _boxes(case):
        for location in here:
            says = (
                f"Cannot tell: {location.id} opens a {wall.rated} wall. Only a steel box of {area:g} sq in "
                "or less, or one listed for it, may; an open ring may not. Choose another wall."
            )
            findings.append(
                Finding(
                    BOX,
                    Severity.CANNOT_TELL,
                    (location.id, wall.id),
                    place_of_location(case.job, location),
                    says,
                    None,
                    area,
                    "sq in",
                    clause.source,
                )
            )
    return tuple(findings)


def check_back(case: Case) -> tuple[Finding, ...]:
    """Boxes on the two faces of a rated wall nearer than 24 in. Source: IRC R302.4.2."""
    clause = case.adopted.clause("rated-membrane")
    gap_in = float(clause.value("opposite_gap_in"))
    findings = []
    for wall, here in _boxes(case):
        for one, other in itertools.combinations(here, 2):
            if None in (one.side, other.side) or one.side == other.side or one.level != other.level:
                continue
            apart_in = abs((one.offset_in or 0.0) - (other.offset_in or 0.0))
            if not below(apart_in, gap_in):
                continue
            says = (
                f"{one.id} and {other.id} stand on the two faces of a {wall.rated} wall {found(apart_in)} "
                f"apart; {found(gap_in)} at least, or listed means between them."
            )
            findings.append(
                Finding(
                    BACK,
                    Severity.STOP,
                    (one.id, other.id),
                    place_of_location(case.job, one),
                    says,
                    apart_in,
                    gap_in,
                    source=clause.source,
                    fixes=_apart(case, wall, here, other, gap_in),
                )
            )
    return tuple(findings)


def _apart(case: Case, wall: Wall, here: list[Location], moved: Location, gap_in: float) -> tuple[Fix, ...]:
    """The nearest clear place of one box that is far enough from every box of the other face."""
    across = [q.offset_in or 0.0 for q in here if q.side not in (moved.side, None)]
    up_in, now_in = moved.height_in + finish_in(case.job, moved), moved.offset_in or 0.0
    tries = [at_in + by_in for at_in in across for by_in in (-gap_in, gap_in)]
    for to_in in sorted(tries, key=lambda t: (abs(t - now_in), t)):
        far = not any(below(abs(to_in - at_in), gap_in) for at_in in across)
        if far and stands_clear(case, wall, to_in, up_in):
            says = f"Move {moved.id} {found(abs(to_in - now_in))} to {found(to_in)} from the wall's start."
            return (Fix("move_location", (moved.id, to_in), says),)
    return ()


def check_total(case: Case) -> tuple[Finding, ...]:
    """All boxes of one rated wall together: 100 sq in in each 100 sq ft of it. Source: IRC R302.4.2."""
    clause = case.adopted.clause("rated-membrane")
    per_100_ft2 = float(clause.value("total_in2"))
    place = case.adopted.clause("location-place")
    one_in2 = float(place.value("box_width_in") * place.value("box_height_in"))
    findings = []
    for wall, here in _boxes(case):
        height_in = case.job.level(wall.level).plate_top_in
        wall_ft2 = wall.length_in * height_in / 144
        sum_in2, allowed_in2 = one_in2 * len(here), per_100_ft2 * wall_ft2 / 100
        if not below(allowed_in2, sum_in2):
            continue
        says = (
            f"{len(here)} boxes open {sum_in2:.0f} sq in of this {wall.rated} wall; its {wall_ft2:.0f} sq ft "
            f"take {allowed_in2:.0f}."
        )
        findings.append(
            Finding(
                TOTAL,
                Severity.STOP,
                (wall.id,),
                place_of_location(case.job, here[0]),
                says,
                sum_in2,
                allowed_in2,
                "sq in",
                clause.source,
            )
        )
    return tuple(findings)
