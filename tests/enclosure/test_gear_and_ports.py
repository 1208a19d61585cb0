"""Gear by its words and sizes, positions and ports: one to one, in the order of the rooms."""

from __future__ import annotations

from dataclasses import replace

import pytest
from boxes import PATCH, gear, job_with, wiring_of

from bayrun.enclosure import fit_out, pieces_of, port_map
from bayrun.house import Choice, Port, Room


def test_words_become_pieces_and_say_that_they_are_assumed() -> None:
    job = job_with(gear("P", "data patch field, 24 ports, and coax splitter"), runs=3)
    pieces, unknown = pieces_of(job, job.enclosures[0])
    assert [p.id for p in pieces] == ["P/1", "P/2", "P/3", "AC"]
    assert [p.name for p in pieces[:3]] == ["patch field 1 of 2", "patch field 2 of 2", "coax splitter"]
    assert [p.count_of("D") for p in pieces[:2]] == [12, 12]
    assert pieces[2].count_of("X") == 8
    assert all(p.assumed for p in pieces)
    assert unknown == ()


def test_like_blocks_read_from_the_top_left() -> None:
    job = job_with(gear("P", "patch field, 48 ports"), runs=3)
    told = fit_out(job, wiring_of(job))
    assert told is not None
    assert told.arrangement is not None
    at = {place.piece: place for place in told.arrangement.places}
    one, two, three, four = (at[f"P/{n}"] for n in range(1, 5))
    assert one.bottom_in == two.bottom_in > three.bottom_in == four.bottom_in
    assert one.left_in < two.left_in
    assert three.left_in < four.left_in


def test_the_room_of_an_entry_is_that_of_its_own_cables() -> None:
    job = job_with(PATCH, runs=2, entries=("top", "bottom"))
    plan = wiring_of(job)
    coax = replace(plan.runs[1], kind="X", entry="bottom")
    told = fit_out(job, replace(plan, runs=(plan.runs[0], coax)))
    assert told is not None
    assert told.room.top_in == pytest.approx(0.92)  # 4 x 0.23
    assert told.room.bottom_in == pytest.approx(2.75)  # 10 x 0.275


def test_said_sizes_win_and_unknown_words_are_told() -> None:
    job = job_with(PATCH, gear("Q", "thing from the attic"))
    pieces, unknown = pieces_of(job, job.enclosures[0])
    patch = pieces[0]
    assert (patch.width_in, patch.height_in, patch.depth_in, patch.assumed) == (6.0, 3.0, 1.0, False)
    assert patch.count_of("D") == 24
    assert [g.id for g in unknown] == ["Q"]


def test_a_word_inside_a_longer_one_is_not_meant() -> None:
    job = job_with(gear("A", "coax amplifier 15 dB"), gear("B", "amplifier for the patio"))
    small, large = pieces_of(job, job.enclosures[0])[0][:2]
    assert (small.width_in, large.width_in) == (4.0, 11.0)


def test_a_larger_switch_draws_more() -> None:
    job = job_with(gear("S", "network switch, 16 ports"), gear("T", "network switch, 8 ports"))
    big, small = pieces_of(job, job.enclosures[0])[0][:2]
    assert big.count_of("D") == 16
    assert big.width_in > small.width_in
    assert (big.watts, small.watts) == (10.0, 6.0)


def test_bend_room_is_that_of_the_cables_that_end_on_it() -> None:
    job = job_with(replace(PATCH, id="P"), runs=2)
    coax = replace(job.runs[0], id="L1-X1", kind="X")
    pieces, _ = pieces_of(replace(job, runs=(*job.runs, coax)), job.enclosures[0])
    assert pieces[0].edge_room_in == pytest.approx(2.75)  # 10 x 0.275
    assert pieces_of(job, job.enclosures[0])[0][0].edge_room_in == pytest.approx(1.0)  # plugs want more


