"""The whole job: one house with its wishes, the firm's practice, and what people decided."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, TypeVar

from bayrun.house.building import (
    Barrier,
    Beam,
    FloorFrame,
    FloorOpening,
    Joint,
    Level,
    Obstacle,
    OpenEdge,
    Opening,
    Post,
    Roof,
    Room,
    Stair,
    Wall,
)
from bayrun.house.practice import Practice
from bayrun.house.wished import Conduit, Enclosure, End, Gear, Location, NowOrNever, Riser, WishedRun


class ModelError(ValueError):
    """The house contradicts itself; the message names what and where in words of the trade."""


@dataclass(frozen=True, slots=True)
class Revision:
    """Revision of the job; its date is the date printed on sheets."""

    number: str = "1"
    date: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """What a person decided about the plan.

    Args:
        kind: ``acknowledge`` (a finding), ``request`` (to a trade), ``answer`` (of a trade); ``pin run``,
            ``steel over run``; ``move hole``, ``bit``, ``split hole``, ``notch``, ``nail plate``, ``strap``,
            ``seal``: decisions about wood, read by ``house/hole_choices.py``; ``never place``, ``leave by``:
            about ways, read by ``house/way_choices.py``.
        about: What it speaks of: a finding, run or wall by id, wood by member and place (``W1/stud-3@40``).
        value: The decision itself, as text.
        by, date, reason: Who, when, why.
    """

    kind: str
    about: str
    value: str = ""
    by: str = ""
    date: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something nobody measured: added when a file was imported, named so that a tape can settle it."""

    id: str
    says: str
    where: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """Facts that rules need before any site record exists. None means nobody said: never a pass.

    Args:
        cover: What will cover walls, e.g. ``1/2 in gypsum``.
        insulation: ``batts``, ``spray foam`` …
        fireblock_material: What the inspector takes at plate holes.
        return_air_bays: Bays or joist spaces used as return air: ``A-W26@62`` (a wall's bay at an offset),
            ``F1@40`` (a frame's space at a coordinate across it), or words, which a person must read.
        accessible: True where a law on accessible dwellings covers the house, or the owner wants its heights.
        bonding_length_in: From the service entry to the bonding bar [in].
        attic_f: How hot the attic gets [F].
        coax_low_dbmv, coax_high_dbmv: Level at the coax entry, at low and at high frequency [dBmV].
    """

    cover: str | None = None
    insulation: str | None = None
    fireblock_material: str | None = None
    return_air_bays: tuple[str, ...] | None = None
    bonding_length_in: float | None = None
    built_year: int | None = None
    accessible: bool | None = None
    attic_f: float | None = None
    coax_low_dbmv: float | None = None
    coax_high_dbmv: float | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """One house with its wishes and the firm's practice. Immutable; edits return a new one."""

    id: str
    name: str
    revision: Revision
    levels: tuple[Level, ...]
    rooms: tuple[Room, ...]
    walls: tuple[Wall, ...]
    joints: tuple[Joint, ...] = ()
    openings: tuple[Opening, ...] = ()
    open_edges: tuple[OpenEdge, ...] = ()
    frames: tuple[FloorFrame, ...] = ()
    floor_openings: tuple[FloorOpening, ...] = ()
    beams: tuple[Beam, ...] = ()
    posts: tuple[Post, ...] = ()
    stairs: tuple[Stair, ...] = ()
    roofs: tuple[Roof, ...] = ()
    barriers: tuple[Barrier, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    gear: tuple[Gear, ...] = ()
    locations: tuple[Location, ...] = ()
    enclosures: tuple[Enclosure, ...] = ()
    enclosure: str = ""
    second_enclosures: tuple[str, ...] = ()
    """Enclosures that are built beside the chosen one; the others are only candidates."""
    conduits: tuple[Conduit, ...] = ()
    risers: tuple[Riser, ...] = ()
    runs: tuple[WishedRun, ...] = ()
    now_or_never: tuple[NowOrNever, ...] = ()
    practice: Practice = Practice()
    facts: SiteFacts = SiteFacts()
    choices: tuple[Choice, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    note: str = ""

    def level(self, level_id: str) -> Level:
        """The level of this id; KeyError where there is none."""
        return _one(self.levels, level_id)

    def wall(self, wall_id: str) -> Wall:
        """The wall of this id; KeyError where there is none."""
        return _one(self.walls, wall_id)

    def frame(self, frame_id: str) -> FloorFrame:
        """The frame of this id; KeyError where there is none."""
        return _one(self.frames, frame_id)

    def location(self, location_id: str) -> Location:
        """The location of this id; KeyError where there is none."""
        return _one(self.locations, location_id)

    def room(self, name: str, level: str | None = None) -> Room:
        """The room of this name (on this level); KeyError where there is none."""
        for room in self.rooms:
            if room.name == name and level in (None, room.level):
                return room
        raise KeyError(name)

    def gear_of(self, gear_id: str) -> Gear:
        """The gear of this id; KeyError where there is none."""
        return _one(self.gear, gear_id)

    @property
    def chosen_enclosure(self) -> Enclosure | None:
        """The candidate the job goes with: the named one, else the only or first one."""
        for candidate in self.enclosures:
            if candidate.id == self.enclosure:
                return candidate
        return self.enclosures[0] if self.enclosures else None

    @property
    def built_enclosures(self) -> tuple[Enclosure, ...]:
        """Every enclosure that is built: the chosen one first, then the second ones as named."""
        chosen = self.chosen_enclosure
        if chosen is None:
            return ()
        by_id = {e.id: e for e in self.enclosures}
        others = dict.fromkeys(self.second_enclosures)
        return (chosen, *(by_id[name] for name in others if name in by_id and name != chosen.id))

    def enclosure_at(self, end: End) -> Enclosure | None:
        """The built enclosure an end of a run lies in, named itself or by gear inside it; else None.

        An end that names a candidate which is not built means the chosen one.
        """
        name = end.id
        if end.type == "device":
            gear = next((g for g in self.gear if g.id == end.id), None)
            if gear is None or not gear.in_enclosure:
                return None
            name = gear.enclosure
        elif end.type != "enclosure":
            return None
        built = self.built_enclosures
        return next((e for e in built if e.id == name), built[0] if built else None)


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_T = TypeVar("_T", bound=_Named)


def _one(records: tuple[_T, ...], record_id: str) -> _T:
    for record in records:
        if record.id == record_id:
            return record
    raise KeyError(record_id)
