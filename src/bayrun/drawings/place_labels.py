"""Where labels stand: beside their anchor, on nothing, with a short straight leader where they step back.

Each label tries places around its anchor, nearest first. A place is refused where it meets another text, a
symbol or a leader, or leaves the room given; among the others the one with the least lines under it wins. A
label that finds none becomes a number, and its words move to a table beside the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from bayrun.drawings.measure import Ground, keep_clear, segments
from bayrun.drawings.scene import Element, Line, Point, Text, plain_text, text_width_pt
from bayrun.drawings.style import LEAST_PT
from bayrun.geometry import Rect, clamp

_RINGS_IN = (0.0, 0.10, 0.2, 0.32, 0.46, 0.64, 0.86, 1.12, 1.45)
"""How far from the symbol's edge a label may step back [inches of paper]."""
_GAP_IN = 0.025
_DIRECTIONS = 16
_FAR = 5
"""From this ring on a number in a table is better than a long leader."""


@dataclass(frozen=True, slots=True)
class Label:
    """A label that wants a place.

    Args:
        about: Id of what it names; its own symbol does not push it away.
        anchor: What it points at [in].
        clear_in: Half the size of what stands at the anchor [in].
        rank: Lower ranks are placed first.
        within: Room it must stay in, e.g. the polygon's box of a room name.
        long: Words of the table where it becomes a number; empty takes ``text``.
        toward: A direction it would rather take.
        on: Middles it may take first, the best one first: a letter on its cable, a name in its room.
        optional: Left out where it finds no place, without a number.
    """

    about: str
    text: str
    anchor: Point
    clear_in: float = 0.0
    size_pt: float = LEAST_PT
    bold: bool = False
    rank: int = 5
    within: Rect | None = None
    long: str = ""
    toward: Point | None = None
    leader: bool = True
    layer: str = "T-ANNO-IDEN"
    on: tuple[Point, ...] = ()
    optional: bool = False
    color: str | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """What the placement gives.

    Args:
        elements: Texts and leaders.
        table: (number, words) of labels that became numbers.
        homeless: Labels without any place; their words are in the table too, with ``-``.
    """

    elements: tuple[Element, ...]
    table: tuple[tuple[str, str], ...]
    homeless: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Spot:
    cost: float
    ring: int
    box: Rect
    base: Point
    foot: Point | None


