"""The rule book: whole, by edition, with the amendments and the very cases of the tests; the page in docs."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from bayrun.cli.main import main
from bayrun.drawings.limit_pictures import captions
from bayrun.rules import RULES, rule_slugs
from bayrun.rules.examples import EXAMPLES
from bayrun.rules.rulebook import asked_words, figure_text, rulebook, verdict_words, words_of
from bayrun.tables import adopt, clause_slugs, read_amendments

PAGE = Path(__file__).parents[2] / "docs" / "rulebook.md"
OVERLAY = """
[[amendment]]
clause = "stud-bore"
name = "bearing"
value = "1/3"
who = "building department"
date = "2026-01-15"
why = "ordinance 12-3"
"""


def ask(*words: str) -> tuple[int, str, str]:
    """Run ``bayrun rulebook``: exit code, stdout, stderr."""
    told = CliRunner().invoke(main, ["rulebook", *words])
    return told.exit_code, told.stdout, told.stderr


def test_the_page_in_docs_is_what_the_command_prints() -> None:
    code, printed, _ = ask()
    assert code == 0
    assert PAGE.read_text(encoding="utf-8") == printed, "renew it: ./bayrun rulebook > docs/rulebook.md"


def test_it_holds_every_rule_clause_and_example_once() -> None:
    text = rulebook()
    for rule in RULES:
        assert text.count(f"## {rule.title}\n") == 1
    for slug in rule_slugs():
        assert f"`{slug}`" in text
    for clause in adopt().clauses:
        assert text.count(f"- `{clause.slug}`: {clause.title}.") == 1
    for example in EXAMPLES:
        row = f"| {asked_words(example)} | {verdict_words(example)} | {example.because} |"
        assert text.count(row) == 1, row
    assert len(clause_slugs()) == len(adopt().clauses)
    assert "{" not in text.replace("{#", "")


def test_the_overlay_it_shows_can_be_read_and_every_fix_says_whether_it_is_followed() -> None:
    text = rulebook()
    overlay = text.partition("```toml\n")[2].partition("```")[0]
    assert [a.clause for a in read_amendments(overlay)] == ["stud-bore"]
    assert "| `move_location` | Move a box along its wall. | follows it |" in text
    assert "| `shift_hole` | Another place along the member for a hole. | follows it |" in text
    assert "| `ask` | Write down that a trade was asked. | keeps it as a choice; the finding stays |" in text


def test_words_of_figures() -> None:
    clause = adopt().clause("plate-tie")
    told = [f"{words_of(name)} {figure_text(value, name)}" for name, value in clause.values]
    assert told == ["share 1/2", "thickness 0.054 in", "width 1-1/2 in", "nails each side 8", "past 6 in"]
    assert figure_text(adopt().value("link-length", "length_in"), "length_in") == "3543.3 in"


def test_an_edition_prints_its_own_numbers_and_how_the_others_differ() -> None:
    code, text, _ = ask("--edition", "NEC=2017", "--edition", "irc=2018")
    assert code == 0
    assert "by IRC 2018, NEC 2017." in text
    assert "NEC 2017 314.17(C) Ex (confirmed" in text
    assert "2023: number 314.17(B)(1) Ex, from memory." in text
    assert "binds low voltage 0." in text
    assert "Other editions: 2020: binds low voltage 1; 2023: binds low voltage 1." in text


def test_amendments_are_printed_with_who_and_why(tmp_path: Path) -> None:
    overlay = tmp_path / "town.toml"
    overlay.write_text(OVERLAY, encoding="utf-8")
    code, text, _ = ask("--amendments", str(overlay))
    assert code == 0
    assert "- stud-bore, bearing: 1/3, by building department, 2026-01-15: ordinance 12-3" in text
    said = "Amended here: bearing 1/3 instead of 2/5 by building department, 2026-01-15: ordinance 12-3."
    assert said in text
    adopted = adopt((), read_amendments(OVERLAY))
    assert text == rulebook(adopted, pictures=captions(adopted))


def test_one_rule_alone() -> None:
    code, text, _ = ask("--rule", "plate-strap")
    assert code == 0
    assert text.startswith("## Straps\n")
    assert text.count("## ") == 1
    assert "a strap of 14 in" in text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--edition", "IRC=2015"), "edition of IRC: expected one of 2018, 2021, 2024, got '2015'"),
        (("--edition", "UBC=1997"), "code: expected one of IRC, NEC, got 'UBC'"),
        (("--edition", "2021"), "--edition: expected CODE=YEAR such as IRC=2021, got '2021'"),
        (("--edition", "IRC="), "expected CODE=YEAR"),
        (("--edition", "IRC=2018", "--edition", "irc=2021"), "expected each code once, got IRC twice"),
        (
            ("--rule", "plate-strep"),
            "called 'plate-strep'. Did you mean 'plate-strap'?",
        ),
        (("--rule", "zzz"), "no rule gives a finding called 'zzz'. Known: stud-hole-size"),
        (("--amendments", "nowhere.toml"), "nowhere.toml cannot be read: no such file or directory"),
    ],
)
def test_bad_input_is_one_message(words: tuple[str, ...], told: str) -> None:
    code, out, err = ask(*words)
    assert (code, out) == (2, "")
    assert told in err


def test_bad_amendments_are_refused_and_none_is_printed(tmp_path: Path) -> None:
    overlay = tmp_path / "town.toml"
    overlay.write_text(OVERLAY.replace("1/3", "1/2").replace('why = "ordinance 12-3"', ""), encoding="utf-8")
    code, out, err = ask("--amendments", str(overlay))
    assert (code, out) == (2, "")
    assert "stud-bore, bearing: 1/2 instead of 2/5 loosens a safety rule (IRC R602.6)" in err
    overlay.write_bytes(b"\xff\xfe")
    assert "expected text in UTF-8" in ask("--amendments", str(overlay))[2]
