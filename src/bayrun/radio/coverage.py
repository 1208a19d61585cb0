"""Signal in every room: free space and all that stands on the straight way, on a net over each level.

Level at a spot = what the access point sends - free space - every wall, floor and metal thing on the way.
Uncertainty about 6 dB, carried in every figure: furniture, people, studs, reflections and the radio itself
are not in the plan. A room holds where its worst spot holds beyond that doubt, and is dark where
even half of it falls short beyond doubt; between the two nobody can tell without measuring.

Limits of use: inside framed or concrete houses, 1 to 10 GHz, doors shut, windows without metal coating. Not
for the yard: cladding is not counted.
Source: free space by definition; losses of layers ITU-R P.2040-3; see ``slab`` and ``screens``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from bayrun.cables.ranges import Limit, Verdict, check_ranges, judge
from bayrun.house import Job, Room
from bayrun.radio.screens import Lying, Metal, Screens, Upright, screens
from bayrun.radio.slab import LIGHT_M_PER_S, Layer, averaged_loss_db
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

STEP_IN = 12.0
M_PER_IN = 0.0254
OUTSIDE_DBM = -math.inf
"""Stands for a spot of the net that lies in no room."""
_ANGLES = (0.0, 15.0, 30.0, 45.0, 55.0, 65.0, 75.0)


@dataclass(frozen=True, slots=True)
class Band:
    """One band of a home network.

    Args:
        ghz: Where its losses are taken [GHz].
        eirp_dbm: What the weaker side of a link sends in each direction [dBm].
        wanted_dbm: What a busy client wants [dBm].
    """

    name: str
    ghz: float
    eirp_dbm: float
    wanted_dbm: float


@dataclass(frozen=True, slots=True)
class Sender:
    """One access point.

    Args:
        id: Of its location or enclosure, or a name of its own.
        x_in, y_in, z_in: Where it sends from, in the world [in].
        box_db: Loss of a box it sits in [dB].
        says: In words: ``A03, ceiling of Great room``.
    """

    id: str
    x_in: float
    y_in: float
    z_in: float
    box_db: float = 0.0
    says: str = ""


@dataclass(frozen=True, slots=True)
class Net:
    """Spots over one level, row by row from its front left corner.

    Args:
        x0_in, y0_in: The first spot [in].
        step_in: From one spot to the next [in].
        rooms: Room of each spot, empty outside.
        z_in: Height of all of them in the world [in].
    """

    level: str
    x0_in: float
    y0_in: float
    step_in: float
    columns: int
    rows: int
    rooms: tuple[str, ...]
    z_in: float

    def spot(self, index: int) -> tuple[float, float]:
        """Plan point of a spot [in]."""
        row, column = divmod(index, self.columns)
        return self.x0_in + column * self.step_in, self.y0_in + row * self.step_in


@dataclass(frozen=True, slots=True)
class RoomSignal:
    """One room in one band.

    Args:
        half_dbm: Half of the room has at least this.
        worst_dbm: Its worst spot.
        share: Part of its spots at or over what is wanted, by the figure itself.
        sender: Who serves most of it.
    """

    level: str
    room: str
    band: str
    half_dbm: Figure
    worst_dbm: Figure
    share: float
    sender: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Coverage:
    """Signal of a house.

    Args:
        levels_dbm: For each net, for each band, the level of each spot.
    """

    bands: tuple[Band, ...]
    senders: tuple[Sender, ...]
    nets: tuple[Net, ...]
    levels_dbm: tuple[tuple[tuple[float, ...], ...], ...]
    rooms: tuple[RoomSignal, ...]

    def of_room(self, level: str, room: str, band: str) -> RoomSignal:
        """One room in one band; KeyError where there is none."""
        for signal in self.rooms:
            if (signal.level, signal.room, signal.band) == (level, room, band):
                return signal
        raise KeyError(room)

    def dark(self, band: str) -> tuple[RoomSignal, ...]:
        """Rooms that are dark in a band beyond doubt."""
        return tuple(s for s in self.rooms if s.band == band and s.verdict is Verdict.FAILS)


def spread_db() -> float:
    """Uncertainty of every level here [dB]."""
    return float(physics_table("radio")["coverage"]["plus_minus_db"])


def usual_bands() -> tuple[Band, ...]:
    """The bands of the table, each by its weaker side, a phone (common practice, no source)."""
    return tuple(Band(**row) for row in physics_table("radio")["band"])


def deciding_band() -> str:
    """Name of the band a room is called dark by."""
    return str(physics_table("radio")["band_rules"]["deciding"])


def band_limits(bands: Sequence[Band]) -> tuple[Limit, ...]:
    """Ranges the formulas serve."""
    return tuple(
        limit
        for band in bands
        for limit in (
            Limit(
                f"the frequency of {band.name}", band.ghz, 1.0, 10.0, "GHz", "homes; ITU-R P.2040 from 1 GHz"
            ),
            Limit(f"what is sent in {band.name}", band.eirp_dbm, -20.0, 40.0, "dBm"),
            Limit(f"what is wanted in {band.name}", band.wanted_dbm, -95.0, -30.0, "dBm"),
        )
    )


def nets(job: Job, step_in: float = STEP_IN) -> tuple[Net, ...]:
    """A net of spots over the rooms of each level, at the height of a hand.

    Raises:
        RangeError: A step not 3 in to 10 ft.
    """
    check_ranges(Limit("the step of the net", step_in, 3.0, 120.0, "in"))
    out = []
    hand_in = float(physics_table("radio")["coverage"]["receiver_height_in"])
    for level in job.levels:
        rooms = [room for room in job.rooms if room.level == level.id]
        if not rooms:
            continue
        xs = [p[0] for room in rooms for p in room.polygon]
        ys = [p[1] for room in rooms for p in room.polygon]
        columns = max(1, int((max(xs) - min(xs)) / step_in))
        rows = max(1, int((max(ys) - min(ys)) / step_in))
        x0 = min(xs) + ((max(xs) - min(xs)) - (columns - 1) * step_in) / 2
        y0 = min(ys) + ((max(ys) - min(ys)) - (rows - 1) * step_in) / 2
        names = [""] * (columns * rows)
        for room in rooms:
            for index in _inside(room, x0, y0, step_in, columns, rows):
                names[index] = room.name
        out.append(Net(level.id, x0, y0, step_in, columns, rows, tuple(names), level.subfloor_z_in + hand_in))
    return tuple(out)


def _inside(room: Room, x0: float, y0: float, step: float, columns: int, rows: int) -> list[int]:
    """Spots whose point lies in a room's polygon, row by row."""
    found = []
    edges = list(zip(room.polygon, room.polygon[1:] + room.polygon[:1], strict=True))
    for row in range(rows):
        y = y0 + row * step
        cuts = sorted(
            ax + (bx - ax) * (y - ay) / (by - ay) for (ax, ay), (bx, by) in edges if (ay > y) != (by > y)
        )
        for low, high in zip(cuts[::2], cuts[1::2], strict=False):
            first = max(0, math.ceil((low - x0) / step - 1e-9))
            last = min(columns - 1, math.floor((high - x0) / step + 1e-9))
            found += [row * columns + column for column in range(first, last + 1)]
    return found


