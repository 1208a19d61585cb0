"""The way of a run in plain words, why it is longer than usual, and where a lost one stopped."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from bayrun.geometry import Rect, at_most
from bayrun.house import Job, WishedRun, wall_name
from bayrun.routing.build import Passages, is_box
from bayrun.routing.mesh import Mesh
from bayrun.routing.records import Place
from bayrun.units import feet_and_inches, tape
from bayrun.wiring import Run

LONG = 1.30
"""A run longer than this many times its least square way has its reason printed."""


class Teller:
    """Words about ways through one house."""

    def __init__(self, job: Job, passages: Passages, mesh: Mesh) -> None:
        """Take the job and its passage graph."""
        self.job, self.passages, self.mesh = job, passages, mesh
        self.cells = {c.id: c for c in passages.cells}
        self.walls = {w.id: w for w in job.walls}

    def _passed(self, nodes: Sequence[int]) -> list[tuple[Place, int]]:
        found = []
        for a, b in itertools.pairwise(nodes):
            na, nb = self.mesh.nodes[a], self.mesh.nodes[b]
            if na.place >= 0 and na.place == nb.place and na.side != nb.side:
                found.append((self.passages.places[na.place], na.side))
        return found

    def _wall_words(self, place: Place) -> str:
        return wall_name(self.walls[place.wall], place.slots[0].along_in) if place.wall else ""

    def way(self, nodes: Sequence[int], wished: WishedRun) -> str:
        """One sentence: up which wall, over or through what, down where."""
        parts: list[str] = []
        studs = 0
        stud_wall = ""
        joists = 0

        def flush() -> None:
            nonlocal studs, joists
            if studs:
                parts.append(f"through {studs} {'stud' if studs == 1 else 'studs'} of {stud_wall}")
            if joists:
                parts.append(f"across {joists} {'joist' if joists == 1 else 'joists'}")
            studs = joists = 0

        travelled = ""
        for place, side in self._passed(nodes):
            if not place.member:
                continue
            if place.axis == "along":
                if not studs:
                    stud_wall = self._wall_words(place)
                studs += 1
                continue
            if place.axis == "across" and place.seal == "":
                joists += 1
                continue
            flush()
            if place.seal and place.axis == "across":
                parts.append(f"by {place.says} (sealed)")
                continue
            top = place.says == "top plate"
            leaving = side == 0
            up = top == leaving
            word = "up" if up else "down"
            where = "out of" if leaving else "into"
            space = self.cells[place.b]
            if leaving and space.says != travelled:
                parts.append(f"{word} {where} {self._wall_words(place)}, along the {space.says}")
                travelled = space.says
            else:
                parts.append(f"{word} {where} {self._wall_words(place)}")
                travelled = "" if not leaving else travelled
        flush()
        ends = [self.mesh.nodes[n] for n in nodes if self.mesh.nodes[n].end and self.mesh.nodes[n].cell]
        for end in ends[:1]:
            cell = self.cells[end.cell]
            if cell.kind != "bay":
                parts.insert(0, f"from the {cell.says}")
        for end in ends[-1:]:
            cell = self.cells[end.cell]
            if cell.kind != "bay" and (len(ends) > 1):
                parts.append(f"to its place from the {cell.says}")
        return "; ".join(parts) if parts else "in its own bay"

    def reason(self, run: Run, nodes: Sequence[int]) -> str:
        """Why a run is longer than usual, or empty."""
        from bayrun.routing.route import least_way_in

        a, b = run.path[0], run.path[-1]
        least_in = least_way_in(self.job, (a.x, a.y, a.z), (b.x, b.y, b.z))
        whole_in = least_in + run.slack_in
        if at_most(run.length_in, LONG * whole_in):
            passed = [p for p, _ in self._passed(nodes) if p.member]
            if passed and all(p.axis == "along" for p in passed):
                return "shorter than over or under: it stays in its wall, drilled sideways through the studs"
            return ""
        extra = run.length_in - whole_in
        barred = dict(self.passages.barred)
        ends = [self.mesh.nodes[n] for n in nodes if self.mesh.nodes[n].end and self.mesh.nodes[n].cell]
        why = [
            f"at {self.cells[e.cell].says}: {barred[e.cell]}"
            for e in ends
            if "slab" not in barred.get(e.cell, "slab")
        ]
        why += [f"it must go by {p.says}" for p, _ in self._passed(nodes) if p.says.startswith("sleeve")]
        box = Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
        hosts = {self.cells[self.mesh.nodes[n].cell].host for n in nodes if self.mesh.nodes[n].cell}
        around = [
            o.what
            for o in self.job.floor_openings
            if box.overlaps(Rect(*o.rect)) and hosts.intersection(o.frames)
        ]
        around += [
            m.what for m in self.job.beams if box.overlaps(Rect(*m.rect)) and hosts.intersection(m.in_frames)
        ]
        if around:
            short = [re.split(r"[,:;(]", what)[0].strip() for what in around]
            why.append(f"it goes around the {' and the '.join(dict.fromkeys(short))}")
        crossed = [p for p, _ in self._passed(nodes) if p.axis == "along" and p.member]
        if crossed:
            where = self._wall_words(crossed[0])
            why.append(
                f"it goes sideways through {len(crossed)} studs of {where} to share holes already there"
            )
        if not why:
            why = ["it shares holes already paid for instead of opening its own"]
        return f"{feet_and_inches(extra)} over the straight way; {'; '.join(dict.fromkeys(why))}"

    def unreached(self, source: str, target: str) -> tuple[str, str]:
        """(last place reached, what bars the way) for a run without a way, seen from its far end."""
        missing = dict(self.passages.missing)
        for end in (target, source):
            if end in missing:
                return f"its own place ({end})", missing[end]
            if end not in self.mesh.terminals:
                if is_box(end):
                    return "the enclosure", "its bay is not clear over or under the box, so nothing can enter"
                return f"its own place ({end})", "it has no place in the framing"
        start = self.mesh.terminals[target]
        goal = self.mesh.terminals[source]
        seen = self._reachable(start)
        if goal in seen:
            return self._cell_words(goal, seen), (
                "every legal hole on the way is full: open another bay, allow a larger bit, or move the box"
            )
        at = self.mesh.nodes[goal].at
        best = min(
            (n for n in seen if self.mesh.nodes[n].cell),
            key=lambda n: (sum(abs(p - q) for p, q in zip(self.mesh.nodes[n].at, at, strict=True)), n),
            default=start,
        )
        cells = sorted({self.mesh.nodes[n].cell for n in seen if self.mesh.nodes[n].cell})
        text = self._barred_words(set(cells)) or "no way leads on from there"
        return self._cell_words(best, seen), text

    def _barred_words(self, cells: set[str]) -> str:
        """What bars the bays that were reached, wall by wall: each reason once, and how many bays."""
        count: dict[tuple[str, str], int] = {}
        for cell_id, why in self.passages.barred:
            if cell_id in cells:
                host = self.cells[cell_id].host
                count[host, why] = count.get((host, why), 0) + 1
        parts = []
        for (host, why), bays in count.items():
            wall = wall_name(self.walls[host]) if host in self.walls else host
            where = f"in {bays} bays of {wall}" if bays > 1 else f"in its bay of {wall}"
            parts.append(f"{where}, {why}")
        return "; ".join(parts)

    def _cell_words(self, node: int, seen: set[int]) -> str:
        cell = self.cells.get(self.mesh.nodes[node].cell)
        if cell is not None:
            return cell.says or cell.id
        x, y, z = self.mesh.nodes[node].at
        return f"x {tape(x)}, y {tape(y)}, {tape(z)} up"

    def _reachable(self, start: int) -> set[int]:
        seen, stack = {start}, [start]
        while stack:
            n = stack.pop()
            for i in range(int(self.mesh.start[n]), int(self.mesh.start[n + 1])):
                m = int(self.mesh.target[i])
                if m not in seen:
                    seen.add(m)
                    stack.append(m)
        return seen
