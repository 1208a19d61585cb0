"""From counted records to the list sheets of the pack, in the order of use."""

from __future__ import annotations

from bayrun.drawings import cautions
from bayrun.drawings.lists import BigNumber, Column, ListRow, ListSheet
from bayrun.drawings.lists import WalkFact as SheetFact
from bayrun.jobs.enclosure_lists import enclosure_list_sheets, enclosure_tables
from bayrun.jobs.money import money_sheets, money_tables
from bayrun.jobs.plan import Plan
from bayrun.jobs.signal_sheets import signal_sheets
from bayrun.routing.prices import price_lines
from bayrun.rules.words import count_of
from bayrun.takeoff.lists import Cell, ListTable, lists
from bayrun.takeoff.records import DrillRow
from bayrun.takeoff.stand import trip_count, two_people
from bayrun.takeoff.walk_facts import walk_facts
from bayrun.units import feet_and_inches, fraction, tape

BANDS = {
    "floor": "from the floor",
    "reach": "in reach",
    "ladder": "from a ladder",
    "open passage": "nothing to drill",
}


def list_sheets(plan: Plan) -> tuple[ListSheet, ...]:
    """Drill, pull, box, label, steel, seal, support, material; runs, power, signal, ports, radio; prices."""
    return (
        _drill(plan),
        _passages(plan),
        _pulls(plan),
        _boxes(plan),
        _labels(plan),
        _steel(plan),
        _seals(plan),
        _supports(plan),
        _material(plan),
        *money_sheets(plan),
        _runs(plan),
        *enclosure_list_sheets(plan),
        *signal_sheets(plan),
        _prices(plan),
    )


def plan_tables(plan: Plan) -> tuple[ListTable, ...]:
    """All lists as tables, for CSV files and the workbook."""
    told = tuple(f for f in plan.findings if f not in plan.counted.findings)
    counted = lists(plan.job, plan.frame, plan.wiring, plan.counted, told)
    return (*counted, *enclosure_tables(plan), *money_tables(plan))


def numbers(plan: Plan) -> tuple[BigNumber, ...]:
    """The numbers of the cover, large and alone."""
    t = plan.totals
    found = [
        BigNumber(f"{t.locations}", "locations"),
        BigNumber(f"{t.runs}", "runs"),
        BigNumber(f"{t.feet:,.0f}", "feet of cable, slack included"),
        BigNumber(f"{t.holes}", "holes to drill"),
        BigNumber(f"{t.plates}", "nail plates"),
        BigNumber(f"{t.stops}", "findings that say stop"),
    ]
    if t.price:
        found.append(BigNumber(f"{t.price:,.2f}", f"{t.currency} of material with a known price"))
    return tuple(found)


def said(plan: Plan) -> str:
    """What the cover must say before anything else."""
    t = plan.totals
    parts = []
    if t.unreached:
        runs = ", ".join(u.run for u in plan.wiring.unreached[:8])
        more = f" and {t.unreached - 8} more" if t.unreached > 8 else ""
        parts.append(f"Not planned, no way was found: {runs}{more}. See the findings.")
    if t.stops:
        them = "it" if t.stops == 1 else "them"
        parts.append(
            f"{count_of(t.stops, 'finding says', 'findings say')} stop: settle {them} before anybody drills."
        )
    if t.cannot_tell:
        parts.append(f"{count_of(t.cannot_tell, 'finding')} cannot be told, because a fact is missing.")
    if t.unpriced:
        parts.append(f"{count_of(t.unpriced, 'material line has', 'material lines have')} no price yet.")
    parts.append(_cost_words(plan))
    return " ".join(part for part in parts if part)


def _cost_words(plan: Plan) -> str:
    """The cost check in words: what routing weighs, never an approval."""
    check = plan.wiring.certificate
    if check is None or not check.bound or not plan.wiring.runs:
        return ""
    money = plan.job.practice.currency
    what = "" if check.planned else " for the runs that were planned"
    return (
        f"Cost check: by the firm's table no plan on this framing can spend less than "
        f"{check.bound / 1e6:,.0f} {money} on cable, pulling and holes{what}; this one is within "
        f"{100 * check.gap:.1f} % of that."
    )


