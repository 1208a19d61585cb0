"""The picture of one imported level, as SVG: what was understood, what was assumed, what was not.

Ink first: every difference is one of line and hatch as well as of color, and the key says it in words.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from bayrun.files.shell import Point, Shell, ShellLevel, ShellOpening, ShellSpace, ShellWall
from bayrun.rules.words import count_of
from bayrun.units import feet_and_inches

INK, FAINT, RULE, ACCENT, STOP, WOOD = "#20242a", "#6b7077", "#c9c4b8", "#1b4f7a", "#9c1c1c", "#eadfc8"
_MARGIN_IN = 60.0
KEY: tuple[tuple[str, str], ...] = (
    ("known", "wall whose layers the file tells"),
    ("guess", "wall whose studs are judged from its thickness"),
    ("solid", "masonry or glass: nothing is run inside it"),
    ("other", "read, but no wall of a story (foundation, parapet, low wall)"),
    ("room", "room of the file"),
    ("found", "room found from the walls: give it its name"),
    ("lost", "not understood, or closed by rule: see the number"),
    ("free", "wall end that meets no other wall"),
    ("drawn", "line of the file that became nothing"),
)


def level_picture(shell: Shell, level: ShellLevel) -> tuple[str, tuple[str, ...]]:
    """One level as SVG text, and what its numbered marks stand for, in their order.

    Args:
        shell: Healed.
        level: One of its stories.
    """
    walls = [w for w in shell.walls if w.level == level.name and w.role != "duplicate"]
    rooms = [s for s in shell.rooms if s.level == level.name]
    traces = [t for t in shell.traces if t.level == level.name]
    corners = [p for w in walls for p in _corners(w)]
    corners += [p for s in rooms for p in s.polygon]
    corners += [p for t in traces for p in t.points if t.kind == "lost"]
    if not corners:
        return "", ()
    x0, y0 = min(p[0] for p in corners) - _MARGIN_IN, min(p[1] for p in corners) - _MARGIN_IN
    x1, y1 = max(p[0] for p in corners) + _MARGIN_IN, max(p[1] for p in corners) + _MARGIN_IN
    type_in = min(max(math.hypot(x1 - x0, y1 - y0) / 85, 5.0), 30.0)
    sheet = _Sheet(x0, y1, type_in)
    for room in rooms:
        _room(sheet, room)
    for trace in traces:
        if trace.kind == "drawn" and len(trace.points) > 1:
            sheet.path(trace.points, False, f'stroke="{RULE}" stroke-width="{type_in / 14:.2f}" fill="none"')
    for wall in sorted(walls, key=lambda w: w.role == "wall"):
        # At a corner the lines end in the middle of each other: the faces go on to the far side.
        ends = {
            j.end: max(shell.wall(j.on_wall).left_in, shell.wall(j.on_wall).right_in)
            for j in shell.joints
            if j.wall == wall.id and j.kind == "corner"
        }
        _wall(sheet, wall, ends.get("start", 0.0), ends.get("end", 0.0))
    for opening in shell.openings:
        host = next((w for w in walls if w.id == opening.wall), None)
        if host is not None:
            _opening(sheet, host, opening)
    joined = {(j.wall, j.end) for j in shell.joints}
    for wall in walls:
        for end, point in (("start", wall.start), ("end", wall.end)):
            if wall.role == "wall" and (wall.id, end) not in joined:
                sheet.ring(point, type_in * 0.45, f'stroke="{ACCENT}" fill="#fff"')
    for room in rooms:
        _name(sheet, room)
    lost = [t for t in traces if t.kind == "lost"]
    for number, trace in enumerate(lost, 1):
        if len(trace.points) > 1:
            sheet.path(
                trace.points,
                False,
                f'stroke="{STOP}" stroke-width="{type_in / 5:.2f}" stroke-dasharray="{type_in:.1f} '
                f'{type_in / 2:.1f}" fill="none"',
            )
        x, y = (sum(p[i] for p in trace.points) / len(trace.points) for i in (0, 1))
        sheet.ring((x, y), type_in * 0.85, f'stroke="{STOP}" fill="#fff" stroke-width="{type_in / 7:.2f}"')
        sheet.text((x, y - type_in * 0.35), str(number), f'fill="{STOP}" font-weight="bold"')
    _bars(sheet, shell, level, walls, (x0, y0, x1, y1))
    title = f"{level_title(level.name)}: {count_of(len(walls), 'wall')}, {count_of(len(rooms), 'room')}"
    body = "\n".join(sheet.parts)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {x1 - x0:.1f} {y1 - y0:.1f}" role="img" '
        f'font-family="sans-serif" aria-label="{escape(title)}">\n<title>{escape(title)}</title>\n'
        f"{_hatches(type_in)}\n{body}\n</svg>"
    )
    return svg, tuple(t.says for t in lost)


class _Sheet:
    """SVG parts, with y up turned into y down."""

    def __init__(self, left_in: float, top_in: float, type_in: float) -> None:
        self.left_in, self.top_in, self.type_in = left_in, top_in, type_in
        self.parts: list[str] = []

    def at(self, p: Point) -> str:
        """A plan point on the sheet."""
        return f"{p[0] - self.left_in:.2f} {self.top_in - p[1]:.2f}"

    def path(self, points: Sequence[Point], closed: bool, style: str) -> None:
        """A line or an outline."""
        d = "M" + " L".join(self.at(p) for p in points) + (" Z" if closed else "")
        self.parts.append(f'<path d="{d}" {style}/>')

    def ring(self, at: Point, radius: float, style: str) -> None:
        """A circle."""
        x, y = self.at(at).split()
        self.parts.append(f'<circle cx="{x}" cy="{y}" r="{radius:.2f}" {style}/>')

    def text(self, at: Point, says: str, style: str = "", size: float = 1.0, turn: float = 0.0) -> None:
        """A text around its middle, turned counterclockwise in degrees."""
        x, y = self.at(at).split()
        turned = f' transform="rotate({-turn:g} {x} {y})"' if turn else ""
        self.parts.append(
            f'<text x="{x}" y="{y}" font-size="{self.type_in * size:.2f}" text-anchor="middle" '
            f"{style or f'fill={chr(34)}{INK}{chr(34)}'}{turned}>{escape(says)}</text>"
        )


def _hatches(type_in: float) -> str:
    gap = type_in * 0.9
    return (
        f'<defs><pattern id="found" width="{gap:.1f}" height="{gap:.1f}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0 0V{gap:.1f}" stroke="{RULE}" '
        f'stroke-width="{type_in / 8:.2f}"/></pattern></defs>'
    )


def _corners(wall: ShellWall, before_in: float = 0.0, after_in: float = 0.0) -> tuple[Point, ...]:
    a, b = -before_in, wall.length_in + after_in
    return (
        wall.at(a, wall.left_in), wall.at(b, wall.left_in),
        wall.at(b, -wall.right_in), wall.at(a, -wall.right_in),
    )  # fmt: skip


def level_title(name: str) -> str:
    """``Level 1``, ``Level Ground Floor``; never ``Level Level 1``."""
    return name if "level" in name.lower() else f"Level {name}"


def wall_look(wall: ShellWall) -> str:
    """Which of the key's walls one is."""
    if wall.role != "wall":
        return "other"
    if wall.core in ("masonry", "glass"):
        return "solid"
    return "guess" if wall.core == "other" else "known"


