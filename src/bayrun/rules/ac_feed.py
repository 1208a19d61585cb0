"""The 120 V feed of the enclosure: the licensed electrician's work; here only what must be said and asked."""

from __future__ import annotations

import re

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.house import AcFeed, Enclosure
from bayrun.limits import Piece
from bayrun.rules.case import Case
from bayrun.rules.enclosure_bay import place_of
from bayrun.rules.judge import judge
from bayrun.rules.words import found
from bayrun.tables import Clause

SUPPORT, WHO, PROTECTION = "ac-feed-support", "ac-by-electrician", "ac-receptacle-gfci-afci"
TAIL, BARRIER, HOLE, BELOW = "ac-free-conductor", "ac-barrier", "ac-hole", "ac-from-below"
ELECTRICIAN = "electrician"
AFCI_ROOMS = frozenset(
    [
        "closet",
        "hall",
        "laundry",
        "living",
        "bed",
        "kitchen",
        "dining",
        "office",
        "study",
        "den",
        "family",
        "flex",
        "utility",
        "loft",
        "foyer",
    ]
)
GFCI_ROOMS = frozenset(["laundry", "garage", "utility", "mechanical", "basement"])


def _box(case: Case) -> Enclosure | None:
    box = case.job.chosen_enclosure
    return box if box is not None and box.wall in case.walls else None


def _ask(about: str, what: str) -> Fix:
    return Fix("ask", (about, what), f"Ask the electrician: {what}.", ELECTRICIAN)


def check_who(case: Case) -> tuple[Finding, ...]:
    """One note on the scope: everything at 120 V is the licensed electrician's."""
    box = _box(case)
    if box is None:
        return ()
    says = (
        "The 120 V cable, its receptacle and every connection are the licensed electrician's; power is off "
        "and locked before anyone reaches into the enclosure. The adopted code and the inspector decide."
    )
    source = case.adopted.clause("power-barrier").source
    return (Finding(WHO, Severity.NOTE, (box.id,), place_of(case, box), says, source=source),)


def check_support(case: Case) -> tuple[Finding, ...]:
    """Supports of the feed near the box and where it comes out: the tighter of firm and code.

    Source: NEC 334.30 (12 in), 314.17(C) Ex (8 in without a clamp), firm practice (6 in).
    """
    box = _box(case)
    if box is None:
        return ()
    firm = case.adopted.clause("ac-support-firm")
    feed = box.ac_feed
    if feed is None:
        says = "Cannot tell: nobody said how power comes to the enclosure, nor where its cable is secured."
        fix = _ask(box.id, "how the feed comes, where it is secured, with or without a clamp")
        return (_finding(case, box, SUPPORT, Severity.CANNOT_TELL, says, firm, fixes=(fix,)),)
    code = case.adopted.clause("ac-support" if feed.clamped else "ac-support-unclamped")
    findings = [
        *_staple(case, box, "from the enclosure", feed.staple_from_box_in, code, firm),
        *_staple(case, box, "from where it comes out", feed.staple_from_emergence_in, None, firm),
    ]
    if feed.clamped is None:
        says = 'Cannot tell: nobody said whether the box clamps the cable; until then 8" counts, not 12".'
        fix = _ask(box.id, "whether the box clamps the cable")
        findings.append(_finding(case, box, SUPPORT, Severity.CANNOT_TELL, says, code, "clamp", fixes=(fix,)))
    return tuple(findings)


