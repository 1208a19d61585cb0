"""Pictures of the limits: the files beside the page, the figures of the clauses in force, nothing clipped."""

from __future__ import annotations

from pathlib import Path

import pytest

from bayrun.drawings.limit_pictures import PICTURES, captions, limit_pictures
from bayrun.drawings.measure import measure_scene
from bayrun.drawings.scene import Circle
from bayrun.rules.rulebook import rulebook
from bayrun.tables import Amendment, adopt, clause_slugs
from cli.packs import bayrun

FOLDER = Path(__file__).parents[2] / "docs" / "rulebook"


def words(slug: str, *amendments: Amendment) -> str:
    """Every text of a picture."""
    return " | ".join(text.text for text in PICTURES[slug](adopt((), amendments)).texts())


def test_the_files_in_docs_are_what_the_command_writes(tmp_path: Path) -> None:
    done = bayrun("rulebook", "--pictures", tmp_path / "new")
    assert done.code == 0
    written = {p.name: p.read_bytes() for p in (tmp_path / "new").iterdir()}
    assert written == {p.name: p.read_bytes() for p in FOLDER.iterdir()}, (
        "renew them: ./bayrun rulebook --pictures docs/rulebook > docs/rulebook.md"
    )
    assert dict(limit_pictures(adopt())) == written


def test_every_picture_belongs_to_a_clause_and_stands_in_the_book_once() -> None:
    assert set(PICTURES) <= set(clause_slugs())
    assert len(PICTURES) >= 15
    book = rulebook(pictures=captions(adopt()))
    for slug, says in captions(adopt()).items():
        assert book.count(f"](rulebook/{slug}.svg)") == 1
        assert f"![{says}](" in book
    assert ".svg" not in rulebook()


@pytest.mark.parametrize("slug", sorted(PICTURES))
def test_nothing_in_a_picture_overlaps_or_is_cut_off(slug: str) -> None:
    told = measure_scene(PICTURES[slug](adopt()))
    assert not told.overlaps, told
    assert (told.outside, told.clipped, told.struck) == ((), (), ())


@pytest.mark.parametrize(
    ("slug", "figures"),
    [
        # Worked figures of the same clauses as in the tests of limits.
        ("stud-bore", ('1.40"', '2.10"', "at most 40.0 %", "at most 60.0 %", "5/8")),
        ("stud-notch", ('0.875"', '1.4"', "25.0 %", "40.0 %")),
        ("plate-tie", ('6" past it', 'over 1-3/4"', "0.054", '1-1/2"', "8 nails")),
        ("joist-bore", ('3.08"', '2"', "33.3 %")),
        ("joist-notch", ('1.54"', "2.31 in", "16.7 %")),
        ("nail-plate", ('1" hole', '1-1/4" hole', '1-1/4"', '1-1/8"')),
        ("parallel-setback", ('1-1/4"',)),
        ("rated-membrane", ("2' 0\" at least", "16 sq in", "100 sq in")),
        ("enclosure-place", ("6' 4\" at most", '12" at least')),
        ("ac-support", ('6" firm', '8" no clamp', '12" clamp')),
        ("working-space", ("2' 6\"", "3' 0\"", "6' 6\" high")),
        ("wall-space", ("12' 0\" unbroken", "25' 0\" at most")),
        ("look-first", ('12"', '1"')),
        ("location-place", ('6" at least',)),
        ("fill", ("37.0 %", "60.0 %")),
    ],
)
def test_a_picture_shows_the_figures_of_its_clause(slug: str, figures: tuple[str, ...]) -> None:
    told = words(slug).replace("\u00a0", " ")
    for figure in figures:
        assert figure in told, told


def test_an_amendment_moves_the_lines_of_a_picture() -> None:
    third = Amendment("stud-bore", "bearing", "1/3", "town", "2026-01-15")
    assert '1.17"' in words("stud-bore", third)
    radii = [
        e.radius_in for e in PICTURES["stud-bore"](adopt((), (third,))).elements if isinstance(e, Circle)
    ]
    assert radii[0] == pytest.approx(3.5 / 6)
    wide = Amendment("nail-plate", "edge_in", "3/2", "town", "2026-01-15")
    assert '1/2" hole' in words("nail-plate", wide)