def _wall(sheet: _Sheet, wall: ShellWall, before_in: float, after_in: float) -> None:
    pen = sheet.type_in / 10
    looks = {
        "known": f'fill="{INK}"',
        "guess": f'fill="{WOOD}" stroke="{INK}" stroke-width="{pen:.2f}"',
        "solid": f'fill="{FAINT}" stroke="{INK}" stroke-width="{pen:.2f}"',
        "other": f'fill="none" stroke="{FAINT}" stroke-width="{pen:.2f}" '
        f'stroke-dasharray="{4 * pen:.1f} {3 * pen:.1f}"',
    }
    sheet.path(_corners(wall, before_in, after_in), True, looks[wall_look(wall)])


def _room(sheet: _Sheet, room: ShellSpace) -> None:
    fill = "#fff" if room.source_ref or (room.title and not room.title.startswith("Room")) else "url(#found)"
    sheet.path(room.polygon, True, f'fill="{fill}" stroke="{RULE}" stroke-width="{sheet.type_in / 16:.2f}"')


def _name(sheet: _Sheet, room: ShellSpace) -> None:
    from shapely.geometry import Polygon

    shape = Polygon(room.polygon)
    if not shape.is_valid or shape.is_empty:
        return
    spot = shape.centroid if shape.contains(shape.centroid) else shape.representative_point()
    x, y = float(spot.x), float(spot.y)
    xs = [p[0] for p in room.polygon]
    size = min(1.0, (max(xs) - min(xs)) / (0.62 * sheet.type_in * max(len(room.title), 6)))
    if size < 0.45:
        return
    sheet.text((x, y + 0.15 * sheet.type_in), room.title or "no name", size=size)
    sheet.text(
        (x, y - sheet.type_in * size), f"{room.area_in2 / 144:.0f} sq ft", f'fill="{FAINT}"', 0.8 * size
    )


