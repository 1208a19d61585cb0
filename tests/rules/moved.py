"""A bench somewhere else on the plan, and turned by a quarter: every rule must say the same of it.

Where a house stands on its plan and which way its walls run changes no verdict. ``moved`` carries a whole
bench, so that every bench test also holds the rules to that, without a line of its own.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from bayrun.framing import Member
from bayrun.geometry import Box
from bayrun.wiring import Hole, Run

if TYPE_CHECKING:
    from benches import Bench

Point = tuple[float, float]


class Move:
    """x, y → x + dx, y + dy; turned first by a quarter to the right where ``turn`` is true.

    To the right, so that joists along y come to lie along x with the same sense.
    """

    def __init__(self, turn: bool, dx: float, dy: float) -> None:
        self.turn, self.dx, self.dy = turn, dx, dy

    def point(self, p: Point) -> Point:
        """One point of the plan."""
        x, y = (p[1], -p[0]) if self.turn else p
        return x + self.dx, y + self.dy

    def rect(self, r: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        """One rectangle of the plan."""
        (x0, y0), (x1, y1) = self.point((r[0], r[1])), self.point((r[2], r[3]))
        return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)

    def axis(self, axis: str) -> str:
        """An axis of the plan."""
        return {"x": "y", "y": "x"}[axis] if self.turn else axis

    def along_in(self, axis: str) -> float:
        """How far coordinates along members of this axis move."""
        return self.dx if self.axis(axis) == "x" else self.dy

    def member(self, member: Member, axes: dict[str, str]) -> Member:
        """A member; one of a frame carries its place along the axis."""
        b = member.box
        x0, y0, x1, y1 = self.rect((b.x0, b.y0, b.x1, b.y1))
        made = replace(member, box=Box(x0, y0, b.z0, x1, y1, b.z1))
        if member.host in axes:
            by = self.along_in(axes[member.host])
            made = replace(made, along=(member.along[0] + by, member.along[1] + by))
        return made

    def hole(self, hole: Hole, host: str, axes: dict[str, str]) -> Hole:
        """A hole."""
        x, y = self.point((hole.x, hole.y))
        by = self.along_in(axes[host]) if host in axes else 0.0
        return replace(hole, x=x, y=y, along_in=hole.along_in + by)

    def run(self, run: Run) -> Run:
        """A run."""
        path = []
        for p in run.path:
            x, y = self.point((p.x, p.y))
            path.append(replace(p, x=x, y=y))
        return replace(run, path=tuple(path))


def moved(bench: Bench, move: Move) -> Bench:
    """The bench carried to another place; choices about joists are not carried: such benches stay."""
    job = bench.job
    axes = {frame.id: frame.direction for frame in job.frames}
    hosts = {member.id: member.host for member in bench.members}

    def center(c: tuple[float | None, float | None] | None) -> Any:
        if c is None:
            return None
        if None not in c:
            return move.point(c)  # type: ignore[arg-type]
        x, y = c
        if move.turn:
            return (y + move.dx if y is not None else None, -x + move.dy if x is not None else None)
        return (x + move.dx if x is not None else None, y + move.dy if y is not None else None)

    obstacles = tuple(
        replace(
            o,
            rect=None if o.rect is None else move.rect(o.rect),
            center=center(o.center),
            path=tuple((*move.point((p[0], p[1])), p[2]) for p in o.path),
        )
        for o in job.obstacles
    )
    frames = tuple(
        replace(
            f,
            area=move.rect(f.area),
            direction=move.axis(f.direction),
            spans_in=tuple(
                (a + move.along_in(f.direction), b + move.along_in(f.direction)) for a, b in f.spans_in
            ),
        )
        for f in job.frames
    )
    made = replace(
        job,
        walls=tuple(replace(w, start=move.point(w.start), end=move.point(w.end)) for w in job.walls),
        rooms=tuple(replace(r, polygon=tuple(move.point(p) for p in r.polygon)) for r in job.rooms),
        obstacles=obstacles,
        frames=frames,
        barriers=tuple(
            replace(
                b,
                lines=tuple((move.point(p), move.point(q)) for p, q in b.lines),
                pass_point=None
                if b.pass_point is None
                else replace(
                    b.pass_point,
                    x_in=move.point((b.pass_point.x_in, b.pass_point.y_in))[0],
                    y_in=move.point((b.pass_point.x_in, b.pass_point.y_in))[1],
                ),
            )
            for b in job.barriers
        ),
        open_edges=tuple(
            replace(e, line=(move.point(e.line[0]), move.point(e.line[1]))) for e in job.open_edges
        ),
    )
    return replace(
        bench,
        job=made,
        members=[move.member(m, axes) for m in bench.members],
        holes=[move.hole(h, hosts.get(h.member, ""), axes) for h in bench.holes],
        runs=[move.run(r) for r in bench.runs],
    )


MOVES = (Move(False, 700.25, 310.5), Move(True, 0.0, 533.0), Move(True, 411.75, 0.0))
ELSEWHERE = (
    "box_", "bundle_", "coax_", "gear_", "speaker", "radio", "signal", "device", "heat", "port", "done_",
    "wishes_told", "choices_told",
)  # fmt: skip
"""Modules whose rules look at more of the house than a bench carries along."""
EXACT = 1e-6


def says_the_same(bench: Bench, slugs: set[str], told: tuple[Any, ...]) -> None:
    """Hold the rules to the law, where the bench can be carried."""
    from bayrun.rules import RULES

    mine = [rule for rule in RULES if slugs & set(rule.slugs)]
    if any(rule.check.__module__.rpartition(".")[2].startswith(ELSEWHERE) for rule in mine):
        return
    if any(choice.about.startswith("F") for choice in bench.job.choices):
        return
    for move in MOVES:
        there = moved(bench, move).here(slugs)
        assert [_plain(f) for f in there] == [_plain(f) for f in told], (move.turn, move.dx, move.dy)


def _plain(finding: Any) -> tuple[Any, ...]:
    numbers = tuple(None if v is None else round(v, 5) + 0.0 for v in (finding.measured, finding.limit))
    return (finding.rule, finding.severity, finding.about, finding.place, finding.says, *numbers)
