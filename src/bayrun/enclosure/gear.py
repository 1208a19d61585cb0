"""The gear of an enclosure as pieces with sizes: as the job says them, else the generic ones of its words.

A size nobody said is assumed, and says so: the sheet asks for a tape. Limits of use: planning figures; a real
piece is taped before the box is ordered. Source: ``tables/gear.toml``, sizes invented, no maker's.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from bayrun.house import Enclosure, End, Gear, Job, Port
from bayrun.house.wished import GearKind
from bayrun.tables.physics import physics_table

FEED_ID = "AC"
"""Id of the receptacle assumed for the electrician's feed where the job names no gear for it."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of gear on the back of the box.

    Args:
        id: The gear's id; with a number where one gear is several pieces: ``PATCH/2``.
        name: In words.
        kind: Decides its place: power low and apart, terminations by their entry, radio clear of metal.
        width_in, height_in, depth_in: Its size [in].
        front_room_in: Plugs and bends of cords in front of it [in].
        edge_room_in: The same beyond the edge its cables leave by [in].
        watts: Drawn from the outlet [W]; None: nobody knows.
        heat_w: What of that stays in the box [W].
        plug_in: Width of its plug [in]; 0: none.
        positions: Terminations or ports it offers, by letter of the cable kind.
        outlets: Receptacle outlets it offers.
        metal: A metal case.
        assumed: True where a size was not said by the job but is the usual one of its words.
        watts_assumed: True where its watts are the usual ones of its words.
        cables: Runs that end on it, about: those of its gear and kinds, shared among its pieces.
    """

    id: str
    name: str
    kind: GearKind
    width_in: float
    height_in: float
    depth_in: float
    front_room_in: float = 0.0
    edge_room_in: float = 0.0
    watts: float | None = 0.0
    heat_w: float | None = 0.0
    plug_in: float = 0.0
    positions: tuple[Port, ...] = ()
    outlets: int = 0
    metal: bool = False
    assumed: bool = False
    cables: int = 0
    watts_assumed: bool = False

    @property
    def gear(self) -> str:
        """Id of the gear it is a piece of."""
        return self.id.partition("/")[0]

    def count_of(self, kind: str) -> int:
        """How many cables of a kind it takes."""
        return sum(port.count for port in self.positions if port.kind == kind)


def hangs_in(job: Job, end: End, box: Enclosure) -> bool:
    """True where an end lies in this box; a candidate that is not built is asked as if it were chosen."""
    found = job.enclosure_at(end)
    if found is None:
        return False
    built = job.built_enclosures
    if any(other.id == box.id for other in built):
        return found.id == box.id
    return found.id == built[0].id


def gear_table() -> Mapping[str, Any]:
    """``tables/gear.toml``."""
    return physics_table("gear")


def pieces_of(job: Job, box: Enclosure) -> tuple[tuple[Piece, ...], tuple[Gear, ...]]:
    """What hangs in an enclosure, and the gear whose size neither the job nor its words tell.

    Where the electrician's feed is planned and no gear is a receptacle, one is assumed.
    """
    known: list[Piece] = []
    unknown: list[Gear] = []
    for gear in job.gear:
        if not gear.in_enclosure or not hangs_in(job, End("device", gear.id), box):
            continue
        made = _with_cables(job, _pieces(job, gear))
        known += made
        if not made:
            unknown.append(gear)
    if box.ac_feed is not None and not any(piece.outlets for piece in known):
        row = gear_table()["feed"]
        outlets = _outlets_promised(job, box) or int(row["outlets"])
        more_in = max(outlets - row["outlets"], 0) * row["pitch_in"]
        known.append(
            Piece(
                FEED_ID,
                row["name"],
                "power",
                min(row["width_in"] + more_in, box.width_in - 2),
                row["height_in"],
                row["depth_in"],
                row["front_room_in"],
                row["edge_room_in"],
                outlets=outlets,
                assumed=True,
            )
        )
    return tuple(known), tuple(unknown)


def _outlets_promised(job: Job, box: Enclosure) -> int | None:
    """Outlets the electrician answered for this box, or None."""
    for choice in job.choices:
        found = re.search(r"(\d{1,2}) outlets", choice.value)
        if choice.kind == "answer" and choice.about == box.id and found:
            return int(found[1])
    return None


def _pieces(job: Job, gear: Gear) -> list[Piece]:
    rows = _rows(gear)
    said = None not in (gear.width_in, gear.height_in, gear.depth_in)
    if said or len(rows) == 1:
        row = rows[0] if rows else {}
        return _split(_said(job, gear, row, said), gear, row, said)
    made: list[Piece] = []
    for row in rows:
        made += _split(_said(job, gear, row, False), gear, row, False)
    if len(made) < 2:
        return made
    return [_numbered(piece, f"{gear.id}/{n}") for n, piece in enumerate(made, 1)]


def _rows(gear: Gear) -> list[Mapping[str, Any]]:
    """The generic rows that the words of a gear name, in the order they are said."""
    text = gear.what.lower()
    found: list[tuple[int, int, Mapping[str, Any]]] = []
    for row in gear_table()["gear"]:
        spans = [m.span() for word in row["words"] if (m := re.search(rf"\b{word}", text))]
        if spans:
            start, end = min(spans, key=lambda span: (span[0], -span[1]))
            found.append((start, end, row))
    # A word inside a longer one of another row is not meant: a coax amplifier is no amplifier.
    meant = [
        one
        for one in found
        if not any(
            o[2] is not one[2] and o[0] <= one[0] and one[1] <= o[1] and o[:2] != one[:2] for o in found
        )
    ]
    return [row for _, _, row in sorted(meant, key=lambda one: one[0])]


def short_words(what: str) -> str:
    """What a gear is, without what stands in brackets or behind a comma: for a label."""
    return re.split(r",| \(| with ", what, maxsplit=1)[0].strip() or what


def _ports_said(text: str) -> int | None:
    found = re.search(r"(\d{1,3})[ -]*(?:ports?|positions?|way)", text.lower())
    return int(found[1]) if found else None


def _said(job: Job, gear: Gear, row: Mapping[str, Any], sized: bool) -> Piece:
    """One piece by what the job says, the row filling in the rest."""
    bend_in = _bend_in(job, gear, row)
    ports = gear.ports or _ports_said(gear.what) or int(row.get("least_ports", 0))
    width_in = gear.width_in or row["width_in"]
    watts = gear.watts if gear.watts is not None else row.get("watts")
    if not sized and "each_port_in" in row:
        width_in = max(width_in, min(ports * row["each_port_in"], 12.75))
    if gear.watts is None and watts is not None:
        watts = watts + row.get("watts_each_port", 0.0) * max(ports - row.get("least_ports", 0), 0)
    heat_w = gear.heat_w if gear.heat_w is not None else watts
    kind: GearKind = gear.kind or row.get("kind", "other")
    own_words = sized or len(_rows(gear)) == 1
    positions = gear.positions if gear.positions else _usual_positions(row, kind, ports)
    return Piece(
        gear.id,
        short_words(gear.what) if own_words else row["name"],
        kind,
        width_in,
        gear.height_in or row["height_in"],
        gear.depth_in or row["depth_in"],
        0.0 if sized else row.get("front_room_in", 0.0),
        max(bend_in, row.get("edge_room_in", 0.0)),
        watts,
        heat_w,
        gear.plug_in if gear.plug_in is not None else row.get("plug_in", 0.0),
        positions,
        gear.outlets if gear.outlets is not None else row.get("outlets", 0),
        gear.metal if gear.metal is not None else row.get("metal", False),
        not sized,
        watts_assumed=gear.watts is None and gear.heat_w is None and bool(watts),
    )


def _with_cables(job: Job, made: list[Piece]) -> list[Piece]:
    """The pieces of one gear with the runs that end on them, filled in their order."""
    left: dict[str, int] = {}
    for run in job.runs:
        if made and run.gear == made[0].gear:
            left[run.kind] = left.get(run.kind, 0) + 1
    out = []
    for piece in made:
        took = 0
        for port in piece.positions:
            share = min(left.get(port.kind, 0), port.count)
            left[port.kind] = left.get(port.kind, 0) - share
            took += share
        out.append(replace(piece, cables=took))
    # Like blocks of one field count alike: they hang together, however their runs are shared out.
    like: dict[tuple[Port, ...], list[int]] = {}
    for piece in out:
        like.setdefault(piece.positions, []).append(piece.cables)
    return [
        replace(piece, cables=math.ceil(sum(like[piece.positions]) / len(like[piece.positions])))
        for piece in out
    ]


def _bend_in(job: Job, gear: Gear, row: Mapping[str, Any]) -> float:
    """Widest least bend of the cables that end on a gear (those its row takes, where it is one of
    several)."""
    only = {row["each"]} if "each" in row else set(row.get("takes", ()))
    kinds = {run.kind for run in job.runs if run.gear == gear.id}
    if len(_rows(gear)) > 1 and kinds & only:
        kinds &= only
    bends = [c.diameter_in * c.bend_radius_x_diameter for c in job.practice.cables if c.letter in kinds]
    return max(bends, default=0.0)


def _usual_positions(row: Mapping[str, Any], kind: GearKind, ports: int) -> tuple[Port, ...]:
    if "each" in row:
        return (Port(row["each"], int(row["each_count"])),)
    if "takes" in row:
        return tuple(Port(letter, int(row["takes_count"])) for letter in row["takes"])
    if kind == "network" and ports:
        return (Port("D", ports),)
    return ()


def _split(piece: Piece, gear: Gear, row: Mapping[str, Any], sized: bool) -> list[Piece]:
    """A patch field of more ports than one block has becomes several blocks; a sized piece stays one."""
    if sized or "each" not in row or gear.positions:
        return [piece]
    kind, each = row["each"], int(row["each_count"])
    wanted = each
    if kind == "D" or len(_rows(gear)) == 1:
        wanted = gear.ports or _ports_said(gear.what) or each
    count = math.ceil(wanted / each)
    if count < 2:
        return [piece]
    return [_numbered(piece, f"{piece.id}/{n}", f"{row['name']} {n} of {count}") for n in range(1, count + 1)]


def _numbered(piece: Piece, piece_id: str, name: str = "") -> Piece:
    return replace(piece, id=piece_id, name=name or piece.name)
