"""What counting gives: lengths, drill rows, labels, material, totals. Records only."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from bayrun.findings import Finding
from bayrun.wiring import Box, Grommet, NailPlate, Pull, Seal, Strap, Support

Band = Literal["floor", "reach", "ladder", "open passage"]


@dataclass(frozen=True, slots=True)
class LengthRow:
    """One run as it is cut.

    Args:
        way_in: Along the path, with the firm's dress factor [in].
        slack_from_in, slack_to_in: Cable left at each end [in].
        length_in: The way and both slacks as planned, without the dress factor [in].
        cut_in: What to pull off the box: jacket and slacks up to the next whole foot [in].
    """

    run: str
    kind: str
    kind_name: str
    from_place: str
    to_place: str
    way_in: float
    slack_from_in: float
    slack_to_in: float
    length_in: float
    cut_in: float
    entry: str = ""
    way: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class DrillRow:
    """One hole on the drill list, in walking order.

    Args:
        row: Id of the row, for a tick on paper.
        member: The wood in words, where a tape hooks on.
        where: Height or offset of the hole in words.
        hook_in: Distance from the end of the plate or member named in ``where`` or ``member`` [in].
        height_in: Center of the hole above the subfloor of its level [in].
        bearing: ``yes``, ``no`` or ``unknown``.
        margins: (face in words, edge of the hole to that face [in]).
        check: What lies over, under and behind: look before drilling.
    """

    row: str
    order: int
    hole: str
    level: str
    room: str
    wall: str
    member: str
    where: str
    hook_in: float
    height_in: float
    band: Band
    bit_in: float
    bearing: str
    margins: tuple[tuple[str, float], ...]
    plates: tuple[str, ...]
    strap: str
    check: str
    runs: tuple[str, ...]
    drilled: bool = True


@dataclass(frozen=True, slots=True)
class LabelPair:
    """The labels of one run: the same id at both ends, each naming the far end.

    Args:
        mark: What is written by hand: the run id, or with a suffix where two ids look alike.
        port: Number of the port at its location, counted over the runs of that location.
        from_text, to_text: Written at the end of that name; each names the other end.
        copies_each_end: One 6 in from the end, one 24 in back, one at the plate or the enclosure.
    """

    run: str
    mark: str
    kind: str
    kind_name: str
    room: str
    port: int
    from_text: str
    to_text: str
    copies_each_end: int = 3
    spare: bool = False


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """One line of the material list.

    Args:
        needed: What the plan itself uses, in ``unit``.
        spare: Added by the firm's spare rate for this class.
        packs, pack_size, pack: What to load or buy.
        unit_price: Of one pack, in the job's currency; None where nobody has told it.
        price: ``packs`` times ``unit_price`` to the cent, half up.
        because: Ids of what asked for it.
        reason: Why, in words.
        key: What the price list calls it; ``cable D`` for a cable.
        uses: (id, how many of ``needed`` it asks for).
        own_price: True where the firm's own list tells the price, not the program's example.
    """

    item: str
    group: str
    unit: str
    needed: int
    spare: int
    packs: int
    pack_size: int
    pack: str
    unit_price: Decimal | None
    price: Decimal | None
    because: tuple[str, ...]
    reason: str
    key: str = ""
    uses: tuple[tuple[str, int], ...] = ()
    own_price: bool = False


@dataclass(frozen=True, slots=True)
class BoxCheck:
    """How good the deal of one kind of cable to boxes is known to be.

    Args:
        new, opened: New boxes, and boxes opened in all.
        scrap_ft: Feet in rests too short to use.
        least_new: No deal opens fewer new boxes.
        proven: True where no deal is better in new boxes, then scrap, then boxes opened.
        says, how: In words, and how it is known.
    """

    kind: str
    kind_name: str
    new: int
    opened: int
    scrap_ft: float
    least_new: int
    proven: bool
    says: str
    how: str


@dataclass(frozen=True, slots=True)
class Totals:
    """The numbers of the cover. ``price`` sums the lines whose price is known, ``unpriced`` counts others."""

    locations: int
    runs: int
    unreached: int
    feet_by_kind: tuple[tuple[str, float], ...]
    feet: float
    holes: int
    open_passages: int
    plates: int
    straps: int
    grommets: int
    supports: int
    seals: int
    pulls: int
    boxes: int
    stops: int
    fix_soon: int
    notes: int
    cannot_tell: int
    price: Decimal
    unpriced: int
    currency: str


@dataclass(frozen=True, slots=True)
class Takeoff:
    """All that is counted from one plan."""

    lengths: tuple[LengthRow, ...]
    plates: tuple[NailPlate, ...]
    grommets: tuple[Grommet, ...]
    straps: tuple[Strap, ...]
    supports: tuple[Support, ...]
    seals: tuple[Seal, ...]
    drill: tuple[DrillRow, ...]
    pulls: tuple[Pull, ...]
    boxes: tuple[Box, ...]
    labels: tuple[LabelPair, ...]
    material: tuple[MaterialLine, ...]
    findings: tuple[Finding, ...] = ()
    box_checks: tuple[BoxCheck, ...] = ()
    retired: tuple[str, ...] = ()
    """Names of pulls, boxes and supports of earlier plans that are gone: never given again."""
