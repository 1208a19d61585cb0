"""Gear in rows on the back of a box: the best order of rows, found exactly over every way to part the gear.

Rows are how a crew hangs gear: pieces side by side, a lane for cables over each row. Every way to part the
pieces into rows that fit the width, and every order of the rows, is weighed by a table over subsets (exact,
no search that stops). What is weighed, the smaller the better: power at its own edge and not beside other
gear, terminations by the edge low voltage enters, warm pieces and a radio beside metal not in one row.
Limits of use: up to 12 pieces, up to four in a row, pieces not turned. Source: the weights are judgment.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, permutations

from bayrun.enclosure.gear import Piece
from bayrun.enclosure.room import Place, Room, above_in, below_in
from bayrun.geometry import at_most, below

MOST_IN_ROWS = 12
MOST_IN_ONE_ROW = 4
_POWER_ORDER, _POWER_BESIDE, _TERM_ORDER, _RADIO_ORDER, _RADIO_METAL = 6.0, 4.0, 3.0, 1.0, 3.0
_WARM, _CABLES = 0.2, 0.05
"""Each watt of the cooler of two pieces side by side; each cable hung farther from the entry than it need
be."""
SIXTEENTH_IN = 1 / 16


@dataclass(frozen=True, slots=True)
class Rows:
    """The best rows.

    Args:
        rows: Indexes of the pieces, from the bottom row up, each from the left.
        height_in: What they take with their lanes [in].
        least_height_in: What the lowest of all ways takes [in].
    """

    rows: tuple[tuple[int, ...], ...]
    height_in: float
    least_height_in: float


@dataclass(frozen=True, slots=True)
class _State:
    """One way to stand a subset of the pieces in rows."""

    height_in: float
    cost: float
    rows: tuple[tuple[int, ...], ...]


def best_rows(pieces: Sequence[Piece], room: Room) -> Rows | None:
    """The best rows that fit the room; where none fit, the lowest; None where a piece is wider than the room.

    Args:
        pieces: 1 to 12.
    """
    count = len(pieces)
    if count > MOST_IN_ROWS or any(not at_most(p.width_in, room.usable_width_in) for p in pieces):
        return None
    rows = _all_rows(pieces, room)
    order = [[_order_cost(b, a, room) for b in pieces] for a in pieces]
    full = (1 << count) - 1
    under: list[list[float]] = [[0.0] * (full + 1) for _ in pieces]
    for a in range(count):
        for mask in range(1, full + 1):
            low = (mask & -mask).bit_length() - 1
            under[a][mask] = under[a][mask & (mask - 1)] + order[a][low]
    table: dict[int, list[_State]] = {0: [_State(0.0, 0.0, ())]}
    for mask in range(full + 1):
        states = table.get(mask)
        if not states:
            continue
        for bits, members, tall_in, within in rows:
            if mask & bits:
                continue
            added = within + sum(under[a][mask] for a in members)
            front = table.setdefault(mask | bits, [])
            for state in states:
                _keep(front, state.height_in + tall_in, state.cost + added, state.rows, members)
    states = table[full]
    # The room of the entry is lane enough over the uppermost row.
    least_in = min(s.height_in for s in states) - room.lane_in
    fitting = [s for s in states if at_most(s.height_in - room.lane_in, room.usable_height_in)]
    best = min(fitting, key=_by_cost) if fitting else min(states, key=_by_height)
    return Rows(best.rows, best.height_in - room.lane_in, least_in)


def _by_cost(state: _State) -> tuple[float, float, tuple[tuple[int, ...], ...]]:
    return round(state.cost, 9), round(state.height_in, 9), state.rows


def _by_height(state: _State) -> tuple[float, float, tuple[tuple[int, ...], ...]]:
    return round(state.height_in, 9), round(state.cost, 9), state.rows


def _keep(
    front: list[_State],
    height_in: float,
    cost: float,
    rows: tuple[tuple[int, ...], ...],
    members: tuple[int, ...],
) -> None:
    """Add a way unless another is as low and as good; those it beats go."""
    for known in front:
        if at_most(known.height_in, height_in) and known.cost <= cost + 1e-9:
            return
    front[:] = [k for k in front if below(k.height_in, height_in) or k.cost < cost - 1e-9]
    front.append(_State(height_in, cost, (*rows, members)))


def _all_rows(pieces: Sequence[Piece], room: Room) -> list[tuple[int, tuple[int, ...], float, float]]:
    """(bits, members, height with its lanes, cost within) of every row that fits the width."""
    out = []
    for size in range(1, min(MOST_IN_ONE_ROW, len(pieces)) + 1):
        for members in combinations(range(len(pieces)), size):
            row = [pieces[i] for i in members]
            width_in = sum(p.width_in for p in row) + (size - 1) * room.lane_in
            if not at_most(width_in, room.usable_width_in):
                continue
            out.append((sum(1 << i for i in members), members, row_height_in(row, room), _within(row)))
    return out


def row_height_in(row: Sequence[Piece], room: Room) -> float:
    """Height of a row with the lanes and bends over and under it; the next row's lane is not in it [in]."""
    tallest_in = max(p.height_in for p in row)
    over_in = max(above_in(p, room) for p in row)
    under_in = max(below_in(p, room) for p in row)
    return tallest_in + over_in + under_in - room.lane_in