def _staple(
    case: Case, box: Enclosure, where: str, distance_in: float | None, code: Clause | None, firm: Clause
) -> list[Finding]:
    firm_in = float(firm.value("box_in"))
    part = where.replace(" ", "-")
    if distance_in is None:
        says = (
            f"Cannot tell: nobody said how far {where} the power cable is secured ({found(firm_in)} at most)."
        )
        fix = _ask(box.id, f"how far {where} the cable is secured")
        return [_finding(case, box, SUPPORT, Severity.CANNOT_TELL, says, firm, part, fixes=(fix,))]
    code_in = float(code.value("box_in")) if code is not None else float("inf")
    limit_in = min(firm_in, code_in)
    if not below(limit_in, distance_in):
        return []
    over_code = code is not None and below(code_in, distance_in)
    clause = code if over_code and code is not None else firm
    says = f"The power cable is secured {found(distance_in)} {where}; at most {found(limit_in)}" + (
        f" (the code's limit is {found(code_in)})." if over_code else " is the firm's practice."
    )
    fix = _ask(box.id, f"to secure the cable within {found(limit_in)} {where}")
    severity = Severity.STOP if over_code else Severity.FIX_SOON
    return [
        _finding(
            case, box, SUPPORT, severity, says, clause, part, measured_in=distance_in, limit_in=limit_in,
            fixes=(fix,),
        )
    ]  # fmt: skip


def _finding(
    case: Case,
    box: Enclosure,
    rule: str,
    severity: Severity,
    says: str,
    clause: Clause,
    part: str = "",
    *,
    measured_in: float | None = None,
    limit_in: float | None = None,
    fixes: tuple[Fix, ...] = (),
) -> Finding:
    about = (box.id, part) if part else (box.id,)
    return Finding(
        rule, severity, about, place_of(case, box), says, measured_in, limit_in, source=clause.source,
        fixes=fixes,
    )  # fmt: skip


def check_below(case: Case) -> tuple[Finding, ...]:
    """Power "from below" where the level stands on a slab: no way leads there. Source: arithmetic."""
    box = _box(case)
    feed = None if box is None else box.ac_feed
    if box is None or feed is None or not re.match(r"\s*(?:from )?below\b", feed.way.lower()):
        return ()
    if not case.job.level(box.level).slab:
        return ()
    clause = case.adopted.clause("power-barrier")
    says = (
        "The power cable is said to come from below, and this level stands on a slab: nothing comes up there."
    )
    ask = _ask(box.id, "which way the feed comes, from the side or from above")
    return (_finding(case, box, BELOW, Severity.STOP, says, clause, fixes=(ask,)),)


def check_tail(case: Case) -> tuple[Finding, ...]:
    """Free conductor left inside. Source: NEC 300.14 (6 in); firm practice at most 12 in."""
    box = _box(case)
    feed = None if box is None else box.ac_feed
    if box is None or feed is None:
        return ()
    code, firm = case.adopted.clause("free-conductor"), case.adopted.clause("ac-support-firm")
    low_in, high_in = float(code.value("free_in")), float(firm.value("tail_high_in"))
    if feed.tail_in is None:
        says = f"Cannot tell: nobody said how much power cable stays inside ({found(low_in)} at least)."
        return (_finding(case, box, TAIL, Severity.CANNOT_TELL, says, code),)
    if below(feed.tail_in, low_in):
        says = f"{found(feed.tail_in)} of power cable stays inside; at least {found(low_in)}."
        ask = _ask(box.id, f"for {found(low_in)} of free conductor")
        return (
            _finding(
                case, box, TAIL, Severity.STOP, says, code, measured_in=feed.tail_in, limit_in=low_in,
                fixes=(ask,),
            ),
        )  # fmt: skip
    if below(high_in, feed.tail_in):
        says = f"{found(feed.tail_in)} of power cable stays inside; the habit is at most {found(high_in)}."
        return (
            _finding(case, box, TAIL, Severity.NOTE, says, firm, measured_in=feed.tail_in, limit_in=high_in),
        )
    return ()


def check_barrier(case: Case) -> tuple[Finding, ...]:
    """Power and low voltage parted inside the enclosure. Source: NEC 725.136."""
    box = _box(case)
    feed = None if box is None else box.ac_feed
    if box is None or feed is None or feed.barrier:
        return ()
    clause = case.adopted.clause("power-barrier")
    if feed.barrier is None:
        says = "Cannot tell: nobody said whether power and low voltage are parted inside the enclosure."
        ask = _ask(box.id, "whether the receptacle has its own box or a barrier")
        return (_finding(case, box, BARRIER, Severity.CANNOT_TELL, says, clause, fixes=(ask,)),)
    says = "Power and low voltage share the enclosure without a barrier: the receptacle needs its own box."
    ask = _ask(box.id, "for a barrier or a box of its own")
    return (_finding(case, box, BARRIER, Severity.STOP, says, clause, fixes=(ask,)),)


