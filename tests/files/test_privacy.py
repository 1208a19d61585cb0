"""Names and addresses are never carried; names of rooms and walls are. The people here are invented."""

from __future__ import annotations

import pytest

from bayrun.files.privacy import without_people


@pytest.mark.parametrize(
    "text",
    [
        "nobody@example.com", "www.example.com/plans", "12 N. Invented Hill Road", "4711 Made Up Ave, Unit 3",
        "(555) 010-0199", "555-010-0199", "XX 00000-0000", "Owner: N. O. Body", "DRAWN BY: NB",
        "Mrs. Nobody", "Nobody Residence", "Erfundene Straße 12", "Musterweg 7",
    ],
)  # fmt: skip
def test_people_and_places_are_taken_out(text: str) -> None:
    clean, taken = without_people(text)
    assert taken
    assert not any(
        w in clean.lower() for w in ("nobody", "body", "example", "invented", "made", "0199", "muster")
    )


@pytest.mark.parametrize(
    "text",
    [
        "Bedroom 2", "FAMILY ROOM", "Family Kitchen", "Master Bath", "Exterior 2x6 at 16",
        "Drive-under garage",
        "Basic Wall:Interior - Partition (92mm Stud)", "12 x 14", "Court yard", "2x4 way", "Lot of storage",
        "Powder 103", "Stair 1", "M_Window 0915 x 1220mm", "Dr. office",
    ],
)  # fmt: skip
def test_names_of_rooms_and_walls_stay(text: str) -> None:
    assert without_people(text) == (text, 0)


def test_only_the_address_goes() -> None:
    assert without_people("Den, 12 Invented Road") == ("Den", 1)
