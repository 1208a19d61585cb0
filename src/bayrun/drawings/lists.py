"""Lists of the pack as plain records: whoever counts fills them, the pack prints them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

ColumnKind = Literal["text", "id", "number", "severity"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Args:
        kind: ``id`` prints large and bold; ``number`` stands right with tabular figures; ``severity`` carries
            its mark (filled, half, open square).
        share: Width as a share of what is left; 0 takes what the longest cell needs.
    """

    title: str
    kind: ColumnKind = "text"
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class ListRow:
    """One row.

    Args:
        cells: One text for each column.
        detail: A second line under the row, over all columns.
        group: A heading printed where it changes: the room, the pull, the day.
    """

    cells: tuple[str, ...]
    detail: str = ""
    group: str = ""


@dataclass(frozen=True, slots=True)
class ListSheet:
    """One list of the pack.

    Args:
        title: Name of the sheet in the top line: ``drill list``.
        heading: A sentence of the trade: ``Drill first: hall and closet, 9 holes, 1 in bit``.
        where: Level, wall or house in the top line.
        note: Said once under the heading.
        caution: The one that fits this sheet, in the bottom line.
        tick: A box to tick at the left of each row.
        field: A blank column at the right; empty leaves it out.
        wide: Letter lying.
    Raises:
        ValueError: A row has not as many cells as there are columns.
    """

    title: str
    heading: str
    columns: tuple[Column, ...]
    rows: tuple[ListRow, ...]
    where: str = ""
    note: str = ""
    caution: str = ""
    tick: bool = True
    field: str = "field"
    wide: bool = False

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row.cells) != len(self.columns):
                titles = ", ".join(c.title for c in self.columns)
                raise ValueError(
                    f"{self.title}: expected {len(self.columns)} cells ({titles}), "
                    f"got {len(row.cells)}: {' | '.join(row.cells)}"
                )


@dataclass(frozen=True, slots=True)
class WalkFact:
    """One fact to settle on the walk, before drilling.

    Args:
        place: Room, wall, distance, in words.
        question: What to look at or measure.
        planned: What the plan takes for true.
        stake_ft, stake_holes: What is planned on it.
        answer: ``tape`` leaves a blank for a length, ``yes/no`` two boxes.
    """

    place: str
    question: str
    planned: str
    stake_ft: float
    stake_holes: int
    answer: Literal["tape", "yes/no"] = "yes/no"


@dataclass(frozen=True, slots=True)
class BigNumber:
    """One number of the cover: large and alone."""

    value: str
    words: str
