"""Where k access points should hang: the most area served for certain, each with a legal wired way.

Places tried: a net of ceiling spots of every room where one may hang, clear of metal. A spot of the house
counts as served where the computed signal holds by the margin asked (the uncertainty itself, if nothing is
said). HiGHS chooses (a maximum cover, or the fewest places for a share of the area); its bound says what no
choice of the same places could exceed. Of equal choices the cheaper to wire wins. A place the wood leaves no
legal way to is never chosen.

Limits of use: as good as the signal itself (about 6 dB); capacity, channels and roaming are not reckoned.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from bayrun.cables.ranges import Limit, check_ranges, refuse
from bayrun.findings import Fix
from bayrun.framing import Frame
from bayrun.geometry import Rect, at_least
from bayrun.house import Job, Room
from bayrun.house.building import Point
from bayrun.house.edits import apply
from bayrun.radio.coverage import (
    Band,
    Sender,
    deciding_band,
    nets,
    spots_of,
    spread_db,
    usual_bands,
    way_loss_db,
)
from bayrun.radio.screens import Screens, metal_within, screens
from bayrun.radio.senders import access_points, ceiling_point, clear_of_joists, inside_room
from bayrun.siting.reach import Reach, Spot, reach
from bayrun.tables.physics import physics_table
from bayrun.units import tape
from bayrun.wiring import Wiring
from bayrun.wishes import kind_of_room

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Served = npt.NDArray[np.bool_]

NET_IN = 36.0
"""Pitch of the spots that want signal [in]."""
TRY_IN = 48.0
"""Pitch of the ceiling places tried [in]."""
FROM_WALL_IN = 18.0
MOST_PLACES = 12
NOT_IN = ("bath", "closet", "garage", "unfinished", "mechanical")
"""Kinds of rooms where none is hung while another will do: damp, shut, hot or dusty. Common practice."""
USUAL_SHARE = 0.98
"""Part of the area that can be served at all, asked for where nobody says how many. Common practice."""
_NODES = 20000
"""Branches HiGHS may look at: a count, so that every machine gives the same answer."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place for an access point.

    Args:
        room, level: Whose ceiling.
        x_in, y_in: In the world [in].
        share: Part of the area it serves alone.
        reach: The wired way to it.
    """

    room: str
    level: str
    x_in: float
    y_in: float
    share: float
    reach: Reach


@dataclass(frozen=True, slots=True)
class AccessPlan:
    """The places chosen.

    Args:
        band: Decided in.
        margin_db: By which a served spot holds.
        places: In the order of levels and rooms.
        share: Part of the area they serve together.
        most_share: What no choice of as many of the same places could exceed (HiGHS's bound).
        all_share: What all places tried would serve together.
        least_count: For the fewest: no choice of fewer places serves the share asked (bound); else 0.
        tried: Places tried; ``barred`` of them have no legal way.
        now_share: Part of the area served by the access points the job has; None where it has none.
    """

    band: Band
    margin_db: float
    places: tuple[Place, ...]
    share: float
    most_share: float
    all_share: float
    least_count: int
    tried: int
    barred: int
    now_share: float | None
    why_barred: tuple[str, ...] = ()


def best_access_points(
    job: Job,
    frame: Frame,
    count: int | None = None,
    *,
    wiring: Wiring | None = None,
    margin_db: float | None = None,
    share: float = USUAL_SHARE,
    band: Band | None = None,
    beside: bool = False,
) -> AccessPlan:
    """The best places for access points.

    Args:
        count: How many; None finds the fewest that serve ``share`` of what can be served.
        wiring: The plan at hand: its holes are free while they have room.
        margin_db: 0 to 20; None takes the uncertainty, so that a served spot holds beyond doubt.
        share: 0.5 to 1.
        band: None takes the deciding one.
        beside: The access points the job has stay and serve; the places come beside them, and the shares
            count both.
    Raises:
        RangeError: Outside a range, or a house without rooms, or no place with a legal way.
    """
    import numpy as np

    chosen = band or next(b for b in usual_bands() if b.name == deciding_band())
    margin = spread_db() if margin_db is None else margin_db
    check_ranges(
        Limit("the margin", margin, 0.0, 20.0, "dB"),
        Limit("the share of the area", share, 0.5, 1.0),
        Limit("the number of access points", 1 if count is None else count, 1, MOST_PLACES),
    )
    found = screens(job)
    spots = [spots_of(net) for net in nets(job, NET_IN)] if job.rooms else []
    tried = _tried(job)
    if not tried or not spots:
        refuse(["expected rooms with ceilings to hang an access point on, the plan has none"])
    points = np.concatenate(spots)
    serves = _served(found, [_sender(job, t) for t in tried], points, chosen, margin)
    asked = [Spot(f"{n}", room.level, "ceiling", x, y) for n, (room, (x, y)) in enumerate(tried)]
    ways = reach(job, frame, asked, _data_kind(job), wiring=wiring)
    legal = [n for n, way in enumerate(ways) if way.legal]
    if not legal:
        why = sorted({way.barred_by for way in ways})
        refuse([f"no place for an access point has a legal wired way: {'; '.join(why[:4])}"])
    have = access_points(job)
    own = _served(found, have, points, chosen, margin) if have else np.zeros((0, len(points)), dtype=bool)
    kept = own if beside else own[:0]
    rows = np.concatenate([kept, serves[legal]])
    prices = [0.0] * len(kept) + [ways[n].price for n in legal]
    picked, most, least = _choose(rows, prices, len(kept), count, share)
    together = np.any(rows[[*range(len(kept)), *picked]], axis=0)
    picked = [n - len(kept) for n in picked if n >= len(kept)]
    now = float(np.mean(np.any(own, axis=0))) if have else None
    order = sorted((legal[n] for n in picked), key=lambda n: n)
    places = tuple(
        Place(tried[n][0].name, tried[n][0].level, *tried[n][1], float(np.mean(serves[n])), ways[n])
        for n in order
    )
    barred = [way.barred_by for way in ways if not way.legal]
    return AccessPlan(
        chosen,
        margin,
        places,
        float(np.mean(together)),
        most,
        float(np.mean(np.any(rows, axis=0))),
        least,
        len(tried),
        len(barred),
        now,
        tuple(sorted(set(barred))),
    )


def _data_kind(job: Job) -> str:
    """Letter of the firm's four-pair cable."""
    for kind in job.practice.cables:
        if "four-pair" in kind.name:
            return kind.letter
    refuse(["expected a four-pair data cable among the firm's cables to feed an access point, got none"])
    raise AssertionError


def _sender(job: Job, tried: tuple[Room, Point]) -> Sender:
    room, (x, y) = tried
    return Sender(room.name, *ceiling_point(job, room, x, y))


def _tried(job: Job) -> list[tuple[Room, Point]]:
    """(room, point) of each ceiling place; rooms that do not suit only where no other is."""
    rooms = [room for room in job.rooms if kind_of_room(room) not in NOT_IN]
    out: list[tuple[Room, Point]] = []
    for level in job.levels:
        here = [room for room in rooms if room.level == level.id]
        for room in here or [room for room in job.rooms if room.level == level.id]:
            out += [(room, point) for point in _ceiling_spots(job, room)]
    near_in = float(physics_table("radio")["coverage"]["metal_near_in"])
    clear = [one for one in out if not _metal_near(job, one, near_in)]
    return clear or out


def _metal_near(job: Job, one: tuple[Room, Point], near_in: float) -> bool:
    sender = _sender(job, one)
    return bool(metal_within(job, (sender.x_in, sender.y_in, sender.z_in), near_in))


def _ceiling_spots(job: Job, room: Room) -> list[Point]:
    """A net over a room, away from its walls; over no stair."""
    xs, ys = [p[0] for p in room.polygon], [p[1] for p in room.polygon]
    columns = max(1, round((max(xs) - min(xs)) / TRY_IN))
    rows = max(1, round((max(ys) - min(ys)) / TRY_IN))
    stairs = [s.rect for s in job.stairs if any(level == room.level for level, _ in s.rooms)]
    out = []
    for row in range(rows):
        for column in range(columns):
            x = min(xs) + (max(xs) - min(xs)) * (column + 0.5) / columns
            y = min(ys) + (max(ys) - min(ys)) * (row + 0.5) / rows
            point = clear_of_joists(job, room, (x, y))
            over_stair = any(Rect(*rect).holds(*point) for rect in stairs)
            if over_stair or not inside_room(room, point):
                continue
            if at_least(_from_walls_in(room, point), FROM_WALL_IN):
                out.append(point)
    return out


def _from_walls_in(room: Room, point: Point) -> float:
    best = math.inf
    for (ax, ay), (bx, by) in zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True):
        dx, dy = bx - ax, by - ay
        square = dx * dx + dy * dy
        t = 0.0 if square == 0 else ((point[0] - ax) * dx + (point[1] - ay) * dy) / square
        t = min(1.0, max(0.0, t))
        best = min(best, math.dist(point, (ax + t * dx, ay + t * dy)))
    return best


