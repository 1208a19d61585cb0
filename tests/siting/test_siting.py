"""Ranking of bays: a brute-force list of the same bays by the test's own wall arithmetic, reasons by hand."""

from __future__ import annotations

import dataclasses

import pytest

from bayrun.files import read_job
from bayrun.framing import lay_out
from bayrun.house import Job, ModelError, Stair, Wall
from bayrun.siting import Box, Ranked, choose_enclosure, rank_bays
from conftest import ROOT
from random_houses import clear_at, frame_rects, random_house, stud_centers

replace = dataclasses.replace


def house(letter: str) -> Job:
    return read_job(ROOT / "examples" / f"house-{letter}.yaml")


def ranked(job: Job) -> tuple[Ranked, ...]:
    return rank_bays(job, lay_out(job))


def test_house_a_demo_bay_fits_and_ranks_among_the_best() -> None:
    # The demo's own choice: Laundry side of A-W26, studs at 4' 2-3/4" and 5' 6-3/4", 14-1/2 in clear.
    found = ranked(house("a"))
    fits = [r for r in found if r.fits]
    here = [r for r in fits if r.wall == "A-W26" and r.side == "right" and r.bay_studs_in == (50.75, 66.75)]
    assert len(here) == 1
    assert here[0].clear_width_in == 14.5
    laundry = [r for r in fits if r.room == "Laundry"]
    assert laundry
    assert all(r.room != "Hall bath" for r in fits)


def window_free(job: Job, wall: Wall, low: float, high: float) -> bool:
    """True where a 5 by 2-1/2 in window somewhere on the plate has no joist or chord over it, by 1/16 in."""
    rects = [r for f in job.frames if f.above_level == wall.level for r in frame_rects(job, f)]
    along_x, (x, y), half = wall.start[1] == wall.end[1], wall.start, wall.thickness_in / 2
    for i in range(int((high - low - 5.0) * 16) + 1):
        for k in range(int((2 * half - 2.5) * 16) + 1):
            a, c = low + i / 16, -half + k / 16
            box = (
                (x + a, y + c, x + a + 5, y + c + 2.5) if along_x else (x + c, y + a, x + c + 2.5, y + a + 5)
            )
            if not any(r[0] < box[2] and box[0] < r[2] and r[1] < box[3] and box[1] < r[3] for r in rects):
                return True
    return False


def brute_force(job: Job) -> set[tuple[str, float]]:
    """(wall, low stud) of every pair of layout studs 16 in apart that a 14-1/4 in box fits between."""
    found = set()
    for wall in job.walls:
        if wall.exterior or wall.rated or wall.separation or wall.wet or not wall.framed:
            continue
        if {job.room(p.room, wall.level).kind for p in (*wall.left, *wall.right)} == {"bath"}:
            continue
        top = job.level(wall.level).plate_top_in
        for low in stud_centers(wall):
            a, b = low + 0.75, low + 15.25
            heights = (2.0, 12.0, 30.0, 48.0, 62.0, 81.0, 84.0, 88.0, 91.0, top - 3.5)
            if all(clear_at(job, wall, up, low + 8) == (a, b) for up in heights) and window_free(
                job, wall, a, b
            ):
                found.add((wall.id, low))
    return found


ONE_FLOOR = [seed for seed in range(24) if not random_house(seed).floor_openings][:8]


@pytest.mark.parametrize("seed", ONE_FLOOR)
def test_bays_that_fit_are_those_of_a_brute_force_list(seed: int) -> None:
    job = replace(random_house(seed), locations=(), runs=(), obstacles=())
    pairs = {(w.id, low) for w in job.walls for low in stud_centers(w) if low + 16 in stud_centers(w)}
    found = ranked(job)
    # a layout stud that would overlap a king is left out, so its bay may be a little wider than 14-1/2
    fitting = [r for r in found if r.fits]
    exact = {(r.wall, r.bay_studs_in[0]) for r in found if r.fits and r.clear_width_in == 14.5}
    wanted = brute_force(job) & pairs
    by_bath_only = {
        (r.wall, r.bay_studs_in[0]) for r in found if r.against == (f"it shows to {r.room}: damp",)
    }
    assert wanted
    for wall, low in wanted - by_bath_only:
        assert any(
            r.wall == wall and r.bay_studs_in[0] <= low and low + 16 <= r.bay_studs_in[1] for r in fitting
        )
    assert exact & pairs <= wanted


def test_reasons_against_are_told_all_at_once() -> None:
    job = house("a")
    found = {(r.wall, r.bay_studs_in[0], r.side): r for r in ranked(job)}
    outside = [r for r in found.values() if r.wall == "A-W05"]
    assert outside
    assert all(
        "an outside wall: the box would take the place of all its insulation" in r.against for r in outside
    )
    first = min((r for r in outside), key=lambda r: r.bay_studs_in[0])
    # A-W05's plate begins at 2-3/4, its first stud is 16 in on: 13-3/4 in clear beside the corner stud
    assert 'clear width 13-3/4", under 14-1/2"' in first.against
    separation = [r for r in found.values() if r.wall == "A-W06"]
    assert any("the wall between dwelling and garage" in q for r in separation for q in r.against)
    # roof trusses stand dead over the plates of x = 7', 11' and 15' (A-W31 is x = 15')
    trap = [r for r in found.values() if r.wall == "A-W31"]
    assert trap
    assert all(any("plate over it" in q for q in r.against) for r in trap)


