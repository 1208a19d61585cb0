"""Notches: each limit on it and past it, each fix tried. Figures by hand from the clause named."""

from __future__ import annotations

from dataclasses import replace

import pytest
from benches import FLOOR, JOB, WALL, Bench, apply, flat, joist, joist_hole, plate_hole, stud_hole, upright

from bayrun.findings import Finding, Severity
from bayrun.framing import Member
from bayrun.house import Choice, Job

STUD = upright(1, 20.0)
STOP, CANNOT = Severity.STOP, Severity.CANNOT_TELL


def only(findings: tuple[Finding, ...]) -> Finding:
    """The one finding there should be."""
    (told,) = findings
    return told


def notched(
    member: Member,
    at_in: float,
    depth_in: float,
    length_in: float = 1.0,
    face: str = "left",
    job: Job = JOB,
    steel: bool = True,
) -> Bench:
    """One notch in one member, its steel written down unless said."""
    spot = f"{member.id}@{at_in:g}"
    choices = [Choice("notch", spot, f"{depth_in:.9g} in deep {length_in:.9g} in long on the {face}")]
    if steel:
        choices.append(Choice("nail plate", f"{spot}/{face}", face, "lead"))
    return Bench(replace(job, choices=tuple(choices)), [member])


SPANNED = replace(JOB, frames=(replace(FLOOR, spans_in=((0.0, 96.0),)),))


@pytest.mark.parametrize(
    ("member", "depth_in", "limit_in"),
    [
        # R602.6: 25 % bearing or exterior, 40 % else. 3-1/2: 0.875 and 1.4; 5-1/2: 1.375 and 2.2.
        (STUD, 0.875, None),
        (STUD, 0.876, 0.875),
        (upright(1, 20.0, bearing=False), 1.4, None),
        (upright(1, 20.0, bearing=False), 1.401, 1.4),
        (upright(1, 20.0, bearing=False, exterior=True), 0.876, 0.875),
        (upright(1, 20.0, across=(-2.75, 2.75)), 1.375, None),
        (upright(1, 20.0, across=(-2.75, 2.75)), 1.376, 1.375),
        (upright(1, 20.0, across=(-2.75, 2.75), bearing=False), 2.201, 2.2),
        # R602.6.1: over half of a bearing top plate takes a strap: 1.75.
        (flat("top"), 1.75, None),
        (flat("top"), 1.751, 1.75),
        (flat("top", bearing=False), 3.0, None),
    ],
)
def test_depth_of_a_notch_in_studs_and_plates(
    member: Member, depth_in: float, limit_in: float | None
) -> None:
    found = notched(member, 40.0, depth_in).of("notch-size")
    if limit_in is None:
        assert not found
        return
    told = only(found)
    assert (told.severity, told.measured) == (STOP, pytest.approx(depth_in))
    assert told.limit == pytest.approx(limit_in)
    assert told.about == (f"{member.id}@40", "depth")
    assert ("strap" in told.says) is ("plate" in member.role)


def test_a_notch_in_a_sheathed_plate_has_no_limit() -> None:
    sheathed = replace(JOB, walls=(replace(WALL, sheathed=True),))
    assert not notched(flat("top"), 40.0, 2.5, job=sheathed).of("notch-size")


@pytest.mark.parametrize(
    ("depth_in", "length_in", "at_in", "face", "rules"),
    [
        # R502.8.1 in a 9-1/4 joist: depth 1.5417, length 3.0833, none from 32 to 64 of a 96 in span.
        (1.5, 3.0, 20.0, "top", set()),
        (1.5416, 3.083, 20.0, "top", set()),
        (1.55, 3.0, 20.0, "top", {"notch-size"}),
        (1.5, 3.1, 20.0, "top", {"notch-size"}),
        (1.5, 3.0, 30.5, "top", set()),  # ends at 32
        (1.5, 3.0, 30.6, "top", {"notch-zone"}),
        (1.5, 3.0, 48.0, "top", {"notch-zone"}),
        (1.5, 3.0, 65.5, "top", set()),  # begins at 64
        (1.5, 3.0, 65.4, "bottom", {"notch-zone"}),
        # At the end a quarter of the depth, 2.3125, and any length.
        (2.3125, 4.0, 2.0, "bottom", set()),
        (2.32, 4.0, 2.0, "bottom", {"notch-size"}),
        (2.3125, 4.0, 94.0, "bottom", set()),
        (2.3125, 4.0, 2.1, "bottom", {"notch-size"}),  # begins past the end: neither depth nor length
    ],
)
def test_notches_in_a_joist(
    depth_in: float, length_in: float, at_in: float, face: str, rules: set[str]
) -> None:
    bench = notched(joist(), at_in, depth_in, length_in, face, SPANNED)
    assert {f.rule for f in bench.findings() if f.rule.startswith("notch")} == rules