def _served(found: Screens, senders: Sequence[Sender], points: Any, band: Band, margin_db: float) -> Served:
    """Row a sender, column a spot: True where the signal holds by the margin."""
    import numpy as np

    rows = [band.eirp_dbm - way_loss_db(found, sender, points, (band,))[0] for sender in senders]
    return np.asarray(np.stack(rows) >= band.wanted_dbm + margin_db - 1e-9)


def _choose(
    serves: Served, prices: Sequence[float], kept: int, count: int | None, share: float
) -> tuple[list[int], float, int]:
    """Chosen rows, the bound on the share served, and the bound on the number where that is asked.

    Spots served by the same places count once with their number; a place's price only breaks ties. The first
    ``kept`` rows are there already: chosen in any case, and not counted.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix, hstack, identity, vstack

    places, spots = serves.shape
    groups, weights = np.unique(serves, axis=1, return_counts=True)
    reachable = groups.any(axis=0)
    groups, weights = groups[:, reachable], weights[reachable].astype(float)
    kinds = groups.shape[1]
    if kinds == 0:
        return [kept + int(np.argmin(prices[kept:]))], 0.0, 0
    price = np.asarray(prices) / max(max(prices), 1e-9)
    # y_i <= sum of the places that serve it: [-serves^T, I] (x, y) <= 0.
    cover = hstack([csr_matrix(-groups.T.astype(float)), identity(kinds)])
    number = csr_matrix(np.concatenate([np.ones(places), np.zeros(kinds)])[None, :])
    area = csr_matrix(np.concatenate([np.zeros(places), weights])[None, :])
    whole = np.concatenate([np.ones(places), np.zeros(kinds)])
    lowest = np.concatenate([np.ones(kept), np.zeros(places - kept + kinds)])
    box, options = Bounds(lowest, 1.0), {"mip_rel_gap": 0.0, "node_limit": _NODES}
    total = float(weights.sum())
    if count is None:
        # All prices together stay under one place.
        cost = np.concatenate([1.0 + price / (2.0 * places), np.zeros(kinds)])
        rows = [LinearConstraint(vstack([cover]), -np.inf, 0.0)]
        rows.append(LinearConstraint(area, share * total - 1e-6, np.inf))
        answer = milp(cost, constraints=rows, integrality=whole, bounds=box, options=options)
    else:
        allowed = min(kept + count, places)
        tie = 0.5 / (allowed + 1)
        cost = np.concatenate([tie * price, -weights])
        rows = [LinearConstraint(cover, -np.inf, 0.0)]
        rows.append(LinearConstraint(number, 0.0, float(allowed)))
        answer = milp(cost, constraints=rows, integrality=whole, bounds=box, options=options)
    if answer.x is None:
        refuse([f"the best places were not found within {_NODES} branches: ask for fewer"])
    picked = [int(n) for n in np.flatnonzero(answer.x[:places] > 0.5)]
    bound = float(answer.mip_dual_bound)
    if count is None:
        return picked, total / spots, max(0, math.ceil(bound - 0.5 - 1e-9) - kept)
    return picked, min(1.0, (-bound + 0.5) // 1 / spots), 0


def hang(job: Job, places: Sequence[Place]) -> Job:
    """The job with an access point and its data run at each place.

    Raises:
        Refused: A place lies in no room of the job.
    """
    kind = _data_kind(job)
    for place in places:
        says = f"Hang an access point there: it serves {place.share:.0%} of the house by itself."
        job = apply(job, Fix("hang_access_point", (place.level, place.x_in, place.y_in, kind), says))
    return job


def place_words(place: Place) -> str:
    """Where a place is and how it is wired, in words."""
    where = f"{place.room}, level {place.level}, ceiling at x {tape(place.x_in)}, y {tape(place.y_in)}"
    return f"{where}: serves {place.share:.0%} alone; {place.reach.feet:.0f} ft of cable, {place.reach.way}"
