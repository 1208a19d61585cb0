"""``bayrun quick`` as promised: JSON keys and types, exit codes, worked examples through the command line.

The worked examples are sums anyone can do by hand from the figures of NEC 300.4(A)(1) (1-1/4 in of wood to
the face, else a steel plate), IRC R602.6 (studs: 40 % bearing, 60 % non-bearing or doubled, 5/8 in of edge),
and IRC R502.8.1 (joists: a third of the depth, 2 in to top and bottom); each row shows its sum.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from cli.packs import Done, bayrun

PLATE_IN, EDGE_IN = 1.25, 0.625


def hole(*words: str) -> tuple[int, dict[str, Any]]:
    """Exit code and JSON of ``quick hole``; JSON must be all of stdout, and stderr empty."""
    done = bayrun("quick", "hole", *words, "--json")
    assert done.err == ""
    told: dict[str, Any] = json.loads(done.out)
    return done.code, told


STUD, JOIST = "R602.6", "R502.8.1"
TWO_BY_SIX, TWO_BY_TEN = ("2x6", "--role", "joist", "--size"), ("2x10", "--role", "joist", "--size")
# example, words, legal, margins [in], plates, limit [in], clause, rules that must be found
EXAMPLES = [
    # 1: edge (3.5 - 1) / 2 = 1.25: exactly enough, no plate; 28.6 %.
    (1, ("2x4", "--bearing", "--size", "1"), True, (1.25, 1.25), 0, 1.4, STUD, set()),
    # 2: edge (3.5 - 1.25) / 2 = 1.125 under 1.25: both faces; 35.7 % of 3.5.
    (2, ("2x4", "--bearing", "--size", "1-1/4"), True, (1.125, 1.125), 2, 1.4, STUD, {"nail-plate"}),
    # 4: 1.5 / 3.5 = 42.9 % over 40 %.
    (4, ("2x4", "--bearing", "--size", "1-1/2"), False, (1.0, 1.0), 2, 1.4, STUD, {"stud-hole-size"}),
    # 4, doubled or non-bearing: 60 % of 3.5 = 2.1.
    (4, ("2x4", "--bearing", "--doubled", "--size", "1-1/2"), True, (1.0, 1.0), 2, 2.1, STUD, set()),
    (4, ("2x4", "--non-bearing", "--size", "1-1/2"), True, (1.0, 1.0), 2, 2.1, STUD, set()),
    # 5: 2.125 / 3.5 = 60.7 % over 60 %.
    (5, ("2x4", "--non-bearing", "--size", "2-1/8"), False, (0.6875, 0.6875), 2, 2.1, STUD, set()),
    # 6: 2.0625 / 3.5 = 58.9 %; edge 0.71875 over 5/8.
    (6, ("2x4", "--non-bearing", "--size", "2-1/16"), True, (0.71875, 0.71875), 2, 2.1, STUD, set()),
    # 9: near 1.5 - 0.4375 = 1.0625 under 1.25, far 3.5 - 1.5 - 0.4375 = 1.5625: the near face only.
    (9, ("2x4", "--size", "7/8", "--centre", "1-1/2"), True, (1.0625, 1.5625), 1, 1.4, STUD, {"nail-plate"}),
    # 18: 9.25 / 3 = 3-1/12; edges (9.25 - 3.0833) / 2 = 3.083 over 2.
    (18, (*TWO_BY_TEN, "3"), True, (3.125, 3.125), 0, 37 / 12, JOIST, set()),
    (18, (*TWO_BY_TEN, "3-1/8"), False, (3.0625, 3.0625), 0, 37 / 12, JOIST, set()),
    # 19: a third is 1.833, but 5.5 - 2 x 2 = 1.5 leaves 2 in above and below, and only dead center.
    (19, (*TWO_BY_SIX, "1-1/2"), True, (2.0, 2.0), 0, 5.5 / 3, JOIST, set()),
    (19, (*TWO_BY_SIX, "1-13/16"), False, (1.84375, 1.84375), 0, 5.5 / 3, JOIST, set()),
    (19, (*TWO_BY_SIX, "1-1/2", "--centre", "2-13/16"), False, (2.0625, 1.9375), 0, 5.5 / 3, JOIST, set()),
]


@pytest.mark.parametrize(
    ("number", "words", "legal", "margins_in", "plates", "limit_in", "clause", "rules"), EXAMPLES
)
def test_worked_examples(
    number: int,
    words: tuple[str, ...],
    legal: bool,
    margins_in: tuple[float, float],
    plates: int,
    limit_in: float,
    clause: str,
    rules: set[str],
) -> None:
    code, told = hole("--member", *words)
    assert told["legal"] is legal, number
    assert code == (0 if legal else 1)
    assert told["margins_in"] == pytest.approx(margins_in, abs=1e-6)
    assert told["plates"] == plates
    assert told["limit_in"] == pytest.approx(limit_in, abs=1e-6)
    assert clause in told["clause"]
    assert rules <= {finding["rule"] for finding in told["findings"]}
    worst = {finding["severity"] for finding in told["findings"]}
    assert ("stop" in worst) is (not legal)
    # The plates follow from the margins, by the clause's own figure (in a joist the faces are far away).
    if "joist" not in words:
        assert told["plates"] == sum(margin < PLATE_IN - 1e-6 for margin in told["margins_in"])


def test_the_one_plate_is_on_the_near_face() -> None:
    _, told = hole("--member", "2x4", "--bearing", "--size", "7/8", "--centre", "1-1/2")
    assert told["plate_faces"] == ["room side"]
    _, far = hole("--member", "2x4", "--bearing", "--size", "7/8", "--center", "2")
    assert far["plate_faces"] == ["far side"]


@pytest.mark.parametrize(
    "words",
    [
        ("--member", "2x4", "--bearing", "--size", "1-1/4"),
        ("--member", "2x4", "--bearing", "--size", "2"),
        ("--member", "2x4", "--role", "plate", "--size", "2"),
        ("--member", "2x12", "--role", "joist", "--size", "3"),
        ("--member", "truss", "--size", "1/2"),
        ("--member", "ijoist", "--size", "1"),
        ("--member", "ijoist", "--size", "1", "--depth", "11-7/8", "--knockout", "1-1/2"),
        ("--member", "steel", "--size", "1"),
        ("--member", "lvl", "--size", "1"),
    ],
)
def test_hole_keys_and_types(words: tuple[str, ...]) -> None:
    code, told = hole(*words)
    assert {"legal", "limit_in", "margins_in", "plates", "clause", "findings"} <= set(told)
    assert isinstance(told["legal"], bool)
    assert code == (0 if told["legal"] else 1)
    assert told["limit_in"] is None or isinstance(told["limit_in"], int | float)
    assert told["margins_in"] is None or (
        len(told["margins_in"]) == 2 and all(isinstance(m, int | float) for m in told["margins_in"])
    )
    assert type(told["plates"]) is int
    assert 0 <= told["plates"] <= 2
    assert len(told["plate_faces"]) == told["plates"]
    assert isinstance(told["clause"], str)
    assert told["clause"]
    for finding in told["findings"]:
        assert {"rule", "severity", "says", "measured", "limit", "unit", "source", "fixes"} <= set(finding)
        assert finding["severity"] in ("stop", "fix soon", "note", "cannot tell")
        assert finding["says"]
    assert "no other hole or notch in this member" in told["assumed"]  # other holes absent, and said so


def test_mid_depth_where_no_centre_is_given_and_said_so() -> None:
    _, mid = hole("--member", "2x6", "--bearing", "--size", "1")
    _, said = hole("--member", "2x6", "--bearing", "--size", "1", "--centre", "2-3/4")
    assert mid["margins_in"] == said["margins_in"] == [2.25, 2.25]
    assert "the hole is at mid-depth" in mid["assumed"]
    assert "the hole is at mid-depth" not in said["assumed"]


def test_limit_is_the_size_clause_alone() -> None:
    # Example 8: 1.4 in is the most a bearing 2x4 takes; 1-1/4 in from an edge leaves 0.55 in, under 5/8.
    code, told = hole("--member", "2x4", "--bearing", "--size", "1.4", "--centre", "1-1/4")
    assert (code, told["legal"], told["limit_in"]) == (1, False, 1.4)
    assert told["margins_in"] == pytest.approx([0.55, 1.55])
    assert told["margins_in"][0] < EDGE_IN
    assert [f["rule"] for f in told["findings"] if f["severity"] == "stop"] == ["stud-hole-edge"]


def bundle(*words: str) -> tuple[int, dict[str, Any]]:
    """Exit code and JSON of ``quick bundle``."""
    done = bayrun("quick", "bundle", *words, "--json")
    assert done.err == ""
    told: dict[str, Any] = json.loads(done.out)
    return done.code, told


def test_bundle_keys_types_and_true_packing() -> None:
    code, told = bundle("11x0.23", "2x0.275")
    assert code == 0
    assert {"diameter_in", "circles", "hole_in", "bits"} <= set(told)
    sizes = sorted(round(2 * r, 6) for _, _, r in told["circles"])
    assert sizes == [0.23] * 11 + [0.275] * 2
    for index, (x, y, r) in enumerate(told["circles"]):
        assert math.hypot(x, y) + r <= told["diameter_in"] / 2 + 2e-6
        for u, v, s in told["circles"][:index]:
            assert math.hypot(x - u, y - v) >= r + s - 3e-6
    # No circle around them can hold less area than they have, nor be slacker than the lattice of equal ones.
    area = sum(size * size for size in sizes)
    assert math.sqrt(area) < told["diameter_in"] < math.sqrt(area / 0.66)
    # Fill 40 %: sqrt(area / 0.40) = 1.354, so the next bit on the truck is 1-3/8.
    assert math.sqrt(area / 0.40) == pytest.approx(1.354, abs=5e-4)
    assert told["hole_in"] == 1.375
    for bit in told["bits"]:
        assert bit["takes"] is (bit["bit_in"] >= 1.375)


def test_no_growth_is_added_to_a_bundle() -> None:
    # One cable is its own bundle; two of a size are two across; three touch: d (1 + 2 / sqrt 3), closed form.
    for words, diameter_in in (("1x0.25", 0.25), ("2x0.25", 0.5), ("3x0.25", 0.25 * (1 + 2 / math.sqrt(3)))):
        assert bundle(words)[1]["diameter_in"] == pytest.approx(diameter_in, abs=2e-6)


def test_seven_of_seven_in_an_inch() -> None:
    # Example 29: 0.4 (1 / 0.23)^2 = 7.56, so seven fit a 1 in hole at 40 % and eight do not.
    assert bundle("7x0.23")[1]["hole_in"] == 1.0
    assert bundle("8x0.23")[1]["hole_in"] == 1.125
    assert "Said as: 7 of 7" in bayrun("quick", "bundle", "7x0.23").out


@pytest.mark.parametrize("json_too", [True, False])
@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("quick", "hole", "--size", "1"), "Missing option '--member'. Choose from 2x3, 2x4, 2x6,"),
        (("quick", "hole", "--member", "2x4"), "Missing option '--size'."),
        (("quick", "hole", "--member", "2x4", "--size", "big"), "expected a length such as 5' 3-1/2\""),
        (("quick", "bundle"), "no cables given: expected a count and an outside diameter in inches"),
        (("quick", "bundle", "3x"), "expected a count and an outside diameter in inches"),
        (("quick", "bungle"), "No such command 'bungle'."),
        (("quick",), "Calculators that need no job."),
    ],
)
def test_bad_words_are_exit_2_on_stderr_alone(words: tuple[str, ...], says: str, json_too: bool) -> None:
    done: Done = bayrun(*words, *(["--json"] if json_too and len(words) > 2 else []))
    assert done.code == 2
    assert done.out == ""
    assert says in done.err
    assert "\t" not in done.err