@cache
def _by_angle(layers: tuple[Layer, ...], ghz: float) -> tuple[float, ...]:
    """Loss of layers at each of ``_ANGLES`` [dB]."""
    return tuple(averaged_loss_db(layers, ghz, degrees).value for degrees in _ANGLES)


def way_loss_db(found: Screens, sender: Sender, spots: Array, bands: Sequence[Band]) -> Array:
    """Loss from a sender to each spot in each band [dB], its box included.

    Args:
        spots: Rows of x, y, z [in].
    Returns:
        One row a band.
    """
    import numpy as np

    data = physics_table("radio")["coverage"]
    start = np.array([sender.x_in, sender.y_in, sender.z_in])
    ray = spots - start
    length = np.maximum(np.sqrt(np.sum(ray * ray, axis=1)), 1e-9)
    far_m = np.maximum(length * M_PER_IN, float(data["nearest_m"]))
    loss = np.empty((len(bands), spots.shape[0]))
    for row, band in enumerate(bands):
        loss[row] = 20 * np.log10(4 * math.pi * far_m * band.ghz * 1e9 / LIGHT_M_PER_S) + sender.box_db
    steepest = float(data["steepest_degrees"])
    for upright in found.uprights:
        hit, cosine = _through_upright(upright, start, ray, length)
        _add(loss, hit, cosine, upright.layers, upright.flat_db, bands, steepest)
    for lying in found.lying:
        hit, cosine = _through_lying(lying, start, ray, length)
        _add(loss, hit, cosine, lying.layers, 0.0, bands, steepest)
    for thing in found.metal:
        loss[:, _through_metal(thing, start, ray)] += float(data["metal_db"])
    return loss