def test_the_zone_of_a_joist_nobody_knows_the_span_of() -> None:
    told = only(notched(joist(), 20.0, 1.0, 2.0, "top", replace(JOB, frames=(FLOOR,))).of("notch-zone"))
    assert told.severity is CANNOT
    assert "nobody said where this joist bears" in told.says
    past = replace(JOB, frames=(replace(FLOOR, spans_in=((0.0, 10.0), (30.0, 96.0))),))
    assert only(notched(joist(), 20.0, 1.0, 2.0, "top", past).of("notch-zone")).severity is CANNOT
    second = notched(joist(), 40.0, 1.0, 2.0, "top", past)  # 10 of 66 in from its own bearing
    assert not second.of("notch-zone")


def test_measures_of_the_middle_third_are_told_from_the_bearing() -> None:
    job = replace(JOB, frames=(replace(FLOOR, spans_in=((12.0, 84.0),)),))
    told = only(notched(joist(), 48.0, 1.0, 2.0, "top", job).of("notch-zone"))
    assert "2' 0\" to 4' 0\" from its bearing" in told.says
    assert told.measured == 36.0


@pytest.mark.parametrize("facts", [{"role": "header"}, {"material": "engineered"}, {"role": "bottom plate"}])
def test_where_no_notch_is_cut_at_all(facts: dict[str, str]) -> None:
    bench = notched(upright(1, 20.0, **facts), 40.0, 0.25)
    told = only(bench.of("notch-never"))
    assert told.severity is STOP
    assert told.limit == 0.0
    assert not apply(bench, told).of("notch-never")


@pytest.mark.parametrize(("up_in", "told"), [(41.0, 0), (40.99, 1), (39.0, 0), (39.01, 1), (40.0, 1)])
def test_no_hole_in_the_notched_section_of_a_stud(up_in: float, told: int) -> None:
    # R602.6: half of a 1 in notch and half of a 1 in hole are 1 in.
    bench = notched(STUD, 40.0, 0.5)
    bench.holes = [stud_hole("H1", STUD, 1.0, up_in=up_in)]
    assert len(bench.of("notch-beside-hole")) == told


def test_a_hole_moves_out_of_the_notched_section() -> None:
    bench = notched(STUD, 40.0, 0.5)
    bench.holes = [stud_hole("H1", STUD, 1.0, up_in=40.25)]
    told = only(bench.of("notch-beside-hole"))
    assert [fix.verb for fix in told.fixes] == ["shift_hole", "notch"]
    assert told.fixes[0].arguments == ("H1", 41.0, "W1/stud-1@40.25")
    assert not apply(bench, told).of("notch-beside-hole")
    assert not apply(bench, told, 1).of("notch-beside-hole")
    bench.holes[0] = stud_hole("H1", STUD, 1.0, up_in=39.9)
    assert only(bench.of("notch-beside-hole")).fixes[0].arguments[1] == 39.0
    bench.holes.append(stud_hole("H2", STUD, 1.0, up_in=37.5))  # 39 would leave it 0.5 of wood: go up
    assert [f.fixes[0].arguments[1] for f in bench.of("notch-beside-hole")] == [41.0]
    top = notched(STUD, 94.0, 0.5)
    top.holes = [stud_hole("H1", STUD, 1.0, up_in=93.5)]
    assert only(top.of("notch-beside-hole")).fixes[0].arguments[1] == 93.0


