"""The pack as a whole: measured by another program's eyes, the same bytes twice, embedded, searchable."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from hand_made import planned
from pack_measure import measure_pack

from bayrun.drawings import cautions
from bayrun.drawings.lists import BigNumber, Column, ListRow, ListSheet, WalkFact
from bayrun.drawings.pack import build_pack
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.framing.records import Frame
from bayrun.house import Job
from bayrun.house.job import Revision
from bayrun.units import tape
from bayrun.wiring import Wiring
from bayrun.workers.typst_worker import TypesettingError, typeset


def drill_list(house: str) -> ListSheet:
    """A drill list long enough for several pages, with names that try to break out of the page language."""
    _job, _, wiring = planned(house)
    rows = tuple(
        ListRow(
            (h.id, h.member, tape(h.along_in), tape(h.diameter_in)),
            detail='edges 1-1/4" both; look first: truss chord; runs ' + ", ".join(h.occupants),
            group=f'{h.room or "Attic"} #eval *bold* $x$ [y] "q"',
        )
        for h in sorted(wiring.holes, key=lambda h: (h.room, h.id))
    )
    columns = (
        Column("hole", "id"),
        Column("wood", share=2.0),
        Column("where", share=1.0),
        Column("bit", "number"),
    )
    return ListSheet("drill list", "Drill first: hall and closet", columns, rows, caution=cautions.DRILL)


@cache
def pack(house: str) -> dict[str, bytes]:
    """A whole pack of a demo house."""
    job, frame, wiring = planned(house)
    finding = Finding(
        "stud-hole-size",
        Severity.STOP,
        ("H1",),
        "Laundry, wall Dining / Laundry",
        "The hole takes more of the stud than the code lets it.",
        1.5,
        1.4,
        source=Source("IRC", "2021", "R602.6", "confirmed"),
        fixes=(Fix("double_stud", ("s",), "double the stud", "framer"),),
    )
    return build_pack(
        job,
        frame,
        wiring,
        typeset=typeset,
        numbers=(BigNumber("39", "runs"), BigNumber("1,976", "feet of cable, gypsum")),
        walk=(
            WalkFact("Laundry", "Clear width between the studs?", 'planned 14-1/2"', 1904.0, 6, "tape"),
            WalkFact("Attic", "Do the trusses run front to back?", "every 24 in", 1200.0, 1),
        ),
        lists=(drill_list(house),),
        findings=(finding,),
    )


@pytest.mark.parametrize("house", ["a", "b", "c"])
def test_pack_measures_clean(house: str) -> None:
    measure = measure_pack(pack(house)["pack.pdf"])
    assert measure.overlaps == ()
    assert measure.clipped == ()
    assert measure.empty_pages == ()
    assert measure.loose_fonts == ()
    assert measure.uncounted == ()
    assert set(measure.sizes) <= {(8.5, 11.0), (11.0, 8.5), (17.0, 11.0), (11.0, 17.0)}


def test_the_measure_sees_planted_faults() -> None:
    # Built with the same typesetter from pages that are wrong on purpose.
    page = b"""