def walk(plan: Plan) -> tuple[SheetFact, ...]:
    """The facts of the walk sheet."""
    return tuple(
        SheetFact(f.place, f.question, f.planned, f.feet, f.holes, "tape" if f.answer == "tape" else "yes/no")
        for f in walk_facts(plan.job, plan.frame, plan.wiring)
    )


def _look(row: DrillRow) -> str:
    parts = []
    if row.margins:
        parts.append("wood to the faces " + ", ".join(f"{face} {tape(m)}" for face, m in row.margins))
    parts.append(f"bearing {row.bearing}")
    if row.plates:
        parts.append(f"plates {', '.join(row.plates)}")
    if row.strap:
        parts.append(f"strap {row.strap}")
    if row.check:
        parts.append(f"look first: {row.check}")
    parts.append(f"for {', '.join(row.runs)}")
    return "; ".join(parts)


def _wood(row: DrillRow) -> str:
    return f"{row.wall}, {row.member}" if row.wall and row.wall not in row.member else row.member


def _drill(plan: Plan) -> ListSheet:
    drilled = [r for r in plan.counted.drill if r.drilled]
    bits = sorted({r.bit_in for r in drilled})
    rows = tuple(
        ListRow(
            (r.row, r.hole, f"{fraction(r.bit_in)} in", _wood(r), r.where),
            _look(r),
            f"{r.room or 'Between rooms'}, level {r.level}, {BANDS[r.band]}",
        )
        for r in drilled
    )
    words = ", ".join(f"{fraction(b)} in" for b in bits)
    heading = f"Drill in this order: {count_of(len(drilled), 'hole')}" + (f", bits {words}" if bits else "")
    return ListSheet(
        "drill list",
        heading,
        (
            Column("row"),
            Column("hole", "id"),
            Column("bit"),
            Column("wood", share=1.3),
            Column("where", share=1.0),
        ),
        rows,
        note="In the order of walking. Chalk the hole's name on the wood. Room first, then reach, then bit.",
        caution=cautions.DRILL,
        wide=True,
    )


def _passages(plan: Plan) -> ListSheet:
    given = [r for r in plan.counted.drill if not r.drilled]
    rows = tuple(
        ListRow(
            (r.row, r.hole, f"{fraction(r.bit_in)} in", _wood(r), r.where, ", ".join(r.runs)),
            "",
            f"{r.room or 'Floors and attic'}, level {r.level}",
        )
        for r in given
    )
    return ListSheet(
        "openings that are there",
        f"Use what is there: {count_of(len(given), 'opening')}, nothing to drill",
        (
            Column("row"),
            Column("name", "id"),
            Column("size"),
            Column("wood", share=1.0),
            Column("where", share=1.0),
            Column("runs", share=1.2),
        ),
        rows,
        caution=cautions.DRILL,
        wide=True,
    )


def _pulls(plan: Plan) -> ListSheet:
    lengths = {row.run: row for row in plan.counted.lengths}
    runs = {run.id: run for run in plan.wiring.runs}
    rows = []
    for pull in plan.counted.pulls:
        box_of = dict(pull.boxes)
        crew = two_people(plan.job, runs[pull.runs[0]])
        group = f"Pull {pull.order} ({pull.id}), {pull.stand}; {crew}: {pull.way}"
        for run in pull.runs:
            row = lengths[run]
            ends = f"{row.from_place} to {row.to_place}"
            cells = (run, row.kind_name, ends, feet_and_inches(row.cut_in), box_of.get(run, ""), "", "")
            rows.append(ListRow(cells, "", group))
    return ListSheet(
        "pull list",
        f"Pull in {count_of(len(plan.counted.pulls), 'trip')}: {count_of(len(rows), 'run')}",
        (
            Column("run", "id"),
            Column("cable", share=0.8),
            Column("from, to", share=1.6),
            Column("cut", "number"),
            Column("box"),
            Column("start mark", share=0.35),
            Column("end mark", share=0.35),
        ),
        tuple(rows),
        note="Longest first, while the boxes are full. Label before pulling, both ends. "
        f"Cut at the enclosure after the pull.{_more_boxes(plan)}",
        caution=cautions.PULL,
        field="actual",
        wide=True,
    )


