"""The power list, against sums by hand and a search over every order."""

from __future__ import annotations

from itertools import pairwise, permutations
from random import Random

import pytest

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.enclosure.plugs import Plug, power_list


def test_wide_plugs_beside_narrow_ones() -> None:
    # Pitch 1-1/2 in: wide 2-1/2 beside wide needs 2 outlets, wide beside narrow (1 in): 1.75 / 1.5 also 2,
    # narrow beside narrow 1. Wide, wide, narrow, narrow: 2 + 2 + 1, the first one more: 6.
    plugs = (
        Plug("router", 12, 2.5),
        Plug("modem", 10, 1),
        Plug("switch", 60, 2.5, 15),
        Plug("recorder", 8, 1),
    )
    told = power_list(plugs, 6, 1.5)
    assert told.needed == 6
    assert told.verdict is Verdict.HOLDS
    assert (told.watts.value, told.heat_w.value) == (90, 45)
    assert told.amps.value == pytest.approx(0.75)
    widths = {plug.name: plug.width_in for plug in plugs}
    for (left, at), (right, there) in pairwise(told.outlets):
        assert (there - at) * 1.5 >= (widths[left] + widths[right]) / 2 - 1e-9
    short = power_list(plugs, 5, 1.5)
    assert short.verdict is Verdict.FAILS
    assert short.outlets == ()
    assert "cover 6 outlets, the strip has 5" in short.reason


def test_order_is_the_best_of_all() -> None:
    chance = Random(7)
    for _ in range(25):
        plugs = tuple(Plug(str(n), 5, chance.choice([1, 1.4, 2.2, 3, 4.1])) for n in range(5))
        spans = []
        for order in permutations(plugs):
            gaps = (int(-(-((a.width_in + b.width_in) / 2 - 1e-9) // 1.5)) for a, b in pairwise(order))
            spans.append(1 + sum(max(1, gap) for gap in gaps))
        assert power_list(plugs, 16, 1.5).needed == min(spans)


def test_too_much_for_the_circuit() -> None:
    told = power_list((Plug("heater", 1000, 1), Plug("other", 800, 1)), 6, 1.5)
    assert told.verdict is Verdict.FAILS
    assert "15.0 A, over 12 A" in told.reason
    assert power_list((Plug("heater", 1000, 1), Plug("other", 800, 1)), 6, 1.5, 20).verdict is Verdict.HOLDS


def test_refusal_tells_all() -> None:
    with pytest.raises(RangeError) as told:
        power_list((Plug("a", -1, 1), Plug("a", 5, 9, 7)), 0, 1.5, 30)
    text = str(told.value)
    for part in (
        "outlets 1 to 16",
        "watts of a 0",
        "the plug of a 0.5 to 6 in",
        "15 or 20 A, got 30",
        "a stands",
    ):
        assert part in text
