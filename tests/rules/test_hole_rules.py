"""Rules about holes on hand-made benches: each detects its fault, passes without it, and its fixes cure it.

Limits: IRC R602.6, R602.6.1, R502.8.1, R502.8.2, NEC 300.4(A)(1); hand figures stand beside the cases.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from benches import (
    FLOOR,
    JOB,
    WALL,
    Bench,
    apply,
    cover,
    filled,
    flat,
    joist,
    joist_hole,
    plate_hole,
    stud_hole,
    upright,
    with_runs,
)

from bayrun.findings import Severity
from bayrun.house import Choice, Knockouts

STUD = upright(4, 48.0)


def with_hole(diameter_in: float, across_in: float = 0.0, **wall: object) -> Bench:
    """One stud, one hole."""
    bearing = bool(wall.get("bearing", True))
    stud = replace(STUD, bearing=bearing)
    return Bench(members=[stud], holes=[stud_hole("H1", stud, diameter_in, across_in=across_in)])


def test_a_clean_bench_says_only_that_power_is_the_electricians() -> None:
    bench = Bench(members=[STUD, flat("top")], holes=[stud_hole("H1", STUD, 1.0)], plates=(), straps=())
    assert {f.rule for f in bench.findings()} == {"ac-by-electrician"}


def test_stud_hole_size() -> None:
    (told,) = with_hole(1.5).of("stud-hole-size")
    assert told.severity is Severity.STOP
    assert (told.measured, told.limit) == (1.5, 1.4)
    assert told.place == "level 1, wall Laundry / Hall (W1), stud 4, 3' 4\" above subfloor"
    assert told.says == (
        '1-1/2" hole takes 42.9 % of a 3-1/2" bearing stud; the limit is 40.0 %, 1.40" (1-3/8" by the tape).'
    )
    assert str(told.source) == "IRC 2021 R602.6"
    assert [fix.verb for fix in told.fixes] == ["redrill_hole", "ask", "ask"]
    assert {fix.request_to for fix in told.fixes} == {"", "framer"}
    assert not with_hole(1.375).of("stud-hole-size")
    assert not with_hole(2.0, bearing=False).of("stud-hole-size")


def test_an_answer_that_the_stud_is_doubled_closes_the_finding() -> None:
    bench = with_hole(1.5)
    bench.job = replace(JOB, choices=(Choice("answer", STUD.id, "doubled", by="framer"),))
    assert not bench.of("stud-hole-size")


def test_stud_hole_edge_and_its_move() -> None:
    bench = with_hole(1.375, across_in=0.75)  # 1.75 - 0.75 - 0.6875 = 0.3125 at the left face
    (told,) = bench.of("stud-hole-edge")
    assert (told.measured, told.limit) == (0.3125, 0.625)
    assert "at the Laundry side" in told.says
    assert told.fixes[0].arguments == ("H1", 1.375, pytest.approx(0.4375), "W1/stud-4@40")
    assert not apply(bench, told).of("stud-hole-edge")
    assert not with_hole(1.375, across_in=0.4375).of("stud-hole-edge")


def test_a_bit_too_small_for_the_cables_is_not_offered() -> None:
    # Eleven 0.23 in cables at 40 %: sqrt(11 x 0.0529 / 0.4) = 1.206 in, so 1-1/8 would be too small.
    bench = with_runs(with_hole(1.5), 11)
    bench.holes = [filled(bench.holes[0], 11)]
    (told,) = bench.of("stud-hole-size")
    assert told.fixes[0].arguments[1] == 1.375
    # Twenty cables need 1.626 in, more than any legal bit: two holes, then.
    bench = with_runs(with_hole(1.75), 20)
    bench.holes = [filled(bench.holes[0], 20)]
    (told,) = bench.of("stud-hole-size")
    assert told.fixes[0].verb == "split_hole"
    assert told.fixes[0].says == 'Drill 2 holes with the 1-3/8" bit instead, 2-3/8" apart on center.'
    assert not {f.rule for f in apply(bench, told).findings()} & {"stud-hole-size", "hole-spacing"}


def test_a_move_into_another_hole_is_not_offered() -> None:
    bench = with_hole(1.375, across_in=0.75)
    bench.holes.append(stud_hole("H2", STUD, 0.75, up_in=41.5))
    (told,) = bench.of("stud-hole-edge")
    assert all(fix.verb != "redrill_hole" for fix in told.fixes)


def test_holes_are_split_downward_where_there_is_no_room_above() -> None:
    bench = with_runs(with_hole(1.75), 20)
    bench.holes = [replace(filled(bench.holes[0], 20), up_in=93.0)]  # the stud ends at 94-1/8
    (told,) = bench.of("stud-hole-size")
    assert told.fixes[0].arguments[4:6] == (-2.375, 2.375)
    assert {h.up_in for h in apply(bench, told).holes} == {93.0, 93.0 - 2.375}
    bench.holes.append(
        stud_hole("H2", STUD, 0.75, up_in=90.0)
    )  # 0.625 + 2.375 / ... the lower one is too near
    (told,) = bench.of("stud-hole-size")
    assert all(fix.verb != "split_hole" for fix in told.fixes)


def test_three_doubled_studs_in_a_row() -> None:
    studs = [upright(i, 16.0 * i, plies=2) for i in (1, 2, 3)]
    bench = Bench(members=studs, holes=[stud_hole(f"H{i}", s, 2.0) for i, s in enumerate(studs, 1)])
    (told,) = bench.of("stud-successive-doubled")
    assert told.about == ("H3", "W1/stud-3")
    assert not apply(bench, told).of("stud-successive-doubled")
    bench.members.insert(1, upright(9, 24.0))  # a plain stud between ends the row
    assert not bench.of("stud-successive-doubled")
    bench = Bench(members=studs[:2], holes=bench.holes[:2])
    assert not bench.of("stud-successive-doubled")


def test_joist_hole_size_edge_and_spacing() -> None:
    job = replace(JOB, frames=(FLOOR,))
    beam = joist()
    assert Bench(job, [beam], holes=[joist_hole("H1", beam, 3.125)]).of("joist-hole-size")
    assert not Bench(job, [beam], holes=[joist_hole("H1", beam, 3.0)]).of("joist-hole-size")
    low = Bench(job, [beam], holes=[joist_hole("H1", beam, 1.0, from_bottom_in=2.25)])
    (told,) = low.of("joist-hole-edge")
    assert (told.measured, told.limit) == (1.75, 2.0)
    assert "at the bottom" in told.says
    assert not apply(low, told).of("joist-hole-edge")
    # Example 21: 2-1/2 on center leaves 1.5 < 2; 3 in on center passes.
    close = Bench(job, [beam], holes=[joist_hole("H1", beam, 1.0), joist_hole("H2", beam, 1.0, 42.5)])
    (told,) = close.of("joist-hole-spacing")
    assert (told.measured, told.limit, told.severity) == (1.5, 2.0, Severity.STOP)
    assert not apply(close, told).of("joist-hole-spacing")
    apart = Bench(job, [beam], holes=[joist_hole("H1", beam, 1.0), joist_hole("H2", beam, 1.0, 43.0)])
    assert not apart.of("joist-hole-spacing")


def test_stud_holes_keep_the_firms_gap() -> None:
    bench = Bench(members=[STUD], holes=[stud_hole("H1", STUD, 1.0), stud_hole("H2", STUD, 1.0, up_in=41.9)])
    (told,) = bench.of("hole-spacing")
    assert told.measured == pytest.approx(0.9)
    assert told.severity is Severity.FIX_SOON
    assert not apply(bench, told).of("hole-spacing")
    assert 'leave 0.900" of wood' in told.says
    bench.holes[1] = stud_hole("H2", STUD, 1.0, up_in=42.0)
    assert not bench.of("hole-spacing")
    bench.holes[1] = stud_hole("H2", STUD, 1.0, up_in=40.5)
    (told,) = bench.of("hole-spacing")
    assert "leave no wood" in told.says
    assert told.severity is Severity.STOP
    assert not bench.of("joist-hole-spacing")
    # Near the top of the stud (94-1/8) there is room only below.
    bench.holes = [stud_hole("H1", STUD, 1.0, up_in=93.0), stud_hole("H2", STUD, 1.0, up_in=93.5)]
    (told,) = bench.of("hole-spacing")
    assert told.fixes[0].arguments == ("H2", 91.0, "W1/stud-4@93.5")


def test_joist_holes_are_split_along_the_joist() -> None:
    beam = joist(depth_in=7.25)  # largest 2.417; 24 cables want 1.781 in
    bench = with_runs(Bench(replace(JOB, frames=(FLOOR,)), [beam]), 24)
    bench.holes = [filled(joist_hole("H1", beam, 3.0, 95.0), 24)]
    (told,) = bench.of("joist-hole-size")
    split = next(i for i, fix in enumerate(told.fixes) if fix.verb == "split_hole")
    cured = apply(bench, told, split)
    assert {h.along_in for h in cured.holes} == {95.0 - told.fixes[split].arguments[5], 95.0}
    assert not {f.rule for f in cured.findings()} & {"joist-hole-size", "joist-hole-spacing"}


@pytest.mark.parametrize(
    "facts",
    [
        {"role": "roof truss chord", "material": "truss"},
        {"role": "floor truss chord", "material": "truss"},
        {"role": "beam", "material": "engineered"},
        {"role": "edge member", "material": "engineered"},
    ],
)
def test_engineered_is_never_drilled(facts: dict[str, str]) -> None:
    member = joist(**facts)
    (told,) = Bench(replace(JOB, frames=(FLOOR,)), [member], holes=[joist_hole("H1", member, 0.5)]).of(
        "engineered-never"
    )
    assert told.severity is Severity.STOP
    assert told.fixes == ()


def test_header_and_post_are_never_drilled_but_king_and_jack_are_studs() -> None:
    for role, stops in (("header", 1), ("post", 1), ("king", 0), ("jack", 0), ("cripple", 0)):
        member = upright(1, 20.0, role=role)
        bench = Bench(members=[member], holes=[stud_hole("H1", member, 1.0)])
        assert len(bench.of("engineered-never")) == stops, role


def test_i_joists_by_the_makers_chart() -> None:
    member = joist(role="I-joist", material="I-joist")
    drilled = joist_hole("H1", member, 1.0)
    plain = replace(FLOOR, kind="I-joists")
    charted = replace(plain, knockouts=Knockouts(1.5, 16.0, "its maker's chart"))
    (told,) = Bench(replace(JOB, frames=(plain,)), [member], holes=[drilled]).of("engineered-never")
    assert told.severity is Severity.CANNOT_TELL
    (told,) = Bench(replace(JOB, frames=(charted,)), [member], holes=[drilled]).of("engineered-never")
    assert told.severity is Severity.STOP
    punched = replace(drilled, open_passage=True, diameter_in=1.5)
    assert not Bench(replace(JOB, frames=(charted,)), [member], holes=[punched]).of("engineered-never")
    wide = replace(punched, diameter_in=1.75)
    assert Bench(replace(JOB, frames=(charted,)), [member], holes=[wide]).of("factory-hole-size")


def test_nail_plates_per_face_and_ply() -> None:
    bench = with_hole(1.25)
    assert not bench.of("nail-plate")  # silent before the count
    bench.plates = ()
    (told,) = bench.of("nail-plate")
    assert told.severity is Severity.STOP
    assert "on the Hall side and the Laundry side" in told.says
    assert told.fixes[0].arguments == ("H1", "right left", "W1/stud-4@40")
    assert not apply(bench, told).of("nail-plate")
    bench.job = replace(JOB, choices=(Choice("nail plate", "W1/stud-4@40/left", "left"),))
    (rest,) = bench.of("nail-plate")
    assert rest.fixes[0].arguments == ("H1", "right", "W1/stud-4@40")
    assert "on the Hall side:" in rest.says
    bench.job = replace(JOB, choices=(Choice("nail plate", "W1/stud-4@41/left", "left"),))
    assert bench.of("nail-plate")[0].fixes == told.fixes
    bench.job = JOB
    exact = with_hole(1.0)  # 1-1/4 in of wood on each side
    exact.plates = ()
    assert not exact.of("nail-plate")
    king, jack = upright(1, 20.0, role="king"), upright(2, 21.5, role="jack")
    hole = replace(stud_hole("H1", king, 1.25), plies=(jack.id,))
    two = Bench(members=[king, jack], holes=[hole], plates=())
    (told,) = two.of("nail-plate")  # one hole, one plate per face over both plies
    assert told.fixes[0].says == "Add plates on the Hall side and the Laundry side."


def test_nail_plates_before_2020_are_our_practice() -> None:
    bench = with_hole(1.25)
    bench.plates = ()
    old = (("IRC", "2021"), ("NEC", "2017"))
    bench.job = replace(JOB, practice=replace(JOB.practice, editions=old))
    (told,) = bench.of("nail-plate")
    assert told.severity is Severity.FIX_SOON


def test_strap_and_its_waivers() -> None:
    top = flat("top")
    bench = Bench(members=[top], holes=[plate_hole("H1", top, 2.0)])
    (told,) = bench.of("plate-strap")
    assert told.severity is Severity.NOTE
    assert 'at least 14" long' in told.says
    bench.straps = ()
    (told,) = bench.of("plate-strap")
    assert told.severity is Severity.STOP
    (cured,) = apply(bench, told).of("plate-strap")
    assert cured.severity is Severity.NOTE
    bench.job = replace(JOB, walls=(replace(WALL, sheathed=True),))
    assert not bench.of("plate-strap")
    assert not Bench(members=[top], holes=[plate_hole("H1", top, 1.75)], straps=()).of("plate-strap")
    light = replace(top, bearing=False)
    assert not Bench(members=[light], holes=[plate_hole("H1", light, 2.0)], straps=()).of("plate-strap")
    sole = flat("bottom")
    assert not Bench(members=[sole], holes=[plate_hole("H1", sole, 2.0)], straps=()).of("plate-strap")


def test_hole_fill() -> None:
    # 0.4 (1 / 0.23)^2 = 7.56: seven fit, eight do not; BUILDING's example 29.
    seven, eight = with_runs(with_hole(1.0), 7), with_runs(with_hole(1.0), 8)
    seven.holes, eight.holes = [filled(seven.holes[0], 7)], [filled(eight.holes[0], 8)]
    assert not seven.of("hole-fill")
    (told,) = eight.of("hole-fill")
    assert told.severity is Severity.FIX_SOON
    assert told.fixes[0].says == 'Use the 1-1/8" bit.'
    assert not apply(eight, told).of("hole-fill")
    full = with_runs(with_hole(1.0), 12)  # 63.5 %
    full.holes = [filled(full.holes[0], 12)]
    (told,) = full.of("hole-fill")
    assert told.severity is Severity.STOP


def test_packing_is_checked_by_circles() -> None:
    bench = with_runs(with_hole(1.0), 2)
    bench.holes = [filled(bench.holes[0], 2, ((-0.1, 0.0), (0.1, 0.0)))]  # 0.2 apart, 0.23 thick
    (told,) = bench.of("hole-packing")
    assert told.measured == pytest.approx(0.03)
    bench.holes = [filled(bench.holes[0], 2, ((-0.4, 0.0), (0.1, 0.0)))]  # out of the hole by 0.015
    assert bench.of("hole-packing")[0].measured == pytest.approx(0.015)
    bench.holes = [filled(bench.holes[0], 2, ((-0.12, 0.0), (0.12, 0.0)))]
    assert not bench.of("hole-packing")
    bench.holes = [replace(bench.holes[0], circles=())]
    assert bench.of("hole-packing")[0].severity is Severity.CANNOT_TELL


def test_a_chord_over_the_plate() -> None:
    # 3-1/2 plate, 1-1/2 chord on its center: 1 in of clear wood on each side, no room for 1 in with 5/8 edge.
    top = flat("top")
    bench = Bench(members=[top, joist(7, says="roof truss 7")], holes=[plate_hole("H1", top, 1.0)])
    bench.over = {top.id: (cover("F1/7", 0.0, -0.75, 120.0, 0.75),)}
    (told,) = bench.of("member-over-plate")
    assert told.severity is Severity.STOP
    assert "roof truss 7" in told.says
    assert told.fixes == ()
    bench.over = {top.id: (cover("F1/7", 29.0, -1.75, 31.0, -0.2),)}  # half of the plate is free
    (told,) = bench.of("member-over-plate")
    assert told.fixes[0].says == 'Move the hole 0.300" toward the Laundry side.'
    assert not apply(bench, told).of("member-over-plate")
    bench.over = {top.id: (cover("F1/7", 31.0, -1.75, 32.5, 1.75),)}
    assert not bench.of("member-over-plate")


def test_ways_the_plan_gave_up() -> None:
    top = flat("top")
    bench = Bench(members=[top, joist(7, says="roof truss 7")])
    bench.wiring = {"blocked_plates": ((top.id, 30.0, "F1/7", "go up at 2' 8-1/2\""),)}
    (told,) = bench.of("member-over-plate")
    assert told.severity is Severity.NOTE
    assert "what works: go up at 2' 8-1/2\"" in told.says
    bench.wiring = {"blocked_plates": ((top.id, 30.0, "F1/7", ""),)}
    (told,) = bench.of("member-over-plate")
    assert told.severity is Severity.FIX_SOON
    assert "use the next bay" in told.says
    sole = flat("bottom")
    under = Bench(members=[sole, joist(7)], holes=[plate_hole("H1", sole, 1.0)])
    under.over = {sole.id: (cover("F1/7", 29.0, -1.75, 31.0, 1.75),)}
    under.wiring = {"blocked_plates": ((sole.id, 60.0, "F1/7", ""), (sole.id, 50.0, "F1/7", "62 in"))}
    drilled, gave_up = sorted(under.of("member-over-plate"), key=lambda f: f.severity.rank)
    assert "joist 7 under the plate" in drilled.says
    assert gave_up.says.startswith(
        "No way through this plate where it was wanted: at 4' 2\" joist 7 lies under"
    )


def test_holes_without_wood() -> None:
    bench = Bench(members=[STUD], holes=[replace(stud_hole("H1", STUD, 1.0), member="W1/gone")])
    assert bench.of("hole-without-member")[0].severity is Severity.CANNOT_TELL
    bench = Bench(members=[STUD], holes=[stud_hole("H1", STUD, 1.0, up_in=1.75)])
    assert bench.of("hole-without-member")[0].severity is Severity.STOP
    assert not Bench(members=[STUD], holes=[stud_hole("H1", STUD, 1.0, up_in=2.0)]).of("hole-without-member")


@pytest.mark.parametrize(
    ("diameter_in", "across_in", "severity", "measured_in"),
    [
        # No code limits a plate's hole: 5/8 of wood at each edge is our practice, past the wood is a stop.
        (0.75, 0.75, None, 0.0),  # 1.75 - 0.75 - 0.375 = 0.625
        (0.75, 0.751, Severity.FIX_SOON, 0.624),
        (0.75, -0.751, Severity.FIX_SOON, 0.624),
        (0.75, 1.375, Severity.FIX_SOON, 0.0),
        (0.75, 1.376, Severity.STOP, -0.001),
        (3.5, 0.0, Severity.FIX_SOON, 0.0),
        (2.25, 0.0, None, 0.0),
    ],
)
def test_wood_beside_a_plates_hole(
    diameter_in: float, across_in: float, severity: Severity | None, measured_in: float
) -> None:
    top = flat("top", bearing=False)
    bench = Bench(members=[top], holes=[plate_hole("H1", top, diameter_in, across_in=across_in)])
    found = bench.of("plate-hole-edge")
    if severity is None:
        assert not found
        return
    (told,) = found
    assert told.severity is severity
    assert told.measured == pytest.approx(measured_in, abs=1e-9)
    assert ("breaks out of the wood by 0.001" in told.says) is (severity is Severity.STOP)
    assert ("Laundry side" in told.says) is (across_in > 0.0)
    for i in range(len(told.fixes)):
        assert not apply(bench, told, i).of("plate-hole-edge")