#set page(width: 8.5in, height: 11in, margin: 0pt)
#set text(font: "Noto Sans", size: 11pt)
#place(dx: 2in, dy: 4in)[overlap one]#place(dx: 2.02in, dy: 4.02in)[overlap two]
#place(dx: 8.2in, dy: 5in)[#box(width: 3in)[clipped]] page 1 of 2
#pagebreak()
page 9 of 9
"""
    import typst

    measure = measure_pack(typst.compile(page, format="pdf"))
    assert measure.overlaps
    assert measure.clipped
    assert measure.empty_pages == (2,)
    assert measure.uncounted == (2,)


def test_pack_repeats_to_the_byte() -> None:
    first = pack("a")
    pack.cache_clear()
    assert pack("a") == first


def test_pack_is_searchable_and_says_where_it_is() -> None:
    data = pack("a")["pack.pdf"]
    document = pypdfium2.PdfDocument(data)
    texts = [page.get_textpage().get_text_bounded().replace("\u00a0", " ") for page in document]
    whole = "\n".join(texts)
    for words in (
        "A-ENC",
        "H19",
        "A01-D1",
        "2' 10-1/4\" above subfloor",
        "Verify with the local inspector",
        "Scale",
    ):
        assert words in whole, words
    assert all("House A, small ranch on slab (invented)" in t for t in texts)
    assert all("revision 1, 2026-11-25" in t for t in texts)
    # The page language never runs what people typed.
    assert '#eval *bold* $x$ [y] "q"' in whole
    listed = int(re.search(r"drill list[ .]*(\d+)", texts[0]).group(1))  # type: ignore[union-attr]
    assert "Drill first: hall and closet" in texts[listed - 1]
    assert document.get_metadata_dict()["CreationDate"] == "D:20261125000000Z"


def test_a_name_in_other_letters_still_makes_a_pack_and_says_so() -> None:
    job, frame, wiring = planned("a")
    job = replace(job, name="客厅 house")
    data = build_pack(job, frame, wiring, typeset=typeset, sheets=())["pack.pdf"]
    text = " ".join(pypdfium2.PdfDocument(data)[0].get_textpage().get_text_bounded().split())
    assert "?? house" in text
    assert "Letters that the font of these sheets lacks print as ?" in text


LONG = "a very long name that somebody typed with all of its history and the builder's own words " * 2


def changed(case: str) -> tuple[Job, Frame, Wiring]:
    """House A as people might leave it."""
    job, frame, wiring = planned("a")
    match case:
        case "nothing wished":
            return replace(job, locations=(), runs=()), frame, Wiring((), ())
        case "no enclosure":
            return replace(job, enclosures=()), frame, wiring
        case "no date":
            return replace(job, revision=Revision("2b", "")), frame, wiring
        case "no such day":
            return replace(job, revision=Revision("2b", "2026-13-45")), frame, wiring
        case "empty house":
            job = replace(job, rooms=(), walls=(), joints=(), openings=(), frames=(), obstacles=(), gear=())
            job = replace(job, locations=(), runs=(), enclosures=(), barriers=(), stairs=())
            return job, Frame((), ()), Wiring((), ())
    rooms = tuple(replace(r, name=f"{r.name} {LONG[:60]}") for r in job.rooms)
    located = tuple(replace(loc, id=f"{loc.id}-LONG-1234567890") for loc in job.locations)
    return replace(job, name=LONG, rooms=rooms, locations=located), frame, wiring


@pytest.mark.parametrize(
    "case", ["nothing wished", "no enclosure", "no date", "no such day", "empty house", "long names"]
)
def test_odd_jobs_make_clean_packs(case: str) -> None:
    job, frame, wiring = changed(case)
    lists = (
        ListSheet("list", LONG, (Column("a", "id"), Column("b", share=1.0)), (ListRow(("a" * 30, LONG)),)),
    )
    measure = measure_pack(build_pack(job, frame, wiring, typeset=typeset, lists=lists)["pack.pdf"])
    assert (measure.overlaps, measure.clipped, measure.uncounted) == ((), (), ())
    if case != "empty house":
        assert measure.empty_pages == ()


def test_pack_is_tagged_for_readers_that_listen() -> None:
    # Outside: the catalog of a tagged file, and the part of ISO 14289 it claims.
    data = pack("a")["pack.pdf"]
    document = pypdfium2.PdfDocument(data)
    assert pdfium.FPDFCatalog_IsTagged(document.raw)
    assert b"pdfuaid:part>1<" in data.replace(b" ", b"")


def test_pack_carries_every_drawing_twice() -> None:
    names = set(pack("b"))
    for drawing in ("plan-B", "plan-1", "plan-2", "enclosure-bay"):
        assert {f"drawings/{drawing}.svg", f"drawings/{drawing}.dxf"} <= names


def test_every_caution_of_the_cover_is_printed() -> None:
    text = pypdfium2.PdfDocument(pack("a")["pack.pdf"])[0].get_textpage().get_text_bounded()
    plain = " ".join(text.split())
    for caution in cautions.COVER:
        assert caution.replace("\u00a0", " ") in plain


def test_a_list_with_a_cell_too_few_is_refused_in_words() -> None:
    with pytest.raises(ValueError, match=r"drill: expected 2 cells \(hole, bit\), got 1: H1"):
        ListSheet("drill", "Drill", (Column("hole"), Column("bit")), (ListRow(("H1",)),))


def test_a_warning_fails() -> None:
    bad = b'#set document(title: "t")\n#set text(font: "No Such Face At All")\nhello'
    with pytest.raises(TypesettingError, match="typesetting gave warnings: unknown font family"):
        typeset("pack.typ", {"pack.typ": bad})


def test_a_mistake_is_told_not_traced() -> None:
    with pytest.raises(TypesettingError, match="typesetting failed: "):
        typeset("pack.typ", {"data.json": b"{"})


def test_too_slow_is_stopped() -> None:
    endless = b"#let x = 0\n#while true { x += 1; if x > 9000 { x = 0 } }"
    with pytest.raises(TypesettingError, match=r"took longer than 2 seconds|typesetting failed"):
        typeset("pack.typ", {"pack.typ": endless}, seconds=2.0)


def test_too_hungry_is_stopped() -> None:
    hungry = b'#let x = range(9000000).map(i => str(i) + "abcdefghijklmnop")\n#x.len()'
    with pytest.raises(TypesettingError, match=r"it may have needed more than 0\.3 GB|memory"):
        typeset("pack.typ", {"pack.typ": hungry}, memory_bytes=300_000_000)
