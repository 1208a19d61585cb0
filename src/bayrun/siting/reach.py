"""What would a run to this spot cost, and is there a legal way? One search answers for any number of spots.

For access points, sensors and other things whose place is still open. The price is by the firm's table:
cable, pulling, and the holes the run would open. With a plan given, holes it already opens are free where
they still have room; without one, every hole counts as new.
Limits of use: each spot is priced alone, as if it were the next run laid. Two new runs may share a hole, and
a hole may fill up: the plan itself has the last word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from bayrun.framing import Frame
from bayrun.house import End, Job, Location, Port, WishedRun, location_point, room_at
from bayrun.routing.everywhere import Everywhere, Share
from bayrun.routing.prices import MICRO
from bayrun.routing.tell import Teller
from bayrun.wiring import Wiring


@dataclass(frozen=True, slots=True)
class Spot:
    """A place somebody asks about: in a ceiling by its plan point, or in a wall.

    Args:
        id: Free; carried to the answer.
        mount: ``ceiling``: ``x_in``, ``y_in`` in the plan. ``wall``: ``wall``, ``along_in``, ``height_in``.
        height_in: Above the finished floor, of a wall place [in].
    """

    id: str
    level: str
    mount: Literal["ceiling", "wall"] = "ceiling"
    x_in: float | None = None
    y_in: float | None = None
    wall: str | None = None
    along_in: float | None = None
    height_in: float = 0.0


@dataclass(frozen=True, slots=True)
class Reach:
    """The answer for one spot.

    Args:
        legal: True where the rules leave a way from the enclosure to it.
        price: By the firm's table [currency]; infinite without a way.
        feet: Of cable, slack at both ends included [ft]; 0 without a way.
        holes: New holes it would drill.
        way: In words; empty without one.
        barred_by: Why there is none; empty with one.
    """

    spot: str
    legal: bool
    price: float
    feet: float
    holes: int
    way: str
    barred_by: str


def reach(
    job: Job,
    frame: Frame,
    spots: Sequence[Spot],
    kind: str = "D",
    *,
    wiring: Wiring | None = None,
) -> tuple[Reach, ...]:
    """What one run of a kind from the enclosure to each spot would cost, in the order of the spots.

    Args:
        job: With its chosen enclosure; without one nothing can be reached, and each answer says so.
        frame: ``framing.lay_out(job)``.
        kind: Letter of the cable kind.
        wiring: The plan at hand; its open holes are free while they have room. None: the first run of all.
    Raises:
        KeyError: The firm has no such cable kind, or the house no such level or wall.
    """
    cable = job.practice.cable(kind)
    asked = tuple(_location(job, spot) for spot in spots)
    house = Everywhere(job, frame, asked)
    start = house.enclosure()
    missing = dict(house.passages.missing)
    if start is None:
        why = (
            "the job has no enclosure" if job.chosen_enclosure is None else "nothing can enter the enclosure"
        )
        return tuple(Reach(s.id, False, float("inf"), 0.0, 0, "", why) for s in spots)
    shared = house.open_holes(wiring) if wiring is not None else {}
    tree = house.trees([start], cable, Share.WHOLE, shared)[0]
    teller = Teller(job, house.passages, house.mesh)
    box = job.chosen_enclosure
    assert box is not None
    slack, start_end = job.practice.slack, End("enclosure", box.id)
    found = []
    for spot, location in zip(spots, asked, strict=True):
        ends = [e for e in house.spots if e.id == location.id]
        if not ends:
            why = missing.get(location.id, "it has no place in the framing")
            found.append(Reach(spot.id, False, float("inf"), 0.0, 0, "", why))
            continue
        ways = [w for e in ends if (w := house.to_spot(tree, e)) is not None]
        if not ways:
            cell = house.cells[ends[0].cell]
            why = dict(house.passages.barred).get(cell.id, "no legal way leads on from there")
            found.append(Reach(spot.id, False, float("inf"), 0.0, 0, "", f"{cell.says}: {why}"))
            continue
        way = min(ways, key=lambda w: w.price)
        run_in = way.length_in + slack.for_mount(spot.mount) + slack.enclosure_in
        run_in += box.width_in / 2 + box.height_in
        opened = [p for p in way.places if house.passages.places[p].member and p not in shared]
        found.append(
            Reach(
                spot=spot.id,
                legal=True,
                price=way.price / MICRO,
                feet=run_in / 12.0,
                holes=sum(1 for p in opened if not house.passages.places[p].fixed),
                way=teller.way(way.nodes, WishedRun(spot.id, kind, start_end, End("location", location.id))),
                barred_by="",
            )
        )
    return tuple(found)


def _location(job: Job, spot: Spot) -> Location:
    level = job.level(spot.level)
    if spot.mount == "wall":
        wall = job.wall(spot.wall or "")
        return Location(
            id=f"?{spot.id}", room="", level=spot.level, mount="wall", height_in=spot.height_in,
            wall=wall.id, offset_in=spot.along_in, side="left", ports=(Port("", 1),),
        )  # fmt: skip
    x, y = spot.x_in or 0.0, spot.y_in or 0.0
    room = room_at(job, spot.level, x, y)
    made = Location(
        id=f"?{spot.id}", room=room.name if room else "", level=spot.level, mount="ceiling",
        height_in=0.0, x_in=x, y_in=y, ports=(Port("", 1),),
    )  # fmt: skip
    under = location_point(job, made)[2] - level.subfloor_z_in
    return replace(made, height_in=level.plate_top_in - under)