def room_kind(case: Case, box: Enclosure) -> str:
    """Kind of the room the enclosure serves, with its name's words; ``basement`` on level B."""
    try:
        kind = case.job.room(box.room, box.level).kind
    except KeyError:
        kind = ""
    return f"{kind} {box.room} {'basement' if box.level == 'B' else ''}".lower()


def check_protection(case: Case) -> tuple[Finding, ...]:
    """Arc- and ground-fault protection of the receptacle by the room it is in.

    Source: NEC 210.12 and 210.8(A) by edition; states amend both.
    """
    box = _box(case)
    feed = None if box is None else box.ac_feed
    if box is None or feed is None:
        return ()
    words = room_kind(case, box).replace("-", " ").split()
    findings = []
    for slug, rooms, said, name in (
        ("receptacle-afci", AFCI_ROOMS, feed.afci, "arc-fault (AFCI)"),
        ("receptacle-gfci", GFCI_ROOMS, feed.gfci, "ground-fault (GFCI)"),
    ):
        clause = case.adopted.clause(slug)
        asked = any(word in rooms for word in words)
        reset = "; its reset stays in reach, and a trip takes the network down" if "gfci" in slug else ""
        ask = (_ask(box.id, f"{name} protection of the enclosure's receptacle{reset}"),)
        if said is None:
            needs = f"a {box.room} asks for it" if asked else "the adopted code may ask for it"
            says = f"Cannot tell: nobody said whether the receptacle has {name} protection; {needs}{reset}."
            findings.append(
                _finding(case, box, PROTECTION, Severity.CANNOT_TELL, says, clause, slug, fixes=ask)
            )
        elif said is False and asked:
            unsure = slug == "receptacle-gfci" and _only_if_unfinished(words, clause)
            says = f"The receptacle has no {name} protection and the {box.room} asks for it{reset}."
            severity = Severity.STOP
            if unsure:
                severity = Severity.CANNOT_TELL
                says = (
                    f"Cannot tell: the receptacle has no {name} protection; {clause.document} "
                    f"{clause.edition} asks for it where the basement is unfinished, and nobody said{reset}."
                )
            findings.append(_finding(case, box, PROTECTION, severity, says, clause, slug, fixes=ask))
    return tuple(findings)


def _only_if_unfinished(words: list[str], clause: Clause) -> bool:
    """True where only the basement asks for protection, and this edition asks it of unfinished ones alone."""
    others = any(word in GFCI_ROOMS and word != "basement" for word in words)
    return not others and clause.value("finished_basement") == 0


def check_hole(case: Case) -> tuple[Finding, ...]:
    """The feed's own hole in the shared stud keeps the stud's limits. Source: IRC R602.6."""
    box = _box(case)
    feed = None if box is None else box.ac_feed
    if box is None or feed is None or not feed.hole_diameter_in:
        return ()
    wall = case.walls[box.wall]
    shared_in = _shared_stud_in(box, feed)
    piece = Piece(
        kind="sawn",
        role="stud",
        depth_in=wall.thickness_in,
        bearing=wall.counts_as_bearing,
        exterior=wall.exterior,
    )
    if wall.steel and shared_in not in wall.wood_studs_in:
        piece = piece.but(kind="steel")
    found_ = judge(piece, feed.hole_diameter_in, wall.thickness_in / 2, case.adopted, factory=wall.steel)
    return tuple(
        Finding(
            HOLE,
            breach.severity,
            (box.id, breach.rule),
            place_of(case, box),
            f"The power cable's hole in the shared stud: {breach.says}",
            breach.measured_in,
            breach.limit_in,
            source=breach.source,
        )
        for breach in found_
    )


def _shared_stud_in(box: Enclosure, feed: AcFeed) -> float | None:
    shared = set(feed.bay_studs_in or ()) & set(box.bay_studs_in)
    return min(shared) if shared else None
