"""Whole runs: length, turns, pull, listing."""

from __future__ import annotations

import itertools
import math

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.house import CableKind
from bayrun.rules.case import Case
from bayrun.rules.run_blocked import end_words
from bayrun.rules.words import found
from bayrun.units import tape
from bayrun.wiring import PathPoint, Run
from bayrun.wiring.devices import is_fiber

LENGTH, BEND, PULL, LISTING = "run-too-long", "bend-radius", "pull-limit", "cable-listing"
SUPPORT, OUTSIDE = "support-interval", "cable-outside"
LONG_PULL_IN = 1200.0
"""From here a pull with many turns is told. Common practice, no source [in]."""
MANY_TURNS = 8
RIGHT = math.pi / 4
"""A turn of 45 degrees or more counts as one [rad]."""
KNOWN_LISTINGS = frozenset(
    [
        "CMP",
        "CMR",
        "CMG",
        "CM",
        "CMX",
        "CL2",
        "CL3",
        "CL2P",
        "CL3P",
        "CL2R",
        "CL3R",
        "CL2X",
        "CL3X",
        "CATV",
        "CATVP",
        "CATVR",
        "CATVX",
        "OFN",
        "OFNR",
        "OFNP",
        "OFC",
        "OFNG",
        "NPLF",
        "FPL",
        "FPLR",
        "FPLP",
    ]
)
SMALL_ONLY = {"CMX": 0.25, "CL2X": 0.25, "CL3X": 0.25, "CATVX": 0.375}
"""Listings allowed in a dwelling only under a diameter [in]. Source: NEC 725/800/820 listing tables."""


def is_four_pair(kind: CableKind) -> bool:
    """True for data cable of four pairs, which the cabling standard speaks of."""
    return "four-pair" in kind.name or "four pair" in kind.name


def _kinds(case: Case) -> dict[str, CableKind]:
    return {kind.letter: kind for kind in case.job.practice.cables}


def check_length(case: Case) -> tuple[Finding, ...]:
    """Four-pair runs over 90 m. Source: TIA-568."""
    clause = case.adopted.clause("link-length")
    limit_in = float(clause.value("length_in"))
    kinds = _kinds(case)
    findings = []
    for run in case.wiring.runs:
        kind = kinds.get(run.kind)
        if kind is None or not is_four_pair(kind) or not below(limit_in, run.length_in):
            continue
        says = (
            f"Run {run.id} is {tape(run.length_in)} long with its slack; a four-pair link is at most "
            f"{tape(limit_in)} (90 m)."
        )
        place = end_words(case.job, run.from_end)
        findings.append(
            Finding(
                LENGTH, Severity.FIX_SOON, (run.id,), place, says, run.length_in, limit_in,
                source=clause.source, fixes=fiber_instead(case, run.id),
            )
        )  # fmt: skip
    return tuple(findings)


def fiber_instead(case: Case, run_id: str) -> tuple[Fix, ...]:
    """The firm's fiber for a run too long for copper; none where it has none, or the run feeds a device."""
    if any(s.run == run_id and s.device.cable_class for s in case.signals):
        return ()
    for kind in case.job.practice.cables:
        if is_fiber(kind):
            says = f"Pull {kind.name} for {run_id} instead: it does not mind the length or the heat."
            return (Fix("set_cable", (run_id, kind.letter), says),)
    return ()


def turns_of(path: tuple[PathPoint, ...]) -> tuple[tuple[int, float], ...]:
    """(index of the point, angle turned there [rad]) along a path; points on a straight line are left out."""
    corners = []
    steps = [
        (i, (b.x - a.x, b.y - a.y, b.z - a.z))
        for i, (a, b) in enumerate(itertools.pairwise(path))
        if math.dist((a.x, a.y, a.z), (b.x, b.y, b.z)) > 1e-9
    ]
    for (_, u), (i, v) in itertools.pairwise(steps):
        dot = sum(p * q for p, q in zip(u, v, strict=True)) / (math.hypot(*u) * math.hypot(*v))
        angle = math.acos(min(1.0, max(-1.0, dot)))
        if angle > 1e-6:
            corners.append((i, angle))
    return tuple(corners)


def check_bend(case: Case) -> tuple[Finding, ...]:
    """A turn back on itself tighter than the cable's least radius: a note for the crew.

    Two corners that send a cable back the way it came need twice the radius between them. Corners that lead
    on are eased by hand in open framing and are not told.
    Source: TIA-568, 4 times the outside diameter for four-pair; other kinds by the firm's table.
    """
    source = case.adopted.clause("bend").source
    kinds = _kinds(case)
    findings = []
    for run in case.wiring.runs:
        kind = kinds.get(run.kind)
        if kind is None:
            continue
        radius_in = kind.bend_radius_x_diameter * kind.diameter_in + kind.diameter_in / 2
        tightest = _tightest(run, radius_in)
        if tightest is None:
            continue
        have_in, need_in = tightest
        says = (
            f"Run {run.id} turns back on itself within {found(have_in)}; its least radius wants "
            f"{found(need_in)} between the two corners: lead it in a wider loop."
        )
        findings.append(
            Finding(
                BEND, Severity.NOTE, (run.id,), end_words(case.job, run.from_end), says, have_in, need_in,
                source=source,
            )
        )  # fmt: skip
    return tuple(findings)


