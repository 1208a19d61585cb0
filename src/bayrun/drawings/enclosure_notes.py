"""The words beside the enclosure's inside: each piece, what enters, slack, heat, plugs, cords."""

from __future__ import annotations

from bayrun.cables.ranges import RangeError
from bayrun.drawings.panel import Row
from bayrun.enclosure import FitOut, Piece, Place, runtime_minutes
from bayrun.units import tape

BATTERY_V, BATTERY_AH = 12.0, 9.0
"""The usual small battery backup: common practice, no source."""


def dimension_words(piece: Piece) -> str:
    """Width x height x depth of a piece."""
    return f"{tape(piece.width_in)} x {tape(piece.height_in)} x {tape(piece.depth_in)}"


def gear_row(piece: Piece, place: Place | None) -> str:
    """One piece: name, size, place, watts, positions, and whether its size is assumed."""
    parts = [f"{piece.name}: {dimension_words(piece)}"]
    if place is not None:
        # The pencil on the back of the box follows these two.
        hand = ", set by hand" if place.by_hand else ""
        parts.append(f"left {tape(_near(place.left_in))}, bottom {tape(_near(place.bottom_in))}{hand}")
    else:
        parts.append("no place")
    if piece.watts is None:
        parts.append("watts not told")
    elif piece.watts:
        parts.append(f"{piece.watts:.0f} W")
    if piece.positions:
        parts.append(positions_words(piece))
    if piece.outlets:
        parts.append(f"{piece.outlets} outlets")
    return "; ".join(parts) + ("; size assumed, tape it" if piece.assumed else "")


def positions_words(piece: Piece) -> str:
    """``12D`` or ``16A 16K``: what it takes."""
    return " ".join(f"{port.count}{port.kind}" for port in piece.positions)


def _near(length_in: float) -> float:
    """To the nearest sixteenth [in]."""
    return round(length_in * 16) / 16


def fit_rows(told: FitOut) -> list[Row]:
    """Room, entries, slack, heat, plugs and cords as rows of the panel."""
    rows = [Row("Room", heading=True)]
    arrangement = told.arrangement
    if arrangement is None:
        rows.append(Row("Nothing is named to hang here."))
    else:
        rows.append(Row(_sentence(arrangement.reason)))
        if told.next_height_in is not None:
            rows.append(Row(f"Next size that takes it: {tape(told.next_height_in)} high."))
        if told.move_out:
            names = " and ".join(told.piece(i).name for i in told.move_out)
            rows.append(Row(f"Or hang outside: {names}."))
    rows += _entry_rows(told)
    rows.append(Row("Slack behind the cover", heading=True))
    coils = told.coils
    rows.append(Row("No slack ends here." if coils is None else _sentence(coils.reason)))
    rows.append(Row("Heat and plugs", heading=True))
    rows.append(Row(heat_words(told)))
    rows.append(Row(plug_words(told)))
    if told.cords:
        rows.append(Row("Patch cords", heading=True))
        for cord in told.cords:
            length = "longer than 5' 0\"" if cord.length_in is None else tape(cord.length_in)
            names = f"{told.piece(cord.from_piece).name} to {told.piece(cord.to_piece).name}"
            rows.append(Row(f"{cord.count} of {length}: {names}"))
    return rows


def termination_rows(told: FitOut) -> list[Row]:
    """The order of terminating, as short rows: number, run, where from, position."""
    count = len(told.ports.rows)
    rows = [Row(f"Terminate in this order: {count}, all on the port map", heading=True)] if count else []
    for row in told.ports.rows:
        at = f"{told.piece(row.piece).name}, {row.kind} {row.position}" if row.piece else "no position"
        rows.append(Row(f"{row.run}, {row.room or row.location}: {at}", lead=str(row.order)))
    return rows


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _entry_rows(told: FitOut) -> list[Row]:
    rows = [Row("Entries, from the left", heading=True)]
    for use in told.entries.uses:
        size = f"trade {use.trade}" if use.trade else f"{tape(use.diameter_in)} hole"
        where = f"{use.edge.capitalize()}, {tape(use.from_left_in)}: {size}"
        if use.runs:
            opening = tape(int(use.opening_in * 16 + 1e-6) / 16)
            count = f"{len(use.runs)} {'run' if len(use.runs) == 1 else 'runs'}"
            full = f"{count}, {100 * use.fill:.0f} % of a {opening} bushing"
            spare = ", a spare that must be opened" if use.opened else ""
            rows.append(Row(f"{where}, {full}{'' if use.fits else ': too full'}{spare}"))
        else:
            what = "power, the licensed electrician's" if use.use == "power" else "left for later"
            rows.append(Row(f"{where}, {what}"))
    if not told.entries.uses:
        rows.append(Row("Nobody said which knockouts the box has."))
    for edge, runs in told.entries.without:
        rows.append(Row(f"{len(runs)} runs come to the {edge} without a knockout."))
    return rows


def heat_words(told: FitOut) -> str:
    """Watts and the range of inside air, in Fahrenheit, with what is assumed."""
    heat = told.heat
    if heat is None:
        return (
            _sentence(told.heat_says)
            if told.heat_w <= 0
            else f"{told.heat_w:.0f} W inside: {told.heat_says}."
        )
    spread = heat.inside_c.plus_minus or 0.0
    low, high = ((heat.inside_c.value + s) * 1.8 + 32 for s in (-spread, spread))
    vent_in2 = told.box.door_vent_in2
    door = f"door with {vent_in2:g} sq in low and high" if vent_in2 else "closed door"
    text = f"{told.heat_w:.0f} W inside, room 77 F, {door}: {low:.0f} to {high:.0f} F; "
    text += "small gear stands about 104 F."
    if told.openings_in2 is not None:
        text += f" A door with {told.openings_in2:g} sq in free low and as much high holds it."
    return text


def battery_words(told: FitOut) -> str:
    """How long the usual small battery outside keeps the box running, where anything draws."""
    watts = told.power.watts.value if told.power is not None else 0.0
    if watts < 1:
        return "A battery backup stands outside the box."
    try:
        lasts = runtime_minutes(BATTERY_V, BATTERY_AH, watts)
    except RangeError:
        return "A battery backup stands outside the box."
    hours, minutes = divmod(round(lasts.value / 5) * 5, 60)
    time = f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"
    return (
        f"A battery backup stands outside the box: {BATTERY_V:g} V {BATTERY_AH:g} Ah keep {watts:.0f} W for "
        f"about {time}, a quarter either way, half of it when old."
    )


def plug_words(told: FitOut) -> str:
    """Outlets needed and free, watts and amps."""
    if told.power is None:
        return _sentence(told.power_says)
    power = told.power
    return f"{_sentence(power.reason)} {power.watts.value:.0f} W, {power.amps.value:.1f} A at 120 V."
