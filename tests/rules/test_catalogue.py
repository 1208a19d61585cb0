"""The catalogue: complete, sorted, stable, printed; every rule has its tests."""

from __future__ import annotations

from pathlib import Path

import pytest
from benches import JOB, Bench, flat, plate_hole, stud_hole, upright

from bayrun.rules import RULES, print_catalogue, rule_slugs
from bayrun.tables import adopt


def test_slugs_are_unique_and_tested() -> None:
    slugs = rule_slugs()
    assert len(slugs) == len(set(slugs))
    here = Path(__file__).parent
    text = "".join(p.read_text(encoding="utf-8") for p in sorted(here.glob("test_*_rules.py")))
    untested = [slug for slug in slugs if f'"{slug}"' not in text]
    assert untested == []


def test_every_finding_of_a_busy_plan_is_in_the_catalogue_sorted_and_stable() -> None:
    stud, top = upright(1, 20.0), flat("top")
    bench = Bench(JOB, [stud, top], plates=(), straps=(), seals=())
    bench.holes = [stud_hole("H1", stud, 2.5), plate_hole("H2", top, 2.0), stud_hole("H3", stud, 1.0, 41.0)]
    told = bench.findings()
    assert {f.rule for f in told} <= set(rule_slugs())
    assert list(told) == sorted(told, key=lambda f: f.order)
    assert len({f.id for f in told}) == len(told)
    assert told == bench.findings()
    for finding in told:
        assert finding.place
        assert finding.says.endswith((".", ")"))
        assert "{" not in finding.says + finding.place
        assert finding.source is not None


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slugs[0])
def test_every_rule_names_clauses_that_exist(rule: object) -> None:
    adopted = adopt()
    for slug in rule.clauses:  # type: ignore[attr-defined]
        assert adopted.clause(slug).title


def test_the_rule_book_prints_figures_and_sources() -> None:
    text = print_catalogue()
    for part in ("IRC 2021 R602.6:", "NEC 2020 300.4(A)(1):", "bearing 2/5", "(from memory: verify)"):
        assert part in text
    assert len(text.split("\n\n")) == len(RULES)
