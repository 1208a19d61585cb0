"""Whole packs as printed, by another program's eyes: of the demo houses and of models by others."""

from __future__ import annotations

import json
import re
from functools import cache

import pypdfium2
import pytest

from cli.packs import HOUSES, Pack, pack_of, pages_of
from conftest import need
from drawings.pack_measure import PackMeasure, measure_pack

LETTER, TABLOID = (8.5, 11.0), (11.0, 17.0)
PACKS = [*HOUSES, "duplex", "flat"]

every_pack = pytest.mark.parametrize("name", PACKS)


@cache
def measured(name: str) -> PackMeasure:
    """The measure of a whole pack, once."""
    return measure_pack(pack(name).bytes_of("pack.pdf"))


def pack(name: str) -> Pack:
    """A pack; those of models by others are skipped where they or their reader are not there."""
    if name not in HOUSES:
        need(module="ifcopenshell")
    return pack_of(name)


@every_pack
def test_no_text_lies_on_another_or_passes_an_edge(name: str) -> None:
    assert measured(name).overlaps == ()
    assert measured(name).clipped == ()


@every_pack
def test_no_page_is_empty_and_every_font_is_in_the_file(name: str) -> None:
    assert measured(name).empty_pages == ()
    assert measured(name).loose_fonts == ()
    assert measured(name).pages > 10


@every_pack
def test_letter_and_tabloid_only(name: str) -> None:
    assert {tuple(sorted(size)) for size in measured(name).sizes} <= {LETTER, TABLOID}


@every_pack
def test_page_n_of_m_and_the_revision_on_every_page(name: str) -> None:
    pages = pages_of(pack(name).folder / "pack.pdf")
    assert measured(name).uncounted == ()
    assert [i for i, text in enumerate(pages, 1) if f"page {i} of {len(pages)}" not in text] == []
    stamp = "revision 1, 2026-11-25"
    assert [i for i, text in enumerate(pages, 1) if stamp not in text] == []


@every_pack
def test_every_id_a_crew_looks_for_can_be_searched(name: str) -> None:
    made = pack(name)
    told = json.loads(made.bytes_of("plan.json"))
    text = " ".join(pages_of(made.folder / "pack.pdf"))
    for one in told["runs"]:
        assert re.search(rf"(?<![\w-]){re.escape(one['id'])}(?![\w-])", text), one["id"]
    for kind in ("holes", "pulls", "boxes", "locations"):
        for one in told[kind]:
            assert re.search(rf"(?<!\w){re.escape(one['id'])}(?!\w)", text), one["id"]


@every_pack
def test_no_half_filled_words_on_any_page(name: str) -> None:
    text = " ".join(pages_of(pack(name).folder / "pack.pdf"))
    for word in ("None", "nan", "{", "}", "Traceback", "<bayrun", "TODO"):
        assert word not in text, text[max(0, text.find(word) - 60) : text.find(word) + 60]


@every_pack
def test_the_drawings_carry_text_as_text_too(name: str) -> None:
    made = pack(name)
    plans = sorted((made.folder / "drawings").glob("plan-*.svg"))
    words = " ".join(p.read_text(encoding="utf-8") for p in plans)
    for one in json.loads(made.bytes_of("plan.json"))["locations"]:
        assert re.search(rf"(?<!\w){re.escape(one['id'])}(?!\w)", words), one["id"]


def test_the_date_in_the_file_is_the_revision_s() -> None:
    made = pypdfium2.PdfDocument(pack_of("a").bytes_of("pack.pdf")).get_metadata_dict()
    assert made["CreationDate"].startswith("D:20261125")
