"""Which run ends on which position of which piece, and on which switch port: the same order as plan and
plates.

Order: levels from the lowest, rooms as the job lists them, locations and runs by their numbers. Positions are
filled in the order of the pieces. A switch port goes to every data run that is no spare, in the same order.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.enclosure.entries import natural
from bayrun.enclosure.gear import Piece, hangs_in
from bayrun.house import Enclosure, Job, WishedRun


@dataclass(frozen=True, slots=True)
class Termination:
    """One run's end in the enclosure.

    Args:
        order: Place in the order of terminating, counted from 1.
        room, level, location: Of its other end; a device's words where it is none.
        piece: Id of the piece it ends on; empty where no position is free.
        position: Counted from 1 on that piece for its kind; 0 where there is none.
        switch, port: The switch and its port; empty and 0 where it has none.
    """

    order: int
    run: str
    kind: str
    room: str
    level: str
    location: str
    piece: str
    position: int
    switch: str = ""
    port: int = 0
    spare: bool = False


@dataclass(frozen=True, slots=True)
class PortMap:
    """All ends in the box.

    Args:
        short: (kind, runs without a position) pairs.
        unlit: Data runs, no spares, that found no switch port; empty where the box has no switch.
        free: (piece, kind, positions left) of what is open for later.
    """

    rows: tuple[Termination, ...]
    short: tuple[tuple[str, tuple[str, ...]], ...]
    unlit: tuple[str, ...]
    free: tuple[tuple[str, str, int], ...]

    @property
    def free_count(self) -> int:
        """Positions left in all."""
        return sum(count for _, _, count in self.free)


def room_order(job: Job) -> dict[tuple[str, str], int]:
    """(level, room) → place in the house: levels from the lowest, rooms as the job lists them."""
    height = {level.id: level.subfloor_z_in for level in job.levels}
    rooms = sorted(
        enumerate(job.rooms), key=lambda pair: (height.get(pair[1].level, 0.0), pair[1].level, pair[0])
    )
    return {(room.level, room.name): place for place, (_, room) in enumerate(rooms)}


def port_map(job: Job, box: Enclosure, pieces: Sequence[Piece]) -> PortMap:
    """Give every run of the box a position, and every lit data run a switch port."""
    ends = {location.id: location for location in job.locations}
    places = room_order(job)
    letters = [kind.letter for kind in job.practice.cables]
    known = {piece.id for piece in pieces} | {piece.gear for piece in pieces}

    def far_end(run: WishedRun) -> tuple[str, str, str]:
        end = run.to_end if hangs_in(job, run.from_end, box) else run.from_end
        location = ends.get(end.id)
        if location is not None:
            return location.level, location.room, location.id
        gear = next((g for g in job.gear if g.id == end.id), None)
        return (gear.level, gear.room, gear.what) if gear is not None else ("", "", end.id)

    runs = [run for run in job.runs if hangs_in(job, run.from_end, box) or hangs_in(job, run.to_end, box)]
    last = len(places)
    runs.sort(
        key=lambda run: (
            places.get(far_end(run)[:2], last),
            natural(far_end(run)[2]),
            letters.index(run.kind) if run.kind in letters else len(letters),
            natural(run.id),
        )
    )
    used: dict[tuple[str, str], int] = {}
    switches = [p for p in pieces if p.kind == "network" and p.count_of("D")]
    taking = [p for p in pieces if p.kind != "network"]
    rows, short, unlit = list[Termination](), dict[str, list[str]](), list[str]()
    for order, run in enumerate(runs, 1):
        own = [p for p in pieces if p.gear == run.gear] if run.gear in known else taking
        # Its own gear first; where that is full, any other that takes the kind.
        able = (p for p in (*own, *taking) if used.get((p.id, run.kind), 0) < p.count_of(run.kind))
        piece = next(able, None)
        position = 0
        if piece is not None:
            position = used[piece.id, run.kind] = used.get((piece.id, run.kind), 0) + 1
        else:
            short.setdefault(run.kind, []).append(run.id)
        switch, port = "", 0
        if piece is not None and piece.kind == "network":
            switch, port = piece.id, position
        elif run.kind == "D" and not run.spare and switches:
            at = next((p for p in switches if used.get((p.id, "D"), 0) < p.count_of("D")), None)
            if at is None:
                unlit.append(run.id)
            else:
                port = used[at.id, "D"] = used.get((at.id, "D"), 0) + 1
                switch = at.id
        level, room, location = far_end(run)
        rows.append(
            Termination(
                order,
                run.id,
                run.kind,
                room,
                level,
                location,
                piece.id if piece else "",
                position,
                switch,
                port,
                run.spare,
            )
        )
    free = [
        (piece.id, port.kind, port.count - used.get((piece.id, port.kind), 0))
        for piece in pieces
        for port in piece.positions
        if port.count > used.get((piece.id, port.kind), 0)
    ]
    return PortMap(
        tuple(rows),
        tuple((kind, tuple(ids)) for kind, ids in sorted(short.items())),
        tuple(unlit),
        tuple(free),
    )