def _opening(sheet: _Sheet, wall: ShellWall, opening: ShellOpening) -> None:
    a, b = opening.offset_in, opening.offset_in + opening.width_in
    left, right = wall.left_in, -wall.right_in
    sheet.path(
        (wall.at(a, left), wall.at(b, left), wall.at(b, right), wall.at(a, right)), True, 'fill="#fff"'
    )
    pen = f'stroke="{INK}" stroke-width="{sheet.type_in / 12:.2f}" fill="none"'
    for offset in (a, b):
        sheet.path((wall.at(offset, left), wall.at(offset, right)), False, pen)
    if opening.kind == "window":
        for side in (0.25, 0.75):
            across = right + (left - right) * side
            sheet.path((wall.at(a, across), wall.at(b, across)), False, pen)
    elif opening.kind == "void":
        dash = f'{pen} stroke-dasharray="{sheet.type_in / 2:.1f} {sheet.type_in / 3:.1f}"'
        for side in (left, right):
            sheet.path((wall.at(a, side), wall.at(b, side)), False, dash)
    elif opening.hinge_end is not None and opening.swings_to is not None:
        face = left if opening.swings_to == "left" else right
        sign = 1.0 if opening.swings_to == "left" else -1.0
        hinge, shut = (a, b) if opening.hinge_end == "low" else (b, a)
        leaf = wall.at(hinge, face + sign * opening.width_in)
        sheet.path((wall.at(hinge, face), leaf), False, pen)
        arc = []
        for step in range(9):
            t = math.radians(90 * step / 8)
            along = hinge + (shut - hinge) * math.sin(t)
            arc.append(wall.at(along, face + sign * opening.width_in * math.cos(t)))
        sheet.path(arc, False, pen)
    else:
        middle = (left + right) / 2
        sheet.path((wall.at(a, middle), wall.at(b, middle)), False, pen)


def _bars(
    sheet: _Sheet, shell: Shell, level: ShellLevel, walls: Sequence[ShellWall],
    box: tuple[float, float, float, float],
) -> None:  # fmt: skip
    """Overall sizes, the scale bar, and how the file's own axes lie."""
    standing = [p for w in walls if w.role == "wall" for p in _corners(w)]
    if not standing:
        return
    x0, y0 = min(p[0] for p in standing), min(p[1] for p in standing)
    x1, y1 = max(p[0] for p in standing), max(p[1] for p in standing)
    pen = f'stroke="{ACCENT}" stroke-width="{sheet.type_in / 12:.2f}" fill="none"'
    blue = f'fill="{ACCENT}"'
    off = _MARGIN_IN * 0.45
    sheet.path(((x0, y1 + off), (x1, y1 + off)), False, pen)
    sheet.path(((x0 - off, y0), (x0 - off, y1)), False, pen)
    for a, b in (
        ((x0, y1), (0.0, 1.0)),
        ((x1, y1), (0.0, 1.0)),
        ((x0, y0), (-1.0, 0.0)),
        ((x0, y1), (-1.0, 0.0)),
    ):
        tip = (a[0] + b[0] * (off + 4.0), a[1] + b[1] * (off + 4.0))
        sheet.path((a, tip), False, pen)
    sheet.text(((x0 + x1) / 2, y1 + off + sheet.type_in * 0.4), feet_and_inches(x1 - x0), blue)
    sheet.text((x0 - off - sheet.type_in * 0.4, (y0 + y1) / 2), feet_and_inches(y1 - y0), blue, turn=90.0)
    feet = 10.0 if x1 - x0 > 240.0 else 5.0
    bar = y0 - _MARGIN_IN * 0.6
    sheet.path(
        ((x0, bar), (x0 + feet * 12.0, bar)), False, f'stroke="{INK}" stroke-width="{sheet.type_in / 4:.2f}"'
    )
    sheet.text((x0 + feet * 6.0, bar + sheet.type_in * 0.5), f"{feet:g} ft", size=0.8)
    if shell.turned_degrees:
        words = f"turned by {shell.turned_degrees:.1f} degrees from the file"
        sheet.text(((x0 + x1) / 2 + feet * 6.0, bar), words, f'fill="{FAINT}"', 0.8)
