"""Labels never meet, never leave the frame, never get lost."""

from __future__ import annotations

import random

import pytest

from bayrun.drawings.measure import measure_scene
from bayrun.drawings.place_labels import Label, Placement
from bayrun.drawings.scene import Line, Scene, Symbol, Text
from bayrun.geometry import Rect

FRAME = Rect(0.0, 0.0, 480.0, 300.0)


def laid(seed: int, count: int, spread: float) -> tuple[Scene, list[Label], tuple[tuple[str, str], ...]]:
    """Symbols and labels around a middle, over a net of lines."""
    chance = random.Random(seed)
    spots = [
        (chance.uniform(240 - spread, 240 + spread), chance.uniform(150 - spread / 2, 150 + spread / 2))
        for _ in range(count)
    ]
    drawn = [Symbol("T-LOCN", "location", spot, 4.0, about=f"A{i}") for i, spot in enumerate(spots)]
    drawn += [Line("A-WALL", (0.0, y), (480.0, y)) for y in range(20, 300, 40)]
    labels = [Label(f"A{i}", f"A{i:02d}-D1{'x' * chance.randint(0, 9)}", s, 2.0) for i, s in enumerate(spots)]
    placed = Placement(48.0, FRAME, drawn).place(labels)
    return Scene("net", FRAME, 48.0, (*drawn, *placed.elements)), labels, placed.table


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize(("count", "spread"), [(8, 200.0), (40, 200.0), (40, 60.0), (80, 100.0)])
def test_no_two_labels_meet_and_none_is_cut(seed: int, count: int, spread: float) -> None:
    scene, labels, table = laid(seed, count, spread)
    measure = measure_scene(scene)
    assert measure.overlaps == ()
    assert measure.clipped == ()
    printed = {t.text for t in scene.texts()} | {words for _, words in table}
    assert {label.text for label in labels} <= printed


@pytest.mark.parametrize("seed", range(6))
def test_no_leader_passes_through_a_label(seed: int) -> None:
    scene, _, _ = laid(seed, 40, 100.0)
    texts = [t.box(48.0).grown(-0.5) for t in scene.texts()]
    for line in scene.elements:
        if isinstance(line, Line) and line.layer == "T-ANNO-LEAD":
            hits = [box for box in texts if box.crossed_by(*line.a, *line.b)]
            assert hits == []


def test_a_crowd_moves_to_the_table() -> None:
    _, _, table = laid(1, 80, 30.0)
    assert len(table) > 5
    numbers = [number for number, _ in table if number != "-"]
    assert len(numbers) == len(set(numbers))


def test_a_lone_label_stands_beside_its_symbol_without_leader() -> None:
    symbol = Symbol("T-LOCN", "location", (100.0, 100.0), 4.0, about="A01")
    placed = Placement(48.0, FRAME, [symbol]).place([Label("A01", "A01", (100.0, 100.0), 2.0)])
    (text,) = placed.elements
    assert isinstance(text, Text)
    box = text.box(48.0)
    assert not box.overlaps(symbol.box)
    assert box.grown(0.2 * 48).overlaps(symbol.box)


def test_same_labels_same_places() -> None:
    assert laid(3, 40, 100.0) == laid(3, 40, 100.0)


def test_an_optional_letter_without_room_is_left_out() -> None:
    full = [
        Text("A-ANNO-TEXT", (x, y), "full of words", 9.0) for x in range(0, 480, 40) for y in range(0, 300, 6)
    ]
    label = Label("d", "D", (240.0, 150.0), on=((240.0, 150.0),), optional=True)
    placed = Placement(48.0, FRAME, full).place([label])
    assert (placed.elements, placed.table, placed.homeless) == ((), (), ())
