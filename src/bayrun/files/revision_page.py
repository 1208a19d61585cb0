"""The page of two revisions: each level with the old walls under the new ones, and the list of what moved."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from bayrun.files.report_page import PAGE_STYLE
from bayrun.files.revision import Revision, compare
from bayrun.house import Job, Wall
from bayrun.rules.words import count_of

INK, FAINT, STOP, ACCENT, RULE = "#20242a", "#6b7077", "#9c1c1c", "#1b4f7a", "#c9c4b8"
_MARGIN_IN = 40.0


def revision_page(old: Job, new: Job, found: Revision) -> str:
    """The whole page as HTML, without scripts and without anything fetched.

    Args:
        old, new: The two jobs, the new one as it was drawn.
        found: What ``compare`` found between them.
    """
    parts = [
        "<h1>What moved between two revisions of the plan</h1>",
        (
            f'<p class="faint">{escape(old.name)}. Old walls broken, new walls solid; what changed is marked '
            "with its number in the list.</p>"
        ),
        (
            '<div class="numbers">'
            f"<span><b>{len(found.changes)}</b>changes</span><span><b>{found.same}</b>walls as they "
            "were</span>"
            f"<span><b>{_count(found, 'location')}</b>locations touched</span>"
            f"<span><b>{_count(found, 'run')}</b>runs touched</span>"
            f"<span><b>{_count(found, 'hole')}</b>holes touched</span></div>"
        ),
    ]
    if found.touched:
        lines = [t.says for t in found.touched if t.what != "run"]
        runs = [t.id for t in found.touched if t.what == "run"]
        parts += ["<h2>Look at these before the next cable</h2>", _list(lines)]
        if runs:
            parts.append(f"<p>Runs that end there: {escape(', '.join(runs))}.</p>")
    elif found.changes:
        parts.append("<p>No location, run or hole of this job is touched.</p>")
    for level in old.levels:
        picture = _picture(old, new, found, level.id)
        if picture:
            parts += [f"<h2>Level {escape(level.id)}</h2>", f"<figure>{picture}</figure>"]
    lines = [c.says[:1].upper() + c.says[1:] for c in found.changes]
    parts += (
        [f"<h2>{count_of(len(lines), 'change')}</h2>", _list(lines)] if lines else ["<p>Nothing moved.</p>"]
    )
    parts.append(
        '<p class="faint">Two drawings of one house differ by how they were drawn, too: less than 1/2 in '
        "counts as the same. What is already drilled or pulled stays where it is; decide on site.</p>"
    )
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>What moved: {escape(old.name)}</title><style>{PAGE_STYLE}</style></head>\n<body>\n"
        + "\n".join(parts)
        + "\n</body></html>\n"
    )


def _count(found: Revision, what: str) -> int:
    return sum(t.what == what for t in found.touched)


def _list(lines: Sequence[str]) -> str:
    return "<ol>" + "".join(f"<li>{escape(line)}</li>" for line in lines) + "</ol>"


def _corners(wall: Wall, shift: tuple[float, float] = (0.0, 0.0)) -> list[tuple[float, float]]:
    dx, dy = wall.direction
    half = wall.thickness_in / 2
    a, b = ((p[0] + shift[0], p[1] + shift[1]) for p in (wall.start, wall.end))
    return [
        (a[0] - dy * half, a[1] + dx * half), (b[0] - dy * half, b[1] + dx * half),
        (b[0] + dy * half, b[1] - dx * half), (a[0] + dy * half, a[1] - dx * half),
    ]  # fmt: skip


def _picture(old: Job, new: Job, found: Revision, level: str) -> str:
    pairs = dict(found.pairs)
    new_ids = {pairs[w.id] for w in old.walls if w.level == level and w.id in pairs}
    new_ids |= {c.new_wall for c in found.changes if c.level == level and c.new_wall}
    before = [w for w in old.walls if w.level == level]
    after = [w for w in new.walls if w.id in new_ids]
    points = [p for w in before for p in _corners(w)] + [
        p for w in after for p in _corners(w, found.shift_in)
    ]
    if not points:
        return ""
    x0, y0 = min(p[0] for p in points) - _MARGIN_IN, min(p[1] for p in points) - _MARGIN_IN
    x1, y1 = max(p[0] for p in points) + _MARGIN_IN, max(p[1] for p in points) + _MARGIN_IN
    size = min(max((x1 - x0 + y1 - y0) / 110, 5.0), 30.0)
    touched = {t.id for t in found.touched if t.what == "location"}

    def at(p: tuple[float, float]) -> str:
        return f"{p[0] - x0:.2f} {y1 - p[1]:.2f}"

    def path(corners: Sequence[tuple[float, float]], style: str) -> str:
        return f'<path d="M{" L".join(at(p) for p in corners)} Z" {style}/>'

    changed = {c.new_wall for c in found.changes if c.what == "wall" and c.kind in ("moved", "added")}
    body = []
    for wall in after:
        fill = INK if wall.id in changed else RULE
        body.append(path(_corners(wall, found.shift_in), f'fill="{fill}"'))
    moved = {c.old_wall for c in found.changes if c.what == "wall" and c.kind in ("moved", "removed")}
    for wall in before:
        if wall.id in moved:
            dash = f'stroke-dasharray="{size * 0.8:.1f} {size * 0.5:.1f}"'
            body.append(
                path(_corners(wall), f'fill="none" stroke="{STOP}" stroke-width="{size / 8:.2f}" {dash}')
            )
    for location in old.locations:
        if location.level != level or location.wall is None or location.offset_in is None:
            continue
        wall = old.wall(location.wall)
        dx, dy = wall.direction
        spot = (wall.start[0] + dx * location.offset_in, wall.start[1] + dy * location.offset_in)
        color, fill = (STOP, STOP) if location.id in touched else (ACCENT, "#fff")
        x, y = at(spot).split()
        body.append(
            f'<rect x="{float(x) - size / 3:.2f}" y="{float(y) - size / 3:.2f}" width="{size / 1.5:.2f}" '
            f'height="{size / 1.5:.2f}" fill="{fill}" stroke="{color}"/>'
        )
        if location.id in touched:
            body.append(_text(x, f"{float(y) - size * 0.6:.2f}", location.id, size * 0.8, STOP))
    for number, change in enumerate(found.changes, 1):
        if change.level != level or not (change.new_wall or change.old_wall):
            continue
        wall, shift = (
            (new.wall(change.new_wall), found.shift_in)
            if change.new_wall
            else (old.wall(change.old_wall), (0.0, 0.0))
        )
        middle = (
            (wall.start[0] + wall.end[0]) / 2 + shift[0], (wall.start[1] + wall.end[1]) / 2 + shift[1]
        )  # fmt: skip
        # Changes of one wall stand beside each other.
        beside = sum(
            1 for c in found.changes[: number - 1]
            if (c.new_wall or c.old_wall) == (change.new_wall or change.old_wall)
        )  # fmt: skip
        x, y = at((middle[0] + beside * size * 2.2, middle[1])).split()
        body.append(
            f'<circle cx="{x}" cy="{y}" r="{size * 0.9:.2f}" fill="#fff" stroke="{STOP}" '
            f'stroke-width="{size / 8:.2f}"/>'
        )
        body.append(_text(x, f"{float(y) + size * 0.35:.2f}", str(number), size, STOP))
    title = f"Level {level}: old walls broken, new walls solid"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {x1 - x0:.1f} {y1 - y0:.1f}" role="img" '
        f'font-family="sans-serif" aria-label="{escape(title)}"><title>{escape(title)}</title>\n'
        + "\n".join(body)
        + "\n</svg>"
    )


def _text(x: str, y: str, says: str, size: float, color: str) -> str:
    at = f'x="{x}" y="{y}" font-size="{size:.2f}" text-anchor="middle" fill="{color}"'
    return f"<text {at}>{escape(says)}</text>"


__all__ = ["compare", "revision_page"]
