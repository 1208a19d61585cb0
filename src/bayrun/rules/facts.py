"""Facts nobody said, editions the tables lack, clauses nobody read: each is "cannot tell", never a pass."""

from __future__ import annotations

from bayrun.findings import Finding, Severity, Source
from bayrun.geometry import below
from bayrun.limits import hole_limits
from bayrun.rules.case import Case
from bayrun.rules.words import count_of, found
from bayrun.units import tape

MISSING, BONDING, EDITION, VERIFY, LOST = (
    "fact-missing",
    "bonding-length",
    "edition-unknown",
    "clause-to-verify",
    "hole-without-member",
)
ASKED = (
    ("cover", "what will cover the walls", "box depth and flush setting hang on it"),
    ("insulation", "which insulation comes, and when", "it is the true deadline of outside walls"),
    ("return_air_bays", "which bays carry return air", "cable along one needs a plenum listing"),
)


def check_missing(case: Case) -> tuple[Finding, ...]:
    """Site facts that rules need and nobody has said. Source: common practice."""
    source = Source("common practice", confirmed="practice")
    findings = []
    for name, what, why in ASKED:
        if getattr(case.job.facts, name) is None:
            says = f"Cannot tell: nobody said {what}; {why}."
            findings.append(Finding(MISSING, Severity.CANNOT_TELL, (name,), "the house", says, source=source))
    return tuple(findings)


def check_bonding(case: Case) -> tuple[Finding, ...]:
    """Length of the bonding conductor at the entry. Source: NEC 800.100(A)(4)."""
    clause = case.adopted.clause(BONDING)
    limit_in, length_in = float(clause.value("length_in")), case.job.facts.bonding_length_in
    place = "service entry"
    if length_in is None:
        says = f"Cannot tell: nobody measured from the entry to the bonding bar ({tape(limit_in)} at most)."
        return (Finding(BONDING, Severity.CANNOT_TELL, ("bonding",), place, says, source=clause.source),)
    if not below(limit_in, length_in):
        return ()
    says = (
        f"The bonding conductor is {tape(length_in)}; over {tape(limit_in)} a rod of its own is driven and "
        "bonded with 6 AWG. Grounding is the provider's and the electrician's."
    )
    return (
        Finding(BONDING, Severity.STOP, ("bonding",), place, says, length_in, limit_in, source=clause.source),
    )


def check_edition(case: Case) -> tuple[Finding, ...]:
    """Adopted editions the tables do not hold: checked by the newest known one, and told."""
    findings = []
    for document, asked, used in case.adopted.unknown:
        says = (
            f"Cannot tell by {document} {asked}: the tables do not hold it. Everything was checked by "
            f"{document} {used}; compare with the adopted book."
        )
        source = Source(document, asked)
        findings.append(Finding(EDITION, Severity.CANNOT_TELL, (document,), "the house", says, source=source))
    return tuple(findings)


def check_verify(case: Case) -> tuple[Finding, ...]:
    """Life-safety clauses that holes of this plan lean on and nobody read in the adopted book.

    A hole where none may be is a stop by itself and leans on nothing.
    """
    used: dict[str, set[str]] = {}
    for hole, member in case.drilled():
        limits = hole_limits(case.piece(member), case.adopted)
        clause = limits.clause
        if clause.life_safety and clause.to_verify and not limits.why_never:
            used.setdefault(clause.slug, set()).add(hole.id)
    findings = []
    for slug, holes in sorted(used.items()):
        clause = case.adopted.clause(slug)
        says = (
            f"Verify {clause.document} {clause.edition} {clause.number} against the book before "
            f"{count_of(len(holes), 'hole')} {'leans' if len(holes) == 1 else 'lean'} on it: {clause.proof}."
        )
        findings.append(
            Finding(VERIFY, Severity.CANNOT_TELL, (slug,), "the house", says, source=clause.source)
        )
    return tuple(findings)


def check_lost(case: Case) -> tuple[Finding, ...]:
    """Holes in members the frame does not have, or outside the wood they are in."""
    source = Source("common practice", confirmed="practice")
    findings = []
    for hole in case.wiring.holes:
        if hole.member not in case.members:
            says = f"Cannot tell: hole {hole.id} is in {hole.member}, which the frame does not have."
            findings.append(
                Finding(LOST, Severity.CANNOT_TELL, (hole.id,), hole.room or "the house", says, source=source)
            )
            continue
        member = case.members[hole.member]
        if hole.open_passage or hole.axis not in ("along", "up"):
            continue
        at, (low, high) = (hole.up_in, member.up) if hole.axis == "along" else (hole.along_in, member.along)
        r = hole.diameter_in / 2
        if below(at - r, low) or below(high, at + r):
            ends = f"from {found(low)} to {found(high)}"
            says = f"Hole {hole.id} at {found(at)} leaves its member, which goes {ends}."
            findings.append(
                Finding(
                    LOST,
                    Severity.STOP,
                    (hole.id, member.id),
                    hole.room or member.says,
                    says,
                    at,
                    source=source,
                )
            )
    return tuple(findings)
