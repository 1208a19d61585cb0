"""When a box runs short: which runs to change between boxes, so that nothing new is opened."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bayrun.takeoff.cutting import Cut
from bayrun.wiring import Box, Pull

_NODES = 2000
_MOST_NEW = 3


@dataclass(frozen=True, slots=True)
class Stands:
    """One box on the stand: what is really left in it, and what the last feet must keep [ft]."""

    id: str
    left_ft: float
    reserve_ft: float

    @property
    def usable_ft(self) -> int:
        """Whole feet that can still be cut."""
        return max(0, math.floor(self.left_ft - self.reserve_ft + 1e-6))


@dataclass(frozen=True, slots=True)
class Swap:
    """One run that is cut from another box than planned; ``to_box`` is ``a new box`` where one is opened."""

    run: str
    feet: int
    from_box: str
    to_box: str


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do when a box runs short.

    Args:
        enough: True where every box still feeds what is planned from it.
        new: New boxes to open.
        swaps: Runs that change boxes, in the order of pulling.
        never: Runs that no box here and no new box is long enough for.
        proven: True where no other way opens fewer boxes or changes fewer runs.
        says: The advice in one or two sentences.
    """

    enough: bool
    new: int
    swaps: tuple[Swap, ...]
    never: tuple[str, ...]
    proven: bool
    says: str


NEW = "a new box"


def swap_advice(
    boxes: Sequence[Stands], planned: Mapping[str, str], cuts: Sequence[Cut], new_ft: float, reserve_ft: float
) -> Advice:
    """The best way on for the runs of one cable kind that are not pulled yet.

    Fewest new boxes first, then fewest runs that change boxes, then the planned order. Runs of one pull keep
    coming from different boxes. A run is never spliced.

    Args:
        boxes: On the stand, with what is really left.
        planned: Run → box it was planned from.
        cuts: What is still to cut, in the order of pulling.
        new_ft: Feet of a new box.
        reserve_ft: Its last feet that cannot be used.
    """
    room = {box.id: box.usable_ft for box in boxes}
    short = [box for box in boxes if _asked(box.id, planned, cuts) > box.usable_ft]
    if not short and all(cut.run in planned and planned[cut.run] in room for cut in cuts):
        return Advice(True, 0, (), (), True, "Every box still feeds what is planned from it.")
    full = max(0, math.floor(new_ft - reserve_ft + 1e-6))
    widest = max([full, *room.values()])
    never = tuple(cut.run for cut in cuts if cut.feet > widest)
    todo = [cut for cut in cuts if cut.feet <= widest]
    for most_new in range(_MOST_NEW + 1):
        columns = [*((box.id, box.usable_ft) for box in boxes), *((NEW, full) for _ in range(most_new))]
        places, proven = _settle(todo, columns, planned)
        if places is not None:
            return _advice(todo, columns, places, planned, boxes, cuts, never, proven)
    return Advice(
        False, 0, (), never, False, _never_words(cuts, never) or "More than three new boxes are needed."
    )


def _asked(box: str, planned: Mapping[str, str], cuts: Sequence[Cut]) -> int:
    return sum(cut.feet for cut in cuts if planned.get(cut.run) == box)


