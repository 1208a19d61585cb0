"""The enclosure too warm for its gear: a door with openings, or warm gear outside."""

from __future__ import annotations

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure import FitOut, FlushBox, balance
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.rules.box_full import may
from bayrun.rules.case import Case

HEAT = "box-heat"
SLUGS = (HEAT,)
SOURCE = Source(
    "energy balance, Churchill-Chu 1975 and ASHRAE films; limit common practice", confirmed="practice"
)
ROOM_C = 25.0


def findings(case: Case, told: FitOut, place: str) -> list[Finding]:
    """At most one finding: too warm, or perhaps too warm within the uncertainty of the balance."""
    heat = told.heat
    if heat is not None and heat.verdict is Verdict.HOLDS:
        return []
    if heat is None and told.heat_w <= 0:
        return []
    watts = [p for p in told.pieces if (p.heat_w or 0.0) > 0]
    guess = ", ".join(p.name for p in watts if p.watts_assumed)
    usual = f" The watts of {guess} are the usual ones: read them off the real supply." if guess else ""
    if heat is None:
        says = f"{told.heat_w:.0f} W inside are too much for a closed box: {told.heat_says}.{usual}"
        severity, measured, limit = Severity.FIX_SOON, told.heat_w, None
        unit = "W"
    else:
        low = (heat.inside_c.value - (heat.inside_c.plus_minus or 0.0)) * 1.8 + 32
        high = (heat.inside_c.value + (heat.inside_c.plus_minus or 0.0)) * 1.8 + 32
        sure = heat.verdict is Verdict.FAILS
        severity = Severity.FIX_SOON if sure else Severity.CANNOT_TELL
        measured, limit, unit = round(heat.inside_c.value * 1.8 + 32, 1), 104.0, "F"
        word = "gets" if sure else "may get"
        says = (
            f"The enclosure {word} too warm: {told.heat_w:.0f} W inside make {low:.0f} to {high:.0f} F in a "
            f"room of 77 F with the door closed; small gear stands about 104 F.{usual}"
        )
    return [
        Finding(
            HEAT,
            severity,
            (told.box.id,),
            place,
            says,
            measured,
            limit,
            unit,
            SOURCE,
            (*_openings(case, told), *_out(case, told)),
        )
    ]


def _openings(case: Case, told: FitOut) -> tuple[Fix, ...]:
    area_in2 = told.openings_in2
    if area_in2 is None:
        return ()
    says = f"Take a door with {area_in2:g} sq in of free opening at its bottom and as much at its top."
    return may(case, Fix("vent_door", (told.box.id, area_in2), says))


def _out(case: Case, told: FitOut) -> tuple[Fix, ...]:
    """The fewest warm pieces no run ends on that leave the rest cool enough."""
    ending = {run.gear for run in case.job.runs}
    loose = sorted(
        (p for p in told.pieces if p.gear not in ending and "/" not in p.id and (p.heat_w or 0.0) > 0),
        key=lambda p: (-(p.heat_w or 0.0), p.id),
    )
    face = FlushBox(
        told.box.height_in,
        told.box.width_in,
        insulated_back=told.box.insulated_back,
        gypsum_in=case.job.level(told.box.level).wall_board_in,
        vent_in2=told.box.door_vent_in2,
    )
    left = told.heat_w
    out = []
    for piece in loose:
        left -= piece.heat_w or 0.0
        out.append(piece)
        try:
            cool = left <= 0 or balance(face, left, ROOM_C).verdict is Verdict.HOLDS
        except RangeError:
            cool = False
        if cool:
            names = " and ".join(p.name for p in out)
            says = f"Hang {names} on a shelf over the box: {left:.0f} W stay."
            return may(case, Fix("move_gear_out", ("+".join(p.gear for p in out),), says))
    return ()