class Placement:
    """Places labels on a drawing that is already there.

    Args:
        per_paper_in: Real inches to one inch of paper.
        frame: No label leaves it [in].
        drawn: What stands already: texts and symbols are kept clear, lines are avoided.
    """

    def __init__(self, per_paper_in: float, frame: Rect, drawn: Iterable[Element]) -> None:
        self.k = per_paper_in
        self.frame = frame.grown(-0.03 * per_paper_in)
        self.taken = Ground(0.4 * per_paper_in)
        self.lines = Ground(0.4 * per_paper_in)
        self.leaders = Ground(0.4 * per_paper_in)
        drawn = tuple(drawn)
        keep_clear(drawn, per_paper_in, self.taken)
        for a, b in segments(drawn, per_paper_in):
            self.lines.add_segment(a, b)

    def place(self, labels: Iterable[Label], first_number: int = 1) -> Placed:
        """Place every label once, the ranks in order, crowded ones first within a rank."""
        wishes = list(labels)
        near = 0.6 * self.k
        crowd = {w.about + w.text: sum(math.dist(w.anchor, o.anchor) < near for o in wishes) for w in wishes}
        wishes.sort(key=lambda w: (w.rank, -crowd[w.about + w.text], w.about, w.text))
        elements: list[Element] = []
        table: list[tuple[str, str]] = []
        homeless: list[str] = []
        for wish in wishes:
            spot = self._on(wish) or self._best(wish, wish.text)
            if wish.optional and (spot is None or spot.ring > 1):
                continue
            if spot is None or (spot.ring >= _FAR and len(wish.text) > 4):
                number = str(first_number + len(table))
                other = self._best(wish, number)
                if other is not None and (spot is None or other.ring < spot.ring - 1):
                    table.append((number, wish.long or wish.text))
                    elements += self._set(wish, number, other, bold=True)
                    continue
            if spot is None:
                table.append(("-", wish.long or wish.text))
                homeless.append(wish.text)
                continue
            elements += self._set(wish, wish.text, spot, bold=wish.bold)
        return Placed(tuple(elements), tuple(table), tuple(homeless))

    def _on(self, wish: Label) -> _Spot | None:
        size = wish.size_pt / 72 * self.k
        half_w = text_width_pt(wish.text, wish.size_pt, bold=wish.bold) / 144 * self.k
        half_h = 0.485 * size
        f = self.frame if wish.within is None else wish.within
        best: _Spot | None = None
        for order, (x, y) in enumerate(wish.on):
            box = Rect(x - half_w, y - half_h, x + half_w, y + half_h)
            outside = box.u0 < f.u0 or box.v0 < f.v0 or box.u1 > f.u1 or box.v1 > f.v1
            clear = box.grown(0.018 * self.k)
            if outside or self.taken.hits(clear) or self.leaders.hits(clear):
                continue
            cost = 0.15 * order + min(self.lines.hits(box), 9)
            if best is None or cost < best.cost:
                best = _Spot(cost, 0, box, (x, y - half_h + 0.235 * size), None)
        return best

    def _best(self, wish: Label, text: str) -> _Spot | None:
        size = wish.size_pt / 72 * self.k
        width = (
            text_width_pt(plain_text(text), wish.size_pt, bold=wish.bold or text != wish.text) / 72 * self.k
        )
        best: _Spot | None = None
        rings = _RINGS_IN if wish.leader else _RINGS_IN[:2]
        for ring, step in enumerate(rings):
            for turn in range(_DIRECTIONS):
                spot = self._try(wish, ring, step, turn, width, size)
                if spot is not None and (best is None or spot.cost < best.cost):
                    best = spot
            # A clean place at this ring is better than any farther one.
            if best is not None and best.cost < (ring + 1) * 1.0:
                return best
        return best

    def _try(self, wish: Label, ring: int, step: float, turn: int, width: float, size: float) -> _Spot | None:
        angle = math.radians(turn * 360 / _DIRECTIONS)
        ux, uy = math.cos(angle), math.sin(angle)
        reach = wish.clear_in + (_GAP_IN + step) * self.k
        ax, ay = wish.anchor
        # The box is pushed out along the direction until it clears the reach on one axis.
        half_w, half_h = width / 2, 0.485 * size
        push = reach + min(half_w / max(abs(ux), 1e-9), half_h / max(abs(uy), 1e-9))
        cx, cy = ax + ux * push, ay + uy * push
        box = Rect(cx - half_w, cy - half_h, cx + half_w, cy + half_h)
        f = self.frame if wish.within is None else wish.within
        if box.u0 < f.u0 or box.v0 < f.v0 or box.u1 > f.u1 or box.v1 > f.v1:
            return None
        clear = box.grown(0.018 * self.k)
        if self.taken.hits(clear, wish.about) or self.leaders.hits(clear):
            return None
        if box.grown(0.01 * self.k).holds(ax, ay) and wish.clear_in > 0:
            return None
        cost = ring * 1.0 + 1.5 * min(self.lines.hits(box), 6)
        foot: Point | None = None
        if step > 0.12:
            foot = (clamp(ax, box.u0, box.u1), clamp(ay, box.v0, box.v1))
            start = self._edge(wish, foot)
            if self.taken.crossings(start, foot, wish.about):
                return None
            cost += 4.0 * self.leaders.crossings(start, foot)
        # The four main directions read best; then a wished one.
        cost += 0.0 if turn % 4 == 0 else 0.25
        if wish.toward is not None:
            cost += 0.8 * (1 - (ux * wish.toward[0] + uy * wish.toward[1]))
        return _Spot(cost, ring, box, (cx, cy - half_h + 0.235 * size), foot)

    def _edge(self, wish: Label, foot: Point) -> Point:
        ax, ay = wish.anchor
        far = math.dist(wish.anchor, foot) or 1.0
        r = min(wish.clear_in, far)
        return ax + (foot[0] - ax) * r / far, ay + (foot[1] - ay) * r / far

    def _set(self, wish: Label, text: str, spot: _Spot, *, bold: bool) -> list[Element]:
        out: list[Element] = []
        if spot.foot is not None:
            start = self._edge(wish, spot.foot)
            out.append(Line("T-ANNO-LEAD", start, spot.foot))
            self.leaders.add_segment(start, spot.foot)
        out.append(
            Text(
                wish.layer,
                spot.base,
                plain_text(text),
                wish.size_pt,
                "center",
                bold=bold,
                halo=True,
                color=wish.color,
                role="label",
            )
        )
        self.taken.add_box(spot.box)
        return out