def _add(
    loss: Array, hit: Any, cosine: Array, layers: tuple[Layer, ...], flat_db: float, bands: Sequence[Band],
    steepest: float,
) -> None:  # fmt: skip
    import numpy as np

    if not np.any(hit):
        return
    if layers:
        degrees = np.minimum(np.degrees(np.arccos(np.clip(cosine[hit], 0.0, 1.0))), steepest)
        for row, band in enumerate(bands):
            loss[row, hit] += np.interp(degrees, _ANGLES, _by_angle(layers, band.ghz))
    if flat_db:
        loss[:, hit] += flat_db


def _through_upright(upright: Upright, start: Array, ray: Array, length: Array) -> tuple[Any, Array]:
    """Which rays pass an upright piece, and the cosine of their angle from square on."""
    import numpy as np

    (ax, ay), (bx, by) = upright.a, upright.b
    wx, wy = bx - ax, by - ay
    wide = math.hypot(wx, wy)
    cross = ray[:, 0] * wy - ray[:, 1] * wx
    safe = np.where(np.abs(cross) < 1e-9, 1.0, cross)
    t = ((ax - start[0]) * wy - (ay - start[1]) * wx) / safe
    u = ((ax - start[0]) * ray[:, 1] - (ay - start[1]) * ray[:, 0]) / safe
    z = start[2] + t * ray[:, 2]
    hit = (np.abs(cross) >= 1e-9) & (t > 1e-9) & (t < 1 - 1e-9) & (u >= 0) & (u < 1)
    low, high = upright.z_in
    hit &= (z >= low) & (z < high)
    return hit, np.abs(cross) / max(wide, 1e-9) / length


def _through_lying(lying: Lying, start: Array, ray: Array, length: Array) -> tuple[Any, Array]:
    import numpy as np

    rise = ray[:, 2]
    safe = np.where(np.abs(rise) < 1e-9, 1.0, rise)
    t = (lying.z_in - start[2]) / safe
    x, y = start[0] + t * ray[:, 0], start[1] + t * ray[:, 1]
    x0, y0, x1, y1 = lying.rect
    hit = (np.abs(rise) >= 1e-9) & (t > 1e-9) & (t < 1 - 1e-9)
    hit &= (x >= x0) & (x < x1) & (y >= y0) & (y < y1)
    return hit, np.abs(rise) / length


def _through_metal(thing: Metal, start: Array, ray: Array) -> Any:
    """Which rays pass a box (slabs of its three directions); a ray that only ends in it does not."""
    import numpy as np

    x0, y0, x1, y1 = thing.rect
    enter, leave = np.zeros(ray.shape[0]), np.ones(ray.shape[0])
    for axis, (low, high) in enumerate(((x0, x1), (y0, y1), thing.z_in)):
        step = np.where(np.abs(ray[:, axis]) < 1e-9, 1e-9, ray[:, axis])
        near, far = (low - start[axis]) / step, (high - start[axis]) / step
        enter = np.maximum(enter, np.minimum(near, far))
        leave = np.minimum(leave, np.maximum(near, far))
    return (leave - enter > 1e-6) & (leave < 1 - 1e-9)


def spots_of(net: Net) -> Array:
    """Rows of x, y, z of the spots of a net that lie in rooms [in]."""
    import numpy as np

    inside = [index for index, room in enumerate(net.rooms) if room]
    rows = [(*net.spot(index), net.z_in) for index in inside]
    return np.asarray(rows, dtype=np.float64).reshape(len(rows), 3)