def _order_cost(under: Piece, over: Piece, room: Room) -> float:
    """Dislike of one piece standing lower than another."""
    near, far = (over, under) if room.entry == "top" else (under, over)
    cost = _CABLES * max(far.cables - near.cables, 0)
    if under.kind != over.kind:
        wrong = over if room.power_edge == "bottom" else under
        cost += _POWER_ORDER * (wrong.kind == "power")
        if far.kind == "termination" and near.kind != "power":
            cost += _RADIO_ORDER if near.kind == "radio" else _TERM_ORDER
    return cost


def _within(row: Sequence[Piece]) -> float:
    cost = 0.0
    for one, two in combinations(row, 2):
        if (one.kind == "power") != (two.kind == "power"):
            cost += _POWER_BESIDE
        if (one.kind == "radio" and two.metal) or (two.kind == "radio" and one.metal):
            cost += _RADIO_METAL
        cost += _WARM * min(one.heat_w or 0.0, two.heat_w or 0.0)
    return cost


def places_of(found: Rows, pieces: Sequence[Piece], room: Room) -> tuple[Place, ...]:
    """Where each piece of the rows stands: power rows at their edge, the rest at the entry, pieces evenly
    apart."""
    spare_in = max(room.usable_height_in - found.height_in, 0.0)
    at_power = [all(pieces[i].kind == "power" for i in row) for row in found.rows]
    split = _split(at_power, room)
    places: dict[str, Place] = {}
    y_in = room.bottom_in
    for number, row in enumerate(found.rows):
        if number == split:
            y_in += spare_in
        made = [pieces[i] for i in row]
        under_in = max(below_in(p, room) for p in made) - room.lane_in
        y_in += under_in
        for place in _row_places(made, y_in, room):
            places[place.piece] = place
        y_in += row_height_in(made, room) - under_in
    return tuple(places[piece.id] for piece in _read_in_order(pieces, places))


def _read_in_order(pieces: Sequence[Piece], places: dict[str, Place]) -> Sequence[Piece]:
    """Like blocks of one gear change places so that their numbers read from the top left."""
    like: dict[tuple[str, float, float, float], list[str]] = {}
    for piece in pieces:
        key = (piece.gear, piece.width_in, piece.height_in, piece.depth_in)
        like.setdefault(key, []).append(piece.id)
    for ids in like.values():
        spots = sorted((places[i] for i in ids), key=lambda p: (-round(p.bottom_in, 4), p.left_in))
        for piece_id, spot in zip(ids, spots, strict=True):
            places[piece_id] = Place(piece_id, spot.left_in, spot.bottom_in)
    return pieces


def _split(at_power: Sequence[bool], room: Room) -> int:
    """The row under which the spare height goes, counted from the bottom; the count of rows: over all."""
    if room.power_edge == room.entry:
        return 0 if room.entry == "top" else len(at_power)
    if room.entry == "top":
        return next((n for n, power in enumerate(at_power) if not power), 0)
    return len(at_power) - next((n for n, power in enumerate(reversed(at_power)) if not power), 0)


def _row_places(row: Sequence[Piece], y_in: float, room: Room) -> list[Place]:
    """One row: the order that brings power nearest its entry, then evenly apart, on sixteenths."""
    spare_in = room.usable_width_in - sum(p.width_in for p in row) - (len(row) - 1) * room.lane_in
    tallest_in = max(p.height_in for p in row)
    best: tuple[float, tuple[int, ...], list[Place]] | None = None
    for order in permutations(range(len(row))):
        step_in = spare_in / (len(row) + 1)
        x_in, far, made = room.edge_in + step_in, 0.0, list[Place]()
        for index in order:
            piece = row[index]
            left_in = x_in
            target = room.power_x_in if piece.kind == "power" else None
            if target is not None and len(row) == 1:
                most_in = room.width_in - room.edge_in - piece.width_in
                left_in = min(max(target - piece.width_in / 2, room.edge_in), most_in)
            if target is not None:
                far += abs(left_in + piece.width_in / 2 - target)
            # Terminations hang from the upper line of their row where cables come from the top.
            lift_in = tallest_in - piece.height_in if room.entry == "top" and piece.kind != "power" else 0.0
            made.append(Place(piece.id, _down(left_in), y_in + lift_in))
            x_in += piece.width_in + room.lane_in + step_in
        # Even gaps are wider than the lane by a sixteenth at least, or nothing is rounded.
        if spare_in < (len(row) + 1) * SIXTEENTH_IN:
            made = _tight([row[i] for i in order], made, room)
        if best is None or (round(far, 9), order) < best[:2]:
            best = round(far, 9), order, made
    assert best is not None
    return best[2]


def _down(length_in: float) -> float:
    return int(length_in / SIXTEENTH_IN + 1e-6) * SIXTEENTH_IN


def _tight(row: Sequence[Piece], made: Sequence[Place], room: Room) -> list[Place]:
    x_in, out = room.edge_in, []
    for piece, place in zip(row, made, strict=True):
        out.append(Place(piece.id, x_in, place.bottom_in))
        x_in += piece.width_in + room.lane_in
    return out
