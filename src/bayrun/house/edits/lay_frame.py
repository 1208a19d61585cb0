"""Joists or trusses over a level, from wall to wall."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.geometry import below
from bayrun.house.building import EdgeMember, FloorFrame, RectTuple, Roof
from bayrun.house.edits.records import Refused, Signed, Verb, number_of, text_of
from bayrun.house.job import Job
from bayrun.units import tape

# Kind -> nominal size, member width and depth [in], usual spacing [in]. Common practice, no source.
KINDS: dict[str, tuple[str, float, float, float]] = {
    "sawn joists": ("2x10", 1.5, 9.25, 16.0),
    "I-joists": ("", 2.5, 11.875, 16.0),
    "open-web floor trusses": ("", 3.5, 14.0, 19.2),
    "ceiling joists": ("2x6", 1.5, 5.5, 16.0),
    "roof trusses": ("2x4", 1.5, 3.5, 24.0),
}
RIM_IN = 1.5


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with what lies over a level laid anew: one field over the rectangle around its walls.

    Between two levels it is their floor; over the top one it is a ceiling with an attic. Members are laid
    from the left or the front at the spacing. What an engineer or a maker's chart says replaces these sizes.

    Raises:
        Refused: No such level, kind or direction, no walls to lie on, or the levels leave no room for it.
    """
    level_id, kind, direction = (text_of(fix, i) for i in range(3))
    spacing_in = number_of(fix, 3)
    level = next((one for one in job.levels if one.id == level_id), None)
    if level is None:
        raise Refused(f"there is no level {level_id}")
    if kind not in KINDS:
        raise Refused(f"expected a kind, one of {', '.join(KINDS)}; got {kind!r}")
    if direction not in ("x", "y"):
        raise Refused(f"expected members along x (the front) or y (front to back), got {direction!r}")
    if below(spacing_in, 6.0) or below(48.0, spacing_in):
        raise Refused(f'expected a spacing of 6" to 48" on center, got {tape(spacing_in)}')
    points = [p for w in job.walls if w.level == level_id for p in (w.start, w.end)]
    if not points:
        raise Refused(f"level {level_id} has no walls for them to lie on: draw its outside walls first")
    x0, x1 = min(p[0] for p in points), max(p[0] for p in points)
    y0, y1 = min(p[1] for p in points), max(p[1] for p in points)
    higher = sorted(
        (o for o in job.levels if o.subfloor_z_in > level.subfloor_z_in), key=lambda o: o.subfloor_z_in
    )
    above = higher[0] if higher else None
    nominal, width_in, depth_in, _ = KINDS[kind]
    bottom_in = level.subfloor_z_in + level.plate_top_in
    if above is None and kind not in ("roof trusses", "ceiling joists"):
        raise Refused(f"nothing stands over level {level_id}: expected roof trusses or ceiling joists")
    if above is not None:
        if kind in ("roof trusses", "ceiling joists"):
            raise Refused(f"level {above.id} stands over level {level_id}: expected joists or floor trusses")
        room_in = above.subfloor_z_in - bottom_in
        if room_in < depth_in + 0.5:
            raise Refused(
                f"{kind} take {tape(depth_in)} and a subfloor; over the plates of level {level_id} are "
                f"{tape(room_in)} to the subfloor of level {above.id}"
            )
    low, high = (y0, y1) if direction == "x" else (x0, x1)
    old = next((f for f in job.frames if f.above_level == level_id), None)
    made = FloorFrame(
        old.id if old is not None else _frame_id(job, above is None),
        kind, (x0, y0, x1, y1), "x" if direction == "x" else "y", width_in, depth_in,
        bottom_in, bottom_in + depth_in, level_id, above.id if above is not None else None,
        spacing_in, low + spacing_in, max(high - 3.0, low + spacing_in),
        flange_depth_in=1.375 if kind == "I-joists" else None,
        chord_depth_in=1.5 if "web" in kind else None,
        edge_members=_rims(job, level_id, (x0, y0, x1, y1)) if above is not None else (),
        nominal=nominal,
    )  # fmt: skip
    frames = tuple(made if old is not None and f.id == old.id else f for f in job.frames)
    if old is None:
        frames = (*frames, made)
    roofs = job.roofs
    if kind == "roof trusses" and not any(r.id == made.id for r in roofs):
        ridge = "y" if direction == "x" else "x"
        middle = (x0 + x1) / 2 if ridge == "y" else (y0 + y1) / 2
        roofs = (*roofs, Roof(made.id, 4.0, 12.0, 12.0, "y" if ridge == "y" else "x", middle))
    return replace(job, frames=frames, roofs=roofs)


def _frame_id(job: Job, roof: bool) -> str:
    taken = {f.id for f in job.frames}
    letter, number = ("R" if roof else "F"), 1
    while f"{letter}{number}" in taken:
        number += 1
    return f"{letter}{number}"


def _rims(job: Job, level: str, area: RectTuple) -> tuple[EdgeMember, ...]:
    """Rims flush with the outer faces of the studs."""
    half_in = max((w.thickness_in for w in job.walls if w.level == level and w.exterior), default=0.0) / 2
    x0, y0, x1, y1 = area[0] - half_in, area[1] - half_in, area[2] + half_in, area[3] + half_in
    return tuple(
        EdgeMember("rim", rect)
        for rect in (
            (x0, y0, x1, y0 + RIM_IN),
            (x0, y1 - RIM_IN, x1, y1),
            (x0, y0 + RIM_IN, x0 + RIM_IN, y1 - RIM_IN),
            (x1 - RIM_IN, y0 + RIM_IN, x1, y1 - RIM_IN),
        )
    )


VERB = Verb(
    "lay_frame",
    ("level below", f"kind: {', '.join(KINDS)}", "members along x or y", "spacing"),
    True,
    "Lay joists or trusses over a level.",
    run,
)
