"""Labels that never renumber; material that can be traced; totals that add up."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from bayrun.house import End, Practice, WishedRun
from bayrun.takeoff import takeoff, totals
from bayrun.takeoff.labels import PLAIN, label_pairs, looks_like, suffix
from bayrun.takeoff.material import spares, to_cent
from takeoff import small_house as small
from takeoff.planned_houses import every_house, planned


@every_house
def test_label_pairs_are_unique_and_name_the_far_end(letter: str) -> None:
    house = planned(letter)
    pairs = house.counted.labels
    assert {pair.run for pair in pairs} == {run.id for run in house.wiring.runs}
    assert len({looks_like(pair.mark) for pair in pairs}) == len(pairs)
    assert all(pair.copies_each_end == 3 for pair in pairs)
    runs = {run.id: run for run in house.wiring.runs}
    for pair in pairs:
        assert pair.from_text.startswith(f"{pair.mark} to ")
        assert pair.to_text.startswith(f"{pair.mark} from ")
        end = runs[pair.run].to_end
        if end.type == "location":
            assert f"({end.id}) port {pair.port}" in pair.from_text


def test_labels_of_one_location_count_its_ports() -> None:
    ports = {pair.run: pair.port for pair in planned("a").counted.labels if pair.run.startswith("A01-")}
    assert ports == {"A01-D1": 1, "A01-D2": 2, "A01-X1": 3}
    (pair,) = [pair for pair in planned("a").counted.labels if pair.run == "A01-D2"]
    assert pair.from_text == "A01-D2 to Great room (A01) port 2"
    assert pair.to_text == "A01-D2 from enclosure in Laundry"


def wished(*ids: str) -> tuple[WishedRun, ...]:
    return tuple(WishedRun(i, "D", End("enclosure", "E"), End("location", "L1")) for i in ids)


def marks(*ids: str) -> dict[str, str]:
    wiring = small.wiring(tuple(small.run(i) for i in ids))
    job = replace(small.job(), runs=wished(*ids))
    return {pair.run: pair.mark for pair in label_pairs(job, wiring)}


def test_a_new_run_changes_no_mark() -> None:
    before = marks("K1", "K2", "KI", "K5")
    after = marks("K1", "K2", "KI", "K5", "KS", "K0", "A1")
    assert {run: after[run] for run in before} == before
    assert before["K1"] == "K1"


def test_ids_that_look_alike_get_plain_suffixes() -> None:
    found = marks("A0-D1", "AO-DI", "AO-D1")
    assert found["A0-D1"] == "A0-D1"
    assert found["AO-DI"] == f"AO-DI-{suffix('AO-DI')}"
    assert len({looks_like(mark) for mark in found.values()}) == 3
    assert not set(PLAIN) & set("OI01LSZB")
    assert {c for i in range(500) for c in suffix(f"run {i}")} <= set(PLAIN)


@pytest.mark.parametrize(
    ("count_of", "rate", "extra"),
    # By hand: a tenth of 30 is exactly 3; of 31, 3.1, so 4.
    [(30, 0.10, 3), (31, 0.10, 4), (0, 0.10, 0), (7, 0.0, 0), (100, 0.07, 7)],
)
def test_spares_go_up_to_the_next_whole_one(count_of: int, rate: float, extra: int) -> None:
    assert spares(count_of, rate) == extra


@pytest.mark.parametrize(("amount", "cents"), [("0.125", "0.13"), ("0.135", "0.14"), ("2.005", "2.01")])
def test_money_rounds_half_up(amount: str, cents: str) -> None:
    assert to_cent(Decimal(amount)) == Decimal(cents)


@every_house
def test_material_lines_are_whole_packs_and_traceable(letter: str) -> None:
    house = planned(letter)
    counted = house.counted
    known = {run.id for run in house.wiring.runs} | {hole.id for hole in house.wiring.holes}
    known |= {one.id for one in house.job.locations} | {one.id for one in house.job.enclosures}
    known |= {one.id for one in house.job.conduits}
    for group in (counted.plates, counted.straps, counted.grommets, counted.supports, counted.seals):
        known |= {one.id for one in group}
    known |= {box.id for box in counted.boxes}
    for line in counted.material:
        assert line.because
        assert set(line.because) <= known, line.item
        assert line.reason
        if line.group != "Cable":
            assert (line.packs - 1) * line.pack_size < line.needed + line.spare <= line.packs * line.pack_size
        if line.unit_price is not None:
            assert line.price == to_cent(line.unit_price * line.packs)
    assert len({line.item for line in counted.material}) == len(counted.material)
    told = totals(house.job, house.wiring, counted)
    assert told.price == sum((line.price for line in counted.material if line.price is not None), Decimal(0))
    assert told.unpriced == sum(1 for line in counted.material if line.price is None)


def needed(letter: str, start: str) -> int:
    return sum(line.needed for line in planned(letter).counted.material if line.item.startswith(start))


def test_counts_of_the_demo_house_by_hand() -> None:
    # From demo house A's table: 26 locations; 3 contacts take no box; 2 exterior, 3 soffit, 4 ceiling; wall
    # locations in outer walls: A06 A07 A09 A10 A19 A21 A22 A23; inside walls: A01 A02 A08 A11 A13 A14.
    assert needed("a", "Weatherproof box") == 3
    assert needed("a", "Ceiling ring") == 4
    assert needed("a", "Mounting ring") == 6
    assert needed("a", "Box, closed and gasketed") == 10
    assert needed("a", "Wall plate") == 14  # one for each wall location
    assert needed("a", "Connector, eight-position jack") == 2 * 24
    assert needed("a", "Connector, F connector") == 2 * 4
    assert needed("a", "Cable label") == 39 * 6
    assert needed("a", "Media enclosure") == 1


def test_more_than_four_cables_take_two_gangs() -> None:
    job, wiring = small.job(5), small.wiring(tuple(small.run(f"L1-D{i}") for i in range(1, 6)))
    lines = {line.item: line.needed for line in takeoff(job, small.frame(), wiring).material}
    assert lines["Mounting ring, open back, two gang (more than four cables)"] == 1
    assert lines["Wall plate, 5 ports"] == 1


def test_boxes_on_hand_cost_nothing_and_new_ones_by_the_foot() -> None:
    practice = Practice(cables=small.KINDS, partial_boxes=(("D", 40.0),))
    job, wiring = small.job(2, practice), small.wiring((small.run("L1-D1"), small.run("L1-D2")))
    cable = [line for line in takeoff(job, small.frame(), wiring).material if line.group == "Cable"]
    # One run of 25 ft fits 40 - 5 ft, the other opens a box of 1,000 ft at 0.20: 200.00.
    assert [(line.packs, line.price) for line in cable] == [(1, Decimal("0.00")), (1, Decimal("200.00"))]


def test_totals_count_what_is_there() -> None:
    house = planned("a")
    told = totals(house.job, house.wiring, house.counted)
    # Source: the demo houses' own totals: 26 locations, 39 runs.
    assert (told.locations, told.runs, told.unreached) == (26, 39, 0)
    assert told.holes + told.open_passages == len(house.wiring.holes)
    assert told.feet == pytest.approx(sum(run.length_in for run in house.wiring.runs) / 12)
