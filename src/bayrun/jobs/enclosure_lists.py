"""Lists of the enclosure's inside: port map, power and heat, knockouts, each as a sheet and as a table."""

from __future__ import annotations

from dataclasses import replace

from bayrun.drawings import cautions
from bayrun.drawings.enclosure_notes import (
    battery_words,
    dimension_words,
    heat_words,
    plug_words,
    positions_words,
)
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.enclosure import FitOut, Piece, Termination, fit_out
from bayrun.jobs.plan import Plan
from bayrun.rules.words import count_of
from bayrun.takeoff.lists import Column as TableColumn
from bayrun.takeoff.lists import ListTable
from bayrun.units import tape


def enclosure_list_sheets(plan: Plan) -> tuple[ListSheet, ...]:
    """Port map, power list and knockouts of each enclosure that is built."""
    made = [sheet for told in _all(plan) for sheet in (_port_map(told), _power(told), _knockouts(told))]
    return tuple(sheet for sheet in made if sheet.rows)


def enclosure_tables(plan: Plan) -> tuple[ListTable, ...]:
    """The same lists as tables, for CSV files and the workbook."""
    return tuple(
        table if number == 0 else replace(table, name=f"{table.name}-{number + 1}")
        for number, told in enumerate(_all(plan))
        for table in (_port_table(told), _power_table(told), _knockout_table(told))
    )


def _all(plan: Plan) -> tuple[FitOut, ...]:
    """Every enclosure that is built, fitted out."""
    made = (fit_out(plan.job, plan.wiring, box) for box in plan.job.built_enclosures)
    return tuple(told for told in made if told is not None)


def _position(told: FitOut, piece: str, kind: str, number: int) -> str:
    return f"{told.piece(piece).name}, {kind} {number}" if piece else "no position"


def _switch_port(told: FitOut, row: Termination) -> str:
    return f"{told.piece(row.switch).name}, port {row.port}" if row.switch else ""


def _port_map(told: FitOut) -> ListSheet:
    ports = told.ports
    switched = any(row.switch for row in ports.rows)
    rows = tuple(
        ListRow(
            (
                str(row.order),
                row.run,
                row.location,
                _position(told, row.piece, row.kind, row.position) + (", spare" if row.spare else ""),
                *((_switch_port(told, row),) if switched else ()),
            ),
            "",
            f"{row.room or 'Elsewhere'}, level {row.level}" if row.level else row.room or "Elsewhere",
        )
        for row in ports.rows
    )
    free = ", ".join(f"{count} {kind} on {told.piece(piece).name}" for piece, kind, count in ports.free)
    note = "In the order of rooms, as on the plan and the plates. One pinout at both ends of every data run."
    if not switched:
        note += " No switch is named in the box: its ports are patched later."
    if free:
        note += f" Left for later: {free}."
    return ListSheet(
        "termination order and port map",
        f"Terminate in {told.box.id} in this order: {count_of(len(rows), 'run')}",
        (
            Column("order", "number"),
            Column("run", "id"),
            Column("far end", share=0.6),
            Column("ends on", share=1.2),
            *((Column("switch port", share=1.0),) if switched else ()),
        ),
        rows,
        where=f"{told.box.id}, {told.box.room}",
        note=note,
        caution=cautions.LABEL,
        field="tested",
    )


def _assumed_words(piece: Piece) -> str:
    what = " and ".join(
        word for word, is_so in (("Size", piece.assumed), ("watts", piece.watts_assumed)) if is_so
    )
    return f"{what[:1].upper()}{what[1:]} assumed: read it off the piece" if what else "As the job says"


def _outlet(told: FitOut, piece: str) -> str:
    power = told.power
    return "" if power is None else str(dict(power.outlets).get(piece, ""))


def _power(told: FitOut) -> ListSheet:
    rows = tuple(
        ListRow(
            (
                piece.name,
                dimension_words(piece),
                positions_words(piece),
                "not told" if piece.watts is None else f"{piece.watts:.0f}",
                "not told" if piece.heat_w is None else f"{piece.heat_w:.0f}",
                tape(piece.plug_in) if piece.plug_in else "none",
                _outlet(told, piece.id),
            ),
            "",
            _assumed_words(piece),
        )
        for piece in sorted(told.pieces, key=lambda p: (p.assumed, p.watts_assumed))
    )
    return ListSheet(
        "power and heat in the enclosure",
        f"Plug in and keep cool: {count_of(len(told.pieces), 'piece')} in {told.box.id}",
        (
            Column("piece", share=1.2),
            Column("width x height x depth", share=1.2),
            Column("takes", share=0.6),
            Column("watts", "number"),
            Column("heat inside", "number"),
            Column("plug", "number"),
            Column("outlet", "number"),
        ),
        rows,
        where=f"{told.box.id}, {told.box.room}",
        note=f"{heat_words(told)} {plug_words(told)} {battery_words(told)} "
        "Power sent over the cables leaves the box; what the supplies lose stays.",
        caution=cautions.ENCLOSURE,
        tick=False,
        wide=True,
    )