def _tightest(run: Run, radius_in: float) -> tuple[float, float] | None:
    """(length between two corners, length they need) where it falls short most; None where all fit [in]."""
    corners = [(i, angle) for i, angle in turns_of(run.path) if angle >= RIGHT]
    worst: tuple[float, float] | None = None
    for (i, _), (j, _) in itertools.pairwise(corners):
        if not _turns_back(run.path, i, j):
            continue
        need_in = 2 * radius_in
        points = run.path[i : j + 1]
        have_in = sum(math.dist((p.x, p.y, p.z), (q.x, q.y, q.z)) for p, q in itertools.pairwise(points))
        if below(have_in, need_in) and (worst is None or have_in - need_in < worst[0] - worst[1]):
            worst = (have_in, need_in)
    return worst


def _turns_back(path: tuple[PathPoint, ...], i: int, j: int) -> bool:
    """True where the way after corner j runs back against the way before corner i."""
    before, after = (path[i - 1], path[i]), (path[j], path[min(j + 1, len(path) - 1)])
    dot = sum(
        (getattr(before[1], axis) - getattr(before[0], axis))
        * (getattr(after[1], axis) - getattr(after[0], axis))
        for axis in "xyz"
    )
    size = math.dist(*((p.x, p.y, p.z) for p in before)) * math.dist(*((p.x, p.y, p.z) for p in after))
    return size > 0 and dot / size < -0.7


def check_pull(case: Case) -> tuple[Finding, ...]:
    """Long four-pair pulls with many turns: pull in stages. Source: TIA-568, 25 lbf; the rest is practice."""
    clause = case.adopted.clause("pull-tension")
    limit_lbf = float(clause.value("force_lbf"))
    kinds = _kinds(case)
    findings = []
    for run in case.wiring.runs:
        kind = kinds.get(run.kind)
        if kind is None or not is_four_pair(kind):
            continue
        turns = sum(1 for _, angle in turns_of(run.path) if angle >= RIGHT)
        if turns <= MANY_TURNS or not below(LONG_PULL_IN, run.path_in):
            continue
        says = (
            f"Run {run.id} is {tape(run.path_in)} with {turns} turns: pull it in stages and stay under "
            f"{limit_lbf:g} lbf."
        )
        findings.append(
            Finding(
                PULL, Severity.NOTE, (run.id,), end_words(case.job, run.from_end), says, float(turns),
                float(MANY_TURNS), "turns", clause.source,
            )
        )  # fmt: skip
    return tuple(findings)


def check_listing(case: Case) -> tuple[Finding, ...]:
    """Cable kinds in use without a listing on record, or listed for smaller sizes only in a dwelling."""
    clause = case.adopted.clause("cable-listing")
    used = {run.kind for run in case.wiring.runs} | {run.kind for run in case.job.runs}
    findings = []
    for kind in case.job.practice.cables:
        if kind.letter not in used:
            continue
        place = f"every run of {kind.name}"
        about = (f"cable-{kind.letter}",)
        listing = kind.listing.upper().replace("-", "").strip()
        if not listing or listing not in KNOWN_LISTINGS:
            got = "nobody said its listing" if not listing else f"{kind.listing!r} is no listing we know"
            says = f"Cannot tell: {got}. Read the mark on the jacket of {kind.name} before it goes in a wall."
            findings.append(Finding(LISTING, Severity.CANNOT_TELL, about, place, says, source=clause.source))
        elif listing in SMALL_ONLY and not below(kind.diameter_in, SMALL_ONLY[listing]):
            says = (
                f"{kind.name} is listed {listing}, allowed in a dwelling only under "
                f"{found(SMALL_ONLY[listing])}; it is {found(kind.diameter_in)}."
            )
            findings.append(
                Finding(
                    LISTING, Severity.STOP, about, place, says, kind.diameter_in, SMALL_ONLY[listing],
                    source=clause.source,
                )
            )  # fmt: skip
    return tuple(findings)


def check_supports(case: Case) -> tuple[Finding, ...]:
    """The firm's interval of supports over what the trade takes as most: no code sets one.

    Source: common practice after TIA and BICSI, 60 in; NEC 800.24 asks support without an interval.
    """
    clause = case.adopted.clause("low-voltage-support")
    most_in, every_in = float(clause.value("every_in")), case.job.practice.support_every_in
    if not below(most_in, every_in):
        return ()
    says = (
        f"The firm supports cable every {tape(every_in)}; the trade's most is {tape(most_in)}. The code asks "
        "support by the building without an interval, and no strap on pipe, duct or conduit."
    )
    return (
        Finding(
            SUPPORT, Severity.FIX_SOON, ("support_every",), "the firm's practice", says, every_in, most_in,
            source=clause.source,
        ),
    )  # fmt: skip


def check_outside(case: Case) -> tuple[Finding, ...]:
    """Runs that end outside or under the slab: sun and water, whatever their flame listing.

    Source: common practice, from memory: wet-rated cable in ground even inside conduit, sun-proof outside.
    """
    places = {
        location.id: location
        for location in case.job.locations
        if location.mount in ("exterior", "soffit", "conduit")
    }
    kinds = _kinds(case)
    told: dict[str, list[str]] = {}
    for run in case.wiring.runs:
        here = next((e.id for e in (run.from_end, run.to_end) if e.id in places), None)
        kind = kinds.get(run.kind)
        if here is None or kind is None or "outdoor" in kind.name.lower():
            continue
        if kind.name not in told.setdefault(here, []):
            told[here].append(kind.name)
    if not told:
        return ()
    names = "; ".join(f"{place} ({', '.join(kinds_there)})" for place, kinds_there in told.items())
    says = (
        f"These go outside or under the slab: {names}. What sun or water reaches there takes outdoor cable, "
        "or stays inside the box and its sleeve."
    )
    source = case.adopted.clause("cable-listing").source
    return (Finding(OUTSIDE, Severity.NOTE, tuple(told), "outside", says, source=source),)