def _settle(
    cuts: Sequence[Cut], columns: Sequence[tuple[str, int]], planned: Mapping[str, str]
) -> tuple[list[int] | None, bool]:
    """Column of each cut with the fewest changes, or None where these boxes cannot feed them all."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    n, m = len(cuts), len(columns)
    if not n:
        return [], True
    if sum(cut.feet for cut in cuts) > sum(feet for _, feet in columns):
        return None, True
    rows: list[Any] = []
    low: list[float] = []
    high: list[float] = []
    for i in range(n):
        line = np.zeros(n * m)
        line[i * m : (i + 1) * m] = 1
        rows, low, high = [*rows, line], [*low, 1.0], [*high, 1.0]
    for j, (_, feet) in enumerate(columns):
        line = np.zeros(n * m)
        line[j::m] = [cut.feet for cut in cuts]
        rows, low, high = [*rows, line], [*low, -np.inf], [*high, float(feet)]
        for group in dict.fromkeys(cut.group for cut in cuts):
            tied = [i for i, cut in enumerate(cuts) if cut.group == group]
            if len(tied) > 1:
                line = np.zeros(n * m)
                line[[i * m + j for i in tied]] = 1
                rows, low, high = [*rows, line], [*low, -np.inf], [*high, 1.0]
    # A change costs a thousand; among as many, later runs change first, so that the next pull stays as it is.
    cost = [
        0.0 if planned.get(cut.run) == name else 1000.0 + (n - i) / n
        for i, cut in enumerate(cuts)
        for name, _ in columns
    ]
    told: Any = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        integrality=np.ones(n * m),
        bounds=Bounds(0, 1),
        options={"node_limit": _NODES, "mip_rel_gap": 0.0},
    )
    if told.x is None:
        return None, told.status == 2
    return [max(range(m), key=lambda j: float(told.x[i * m + j])) for i in range(n)], told.status == 0


def _advice(
    todo: Sequence[Cut],
    columns: Sequence[tuple[str, int]],
    places: Sequence[int],
    planned: Mapping[str, str],
    boxes: Sequence[Stands],
    cuts: Sequence[Cut],
    never: tuple[str, ...],
    proven: bool,
) -> Advice:
    swaps = tuple(
        Swap(cut.run, cut.feet, planned.get(cut.run, ""), columns[j][0])
        for cut, j in zip(todo, places, strict=True)
        if planned.get(cut.run) != columns[j][0]
    )
    new = len({j for j in places if columns[j][0] == NEW})
    short = [
        f"{box.id} has {box.left_ft:g} ft left ({box.usable_ft} ft to use) and is planned to give "
        f"{_asked(box.id, planned, cuts)} ft"
        for box in boxes
        if _asked(box.id, planned, cuts) > box.usable_ft
    ]
    words = [f"{'; '.join(short)}."] if short else []
    for target in dict.fromkeys(swap.to_box for swap in swaps):
        them = ", ".join(f"{swap.run} ({swap.feet} ft)" for swap in swaps if swap.to_box == target)
        words.append(f"Pull {them} from {target}.")
    if not new and swaps:
        words.append("Nothing new is opened.")
    elif new:
        words.append(f"{new} new {'box is' if new == 1 else 'boxes are'} opened.")
    words.append(_never_words(cuts, never))
    return Advice(False, new, swaps, never, proven, " ".join(word for word in words if word))


def _never_words(cuts: Sequence[Cut], never: Collection[str]) -> str:
    told = ", ".join(f"{cut.run} ({cut.feet} ft)" for cut in cuts if cut.run in never)
    return f"No box is long enough for {told}: bring a longer spool; a run is never spliced." if told else ""


def on_the_stand(
    boxes: Sequence[Box],
    pulls: Sequence[Pull],
    run: str,
    left_ft: Mapping[str, float],
    reserve_ft: float,
    done: Collection[str] = (),
) -> tuple[tuple[Stands, ...], dict[str, str], tuple[Cut, ...]]:
    """What stands on the stand before one run is cut: rests as planned, or as read off the jacket.

    Args:
        boxes: Of the plan.
        run: The next run to cut; what comes before it in the order of pulling counts as pulled.
        left_ft: Box → feet really left, where they were read.
        done: Runs pulled out of order.
    Returns:
        (boxes of that kind, run → planned box, what is still to cut).
    Raises:
        KeyError: No box feeds that run.
    """
    kind = next((box.kind for box in boxes if run in dict(box.cuts)), None)
    if kind is None:
        raise KeyError(run)
    order = {one: (pull.order, i) for pull in pulls for i, one in enumerate(pull.runs)}
    group = {one: pull.id for pull in pulls for one in pull.runs}
    mine = [box for box in boxes if box.kind == kind]
    pulled = {one for one in order if order[one] < order[run]} | set(done)
    stand, todo = [], []
    for box in mine:
        used_in = sum(length_in for one, length_in in box.cuts if one in pulled)
        left = left_ft.get(box.id, box.start_ft - used_in / 12)
        stand.append(Stands(box.id, left, reserve_ft))
        todo += [
            Cut(one, round(cut_in / 12), group.get(one, one)) for one, cut_in in box.cuts if one not in pulled
        ]
    planned = {one: box.id for box in mine for one, _ in box.cuts}
    return tuple(stand), planned, tuple(sorted(todo, key=lambda cut: order.get(cut.run, (0, 0))))
