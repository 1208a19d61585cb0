"""Levels by real elevation, and every wall put into the level or levels it stands in."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from bayrun.files.ifc_walls import WallFound
from bayrun.files.shell import LevelRole, NoteKind, ShellLevel, ShellSpace, ShellWall, WallRole
from bayrun.geometry import at_least, at_most, below

Remark = Callable[[NoteKind, str, str], None]
STORY_WALL_IN = 72.0
"""A wall at least this high makes a level one that people walk on (common practice, no source) [in]."""
_LEAST_STORY_IN = 60.0
"""Floors closer than this are steps of a split level, not stories over each other [in]."""
_USUAL_STORY_IN = 109.125
"""Taken where nothing tells a height: a 9 ft wall with three plates (BUILDING 1.2) [in]."""
_ROOF = re.compile(r"\broof|\bdach|parapet|attika|\bt\.?o\.? ?(wall|plate|par)", re.I)
_GROUND = re.compile(r"\bf(ou)?nd(n|ation)?\b|t/fdn|footing|fundament", re.I)


_LEFT_OUT = {
    "foundation": "foundation, not walls of a story",
    "parapet": "above the ceiling of the top story (parapets, shafts)",
    "low wall": "lower than a story (rails, drops over an opening)",
    "outside the stories": "outside every story",
}


@dataclass(slots=True)
class Storey:
    """One storey entity of the file: its name and the height of its floor."""

    name: str
    elevation_in: float
    entity_id: int


def levels_from(
    storeys: Sequence[Storey], walls: Sequence[WallFound], spaces: Sequence[ShellSpace], remark: Remark
) -> tuple[ShellLevel, ...]:
    """What each storey is for, and how high it is, low to high.

    Storeys without walls or rooms tell where a story ends; they are kept with their role.
    """
    ordered = list(storeys) or _judged(walls)
    found = []
    for index, storey in enumerate(ordered):
        upper = [
            s.elevation_in
            for s in ordered[index + 1 :]
            if at_least(s.elevation_in, storey.elevation_in + _LEAST_STORY_IN)
        ]
        following = ordered[index + 1].elevation_in if index + 1 < len(ordered) else float("inf")
        low_in = storey.elevation_in - 24.0
        if index == 0:
            low_in = float("-inf")
        own = [w for w in walls if at_most(low_in, w.z_bottom_in) and below(w.z_bottom_in, following - 24.0)]
        tall = [
            w for w in own if at_least(w.z_top_in - max(w.z_bottom_in, storey.elevation_in), STORY_WALL_IN)
        ]
        rooms = [
            s for s in spaces if s.level == storey.name and s.role == "room" and not _ROOF.search(s.long_name)
        ]
        role: LevelRole = "story"
        if not tall:
            if _ROOF.search(storey.name):
                role = "roof"
            elif _GROUND.search(storey.name):
                role = "foundation"
            elif not rooms:
                role = "roof" if index and not upper else "other"
        tops = [w.z_top_in for w in tall]
        if role != "story" and index + 1 < len(ordered):
            height_in = following - storey.elevation_in
        elif upper:
            height_in = upper[0] - storey.elevation_in
        elif tops:
            height_in = max(tops) - storey.elevation_in
        else:
            height_in = _USUAL_STORY_IN
            if role == "story":
                remark("assumed", "{n} levels without a height of their own: 9' 1-1/8\" taken", storey.name)
        clear = sorted(s.height_in for s in rooms if s.height_in and at_least(s.height_in, STORY_WALL_IN))
        found.append(
            ShellLevel(
                storey.name, storey.elevation_in, height_in, role, clear[len(clear) // 2] if clear else None
            )
        )
    return tuple(found)


def _judged(walls: Sequence[WallFound]) -> list[Storey]:
    """Levels from the heights at which full walls begin, where the file has no storey."""
    starts: list[float] = []
    for z in sorted(w.z_bottom_in for w in walls if at_least(w.z_top_in - w.z_bottom_in, STORY_WALL_IN)):
        if not starts or z > starts[-1] + _LEAST_STORY_IN:
            starts.append(z)
    if not starts:
        starts = [min(w.z_bottom_in for w in walls)]
    return [Storey(f"Level {i}", z, -i) for i, z in enumerate(starts, 1)]


def level_pieces(
    levels: Sequence[ShellLevel],
    walls: Sequence[tuple[Any, WallFound]],
    said: Mapping[int, str],
    remark: Remark,
    facts: Callable[[Any], tuple[bool | None, bool | None, str | None]],
) -> tuple[ShellWall, ...]:
    """Wall pieces of one level each, in reading order, with ids ``W1`` …

    A wall that runs through several stories becomes one piece in each. A wall is put where it really
    stands; where the file files it elsewhere, that is told.
    """
    rows = []
    for entity, wall in walls:
        exterior, bearing, rating = facts(entity)
        places = _places(levels, wall)
        if sum(1 for p in places if p[1] == "wall") > 1:
            remark("mended", "{n} walls that run through several stories were cut at the floors", wall.label)
        names = {place[0].name for place in places}
        filed = said.get(entity.id())
        if filed and filed not in names and any(p[1] == "wall" for p in places):
            remark("mended", "{n} walls stand in another level than the one they are filed under", wall.label)
        if wall.z_top_in - wall.z_bottom_in < 1.0:
            remark("assumed", "{n} walls without a height: the level's height taken", wall.label)
        for level, role, z0, z1 in places:
            if role != "wall":
                remark("left out", f"{{n}} walls are {_LEFT_OUT[role]}", wall.label)
            for band in wall.bands:
                read_from: Literal["axis", "body", "parts"] = "axis"
                if band.read_from in ("body", "parts"):
                    read_from = "body" if band.read_from == "body" else "parts"
                rows.append(
                    (
                        level.elevation_in,
                        ShellWall(
                            "", wall.label, level.name, band.start, band.end, band.thickness_in, z1 - z0,
                            z0 - level.elevation_in, band.core_in, band.core, band.left_in, band.right_in,
                            exterior, bearing, rating, band.layers, role, read_from, entity.GlobalId,
                            wall.spacing_in, wall.stud_centers_in,
                        ),
                    )
                )  # fmt: skip
    rows.sort(key=lambda row: (row[0], row[1].role != "wall", _reading(row[1])))
    from dataclasses import replace

    return tuple(replace(wall, id=f"W{number}") for number, (_, wall) in enumerate(rows, 1))


def _reading(wall: ShellWall) -> tuple[object, ...]:
    ends = [(round(x, 3), round(y, 3)) for x, y in (wall.start, wall.end)]
    return (*sorted(ends), ends[0], round(wall.base_in, 3), wall.label, wall.source_ref)


def _places(levels: Sequence[ShellLevel], wall: WallFound) -> list[tuple[ShellLevel, WallRole, float, float]]:
    """The levels a wall stands in with its bottom and top in each; never empty."""
    stories = [level for level in levels if level.role == "story"]
    z0, z1 = wall.z_bottom_in, wall.z_top_in
    if z1 - z0 < 1.0:
        home = level_at(stories or levels, z0 + 1.0)
        return [(home, "wall", z0, home.elevation_in + home.height_in)]
    shares = [
        (level, min(z1, level.elevation_in + level.height_in) - max(z0, level.elevation_in))
        for level in stories
    ]
    full = [(level, share) for level, share in shares if share >= min(_LEAST_STORY_IN, 0.6 * level.height_in)]
    if len(full) == 1:
        return [(full[0][0], "wall", z0, z1)]
    if full:
        last = full[-1][0]
        return [
            (
                level,
                "wall",
                z0 if level is full[0][0] else level.elevation_in,
                z1 if level is last else level.elevation_in + level.height_in,
            )
            for level, _ in full
        ]
    home = level_at(levels, z0 + 12.0)
    if stories and (at_most(z1, stories[0].elevation_in + 12.0) or _GROUND.search(wall.label)):
        return [(home, "foundation", z0, z1)]
    top = max((s.elevation_in + s.height_in for s in stories), default=z0)
    if z0 >= top - 24.0:
        return [(home, "parapet", z0, z1)]
    partly = [(level, share) for level, share in shares if share > 0]
    if partly:
        return [(max(partly, key=lambda p: p[1])[0], "low wall", z0, z1)]
    return [(home, "outside the stories", z0, z1)]


def level_at(levels: Sequence[ShellLevel], z_in: float) -> ShellLevel:
    """The level that a height belongs to: the highest one under it."""
    under = [level for level in levels if at_most(level.elevation_in, z_in)]
    return under[-1] if under else levels[0]
