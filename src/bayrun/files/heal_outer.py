"""Healing of what a file says of its walls: which are exterior by the outline, which bear."""

from __future__ import annotations

from dataclasses import replace

from bayrun.files.shell import Shell, ShellNote


def outer_walls(shell: Shell) -> Shell:
    """Judge by the outline of each story which walls are exterior; the file's word gives way to it."""
    from shapely.geometry import Point as Dot
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    judged: dict[str, bool] = {}
    for level in shell.stories:
        walls = [w for w in shell.story_walls if w.level == level.name]
        shapes = [
            Polygon(
                [
                    w.at(0, w.left_in),
                    w.at(w.length_in, w.left_in),
                    w.at(w.length_in, -w.right_in),
                    w.at(0, -w.right_in),
                ]
            )
            for w in walls
        ]
        shapes += [Polygon(s.polygon).buffer(0) for s in shell.rooms if s.level == level.name]
        if not shapes:
            continue
        hull = unary_union(shapes).buffer(12.0, join_style="mitre").buffer(-12.0, join_style="mitre")
        filled = unary_union([Polygon(part.exterior) for part in getattr(hull, "geoms", [hull])])
        for wall in walls:
            steps = max(2, int(wall.length_in // 6))
            offsets = [wall.length_in * (i + 0.5) / steps for i in range(steps)]
            outside = max(
                sum(not filled.contains(Dot(wall.at(o, side))) for o in offsets)
                for side in (wall.left_in + 3.0, -wall.right_in - 3.0)
            )
            judged[wall.id] = 2 * outside > steps
    differ = [
        w
        for w in shell.story_walls
        if w.exterior is not None and w.id in judged and w.exterior != judged[w.id]
    ]
    notes = []
    inner = [w for w in differ if w.exterior]
    if inner:
        notes.append(
            ShellNote("mended",
                      f"{len(inner)} walls the file calls exterior stand inside the house: taken as interior",
                      len(inner), tuple(sorted({w.label for w in inner})))
        )  # fmt: skip
    outer = [w for w in differ if not w.exterior]
    if outer:
        notes.append(
            ShellNote("mended",
                      f"{len(outer)} walls the file calls interior stand at the outside: taken as exterior",
                      len(outer), tuple(sorted({w.label for w in outer})))
        )  # fmt: skip
    silent = sum(w.exterior is None and w.id in judged for w in shell.story_walls)
    if silent:
        notes.append(
            ShellNote(
                "assumed",
                f"{silent} walls do not say whether they are exterior: judged by the outline",
                silent,
            )
        )
    walls_now = tuple(replace(w, exterior=judged.get(w.id, w.exterior)) for w in shell.walls)
    return replace(shell, walls=walls_now).noted(*notes)


def bearing_said(shell: Shell) -> Shell:
    """Where a file says of every story wall that it carries nothing, nobody decided it: unknown."""
    said = [w.load_bearing for w in shell.story_walls if w.load_bearing is not None]
    if not said or any(said) or not shell.story_walls:
        return shell
    walls = tuple(replace(w, load_bearing=None) if w.role == "wall" else w for w in shell.walls)
    note = ShellNote(
        "assumed",
        "the file says of every wall that it is not load bearing, which cannot be: counted as bearing",
        len(said),
    )
    return replace(shell, walls=walls).noted(note)