def coverage(
    job: Job, senders: Sequence[Sender], bands: Sequence[Band] | None = None, step_in: float = STEP_IN
) -> Coverage:
    """Level of every spot and room of a house, each spot served by its strongest access point.

    Args:
        senders: At least one.
        bands: None takes the table's three.
        step_in: Of the net [in], 3 in to 10 ft.
    Raises:
        RangeError: No access point, or a figure outside its range.
    """
    import numpy as np

    chosen = usual_bands() if bands is None else tuple(bands)
    check_ranges(
        Limit("the number of access points", len(senders), 1, 1000),
        Limit("the number of bands", len(chosen), 1, 20),
        *band_limits(chosen),
    )
    found, laid = screens(job), nets(job, step_in)
    levels: list[tuple[tuple[float, ...], ...]] = []
    rooms: list[RoomSignal] = []
    for net in laid:
        spots = spots_of(net)
        each = np.stack([_received(found, sender, spots, chosen) for sender in senders])
        best, server = each.max(axis=0), each.argmax(axis=0)
        inside = [index for index, room in enumerate(net.rooms) if room]
        rows = []
        for band in range(len(chosen)):
            row = [OUTSIDE_DBM] * len(net.rooms)
            for place, index in enumerate(inside):
                row[index] = float(best[band, place])
            rows.append(tuple(row))
        levels.append(tuple(rows))
        names = np.array([net.rooms[index] for index in inside])
        rooms += _rooms(job, net, chosen, senders, names, best, server)
    return Coverage(chosen, tuple(senders), laid, tuple(levels), tuple(rooms))


def _received(found: Screens, sender: Sender, spots: Array, bands: Sequence[Band]) -> Array:
    import numpy as np

    sent = np.array([[band.eirp_dbm] for band in bands])
    return np.asarray(sent - way_loss_db(found, sender, spots, bands))


def _rooms(
    job: Job,
    net: Net,
    bands: Sequence[Band],
    senders: Sequence[Sender],
    names: Any,
    best: Array,
    server: Any,
) -> list[RoomSignal]:
    import numpy as np

    out = []
    for room in (r for r in job.rooms if r.level == net.level):
        mine = names == room.name
        if not np.any(mine):
            continue
        for row, band in enumerate(bands):
            values = np.sort(best[row, mine])
            who = np.bincount(server[row, mine], minlength=len(senders)).argmax()
            sender = senders[int(who)]
            half = figure(
                float(values[(values.size - 1) // 2]), band, sender, "half of the room has at least this"
            )
            worst = figure(float(values[0]), band, sender, "the worst spot of the room")
            share = float(np.mean(values >= band.wanted_dbm))
            verdict = room_verdict(half, worst, band)
            out.append(RoomSignal(net.level, room.name, band.name, half, worst, share, sender.id, verdict))
    return out


def room_verdict(half_dbm: Figure, worst_dbm: Figure, band: Band) -> Verdict:
    """Holds where the worst spot holds, fails where half of the room fails, both beyond the uncertainty."""
    if judge(worst_dbm, at_least=band.wanted_dbm) is Verdict.HOLDS:
        return Verdict.HOLDS
    if judge(half_dbm, at_least=band.wanted_dbm) is Verdict.FAILS:
        return Verdict.FAILS
    return Verdict.CANNOT_TELL


def sender_spread_db(sender: Sender) -> float:
    """Uncertainty of the levels one sender gives [dB]: more where a metal box is between."""
    box_db = float(physics_table("radio")["coverage"]["metal_box_plus_minus_db"])
    return math.hypot(spread_db(), box_db) if sender.box_db else spread_db()


def figure(value_dbm: float, band: Band, sender: Sender, what: str) -> Figure:
    """A level with its reason and its uncertainty."""
    data = physics_table("radio")["coverage"]
    return Figure(
        value_dbm,
        "dBm",
        f"{what}: sent - free space - walls, floors and metal on the straight way",
        f"free space; ITU-R P.2040-3 Table 3 for layers; {data['spread']}",
        (
            ("band", f"{band.name}, {band.ghz:g} GHz"),
            ("sent", f"{band.eirp_dbm:g} dBm"),
            ("wanted", f"{band.wanted_dbm:g} dBm"),
            ("from", sender.says or sender.id),
        ),
        sender_spread_db(sender),
    )