def test_ports_follow_the_rooms_and_each_is_taken_once() -> None:
    switch = gear("S", "network switch, 8 ports")
    job = job_with(PATCH, switch, runs=10)
    attic = Room("Study", "1", "office", ((0, 0), (9, 0), (9, 9), (0, 9)), 0.0)
    first = replace(job.locations[0], id="L0", room="Study")
    moved = tuple(
        replace(run, to_end=replace(run.to_end, id="L0")) if n in (3, 7) else run
        for n, run in enumerate(job.runs)
    )
    job = replace(job, rooms=(attic, *job.rooms), locations=(first, *job.locations), runs=moved)
    told = port_map(job, job.enclosures[0], pieces_of(job, job.enclosures[0])[0])
    assert [row.run for row in told.rows] == [
        "L1-D4", "L1-D8", "L1-D1", "L1-D2", "L1-D3", "L1-D5", "L1-D6", "L1-D7", "L1-D9", "L1-D10",
    ]  # fmt: skip
    places = [(row.piece, row.kind, row.position) for row in told.rows]
    assert len(set(places)) == 10
    assert [row.port for row in told.rows] == [1, 2, 3, 4, 5, 6, 7, 8, 0, 0]
    assert told.unlit == ("L1-D9", "L1-D10")
    assert ("P", "D", 14) in told.free
    assert told.short == ()


def test_spares_get_a_position_and_no_switch_port() -> None:
    job = job_with(PATCH, gear("S", "network switch, 8 ports"), runs=2)
    job = replace(job, runs=(replace(job.runs[0], spare=True), job.runs[1]))
    rows = port_map(job, job.enclosures[0], pieces_of(job, job.enclosures[0])[0]).rows
    assert [(r.position, r.port) for r in rows] == [(1, 0), (2, 1)]


def test_runs_without_a_position_are_told() -> None:
    job = job_with(replace(PATCH, positions=(Port("D", 4),)), runs=6)
    told = port_map(job, job.enclosures[0], pieces_of(job, job.enclosures[0])[0])
    assert told.short == (("D", ("L1-D5", "L1-D6")),)
    assert [row.position for row in told.rows] == [1, 2, 3, 4, 0, 0]


def test_runs_that_end_on_the_switch_itself_take_its_ports() -> None:
    job = job_with(gear("P", "network switch, 8 ports"), runs=2)
    rows = port_map(job, job.enclosures[0], pieces_of(job, job.enclosures[0])[0]).rows
    assert [(r.piece, r.position, r.switch, r.port) for r in rows] == [("P", 1, "P", 1), ("P", 2, "P", 2)]


def test_the_whole_box() -> None:
    router = gear("R", "router with radio")
    job = job_with(PATCH, gear("S", "network switch, 8 ports"), router, runs=8)
    told = fit_out(job, wiring_of(job))
    assert told is not None
    assert told.arrangement is not None
    assert not told.arrangement.homeless
    assert told.heat_w == 21.0  # 6 of the switch, 15 of the router
    assert [(c.from_piece, c.to_piece, c.count) for c in told.cords] == [("P", "S", 8)]
    assert told.cords[0].length_in in (12.0, 24.0)
    assert told.power is not None
    assert told.power.watts.value == 21.0
    assert fit_out(job, wiring_of(job)) == told
    assert fit_out(replace(job, enclosures=()), wiring_of(job)) is None


def test_a_hand_place_is_read_and_a_lost_one_is_told() -> None:
    from bayrun.enclosure import hand_places, lost_places

    job = job_with(PATCH, runs=1)
    pieces = pieces_of(job, job.enclosures[0])[0]
    kept = (
        Choice("place gear", "P", "2.5 10"),
        Choice("place gear", "gone", "1 1"),
        Choice("place gear", "AC", "far"),
    )
    job = replace(job, choices=kept)
    (place,) = hand_places(job, pieces)
    assert (place.piece, place.left_in, place.bottom_in, place.by_hand) == ("P", 2.5, 10.0, True)
    assert lost_places(job, pieces) == ("gone", "AC")
