"""What changed since the plan last issued: what moved, why, and what it comes to."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from bayrun.framing.records import Frame, Member
from bayrun.geometry import at_most
from bayrun.house import End
from bayrun.tables.prices import PriceList
from bayrun.takeoff.asked import Asked, asked_changes
from bayrun.takeoff.change import Planned, price_change
from bayrun.takeoff.words import end_place, hole_place, natural
from bayrun.units import feet_and_inches, fraction, tape
from bayrun.wiring import Hole, Run, Wiring

What = Literal["added", "removed", "moved"]
SAME_IN = 0.0625
"""Nearer than a sixteenth is the same place [in]."""
NEAR_IN = 2.0
"""What stands this near to a hole's old place took it [in]. Our own figure."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is different in the plan.

    Args:
        thing: ``run`` or ``hole``.
        place: Where, in words.
        says: What is different, in words.
        why: ``asked: …`` or ``forced: …``.
        asked: True where a change of the job names it.
        feet: Difference in length, for a run [ft].
    """

    thing: str
    id: str
    what: What
    place: str
    says: str
    why: str
    asked: bool
    feet: float = 0.0


@dataclass(frozen=True, slots=True)
class Changes:
    """A plan against the one it stands on.

    Args:
        since: Revision of the plan last issued.
        asked: What was changed in the job.
        items: What is different in the plan: runs, then holes.
        feet: Of cable more or less, as planned [ft].
        hours: Of people, by the firm's units.
    """

    since: str
    asked: tuple[Asked, ...]
    items: tuple[Change, ...]
    feet: float
    holes: int
    plates: int
    straps: int
    seals: int
    hours: Decimal
    price: Decimal
    currency: str

    @property
    def moved_runs(self) -> tuple[str, ...]:
        """Runs that lie elsewhere although no change names them."""
        return tuple(c.id for c in self.items if c.thing == "run" and c.what == "moved" and not c.asked)


def what_changed(
    before: Planned,
    after: Planned,
    prices: PriceList,
    frames: tuple[Frame | None, Frame],
    when: str = "before drywall",
) -> Changes:
    """Compare a plan with the one it stands on.

    Args:
        before: The plan last issued.
        after: The plan now, made with the first as its base.
        frames: The framing of both; the first may be unknown.
        when: ``before drywall``, ``insulated`` or ``after drywall``: a factor on the hours.
    """
    asked = asked_changes(before.job, after.job)
    items = _Comparison(before, after, asked, frames).items()
    sums = price_change(before, after, prices, when)
    feet = sum(r.length_in for r in after.wiring.runs) - sum(r.length_in for r in before.wiring.runs)
    return Changes(
        since=before.job.revision.number,
        asked=asked,
        items=items,
        feet=feet / 12,
        holes=sums.holes,
        plates=sums.plates,
        straps=sums.straps,
        seals=sums.seals,
        hours=sums.hours,
        price=sums.price,
        currency=sums.currency,
    )


class _Comparison:
    def __init__(
        self, before: Planned, after: Planned, asked: Sequence[Asked], frames: tuple[Frame | None, Frame]
    ) -> None:
        self.before, self.after, self.asked = before, after, asked
        self.old_holes: Mapping[str, Hole] = {h.id: h for h in before.wiring.holes}
        self.new_holes: Mapping[str, Hole] = {h.id: h for h in after.wiring.holes}
        self.old_runs: Mapping[str, Run] = {r.id: r for r in before.wiring.runs}
        self.new_runs: Mapping[str, Run] = {r.id: r for r in after.wiring.runs}
        self.old_members = _members(frames[0])
        self.new_members = _members(frames[1])
        self.by = {(a.kind, a.id): a for a in asked}

    def items(self) -> tuple[Change, ...]:
        runs = [c for r in sorted({*self.old_runs, *self.new_runs}, key=natural) for c in self._run(r)]
        why = {c.id: c for c in runs}
        holes = [
            c for h in sorted({*self.old_holes, *self.new_holes}, key=natural) for c in self._hole(h, why)
        ]
        return (*runs, *holes)

    # runs

    def _run(self, name: str) -> list[Change]:
        old, new = self.old_runs.get(name), self.new_runs.get(name)
        if old is not None and new is not None:
            if same_way(old, new):
                return []
            why, asked = self._why(old, new)
            feet = (new.length_in - old.length_in) / 12
            says = self._way_words(old, new)
            return [Change("run", name, "moved", self._ends(new), says, why, asked, feet)]
        one = new or old
        assert one is not None
        wished = any(r.id == name for r in self.after.job.runs)
        if new is None:
            told = next((u for u in self.after.wiring.unreached if u.run == name), None)
            if told is not None:
                why = f"forced: it comes as far as {told.last_place}; {told.barred_by}"
                says = "no way is left for it"
            else:
                why, says = (
                    f"asked: {self._named(one) or 'it is no longer wished'}",
                    "it is no longer planned",
                )
            place = self._ends(one)
            return [Change("run", name, "removed", place, says, why, not wished, -one.length_in / 12)]
        says = f"planned: {one.way}"
        before = any(r.id == name for r in self.before.job.runs)
        why = "a way is open for it now" if before else f"asked: {self._named(one) or 'it is new'}"
        return [Change("run", name, "added", self._ends(one), says, why, not before, one.length_in / 12)]

    def _ends(self, run: Run) -> str:
        return f"{self._end(run.from_end)} to {self._end(run.to_end)}"

    def _end(self, end: End) -> str:
        for job in (self.after.job, self.before.job):
            try:
                return end_place(job, end)
            except KeyError:
                continue
        return end.id

    def _named(self, run: Run) -> str:
        """The change of the job that names a run or one of its ends."""
        for key in (("run", run.id), ("location", run.to_end.id), ("location", run.from_end.id)):
            if key in self.by:
                return self.by[key].says.split(", ")[0]
        return ""

    def _way_words(self, old: Run, new: Run) -> str:
        gone = [h for h in old.holes if h not in new.holes]
        come = [h for h in new.holes if h not in old.holes]
        parts = []
        if gone:
            parts.append(f"not through {', '.join(gone)} any more")
        if come:
            parts.append(f"now through {', '.join(come)}")
        if not parts:
            parts.append("through the same holes, on another line between them")
        longer_in = new.length_in - old.length_in
        if not at_most(abs(longer_in), 0.5):
            parts.append(f"{feet_and_inches(abs(longer_in))} {'longer' if longer_in > 0 else 'shorter'}")
        return "; ".join(parts)

    def _why(self, old: Run, new: Run) -> tuple[str, bool]:
        """(why a run lies elsewhere, whether a change of the job names it)."""
        named = self._named(new)
        if named:
            return f"asked: {named}", True
        box = [a for a in self.asked if a.kind == "enclosure"]
        if box and "enclosure" in (new.from_end.type, new.to_end.type):
            return f"asked: {box[0].says}", True
        pinned = self.by.get(("choice", new.id))
        if pinned is not None:
            return f"asked: {pinned.says}", True
        for name in old.holes:
            if name in new.holes:
                continue
            why = self._why_hole(self.old_holes[name]) if name in self.old_holes else ""
            if why:
                return f"forced: {why}", False
        first = next((h for h in old.holes if h not in new.holes), "")
        full = self.new_holes.get(first)
        if full is not None:
            lying = ", ".join(full.occupants[:4])
            return f"forced: hole {first} is taken by {lying}", False
        others = [a for a in self.asked if a.kind not in ("run", "location")]
        if others:
            return f"forced: {others[0].says}", False
        return "it shares holes with what is new now, which costs less than staying", False

    def _why_hole(self, hole: Hole) -> str:
        """Why a hole of the old plan is not where it was."""
        at = (hole.x, hole.y, hole.z)
        for one in self.asked:
            if one.kind == "choice" and one.id.startswith((f"{hole.member}@", hole.wall or "\0")):
                return one.says
            for box in one.boxes:
                if all(box[i] - NEAR_IN <= at[i] <= box[i + 3] + NEAR_IN for i in range(3)):
                    return f"{one.says}: it stands where hole {hole.id} was"
        wall = self.by.get(("wall", hole.wall))
        if wall is not None:
            return f"{wall.says}: hole {hole.id} is not in wood there now"
        if self.new_members and hole.member not in self.new_members:
            return f"{hole.member}, which held hole {hole.id}, is not in the framing any more"
        old, new = self.old_members.get(hole.member), self.new_members.get(hole.member)
        if old is not None and new is not None and old.box != new.box:
            return f"{new.says or new.id}, which held hole {hole.id}, stands elsewhere now"
        return ""

    # holes

    def _hole(self, name: str, runs: Mapping[str, Change]) -> list[Change]:
        old, new = self.old_holes.get(name), self.new_holes.get(name)
        if old is not None and new is not None:
            return self._changed(old, new)
        one = new or old
        assert one is not None
        if one.open_passage:
            return []
        touched = [runs[r] for r in one.occupants if r in runs]
        asked = bool(touched) and all(c.asked for c in touched)
        why = touched[0].why if touched else self._why_hole(one) or "no run needs it any more"
        what: What = "added" if new is not None else "removed"
        verb = "drill it" if new is not None else "do not drill it; if it is drilled, close it"
        says = f"{fraction(one.diameter_in)} in hole: {verb}"
        return [Change("hole", name, what, self._place(one, new is not None), says, why, asked)]

    def _changed(self, old: Hole, new: Hole) -> list[Change]:
        off_in = math.dist((old.x, old.y, old.z), (new.x, new.y, new.z))
        moved = not at_most(off_in, SAME_IN)
        bit = not at_most(abs(old.diameter_in - new.diameter_in), 1e-6)
        if not (moved or bit) or new.open_passage:
            return []
        parts = []
        if moved:
            parts.append(f"moved by {tape(off_in)}")
        if bit:
            parts.append(f"{fraction(new.diameter_in)} in bit instead of {fraction(old.diameter_in)} in")
        choice = self._why_hole(old) if new.set_by == "choice" else ""
        more = sorted(set(new.occupants) - set(old.occupants), key=natural)
        less = sorted(set(old.occupants) - set(new.occupants), key=natural)
        why = f"asked: {choice or 'by your choice'}" if new.set_by == "choice" else ""
        if not why and new.set_by == "done":
            why = "as it was really drilled"
        if not why and more:
            why = f"forced: {', '.join(more)} {'goes' if len(more) == 1 else 'go'} there too"
        if not why and less:
            why = f"{', '.join(less)} {'goes' if len(less) == 1 else 'go'} elsewhere"
        why = why or f"forced: {self._why_hole(old) or 'the wood there is another'}"
        asked = new.set_by == "choice"
        return [Change("hole", new.id, "moved", self._place(new, True), "; ".join(parts), why, asked)]

    def _place(self, hole: Hole, now: bool) -> str:
        members = self.new_members if now else self.old_members
        member = members.get(hole.member)
        if member is None:
            return hole.wall or hole.member
        return hole_place(self.after.job if now else self.before.job, member, hole)


def _members(frame: Frame | None) -> Mapping[str, Member]:
    return {} if frame is None else {m.id: m for m in frame.members}


def same_way(a: Run, b: Run) -> bool:
    """True where two runs lie alike to a sixteenth."""
    if len(a.path) != len(b.path):
        return False
    return all(
        at_most(math.dist((p.x, p.y, p.z), (q.x, q.y, q.z)), SAME_IN)
        for p, q in zip(a.path, b.path, strict=True)
    )


def moved_runs(before: Wiring, after: Wiring) -> tuple[str, ...]:
    """Runs of both plans that lie elsewhere in the second."""
    old = {r.id: r for r in before.runs}
    return tuple(r.id for r in after.runs if r.id in old and not same_way(old[r.id], r))
