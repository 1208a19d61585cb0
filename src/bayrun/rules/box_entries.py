"""Knockouts too full or missing, coils of slack that do not go in, plugs without outlets, runs without
positions."""

from __future__ import annotations

import math
from dataclasses import replace

from bayrun.cables.ranges import Verdict
from bayrun.enclosure import FitOut, assign, fit_out
from bayrun.enclosure.gear import gear_table, hangs_in
from bayrun.enclosure.room import Edge
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.geometry import at_least, at_most, below
from bayrun.house import Knockout
from bayrun.house.edits import apply
from bayrun.rules.box_full import PRACTICE, may
from bayrun.rules.case import Case
from bayrun.rules.words import count_of, percent
from bayrun.units import tape

KNOCKOUT, SLACK, OUTLETS, POSITIONS = "knockout-full", "slack-room", "box-outlets", "box-positions"
SLUGS = (KNOCKOUT, SLACK, OUTLETS, POSITIONS)
SIZES = Source("trade sizes of knockouts; the firm's fill", confirmed="practice")
_EIGHTH_IN, _WEB_IN, _SIDE_IN = 1 / 8, 1 / 4, 1 / 2
"""Step of a new hole's place; metal kept between two holes, and to the side of the box. Common practice
[in]."""
_SLACKS_IN = (30.0, 24.0, 18.0)


def findings(case: Case, told: FitOut, place: str) -> list[Finding]:
    """Every finding about what enters the box."""
    found = [*_knockouts(case, told, place), *_missing(case, told, place)]
    return [*found, *_slack(case, told, place), *_outlets(told, place), *_positions(told, place)]


def _knockouts(case: Case, told: FitOut, place: str) -> list[Finding]:
    fill_max = case.job.practice.fill_max
    out = []
    for use in told.entries.uses:
        if use.fits:
            continue
        says = (
            f"The {use.edge} knockout {tape(use.from_left_in)} from the left, {tape(use.diameter_in)} wide "
            f"with a bushing of {tape(_sixteenth(use.opening_in))}, is {percent(use.fill)} full with "
            f"{count_of(len(use.runs), 'cable')}; the firm fills {percent(fill_max)}."
        )
        if at_most(use.fill, fill_max):
            at = f"{use.edge} knockout {tape(use.from_left_in)} from the left"
            says = f"The cables of the {at} do not go through it."
        out.append(
            Finding(
                KNOCKOUT,
                Severity.FIX_SOON,
                (told.box.id, use.edge, str(use.number)),
                place,
                says,
                use.fill,
                fill_max,
                "of the opening",
                SIZES,
                _one_more(case, told, use.edge),
            )
        )
    return out


def _sixteenth(length_in: float) -> float:
    return math.floor(length_in * 16 + 1e-6) / 16


def _missing(case: Case, told: FitOut, place: str) -> list[Finding]:
    out = []
    for edge, runs in told.entries.without:
        count = count_of(len(runs), "cable")
        if told.box.knockouts:
            says = f"{count} come to the {edge} of the enclosure, where it has no knockout for low voltage."
            severity = Severity.FIX_SOON
        else:
            says = f"Cannot tell by which knockouts {count} enter the {edge}: nobody said what the box has."
            severity = Severity.CANNOT_TELL
        fixes = _one_more(case, told, edge)
        out.append(Finding(KNOCKOUT, severity, (told.box.id, edge), place, says, source=SIZES, fixes=fixes))
    return out


def _one_more(case: Case, told: FitOut, edge: Edge) -> tuple[Fix, ...]:
    """The smallest trade size, at the place farthest left, that makes this edge fit; nothing where none
    does."""
    box = told.box
    here = [k for k in box.knockouts if k.edge == edge]
    coming = [a for a in told.arrivals if a.edge == edge]
    for row in gear_table()["knockout"]:
        diameter_in = float(row["diameter_in"])
        if below(box.depth_in - 2 * _WEB_IN, diameter_in):
            break
        at_in = _free_place_in(box.width_in, here, diameter_in)
        if at_in is None:
            continue
        tried = replace(box, knockouts=(*here, Knockout(edge, at_in, diameter_in)))
        if assign(case.job, tried, coming).verdict is Verdict.HOLDS:
            says = (
                f"Punch one more knockout of trade size {row['trade']}, a hole of "
                f"{tape(_sixteenth(diameter_in + 1 / 32))}, in the {edge}, {tape(at_in)} from the left."
            )
            return may(case, Fix("add_knockout", (box.id, edge, at_in, diameter_in), says))
    return ()


