"""The worked examples that the rule book prints, run one by one against the limits.

Their arithmetic is by hand, from the clauses named (IRC R602.6, R602.6.1, R502.8.1, R802.7.1; NEC 300.4 and
others); how each clause was confirmed stands with it in the tables.
"""

from __future__ import annotations

from collections import Counter

import pytest

from bayrun.findings import Severity
from bayrun.geometry import at_least, at_most
from bayrun.limits import (
    hole_limits,
    largest_hole_in,
    nail_plates_needed,
    notch_allowed,
    strap_length_in,
    strap_needed,
)
from bayrun.rules.examples import EXAMPLES, Example, examples_of, piece_in_words
from bayrun.rules.judge import judge
from bayrun.tables import adopt, figures_of, known_editions

EDITIONS = [(document, year) for document, years in known_editions() for year in years]


def name_of(example: Example) -> str:
    """A test's name: clause, member and figures."""
    return " ".join((example.clause, example.piece, *(f"{a}={b}" for a, b in example.asked), example.kind))


def test_there_are_more_than_eighty_and_no_two_are_one() -> None:
    assert len(EXAMPLES) >= 80
    assert [n for n, times in Counter(map(name_of, EXAMPLES)).items() if times > 1] == []


@pytest.mark.parametrize("edition", EDITIONS, ids=" ".join)
@pytest.mark.parametrize("example", EXAMPLES, ids=name_of)
def test_hand_case(example: Example, edition: tuple[str, str]) -> None:
    # No page was found that changes any of these figures between the editions the tables hold.
    adopted = adopt((edition,))
    told = example.expects
    figure = example.figure
    if example.kind == "figure":
        ((name, _),) = example.asked
        limit, found = float(adopted.value(example.clause, name)), figures_of(example.clause)
        assert found is not None
        keeps = at_most if found.stricter[name] == "less" else at_least
        assert keeps(float(figure(name) or 0), limit) is (told == "kept")
        return
    piece = piece_in_words(example.piece)
    if example.kind == "limit":
        limit_in = largest_hole_in(piece, adopted)
        assert limit_in is not None
        num, _, den = told.partition("/")
        assert limit_in == int(num) / int(den or 1)
    elif example.kind == "hole":
        size, center = float(figure("hole") or 0), figure("center")
        at_in = piece.depth_in / 2 if center is None else float(center)
        broken = judge(piece, size, at_in, adopted)
        assert " ".join(b.rule for b in broken if b.severity is Severity.STOP) == told
        if piece.role in ("stud", "plate"):
            assert " ".join(nail_plates_needed(piece.depth_in, size, at_in, adopted)) == example.plates
    elif example.kind == "notch":
        center_ft, span_ft = figure("center_ft"), figure("span_ft")
        allowed = notch_allowed(
            piece,
            adopted,
            depth_in=float(figure("depth") or 0),
            length_in=float(figure("length") or 0),
            center_from_bearing_in=None if center_ft is None else float(12 * center_ft),
            span_in=None if span_ft is None else float(12 * span_ft),
            at_end=figure("end") == 1,
        )
        assert allowed is (told == "allowed")
    elif example.kind == "strap":
        cut_in = float(figure("cut") or 0)
        assert strap_needed(piece, cut_in, adopted) is (told != "none")
        if told != "none":
            assert strap_length_in(cut_in, adopted) == pytest.approx(float(told), abs=1e-12)
    else:
        clear_in = float((figure("apart") or 0) - (figure("holes") or 0))
        gap_in = float(hole_limits(piece, adopted).gap_min)
        assert at_least(clear_in, gap_in) is (told == "allowed")


def test_every_clause_with_a_figure_of_wood_has_its_examples() -> None:
    for slug in ("stud-bore", "stud-notch", "plate-tie", "plate-wood", "joist-bore", "joist-notch"):
        kinds = {"allowed" if e.expects in ("", "allowed", "none") else "not" for e in examples_of(slug)}
        assert examples_of(slug), slug
        assert kinds == {"allowed", "not"} or slug == "plate-wood", slug
