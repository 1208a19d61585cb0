"""What a person decided about holes and ways is in the next plan, or told with its reason."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.demo import job as demo_job
from tests.laws import check_laws

from bayrun.findings import Fix
from bayrun.framing import Frame, lay_out
from bayrun.house import Choice, Job
from bayrun.house.edits import apply
from bayrun.jobs import plan
from bayrun.routing import route
from bayrun.wiring import ChoiceTold, Hole, Wiring

STUD = "B-112/stud-2"
UP_IN = 54.75


@pytest.fixture(scope="module")
def house() -> tuple[Job, Frame, Wiring]:
    job = demo_job("B")
    frame = lay_out(job)
    return job, frame, route(job, frame)


def chosen(job: Job, *choices: Choice) -> Job:
    return replace(job, choices=(*job.choices, *choices))


def at_of(hole: Hole) -> float:
    return hole.up_in if hole.axis == "along" else hole.along_in


def spot(hole: Hole) -> str:
    return f"{hole.member}@{at_of(hole):.10g}"


def drilled(wiring: Wiring, axis: str, least: int = 1) -> Hole:
    return next(
        h for h in wiring.holes if h.axis == axis and not h.open_passage and len(h.occupants) >= least
    )


def only(wiring: Wiring) -> ChoiceTold:
    (told,) = wiring.choices
    return told


@pytest.mark.parametrize("axis", ["along", "up"])
def test_a_moved_hole_sits_where_the_person_said_and_keeps_its_name(
    house: tuple[Job, Frame, Wiring], axis: str
) -> None:
    job, frame, first = house
    old = drilled(first, axis)
    asked = chosen(job, Choice("move hole", spot(old), f"along {at_of(old) + 2:g} in"))
    wiring = route(asked, frame, base=first)
    check_laws(asked, frame, wiring)
    new = wiring.hole(old.id)
    assert (new.member, new.set_by) == (old.member, "choice")
    assert at_of(new) == pytest.approx(at_of(old) + 2)
    told = only(wiring)
    assert (told.became, told.ids) == ("by your choice", (old.id,))
    assert told.says.endswith("by your choice")
    assert not [h for h in wiring.holes if h.member == old.member and abs(at_of(h) - at_of(old)) < 0.1]


def test_a_chosen_bit_is_used_and_what_does_not_fit_goes_elsewhere(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    old = max(
        (h for h in first.holes if h.axis == "up" and not h.open_passage), key=lambda h: len(h.occupants)
    )
    assert len(old.occupants) >= 4
    asked = chosen(job, Choice("bit", spot(old), "0.75 in"))
    wiring = route(asked, frame, base=first)
    check_laws(asked, frame, wiring)
    (hole,) = [h for h in wiring.holes if h.set_by == "choice"]
    assert hole.diameter_in == 0.75
    assert 1 <= len(hole.occupants) < len(old.occupants)
    assert not wiring.unreached


def test_several_holes_by_choice(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    old = drilled(first, "along", 2)
    asked = chosen(job, Choice("split hole", spot(old), "2 of 0.625 in every 3 in across 0 in from 0 in"))
    wiring = route(asked, frame, base=first)
    check_laws(asked, frame, wiring)
    made = [h for h in wiring.holes if h.set_by == "choice"]
    assert made
    assert {h.diameter_in for h in made} == {0.625}
    assert {round(at_of(h) - at_of(old), 6) for h in made} <= {0.0, 3.0}
    assert only(wiring).became == "by your choice"


def test_a_hole_that_is_not_legal_where_it_was_put_stays_there_and_is_told() -> None:
    """IRC R602.6: at least 5/8 in of wood to the edge of a stud; 3/8 in is left here."""
    job = demo_job("B")
    first = plan(job)
    old = drilled(first.wiring, "along")
    half_in = job.wall(old.wall).thickness_in / 2
    across_in = half_in - 0.375 - 0.5
    asked = chosen(
        job, Choice("bit", spot(old), "1 in"), Choice("move hole", spot(old), f"across {across_in:g} in")
    )
    second = plan(asked, base=first.wiring)
    hole = second.wiring.hole(old.id)
    assert hole.across_in == pytest.approx(across_in)
    told = [f for f in second.findings if f.rule == "stud-hole-edge" and old.id in f.about]
    assert told
    assert told[0].measured == pytest.approx(0.375)
    cure = next(f for f in told[0].fixes if f.verb == "redrill_hole")
    third = plan(apply(asked, cure, by="lead"), base=second.wiring)
    assert not [f for f in third.findings if f.rule == "stud-hole-edge"]


def test_a_choice_the_plan_would_make_by_itself_is_already_so(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    old = drilled(first, "along")
    asked = chosen(job, Choice("move hole", spot(old), f"along {at_of(old):.10g} in"))
    assert only(route(asked, frame, base=first)).became == "already so"


@pytest.mark.parametrize(
    ("choice", "why"),
    [
        (Choice("bit", "B-112/stud-99@40", "1 in"), "B-112/stud-99 is no longer in the framing"),
        (Choice("bit", f"{STUD}@{UP_IN}", "big"), "cannot be read: "),
        (Choice("move hole", f"{STUD}@{UP_IN}", "along 200 in"), "the wood there goes from"),
        (Choice("bit", f"{STUD}@{UP_IN}", "0.125 in"), "no run passes there now"),
        (Choice("pin run", "B99-D1", f"{STUD}@{UP_IN}"), "there is no such run any more"),
        (Choice("pin run", "B01-D1", "B-112/stud-99@40"), "is no longer in the framing"),
    ],
)
def test_a_choice_that_cannot_hold_is_told_with_its_reason(
    house: tuple[Job, Frame, Wiring], choice: Choice, why: str
) -> None:
    job, frame, first = house
    asked = chosen(job, choice)
    wiring = route(asked, frame, base=first)
    told = only(wiring)
    assert told.became == "not followed"
    assert "not followed, because" in told.says
    assert why in told.says
    assert not wiring.unreached


def test_what_was_not_followed_is_a_finding() -> None:
    job = chosen(demo_job("A"), Choice("bit", "A-W01/stud-99@40", "1 in"))
    told = [f for f in plan(job).findings if f.rule == "choice-not-followed"]
    assert len(told) == 1
    assert "no longer in the framing" in told[0].says


def test_a_pinned_run_passes_its_places_in_order(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    run = max(first.runs, key=lambda r: len(r.holes))
    places = "; ".join(spot(first.hole(h)) for h in run.holes)
    asked = chosen(job, Choice("pin run", run.id, places))
    wiring = route(asked, frame, base=first)
    check_laws(asked, frame, wiring)
    # The same bays and the same members; where a member has two holes side by side, either will do.
    passed = [wiring.hole(h).member for h in wiring.run(run.id).holes]
    assert passed == [first.hole(h).member for h in run.holes]
    assert only(wiring).says == f"run {run.id} keeps its way: by your choice"


def test_a_run_pinned_to_another_way_goes_there(house: tuple[Job, Frame, Wiring]) -> None:
    """Fed from under; the person wants it down another bay that the plan left alone."""
    job, frame, first = house
    run = next(r for r in first.runs if any(first.hole(h).axis == "up" for h in r.holes))
    others = [h for h in first.holes if h.axis == "up" and run.id not in h.occupants and not h.open_passage]
    tried = 0
    for other in others:
        asked = chosen(job, Choice("pin run", run.id, spot(other)))
        wiring = route(asked, frame, base=first)
        told = only(wiring)
        if told.became == "not followed":
            assert "not followed, because" in told.says
            continue
        check_laws(asked, frame, wiring)
        passed = [wiring.hole(h) for h in wiring.run(run.id).holes]
        assert any(h.member == other.member and abs(at_of(h) - at_of(other)) < 9 for h in passed)
        tried += 1
        if tried == 2:
            break
    assert tried


def test_a_notch_keeps_holes_out_of_its_section(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    old = drilled(first, "along")
    asked = chosen(job, Choice("notch", spot(old), "0.5 in deep 2 in long on the left"))
    wiring = route(asked, frame, base=first)
    check_laws(asked, frame, wiring)
    for hole in wiring.holes:
        if hole.member == old.member and hole.axis == "along":
            assert abs(hole.up_in - old.up_in) >= 1.0 + hole.diameter_in / 2 - 1e-6


def test_an_edit_is_honored_by_the_next_plan() -> None:
    """The way of the verbs: a fix about a hole of a plan, applied to the job, is in the next plan."""
    job = demo_job("B")
    frame = lay_out(job)
    first = route(job, frame)
    old = drilled(first, "along")
    moved = apply(job, Fix("shift_hole", (old.id, old.up_in + 3, spot(old)), "move it"), by="lead")
    place = f"{old.member}@{old.up_in + 3:.10g}"
    again = apply(moved, Fix("redrill_hole", (old.id, 0.75, 0.25, place), "bit"))
    wiring = route(again, frame, base=first)
    hole = wiring.hole(old.id)
    assert (hole.up_in, hole.diameter_in, hole.across_in) == (old.up_in + 3, 0.75, 0.25)


def test_plates_straps_and_seals_by_choice_are_counted_or_told() -> None:
    job = demo_job("B")
    first = plan(job)
    stud = drilled(first.wiring, "along")
    top = next(h for h in first.wiring.holes if h.member.endswith("/top") and not h.open_passage)
    have = {(p.hole, p.side) for p in first.counted.plates}
    side = next(s for s in ("left", "right") if (stud.id, s) not in have)
    steps = (
        Fix("add_nail_plate", (stud.id, side, spot(stud)), "plate"),
        Fix("add_strap", (top.id, 30.0, spot(top)), "strap"),
        Fix("add_seal", (stud.id, spot(stud)), "seal"),
    )
    asked = job
    for step in steps:
        asked = apply(asked, step, by="lead")
    asked = apply(asked, Fix("add_seal", ("H999", "B-112/stud-2@5"), "seal"), by="lead")
    second = plan(asked, base=first.wiring)
    (plate,) = [p for p in second.counted.plates if p.reason == "by your choice"]
    assert (plate.hole, plate.side) == (stud.id, side)
    (strap,) = [s for s in second.counted.straps if s.hole == top.id]
    assert strap.length_in == 30.0
    (seal,) = [s for s in second.counted.seals if s.hole == stud.id]
    assert seal.assembly == "by your choice"
    became = [t.became for t in second.wiring.choices]
    assert became == ["by your choice", "by your choice", "by your choice", "not followed"]
    assert "no hole is planned there any more" in second.wiring.choices[-1].says


def test_a_stretch_never_drilled_has_no_hole(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    old = drilled(first, "up", 2)
    asked = apply(job, Fix("never_place", (old.wall, old.along_in - 8, old.along_in + 8), "pipe to come"))
    wiring = route(asked, frame, base=first)
    check_laws(asked, frame, wiring)
    for hole in wiring.holes:
        if hole.wall == old.wall:
            assert abs(hole.along_in - old.along_in) >= 8 + hole.diameter_in / 2 - 1e-6
    told = only(wiring)
    assert told.became == "by your choice"
    assert told.says.startswith("no hole in wall ")


def test_a_wall_never_drilled_closes_its_ways_and_says_so(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    wall = next(q.wall for q in job.locations if q.wall and q.ports)
    assert wall is not None
    assert any(h.wall == wall for h in first.holes)
    wiring = route(apply(job, Fix("never_place", (wall, 0.0, 0.0), "foam")), frame, base=first)
    assert not [h for h in wiring.holes if h.wall == wall]
    assert {r.id for r in wiring.runs} | {u.run for u in wiring.unreached} == {r.id for r in job.runs}
    lost = chosen(job, Choice("never place", "B-999", ""))
    assert "it is no longer in the framing" in only(route(lost, frame, base=first)).says


def test_a_location_is_fed_by_the_bay_that_was_chosen(house: tuple[Job, Frame, Wiring]) -> None:
    job, frame, first = house
    followed = 0
    for location in job.locations:
        mine = [r for r in first.runs if location.id in (r.from_end.id, r.to_end.id)]
        if not mine or not location.wall or location.offset_in is None:
            continue
        own = next((first.hole(h) for h in mine[0].holes if first.hole(h).wall == location.wall), None)
        if own is None or own.axis != "up":
            continue
        asked = apply(job, Fix("leave_by", (location.id, own.along_in + 16), "the next bay"))
        wiring = route(asked, frame, base=first)
        check_laws(asked, frame, wiring)
        told = only(wiring)
        if told.became != "by your choice":
            assert "not followed, because" in told.says
            continue
        followed += 1
        plates = [wiring.hole(h) for h in wiring.run(mine[0].id).holes]
        plates = [h for h in plates if h.wall == location.wall and h.axis == "up"]
        assert plates
        assert all(0 < h.along_in - own.along_in < 32 for h in plates)
        if followed == 2:
            return
    assert followed


def test_a_location_is_fed_from_the_other_side() -> None:
    job = demo_job("B")
    frame = lay_out(job)
    for location in job.locations:
        if location.wall and location.feed == "up":
            turned = apply(job, Fix("feed_from", (location.id, "down"), "from under"))
            assert turned.location(location.id).feed == "down"
            wiring = route(turned, frame)
            check_laws(turned, frame, wiring)
            return
    turned = apply(job, Fix("feed_from", (job.locations[0].id, "up"), "from over"))
    assert turned.locations[0].feed == "up"
