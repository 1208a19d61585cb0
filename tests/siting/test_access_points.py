"""Places for access points: held against trying every choice, the bound never under it, every way legal."""

from __future__ import annotations

import itertools
import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from bayrun.cables.ranges import RangeError, Verdict
from bayrun.cli.main import main
from bayrun.files import read_job
from bayrun.framing import lay_out
from bayrun.house import room_at
from bayrun.jobs import plan
from bayrun.radio.coverage import coverage
from bayrun.radio.senders import access_points
from bayrun.siting.access_points import NOT_IN, _choose, best_access_points, hang
from bayrun.wishes import kind_of_room
from demo import HOUSES, example_path, job


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.integers(2, 7).flatmap(
        lambda n: st.lists(st.lists(st.booleans(), min_size=12, max_size=12), min_size=n, max_size=n)
    ),
    st.integers(1, 3),
)
def test_the_choice_is_the_best_of_all_choices(rows: list[list[bool]], count: int) -> None:
    # Brute force over every choice of at most so many places.
    serves = np.array(rows)
    picked, most, _ = _choose(serves, [1.0] * len(rows), 0, count, 0.98)
    best = max(
        int(serves[list(chosen)].any(axis=0).sum())
        for size in range(1, count + 1)
        for chosen in itertools.combinations(range(len(rows)), min(size, len(rows)))
    )
    got = int(serves[picked].any(axis=0).sum()) if picked else 0
    assert got == best
    assert len(picked) <= count
    assert most * 12 >= best - 1e-9


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.integers(2, 7).flatmap(
        lambda n: st.lists(st.lists(st.booleans(), min_size=12, max_size=12), min_size=n, max_size=n)
    )
)
def test_the_fewest_are_the_fewest(rows: list[list[bool]]) -> None:
    serves = np.array(rows)
    whole = int(serves.any(axis=0).sum())
    picked, _, least = _choose(serves, [1.0] * len(rows), 0, None, 1.0)
    if whole == 0:
        return
    fewest = next(
        size
        for size in range(1, len(rows) + 1)
        if any(
            int(serves[list(chosen)].any(axis=0).sum()) == whole
            for chosen in itertools.combinations(range(len(rows)), size)
        )
    )
    assert len(picked) == fewest
    assert least == fewest
    assert int(serves[picked].any(axis=0).sum()) == whole


def test_of_equal_choices_the_cheaper_wins_and_kept_ones_count_for_nothing() -> None:
    serves = np.array([[True, False, False], [False, True, True], [False, True, True]])
    assert _choose(serves, [1.0, 9.0, 2.0], 0, 1, 1.0)[0] == [2]
    picked, most, _ = _choose(serves, [0.0, 9.0, 2.0], 1, 1, 1.0)
    assert picked == [0, 2]
    assert most == 1.0
    assert _choose(serves, [0.0, 9.0, 2.0], 1, None, 1.0)[2] == 1


@pytest.mark.parametrize("house", HOUSES)
def test_places_are_on_dry_ceilings_with_a_legal_way_and_serve_what_they_say(house: str) -> None:
    home = job(house)
    found = best_access_points(home, lay_out(home), 2)
    assert 0.98 * found.all_share <= found.share <= found.most_share <= 1.0
    for place in found.places:
        assert place.reach.legal
        assert place.reach.feet > 0
        room = room_at(home, place.level, place.x_in, place.y_in)
        assert room is not None
        assert room.name == place.room
        assert kind_of_room(room) not in NOT_IN
        assert not any(
            x0 < place.x_in < x1 and y0 < place.y_in < y1
            for stair in home.stairs
            if any(level == place.level for level, _ in stair.rooms)
            for x0, y0, x1, y1 in (stair.rect,)
        )


def test_hung_access_points_are_planned_and_serve() -> None:
    home = job("A")
    found = best_access_points(home, lay_out(home), 1, beside=True)
    more = hang(home, found.places)
    assert len(access_points(more)) == len(access_points(home)) + len(found.places)
    made = plan(more)
    new = {r.id for r in more.runs} - {r.id for r in home.runs}
    assert new <= {r.id for r in made.wiring.runs}
    held = [
        sum(s.verdict is Verdict.HOLDS for s in coverage(one, access_points(one)).rooms)
        for one in (home, more)
    ]
    assert held[1] > held[0]


def test_bad_input_is_told() -> None:
    home = job("A")
    with pytest.raises(RangeError, match=r"the margin 0 to 20 dB.*access points 1 to 12, got 0"):
        best_access_points(home, lay_out(home), 0, margin_db=50.0)


def test_the_command_writes_a_job_that_holds_the_same_places(tmp_path: Path) -> None:
    out = tmp_path / "more.yaml"
    words = ["access-points", str(example_path("A")), "--count", "1", "--beside", "--json", "--quiet"]
    done = CliRunner().invoke(main, [*words, "--out", str(out)])
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    made = access_points(read_job(out))[-1]
    assert (made.x_in, made.y_in) == pytest.approx(
        (told["places"][0]["x_in"], told["places"][0]["y_in"]), abs=0.1
    )
    wrong = CliRunner().invoke(main, ["access-points", str(example_path("A")), "--band", "7"])
    assert wrong.exit_code == 2
    assert "one of 2.4 GHz, 5 GHz, 6 GHz, got 7 GHz" in wrong.stderr
