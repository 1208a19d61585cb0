"""Another name or kind for a room."""

from __future__ import annotations

from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.building import FacePiece
from bayrun.house.edits.records import Refused, Signed, Verb, text_of
from bayrun.house.job import Job


def run(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a room under another name and kind; everything that names it follows.

    Raises:
        Refused: No such room on that level, or another room there has the name already.
    """
    level, old, new, kind = (text_of(fix, i) for i in range(4))
    new, kind = " ".join(new.split()), " ".join(kind.split())
    room = next((r for r in job.rooms if r.level == level and r.name == old), None)
    if room is None:
        raise Refused(f"there is no room {old} on level {level}")
    if new != old and any(r.name == new for r in job.rooms):
        raise Refused(f"there is a room {new} already: a name stands for one room in the house")

    def pieces(faces: tuple[FacePiece, ...]) -> tuple[FacePiece, ...]:
        return tuple(replace(p, room=new) if p.room == old else p for p in faces)

    def named(name: str, on: str | None = None) -> str:
        return new if name == old and on in (None, level) else name

    here = {w.id for w in job.walls if w.level == level}
    return replace(
        job,
        rooms=tuple(replace(r, name=new, kind=kind) if r is room else r for r in job.rooms),
        walls=tuple(
            replace(w, left=pieces(w.left), right=pieces(w.right)) if w.level == level else w
            for w in job.walls
        ),
        openings=tuple(
            replace(
                o,
                rooms=tuple(named(n) for n in o.rooms),
                swings_into=None if o.swings_into is None else named(o.swings_into),
            )
            if o.wall in here
            else o
            for o in job.openings
        ),
        open_edges=tuple(replace(e, rooms=tuple(named(n, e.level) for n in e.rooms)) for e in job.open_edges),
        stairs=tuple(replace(s, rooms=tuple((on, named(n, on)) for on, n in s.rooms)) for s in job.stairs),
        locations=tuple(
            replace(q, room=new) if q.room == old and q.level == level else q for q in job.locations
        ),
        gear=tuple(replace(g, room=new) if g.room == old and g.level == level else g for g in job.gear),
        enclosures=tuple(
            replace(e, room=new) if e.room == old and e.level == level else e for e in job.enclosures
        ),
    )


VERB = Verb("name_room", ("level", "room", "new name", "kind"), True, "Another name or kind for a room.", run)
