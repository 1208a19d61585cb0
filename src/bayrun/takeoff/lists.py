"""The lists a crew carries, as plain tables that sheets, CSV files and the workbook share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from bayrun.findings import Finding
from bayrun.framing.records import Frame
from bayrun.house import Job
from bayrun.takeoff.records import Takeoff, Totals
from bayrun.takeoff.totals import totals
from bayrun.takeoff.words import face_words, hole_place, natural
from bayrun.units import fraction, tape
from bayrun.wiring import Hole, Wiring

Kind = Literal["text", "count", "number", "length", "money", "blank"]
Cell = str | int | float | Decimal | None
Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a list.

    Args:
        head: As printed.
        kind: ``length`` holds inches and prints as a tape; ``blank`` is left for a pencil.
        width: Of the column on a sheet, in characters.
    """

    head: str
    kind: Kind = "text"
    width: int = 14


@dataclass(frozen=True, slots=True)
class ListTable:
    """One list: every row has one cell for each column; a ``blank`` cell is None."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


_TICK = Column("Done", "blank", 6)
_FIELD = Column("Field", "blank", 12)


def lists(
    job: Job, frame: Frame, wiring: Wiring, counted: Takeoff, findings: Sequence[Finding] = ()
) -> tuple[ListTable, ...]:
    """All lists of a plan, in the order a crew uses them.

    Args:
        counted: ``takeoff(job, frame, wiring)``.
        findings: All findings to print, worst first.
    """
    holes = {hole.id: hole for hole in wiring.holes}
    return (
        _drill(counted),
        _pulls(job, counted),
        _labels(counted),
        _steel(job, frame, counted, holes),
        _seals(counted),
        _supports(counted),
        _boxes(job, counted),
        _material(job, counted),
        _runs(counted),
        _findings((*findings, *counted.findings)),
        _totals(totals(job, wiring, counted, (*findings, *counted.findings))),
    )


def _drill(counted: Takeoff) -> ListTable:
    columns = (
        Column("Row", width=6),
        Column("Hole", width=7),
        Column("Room", width=18),
        Column("Level", width=7),
        Column("Wall", width=28),
        Column("Member", width=40),
        Column("Where", width=40),
        Column("From the end", "length", 12),
        Column("Height above subfloor", "length", 12),
        Column("Reach", width=12),
        Column("Bit", "length", 9),
        Column("Bearing", width=9),
        Column("Wood left to the faces", width=40),
        Column("Plates", width=14),
        Column("Strap", width=8),
        Column("Look first", width=50),
        Column("Runs", width=40),
        _FIELD,
        _TICK,
    )
    rows = tuple(
        (
            row.row,
            row.hole,
            row.room,
            row.level,
            row.wall,
            row.member,
            row.where,
            row.hook_in,
            row.height_in,
            row.band,
            row.bit_in,
            row.bearing,
            "; ".join(f"{face} {tape(margin_in)}" for face, margin_in in row.margins) if row.drilled else "",
            ", ".join(row.plates),
            row.strap,
            row.check,
            ", ".join(row.runs),
            None,
            None,
        )
        for row in counted.drill
    )
    return ListTable("drill", "Drill list, in walking order", columns, rows)


def _pulls(job: Job, counted: Takeoff) -> ListTable:
    columns = (
        Column("Pull", width=7),
        Column("Order", "count", 7),
        Column("Run", width=11),
        Column("Kind", width=18),
        Column("From", width=24),
        Column("To", width=24),
        Column("Cut", "length", 11),
        Column("Box", width=9),
        Column("Left in the box (ft)", "number", 11),
        Column("Stand", width=28),
        Column("Way", width=60),
        Column("Start mark", "blank", 10),
        Column("End mark", "blank", 10),
        Column("Label", "blank", 6),
        Column("Pulled", "blank", 7),
        Column("Dressed", "blank", 8),
    )
    lengths = {row.run: row for row in counted.lengths}
    left = {(run, box): feet for box, _, run, _, feet in _cuts(counted)}
    rows: list[Row] = []
    for pull in counted.pulls:
        box_of = dict(pull.boxes)
        for number, run in enumerate(pull.runs):
            row, box = lengths[run], box_of.get(run, "")
            ends = (row.kind_name, row.from_place, row.to_place)
            rest = left.get((run, box))
            words = ("", "") if number else (pull.stand, pull.way)
            blanks = (None,) * 5
            rows.append((pull.id, pull.order, run, *ends, row.cut_in, box, rest, *words, *blanks))
    return ListTable("pulls", "Pull list", columns, tuple(rows))


def _cuts(counted: Takeoff) -> list[tuple[str, int, str, float, float]]:
    """(box, number of the cut, run, length [in], feet left after it) for every cut."""
    found = []
    for box in counted.boxes:
        left_ft = box.start_ft
        for number, (run, cut_in) in enumerate(box.cuts, start=1):
            left_ft -= cut_in / 12
            found.append((box.id, number, run, cut_in, left_ft))
    return found


def _labels(counted: Takeoff) -> ListTable:
    columns = (
        Column("Mark", width=12),
        Column("Run", width=11),
        Column("Room", width=18),
        Column("Port", "count", 6),
        Column("Kind", width=18),
        Column("Label at its start", width=40),
        Column("Label at its end", width=40),
        Column("Copies each end", "count", 9),
        Column("Spare", width=7),
        _TICK,
    )
    rows = tuple(
        (
            pair.mark,
            pair.run,
            pair.room,
            pair.port,
            pair.kind_name,
            pair.from_text,
            pair.to_text,
            pair.copies_each_end,
            "yes" if pair.spare else "",
            None,
        )
        for pair in counted.labels
    )
    return ListTable("labels", "Labels: the same mark at both ends", columns, rows)


def _steel(job: Job, frame: Frame, counted: Takeoff, holes: dict[str, Hole]) -> ListTable:
    columns = (
        Column("Id", width=9),
        Column("What", width=12),
        Column("Hole", width=7),
        Column("Where", width=70),
        Column("Face", width=22),
        Column("Size", width=16),
        Column("Pieces", "count", 7),
        Column("Reason", width=56),
        _TICK,
    )
    members = {m.id: m for m in frame.members}

    def place(hole: str, member: str) -> str:
        return hole_place(job, members[member], holes[hole])

    rows: list[Row] = []
    for plate in counted.plates:
        size = f"{fraction(plate.width_in)} x {fraction(plate.length_in)} in"
        where, face = place(plate.hole, plate.member), face_words(plate.face)
        rows.append((plate.id, "nail plate", plate.hole, where, face, size, plate.pieces, plate.reason, None))
    for strap in counted.straps:
        size = f"at least {tape(strap.length_in)} long"
        where = place(strap.hole, strap.member)
        rows.append((strap.id, "strap", strap.hole, where, "", size, 1, strap.reason, None))
    for ring in counted.grommets:
        size, where = f"{fraction(ring.size_in)} in hole", place(ring.hole, ring.member)
        rows.append((ring.id, "grommet", ring.hole, where, "", size, 1, "steel edge", None))
    return ListTable("plates", "Nail plates, straps, grommets", columns, tuple(rows))


def _seals(counted: Takeoff) -> ListTable:
    columns = (
        Column("Id", width=9),
        Column("Hole", width=7),
        Column("Location", width=10),
        Column("Where", width=70),
        Column("Assembly", width=48),
        Column("Close with", width=56),
        Column("Photo", "blank", 7),
        _TICK,
    )
    rows = tuple(
        (seal.id, seal.hole, seal.location, seal.place, seal.assembly, seal.material, None, None)
        for seal in counted.seals
    )
    return ListTable("seals", "Seal list", columns, rows)


def _supports(counted: Takeoff) -> ListTable:
    columns = (
        Column("Id", width=8),
        Column("What", width=10),
        Column("Where", width=50),
        Column("Count", "count", 8),
        Column("At most apart", "length", 10),
        Column("First within", "length", 10),
        Column("Runs", width=60),
        _TICK,
    )
    rows = tuple(
        (one.id, one.kind, one.place, one.count, one.every_in, one.first_in, ", ".join(one.runs), None)
        for one in counted.supports
    )
    return ListTable("supports", "Staples and hangers", columns, rows)


def _boxes(job: Job, counted: Takeoff) -> ListTable:
    columns = (
        Column("Box", width=9),
        Column("Kind", width=18),
        Column("On hand", width=9),
        Column("Starts with (ft)", "number", 10),
        Column("Cut", "count", 6),
        Column("Run", width=11),
        Column("Length", "length", 11),
        Column("Left after (ft)", "number", 10),
        Column("Start mark", "blank", 10),
        Column("End mark", "blank", 10),
        Column("Left really (ft)", "blank", 10),
    )
    boxes = {box.id: box for box in counted.boxes}
    names = {row.kind: row.kind_name for row in counted.lengths}
    rows: list[Row] = []
    for box_id, number, run, cut_in, left_ft in _cuts(counted):
        box = boxes[box_id]
        hand = "yes" if box.partial else ""
        start = (box.id, names.get(box.kind, box.kind), hand, box.start_ft)
        rows.append((*start, number, run, cut_in, round(left_ft, 6), None, None, None))
    return ListTable("boxes", "Cable boxes: what each one feeds", columns, tuple(rows))


def _material(job: Job, counted: Takeoff) -> ListTable:
    money = job.practice.currency
    columns = (
        Column("Group", width=18),
        Column("Item", width=50),
        Column("Needed", "count", 8),
        Column("Spare", "count", 7),
        Column("Unit", width=8),
        Column("Packs", "count", 7),
        Column("Pack", width=20),
        Column(f"A pack ({money})", "money", 11),
        Column(f"Line ({money})", "money", 11),
        Column("Why", width=50),
        Column("Asked for by", width=60),
        Column("On the truck", "blank", 8),
    )
    rows = tuple(
        (
            line.group,
            line.item,
            line.needed,
            line.spare,
            line.unit,
            line.packs,
            line.pack,
            line.unit_price,
            line.price,
            line.reason,
            ", ".join(line.because),
            None,
        )
        for line in counted.material
    )
    return ListTable("material", "Material to load", columns, rows)


def _runs(counted: Takeoff) -> ListTable:
    columns = (
        Column("Run", width=11),
        Column("Kind", width=18),
        Column("From", width=24),
        Column("To", width=24),
        Column("Way", "length", 11),
        Column("Slack at from", "length", 10),
        Column("Slack at to", "length", 10),
        Column("Length", "length", 11),
        Column("Cut", "length", 11),
        Column("Enters at", width=9),
        Column("In words", width=60),
        Column("Why longer", width=40),
    )
    rows = tuple(
        (
            row.run,
            row.kind_name,
            row.from_place,
            row.to_place,
            row.way_in,
            row.slack_from_in,
            row.slack_to_in,
            row.length_in,
            row.cut_in,
            row.entry,
            row.way,
            row.reason,
        )
        for row in counted.lengths
    )
    return ListTable("runs", "Runs and their lengths", columns, rows)


def _findings(findings: Sequence[Finding]) -> ListTable:
    columns = (
        Column("Severity", width=12),
        Column("Where", width=44),
        Column("Finding", width=80),
        Column("What cures it", width=60),
        Column("Source", width=30),
        Column("About", width=24),
        Column("Rule", width=22),
        Column("Settled", "blank", 8),
    )
    rows = tuple(
        (
            finding.severity.value,
            finding.place,
            finding.says,
            "; ".join(fix.says for fix in finding.fixes),
            str(finding.source) if finding.source else "",
            ", ".join(finding.about),
            finding.rule,
            None,
        )
        for finding in sorted(findings, key=lambda f: f.order)
    )
    return ListTable("findings", "Findings, worst first", columns, rows)


def _totals(told: Totals) -> ListTable:
    rows: list[Row] = [
        ("Locations", told.locations, ""),
        ("Runs planned", told.runs, ""),
        ("Runs that reach no end", told.unreached, ""),
    ]
    rows += [
        (f"Feet of {kind}", round(feet, 6), "ft") for kind, feet in sorted(told.feet_by_kind, key=_by_kind)
    ]
    rows += [
        ("Feet of cable", round(told.feet, 6), "ft"),
        ("Holes to drill", told.holes, ""),
        ("Open passages used", told.open_passages, ""),
        ("Nail plates", told.plates, ""),
        ("Straps", told.straps, ""),
        ("Grommets", told.grommets, ""),
        ("Staples and hangers", told.supports, ""),
        ("Seals", told.seals, ""),
        ("Pulls", told.pulls, ""),
        ("Cable boxes", told.boxes, ""),
        ("Findings: stop", told.stops, ""),
        ("Findings: fix soon", told.fix_soon, ""),
        ("Findings: note", told.notes, ""),
        ("Findings: cannot tell", told.cannot_tell, ""),
        ("Material, lines with a price", told.price, told.currency),
        ("Material lines without a price", told.unpriced, ""),
    ]
    columns = (Column("What", width=36), Column("Count", "number", 14), Column("Unit", width=8))
    return ListTable("totals", "Totals", columns, tuple(rows))


def _by_kind(pair: tuple[str, float]) -> tuple[tuple[int, int, str], ...]:
    return natural(pair[0])
