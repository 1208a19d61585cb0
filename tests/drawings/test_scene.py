"""Texts have the size that is printed; overlaps and clipping are seen where they are planted."""

from __future__ import annotations

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont
from hand_made import small_scene

from bayrun.drawings import font_widths
from bayrun.drawings.measure import Ground, measure_scene
from bayrun.drawings.record import record
from bayrun.drawings.scene import Dimension, Line, Text, lost_letters, plain_text, text_width_pt
from bayrun.drawings.style import LAYERS
from bayrun.drawings.symbols import MEANING, symbol_parts
from bayrun.geometry import Rect


@pytest.mark.parametrize(("name", "table"), [("Regular", font_widths.REGULAR), ("Bold", font_widths.BOLD)])
def test_width_table_is_that_of_the_vendored_font(name: str, table: dict[int, int]) -> None:
    # Outside value: the font's own metrics, read by fontTools.
    with files("bayrun.drawings").joinpath(f"fonts/NotoSans-{name}.ttf").open("rb") as stream:
        font = TTFont(stream)
        letters, advances = font.getBestCmap(), font["hmtx"]
        assert font["head"].unitsPerEm == 1000
        assert table == {c: advances[glyph][0] for c, glyph in letters.items() if c >= 32}
        assert font["OS/2"].sCapHeight == font_widths.CAP_HEIGHT


@pytest.mark.parametrize("table", [font_widths.REGULAR, font_widths.BOLD])
def test_figures_are_tabular(table: dict[int, int]) -> None:
    assert len({table[ord(c)] for c in "0123456789"}) == 1


def test_width_of_a_word() -> None:
    # By hand from the font's metrics: H 741, 1 572, 9 572 thousandths of 9 pt.
    assert text_width_pt("H19", 9.0) == pytest.approx((741 + 572 + 572) * 9 / 1000)


def test_feet_and_inches_never_break() -> None:
    assert plain_text("7' 3-1/2\" from the corner") == "7'\u00a03-1/2\" from the corner"
    assert plain_text("the builder's 2 walls") == "the builder's 2 walls"
    assert plain_text('1-1/4" ≤ margin\n→ attic') == '1-1/4" at most margin to attic'


@pytest.mark.parametrize(
    ("typed", "printed"),
    [("客厅", "??"), ("Küche Ω ½", "Küche Ω ½"), ("a\u0301 la carte", "á la carte"), ("x\x01y", "x?y")],
)
def test_letters_the_font_lacks_are_marked_and_told(typed: str, printed: str) -> None:
    assert plain_text(typed) == printed
    assert lost_letters(typed) is ("?" in printed)
    assert not lost_letters("why?")


def test_text_box_turns_with_the_text() -> None:
    flat = Text("A-ANNO-TEXT", (0.0, 0.0), "14-1/2", 9.0).box(12.0)
    tall = Text("A-ANNO-TEXT", (0.0, 0.0), "14-1/2", 9.0, angle=90.0).box(12.0)
    assert (tall.height, tall.width) == pytest.approx((flat.width, flat.height))
    assert tall.u1 == pytest.approx(0.23 * 9 / 72 * 12)  # descenders point right when it reads upward


def test_dimension_says_what_it_measures() -> None:
    flat = Dimension("A-ANNO-DIMS", (0.0, 5.0), (87.5, -3.0), -20.0)
    assert flat.measured_in == pytest.approx(87.5)
    assert flat.says == "7'\u00a03-1/2\""
    assert Dimension("A-ANNO-DIMS", (9.0, 0.0), (3.0, 34.75), -20.0, 90.0).says == "2'\u00a010-3/4\""


def test_a_clean_scene_measures_clean() -> None:
    measure = measure_scene(small_scene())
    assert (measure.overlaps, measure.clipped) == ((), ())
    assert measure.texts == 2


def test_a_planted_overlap_is_seen() -> None:
    scene = small_scene(Text("T-ANNO-IDEN", (62.0, 61.0), "H12"))
    assert measure_scene(scene).overlaps == (("A01 & <B02>", "H12"),)


def test_a_planted_clip_is_seen() -> None:
    scene = small_scene(Text("T-ANNO-IDEN", (165.0, 40.0), "H13"))
    assert measure_scene(scene).clipped == ("H13",)


def test_a_planted_line_through_a_text_is_seen() -> None:
    struck = Text("T-ANNO-IDEN", (80.0, -1.0), "H14")
    assert measure_scene(small_scene(struck)).struck == ("H14",)


def test_a_planted_line_beyond_the_frame_is_seen() -> None:
    far = Line("A-WALL", (0.0, 0.0), (300.0, 0.0))
    assert measure_scene(small_scene(far)).outside == ("Line on A-WALL",)
    assert measure_scene(small_scene()).outside == ()


def test_ground_counts_boxes_and_segments() -> None:
    ground = Ground(10.0)
    ground.add_box(Rect(0, 0, 5, 5), "a")
    ground.add_segment((-20.0, 2.0), (40.0, 2.0))
    ground.add_segment((-20.0, -20.0), (40.0, 40.0))
    assert ground.hits(Rect(4, 1, 6, 3)) == 2 + 0  # the box and the level line; the slope passes (4..6, 4..6)
    assert ground.hits(Rect(4, 1, 6, 3), besides="a") == 1
    assert ground.crossings((1.0, -5.0), (1.0, 5.0)) == 3


def test_recorder_gets_every_element_in_order() -> None:
    calls = [what for what, _ in record(small_scene())]
    assert calls == ["line", "polyline", "hatch", "circle", "arc", "dimension", "polyline", "text"]


def test_every_symbol_of_the_key_can_be_drawn_on_a_known_layer() -> None:
    from bayrun.drawings.scene import Symbol

    for name in [*MEANING, "seal", "balloon", "stop", "fix soon", "note"]:
        parts = symbol_parts(Symbol("T-LOCN", name, (0.0, 0.0), 5.0, 30.0, "7"), 48.0)
        assert parts
        assert all(part.layer in LAYERS for part in parts)
    with pytest.raises(ValueError, match=r"expected the name of a symbol, got 'star'"):
        symbol_parts(Symbol("T-LOCN", "star", (0.0, 0.0), 5.0), 48.0)