def _knockouts(told: FitOut) -> ListSheet:
    rows = tuple(
        ListRow(
            (
                f"{use.edge} {use.number}",
                tape(use.from_left_in),
                f"trade {use.trade}" if use.trade else tape(use.diameter_in),
                f"{100 * use.fill:.0f} %" if use.runs else "",
                ", ".join(use.runs) if use.runs else _empty_words(use.use),
            ),
            "",
        )
        for use in told.entries.uses
    )
    return ListSheet(
        "knockouts",
        f"What enters {told.box.id} where: {told.entries.reason}",
        (
            Column("knockout", "id"),
            Column("from the left", "number"),
            Column("size"),
            Column("of bushing", "number"),
            Column("runs, from the left", share=1.0),
        ),
        rows,
        where=f"{told.box.id}, {told.box.room}",
        note="A bushing in each before the first cable. Break out only what is listed.",
        caution=cautions.ENCLOSURE,
    )


def _empty_words(use: str) -> str:
    return "power, the licensed electrician's" if use == "power" else "left for later"


def _port_table(told: FitOut) -> ListTable:
    columns = (
        TableColumn("Order", "count", 6),
        TableColumn("Run", width=12),
        TableColumn("Kind", width=6),
        TableColumn("Level", width=6),
        TableColumn("Room", width=20),
        TableColumn("Far end", width=12),
        TableColumn("Ends on", width=26),
        TableColumn("Position", "count", 8),
        TableColumn("Switch", width=20),
        TableColumn("Port", "count", 6),
        TableColumn("Spare", width=6),
        TableColumn("Tested", "blank", 10),
    )
    rows = tuple(
        (
            row.order,
            row.run,
            row.kind,
            row.level,
            row.room,
            row.location,
            told.piece(row.piece).name if row.piece else "",
            row.position or None,
            told.piece(row.switch).name if row.switch else "",
            row.port or None,
            "yes" if row.spare else "",
            None,
        )
        for row in told.ports.rows
    )
    return ListTable("port-map", "Termination order and port map", columns, rows)


def _power_table(told: FitOut) -> ListTable:
    columns = (
        TableColumn("Piece", width=26),
        TableColumn("Width", "length", 10),
        TableColumn("Height", "length", 10),
        TableColumn("Depth", "length", 10),
        TableColumn("Left", "length", 10),
        TableColumn("Bottom", "length", 10),
        TableColumn("Takes", width=12),
        TableColumn("Watts", "number", 8),
        TableColumn("Heat inside W", "number", 8),
        TableColumn("Plug width", "length", 10),
        TableColumn("Outlet", "count", 8),
        TableColumn("Size assumed", width=8),
    )
    rows = []
    for piece in told.pieces:
        place = None if told.arrangement is None else told.arrangement.place_of(piece.id)
        outlet = None if told.power is None else dict(told.power.outlets).get(piece.id)
        rows.append(
            (
                piece.name,
                piece.width_in,
                piece.height_in,
                piece.depth_in,
                None if place is None else place.left_in,
                None if place is None else place.bottom_in,
                positions_words(piece),
                piece.watts,
                piece.heat_w,
                piece.plug_in or None,
                outlet,
                "yes" if piece.assumed else "",
            )
        )
    return ListTable("enclosure-gear", "Gear, power and heat in the enclosure", columns, tuple(rows))


def _knockout_table(told: FitOut) -> ListTable:
    columns = (
        TableColumn("Knockout", width=10),
        TableColumn("From left", "length", 10),
        TableColumn("Trade size", width=10),
        TableColumn("Hole", "length", 10),
        TableColumn("Bushing", "length", 10),
        TableColumn("Use", width=14),
        TableColumn("Runs", "count", 8),
        TableColumn("Fill %", "number", 8),
        TableColumn("Which", width=40),
    )
    rows = tuple(
        (
            f"{use.edge} {use.number}",
            use.from_left_in,
            use.trade,
            use.diameter_in,
            use.opening_in,
            use.use,
            len(use.runs),
            round(100 * use.fill, 1),
            " ".join(use.runs),
        )
        for use in told.entries.uses
    )
    return ListTable("knockouts", "Knockouts of the enclosure", columns, rows)
