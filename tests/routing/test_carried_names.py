"""Names of holes are written on wood: they are carried from the plan last issued and never used again."""

from __future__ import annotations

from dataclasses import replace

from tests.demo import job as demo_job
from tests.laws import check_laws

from bayrun.framing import lay_out
from bayrun.routing import route


def test_the_same_house_keeps_every_name() -> None:
    job = demo_job("A")
    frame = lay_out(job)
    first = route(job, frame)
    assert route(job, frame, base=first) == first


def test_a_moved_location_renames_nothing_else() -> None:
    job = demo_job("A")
    first = route(job, lay_out(job))
    moved = replace(
        job,
        locations=tuple(
            replace(q, offset_in=q.offset_in - 48.0) if q.id == "A10" and q.offset_in else q
            for q in job.locations
        ),
    )
    frame = lay_out(moved)
    second = route(moved, frame, base=first)
    check_laws(moved, frame, second)
    old = {h.id: h for h in first.holes}
    new = {h.id: h for h in second.holes}
    for name in old.keys() & new.keys():
        a, b = old[name], new[name]
        assert (a.member, round(a.x, 2), round(a.y, 2)) == (b.member, round(b.x, 2), round(b.y, 2)), name
    fresh = new.keys() - old.keys()
    assert fresh  # the moved desk needs a hole elsewhere
    highest = max(int(n[1:]) for n in old)
    assert all(int(n[1:]) > highest for n in fresh)


def test_a_name_of_a_hole_that_is_gone_is_not_used_again() -> None:
    job = demo_job("A")
    first = route(job, lay_out(job))
    fewer = replace(job, runs=tuple(r for r in job.runs if r.to_end.id != "A10"))
    second = route(fewer, lay_out(fewer), base=first)
    gone = {h.id for h in first.holes} - {h.id for h in second.holes}
    assert gone
    third = route(job, lay_out(job), base=replace(second, holes=(*second.holes, *first.holes)))
    check_laws(job, lay_out(job), third)
    places = {h.id: (h.member, round(h.x, 2), round(h.y, 2)) for h in first.holes}
    for hole in third.holes:
        if hole.id in places:
            assert places[hole.id] == (hole.member, round(hole.x, 2), round(hole.y, 2))
