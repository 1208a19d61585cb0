"""The verdict on one hole alone, other holes assumed absent: what ``quick hole`` prints."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bayrun.findings import Finding, Fix, Severity
from bayrun.geometry import below
from bayrun.limits import (
    Piece,
    hole_limits,
    largest_hole_in,
    margins_in,
    nail_plates_needed,
    strap_length_in,
    strap_needed,
)
from bayrun.rules.judge import Breach, judge, load_words
from bayrun.rules.words import cap, found
from bayrun.tables import Adopted, Clause

_BAD = (Severity.STOP, Severity.CANNOT_TELL)
ASSUMED = "no other hole or notch in this member"


@dataclass(frozen=True, slots=True)
class QuickHole:
    """The verdict on one hole.

    Args:
        legal: True where no stop stands and nothing is missing to say so.
        limit_in: Largest hole by the size clause alone; None where none is allowed or printed [in].
        margins_in: Wood to the near and the far face; None where the depth is not known [in].
        plates: Faces that need a nail plate.
        strap: True where the plate needs a strap.
        clause: The clause of the size limit.
        findings: Worst first.
        assumed: What was assumed, one by one.
    """

    piece: Piece
    diameter_in: float
    center_in: float | None
    legal: bool
    limit_in: float | None
    margins_in: tuple[float, float] | None
    plates: tuple[str, ...]
    strap: bool
    clause: Clause
    findings: tuple[Finding, ...]
    assumed: tuple[str, ...]

    @property
    def severity(self) -> Severity | None:
        """The worst severity found, "cannot tell" standing next to stop; None where nothing is."""
        found_here = {finding.severity for finding in self.findings}
        order = (*_BAD, Severity.FIX_SOON, Severity.NOTE)
        return next((severity for severity in order if severity in found_here), None)

    @property
    def fixes(self) -> tuple[Fix, ...]:
        """Every fix once, in the order of the findings."""
        seen: dict[Fix, None] = {}
        for finding in self.findings:
            seen.update(dict.fromkeys(finding.fixes))
        return tuple(seen)

    def as_json(self) -> dict[str, Any]:
        """Plain data; lengths in inches."""
        return {
            "legal": self.legal,
            "limit_in": None if self.limit_in is None else round(self.limit_in, 6),
            "margins_in": None if self.margins_in is None else [round(m, 6) for m in self.margins_in],
            "plates": len(self.plates),
            "plate_faces": list(self.plates),
            "strap": self.strap,
            "clause": " ".join(
                part for part in (self.clause.document, self.clause.edition, self.clause.number) if part
            ),
            "source": str(self.clause.source),
            "confirmed": self.clause.confirmed,
            "severity": None if self.severity is None else str(self.severity),
            "findings": [_finding_json(finding) for finding in self.findings],
            "fixes": [_fix_json(fix) for fix in self.fixes],
            "assumed": list(self.assumed),
        }


def _fix_json(fix: Fix) -> dict[str, Any]:
    return {
        "verb": fix.verb,
        "arguments": list(fix.arguments),
        "says": fix.says,
        "request_to": fix.request_to,
    }


def _finding_json(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": str(finding.severity),
        "says": finding.says,
        "measured": finding.measured,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": "" if finding.source is None else str(finding.source),
        "fixes": [_fix_json(fix) for fix in finding.fixes],
    }


def _size_clause(piece: Piece, adopted: Adopted) -> Clause:
    limits = hole_limits(piece, adopted)
    if piece.role == "plate" and piece.kind == "sawn":
        return adopted.clause("plate-tie")
    return limits.clause


def quick_hole(
    piece: Piece,
    diameter_in: float,
    adopted: Adopted,
    *,
    center_in: float | None = None,
    depth_known: bool = True,
    bits_in: tuple[float, ...] = (),
    assumed: tuple[str, ...] = (),
) -> QuickHole:
    """Judge one hole in one piece, other holes assumed absent.

    Args:
        piece: What is drilled.
        diameter_in: Of the hole [in].
        adopted: Clauses in force.
        center_in: From the room-side edge (joists: from the bottom); None is the middle of the depth [in].
        depth_known: False where the depth was not given and cannot be looked up: no margins are printed.
        bits_in: Bits on the truck, for the fixes [in].
        assumed: What the caller assumed, to print.
    Source: as in ``limits``; NEC 300.4(A)(1) for plates, IRC R602.6.1 for the strap.
    """
    at_in = piece.depth_in / 2 if center_in is None else center_in
    faces = ("bottom", "top") if piece.role in ("joist", "rafter", "beam") else ("room side", "far side")
    charted = piece.kind == "I-joist" and piece.knockout_in is not None
    breaches = judge(piece, diameter_in, at_in, adopted, bits_in=bits_in, faces=faces, factory=charted)
    findings = [_as_finding(breach) for breach in breaches]
    drillable = not any(b.rule == "engineered-never" for b in breaches)
    steel = piece.kind == "steel"
    plates: tuple[str, ...] = ()
    if drillable and piece.kind == "sawn":
        needed = nail_plates_needed(piece.depth_in, diameter_in, at_in, adopted)
        plates = tuple(name for name, face in zip(faces, ("near", "far"), strict=True) if face in needed)
    if plates:
        findings.append(_plates_finding(piece, diameter_in, at_in, plates, adopted))
    strap = drillable and strap_needed(piece, diameter_in, adopted)
    if strap:
        findings.append(_strap_finding(piece, diameter_in, adopted))
    if piece.doubled and piece.role == "stud" and below(_single_limit(piece, adopted), diameter_in):
        findings.append(_successive_finding(adopted))
    if steel and drillable:
        source = adopted.clause("steel-punched").source
        says = (
            "Pass through the factory punched hole with a grommet snapped in; drill nothing; no nail plate."
        )
        findings.append(Finding("steel-grommet", Severity.NOTE, (), "", says, source=source))
    clause = _size_clause(piece, adopted)
    if clause.to_verify and clause.life_safety and not any(f.severity in _BAD for f in findings):
        says = f"Verify {clause.document} {clause.edition} {clause.number}: {clause.proof}."
        findings.append(
            Finding("clause-to-verify", Severity.CANNOT_TELL, (clause.slug,), "", says, source=clause.source)
        )
    ordered = tuple(sorted(findings, key=lambda f: f.order))
    bad = {Severity.STOP} if drillable else {Severity.STOP, Severity.CANNOT_TELL}
    return QuickHole(
        piece=piece,
        diameter_in=diameter_in,
        center_in=at_in if depth_known else None,
        legal=not any(f.severity in bad for f in ordered),
        limit_in=largest_hole_in(piece, adopted),
        margins_in=margins_in(piece.depth_in, diameter_in, at_in) if depth_known else None,
        plates=plates,
        strap=strap,
        clause=clause,
        findings=ordered,
        assumed=(ASSUMED, *assumed),
    )


def _single_limit(piece: Piece, adopted: Adopted) -> float:
    if not piece.loaded:
        return float("inf")
    return largest_hole_in(piece.but(doubled=False), adopted) or 0.0


def _as_finding(breach: Breach) -> Finding:
    fixes = tuple(
        Fix(
            cure.verb,
            (cure.answer,) if cure.verb == "ask" else (cure.diameter_in, cure.center_in),
            cure.says,
            cure.request_to,
        )
        for cure in breach.cures
    )
    return Finding(
        breach.rule,
        breach.severity,
        (),
        "",
        breach.says,
        breach.measured_in,
        breach.limit_in,
        source=breach.source,
        fixes=fixes,
    )


def _plates_finding(
    piece: Piece, diameter_in: float, at_in: float, plates: tuple[str, ...], adopted: Adopted
) -> Finding:
    clause = adopted.clause("nail-plate")
    keep_in = float(clause.value("edge_in"))
    least_in = min(margins_in(piece.depth_in, diameter_in, at_in))
    where = "on both faces" if len(plates) == 2 else f"on the {plates[0]}"
    says = (
        f"Steel nail plate {where}: the hole's edge is {found(least_in)} from the face, "
        f"under {found(keep_in)}."
    )
    if not clause.value("binds_low_voltage"):
        says += f" NEC {clause.edition} does not bind low voltage here; it is our practice."
    return Finding("nail-plate", Severity.NOTE, (), "", says, least_in, keep_in, source=clause.source)


def _strap_finding(piece: Piece, diameter_in: float, adopted: Adopted) -> Finding:
    clause = adopted.clause("plate-tie")
    length_in = strap_length_in(diameter_in, adopted)
    limit_in = float(clause.value("share") * piece.depth)
    says = (
        f"The cut is more than half the plate ({cap(limit_in)}): one steel strap across it, "
        f'0.054" by 1-1/2", at least {found(length_in)} long, eight 10d nails on each side of the hole. '
        "Not needed where wood panels cover that whole side of the wall."
    )
    return Finding("plate-strap", Severity.NOTE, (), "", says, diameter_in, limit_in, source=clause.source)


def _successive_finding(adopted: Adopted) -> Finding:
    clause = adopted.clause("stud-bore")
    says = "Allowed in two doubled studs in a row; the third in a row is not drilled over 40 %."
    limit = float(clause.value("successive_doubled"))
    return Finding(
        "stud-successive-doubled", Severity.NOTE, (), "", says, None, limit, "studs", source=clause.source
    )


def human(verdict: QuickHole) -> str:
    """A few lines an installer reads."""
    piece, lines = verdict.piece, []
    deep = "" if verdict.center_in is None else f"{found(piece.depth_in)} "
    what = f"{found(verdict.diameter_in)} hole in {'an' if not deep and _what(piece)[0] in 'eIio' else 'a'} "
    what += f"{deep}{_what(piece)}"
    word = "OK" if verdict.legal else "CANNOT TELL" if verdict.severity is Severity.CANNOT_TELL else "STOP"
    if verdict.legal and verdict.severity is Severity.CANNOT_TELL:
        word = "WITHIN THE FIGURES, VERIFY"
    lines.append(f"{word}: {what}")
    if verdict.limit_in is not None:
        strap = " without a strap" if piece.role == "plate" else ""
        lines.append(f"Largest hole{strap}: {cap(verdict.limit_in)}  [{verdict.clause.source}]")
    if verdict.margins_in is not None:
        near_in, far_in = verdict.margins_in
        lines.append(f"Wood left: {found(near_in)} near, {found(far_in)} far")
    if piece.kind == "sawn" and not any(f.rule == "engineered-never" for f in verdict.findings):
        lines.append(f"Nail plates: {' and '.join(verdict.plates) if verdict.plates else 'none'}")
    lines += [f"{str(f.severity).upper()}: {f.says}  [{f.source}]" for f in verdict.findings]
    lines += [f"  Fix: {fix.says}" for fix in verdict.fixes]
    lines.append(f"Assumed: {'; '.join(verdict.assumed)}.")
    if not verdict.legal:
        lines.append("Structure is the framer's or engineer's to answer; the inspector decides.")
    return "\n".join(lines)


def _what(piece: Piece) -> str:
    if piece.kind != "sawn":
        return piece.kind if piece.kind != "steel" else f"steel {piece.role}"
    if piece.role == "stud":
        return load_words(piece)
    if piece.role == "plate":
        return f"{'exterior' if piece.exterior else 'bearing' if piece.bearing else 'non-bearing'} top plate"
    return piece.role
