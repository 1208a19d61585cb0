"""A file of done work: drilled holes, pulled runs, set plates and boxes, each by its place in the wood.

JSON, lengths as numbers of inches or as a tape reads::

    {"holes":  ["H3", {"wall": "A-W26", "along": "5' 2-1/4\\"", "up": 62.25, "bit": 1, "id": "H9"},
                {"frame": "F1", "x": 120, "y": 66.5, "z": 101, "bit": "7/8"}],
     "runs":   ["A01-D1", {"run": "A02-D1", "path": [[480, 58.75, 62.25, ""], [480, 56.25, 95.6, "H3"]]}],
     "plates": [{"wall": "A-W26", "along": 62.25, "up": 40, "side": "left"}],
     "boxes":  [{"location": "A04", "wall": "A-W01", "along": 120, "up": 14}]}

A hole given by its name alone stands where the plan last issued has it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from bayrun.framing import Frame
from bayrun.geometry import at_most
from bayrun.house import Job
from bayrun.routing.done import wood_place
from bayrun.units import LengthError, parse_length
from bayrun.wiring import (
    DoneBox,
    DoneHole,
    DonePlate,
    DoneRun,
    Frozen,
    Hole,
    PathPoint,
    Wiring,
    WoodPlace,
)

KEYS = ("runs", "holes", "plates", "boxes")


class FrozenFileError(ValueError):
    """A file of done work that cannot be used; ``defects`` names every one: expected, got, where."""

    def __init__(self, defects: tuple[str, ...]) -> None:
        """Take the defects."""
        super().__init__("\n".join(defects))
        self.defects = defects


def read_frozen(data: bytes, job: Job, base: Wiring | None = None, frame: Frame | None = None) -> Frozen:
    """Read done work.

    Args:
        data: The file.
        job: Its walls, floor frames, locations and runs are what the file may name.
        base, frame: The plan last issued, for holes and runs given by name alone.
    Raises:
        FrozenFileError: It cannot be used; all defects at once.
    """
    try:
        told = json.loads(data.decode("utf-8"))
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError) as problem:
        raise FrozenFileError((f"done work: expected JSON in UTF-8, got a fault: {problem}",)) from None
    if not isinstance(told, dict):
        raise FrozenFileError((f"done work: expected an object with {', '.join(KEYS)}, got {_short(told)}",))
    return _Reading(job, base, frame).read(told)


def _short(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False) if value is not None else "nothing"
    return text if len(text) <= 40 else f"{text[:37]}..."


class _Reading:
    def __init__(self, job: Job, base: Wiring | None, frame: Frame | None) -> None:
        self.job, self.base = job, base
        self.members = {} if frame is None else {m.id: m for m in frame.members}
        self.old: dict[str, Hole] = {} if base is None else {h.id: h for h in base.holes}
        self.walls = {w.id for w in job.walls}
        self.frames = {f.id for f in job.frames} | {b.id for b in job.barriers}
        self.defects: list[str] = []

    def read(self, told: Mapping[str, Any]) -> Frozen:
        for key in sorted(set(told) - set(KEYS)):
            self.defects.append(f"done work: expected {', '.join(KEYS)}, got a key {key!r}")
        lists: dict[str, list[Any]] = {}
        for key in KEYS:
            value = told.get(key, [])
            if not isinstance(value, list):
                self.defects.append(f"{key}: expected a list, got {_short(value)}")
                value = []
            lists[key] = value
        made: dict[str, list[Any]] = {key: [] for key in KEYS}
        for key, read in (
            ("runs", self._run),
            ("holes", self._hole),
            ("plates", self._plate),
            ("boxes", self._box),
        ):
            for i, one in enumerate(lists[key], start=1):
                found = read(one, f"{key}, {i}")
                if found is not None:
                    made[key].append(found)
        self._twice(made)
        if self.defects:
            raise FrozenFileError(tuple(self.defects))
        return Frozen(*(tuple(made[key]) for key in KEYS))

    def _twice(self, made: Mapping[str, list[Any]]) -> None:
        names = [("run", r.run) for r in made["runs"]] + [("hole", h.id) for h in made["holes"] if h.id]
        for what, name in sorted({n for n in names if names.count(n) > 1}):
            self.defects.append(f"done work: {what} {name} stands twice")

    def _run(self, told: Any, where: str) -> DoneRun | None:
        name = told if isinstance(told, str) else told.get("run") if isinstance(told, dict) else None
        if not isinstance(name, str):
            self.defects.append(f"{where}: expected a run's name, or run and path, got {_short(told)}")
            return None
        known = {r.id for r in self.job.runs} | {r.id for r in (self.base.runs if self.base else ())}
        if name not in known:
            self.defects.append(f"{where}: run {name} is neither in the job nor in the plan last issued")
            return None
        path = told.get("path", []) if isinstance(told, dict) else []
        points = []
        for point in path if isinstance(path, list) else [path]:
            if not (isinstance(point, list) and len(point) in (3, 4)):
                self.defects.append(f"{where}: expected points [x, y, z, hole], got {_short(point)}")
                return None
            at = [self._length(v, f"{where}, path") for v in point[:3]]
            hole = point[3] if len(point) == 4 else ""
            if None in at or not isinstance(hole, str):
                return None
            x, y, z = (v for v in at if v is not None)
            points.append(PathPoint(x, y, z, hole, self.old[hole].member if hole in self.old else ""))
        if not points and (self.base is None or all(r.id != name for r in self.base.runs)):
            self.defects.append(
                f"{where}: run {name} is in no plan that was given: say its path, or give --base"
            )
            return None
        return DoneRun(name, tuple(points))

    def _hole(self, told: Any, where: str) -> DoneHole | None:
        if isinstance(told, str):
            old = self.old.get(told)
            if old is None:
                self.defects.append(
                    f"{where}: hole {told} is in no plan that was given: say its wall, along, up and bit"
                )
                return None
            return DoneHole(wood_place(old, self.members), old.diameter_in, old.id)
        if not isinstance(told, dict):
            self.defects.append(f"{where}: expected a hole's name or its place, got {_short(told)}")
            return None
        at, bit_in = self._place(told, where), self._length(told.get("bit"), f"{where}, bit")
        if bit_in is not None and at_most(bit_in, 0.0):
            self.defects.append(
                f"{where}, bit: expected a bit larger than nothing, got {_short(told['bit'])}"
            )
            return None
        name = told.get("id", "")
        if not isinstance(name, str):
            self.defects.append(f"{where}, id: expected a name, got {_short(name)}")
            return None
        return None if at is None or bit_in is None else DoneHole(at, bit_in, name)

    def _plate(self, told: Any, where: str) -> DonePlate | None:
        if not isinstance(told, dict) or told.get("side") not in ("left", "right", "top", "bottom"):
            self.defects.append(
                f"{where}: expected a place with side left, right, top or bottom, got {_short(told)}"
            )
            return None
        at = self._place(told, where)
        return None if at is None else DonePlate(at, told["side"])

    def _box(self, told: Any, where: str) -> DoneBox | None:
        name = told.get("location") if isinstance(told, dict) else None
        if not isinstance(name, str):
            self.defects.append(f"{where}: expected a location with its place, got {_short(told)}")
            return None
        at = self._place(told, where)
        return None if at is None else DoneBox(name, at)

    def _place(self, told: Mapping[str, Any], where: str) -> WoodPlace | None:
        host = told.get("wall", told.get("frame"))
        on_wall = "wall" in told
        if not isinstance(host, str) or host not in (self.walls if on_wall else self.frames):
            what = "wall" if on_wall else "wall or floor frame"
            self.defects.append(f"{where}: expected a {what} of the job, got {_short(host)}")
            return None
        keys = ("along", "up", "across") if on_wall else ("x", "z", "y")
        found = []
        for key in keys:
            if key == "across" and key not in told:
                found.append(0.0)
                continue
            value = self._length(told.get(key), f"{where}, {key}")
            if value is None:
                return None
            found.append(value)
        return WoodPlace(host, *found)

    def _length(self, told: Any, where: str) -> float | None:
        if isinstance(told, int | float) and not isinstance(told, bool) and abs(told) < 1e6:
            return float(told)
        if isinstance(told, str):
            try:
                return parse_length(told)
            except (LengthError, ValueError):
                pass
        self.defects.append(f"{where}: expected a length, got {_short(told)}")
        return None
