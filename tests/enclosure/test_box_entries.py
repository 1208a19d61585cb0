"""Knockouts: order of arrival, exact shares, spares last, the firm's fill. Sums by hand; sizes as printed."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations_with_replacement

import pytest
from boxes import KNOCKOUTS, PATCH, job_with, wiring_of

from bayrun.cables.ranges import Verdict
from bayrun.enclosure.entries import Arrival, Entries, arrivals, assign, trade_of
from bayrun.house import Knockout


def entries(runs: int, along_in: tuple[float, ...] = (56.0,), **box: object) -> Entries:
    job = job_with(PATCH, runs=runs, **box)
    enclosure = job.enclosures[0]
    return assign(job, enclosure, arrivals(job, wiring_of(job, along_in), enclosure))


@pytest.mark.parametrize(
    ("hole_in", "trade"),
    # Knockout diameters of trade sizes 1/2, 3/4 and 1: read in secondary tables; 1-1/4 to 2 from memory.
    [
        (0.875, "1/2"),
        (1.109, "3/4"),
        (1.375, "1"),
        (1.734, "1-1/4"),
        (1.984, "1-1/2"),
        (2.0, "1-1/2"),
        (2.469, "2"),
    ],
)
def test_trade_sizes(hole_in: float, trade: str) -> None:
    found, opening_in = trade_of(hole_in)
    assert found == trade
    assert opening_in == pytest.approx(hole_in - 3 / 16, abs=0.02)


def test_a_hole_of_no_trade_size_has_a_bushing_all_the_same() -> None:
    assert trade_of(1.5) == ("", 1.5 - 3 / 16)


def test_cables_keep_their_order_from_left_to_right() -> None:
    # Seen from the wall's left side offsets run leftward: from the bay's middle at 56, 59 is 3 in left.
    job = job_with(PATCH, runs=6)
    coming = arrivals(job, wiring_of(job, (59.0, 53.0)), job.enclosures[0])
    assert [round(a.from_left_in, 3) for a in coming] == [4.125] * 3 + [10.125] * 3
    assert [a.run for a in coming] == ["L1-D1", "L1-D3", "L1-D5", "L1-D2", "L1-D4", "L1-D6"]
    other = replace(job, enclosures=(replace(job.enclosures[0], side="right"),))
    mirrored = arrivals(other, wiring_of(other, (59.0, 53.0)), other.enclosures[0])
    assert [a.run for a in mirrored] == ["L1-D2", "L1-D4", "L1-D6", "L1-D1", "L1-D3", "L1-D5"]


def test_shares_are_the_best_of_all_cuts() -> None:
    told = entries(20)
    # 20 x 0.0529 = 1.058 over openings of 1.7965 squared, 3.2274: ten in each is 16.4 %.
    used = {use.name: use for use in told.uses if use.runs}
    assert set(used) == {"top 1", "top 3"}
    assert used["top 1"].fill == pytest.approx(10 * 0.0529 / 3.2274, rel=1e-3)
    assert told.verdict is Verdict.HOLDS
    assert [u.name for u in told.uses] == ["top 1", "top 2", "top 3", "bottom 1"]


def test_every_cut_by_brute_force() -> None:
    sizes = [0.23, 0.36, 0.23, 0.275, 0.275, 0.16, 0.23, 0.36, 0.23]
    coming = tuple(Arrival(f"R{n}", "D", "top", 7.0, d, 1.0) for n, d in enumerate(sizes))
    knockouts = (Knockout("top", 2.0, 0.875), Knockout("top", 6.0, 1.109), Knockout("top", 11.0, 1.375))
    job = job_with(PATCH, knockouts=knockouts)
    told = assign(job, job.enclosures[0], coming)
    openings = [trade_of(k.diameter_in)[1] for k in knockouts]
    best = min(
        (
            sum(max(s - 0.4, 0.0) for s in shares),
            max(shares),
        )
        for a, b in combinations_with_replacement(range(len(sizes) + 1), 2)
        for shares in [
            [
                sum(d * d for d in part) / (w * w)
                for part, w in zip((sizes[:a], sizes[a:b], sizes[b:]), openings, strict=True)
            ]
        ]
    )
    assert max(u.fill for u in told.uses) == pytest.approx(best[1])


def test_spares_are_opened_only_where_they_must_be() -> None:
    # One opening takes 0.4 x 3.2274 / 0.0529 = 24.4 data cables: 48 stay within two, 49 open the spare.
    assert not any(use.opened for use in entries(48).uses)
    opened = [use for use in entries(49).uses if use.opened]
    assert [use.name for use in opened] == ["top 2"]
    assert entries(49).verdict is Verdict.HOLDS


def test_too_much_is_told_with_its_share() -> None:
    told = entries(60)
    assert told.verdict is Verdict.FAILS
    assert "% full, the firm fills 40 %" in told.reason
    none = entries(3, knockouts=(KNOCKOUTS[3],))
    assert none.without == (("top", ("L1-D1", "L1-D2", "L1-D3")),)
    assert "3 runs come to the top of the box, which has no knockout for low voltage there" in none.reason


def test_power_knockouts_take_no_low_voltage() -> None:
    told = entries(60)
    assert not any(use.runs for use in told.uses if use.use == "power")
