"""The work of a plan: what is done how often, where, and in what reach; hours by the firm's units."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise
from math import dist
from typing import Literal

from bayrun.geometry import at_most
from bayrun.house import Enclosure, Job, Location
from bayrun.tables.prices import PriceList, Value
from bayrun.takeoff.drill import REACH_IN
from bayrun.takeoff.material import box_key, planned_locations
from bayrun.takeoff.records import Takeoff
from bayrun.takeoff.supports import place_of
from bayrun.takeoff.words import ATTIC, far_end, natural, separation_words, walls_of
from bayrun.units import Figure
from bayrun.wiring import Run, Wiring

Stage = Literal["rough", "trim"]
STAGES: tuple[Stage, ...] = ("rough", "trim")
Reach = Literal["", "ladder", "attic", "crawl"]

HOUR = Decimal("0.01")
"""Hours are rounded half up to this; prices are of the rounded hours, so that anyone can add them again."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Some of one task in one place.

    Args:
        task: As the price list calls it.
        reach: Which factor the firm puts on it.
        count: In the task's unit.
        because: Ids of what asks for it.
        pull: The pull it is part of, for the tasks of pulling.
    """

    task: str
    reach: Reach
    level: str
    room: str
    count: Decimal
    because: tuple[str, ...]
    pull: str = ""


@dataclass(frozen=True, slots=True)
class HourLine:
    """One task in one reach over the whole job.

    Args:
        hours: Of people, rounded to a hundredth: count × hours × people × factor.
        low, high: The same with the firm's spread of the task and the factor.
        pieces: Where it is done; their exact hours sum to ``hours`` before rounding.
        figure: The hours with formula, inputs and source.
    """

    task: str
    stage: Stage
    reach: Reach
    words: str
    unit: str
    people: int
    count: Decimal
    hours: Decimal
    low: Decimal
    high: Decimal
    pieces: tuple[Piece, ...]
    figure: Figure
    own: bool = False

    @property
    def because(self) -> tuple[str, ...]:
        """Ids of all that asks for it."""
        return tuple(dict.fromkeys(one for piece in self.pieces for one in piece.because))


def pieces_of_work(job: Job, wiring: Wiring, counted: Takeoff) -> tuple[Piece, ...]:
    """Every task of a plan, by place, in the order of the price list's tasks.

    Days of setting up are not here: they follow from the crew plan (``crew.plan_days``).
    Limits of use: devices themselves, AC work and what other trades do are not counted.
    """
    found = _Pieces()
    _whole_job(job, wiring, counted, found)
    _holes(counted, found)
    _pulls(job, wiring, counted, found)
    _runs(job, wiring, found)
    _supports(counted, found)
    _trim(job, wiring, found)
    return found.all()


class _Pieces:
    """Gathers counts of (task, reach, level, room)."""

    def __init__(self) -> None:
        self._counts: dict[tuple[str, Reach, str, str, str], Decimal] = defaultdict(Decimal)
        self._because: dict[tuple[str, Reach, str, str, str], list[str]] = defaultdict(list)

    def add(
        self,
        task: str,
        place: tuple[str, str],
        count: Decimal,
        because: str,
        reach: Reach = "",
        pull: str = "",
    ) -> None:
        """Add some of a task at (level, room) for one object."""
        if count > 0:
            key = (task, reach, *place, pull)
            self._counts[key] += count
            self._because[key].append(because)

    def all(self) -> tuple[Piece, ...]:
        """Every piece, in the order of first asking."""
        return tuple(
            Piece(*key[:4], count=count, because=tuple(dict.fromkeys(self._because[key])), pull=key[4])
            for key, count in self._counts.items()
        )


def _whole_job(job: Job, wiring: Wiring, counted: Takeoff, found: _Pieces) -> None:
    one, walls, cables = Decimal(1), walls_of(job), _cables_at(wiring)
    start = ("", "")
    found.add("load", start, one, job.id)
    found.add("walk", start, one, job.id)
    for location in planned_locations(job, wiring):
        found.add("mark", (location.level, location.room), one, location.id)
    for box in _used_enclosures(job, wiring):
        found.add("enclosure", (box.level, box.room), one, box.id)
    for location in planned_locations(job, wiring):
        wall = walls.get(location.wall or "")
        parts = wall is not None and bool(separation_words(job, wall, location.offset_in))
        if box_key(location, wall, cables[location.id], parts):
            found.add("box", (location.level, location.room), one, location.id, _reach_of(location))
    for conduit in job.conduits:
        found.add("conduit", ("", conduit.from_place), one, conduit.id)


def _used_enclosures(job: Job, wiring: Wiring) -> tuple[Enclosure, ...]:
    used = {end.id for run in wiring.runs for end in (run.from_end, run.to_end) if end.type == "enclosure"}
    return tuple(box for box in job.enclosures if box.id in used)


def _cables_at(wiring: Wiring) -> Counter[str]:
    return Counter(
        end.id for run in wiring.runs for end in (run.from_end, run.to_end) if end.type == "location"
    )


def _reach_of(location: Location) -> Reach:
    high = location.mount in ("ceiling", "soffit") or not at_most(location.height_in, REACH_IN)
    return "ladder" if high else ""


def _holes(counted: Takeoff, found: _Pieces) -> None:
    reach: dict[str, Reach] = {}
    place: dict[str, tuple[str, str]] = {}
    nowhere = ("", "")
    for row in counted.drill:
        place[row.hole] = (row.level, row.room)
        reach[row.hole] = "attic" if row.room == ATTIC else "ladder" if row.band == "ladder" else ""
        if row.drilled:
            found.add("hole", place[row.hole], Decimal(1), row.hole, reach[row.hole])
    for plate in counted.plates:
        count = Decimal(plate.pieces)
        found.add("nail plate", place.get(plate.hole, nowhere), count, plate.id, reach.get(plate.hole, ""))
    for strap in counted.straps:
        found.add("strap", place.get(strap.hole, nowhere), Decimal(1), strap.id, reach.get(strap.hole, ""))
    for ring in counted.grommets:
        found.add("grommet", place.get(ring.hole, nowhere), Decimal(1), ring.id, reach.get(ring.hole, ""))
    for seal in counted.seals:
        at = place.get(seal.hole, ("", seal.place.split(",")[0]))
        found.add("seal", at, Decimal(1), seal.id, reach.get(seal.hole, ""))


def _pulls(job: Job, wiring: Wiring, counted: Takeoff, found: _Pieces) -> None:
    runs = {run.id: run for run in wiring.runs}
    cuts = {row.run: row.cut_in for row in counted.lengths}
    for pull in counted.pulls:
        first = max(pull.runs, key=lambda run: cuts[run])
        found.add("pull set-up", _room_of(job, runs[first]), Decimal(1), pull.id, pull=pull.id)
        for run in pull.runs:
            task = "pull" if run == first else "pull more"
            place = _room_of(job, runs[run])
            feet, shares = Decimal(round(cuts[run] / 12)), _shares(job, runs[run])
            left = feet
            for reach in ("attic", "crawl"):
                part = (feet * Decimal(str(round(shares[reach], 3)))).quantize(Decimal(1), ROUND_HALF_UP)
                part = min(part, left)
                found.add(task, place, part, run, "attic" if reach == "attic" else "crawl", pull.id)
                left -= part
            found.add(task, place, left, run, pull=pull.id)


def _shares(job: Job, run: Run) -> dict[str, float]:
    """Share of a way that lies in an attic and in a crawl space."""
    found = {"attic": 0.0, "crawl": 0.0}
    whole = 0.0
    for a, b in pairwise((p.x, p.y, p.z) for p in run.path):
        length = dist(a, b)
        whole += length
        words = place_of(job, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2))[0]
        for reach in found:
            found[reach] += length if words.startswith(reach) else 0.0
    return {reach: length / whole for reach, length in found.items()} if whole > 0 else found


def _room_of(job: Job, run: Run) -> tuple[str, str]:
    end = far_end(run)
    if end.type == "location":
        location = job.location(end.id)
        return location.level, location.room
    if end.type == "device":
        gear = job.gear_of(end.id)
        return gear.level, gear.room
    return "", ""


def _runs(job: Job, wiring: Wiring, found: _Pieces) -> None:
    rooms: dict[tuple[str, str], str] = {}
    for run in sorted(wiring.runs, key=lambda one: natural(one.id)):
        place = _room_of(job, run)
        for task in ("label", "coil", "tone"):
            found.add(task, place, Decimal(1), run.id)
        rooms.setdefault(place, run.id)
    for box in _used_enclosures(job, wiring):
        rooms.setdefault((box.level, box.room), box.id)
    for place, because in rooms.items():
        found.add("photo", place, Decimal(1), because)


def _supports(counted: Takeoff, found: _Pieces) -> None:
    for one in counted.supports:
        reach: Reach = ""
        if one.place.startswith("attic"):
            reach = "attic"
        elif one.place.startswith("crawl"):
            reach = "crawl"
        elif one.place.startswith("floor"):
            reach = "ladder"
        level, _, place = one.place.partition(", ")
        where = (level.removeprefix("level "), place) if place else ("", one.place)
        found.add(one.kind, where, Decimal(one.count), one.id, reach)


def _trim(job: Job, wiring: Wiring, found: _Pieces) -> None:
    spare = {run.id for run in job.runs if run.spare}
    one = Decimal(1)
    for location in planned_locations(job, wiring):
        place = (location.level, location.room)
        used = any(far_end(run).id == location.id and run.id not in spare for run in wiring.runs)
        if location.mount in ("contact", "coil", "conduit"):
            continue
        found.add("find", place, one, location.id, _reach_of(location))
        if not used:
            continue
        device = {"ceiling": "ceiling device", "soffit": "soffit device", "exterior": "exterior device"}
        found.add(device.get(location.mount, "plate"), place, one, location.id)
    for run in sorted(wiring.runs, key=lambda r: natural(r.id)):
        if run.id not in spare:
            found.add("jack", _room_of(job, run), Decimal(2), run.id)
    for box in _used_enclosures(job, wiring):
        found.add("enclosure trim", (box.level, box.room), one, box.id)
    found.add("hand-over", ("", ""), one, job.id)


def hour_lines(pieces: Iterable[Piece], prices: PriceList, stage_factor: str = "") -> tuple[HourLine, ...]:
    """Hours by task and reach, in the order of the price list.

    Args:
        pieces: What is done.
        stage_factor: A factor on all rough work (``insulated``, ``after drywall``); empty means before.
    Raises:
        KeyError: The price list lacks a task or factor.
    """
    gathered: dict[tuple[str, Reach], list[Piece]] = defaultdict(list)
    for piece in pieces:
        gathered[piece.task, piece.reach].append(piece)
    found = []
    for task in prices.tasks:
        reaches: tuple[Reach, ...] = ("", "ladder", "attic", "crawl")
        for reach in reaches:
            mine = gathered.get((task.key, reach))
            if mine:
                found.append(_line(task, reach, tuple(mine), prices, stage_factor))
    return tuple(found)


def _line(
    task: Value, reach: Reach, pieces: tuple[Piece, ...], prices: PriceList, stage_factor: str
) -> HourLine:
    count = sum((piece.count for piece in pieces), Decimal(0))
    factors = [prices.factor(name) for name in (reach, stage_factor if task.group == "rough" else "") if name]
    value, low, high = (count * task.people * each for each in (task.value, task.low, task.high))
    for factor in factors:
        value, low, high = value * factor.value, low * factor.low, high * factor.high
    hours, low, high = (each.quantize(HOUR, ROUND_HALF_UP) for each in (value, low, high))
    inputs = [
        (f"count of {task.unit}", f"{count}"),
        ("hours each", f"{task.value} ({task.low} to {task.high})"),
        ("people at once", f"{task.people}"),
        *((factor.words, f"times {factor.value}") for factor in factors),
    ]
    if task.records:
        inputs.append(("from actual records", f"{task.records}"))
    sources = [task.source, *(factor.source for factor in factors)]
    figure = Figure(
        float(hours),
        "h",
        "count × hours each × people × factors, to 0.01 h",
        "; ".join(dict.fromkeys(sources)),
        tuple(inputs),
    )
    words = ", ".join([task.words, *(factor.words.lower() for factor in factors)])
    stage: Stage = "trim" if task.group == "trim" else "rough"
    own = task.own and all(factor.own for factor in factors)
    return HourLine(
        task.key, stage, reach, words, task.unit, task.people, count, hours, low, high, pieces, figure, own
    )


def piece_hours(line: HourLine) -> tuple[tuple[Piece, Decimal], ...]:
    """Each place's share of a line's hours to a hundredth; the shares sum to the line."""
    found, done, count = [], Decimal(0), Decimal(0)
    for piece in line.pieces:
        count += piece.count
        upto = (line.hours * count / line.count).quantize(HOUR, ROUND_HALF_UP)
        found.append((piece, upto - done))
        done = upto
    return tuple(found)
