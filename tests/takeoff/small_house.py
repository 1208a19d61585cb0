"""A house of one wall, drawn by hand: small enough to count on paper.

The wall W1 stands between Dining (left, x below 0) and Laundry (right), 2x4, from (0, 0) to (0, 192);
its plate begins at 2.75. The enclosure box fills the bay between the studs at 50.75 and 66.75, on the
Laundry side.
"""

from __future__ import annotations

from bayrun.framing.records import Frame, Member
from bayrun.geometry import Box
from bayrun.house import (
    CableKind,
    Enclosure,
    End,
    FacePiece,
    FloorFrame,
    Job,
    Level,
    Location,
    Practice,
    Revision,
    Room,
    Wall,
    WishedRun,
)
from bayrun.wiring import Hole, PathPoint, Run, Wiring

KINDS = (
    CableKind("D", "data four-pair", 0.23, connector="jack"),
    CableKind("X", "coax", 0.275, box_ft=500.0),
)


def wall(**changes: object) -> Wall:
    facts: dict[str, object] = {
        "id": "W1",
        "level": "1",
        "start": (0.0, 0.0),
        "end": (0.0, 192.0),
        "core": "2x4",
        "thickness_in": 3.5,
        "plate_start_in": 2.75,
        "plate_end_in": 192.0,
        "bearing": False,
        "left": (FacePiece("Dining", 0.0, 192.0),),
        "right": (FacePiece("Laundry", 0.0, 192.0),),
    }
    return Wall(**{**facts, **changes})  # type: ignore[arg-type]


def job(
    runs: int = 1, practice: Practice | None = None, walls: tuple[Wall, ...] | None = None, **changes: object
) -> Job:
    facts: dict[str, object] = {
        "id": "small",
        "name": "Small house",
        "revision": Revision("1", "2026-01-05"),
        "levels": (Level("1", 0.0, 97.125),),
        "rooms": (
            Room("Dining", "1", "living", ((-120.0, 0.0), (0.0, 0.0), (0.0, 192.0), (-120.0, 192.0))),
            Room("Laundry", "1", "laundry", ((0.0, 0.0), (120.0, 0.0), (120.0, 192.0), (0.0, 192.0))),
        ),
        "walls": walls or (wall(),),
        "frames": (
            FloorFrame(
                "roof", "roof trusses", (-120.0, 0.0, 120.0, 192.0), "x", 1.5, 3.5, 97.125, 100.625, "1"
            ),
        ),
        "locations": (
            Location("L1", "Dining", "1", "wall", 14.0, wall="W1", offset_in=140.0, side="left"),
            Location("L2", "Dining", "1", "ceiling", 97.125, x_in=-60.0, y_in=100.0),
        ),
        "enclosures": (Enclosure("E", "W1", "1", "Laundry", "right", (50.75, 66.75), 14.25, 28.0, 3.625),),
        "runs": tuple(
            WishedRun(f"L1-D{i}", "D", End("enclosure", "E"), End("location", "L1"))
            for i in range(1, runs + 1)
        ),
        "practice": practice or Practice(cables=KINDS),
    }
    return Job(**{**facts, **changes})  # type: ignore[arg-type]


def stud(number: int, at_in: float, material: str = "wood", width_in: float = 1.5) -> Member:
    half = width_in / 2
    return Member(
        f"W1/stud-{number}",
        "W1",
        "1",
        "stud",
        material,  # type: ignore[arg-type]
        (at_in - half, at_in + half),
        (1.5, 94.125),
        (-1.75, 1.75),
        Box(-1.75, at_in - half, 1.5, 1.75, at_in + half, 94.125),
        bearing=False,
    )


def top(bearing: bool = False, exterior: bool = False, depth_in: float = 3.5) -> Member:
    half = depth_in / 2
    return Member(
        "W1/top",
        "W1",
        "1",
        "top plate",
        "wood",
        (2.75, 192.0),
        (94.125, 97.125),
        (-half, half),
        Box(-half, 2.75, 94.125, half, 192.0, 97.125),
        plies=2,
        bearing=bearing,
        exterior=exterior,
    )


def frame(*members: Member) -> Frame:
    return Frame(members=members or (top(), stud(1, 18.75), stud(2, 34.75)), bays=())


def plate_hole(hole_id: str, along_in: float, diameter_in: float, **changes: object) -> Hole:
    facts: dict[str, object] = {"wall": "W1", "level": "1", "occupants": ("L1-D1",)}
    place = ("W1/top", "up", along_in, 95.625, 0.0, 0.0, along_in, 95.625, diameter_in)
    return Hole(hole_id, *place, **{**facts, **changes})  # type: ignore[arg-type]


def stud_hole(hole_id: str, number: int, at_in: float, diameter_in: float, **changes: object) -> Hole:
    facts: dict[str, object] = {"wall": "W1", "level": "1", "occupants": ("L1-D1",), "across_in": 0.0}
    across_in = {**facts, **changes}.pop("across_in")
    rest = {k: v for k, v in {**facts, **changes}.items() if k != "across_in"}
    return Hole(
        hole_id,
        f"W1/stud-{number}",
        "along",
        at_in,
        48.0,
        across_in,  # type: ignore[arg-type]
        0.0,
        at_in,
        48.0,
        diameter_in,
        **rest,  # type: ignore[arg-type]
    )


def run(
    run_id: str = "L1-D1", kind: str = "D", path: tuple[PathPoint, ...] | None = None, **changes: object
) -> Run:
    """From the enclosure's top, up the bay, over, and down to L1: 33.625 + 80 + 83.125 in of way."""
    facts: dict[str, object] = {"slack_from_in": 71.125, "slack_to_in": 12.0, "entry": "top"}
    points = path or (
        PathPoint(0.0, 58.75, 62.0),
        PathPoint(0.0, 58.75, 95.625, "H1", "W1/top"),
        PathPoint(0.0, 58.75, 100.0),
        PathPoint(0.0, 140.0, 100.0),
        PathPoint(0.0, 140.0, 95.625, "H2", "W1/top"),
        PathPoint(0.0, 140.0, 14.0),
    )
    return Run(
        run_id,
        kind,
        End("enclosure", "E"),
        End("location", "L1"),
        points,
        **{**facts, **changes},  # type: ignore[arg-type]
    )


def wiring(runs: tuple[Run, ...] = (), holes: tuple[Hole, ...] = ()) -> Wiring:
    return Wiring(runs=runs, holes=holes)
