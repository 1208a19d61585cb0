"""The audit's own carpentry against hand arithmetic.

Figures: layout as in common framing practice (first stud's edge at 15-1/4 in from the plate end, so its
center is at 16), dressed sizes of PS 20. Written out by hand; no source beyond that.
"""

from __future__ import annotations

import json

from audit.plans import example
from bayrun.audit.aloft import member_centers_in
from bayrun.audit.reading import read_plan
from bayrun.audit.site import Site
from bayrun.audit.walls import marks_in, wall_solids
from bayrun.house import FloorFrame, Job, Joint, Layout, Level, Opening, Post, Practice, Revision, Wall

STARTS_AT_16 = Layout()


def job_with(
    *openings: Opening,
    joints: tuple[Joint, ...] = (),
    posts: tuple[Post, ...] = (),
    length_in: float = 120.0,
    layout: Layout | None = STARTS_AT_16,
    core: str = "2x4",
) -> Job:
    wall = Wall("W", "1", (0.0, 0.0), (length_in, 0.0), core, 3.5, 0.0, length_in, layout=layout)
    return Job(
        id="T",
        name="hand-made",
        revision=Revision(),
        levels=(Level("1", 0.0, 97.125),),
        rooms=(),
        walls=(wall,),
        openings=openings,
        joints=joints,
        posts=posts,
        practice=Practice(),
    )


def pieces(job: Job, role: str) -> list[tuple[float, float]]:
    return sorted(s.along for s in wall_solids(job, job.walls[0]) if s.role == role)


def test_a_ten_foot_wall_has_seven_marks_less_the_end() -> None:
    """120 in at 16 in: marks at 16 … 112; 112 + 3/4 ends clear of the end stud at 118-1/2."""
    assert marks_in(job_with().walls[0]) == [16.0, 32.0, 48.0, 64.0, 80.0, 96.0, 112.0]


def test_a_wall_laid_out_from_its_far_end() -> None:
    job = job_with(layout=Layout("end", 16.0))
    assert marks_in(job.walls[0]) == [8.0, 24.0, 40.0, 56.0, 72.0, 88.0, 104.0]


def test_a_mark_too_near_the_end_stud_is_the_end_stud() -> None:
    """98 in: a stud at 96 would overlap the end stud (96-1/2 to 98); 95-3/4 is the last place."""
    assert marks_in(job_with(length_in=98.0).walls[0])[-1] == 80.0


def test_a_door_takes_kings_jacks_header_and_no_sill() -> None:
    """Rough opening 38 to 76: jacks to 36-1/2 and 77-1/2, kings outside them, header over both jacks."""
    job = job_with(Opening("D", "W", "door", 38.0, 38.0, 0.0, 82.5, 7.25))
    assert pieces(job, "king") == [(35.0, 36.5), (77.5, 79.0)]
    assert pieces(job, "jack") == [(36.5, 38.0), (76.0, 77.5)]
    assert pieces(job, "header") == [(36.5, 77.5)]
    assert pieces(job, "sill") == []
    assert pieces(job, "bottom plate") == [(0.0, 38.0), (76.0, 120.0)]
    assert pieces(job, "top plate") == [(0.0, 120.0)]
    cripples = [s for s in wall_solids(job, job.walls[0]) if s.role == "cripple"]
    assert sorted(s.along for s in cripples) == [(47.25, 48.75), (63.25, 64.75)]
    assert {s.up for s in cripples} == {(89.75, 94.125)}


def test_a_window_takes_a_sill_and_cripples_under_it() -> None:
    job = job_with(Opening("N", "W", "window", 38.0, 36.0, 36.0, 48.0, 9.25))
    assert pieces(job, "sill") == [(38.0, 74.0)]
    under = [s for s in wall_solids(job, job.walls[0]) if s.role == "cripple" and s.up[0] == 1.5]
    assert [s.along for s in under] == [(47.25, 48.75), (63.25, 64.75)]
    assert {s.up[1] for s in under} == {34.5}
    assert pieces(job, "bottom plate") == [(0.0, 120.0)]


def test_a_tee_takes_backing_and_the_mark_beside_it_is_filled_out() -> None:
    """A 2x4 wall ends at 49-1/2: backing 47-3/4 to 51-1/4; the mark at 48 adds 1/2 in below it."""
    job = job_with(joints=(Joint("V", "start", "tee", "W", 49.5, 3.5, 0.0),))
    assert pieces(job, "backing") == [(47.25, 51.25)]
    assert len(pieces(job, "stud")) == 6


def test_two_tees_side_by_side_never_overlap() -> None:
    """Backings 47-3/4 to 51-1/4 and from there to 52-1/2: the mark at 48 fills only the first one's side."""
    job = job_with(
        joints=(
            Joint("V", "start", "tee", "W", 49.5, 3.5, 0.0),
            Joint("U", "end", "tee", "W", 50.75, 3.5, 0.0),
        )
    )
    assert pieces(job, "backing") == [(47.25, 51.25), (51.25, 52.5)]


def test_a_post_in_the_wall_stands_full_height() -> None:
    job = job_with(posts=(Post("P", "post", "1", (70.0, -1.75, 73.5, 1.75)),))
    assert pieces(job, "post") == [(70.0, 73.5)]
    assert len(pieces(job, "stud")) == 7


def test_a_concrete_wall_is_one_piece() -> None:
    job = job_with(layout=None, core="concrete 8")
    (only,) = wall_solids(job, job.walls[0])
    assert (only.role, only.material, only.never) == ("concrete", "concrete", True)


def test_joists_stand_at_their_spacing_and_no_farther() -> None:
    frame = FloorFrame(
        "F", "sawn joists", (0, 0, 200, 100), "y", 1.5, 9.25, 97.0, 106.25,
        spacing_in=16.0, first_member_in=0.75, last_member_in=160.75,
    )  # fmt: skip
    assert member_centers_in(frame) == [0.75 + 16.0 * i for i in range(11)]


def test_the_enclosure_bay_of_house_a_is_14_and_a_half_clear() -> None:
    """Studs at 50-3/4 and 66-3/4 on center: 16 - 1-1/2 = 14-1/2 in (demo-houses.json)."""
    job, text = example("a")
    site = Site(job, read_plan(json.loads(text)))
    studs = sorted(
        s.along for s in site.solids if s.host == "A-W26" and s.role in ("stud", "backing", "king")
    )
    low = next(s for s in studs if abs(sum(s) / 2 - 50.75) < 1e-9)
    high = next(s for s in studs if abs(sum(s) / 2 - 66.75) < 1e-9)
    assert high[0] - low[1] == 14.5