def _more_boxes(plan: Plan) -> str:
    """What another cable box on the stand would save, for the kind where it saves the most."""
    told = trip_count(plan.job, plan.wiring, plan.counted.pulls)
    if not told.savings:
        return ""
    kind, ready, saved = told.savings[0]
    return (
        f" With {count_of(ready + 1, 'box', 'boxes')} of {kind} at the stand: {count_of(saved, 'trip')} less."
    )


def _boxes(plan: Plan) -> ListSheet:
    rows = []
    names = {row.kind: row.kind_name for row in plan.counted.lengths}
    for box in plan.counted.boxes:
        left_ft = box.start_ft
        hand = ", from the truck" if box.partial else ""
        group = f"{box.id}: {names.get(box.kind, box.kind)}, {box.start_ft:,.0f} ft{hand}"
        for run, cut_in in box.cuts:
            left_ft -= cut_in / 12
            rows.append(ListRow((run, feet_and_inches(cut_in), f"{left_ft:,.0f} ft", "", ""), "", group))
    return ListSheet(
        "cable boxes",
        f"A card for each of {count_of(len(plan.counted.boxes), 'box', 'boxes')}: what it feeds, in order",
        (
            Column("run", "id"),
            Column("cut", "number", 1.0),
            Column("left after", "number", 1.0),
            Column("start mark", share=1.0),
            Column("end mark", share=1.0),
        ),
        tuple(rows),
        note=f"{_deal_words(plan)} Read the jacket at both ends: used is the difference of the marks. "
        "A box runs short: bayrun swap PACK --run RUN --left FEET.",
        caution=cautions.PULL,
    )


def _deal_words(plan: Plan) -> str:
    """How good the deal of cuts to boxes is known to be."""
    checks = plan.counted.box_checks
    new = sum(check.new for check in checks)
    if all(check.proven for check in checks):
        return f"{count_of(new, 'new box', 'new boxes')}: no deal needs fewer or leaves less scrap."
    return " ".join(f"{check.says}." for check in checks if not check.proven)


def _labels(plan: Plan) -> ListSheet:
    rows = tuple(
        ListRow((p.mark, f"{p.port}", p.from_text, p.to_text), "", p.room) for p in plan.counted.labels
    )
    return ListSheet(
        "labels",
        f"Label both ends of {count_of(len(rows), 'run')}, three labels an end",
        (
            Column("mark", "id"),
            Column("port", "number"),
            Column("at its start", share=1.0),
            Column("at its end", share=1.0),
        ),
        rows,
        note="One 6 in from the end, one 24 in back, one at the plate or the enclosure. Marks never change.",
        caution=cautions.LABEL,
    )


_STEEL_COLUMNS = (
    Column("id", "id"),
    Column("hole"),
    Column("where", share=2.0),
    Column("face", share=0.7),
    Column("size", share=0.7),
    Column("why", share=1.3),
)


def _table(plan: Plan, name: str) -> ListTable:
    return next(t for t in plan_tables(plan) if t.name == name)


def _text(cell: Cell) -> str:
    return "" if cell is None else str(cell)


