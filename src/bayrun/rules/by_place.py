"""What hangs on where a thing is: heights a hand must reach, and cable along a space used as return air."""

from __future__ import annotations

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import at_least, at_most, below
from bayrun.house import Wall, place_of_location, wall_name
from bayrun.house.hole_choices import ChoiceError, spot_of
from bayrun.rules.cable_runs import KNOWN_LISTINGS
from bayrun.rules.case import Case
from bayrun.rules.lines import Piece3, pieces_of
from bayrun.rules.words import level_name
from bayrun.units import tape

REACH, RETURN_AIR = "location-reach", "cable-in-return-air"
BY_HAND = frozenset("BKT")
"""Bell, keypad and thermostat: what ends there is worked by hand. Low outlets are, too."""
ALONG_IN = 12.0
"""A shorter stretch crosses the space. Common practice, no source [in]."""


def check_reach(case: Case) -> tuple[Finding, ...]:
    """Boxes worked by hand, out of 15 to 48 in, where a law on accessible dwellings covers the house.

    The edges of the box count: its jack may sit at either. A camera or a TV outlet high on a wall is not
    worked by hand. Silent where nobody said that such heights apply.
    Source: Fair Housing Act guidelines.
    """
    if not case.job.facts.accessible:
        return ()
    clause = case.adopted.clause("reach-range")
    low_in, high_in = float(clause.value("low_in")), float(clause.value("high_in"))
    half_in = float(case.adopted.value("location-place", "box_height_in")) / 2
    findings = []
    for location in case.job.locations:
        if location.mount not in ("wall", "exterior"):
            continue
        bottom_in, top_in = location.height_in - half_in, location.height_in + half_in
        by_hand = any(port.kind in BY_HAND for port in location.ports)
        if below(bottom_in, low_in):
            measured_in, limit_in, word = bottom_in, low_in, "bottom"
        elif by_hand and below(high_in, top_in):
            measured_in, limit_in, word = top_in, high_in, "top"
        else:
            continue
        says = (
            f"The {word} of {location.id}'s box is {tape(measured_in)} above finished floor; parts worked by "
            f"hand are {tape(low_in)} to {tape(high_in)} in an accessible dwelling."
        )
        place = place_of_location(case.job, location)
        to_in = low_in + half_in if word == "bottom" else high_in - half_in
        put = f"Set it to {tape(to_in)} above finished floor."
        fixes = (Fix("set_height", (location.id, to_in), put),)
        about, soon, source = (location.id,), Severity.FIX_SOON, clause.source
        findings.append(
            Finding(REACH, soon, about, place, says, measured_in, limit_in, source=source, fixes=fixes)
        )
    return tuple(findings)


def check_return_air(case: Case) -> tuple[Finding, ...]:
    """Runs lengthwise in a space used as return air with cable that is not listed for plenums.

    Source: NEC 300.22(C) exception.
    """
    spaces = case.job.facts.return_air_bays or ()
    clause = case.adopted.clause("return-air")
    kinds = {kind.letter: kind for kind in case.job.practice.cables}
    findings = []
    for space in spaces:
        try:
            spot = spot_of(space)
        except ChoiceError:
            spot = None
        wall = None if spot is None else case.walls.get(spot.member)
        frame = None if spot is None else case.frames.get(spot.member)
        if spot is None or (wall is None and frame is None):
            says = (
                f"Cannot tell: return air runs in “{space}”, which names no bay of the plan. No cable goes "
                "along it unless it is listed for plenums."
            )
            findings.append(
                Finding(RETURN_AIR, Severity.CANNOT_TELL, (space,), space, says, source=clause.source)
            )
            continue
        place = space
        if wall is not None:
            level = level_name(case.job, wall.level)
            place = f"{level}, {wall_name(wall, spot.at_in)}, bay at {tape(spot.at_in)}"
        elif frame is not None:
            place = f"{frame.kind}, the space at {tape(spot.at_in)} across it"
        for run in case.wiring.runs:
            kind = kinds.get(run.kind)
            listing = "" if kind is None else kind.listing.upper()
            if listing.endswith("P") and listing in KNOWN_LISTINGS:
                continue
            if any(_along(case, piece, spot.member, spot.at_in) for piece in pieces_of(run)):
                says = (
                    f"Run {run.id} goes lengthwise in a space used as return air; its cable is "
                    f"{f'listed {listing}' if listing else 'of no known listing'}, not for plenums. Lead it "
                    "elsewhere."
                )
                about = (run.id, space)
                findings.append(Finding(RETURN_AIR, Severity.STOP, about, place, says, source=clause.source))
    return tuple(findings)


def _along(case: Case, piece: Piece3, host: str, at_in: float) -> bool:
    """True where a piece runs lengthwise in the bay of a wall, or the space of a frame, at a coordinate."""
    wall = case.walls.get(host)
    if wall is not None:
        return _up_the_bay(case, piece, wall, at_in)
    frame = case.frames[host]
    (x0, y0, z0), (x1, y1, z1) = piece
    if not (at_most(frame.z_bottom_in, min(z0, z1)) and at_most(max(z0, z1), frame.z_top_in)):
        return False
    along, across = (abs(x1 - x0), (y0, y1)) if frame.direction == "x" else (abs(y1 - y0), (x0, x1))
    half_in = (frame.spacing_in or 16.0) / 2
    inside = all(at_least(v, at_in - half_in) and at_most(v, at_in + half_in) for v in across)
    return inside and below(ALONG_IN, along) and frame.rect.holds((x0 + x1) / 2, (y0 + y1) / 2)


def _up_the_bay(case: Case, piece: Piece3, wall: Wall, at_in: float) -> bool:
    (x0, y0, z0), (x1, y1, z1) = piece
    level = case.job.level(wall.level)
    low_in, high_in = level.subfloor_z_in, level.subfloor_z_in + level.plate_top_in
    if not below(ALONG_IN, min(max(z0, z1), high_in) - max(min(z0, z1), low_in)):
        return False
    dx, dy = wall.direction
    for x, y in ((x0, y0), (x1, y1)):
        along_in = (x - wall.start[0]) * dx + (y - wall.start[1]) * dy
        across_in = (y - wall.start[1]) * dx - (x - wall.start[0]) * dy
        if below(wall.spacing_in / 2, abs(along_in - at_in)) or below(wall.thickness_in / 2, abs(across_in)):
            return False
    return True
