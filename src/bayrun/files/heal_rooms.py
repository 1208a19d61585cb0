"""Healing of rooms: what the walls close and the file does not name becomes a room; small gaps are closed.

Only the rooms are closed so: the walls stay as they are drawn, and each gap is told with its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Literal

from bayrun.files.shell import Point, Shell, ShellNote, ShellSpace, ShellTrace, ShellWall, area_of
from bayrun.geometry import at_most
from bayrun.units import tape

GAP_IN = 72.0
"""A wall end that points at another wall no farther away than this closes a room with it: the width of a
broad cased opening (common practice, no source) [in]."""
_LEAST_ROOM_IN2 = 6 * 144.0
_CHASE_IN = 18.0
_NO_ROOMS = "rooms must be found from the walls"
_HELD = 0.2
"""A figure of which a named room covers this share is that room."""


def found_rooms(shell: Shell) -> Shell:
    """The shell with a room in every figure that walls close and no room of the file fills."""
    found: list[ShellSpace] = []
    gaps: list[tuple[str, Point, Point, float]] = []
    chases = 0
    bare = not shell.rooms
    for level in shell.stories:
        walls = [w for w in shell.story_walls if w.level == level.name]
        held = [s for s in shell.spaces if s.level == level.name]
        if held and not any(s.role == "room" for s in held):
            continue
        closed = _gaps(walls, {(j.wall, j.end) for j in shell.joints})
        used = set()
        for figure in _figures(walls, shell, closed):
            if _is_held(figure, held):
                continue
            if figure.buffer(-_CHASE_IN / 2).is_empty:
                chases += 1
                continue
            outline = tuple((float(x), float(y)) for x, y in figure.exterior.coords[:-1])
            found.append(
                ShellSpace(
                    f"Room {len(shell.rooms) + len(found) + 1}", "", level.name, outline, area_of(outline)
                )
            )
            used |= {i for i, (a, b, _) in enumerate(closed) if figure.distance(_line(a, b)) < 2.0}
        gaps += [(level.name, *closed[i]) for i in sorted(used)]
    if not found:
        if not bare:
            return shell
        silent = "the file has no rooms, and its walls close none: draw the rooms in the job file"
        return replace(
            shell,
            notes=tuple(replace(n, text=silent) if _NO_ROOMS in n.text else n for n in shell.notes),
        )
    notes = [_told(found, bare)]
    traces = tuple(ShellTrace(v, "lost", (a, b), f"gap of {tape(wide)} closed") for v, a, b, wide in gaps)
    if gaps:
        most = tape(max(g[3] for g in gaps))
        words = f"{len(gaps)} gaps in walls up to {most} wide were closed to find rooms: look whether the "
        notes.append(ShellNote("mended", words + "rooms are open to each other there", len(gaps)))
    if chases:
        words = (
            f"{chases} figures narrower than {tape(_CHASE_IN)} between walls are taken as chases, not rooms"
        )
        notes.append(ShellNote("left out", words, chases))
    spaces = tuple(
        sorted((*shell.spaces, *found), key=lambda s: (s.level, not s.source_ref, s.name, s.polygon))
    )
    kept = tuple(n for n in shell.notes if not (bare and _NO_ROOMS in n.text))
    healed = replace(shell, spaces=spaces, notes=kept, traces=(*shell.traces, *traces))
    return healed.noted(*notes)


def _told(found: Sequence[ShellSpace], bare: bool) -> ShellNote:
    names = tuple(s.name for s in found)
    shown = names if len(names) <= 8 else (*names[:8], f"and {len(names) - 8} more")
    if bare:
        words = f"the file has no rooms: {len(found)} were found from the walls; give each its name and use"
    else:
        words = f"{len(found)} rooms the file does not have were found from the walls: give each its name"
    return ShellNote("assumed", words, len(found), shown)


def _line(a: Point, b: Point) -> Any:
    from shapely.geometry import LineString

    return LineString((a, b))


def _is_held(figure: Any, held: Sequence[ShellSpace]) -> bool:
    from shapely.geometry import Polygon

    covered = sum(figure.intersection(Polygon(s.polygon).buffer(0)).area for s in held)
    return bool(covered > _HELD * figure.area)


def _band(wall: ShellWall, before_in: float, after_in: float) -> Any:
    from shapely.geometry import Polygon

    a, b = -before_in, wall.length_in + after_in
    return Polygon(
        [wall.at(a, wall.left_in), wall.at(b, wall.left_in),
         wall.at(b, -wall.right_in), wall.at(a, -wall.right_in)]
    )  # fmt: skip


def _figures(
    walls: Sequence[ShellWall], shell: Shell, closed: Sequence[tuple[Point, Point, float]]
) -> list[Any]:
    """What the walls of one level close, with the gaps shut, from left to right."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    if len(walls) < 3:
        return []
    reach = {}
    for joint in shell.joints:
        other = shell.wall(joint.on_wall)
        reach[joint.wall, joint.end] = 0.5 if joint.kind == "inline" else max(other.left_in, other.right_in)
    ends: tuple[Literal["start", "end"], Literal["start", "end"]] = ("start", "end")
    bands = [_band(w, *(reach.get((w.id, end), 0.0) for end in ends)) for w in walls]
    bands += [_line(a, b).buffer(0.25, cap_style="square") for a, b, _ in closed]
    merged = unary_union(bands).buffer(1.0, join_style="mitre").buffer(-1.0, join_style="mitre")
    rings = [ring for part in getattr(merged, "geoms", [merged]) for ring in part.interiors]
    shapes = [Polygon(ring).simplify(0.3) for ring in rings]
    return sorted((s for s in shapes if s.area >= _LEAST_ROOM_IN2), key=lambda s: s.bounds)


def _gaps(walls: Sequence[ShellWall], joined: set[tuple[str, str]]) -> list[tuple[Point, Point, float]]:
    """Free wall ends and the walls they point at: from the end to the other wall's line, and how wide."""
    found: list[tuple[Point, Point, float]] = []
    for wall in walls:
        dx, dy = wall.direction
        for end, point, sign in (("start", wall.start, -1.0), ("end", wall.end, 1.0)):
            if (wall.id, end) in joined:
                continue
            hits = []
            for other in walls:
                if other.id != wall.id and (away := _ahead(point, (dx * sign, dy * sign), other)) is not None:
                    hits.append((away, other.id))
            if hits and at_most(min(hits)[0], GAP_IN):
                away = min(hits)[0]
                far = (point[0] + dx * sign * (away + 1.0), point[1] + dy * sign * (away + 1.0))
                found.append((point, far, away))
    return found


def _ahead(point: Point, out: Point, other: ShellWall) -> float | None:
    """How far ahead along a direction another wall's near face lies; None where it is not hit [in]."""
    ox, oy = other.direction
    sine = out[0] * oy - out[1] * ox
    along, left = other.place(point)
    if abs(sine) < 0.1:
        # In one line with it: its nearer end, where it stands right ahead.
        if abs(left) > 1.0:
            return None
        ends = [(p[0] - point[0]) * out[0] + (p[1] - point[1]) * out[1] for p in (other.start, other.end)]
        return min(ends) if min(ends) > 0.0 else None
    away = (other.start[0] - point[0]) * oy - (other.start[1] - point[1]) * ox
    away /= sine
    at = along + (out[0] * ox + out[1] * oy) * away
    near = other.left_in if left > 0.0 else other.right_in
    away -= near / abs(sine)
    return away if away > 0.0 and -1.0 < at < other.length_in + 1.0 else None
