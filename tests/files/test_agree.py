"""Counts of one read as one."""

from __future__ import annotations

import pytest

from bayrun.files.agree import agreed


@pytest.mark.parametrize(
    ("many", "one"),
    [
        ("1 walls have damaged data", "1 wall has damaged data"),
        ("1 wall ends meet no other wall", "1 wall end meets no other wall"),
        (
            "1 wall ends were brought onto the line of the wall they meet, by up to 1\"",
            "1 wall end was brought onto the line of the wall they meet, by up to 1\"",
        ),
        (
            "1 walls that run through several stories were cut at the floors",
            "1 wall that runs through several stories was cut at the floors",
        ),
        (
            "1 walls stand in another level than the one they are filed under",
            "1 wall stands in another level than the one it is filed under",
        ),
        (
            "1 windows begin at the floor: look whether they are doors",
            "1 window begins at the floor: look whether it is a door",
        ),
        ("1 niches that do not go through their wall", "1 niche that does not go through its wall"),
        ("1 walls the file calls exterior stand inside the house: taken as interior",
         "1 wall the file calls exterior stands inside the house: taken as interior"),
        ("1 doors and windows without a size or a place", "1 door or window without a size or a place"),
        ("7 walls, 1 doors, 2 windows, 1 cased openings, 1 rooms",
         "7 walls, 1 door, 2 windows, 1 cased opening, 1 room"),
        ("11 walls have damaged data", "11 walls have damaged data"),
        ("plates end 5-1/2 walls", "plates end 5-1/2 walls"),
        ("2.1 walls are", "2.1 walls are"),
    ],
)  # fmt: skip
def test_one_is_one(many: str, one: str) -> None:
    assert agreed(many) == one
    assert agreed(one) == one