def _free_place_in(width_in: float, here: list[Knockout], diameter_in: float) -> float | None:
    """First center from the left that keeps metal to the sides and the other holes [in]."""
    at_in = math.ceil((diameter_in / 2 + _SIDE_IN) * 8 - 1e-9) / 8
    while at_most(at_in, width_in - diameter_in / 2 - _SIDE_IN):
        if all(
            at_least(abs(k.from_left_in - at_in), (k.diameter_in + diameter_in) / 2 + _WEB_IN) for k in here
        ):
            return at_in
        at_in += _EIGHTH_IN
    return None


def _slack(case: Case, told: FitOut, place: str) -> list[Finding]:
    coils = told.coils
    if coils is None or coils.verdict is not Verdict.FAILS:
        return []
    slack_in = case.job.practice.slack.enclosure_in
    says = f"The slack does not go in behind the cover: {coils.reason}."
    return [
        Finding(
            SLACK,
            Severity.FIX_SOON,
            (told.box.id,),
            place,
            says,
            coils.stack_in.value,
            coils.depth_in,
            source=PRACTICE,
            fixes=_less_slack(case, told, slack_in),
        )
    ]


def _less_slack(case: Case, told: FitOut, slack_in: float) -> tuple[Fix, ...]:
    """Less slack past the far corner, where that goes in: the most of the usual lengths."""
    for less_in in _SLACKS_IN:
        if not below(less_in, slack_in):
            continue
        fix = Fix(
            "leave_slack",
            (less_in,),
            f"Leave {tape(less_in)} past the far corner instead of {tape(slack_in)}.",
        )
        shorter = replace(
            case.wiring,
            runs=tuple(
                replace(run, slack_from_in=max(run.slack_from_in - slack_in + less_in, 0.0))
                if hangs_in(case.job, run.from_end, told.box)
                else replace(run, slack_to_in=max(run.slack_to_in - slack_in + less_in, 0.0))
                if hangs_in(case.job, run.to_end, told.box)
                else run
                for run in case.wiring.runs
            ),
        )
        tried = fit_out(apply(case.job, fix), shorter, told.box)
        if tried is not None and tried.coils is not None and tried.coils.verdict is not Verdict.FAILS:
            return (fix,)
    return ()


def _outlets(told: FitOut, place: str) -> list[Finding]:
    """Plugs that find no outlet, or draw more than the circuit gives all the time."""
    power = told.power
    plugs = [p for p in told.pieces if p.plug_in > 0]
    if not plugs or (power is not None and power.verdict is Verdict.HOLDS):
        return []
    have = sum(p.outlets for p in told.pieces)
    if power is None:
        says = f"In the box there are {told.power_says}."
        needed = len(plugs)
    else:
        names = ", ".join(p.name for p in plugs)
        says = f"Not all plugs of the box find an outlet: {power.reason}. Plugs: {names}."
        needed = power.needed
    question = f"a receptacle of {needed} outlets in the enclosure"
    fix = Fix("ask", (told.box.id, question), f"Ask the electrician for {question}.", "electrician")
    return [
        Finding(
            OUTLETS,
            Severity.FIX_SOON,
            (told.box.id,),
            place,
            says,
            float(needed),
            float(have),
            "outlets",
            PRACTICE,
            (fix,),
        )
    ]


def _positions(told: FitOut, place: str) -> list[Finding]:
    """Runs that end in the box on nothing."""
    out = []
    for kind, runs in told.ports.short:
        few = ", ".join(runs[:6]) + (f" and {len(runs) - 6} more" if len(runs) > 6 else "")
        count = count_of(len(runs), "run")
        named = any(piece.count_of(kind) for piece in told.pieces)
        says = (
            f"{count} of cable {kind} find no free position in the enclosure: {few}."
            if named
            else f"Cannot tell what {count} of cable {kind} end on, no gear in the box takes them: {few}."
        )
        severity = Severity.FIX_SOON if named else Severity.CANNOT_TELL
        fixes = _more_positions(told, kind, len(runs))
        out.append(
            Finding(POSITIONS, severity, (told.box.id, kind), place, says, source=PRACTICE, fixes=fixes)
        )
    return out


def _more_positions(told: FitOut, kind: str, count: int) -> tuple[Fix, ...]:
    """Gear of the generic table that takes so many cables of a kind, in its usual sizes."""
    for row in gear_table()["gear"]:
        each = int(row["each_count"]) if row.get("each") == kind else 0
        each = int(row["takes_count"]) if kind in row.get("takes", ()) else each
        if each:
            size = math.ceil(count / each) * each
            what = row["name"] if size == each else f"{row['name']}, {size} ports"
            return (Fix("hang_gear", (told.box.id, what), f"Hang a {what} in the enclosure."),)
    return ()