def test_a_deeper_box_a_bath_and_a_location_in_the_bay_are_refused() -> None:
    job = house("a")
    frame = lay_out(job)
    deep = rank_bays(job, frame, Box(depth_in=4.5))
    two_by_four = [r for r in deep if r.depth_in == 3.5]
    assert two_by_four
    assert all('depth 4" with the board, under 4-1/2"' in r.against for r in two_by_four)
    assert all(r.against for r in deep if "bath" in r.room.lower())
    best = next(r for r in rank_bays(job, frame) if r.fits)
    middle = sum(best.bay_studs_in) / 2
    moved = replace(job.locations[0], wall=best.wall, offset_in=middle, level=best.level)
    taken = replace(job, locations=(moved, *job.locations[1:]))
    there = [r for r in rank_bays(taken, frame) if r.bay == best.bay]
    assert all(f"{moved.id} stands in it" in r.against for r in there)


def test_a_stair_against_the_bay_is_refused() -> None:
    job = house("a")
    frame = lay_out(job)
    best = next(r for r in rank_bays(job, frame) if r.fits)
    wall = job.wall(best.wall)
    x, y = wall.start[0], wall.start[1]
    x1, y1 = wall.end
    rect = (min(x, x1) - 40, min(y, y1) - 40, max(x, x1) + 40, max(y, y1) + 40)
    stair = Stair("S", "stair", (("1", best.room), ("2", "Up")), rect)
    there = [r for r in rank_bays(replace(job, stairs=(stair,)), frame) if r.bay == best.bay]
    assert all("a stair stands against it: no floor to work from" in r.against for r in there)


def test_the_score_is_the_sum_of_square_ways_times_the_room() -> None:
    job = house("a")
    here = next(
        r for r in ranked(job) if r.wall == "A-W26" and r.side == "right" and r.bay_studs_in == (50.75, 66.75)
    )
    # by hand: from (40', 4' 10-3/4") at 62-1/4 in, once for each of the 37 cables to the enclosure
    total = 0.0
    for run in job.runs:
        if run.from_end.type == "enclosure":
            at = job.location(run.to_end.id)
            x, y = at.x_in, at.y_in
            if at.wall:
                wall = job.wall(at.wall)
                x, y = wall.start
                x, y = (x + at.offset_in, y) if wall.start[1] == wall.end[1] else (x, y + at.offset_in)
            room = job.room(at.room)
            z = at.height_in + room.floor_finish_in - room.floor_drop_in
            total += abs(x - 480) + abs(y - 58.75) + abs(z - 62.25)
    assert here.cable_in == pytest.approx(total, abs=1e-6)
    assert here.score == pytest.approx(total * 1.03, abs=1e-6)


def test_the_runner_up_follows_when_the_best_bay_is_taken() -> None:
    job = house("a")
    frame = lay_out(job)
    first = choose_enclosure(job, frame)
    fits = [r for r in rank_bays(job, frame) if r.fits]
    second = next(r for r in fits if r.bay != fits[0].bay)
    assert second.says[0] in first.note
    blocked = replace(
        job,
        locations=(
            *job.locations,
            replace(
                job.locations[0], id="Z9", wall=first.wall, offset_in=sum(first.bay_studs_in) / 2, ports=()
            ),
        ),
    )
    after = choose_enclosure(blocked, frame)
    assert (after.wall, after.bay_studs_in) == (second.wall, second.bay_studs_in)


def test_every_random_house_gets_an_enclosure_between_two_studs() -> None:
    for seed in range(25):
        job = replace(random_house(seed), enclosures=(), enclosure="")
        frame = lay_out(job)
        box = choose_enclosure(job, frame)
        wall = job.wall(box.wall)
        assert not wall.exterior
        low, high = box.bay_studs_in
        gap = clear_at(job, wall, 48.0, (low + high) / 2)
        assert gap is not None
        assert gap[1] - gap[0] >= 14.5
        assert box.entries == ("top",)
        assert box.note.startswith("chosen: ")
        kind = job.room(box.room, box.level).kind
        assert kind != "bath"


def test_a_house_without_a_bay_says_what_speaks_against_them() -> None:
    job = house("a")
    rated = replace(job, walls=tuple(replace(w, rated="1-hour") for w in job.walls))
    with pytest.raises(ModelError) as caught:
        choose_enclosure(rated, lay_out(rated))
    assert str(caught.value).startswith("no enclosure bay: expected one of ")
    assert 'bay sides 14-1/2" clear in a dry inside wall with a way up, got none' in str(caught.value)
    assert "a rated wall (1-hour) (" in str(caught.value)
