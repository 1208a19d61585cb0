"""Clauses as data: editions change only what differs; unknown ones are refused or told."""

from __future__ import annotations

import pytest

from bayrun.tables import EditionError, adopt, adopt_careful, known_editions


def test_every_clause_says_how_it_was_confirmed() -> None:
    for code, years in known_editions():
        for year in years:
            for clause in adopt(((code, year),)).clauses:
                assert clause.confirmed in ("confirmed", "from memory", "practice"), clause.slug
                assert clause.title, clause.slug
                if clause.confirmed == "confirmed":
                    assert "http" in clause.proof or "figure as in" in clause.proof, clause.slug
                assert (clause.document in dict(known_editions())) == bool(clause.edition), clause.slug


@pytest.mark.parametrize("year", ["2018", "2024"])
def test_irc_editions_have_the_same_figures(year: str) -> None:
    # No page was found that changes R602.6, R602.6.1, R502.8.1 or R802.7.1 between 2018 and 2024.
    now, then = adopt(), adopt((("IRC", year),))
    for clause in now.clauses:
        assert then.clause(clause.slug).values == clause.values
    assert then.clause("stud-bore").to_verify is (year == "2024")


def test_nec_editions_change_only_what_differs() -> None:
    old, now, new = adopt((("NEC", "2017"),)), adopt(), adopt((("NEC", "2023"),))
    changed = {c.slug for c in now.clauses if old.clause(c.slug).values != c.values}
    assert changed == {"nail-plate", "receptacle-gfci"}
    renumbered = {c.slug for c in now.clauses if new.clause(c.slug).number != c.number}
    assert renumbered == {"ac-support-unclamped", "power-barrier", "receptacle-afci", "cable-listing"}
    assert all(new.clause(c.slug).edition == c.edition for c in now.clauses if c.document == "IRC")


def test_unknown_edition_is_refused_and_known_ones_listed() -> None:
    with pytest.raises(EditionError) as told:
        adopt((("IRC", "2015"), ("NEC", "1999"), ("UBC", "1997")))
    text = str(told.value)
    assert "edition of IRC: expected one of 2018, 2021, 2024, got '2015'" in text
    assert "edition of NEC: expected one of 2017, 2020, 2023, got '1999'" in text
    assert "code: expected one of IRC, NEC, got 'UBC'" in text


def test_a_plan_with_an_unknown_edition_is_still_checked() -> None:
    adopted = adopt_careful((("IRC", "2015"), ("NEC", "2017")))
    assert adopted.unknown == (("IRC", "2015", "2024"),)
    assert dict(adopted.editions) == {"IRC": "2024", "NEC": "2017"}