def _steel(plan: Plan) -> ListSheet:
    table = _table(plan, "plates")
    names = [c.head for c in table.columns]
    rows = []
    for row in table.rows:
        cell = dict(zip(names, row, strict=True))
        rows.append(
            ListRow(
                tuple(_text(cell[k]) for k in ("Id", "Hole", "Where", "Face", "Size", "Reason")),
                "",
                _text(cell["What"]),
            )
        )
    t = plan.totals
    parts = ((t.plates, "nail plate"), (t.straps, "strap"), (t.grommets, "grommet"))
    steel = ", ".join(count_of(number, name) for number, name in parts)
    return ListSheet(
        "plates and straps",
        f"Nail before the board: {steel}",
        _STEEL_COLUMNS,
        tuple(rows),
        caution=cautions.PLATE,
        wide=True,
    )


def _seals(plan: Plan) -> ListSheet:
    rows = tuple(
        ListRow((s.id, s.hole or s.location, s.place, s.material), "", s.assembly) for s in plan.counted.seals
    )
    return ListSheet(
        "seal list",
        f"Close {count_of(len(rows), 'penetration')} before insulation",
        (Column("id", "id"), Column("hole"), Column("where", share=1.6), Column("close with", share=1.0)),
        rows,
        note="Ask the inspector which material counts, and whether to close before or after the rough check.",
        caution=cautions.COVER[2],
        field="photo",
    )


def _supports(plan: Plan) -> ListSheet:
    rows = tuple(
        ListRow(
            (s.id, s.place, f"{s.count}", tape(s.every_in), count_of(len(s.runs), "run")),
            "",
            s.kind,
        )
        for s in plan.counted.supports
    )
    return ListSheet(
        "supports",
        f"Staples and hangers: {sum(s.count for s in plan.counted.supports)}",
        (
            Column("id", "id"),
            Column("where", share=1.0),
            Column("count", "number"),
            Column("at most apart", "number"),
            Column("holds", "number"),
        ),
        rows,
        note="Snug, never crushed. Nothing is hung from a pipe, a conduit or a sprinkler line.",
        caution=cautions.PULL,
    )


def _material(plan: Plan) -> ListSheet:
    rows = []
    for line in plan.counted.material:
        price = "" if line.price is None else f"{line.price:,.2f}"
        need = f"{line.needed} + {line.spare}" if line.spare else f"{line.needed}"
        packs = f"{line.packs} {line.pack}"
        rows.append(ListRow((line.item, need, line.unit, packs, price), line.reason, line.group))
    t = plan.totals
    heading = (
        f"Load the truck: {count_of(len(rows), 'line')}, {t.price:,.2f} {t.currency} where a price is known"
    )
    return ListSheet(
        "material",
        heading,
        (
            Column("item", share=1.4),
            Column("needed + spare", "number"),
            Column("unit"),
            Column("load", share=0.7),
            Column(t.currency, "number"),
        ),
        tuple(rows),
        caution=cautions.MATERIAL,
        field="on truck",
    )


def _runs(plan: Plan) -> ListSheet:
    rows = tuple(
        ListRow(
            (r.run, r.kind_name, f"{r.from_place} to {r.to_place}", feet_and_inches(r.length_in)),
            "; ".join(part for part in (r.way, r.reason) if part),
        )
        for r in plan.counted.lengths
    )
    return ListSheet(
        "runs",
        f"Every run and its way: {count_of(len(rows), 'run')}",
        (
            Column("run", "id"),
            Column("cable", share=0.6),
            Column("from, to", share=1.4),
            Column("length with slack", "number"),
        ),
        rows,
        tick=False,
        field="",
        caution=cautions.PULL,
        wide=True,
    )


def _prices(plan: Plan) -> ListSheet:
    money = plan.job.practice.currency
    rows = tuple(
        ListRow((p.what, f"{p.amount} {p.unit}" if p.unit == "times" else f"{p.amount:,.2f}", p.note))
        for p in price_lines(plan.job.practice)
    )
    return ListSheet(
        "prices used",
        "What the ways were weighed by: the firm's own figures",
        (Column("what", share=1.2), Column(money, "number"), Column("made of", share=1.3)),
        rows,
        note="The plan takes the ways whose sum of these is least. They are set under practice.",
        tick=False,
        field="",
        caution=cautions.MATERIAL,
    )