@pytest.mark.parametrize(
    ("face", "from_bottom_in", "along_in", "told"),
    [
        # A notch 1 in deep and 2 long at 20: the hole of 1 in keeps 2 in of wood (R502.8.1).
        ("top", 5.75, 20.0, 0),  # 9.25 - 1 - 5.75 - 0.5 = 2.0
        ("top", 5.76, 20.0, 1),
        ("bottom", 3.5, 20.0, 0),  # 3.5 - 1 - 0.5 = 2.0
        ("bottom", 3.49, 20.0, 1),
        ("bottom", 3.0, 23.0, 0),  # past its end by 2, over it by 2: 2.828 - 0.5
        ("bottom", 3.0, 22.0, 1),  # 1 and 2: 2.236 - 0.5 = 1.736
        ("bottom", 3.0, 18.0, 1),
        ("bottom", 3.0, 17.0, 0),
    ],
)
def test_holes_keep_two_inches_from_a_joists_notch(
    face: str, from_bottom_in: float, along_in: float, told: int
) -> None:
    bench = notched(joist(), 20.0, 1.0, 2.0, face, SPANNED)
    bench.holes = [joist_hole("H1", bench.members[0], 1.0, along_in, from_bottom_in)]
    found = bench.of("notch-beside-hole")
    assert len(found) == told
    if told:
        assert found[0].limit == 2.0
        assert not apply(bench, found[0]).of("notch-beside-hole")


def test_a_plates_hole_beside_its_notch() -> None:
    top = flat("top")
    bench = notched(top, 40.0, 0.5)
    bench.holes = [plate_hole("H1", top, 1.0, along_in=40.5)]
    told = only(bench.of("notch-beside-hole"))
    assert "share one section of this top plate" in told.says
    assert told.fixes[0].arguments == ("H1", 41.0, "W1/top@40.5")
    bench.holes = [replace(plate_hole("H1", top, 1.0, along_in=40.5), open_passage=True)]
    assert not bench.of("notch-beside-hole")


def test_a_notch_takes_steel_until_it_is_written_down() -> None:
    # NEC 300.4(A)(2): always, whatever the depth.
    bench = notched(STUD, 40.0, 0.25, steel=False)
    told = only(bench.of("notch-steel"))
    assert (told.severity, told.about) == (STOP, ("W1/stud-1@40/left",))
    assert "1/16" in told.says
    assert "level 1, wall Laundry / Hall (W1)" in told.place
    assert "40" not in told.place.replace("3' 4\"", "")  # a tape's words, no bare inches
    assert not apply(bench, told).of("notch-steel")
    assert not apply(bench, told, 1).findings()[0].rule.startswith("notch")


def test_fixes_of_a_deep_and_a_long_notch_cure_it() -> None:
    deep = notched(STUD, 40.0, 1.0)
    told = only(deep.of("notch-size"))
    assert told.fixes[0].arguments == ("W1/stud-1@40", 0.875, 1.0, "left")
    for i in range(len(told.fixes)):
        assert not apply(deep, told, i).of("notch-size")
    long = notched(joist(), 20.0, 1.0, 4.0, "top", SPANNED)
    told = only(long.of("notch-size"))
    assert told.fixes[0].arguments == ("F1/1@20", 1.0, 3.0625, "top")  # 3.0833 down to the sixteenth
    assert not apply(long, told).of("notch-size")
    odd = notched(upright(1, 20.0, bearing=False), 40.0, 2.0)
    assert only(odd.of("notch-size")).fixes[0].arguments[1] == 1.375  # 1.4 down to the sixteenth


def test_a_notch_in_no_member_is_told_and_one_that_cannot_be_read_is_left() -> None:
    bench = notched(upright(9, 90.0), 40.0, 0.5)
    bench.members = [STUD]
    told = only(bench.of("notch-size"))
    assert (told.severity, told.about) == (CANNOT, ("W1/stud-9@40",))
    bench.job = replace(JOB, choices=(Choice("notch", "W1/stud-1@40", "deep"),))
    assert not [f for f in bench.findings() if f.rule.startswith("notch")]
